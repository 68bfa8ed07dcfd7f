//! Lengths written together, as `30" x 75"` or `W 900 x H 2100`: in a cell of their own, in a
//! heading that says which comes first, or within a name.

use super::read::readings_of_plain;
use super::spelling::{plain, unit_named, unquoted};
use super::{Reading, Unit};

/// Which of two lengths written together comes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// `W x H`.
    WidthFirst,
    /// `H x W`.
    HeightFirst,
}

/// Two lengths written together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WrittenPair {
    /// Every reading of the first length, and of the second. A unit that only one of them names
    /// holds for both; beside feet, a length without a unit may still be in another.
    pub readings: [Vec<Reading>; 2],
    /// Which is which, if letters or words beside them say so.
    pub order: Option<Order>,
    /// Whether a third length, a depth, stands with them.
    pub with_third: bool,
}

/// What a word beside a length says that it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    Width,
    Height,
    Depth,
}

/// One of the lengths.
#[derive(Clone)]
struct Part {
    readings: Vec<Reading>,
    side: Option<Side>,
}

/// Signs that stand between lengths written together; `x` of the Latin and of the Cyrillic letters.
const SIGNS: [char; 8] = ['x', 'х', '×', '✕', '✖', '⨯', '╳', '*'];

/// Words beside a length within a name that are tried as a part of it.
const MOST_WORDS: usize = 6;

/// Reads a text that holds two lengths, or three, and nothing else: with a sign or `by` between
/// them, each with a unit or without, and with `W`, `height` or the like beside them.
pub fn written_pair(text: &str) -> Option<WrittenPair> {
    let text = with_one_sign(text);
    let parts: Vec<Part> = unquoted(&text).split('x').map(part).collect::<Option<_>>()?;
    pair_of(parts)
}

/// Every way in which two lengths can be read within a longer text, such as `Leaf 0762 x 2032mm`.
pub fn pairs_within(text: &str) -> Vec<WrittenPair> {
    let mut pairs = Vec::new();
    let is_sign =
        |character: char| SIGNS.contains(&character) || matches!(character, 'X' | 'Х' | 'ｘ' | 'Ｘ' | '＊');
    // Most names hold none.
    if !text.contains(is_sign) && !text.to_ascii_lowercase().contains(" by ") {
        return pairs;
    }
    let text = with_one_sign(text);
    let mut start = 0;
    for (sign, _) in text.match_indices('x') {
        // What stands right behind an earlier sign is the end of another pair.
        let before = &text[start..sign];
        let first = beginnings(before).filter(|at| start == 0 || !before[..*at].trim().is_empty());
        let first: Vec<Part> = first.take(MOST_WORDS).filter_map(|at| part(&before[at..])).collect();
        start = sign + 1;
        if first.is_empty() {
            continue;
        }
        let after = &text[start..];
        let second: Vec<Part> = ends(after).take(MOST_WORDS).filter_map(|end| part(&after[..end])).collect();
        for first in &first {
            pairs.extend(second.iter().filter_map(|second| pair_of(vec![first.clone(), second.clone()])));
        }
    }
    pairs
}

/// Splits a heading such as `Size (W x H) in mm` into the order that it names and the rest of it.
pub fn order_named(heading: &str) -> Option<(Order, String)> {
    let heading = with_one_sign(heading);
    heading.match_indices('x').find_map(|(sign, _)| {
        let (before, after) = (heading[..sign].trim_end(), heading[sign + 1..].trim_start());
        let is_mark = |character: char| !character.is_alphabetic();
        let word_start =
            before.trim_end_matches('.').rfind(is_mark).map_or(0, |at| at + mark_length(before, at));
        let word_end = |text: &str| text.find(|c: char| is_mark(c) || c == 'x').unwrap_or(text.len());
        let end = word_end(after);
        let order = order(side(&before[word_start..]), side(&after[..end]))?;
        side(&before[word_start..]).and(side(&after[..end]))?;
        let mut rest = after[end..].trim_start_matches('.');
        if let Some(third) = rest.trim_start().strip_prefix('x') {
            let third = third.trim_start();
            let end = word_end(third);
            if side(&third[..end]) == Some(Side::Depth) {
                rest = &third[end..];
            }
        }
        Some((order, format!("{} {rest}", &before[..word_start])))
    })
}

fn mark_length(text: &str, at: usize) -> usize {
    text[at..].chars().next().map_or(0, char::len_utf8)
}

/// The plain text with `x` for every sign between lengths.
fn with_one_sign(text: &str) -> String {
    plain(text).replace(SIGNS, "x").replace(" by ", " x ")
}

