//! Units whose name breaks the pattern that the others of their building keep, where a slip of the
//! key would explain it: `30l` and `3O2` among `301` and `303`, `1204` among `12-01` and `12-02`.
//!
//! A name that no slip turns into one of the pattern is a name: `Penthouse`. So is one of a pattern
//! that another such name has: `12I` beside `12A`.

use std::collections::BTreeMap;

use crate::name::folded;
use crate::query::{OpeningIndex, Query};
use crate::schema::openings::UNIT;

use super::Opening;
use super::file::Row;
use super::queries::SurveyQuery;

/// Fewer units of one pattern make none (common practice, no source).
const LEAST_ALIKE: usize = 4;
/// Of so many of a building's units, all but one at least have the pattern (common practice, no source).
const ALL_BUT_ONE_OF: usize = 4;
/// The commonest shapes of a pattern, in which a slip is looked for; more would cost time for names
/// that have none.
const MOST_SHAPES: usize = 8;
/// Letters that are taken for digits, and for which.
const LOOKALIKES: [(char, char); 4] = [('l', '1'), ('i', '1'), ('|', '1'), ('o', '0')];

/// A check for each unit whose name was probably meant to be another, in survey order.
pub(super) fn ask(rows: &[Row<'_>], openings: &[Opening]) -> Vec<Query> {
    let mut buildings: BTreeMap<String, Units> = BTreeMap::new();
    let mut last: Option<(&str, &str)> = None;
    for (index, Opening { who, .. }) in openings.iter().enumerate() {
        let place = (&*who.building, &*who.unit);
        if who.unit.is_empty() || last.replace(place) == Some(place) {
            continue;
        }
        let units = buildings.entry(folded(&who.building)).or_default();
        units.entry(folded(&who.unit)).or_insert(index);
    }
    let mut odd: Vec<(OpeningIndex, String)> = buildings.values().flat_map(slips).collect();
    odd.sort_unstable();
    let query = |(index, likely): (OpeningIndex, String)| {
        let (row, unit) = (&rows[index], &openings[index].who.unit);
        let at = row.joined.entry(&UNIT).map_or(row.at(), |entry| entry.at);
        let query = Query::new(&SurveyQuery::UnitNameOdd, Some(at)).about(index);
        query.with_detail(format!("\"{unit}\": probably {likely}"))
    };
    odd.into_iter().map(query).collect()
}

/// The units of a building by their folded name, each with its first opening.
type Units = BTreeMap<String, OpeningIndex>;

/// The first opening of each unit that breaks the pattern, with the name that was probably meant.
fn slips(units: &Units) -> Vec<(OpeningIndex, String)> {
    let mut patterns: BTreeMap<String, Vec<&str>> = BTreeMap::new();
    for name in units.keys() {
        patterns.entry(pattern(name)).or_default().push(name);
    }
    let Some(usual) = patterns.values().max_by_key(|names| names.len()) else { return Vec::new() };
    if usual.len() < LEAST_ALIKE || usual.len() * ALL_BUT_ONE_OF < units.len() * (ALL_BUT_ONE_OF - 1) {
        return Vec::new();
    }
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for name in usual {
        *counts.entry(shape(name)).or_insert(0) += 1;
    }
    let mut shapes: Vec<(usize, String)> = counts.into_iter().map(|(shape, count)| (count, shape)).collect();
    shapes.sort_unstable_by(|one, other| other.cmp(one));
    shapes.truncate(MOST_SHAPES);
    let likely = |name: &str| shapes.iter().find_map(|(_, shape)| fitted(name, shape));
    let odd = patterns.values().filter(|names| *names != usual);
    let slips = odd.filter_map(|names| {
        let meant: Option<Vec<String>> = names.iter().map(|name| likely(name)).collect();
        Some(names.iter().map(|name| units[*name]).zip(meant?))
    });
    slips.flatten().collect()
}

/// A name with `9` for each digit and `a` for each letter.
fn shape(name: &str) -> String {
    let sort = |letter: char| match letter {
        _ if letter.is_ascii_digit() => '9',
        _ if letter.is_alphabetic() => 'a',
        _ => letter,
    };
    name.chars().map(sort).collect()
}

/// The shape with one `9` for each number and one `a` for each word.
fn pattern(name: &str) -> String {
    let mut pattern = String::new();
    for sort in shape(name).chars() {
        if !(pattern.ends_with(sort) && ['9', 'a'].contains(&sort)) {
            pattern.push(sort);
        }
    }
    pattern
}

/// The letters and digits of a name in another's shape, letters that look like digits read as those.
fn fitted(name: &str, shape: &str) -> Option<String> {
    let mut letters = name.chars().filter(|letter| letter.is_alphanumeric() || *letter == '|');
    let mut fitted = String::new();
    for sort in shape.chars() {
        fitted.push(match sort {
            '9' => digit(letters.next()?)?,
            'a' => letters.next().filter(|letter| letter.is_alphabetic())?,
            between => between,
        });
    }
    letters.next().is_none().then(|| fitted.to_uppercase())
}

fn digit(letter: char) -> Option<char> {
    let lookalike = LOOKALIKES.iter().find(|(like, _)| *like == letter).map(|(_, digit)| *digit);
    lookalike.or(letter.is_ascii_digit().then_some(letter))
}

#[cfg(test)]
mod tests {
    use super::{Units, slips};

    fn likely(names: &[&str]) -> Vec<String> {
        let units: Units = (0..).zip(names).map(|(index, name)| ((*name).to_owned(), index)).collect();
        let mut slips = slips(&units);
        slips.sort_unstable();
        slips.into_iter().map(|(index, likely)| format!("{}: {likely}", names[index])).collect()
    }

    #[test]
    fn a_name_that_breaks_the_pattern_by_a_slip_is_shown_with_the_likely_one() {
        assert_eq!(likely(&["301", "302", "303", "304", "30l"]), ["30l: 301"]);
        assert_eq!(likely(&["301", "3o2", "303", "1204", "305", "306"]), ["3o2: 302"]);
        assert_eq!(likely(&["12-01", "12-02", "12-03", "12-05", "1204"]), ["1204: 12-04"]);
        assert_eq!(likely(&["a-01", "a-02", "a-03", "a-04", "a-o5"]), ["a-o5: A-05"]);
        // Names, not slips; and too few to make a pattern.
        assert_eq!(likely(&["301", "302", "303", "304", "penthouse"]), [] as [&str; 0]);
        assert_eq!(likely(&["11", "12", "13", "14", "15", "16", "12a", "12i"]), [] as [&str; 0]);
        assert_eq!(likely(&["1i", "2i", "3i", "4i", "5h"]), [] as [&str; 0]);
        assert_eq!(likely(&["301", "302", "303", "30l"]), [] as [&str; 0]);
        assert_eq!(likely(&["301", "302", "303", "304", "30l", "3-1", "3-2"]), [] as [&str; 0]);
    }
}
