//! How the parts of an Office Open XML package refer to each other (ECMA-376, part 2).

use super::error::{Damage, Problem};
use super::guard::Package;
use super::limits::MOST_PARTS;
use super::xml::{Step, Xml};

/// A part's contents, if the workbook has it.
pub(super) fn parsed<T>(
    package: &mut Package,
    name: &str,
    parse: impl FnOnce(Xml<'_>) -> Result<T, Damage>,
) -> Result<Option<T>, Problem> {
    let Some(bytes) = package.bytes(name)? else { return Ok(None) };
    parse(Xml::new(bytes)).map(Some).map_err(|damage| damage.in_part(name))
}

/// A part that another part refers to.
pub(super) struct Related {
    pub id: String,
    kind: String,
    pub part: String,
}

impl Related {
    /// Whether it is of that kind, in the transitional or the strict form of the standard.
    pub(super) fn is(&self, kind: &str) -> bool {
        self.kind.rsplit('/').next() == Some(kind)
    }
}

/// The name of the part that is the workbook's root.
pub(super) fn main(package: &mut Package) -> Result<String, Problem> {
    let related = relationships(package, "")?;
    let main = related.into_iter().find(|related| related.is("officeDocument"));
    Ok(main.map_or_else(|| "xl/workbook.xml".to_owned(), |related| related.part))
}

/// What a part refers to; the empty name is the workbook file itself.
pub(super) fn relationships(package: &mut Package, of: &str) -> Result<Vec<Related>, Problem> {
    let (folder, file) = of.rsplit_once('/').unwrap_or(("", of));
    let name = format!("{folder}/_rels/{file}.rels");
    let related = parsed(package, name.trim_start_matches('/'), |mut xml| {
        let mut related = Vec::new();
        let whole = xml.open();
        while let Some(step) = xml.step(whole)? {
            let Step::Element(element) = step else { continue };
            if element.name() == "Relationship" {
                if related.len() == MOST_PARTS {
                    return Err(Problem::TooManyParts { found: related.len() + 1 }.into());
                }
                related.push(Related {
                    id: element.attribute("Id")?,
                    kind: element.attribute("Type")?,
                    part: resolved(folder, &element.attribute("Target")?),
                });
            }
        }
        Ok(related)
    })?;
    Ok(related.unwrap_or_default())
}

/// A target as a part's name: from the root if it begins with a stroke, else from the folder.
fn resolved(folder: &str, target: &str) -> String {
    let from = if target.starts_with('/') { "" } else { folder };
    let mut steps: Vec<&str> = Vec::new();
    for step in from.split('/').chain(target.split('/')) {
        match step {
            "" | "." => {}
            ".." => {
                steps.pop();
            }
            step => steps.push(step),
        }
    }
    steps.join("/")
}
