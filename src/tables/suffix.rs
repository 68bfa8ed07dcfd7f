//! What stands after a heading's name: the unit of its numbers, or a remark on what to write.
//!
//! Feet in one column and inches in the next are read as if both stood in one cell, `5' 10 1/2"`;
//! inches that are none beside feet are a stop.

use crate::length::Unit;
use crate::name::fold;
use crate::schema::synonyms::UNITS;

/// Remarks in brackets that do not change what a heading means.
const REMARKS: [&str; 35] = [
    "",
    "text",
    "other",
    "string",
    "number",
    "integer",
    "decimal",
    "length",
    "date",
    "choice",
    "list",
    "yesno",
    "yn",
    "required",
    "optional",
    "mandatory",
    "no",
    "nr",
    "pcs",
    "ea",
    "each",
    "stk",
    "stck",
    "stück",
    "szt",
    "pz",
    "uds",
    "樘",
    "个",
    "扇",
    "套",
    FEET_AND_INCHES[0],
    FEET_AND_INCHES[1],
    FEET_AND_INCHES[2],
    FEET_AND_INCHES[3],
];

/// Types of data that an export writes behind a heading's colon: `Width : Double`.
const DATA_TYPES: [&str; 11] =
    ["string", "text", "double", "float", "real", "number", "decimal", "integer", "int", "boolean", "date"];

/// What says that each cell is in feet and inches: it names no unit of a bare number.
const FEET_AND_INCHES: [&str; 4] = ["ftin", "ftandin", "feetinches", "feetandinches"];

/// Units that may follow a name without anything between: no name ends in one.
const GLUED: [(&str, Unit); 4] = [
    ("mm", Unit::Millimeter),
    ("cm", Unit::Centimeter),
    ("毫米", Unit::Millimeter),
    ("厘米", Unit::Centimeter),
];

/// The unit of length that a text names and nothing else: `mm`, `(in)`, `[Zoll]`, `in mm`.
pub(super) fn unit_alone(text: &str) -> Option<Unit> {
    let inner = text.trim().trim_matches(|character| "()[]{}（）［］".contains(character)).trim();
    let inner = inner.strip_prefix("in ").or_else(|| inner.strip_prefix("en ")).unwrap_or(inner);
    unit_named(inner)
}

/// Whether a text is a remark on what to write, such as `(text)`.
pub(super) fn is_remark(text: &str) -> bool {
    REMARKS.contains(&fold(text).as_str())
}

/// Whether a text says that lengths are in feet and inches: `ft-in`, `(feet and inches)`.
pub(super) fn is_feet_and_inches(text: &str) -> bool {
    FEET_AND_INCHES.contains(&fold(text).as_str())
}

/// A heading's name with the unit after it, in each way that the two can be told apart: `Width (in)`
/// is `Width` and inches.
pub(super) fn unit_at_end(heading: &str) -> impl Iterator<Item = (&str, Unit)> {
    let heading = heading.trim_end_matches([')', ']', '}', ' ', ':', '#']);
    let starts_unit = |character: char| character.is_whitespace() || "([{,:;/-_#".contains(character);
    let by_word = heading.rfind(starts_unit).map(|start| heading.split_at(start));
    let by_mark = heading.char_indices().next_back().map(|(start, _)| heading.split_at(start));
    let apart = [by_word, by_mark].into_iter().flatten().filter_map(move |(name, unit)| {
        let unit = unit.trim_start_matches(starts_unit);
        let is_mark = unit.chars().any(|character| !character.is_alphanumeric());
        let stands_apart = unit.len() < heading.len() - name.len();
        Some((name, unit_named(unit).filter(|_| is_mark || stands_apart)?))
    });
    let glued = GLUED.iter().filter_map(move |(symbol, unit)| {
        let start =
            heading.len().checked_sub(symbol.len()).filter(|start| heading.is_char_boundary(*start))?;
        let (name, end) = heading.split_at(start);
        (end.to_lowercase() == *symbol).then_some((name, *unit))
    });
    apart.flat_map(|(name, unit)| [(name, unit), (without_in(name), unit)]).chain(glued)
}

/// A heading's name alone, without a unit or a remark on what to write.
pub fn heading_name(heading: &str) -> &str {
    let name = without_unit(heading);
    without_remark(name).unwrap_or(name)
}

/// `Comments (text)`, `Comments##TEXT##`, `Comments : String` as `Comments`.
pub(super) fn without_remark(heading: &str) -> Option<&str> {
    if let Some((name, behind)) = heading.rsplit_once(':')
        && DATA_TYPES.contains(&fold(behind).as_str())
    {
        return Some(name.trim_end());
    }
    let inner = heading.trim_end().trim_end_matches([')', ']', '#']);
    let start = inner.rfind(['(', '[', '#'])?;
    is_remark(&inner[start..]).then(|| inner[..start].trim_end_matches([' ', '#']))
}

/// A heading's name without the unit after it.
pub(super) fn without_unit(heading: &str) -> &str {
    let name = unit_at_end(heading).next().map_or(heading, |(name, _)| name);
    name.trim_end_matches([' ', '(', '[', '{', ',', '-', '/', '#'])
}

fn unit_named(text: &str) -> Option<Unit> {
    let abroad = || {
        let wanted = text.trim().to_lowercase();
        UNITS.iter().find(|(name, _)| *name == wanted).map(|(_, unit)| *unit)
    };
    Unit::named(text).or_else(abroad)
}

/// `Width in` of `Width in mm` as `Width`.
fn without_in(name: &str) -> &str {
    let name = name.trim_end();
    name.strip_suffix(" in").or_else(|| name.strip_suffix(" en")).unwrap_or(name)
}
