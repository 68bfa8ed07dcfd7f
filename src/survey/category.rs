//! What a schedule that lists more than openings says a row is: a door, a window, or another thing.
//!
//! A category that is clearly another thing (`IfcWall`, furniture, a skylight) makes a row no
//! opening; one that is not known keeps it, with a check if other rows of the table have known
//! ones. A door's or window's category settles a blank kind.

/// What a row is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Category {
    /// A door of any kind.
    Door,
    /// A window.
    Window,
    /// A thing that no blind of ours hangs at; a window in a roof is one.
    Other,
}

/// Endings of the words for a door, in the ten languages of the headings.
#[rustfmt::skip]
const DOORS: &[&str] = &[
    "door", "doors", "doorset", "doorsets", "tür", "türen", "porte", "portes", "puerta", "puertas", "porta",
    "deur", "deuren", "dörr", "dörrar", "drzwi", "门", "ドア", "扉",
];
/// The same for a window.
#[rustfmt::skip]
const WINDOWS: &[&str] = &[
    "window", "windows", "fenster", "fenêtre", "fenêtres", "ventana", "ventanas", "finestra", "finestre", "raam",
    "ramen", "fönster", "okno", "okna", "窗", "窓", "サッシ",
];
/// The same for things in a building that are neither.
#[rustfmt::skip]
const OTHERS: &[&str] = &[
    "wall", "walls", "furniture", "casework", "floor", "floors", "slab", "slabs", "roof", "roofs", "column",
    "columns", "beam", "beams", "stair", "stairs", "railing", "railings", "ceiling", "ceilings", "room", "rooms",
    "space", "spaces", "pipe", "pipes", "duct", "ducts", "fixture", "fixtures", "equipment", "planting",
    "hardware", "skylight", "skylights", "rooflight", "rooflights", "dachfenster", "wand", "wände", "möbel", "mur",
    "murs", "meuble", "meubles", "pared", "paredes", "muro", "muros", "parete", "vägg", "ściana", "墙", "家具",
    "壁",
];

impl Category {
    /// Whether any word of a text is one for a window, and none for a door.
    pub fn says_window(text: &str) -> bool {
        let text = text.to_lowercase();
        let has = |known: &[&str]| {
            let mut words = text.split(|c: char| !c.is_alphanumeric());
            words.any(|word| known.iter().any(|known| is_word_or_compound(word, known)))
        };
        has(WINDOWS) && !has(DOORS)
    }

    /// The category that a text names; `None` if it is no word for one. The word that counts is the
    /// last, or the first of `Portes extérieures`; of `23-17 11 00: Doors` the words after the
    /// number, of `Doors: sliding` those before the colon. IFC entities are those of ISO 16739-1.
    pub fn named(text: &str) -> Option<Category> {
        let text = text.to_lowercase();
        let mut words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
        if let (Some(word), None) = (words.next(), words.next())
            && let Some(entity) = word.strip_prefix("ifc")
        {
            return of_entity(entity);
        }
        text.split([':', ',', '(', '/', '|']).find_map(of_phrase)
    }
}

fn of_entity(entity: &str) -> Option<Category> {
    match entity {
        "door" | "doorstandardcase" | "doortype" | "doorstyle" => Some(Category::Door),
        "window" | "windowstandardcase" | "windowtype" | "windowstyle" => Some(Category::Window),
        // Its panels may be what a blind hangs before.
        "curtainwall" | "buildingelementproxy" | "plate" => None,
        _ => Some(Category::Other),
    }
}

fn of_phrase(phrase: &str) -> Option<Category> {
    let words: Vec<&str> =
        phrase.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let (first, last) = (words.first()?, words.last()?);
    // `Curtain walls` are glazed, `door and window` says neither.
    if words.contains(&"curtain") || words.contains(&"and") {
        return None;
    }
    let ends = |known: &[&str]| known.iter().any(|word| is_word_or_compound(last, word));
    if ends(OTHERS) {
        Some(Category::Other)
    } else if ends(WINDOWS) || begins(first, WINDOWS) {
        Some(Category::Window)
    } else if ends(DOORS) || begins(first, DOORS) {
        Some(Category::Door)
    } else {
        None
    }
}

/// In French, Spanish, Italian and Polish the noun comes first; in English it is what the last
/// word is for, as in `door hardware`.
fn begins(first: &str, known: &[&str]) -> bool {
    let english = ["door", "doors", "doorset", "doorsets", "window", "windows"];
    known.contains(&first) && !english.contains(&first)
}

/// `fenster` and `außenfenster`; a short word only as it stands.
fn is_word_or_compound(word: &str, known: &str) -> bool {
    #[rustfmt::skip]
    const COMPOUNDED: &[&str] = &[
        "tür", "türen", "fenster", "dachfenster", "deur", "deuren", "raam", "ramen", "dörr", "dörrar", "fönster",
        "门", "窗", "窓",
    ];
    word == known || COMPOUNDED.contains(&known) && word.ends_with(known)
}

#[cfg(test)]
mod tests {
    use super::Category::{self, Door, Other, Window};

    #[test]
    fn a_window_is_said_in_any_word() {
        for (text, is_said) in [
            ("Window wall schedule", true),
            ("W1 (Außenfenster)", true),
            ("fenêtre sud", true),
            ("Doors and windows", false),
            ("Windy corner", false),
            ("", false),
        ] {
            assert_eq!(Category::says_window(text), is_said, "{text}");
        }
    }

    #[test]
    fn doors_and_windows_are_known_in_many_words() {
        let cases = [
            ("Doors", Some(Door)),
            ("Sliding door", Some(Door)),
            ("Doors: sliding", Some(Door)),
            ("23-17 11 00: Doors", Some(Door)),
            ("IfcDoorStandardCase", Some(Door)),
            ("Balkontür", Some(Door)),
            ("Portes extérieures", Some(Door)),
            ("WINDOW", Some(Window)),
            ("IfcWindow", Some(Window)),
            ("Außenfenster", Some(Window)),
            ("推拉窗", Some(Window)),
            ("Dachfenster", Some(Other)),
            ("Skylights", Some(Other)),
            ("IfcWall", Some(Other)),
            ("Door hardware", Some(Other)),
            ("Basic walls", Some(Other)),
            ("Curtain walls", None),
            ("IfcCurtainWall", None),
            ("Doors and windows", None),
            ("A", None),
            ("", None),
        ];
        for (text, category) in cases {
            assert_eq!(Category::named(text), category, "{text}");
        }
    }
}
