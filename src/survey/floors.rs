//! Sheets that are each named after a floor: `Level 03`, `2nd floor`, `EG`, `1. OG`, `L2`.
//!
//! A sheet's name is the floor only where every sheet of openings is named after one and none has a
//! column of floors.

/// Words that name a floor beside its number.
#[rustfmt::skip]
const NUMBERED: &[&str] = &[
    "floor", "fl", "f", "level", "lvl", "l", "storey", "story", "geschoss", "obergeschoss", "og", "ug", "stock",
    "etage", "étage", "piso", "planta", "piano", "verdieping", "våning", "piętro", "kondygnacja",
];
/// Words that name a floor by themselves.
#[rustfmt::skip]
const ALONE: &[&str] = &[
    "ground", "basement", "mezzanine", "attic", "penthouse", "erdgeschoss", "eg", "dachgeschoss", "dg",
    "chaussée", "rdc", "baja", "terra", "grond", "bottenvåning", "parter", "地下",
];
/// Words that number a floor.
#[rustfmt::skip]
const ORDINALS: &[&str] = &["g", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"];
/// What may stand beside these.
#[rustfmt::skip]
const BESIDE: &[&str] = &["the", "upper", "lower", "rez", "de", "begane", "st", "nd", "rd", "th", "er", "e", "ème", "º", "ª"];
/// Chinese and Japanese words, written without a space after the number.
#[rustfmt::skip]
const JOINED: &[char] = &['层', '層', '楼', '階', '阶'];

/// Whether a name is evidently that of a floor: every word of it belongs to one.
pub(super) fn is_floor(name: &str) -> bool {
    let words = words(&name.to_lowercase());
    let any = |known: &[&str]| words.iter().any(|word| known.contains(&word.as_str()));
    let is_number = |word: &String| word.chars().all(|c| c.is_ascii_digit());
    let is_joined = |word: &String| word.chars().all(|c| JOINED.contains(&c));
    let numbered = any(ORDINALS) || words.iter().any(is_number);
    let belongs = |word: &String| {
        let known = [NUMBERED, ALONE, ORDINALS, BESIDE];
        is_number(word) || is_joined(word) || known.iter().any(|words| words.contains(&word.as_str()))
    };
    words.iter().all(belongs) && (any(ALONE) || numbered && (any(NUMBERED) || words.iter().any(is_joined)))
}

/// Letters and digits apart: `L03` is `l` and `03`.
fn words(name: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    let mut before = Sort::Neither;
    for character in name.chars() {
        let sort = Sort::of(character);
        match words.last_mut() {
            Some(word) if sort == before && sort != Sort::Neither => word.push(character),
            _ if sort != Sort::Neither => words.push(character.into()),
            _ => {}
        }
        before = sort;
    }
    words
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Sort {
    Letter,
    Digit,
    Neither,
}

impl Sort {
    fn of(character: char) -> Sort {
        match character {
            _ if character.is_ascii_digit() => Sort::Digit,
            _ if character.is_alphabetic() => Sort::Letter,
            _ => Sort::Neither,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::is_floor;

    #[test]
    fn a_floor_is_known_by_every_word_of_its_name() {
        for floor in [
            "Floor 3",
            "Level 03",
            "2nd floor",
            "EG",
            "1. OG",
            "Ground",
            "Ground floor",
            "L12",
            "Third Floor",
            "3F",
            "1er étage",
            "Rez-de-chaussée",
            "Planta baja",
            "2º piso",
            "Piano 1",
            "Piano terra",
            "Begane grond",
            "3e verdieping",
            "Våning 2",
            "Piętro 1",
            "Parter",
            "3层",
            "2階",
            "地下1階",
            "Level G",
        ] {
            assert!(is_floor(floor), "{floor}");
        }
        for other in [
            "Windows",
            "Floor",
            "Sheet1",
            "1",
            "Block 3",
            "Floor 3 doors",
            "Stock sizes",
            "Levels",
            "Grand piano",
            "",
        ] {
            assert!(!is_floor(other), "{other}");
        }
    }
}
