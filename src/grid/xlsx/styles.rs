//! How cells show their numbers: plainly, as a percentage or as a date.

use quick_xml::events::Event;

use crate::grid::error::Damage;
use crate::grid::guard::Part;
use crate::grid::shown::{Formats, Shown};
use crate::grid::xml::Attributes;

/// What each of the workbook's cell styles shows, in order.
pub(super) fn read(mut part: Part<'_>) -> Result<Vec<Shown>, Damage> {
    let mut formats = Formats::default();
    let mut styles = Vec::new();
    let mut buffer = Vec::new();
    // Formats and styles have namesakes in other lists of the part.
    let mut list = String::new();
    loop {
        buffer.clear();
        match part.read_event_into(&mut buffer)? {
            Event::Start(element) => match (list.as_str(), element.local_name().as_ref()) {
                (_, name @ ("numFmts" | "cellXfs")) => list = name.to_owned(),
                ("numFmts", "numFmt") => {
                    let attributes = Attributes::of(&element)?;
                    if let Ok(number) = attributes.text("numFmtId")?.parse() {
                        formats.add(number, &attributes.text("formatCode")?);
                    }
                }
                ("cellXfs", "xf") => {
                    let format = Attributes::of(&element)?.text("numFmtId")?;
                    styles.push(format.parse().map(|number| formats.shown(number)).unwrap_or_default());
                }
                _ => {}
            },
            Event::End(element) => match element.local_name().as_ref() {
                "styleSheet" => return Ok(styles),
                ended if ended == list => list.clear(),
                _ => {}
            },
            Event::Eof => return Err(Damage::breaks_off()),
            _ => {}
        }
    }
}
