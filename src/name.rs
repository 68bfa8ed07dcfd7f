//! Names as people write them: case, spaces and punctuation set aside, British spelling read as
//! American, slips of the key forgiven far enough to ask "did you mean".

use std::collections::HashMap;

/// British spellings in words of the trade, and the American ones that they are read as.
const SPELLINGS: [(&str, &str); 6] = [
    ("colour", "color"),
    ("grey", "gray"),
    ("centre", "center"),
    ("metre", "meter"),
    ("labour", "labor"),
    ("louvre", "louver"),
];

/// Small letters in American spelling.
fn american(letters: String) -> String {
    SPELLINGS.iter().fold(letters, |letters, (british, american)| match letters.contains(british) {
        true => letters.replace(british, american),
        false => letters,
    })
}

/// Whether a character is no letter of a text but steers what shows it: a control character, the end of
/// a line or a paragraph, or a mark that turns the direction of what follows (Unicode Standard Annex 9).
pub fn steers(character: char) -> bool {
    let turns = matches!(character, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    character.is_control() || matches!(character, '\u{2028}' | '\u{2029}') || turns
}

/// A name as names are compared: case, and how wide the spaces are, make no difference.
pub fn folded(text: &str) -> String {
    let mut folded = String::with_capacity(text.len());
    for word in text.split_whitespace() {
        if !folded.is_empty() {
            folded.push(' ');
        }
        folded.extend(word.chars().flat_map(char::to_lowercase));
    }
    folded
}

/// A name in lower case and without spaces, as names of sheets and headings are looked up.
pub(crate) fn squeezed(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_whitespace()).flat_map(char::to_lowercase).collect()
}

/// Whether two names are the same but for case, spelling and the width of spaces.
pub fn same_name(one: &str, other: &str) -> bool {
    compared(one) == compared(other)
}

/// What [`same_name`] compares: the same for every way to write a name.
pub fn compared(name: &str) -> String {
    american(folded(name))
}

/// Things by their names, as names are compared; those of one name in the order in which they came.
#[derive(Clone, Debug)]
pub struct ByName<T>(HashMap<String, Vec<T>>);

impl<T> ByName<T> {
    /// Enters one more. Says whether it is the first of its name.
    pub fn enter(&mut self, name: &str, thing: T) -> bool {
        let same = self.0.entry(compared(name)).or_default();
        same.push(thing);
        same.len() == 1
    }

    /// All of a name.
    pub fn all(&self, name: &str) -> &[T] {
        self.0.get(&compared(name)).map_or(&[], Vec::as_slice)
    }

    /// The first of a name.
    pub fn first(&self, name: &str) -> Option<&T> {
        self.all(name).first()
    }
}

impl<T> Default for ByName<T> {
    fn default() -> ByName<T> {
        ByName(HashMap::new())
    }
}

impl<'n, T> FromIterator<(&'n str, T)> for ByName<T> {
    fn from_iter<I: IntoIterator<Item = (&'n str, T)>>(things: I) -> ByName<T> {
        let mut by_name = ByName::default();
        for (name, thing) in things {
            by_name.enter(name, thing);
        }
        by_name
    }
}

/// The letters and digits alone, in lower case and American spelling: `Patio-Door` is `patiodoor`.
pub(crate) fn fold(text: &str) -> String {
    let letters = text.chars().map(narrow).filter(|character| character.is_alphanumeric());
    american(letters.flat_map(char::to_lowercase).collect())
}

/// Whether a name of the schema, which is in American spelling, has these folded letters.
pub(crate) fn is_spelled(name: &str, letters: &str) -> bool {
    let own = name.chars().filter(|character| character.is_alphanumeric()).flat_map(char::to_lowercase);
    own.eq(letters.chars())
}

/// A full-width letter, digit or mark as the usual one.
pub(crate) fn narrow(character: char) -> char {
    const WIDER_BY: u32 = '！' as u32 - '!' as u32;
    match character {
        '！'..='～' => char::from_u32(character as u32 - WIDER_BY).unwrap_or(character),
        '　' => ' ',
        _ => character,
    }
}

