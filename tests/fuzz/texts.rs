//! Spoils a text, letter by letter.

use crate::support::chance::Chance;

/// What spreadsheets, tapes and slips of the key put into a cell.
const SCRAPS: [&str; 60] = [
    "\"\"\"", "1e999", "sep=;", "\r", " ", "  ", "-", "−", "–", "+", ".", ",", ";", ":", "'", "''", "\"",
    "″", "′", "”", "/", "⁄", "½", "⅞", "x", "×", "*", "by", "in", "ft", "mm", "cm", "m", "inches", "%", "(",
    ")", "[", "]", "#", "=", "~", "0", "00", "1", "9", "99999999", "1e9", "1/0", "3/64", "\u{a0}",
    "\u{202f}", "\u{200b}", "\n", "\t", "９", "毫米", "é", "🪟", "\u{0}",
];

/// The text with one to four faults in it.
pub fn spoilt(sound: &str, chance: &mut Chance) -> String {
    let mut letters: Vec<char> = sound.chars().collect();
    for _ in 0..1 + chance.of(4) {
        let at = chance.of(letters.len() + 1);
        let run = chance.of(4).min(letters.len() - at);
        match chance.of(7) {
            0 | 1 => drop(letters.splice(at..at, SCRAPS[chance.of(SCRAPS.len())].chars())),
            2 => drop(letters.splice(at..at + run, SCRAPS[chance.of(SCRAPS.len())].chars())),
            3 => drop(letters.drain(at..at + run)),
            4 => {
                let again = letters[at..at + run].to_vec();
                drop(letters.splice(at..at, again));
            }
            5 if at + 1 < letters.len() => letters.swap(at, at + 1),
            _ => letters.truncate(at.max(1)),
        }
    }
    letters.into_iter().collect()
}
