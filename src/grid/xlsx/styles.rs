//! How cells show their numbers: plainly, as a percentage or as a date.

use crate::grid::error::Damage;
use crate::grid::shown::{Formats, Shown};
use crate::grid::xml::{Step, Xml};

/// What each of the workbook's cell styles shows, in order.
pub(super) fn read(xml: &mut Xml<'_>) -> Result<Vec<Shown>, Damage> {
    let mut formats = Formats::default();
    let mut styles = Vec::new();
    let whole = xml.open();
    while let Some(step) = xml.step(whole)? {
        let Step::Element(element) = step else { continue };
        // Formats and styles have namesakes in other lists of the part.
        match element.name() {
            "numFmts" => read_formats(xml, &mut formats)?,
            "cellXfs" => read_styles(xml, &formats, &mut styles)?,
            _ => {}
        }
    }
    Ok(styles)
}

fn read_formats(xml: &mut Xml<'_>, formats: &mut Formats) -> Result<(), Damage> {
    let list = xml.open();
    while let Some(step) = xml.step(list)? {
        let Step::Element(element) = step else { continue };
        if element.name() == "numFmt"
            && let Ok(number) = element.attribute("numFmtId")?.parse()
        {
            formats.add(number, &element.attribute("formatCode")?);
        }
    }
    Ok(())
}

fn read_styles(xml: &mut Xml<'_>, formats: &Formats, styles: &mut Vec<Shown>) -> Result<(), Damage> {
    let list = xml.open();
    while let Some(step) = xml.step(list)? {
        let Step::Element(element) = step else { continue };
        if element.name() == "xf" {
            let format = element.attribute("numFmtId")?.parse();
            styles.push(format.map(|number| formats.shown(number)).unwrap_or_default());
        }
    }
    Ok(())
}
