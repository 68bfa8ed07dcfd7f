//! How the parts of an Office Open XML package refer to each other (ECMA-376, part 2).

use std::collections::{BTreeMap, BTreeSet};

use super::error::{Damage, Problem};
use super::guard::Package;
use super::limits::MOST_PARTS;
use super::xml::{Step, Xml};

/// A part's contents, if the workbook has it.
pub(super) fn parsed<T>(
    package: &mut Package,
    name: &str,
    parse: impl FnOnce(&mut Xml<'_>) -> Result<T, Damage>,
) -> Result<Option<T>, Problem> {
    let Some(bytes) = package.bytes(name)? else { return Ok(None) };
    let mut xml = Xml::new(bytes);
    let parsed = parse(&mut xml).and_then(|parsed| xml.end().map(|()| parsed));
    parsed.map(Some).map_err(|damage| damage.in_part(name))
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
    let related = parsed(package, name.trim_start_matches('/'), |xml| {
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

/// Kinds of the parts that are sheets without cells, and of those of macros.
const OTHER_SHEETS: [&str; 4] = ["chartsheet", "dialogsheet", "xlMacrosheet", "xlIntlMacrosheet"];

/// Name and part of each worksheet that a workbook's part `main` lists, where `listed` has name and
/// relationship of every sheet. Each has a part of its own, or one would be read again and again.
pub(super) fn worksheets(
    main: &str,
    listed: Vec<(String, String)>,
    related: &[Related],
) -> Result<Vec<(String, String)>, Problem> {
    let broken = |reason: &str| Damage::Broken(reason.to_owned()).in_part(main);
    let mut by_id = BTreeMap::new();
    for related in related {
        if by_id.insert(related.id.as_str(), related).is_some() {
            return Err(broken("two parts of it have the same number"));
        }
    }
    let (mut sheets, mut taken) = (Vec::new(), BTreeSet::new());
    for (name, id) in listed {
        let related = by_id.get(id.as_str()).ok_or_else(|| broken("it lists a sheet that is missing"))?;
        if OTHER_SHEETS.iter().any(|kind| related.is(kind)) {
            continue;
        }
        if !related.is("worksheet") {
            return Err(broken("it lists a sheet that is none"));
        }
        if !taken.insert(related.part.to_lowercase()) {
            return Err(broken("two of its sheets are the same part"));
        }
        sheets.push((name, related.part.clone()));
    }
    Ok(sheets)
}

/// The one part of that kind that the workbook's part `main` refers to, if there is any.
pub(super) fn only<'r>(main: &str, related: &'r [Related], kind: &str) -> Result<Option<&'r str>, Problem> {
    let mut parts = related.iter().filter(|related| related.is(kind)).map(|related| related.part.as_str());
    let first = parts.next();
    if parts.any(|other| Some(other) != first) {
        return Err(Damage::Broken(format!("it has more than one part of the kind {kind}")).in_part(main));
    }
    Ok(first)
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
