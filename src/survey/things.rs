//! Words for what a blind hangs at and for other things in a building, as the names of sheets and
//! the texts of rows have them, in the ten languages of the headings. A text that names a door or a
//! window names nothing else: `Stair window` is a window.

use super::category::Category;

/// Words for openings in general, beside those for doors and windows.
#[rustfmt::skip]
const OPENINGS: &[&str] = &[
    "opening", "openings", "glazing", "fenestration", "blind", "blinds", "öffnung", "öffnungen", "baie", "baies",
    "ouverture", "ouvertures", "menuiserie", "menuiseries", "abertura", "aberturas", "hueco", "huecos",
    "carpintería", "apertura", "aperture", "infisso", "infissi", "serramento", "serramenti", "kozijn", "kozijnen",
    "öppning", "öppningar", "otwór", "otwory", "stolarka",
];
/// What such words begin with where they are one with what follows, as in `Fensterliste`.
const OPENINGS_BEGIN: &[&str] =
    &["fenster", "fönster", "kozijn", "öffnung", "türlist", "türenlist", "dörrlist"];
/// The same in Chinese and Japanese, written without spaces.
const OPENINGS_JOINED: &[&str] = &["窗", "门", "洞口", "窓", "扉", "ドア", "サッシ", "建具", "開口"];

/// Names of lists of goods, in which no opening can be.
#[rustfmt::skip]
const GOODS: &[&str] = &[
    "furniture", "furnishings", "wardrobes", "cupboards", "cabinets", "cabinetry", "casework", "shelving",
    "bookcases", "desks", "chairs", "sofas", "appliances", "ramp", "ramps", "railings", "handrails",
    "balustrades", "sanitaryware", "möbel", "mobiliar", "schränke", "tische", "stühle", "rampen", "geländer",
    "mobilier", "meubles", "armoires", "rampes", "mobiliario", "muebles", "armarios", "rampas", "mobili", "arredi",
    "arredo", "armadi", "rampe", "meubels", "meubilair", "kasten", "hellingbanen", "möbler", "skåp", "ramper",
    "meble", "szafy", "rampy", "pochylnie",
];
const GOODS_BEGIN: &[&str] = &["möbel"];
const GOODS_JOINED: &[&str] = &["家具", "坡道", "柜", "桌", "椅", "スロープ", "棚", "什器"];

/// Names of lists of what openings are in or at, so that a sheet of openings may have one too.
#[rustfmt::skip]
const PLACES: &[&str] = &[
    "rooms", "spaces", "walls", "stairs", "staircases", "stairways", "ceilings", "roofs", "räume", "wände",
    "treppen", "decken", "dächer", "pièces", "locaux", "murs", "escaliers", "plafonds", "toitures",
    "habitaciones", "estancias", "muros", "paredes", "escaleras", "techos", "stanze", "locali", "muri", "pareti",
    "scale", "soffitti", "kamers", "ruimtes", "ruimten", "wanden", "muren", "trappen", "väggar", "trappor",
    "pokoje", "pomieszczenia", "ściany", "schody", "sufity", "raumliste", "raumbuch", "treppenliste", "wandliste",
];
const PLACES_JOINED: &[&str] = &["房间", "墙", "楼梯", "部屋", "壁", "階段"];
/// The same of one, which are such names beside a word for a list.
const PLACE: &[&str] = &["room", "space", "wall", "stair", "staircase", "ceiling", "roof", "floor"];
const LIST: &[&str] = &["schedule", "list", "register", "takeoff"];

/// What a row may be of, as one word or several.
#[rustfmt::skip]
const THINGS: &[&str] = &[
    "wardrobe", "wardrobes", "cupboard", "cupboards", "cabinet", "cabinets", "bookcase", "bookshelf", "shelf",
    "shelves", "tv unit", "tv stand", "tv bench", "media unit", "sideboard", "dresser", "chest of drawers",
    "nightstand", "table", "tables", "desk", "desks", "chair", "chairs", "armchair", "sofa", "sofas", "stool",
    "ramp", "ramps", "stair", "stairs", "staircase", "staircases", "handrail", "railing", "balustrade", "worktop",
    "countertop", "bathtub", "refrigerator", "dishwasher", "schrank", "schränke", "tisch", "stuhl", "regal",
    "kommode", "treppe", "treppen", "rampe", "rampen", "geländer", "armoire", "placard", "étagère", "chaise",
    "canapé", "escalier", "escaliers", "rampes", "armario", "ropero", "estantería", "mesa", "silla", "escalera",
    "escaleras", "rampa", "rampas", "armadio", "scaffale", "tavolo", "sedia", "divano", "scala", "kast",
    "kledingkast", "tafel", "stoel", "trap", "trappen", "hellingbaan", "garderob", "skåp", "hylla", "bord", "stol",
    "soffa", "trappa", "trappor", "szafa", "regał", "stół", "krzesło", "biurko", "komoda", "schody", "pochylnia",
];
/// Of these also what ends in them: `Kleiderschrank`.
const COMPOUNDED: &[&str] = &["schrank", "schränke", "treppe", "treppen", "tisch"];
#[rustfmt::skip]
const THINGS_JOINED: &[&str] = &[
    "家具", "柜", "桌", "椅", "沙发", "楼梯", "坡道", "階段", "スロープ", "棚", "机", "ソファ", "収納",
];

