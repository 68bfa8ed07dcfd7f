//! Texts: shared ones, rich ones, and the escapes within them.

use quick_xml::events::Event;

use crate::grid::error::Damage;
use crate::grid::guard::{Budget, Part};
use crate::grid::xml::{skip, text_into};

/// The workbook's shared texts, in order. The count that the part declares is not believed.
pub(super) fn read(mut part: Part<'_>, budget: &mut Budget) -> Result<Vec<Box<str>>, Damage> {
    let mut strings = Vec::new();
    let (mut buffer, mut text) = (Vec::new(), String::new());
    loop {
        buffer.clear();
        match part.read_event_into(&mut buffer)? {
            Event::Start(element) if element.local_name().as_ref() == "si" => {
                text.clear();
                rich_text_into(&mut part, &mut buffer, &mut text)?;
                budget.keep(&text)?;
                strings.push(unescaped(&text));
            }
            Event::End(element) if element.local_name().as_ref() == "sst" => return Ok(strings),
            Event::Eof => return Err(Damage::breaks_off()),
            _ => {}
        }
    }
}

/// Appends the text of all runs of a rich text, without its reading aids, up to its end.
pub(super) fn rich_text_into(
    part: &mut Part<'_>,
    buffer: &mut Vec<u8>,
    text: &mut String,
) -> Result<(), Damage> {
    let mut depth = 0_u32;
    loop {
        buffer.clear();
        match part.read_event_into(buffer)? {
            Event::Start(element) => match element.local_name().as_ref() {
                "t" => text_into(part, buffer, text)?,
                "rPh" => skip(part, buffer)?,
                _ => depth += 1,
            },
            Event::End(_) if depth == 0 => return Ok(()),
            Event::End(_) => depth -= 1,
            Event::Eof => return Err(Damage::breaks_off()),
            _ => {}
        }
    }
}

/// Resolves `_x000D_`, the UTF-16 unit in hexadecimal that stands for a character which XML cannot
/// hold; `_x005F_` is the underscore that keeps such a text as it is (ECMA-376, ST_Xstring).
pub(super) fn unescaped(text: &str) -> Box<str> {
    if !text.contains("_x") {
        return text.into();
    }
    let mut plain: Vec<u16> = Vec::with_capacity(text.len());
    let mut rest = text;
    while let Some(start) = rest.find("_x") {
        plain.extend(rest[..start].encode_utf16());
        rest = &rest[start..];
        let unit = rest
            .get(2..7)
            .and_then(|code| code.strip_suffix('_'))
            .filter(|code| code.bytes().all(|byte| byte.is_ascii_hexdigit()))
            .and_then(|code| u16::from_str_radix(code, 16).ok());
        let length = match unit {
            Some(unit) => {
                plain.push(unit);
                7
            }
            None => {
                plain.extend("_x".encode_utf16());
                2
            }
        };
        rest = &rest[length..];
    }
    plain.extend(rest.encode_utf16());
    String::from_utf16_lossy(&plain).into()
}

#[cfg(test)]
mod tests {
    use super::unescaped;

    #[test]
    fn escapes_are_resolved_once() {
        let cases = [
            ("plain", "plain"),
            ("a_x000D_b", "a\rb"),
            ("_x005F_x000D_", "_x000D_"),
            ("_xD83D__xDCF7_", "📷"),
            ("_x00", "_x00"),
            ("_xyz_ and _x12G4_", "_xyz_ and _x12G4_"),
            ("_xé00_", "_xé00_"),
        ];
        for (text, plain) in cases {
            assert_eq!(&*unescaped(text), plain);
        }
    }
}
