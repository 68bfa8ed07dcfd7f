//! How lengths are spelled: one kind of digit, space, quote and dash, and the names of units.

use super::Unit;

/// The text in lower case with one kind of digit, space, quote and dash, and fractions spelled out.
pub(super) fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for character in text.trim().chars().map(narrow) {
        match character {
            '‘' | '’' | '‛' | '′' | 'ʹ' | 'ʼ' | '´' | '`' => plain.push('\''),
            '“' | '”' | '„' | '‟' | '″' | 'ʺ' | '〃' => plain.push('"'),
            '\u{2010}'..='\u{2015}' | '−' => plain.push('-'),
            '⁄' | '∕' => plain.push('/'),
            '㎜' => plain.push_str("mm"),
            '㎝' => plain.push_str("cm"),
            // Marks without a width, which a copied text may hold.
            '\u{200b}'..='\u{200f}' | '\u{2060}' | '\u{feff}' => {}
            _ if character.is_whitespace() => plain.push(' '),
            _ => match vulgar_fraction(character) {
                Some(fraction) => plain.extend([" ", fraction]),
                None => plain.extend(character.to_lowercase()),
            },
        }
    }
    let plain = plain.replace("''", "\"");
    plain.trim().to_owned()
}

/// A full-width form of the Halfwidth and Fullwidth Forms of Unicode as its usual character.
fn narrow(character: char) -> char {
    const WIDER_BY: u32 = '！' as u32 - '!' as u32;
    match character {
        '！'..='～' => char::from_u32(character as u32 - WIDER_BY).unwrap_or(character),
        other => other,
    }
}

/// A plain text without the quotes around it, or the apostrophe before it by which a spreadsheet
/// keeps a number as text. One mark at the end alone is a unit's.
pub(super) fn unquoted(plain: &str) -> &str {
    let quoted = ['"', '\''].into_iter().find_map(|mark| plain.strip_prefix(mark)?.strip_suffix(mark));
    quoted.or_else(|| plain.strip_prefix('\'')).map_or(plain, str::trim)
}

/// Reads a unit's usual spellings.
pub(super) fn unit_named(text: &str) -> Option<Unit> {
    let text = plain(text);
    Some(match text.strip_suffix('.').unwrap_or(&text) {
        "in" | "ins" | "inch" | "inches" | "\"" | "zoll" | "pouce" | "pouces" | "英寸" => Unit::Inch,
        "ft" | "foot" | "feet" | "'" | "fuß" | "pied" | "pieds" | "英尺" => Unit::Foot,
        "mm" | "mms" | "millimetre" | "millimetres" | "millimeter" | "millimeters" | "millimètres"
        | "milímetros" | "millimetri" | "毫米" => Unit::Millimeter,
        "cm" | "cms" | "centimetre" | "centimetres" | "centimeter" | "centimeters" | "zentimeter"
        | "centimètres" | "centímetros" | "centimetri" | "厘米" | "公分" => Unit::Centimeter,
        "m" | "metre" | "metres" | "meter" | "meters" | "mètre" | "mètres" | "metro" | "metros" | "metri"
        | "米" | "公尺" => Unit::Meter,
        _ => return None,
    })
}

/// The fractions that have a character of their own.
fn vulgar_fraction(character: char) -> Option<&'static str> {
    Some(match character {
        '½' => "1/2",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅕' => "1/5",
        '⅖' => "2/5",
        '⅗' => "3/5",
        '⅘' => "4/5",
        '⅙' => "1/6",
        '⅚' => "5/6",
        '⅐' => "1/7",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '⅑' => "1/9",
        '⅒' => "1/10",
        _ => return None,
    })
}
