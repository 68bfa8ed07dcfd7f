//! Group headings: what stands over several headings and says whose they are. `Width` under
//! `Rough opening` is the opening's, under `Frame` it is not.

use super::openings::NOTE;
use super::{Column, Merged};

/// Whose the headings under a group heading are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose {
    /// The opening's own.
    Opening,
    /// A part's, a neighbor's or a drawing's.
    Another,
    /// The group heading does not say.
    Unsaid,
}

/// Words of a group heading over the opening's own sizes. Letters are without marks.
const OPENING: &[&str] = &[
    "opening",
    "openings",
    "rough",
    "structural",
    "masonry",
    "aperture",
    "ro",
    "so",
    "size",
    "sizes",
    "dimension",
    "dimensions",
    "measurement",
    "measurements",
    "measured",
    "overall",
    "nominal",
    "offnung",
    "oeffnung",
    "rohbau",
    "rohbaumass",
    "lichtmass",
    "masse",
    "abmessungen",
    "baie",
    "dimensiones",
    "medidas",
    "hueco",
    "dimensioni",
    "misure",
    "foro",
    "afmetingen",
    "maten",
    "dagmaat",
    "matt",
    "oppning",
    "wymiary",
    "otwor",
    "洞口",
    "洞口尺寸",
    "尺寸",
    "開口",
    "開口寸法",
    "寸法",
];

/// Words of a group heading over what belongs to a part of the opening, to what stands around it,
/// or to a drawing.
const ANOTHER: &[&str] = &[
    "frame",
    "frames",
    "leaf",
    "leaves",
    "panel",
    "panels",
    "glass",
    "glazing",
    "pane",
    "panes",
    "lite",
    "lites",
    "vision",
    "sash",
    "sashes",
    "casing",
    "casings",
    "trim",
    "trims",
    "architrave",
    "architraves",
    "casement",
    "casements",
    "lining",
    "mullion",
    "transom",
    "screen",
    "shutter",
    "blind",
    "blinds",
    "curtain",
    "lintel",
    "header",
    "sill",
    "cill",
    "handle",
    "hardware",
    "material",
    "materials",
    "wall",
    "ceiling",
    "room",
    "floor",
    "unit",
    "apartment",
    "flat",
    "detail",
    "details",
    "drawing",
    "drawings",
    "section",
    "sections",
    "rahmen",
    "flugel",
    "fluegel",
    "glas",
    "scheibe",
    "cadre",
    "dormant",
    "vantail",
    "ouvrant",
    "vitrage",
    "marco",
    "hoja",
    "vidrio",
    "telaio",
    "anta",
    "vetro",
    "kozijn",
    "vleugel",
    "karm",
    "bage",
    "oscieznica",
    "skrzydlo",
    "szyba",
    "rama",
    "框",
    "窗框",
    "门框",
    "扇",
    "玻璃",
    "枠",
    "障子",
    "ガラス",
];

/// Words that say nothing beside the others.
const BESIDES: &[&str] =
    &["door", "doors", "window", "windows", "the", "of", "and", "width", "height", "patio"];

/// Whose the headings under a group are. `words` are the group heading's, in lower case and
/// without marks on letters; a word that is not known leaves it unsaid, for then it may be a title.
pub fn whose<'w>(words: impl Iterator<Item = &'w str> + Clone) -> Whose {
    let among = |known: &[&str], word: &str| known.contains(&word);
    let all_known =
        words.clone().all(|word| [OPENING, ANOTHER, BESIDES].iter().any(|known| among(known, word)));
    match all_known {
        true if words.clone().any(|word| among(ANOTHER, word)) => Whose::Another,
        true if words.clone().any(|word| among(OPENING, word)) => Whose::Opening,
        _ => Whose::Unsaid,
    }
}

/// Whether a heading's words say that what is under it is a part's or a neighbor's: `frame` beside a
/// width, unless the names of the column have the word themselves, as those of `Opening leaf` have.
pub fn is_anothers(words: &[String], column: &Column) -> bool {
    let names = |word: &str| column.names().any(|name| name.to_lowercase().contains(word));
    // A blind's own fit or color is what is asked for.
    let is_ours = |word: &str| ["blind", "blinds"].contains(&word);
    words.iter().any(|word| ANOTHER.contains(&word.as_str()) && !is_ours(word) && !names(word))
}

/// Whether a part or a drawing may have such a column of its own. None has a place or a remark, so
/// those are the opening's under any group.
pub fn may_be_anothers(column: &Column) -> bool {
    column.merged == Merged::FirstRow && column.key != NOTE.key
}

/// Headings that, beside a sill without a group, make it the number of a drawing.
pub const DETAILS_BESIDE_A_SILL: [&str; 2] = ["head", "jamb"];
