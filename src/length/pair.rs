//! Lengths written together, as `30" x 75"` or `W 900 x H 2100`: in a cell of their own, in a
//! heading that says which comes first, or within a name.
//!
//! A third length beside a width and a height is never taken for the depth of the recess: in
//! schedules it is as often that of a frame.

use super::read::{LONGEST_TEXT, readings_of_plain};
use super::spelling::{plain, unit_named, unquoted};
use super::{Reading, Unit};

/// Which of two lengths written together comes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PairOrder {
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
    pub order: Option<PairOrder>,
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

/// Every way in which two lengths can be read within a longer text, such as `Leaf 0762 x 2032mm`;
/// of `Leaf 3 900 x 2100` there are two.
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
        let (before, after) = (ending(&text[start..sign]), beginning(&text[sign + 1..]));
        let Some(second) = ends(after).into_iter().find_map(|end| part(&after[..end])) else { continue };
        // What stands right behind another pair's sign is the end of that.
        let is_apart = |at: &usize| start == 0 || !before[..*at].trim().is_empty();
        let first = beginnings(before).into_iter().filter(is_apart).filter_map(|at| part(&before[at..]));
        // `W1 900 x 2100` names no width of 1 900; in `W 900 x H 2100` both have their letter.
        let first = first.filter(|first| first.side.is_none() || second.side.is_some());
        let found: Vec<WrittenPair> =
            first.filter_map(|first| pair_of(vec![first, second.clone()])).collect();
        if !found.is_empty() {
            start = sign + 1;
            pairs.extend(found);
        }
    }
    pairs
}

/// Splits a heading such as `Size (W x H) in mm` into the order that it names and the rest of it.
pub fn order_named(heading: &str) -> Option<(PairOrder, String)> {
    let heading = with_one_sign(heading);
    heading.match_indices('x').find_map(|(sign, _)| {
        let (before, first) = last_word(&heading[..sign]);
        let (second, after) = first_word(&heading[sign + 1..]);
        let order = order(Some(side(first)?), Some(side(second)?))?;
        let after = match after.trim_start().strip_prefix('x').map(first_word) {
            Some((third, rest)) if side(third) == Some(Side::Depth) => rest,
            _ => after,
        };
        Some((order, format!("{before} {after}")))
    })
}

/// What stands before a text's last word, and that word without a point behind it.
fn last_word(text: &str) -> (&str, &str) {
    let text = text.trim_end();
    let text = text.strip_suffix('.').unwrap_or(text);
    text.split_at(text.trim_end_matches(char::is_alphabetic).len())
}

/// A text's first word up to a sign, and what stands behind it.
fn first_word(text: &str) -> (&str, &str) {
    let text = text.trim_start();
    let end = text.find(|character: char| !character.is_alphabetic() || character == 'x');
    let (word, rest) = text.split_at(end.unwrap_or(text.len()));
    (word, rest.strip_prefix('.').unwrap_or(rest))
}

/// The plain text with `x` for every sign between lengths.
fn with_one_sign(text: &str) -> String {
    plain(text).replace(SIGNS, "x").replace(" by ", " x ")
}

/// As much of a text as may be one length.
fn beginning(text: &str) -> &str {
    let end = (0..=text.len().min(LONGEST_TEXT)).rev().find(|end| text.is_char_boundary(*end));
    &text[..end.unwrap_or(0)]
}

/// As much of a text's end as may be one length.
fn ending(text: &str) -> &str {
    let start =
        (text.len().saturating_sub(LONGEST_TEXT)..=text.len()).find(|start| text.is_char_boundary(*start));
    &text[start.unwrap_or(text.len())..]
}

/// Where a length at the end of a text may begin, the last place first.
fn beginnings(text: &str) -> Vec<usize> {
    let last_word = text.trim_end().rfind(char::is_whitespace).unwrap_or(0);
    let mut before = ' ';
    let begins = |(at, character): (usize, char)| {
        let begins = parts_words(before) && !parts_words(character);
        let behind_letter = before.is_alphabetic() && character.is_ascii_digit() && at >= last_word;
        before = character;
        (begins || behind_letter).then_some(at)
    };
    let mut places: Vec<usize> = text.char_indices().filter_map(begins).collect();
    places.reverse();
    places.truncate(MOST_WORDS);
    places
}

/// Where a length at the beginning of a text may end, of the near places the last first.
fn ends(text: &str) -> Vec<usize> {
    let mut before = ' ';
    let ends = |(at, character): (usize, char)| {
        let ends = !parts_words(before) && parts_words(character);
        let before_letter = before.is_ascii_digit() && character.is_alphabetic();
        before = character;
        (ends || before_letter).then_some(at)
    };
    let mut places: Vec<usize> =
        text.char_indices().filter_map(ends).chain([text.len()]).take(MOST_WORDS).collect();
    places.reverse();
    places
}

fn parts_words(character: char) -> bool {
    character.is_whitespace() || "()[]{};:,_-/x".contains(character)
}

/// One length, with a word or a letter before or after it that says what it is.
fn part(text: &str) -> Option<Part> {
    let text = text.trim();
    let readable = |size: &str, side| {
        let readings = readings_of_plain(size.trim_matches([' ', '.', ':', '=']));
        (!readings.is_empty()).then_some(Part { readings, side })
    };
    let side_first = || {
        let (word, size) = first_word(text);
        readable(size, Some(side(word)?))
    };
    let side_last = || {
        let (size, word) = last_word(text);
        readable(size, Some(side(word)?))
    };
    // `2100mmH`.
    let side_behind_unit = || {
        let (letter, _) = text.char_indices().next_back()?;
        let (size, letter) = text.split_at(letter);
        unit_named(last_word(size).1)?;
        readable(size, Some(side(letter)?))
    };
    readable(text, None).or_else(side_first).or_else(side_last).or_else(side_behind_unit)
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
fn order(first: Option<Side>, second: Option<Side>) -> Option<PairOrder> {
    match (first, second) {
        (Some(Side::Width), Some(Side::Height) | None) | (None, Some(Side::Height)) => {
            Some(PairOrder::WidthFirst)
        }
        (Some(Side::Height), Some(Side::Width) | None) | (None, Some(Side::Width)) => {
            Some(PairOrder::HeightFirst)
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