/// What a sheet or a table is named after.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum NamedAfter {
    /// Doors, windows or openings.
    Openings,
    /// Goods: none of its rows can be an opening.
    Goods,
    /// What openings are in or at: its rows may be either.
    Places,
}

/// What a name says that it lists; `None` if it says nothing of the kind.
pub(super) fn named_after(name: &str) -> Option<NamedAfter> {
    let words = words(name);
    let any = |known: &[&str]| words.iter().any(|word| known.contains(&word.as_str()));
    let joined = |known: &[&str]| known.iter().any(|part| name.contains(part));
    if names_opening(name) {
        Some(NamedAfter::Openings)
    } else if any(GOODS) || begins(&words, GOODS_BEGIN) || joined(GOODS_JOINED) {
        Some(NamedAfter::Goods)
    } else if any(PLACES) || joined(PLACES_JOINED) || any(PLACE) && any(LIST) {
        Some(NamedAfter::Places)
    } else {
        None
    }
}

/// Whether a text names a door, a window or an opening, whatever else it names.
pub(super) fn names_opening(text: &str) -> bool {
    let is_opening = |word: &String| {
        let category = Category::named(word);
        OPENINGS.contains(&word.as_str()) || matches!(category, Some(Category::Door | Category::Window))
    };
    let words = words(text);
    words.iter().any(is_opening)
        || begins(&words, OPENINGS_BEGIN)
        || OPENINGS_JOINED.iter().any(|part| text.contains(part))
}

fn begins(words: &[String], known: &[&str]) -> bool {
    words.iter().any(|word| known.iter().any(|begin| word.starts_with(begin)))
}

/// Whether a text names a thing that is neither a door nor a window, and no opening beside it.
pub(super) fn names_thing(text: &str) -> bool {
    let words = words(text);
    let spaced = format!(" {} ", words.join(" "));
    let whole = || THINGS.iter().any(|thing| spaced.contains(&format!(" {thing} ")));
    let ends = || words.iter().any(|word| COMPOUNDED.iter().any(|thing| word.ends_with(thing)));
    let joined = || THINGS_JOINED.iter().any(|thing| text.contains(thing));
    (whole() || ends() || joined()) && !names_opening(text)
}

/// The words of a text, in lower case; one also ends where a digit or a capital follows a small
/// letter, as in `WindowSchedule2`.
pub(super) fn words(text: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut before = ' ';
    for letter in text.chars() {
        let begins = before.is_lowercase() && letter.is_uppercase()
            || before.is_alphabetic() != letter.is_alphabetic();
        if begins {
            words.push(String::new());
        }
        if let Some(word) = words.last_mut().filter(|_| letter.is_alphanumeric()) {
            word.extend(letter.to_lowercase());
        }
        before = letter;
    }
    words.retain(|word| !word.is_empty());
    words
}

#[cfg(test)]
mod tests {
    use super::NamedAfter::{self, Goods, Openings, Places};
    use super::{named_after, names_thing};

    #[test]
    fn a_sheet_is_named_after_what_it_lists() {
        let cases: [(&str, Option<NamedAfter>); 26] = [
            ("Windows", Some(Openings)),
            ("WindowSchedule2", Some(Openings)),
            ("Doors and stairs", Some(Openings)),
            ("Fensterliste", Some(Openings)),
            ("Fenster EG", Some(Openings)),
            ("Infissi", Some(Openings)),
            ("门窗表", Some(Openings)),
            ("建具表", Some(Openings)),
            ("Blinds", Some(Openings)),
            ("Furniture", Some(Goods)),
            ("Ramp Schedule", Some(Goods)),
            ("Möbelliste", Some(Goods)),
            ("Meble", Some(Goods)),
            ("家具表", Some(Goods)),
            ("Rooms", Some(Places)),
            ("Stairs", Some(Places)),
            ("Stair Schedule", Some(Places)),
            ("Wall list", Some(Places)),
            ("Wände", Some(Places)),
            // Near misses: places where openings are.
            ("Room 12", None),
            ("Ground floor", None),
            ("Staircase", None),
            ("Table 1", None),
            ("Wall", None),
            ("Sheet1", None),
            ("", None),
        ];
        for (name, expected) in cases {
            assert_eq!(named_after(name), expected, "{name}");
        }
    }

    #[test]
    fn a_thing_is_named_where_no_opening_is() {
        for thing in ["Wardrobe 2", "TV unit", "Assembled Stair: 7 in riser", "Kleiderschrank", "楼梯1"] {
            assert!(names_thing(thing), "{thing}");
        }
        for other in ["Stair window", "Table", "TV", "W1", "Glazed unit", "Stairwell", "Tablet", ""] {
            assert_eq!(names_thing(other), other == "Table", "{other}");
        }
    }
}