/// Where a length at the end of a text may begin, the last place first.
fn beginnings(text: &str) -> impl Iterator<Item = usize> + '_ {
    let text = text.trim_end();
    let mut later = None;
    text.char_indices()
        .rev()
        .filter_map(move |(at, character)| {
            let next = later.replace(character)?;
            let begins = parts_words(character) || (character.is_alphabetic() && next.is_ascii_digit());
            begins.then_some(at + character.len_utf8())
        })
        .chain([0])
}

/// Where a length at the beginning of a text may end, the last place first of those that are near.
fn ends(text: &str) -> impl Iterator<Item = usize> + '_ {
    let mut before = ' ';
    let mut ends: Vec<usize> = text
        .char_indices()
        .filter_map(|(at, character)| {
            let ends = parts_words(character) || (before.is_ascii_digit() && character.is_alphabetic());
            before = character;
            ends.then_some(at)
        })
        .take(MOST_WORDS)
        .collect();
    if ends.len() < MOST_WORDS {
        ends.push(text.len());
    }
    ends.into_iter().rev()
}

fn parts_words(character: char) -> bool {
    character.is_whitespace() || "()[]{};:,_-/x".contains(character)
}

/// One length, with a word or letter before or after it that says what it is.
fn part(text: &str) -> Option<Part> {
    let text = text.trim();
    let readable = |size: &str, side| {
        let readings = readings_of_plain(size.trim_matches([' ', '.', ':', '=']));
        (!readings.is_empty()).then_some(Part { readings, side })
    };
    readable(text, None)
        .or_else(|| {
            let (word, size) = text.split_at(text.find(|c: char| !c.is_alphabetic())?);
            readable(size, Some(side(word)?))
        })
        .or_else(|| {
            let text = text.trim_end_matches('.');
            let last = text.rfind(|c: char| !c.is_alphabetic())?;
            let (size, word) = text.split_at(last + mark_length(text, last));
            if let Some(side) = side(word) {
                return readable(size, Some(side));
            }
            // `2100mmH`.
            let (letter_at, _) = word.char_indices().next_back()?;
            let (unit, letter) = word.split_at(letter_at);
            unit_named(unit)?;
            readable(&text[..text.len() - letter.len()], Some(side(letter)?))
        })
}

/// Two lengths of two or three: the one that is called a depth is the third, else the last.
fn pair_of(mut parts: Vec<Part>) -> Option<WrittenPair> {
    let with_third = match parts.len() {
        2 => false,
        3 => true,
        _ => return None,
    };
    carry_unit(&mut parts);
    if with_third {
        let depth = parts.iter().position(|part| part.side == Some(Side::Depth));
        parts.remove(depth.unwrap_or(2));
    }
    let [first, second] = <[Part; 2]>::try_from(parts).ok()?;
    let order = order(first.side, second.side);
    Some(WrittenPair { readings: [first.readings, second.readings], order, with_third })
}

/// A unit that some of the lengths name, and none contradicts, holds for the others.
fn carry_unit(parts: &mut [Part]) {
    let mut named = parts.iter().filter_map(|part| part.readings.first()?.unit);
    let Some(unit) = named.next() else { return };
    if named.any(|other| other != unit) {
        return;
    }
    for part in parts {
        let bare: Vec<Reading> =
            part.readings.iter().filter(|reading| reading.unit.is_none()).copied().collect();
        if bare.is_empty() {
            continue;
        }
        part.readings = bare.iter().map(|reading| Reading { unit: Some(unit), ..*reading }).collect();
        if unit == Unit::Foot {
            part.readings.extend(bare);
        }
    }
}

/// The order that two words say, or one of them; none if neither does or they contradict each other.
fn order(first: Option<Side>, second: Option<Side>) -> Option<Order> {
    match (first, second) {
        (Some(Side::Width), Some(Side::Height) | None) | (None, Some(Side::Height)) => {
            Some(Order::WidthFirst)
        }
        (Some(Side::Height), Some(Side::Width) | None) | (None, Some(Side::Width)) => {
            Some(Order::HeightFirst)
        }
        _ => None,
    }
}

/// What a word says that a length is, in the languages whose headings are read.
fn side(word: &str) -> Option<Side> {
    Some(match word.trim_end_matches('.') {
        "w" | "wide" | "width" | "b" | "br" | "breit" | "breite" | "l" | "larg" | "largeur" | "larghezza"
        | "ancho" | "anchura" | "bredd" | "breedte" | "szer" | "szerokość" | "宽" | "宽度" | "幅" => {
            Side::Width
        }
        "h" | "ht" | "high" | "height" | "hoch" | "höhe" | "haut" | "hauteur" | "alto" | "altura"
        | "altezza" | "höjd" | "hoogte" | "wys" | "wysokość" | "高" | "高度" | "高さ" => Side::Height,
        "d" | "deep" | "depth" | "t" | "tief" | "tiefe" | "thk" | "thick" | "prof" | "profondeur" | "深"
        | "厚" => Side::Depth,
        _ => return None,
    })
}
