//! How cells show their numbers: plainly, as a percentage or as a date.

use quick_xml::events::Event;
use std::collections::BTreeMap;

use super::xml::{Attributes, Damage, breaks_off};
use crate::grid::guard::Part;

/// How a number is shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Shown {
    /// As a number.
    #[default]
    Plain,
    /// Times a hundred, with a per cent sign.
    Percent,
    /// As a date or a time.
    Date,
}

/// What each of the workbook's cell styles shows, in order.
pub(super) fn read(mut part: Part<'_>) -> Result<Vec<Shown>, Damage> {
    let mut own_formats: BTreeMap<String, Shown> = BTreeMap::new();
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
                    own_formats.insert(attributes.text("numFmtId")?, shown(&attributes.text("formatCode")?));
                }
                ("cellXfs", "xf") => {
                    let format = Attributes::of(&element)?.text("numFmtId")?;
                    styles.push(own_formats.get(&format).copied().unwrap_or_else(|| built_in(&format)));
                }
                _ => {}
            },
            Event::End(element) => match element.local_name().as_ref() {
                "styleSheet" => return Ok(styles),
                ended if ended == list => list.clear(),
                _ => {}
            },
            Event::Eof => return Err(breaks_off()),
            _ => {}
        }
    }
}

/// Formats that every workbook has (ECMA-376, 18.8.30, with the dates of East Asian editions).
fn built_in(format: &str) -> Shown {
    match format.parse() {
        Ok(9_u32 | 10) => Shown::Percent,
        Ok(14..=22 | 27..=36 | 45..=47 | 50..=58) => Shown::Date,
        _ => Shown::Plain,
    }
}

/// What the first section of a format's code shows. Quoted text, the character after `\`, `_` or
/// `*`, and brackets such as `[Red]` show nothing of the number, but `[h]` counts hours.
fn shown(code: &str) -> Shown {
    let mut characters = code.chars();
    while let Some(character) = characters.next() {
        match character.to_ascii_lowercase() {
            ';' => break,
            '\\' | '_' | '*' => {
                characters.next();
            }
            '"' => {
                characters.by_ref().find(|quoted| *quoted == '"');
            }
            '[' => {
                let inside: String = characters.by_ref().take_while(|inside| *inside != ']').collect();
                let elapsed = |letter: char| "hms".contains(letter.to_ascii_lowercase());
                if !inside.is_empty() && inside.chars().all(elapsed) {
                    return Shown::Date;
                }
            }
            '%' => return Shown::Percent,
            'd' | 'm' | 'y' | 'h' | 's' => return Shown::Date,
            _ => {}
        }
    }
    Shown::Plain
}

#[cfg(test)]
mod tests {
    use super::{Shown, built_in, shown};

    #[test]
    fn a_format_shows_numbers_percentages_or_dates() {
        let cases = [
            ("General", Shown::Plain),
            ("0.00", Shown::Plain),
            ("# ??/64\\\"", Shown::Plain),
            ("#,##0\\ \"mm\"", Shown::Plain),
            ("0.0_m;[Red]-0.0", Shown::Plain),
            ("[$-409]#,##0.00", Shown::Plain),
            ("0.00 %", Shown::Percent),
            ("0\\%", Shown::Plain),
            ("yyyy-mm-dd", Shown::Date),
            ("[$-409]d mmm yyyy", Shown::Date),
            ("[h]:mm", Shown::Date),
            ("H:MM AM/PM", Shown::Date),
        ];
        for (code, expected) in cases {
            assert_eq!(shown(code), expected, "{code}");
        }
        assert_eq!(
            [built_in("0"), built_in("10"), built_in("14"), built_in("x")],
            [Shown::Plain, Shown::Percent, Shown::Date, Shown::Plain]
        );
    }
}