/// The name nearest to what was written, if a slip or two turn one into the other: one in a word
/// of four to seven letters, two in a longer one, none in a shorter one. The first of equals.
pub fn nearest<'n>(written: &str, names: impl IntoIterator<Item = &'n str>) -> Option<&'n str> {
    nearest_folded(written, names.into_iter().map(|name| (fold(name).chars().collect::<Vec<_>>(), name)))
}

/// The same of names whose folded letters are at hand.
pub(crate) fn nearest_folded<'n, L: AsRef<[char]>>(
    written: &str,
    names: impl IntoIterator<Item = (L, &'n str)>,
) -> Option<&'n str> {
    let written: Vec<char> = fold(written).chars().collect();
    let slips_allowed = slips_allowed(written.len());
    if slips_allowed == 0 {
        return None;
    }
    names
        .into_iter()
        .filter(|(letters, _)| letters.as_ref().len().abs_diff(written.len()) <= slips_allowed)
        .map(|(letters, name)| (slips(&written, letters.as_ref()), name))
        .filter(|(slips, _)| *slips <= slips_allowed)
        .min_by_key(|(slips, _)| *slips)
        .map(|(_, name)| name)
}

/// Whether a slip or two turn one text into the other: as many as [`nearest`] forgives. Both are
/// given by their folded letters.
pub(crate) fn is_a_slip(written: &[char], name: &[char]) -> bool {
    let allowed = slips_allowed(written.len());
    written.len().abs_diff(name.len()) <= allowed && allowed > 0 && slips(written, name) <= allowed
}

/// Slips that a text of so many letters may have.
const fn slips_allowed(letters: usize) -> usize {
    match letters {
        0..=3 => 0,
        4..=7 => 1,
        _ => 2,
    }
}

/// How many letters must be added, left out, changed or swapped with their neighbor.
fn slips(from: &[char], to: &[char]) -> usize {
    let mut two_above = vec![0; to.len() + 1];
    let mut above: Vec<usize> = (0..=to.len()).collect();
    for (row, from_letter) in from.iter().enumerate() {
        let mut current = vec![row + 1];
        for (column, to_letter) in to.iter().enumerate() {
            let changed = above[column] + usize::from(from_letter != to_letter);
            let mut least = changed.min(above[column + 1] + 1).min(current[column] + 1);
            if row > 0 && column > 0 && from_letter == &to[column - 1] && &from[row - 1] == to_letter {
                least = least.min(two_above[column - 1] + 1);
            }
            current.push(least);
        }
        two_above = std::mem::replace(&mut above, current);
    }
    above[to.len()]
}

#[cfg(test)]
mod tests {
    use super::{ByName, fold, nearest, same_name};

    #[test]
    fn a_slip_of_the_key_is_forgiven() {
        let names = ["Width", "Height", "Height left", "Opening leaf", "Floor", "Id"];
        let cases = [
            ("Hight", Some("Height")),
            ("Hieght", Some("Height")),
            ("wdith", Some("Width")),
            ("HEIGHT-LFET", Some("Height left")),
            ("openin laef", Some("Opening leaf")),
            ("Flat", None),
            ("Ix", None),
            ("Weight kg", None),
            ("", None),
        ];
        for (written, name) in cases {
            assert_eq!(nearest(written, names), name, "{written}");
        }
        assert_eq!(fold(" Tax %"), "tax");
    }

    #[test]
    fn things_of_one_name_stand_together() {
        let things: ByName<u8> = [("Dark grey", 1), ("white", 2), ("DARK  GRAY", 3)].into_iter().collect();
        assert_eq!(things.all("dark gray"), [1, 3]);
        assert_eq!((things.first("White"), things.first("cream")), (Some(&2), None));
    }

    #[test]
    fn both_spellings_are_one_name() {
        assert!(same_name("Dark GREY", "dark  gray") && same_name("Colour", "color"));
        assert!(!same_name("gray", "green"));
        assert_eq!(fold("Width centre"), fold("width-center"));
    }
}
