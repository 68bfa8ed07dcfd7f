//! Names of sheets: made legal for every spreadsheet program, and unique whatever their case.

use std::collections::BTreeSet;

use crate::name;
use crate::survey::NO_UNIT;

/// What spreadsheets refuse in a sheet's name.
const REFUSED: [char; 7] = ['[', ']', ':', '*', '?', '/', '\\'];
/// Most UTF-16 units in a sheet's name.
const LONGEST: usize = 31;
/// A name that one spreadsheet program keeps for itself.
const KEPT_BY_THE_PROGRAM: &str = "History";

/// Gives each sheet a name that no other has.
pub(super) struct Names {
    /// The fixed names, in lower case; each also stands for its continuations.
    fixed: Vec<String>,
    /// The names given, in lower case.
    given: BTreeSet<String>,
}

impl Names {
    /// Keeps the fixed names and their continuations (`Order 2`) free.
    pub(super) fn keeping_free(fixed: &[&str]) -> Names {
        let fixed = fixed.iter().chain([&KEPT_BY_THE_PROGRAM]).map(|name| name.to_lowercase()).collect();
        Names { fixed, given: BTreeSet::new() }
    }

    /// A legal name for a unit's sheet that no other sheet has; a clash gets ` (2)`, ` (3)`…
    pub(super) fn give(&mut self, wanted: &str) -> String {
        let legal = legal(wanted);
        let mut name = legal.clone();
        let mut number = 1_u64;
        while self.is_kept(&name) || !self.given.insert(name.to_lowercase()) {
            number += 1;
            let suffix = format!(" ({number})");
            name = format!("{}{suffix}", cut(&legal, LONGEST - suffix.len()).trim_end());
        }
        name
    }

    fn is_kept(&self, name: &str) -> bool {
        let name = name.to_lowercase();
        self.fixed.iter().any(|fixed| {
            name.strip_prefix(fixed.as_str()).is_some_and(|rest| {
                rest.is_empty()
                    || rest.strip_prefix(' ').is_some_and(|number| {
                        !number.is_empty() && number.bytes().all(|digit| digit.is_ascii_digit())
                    })
            })
        })
    }
}

/// `wanted` with what sheets refuse made `-`, without spaces or apostrophes at its ends, cut to
/// the longest that is allowed.
fn legal(wanted: &str) -> String {
    let mended: String = wanted
        .chars()
        .map(|letter| if REFUSED.contains(&letter) || name::steers(letter) { '-' } else { letter })
        .collect();
    let at_ends = |letter: char| letter.is_whitespace() || letter == '\'';
    let name = cut(mended.trim_matches(at_ends), LONGEST).trim_end_matches(at_ends);
    if name.is_empty() { NO_UNIT.to_owned() } else { name.to_owned() }
}

/// The longest start of `text` of at most `most` UTF-16 units.
fn cut(text: &str, most: usize) -> &str {
    let mut units = 0;
    for (place, letter) in text.char_indices() {
        units += letter.len_utf16();
        if units > most {
            return &text[..place];
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::Names;

    #[test]
    fn a_units_sheet_has_a_legal_name_of_its_own() {
        let mut names = Names::keeping_free(&["Order", "Install"]);
        let cases = [
            ("0304", "0304"),
            ("3/04", "3-04"),
            ("a[b]:c*d?e\\f", "a-b--c-d-e-f"),
            ("", "No unit"),
            ("'' ", "No unit (2)"),
            ("  '12' ", "12"),
            ("Gardener's house", "Gardener's house"),
            // A clash, whatever its case.
            ("Penthouse", "Penthouse"),
            ("PENTHOUSE", "PENTHOUSE (2)"),
            ("penthouse", "penthouse (3)"),
            // Fixed names, their continuations and the program's own are kept free.
            ("order", "order (2)"),
            ("Order 2", "Order 2 (2)"),
            ("Orders", "Orders"),
            ("history", "history (2)"),
            // 36 letters are cut to 31, and to 27 where ` (2)` follows.
            ("abcdefghijklmnopqrstuvwxyz0123456789", "abcdefghijklmnopqrstuvwxyz01234"),
            ("abcdefghijklmnopqrstuvwxyz0123499999", "abcdefghijklmnopqrstuvwxyz0 (2)"),
            // A letter beyond the basic plane counts twice and is never halved.
            ("𝔸𝔸𝔸𝔸𝔸𝔸𝔸𝔸𝔸𝔸𝔸𝔸𝔸𝔸𝔸𝔸", "𝔸𝔸𝔸𝔸𝔸𝔸𝔸𝔸𝔸𝔸𝔸𝔸𝔸𝔸𝔸"),
            ("tab\there", "tab-here"),
        ];
        for (wanted, name) in cases {
            assert_eq!(names.give(wanted), name, "for {wanted:?}");
        }
    }
}
