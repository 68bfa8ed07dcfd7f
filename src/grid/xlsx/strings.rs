//! Texts: shared ones, rich ones, and the escapes within them.

use crate::grid::error::Damage;
use crate::grid::guard::Budget;
use crate::grid::xml::{Step, Xml};

/// The workbook's shared texts, in order. The count that the part declares is not believed.
pub(super) fn read(xml: &mut Xml<'_>, budget: &mut Budget) -> Result<Vec<Box<str>>, Damage> {
    let mut strings = Vec::new();
    let mut text = String::new();
    let whole = xml.open();
    while let Some(step) = xml.step(whole)? {
        let Step::Element(element) = step else { continue };
        if element.name() == "si" {
            text.clear();
            rich_text_into(xml, &mut text)?;
            budget.keep(&text)?;
            strings.push(unescaped(&text));
        }
    }
    Ok(strings)
}

/// Appends the text of all runs of a rich text, without its reading aids, and ends it.
pub(super) fn rich_text_into(xml: &mut Xml<'_>, text: &mut String) -> Result<(), Damage> {
    let rich = xml.open();
    while let Some(step) = xml.step(rich)? {
        let Step::Element(element) = step else { continue };
        match element.name() {
            "t" => xml.text_into(text)?,
            "rPh" => xml.skip()?,
            _ => {}
        }
    }
    Ok(())
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
