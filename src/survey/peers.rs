//! Openings that should be alike: a size far from that of its peers is asked about.
//!
//! Peers are the rows of one type; without a type, the rows of one building whose room has the
//! same name, in units that stand above one another, at the same position in their unit. A row counts once, whatever its
//! quantity, for it was measured once. A size is asked about if it is further than [`NEAR`], and
//! than [`DEVIATIONS`] times the median deviation of its peers, from their median. One that a
//! quarter of the peers share is a second size that the building has, not a slip, unless it is
//! just what another unit makes of the median.
//!
//! Peers are rows, each counted once whatever its quantity: it was measured once. Without a type
//! they share building, room, written kind and place in the unit: the id without the building,
//! floor and unit that it begins with, else (where fewer than four share that) the running number
//! within unit and room. The kind that a blank is settled to is left out: the height settles it,
//! and a slip in the height would part an opening from its peers.
//!
//! A second size is no slip: a size that a quarter of the peers share, two at least, is not asked
//! about, unless another unit or a shifted point makes it of the median. A size that a row takes
//! from its type is a peer of those that rows give themselves, and is never asked about.

use std::collections::{BTreeMap, HashMap};

use rayon::prelude::*;

use crate::length::{Length, Unit};
use crate::name::folded;
use crate::query::{OpeningIndex, Query};
use crate::schema::Column;
use crate::schema::openings::{KIND, TYPE};
use crate::tables::Datum;

use super::file::Row;
use super::joined::Joined;
use super::queries::SurveyQuery;
use super::slips::{self, Slip};
use super::{Facts, Given, Identity, Opening};

/// Fewer peers than this say nothing about each other (common practice, no source).
const LEAST_PEERS: usize = 4;
/// Sizes no further apart than this are the same but for plaster (common practice, no source).
const NEAR: Length = Length::sixty_fourths(48);
/// Median deviations that a size may be off, where they are more than [`NEAR`] (common practice, no
/// source).
const DEVIATIONS: i64 = 4;
/// The share of its peers, one in so many, that makes a size one of the building's own (common
/// practice, no source).
const SECOND_SIZE: usize = 4;

/// Asks about every size that stands out among its peers, in survey order.
pub(super) fn ask(rows: &[Row<'_>], openings: &[Opening], bare: Unit) -> Vec<Query> {
    let ask_in = |(among, peers): (Among, Vec<OpeningIndex>)| {
        let facts = peers.iter().filter_map(|&index| Some((index, openings[index].facts.as_deref()?)));
        let group = Group { among, members: facts.collect(), rows, bare };
        [Side::Width, Side::Height].map(|side| group.outliers(side)).into_iter().flatten()
    };
    let mut asked: Vec<(OpeningIndex, Query)> =
        groups(rows, openings).into_par_iter().flat_map_iter(ask_in).collect();
    // A stable sort: the width of an opening is asked about before its height.
    asked.sort_by_key(|(index, _)| *index);
    asked.into_iter().map(|(_, query)| query).collect()
}

/// What makes openings peers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Among {
    Type,
    Position,
}

impl Among {
    pub const fn words(self) -> &'static str {
        match self {
            Among::Type => "other openings of this type",
            Among::Position => "the same opening in other units",
        }
    }
}

/// The groups that are large enough, of openings that are not held.
fn groups(rows: &[Row<'_>], openings: &[Opening]) -> Vec<(Among, Vec<OpeningIndex>)> {
    let spots: Vec<Option<Spot>> =
        rows.par_iter().zip(openings).map(|(row, opening)| Spot::of(row.joined, &opening.who)).collect();
    let mut by_type: BTreeMap<&str, Vec<OpeningIndex>> = BTreeMap::new();
    let mut by_id: BTreeMap<(PlaceNumber, &str), Vec<OpeningIndex>> = BTreeMap::new();
    let mut by_order: BTreeMap<(PlaceNumber, usize), Vec<OpeningIndex>> = BTreeMap::new();
    let mut loose: Vec<(OpeningIndex, (PlaceNumber, usize))> = Vec::new();
    let mut numbers: HashMap<&Place, PlaceNumber> = HashMap::new();
    let mut met: HashMap<(PlaceNumber, &str), usize> = HashMap::new();
    for (index, (spot, opening)) in spots.iter().zip(openings).enumerate() {
        let is_sized = opening.facts.is_some();
        match spot {
            Some(Spot::Type(name)) if is_sized => by_type.entry(name).or_default().push(index),
            Some(Spot::Type(_)) | None => {}
            Some(Spot::Room { place, unit, position }) => {
                let next = numbers.len();
                let place = *numbers.entry(place).or_insert(next);
                // Held openings count on too, or those after them would change their position.
                let before = met.entry((place, unit)).or_insert(0);
                *before += 1;
                let in_order = (place, *before);
                match position {
                    _ if !is_sized => {}
                    Some(position) => {
                        by_id.entry((place, position)).or_default().push(index);
                        loose.push((index, in_order));
                    }
                    None => by_order.entry(in_order).or_default().push(index),
                }
            }
        }
    }
    // Ids that run on through the building have no peers: their order in the unit stands in.
    by_id.retain(|_, peers| peers.len() >= LEAST_PEERS);
    let mut settled: Vec<OpeningIndex> = by_id.values().flatten().copied().collect();
    settled.sort_unstable();
    for (index, in_order) in loose {
        if settled.binary_search(&index).is_err() {
            by_order.entry(in_order).or_default().push(index);
        }
    }
    let of_types = by_type.into_values().map(|peers| (Among::Type, peers));
    let of_places = by_id.into_values().chain(by_order.into_values()).map(|peers| (Among::Position, peers));
    of_types.chain(of_places).filter(|(_, peers)| peers.len() >= LEAST_PEERS).collect()
}

/// What tells an opening's peers.
enum Spot {
    /// The name of its type.
    Type(String),
    /// Where it is, for want of a type.
    Room {
        place: Place,
        unit: String,
        /// What its id says of where it stands in the unit.
        position: Option<String>,
    },
}

impl Spot {
    /// `None` without a type and a room.
    fn of(joined: Joined<'_>, who: &Identity) -> Option<Spot> {
        if let Some(name) = text(joined, &TYPE) {
            return Some(Spot::Type(folded(name)));
        }
        (!who.room.is_empty()).then(|| Spot::Room {
            place: Place::of(who, joined),
            unit: folded(&who.unit),
            position: position_in_id(who),
        })
    }
}

/// A place as counted in survey order.
type PlaceNumber = usize;

/// A room of a unit, as there is one in the units of other floors.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
struct Place {
    building: String,
    /// The unit's own place on its floor; empty where its name does not say.
    stack: String,
    room: String,
    /// As written: a kind settled by the height would part an opening from its peers by the very slip.
    kind: Option<&'static str>,
}

impl Place {
    fn of(who: &Identity, joined: Joined<'_>) -> Place {
        let kind = match joined.entry(&KIND).map(|entry| &entry.datum) {
            Some(Ok(Datum::Choice(kind))) => Some(*kind),
            _ => None,
        };
        Place {
            building: folded(&who.building),
            stack: place_on_floor(&who.unit),
            room: folded(&who.room),
            kind,
        }
    }
}

/// What a unit's name says beside its floor: `04` of `0304`, of `12-04` and of `Flat 1204`, `b` of
/// `3B`. Empty where the name says no floor, as `Flat 7` (common practice, no source).
pub(super) fn place_on_floor(unit: &str) -> String {
    /// Digits of a unit's number that count on its floor.
    const ON_FLOOR: usize = 2;
    let unit = folded(unit);
    let Some(last) = words(&unit).next_back() else { return String::new() };
    let several_numbers =
        words(&unit).filter(|word| word.starts_with(|c: char| c.is_ascii_digit())).count() > 1;
    let letters = last.trim_start_matches(|c: char| c.is_ascii_digit());
    match (letters, last.len()) {
        ("", digits) if digits > ON_FLOOR => last[digits - ON_FLOOR..].to_owned(),
        ("", _) if several_numbers => last.to_owned(),
        ("", _) => String::new(),
        (letters, length) if letters.len() < length => letters.to_owned(),
        _ => String::new(),
    }
}

fn text<'t>(joined: Joined<'t>, column: &Column) -> Option<&'t str> {
    match &joined.entry(column)?.datum {
        Ok(Datum::Text(text)) => Some(text),
        _ => None,
    }
}

/// An id without the building, floor and unit that it begins with: `w2` of `0304/W2` in the unit
/// 0304. `None` if nothing is left that tells one opening of a unit from another.
pub(super) fn position_in_id(who: &Identity) -> Option<String> {
    let id = folded(&who.written);
    let mut words: Vec<&str> = words(&id).collect();
    for part in [&who.building, &who.floor, &who.unit] {
        let part = folded(part);
        let part: Vec<&str> = self::words(&part).collect();
        if !part.is_empty() && words.starts_with(&part) {
            words.drain(..part.len());
        }
    }
    (!words.is_empty()).then(|| words.join(" "))
}

fn words(text: &str) -> impl DoubleEndedIterator<Item = &str> {
    text.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty())
}

/// Width or height.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    Width,
    Height,
}

impl Side {
    fn other(self) -> Side {
        match self {
            Side::Width => Side::Height,
            Side::Height => Side::Width,
        }
    }

    pub const fn word(self) -> &'static str {
        match self {
            Side::Width => "width",
            Side::Height => "height",
        }
    }

    fn least(self, facts: &Facts) -> Given<Length> {
        match self {
            Side::Width => facts.width.least(),
            Side::Height => facts.height.least(),
        }
    }
}

/// Openings that should be alike.
struct Group<'g> {
    among: Among,
    members: Vec<(OpeningIndex, &'g Facts)>,
    rows: &'g [Row<'g>],
    /// What a bare number is in.
    bare: Unit,
}

impl Group<'_> {
    /// The members whose size on one side stands out. One that the row takes from its type never does.
    fn outliers(&self, side: Side) -> Vec<(OpeningIndex, Query)> {
        let usual = self.usual(side);
        let far = self.members.iter().filter(|(_, facts)| !usual.is_near(side.least(facts).value));
        let own = far.filter(|(index, facts)| !from_type(self.rows[*index].joined, side.least(facts)));
        let mut own = own.peekable();
        if own.peek().is_none() {
            return Vec::new();
        }
        let other = self.usual(side.other());
        own.filter_map(|(index, facts)| {
            let given = side.least(facts);
            let swapped = side.other().least(facts).value;
            let slip = if usual.is_near(swapped) && other.is_near(given.value) {
                Some((Slip::SidesSwapped, swapped))
            } else {
                slips::likely(given.value, self.bare, |meant| usual.is_near(meant))
            };
            let of_a_batch = slip.is_some_and(|(slip, _)| slip.is_of_a_batch());
            if usual.is_second_size(given.value) && !of_a_batch {
                return None;
            }
            Some((*index, self.query(*index, side, given, usual.median(), slip)?))
        })
        .collect()
    }

    fn usual(&self, side: Side) -> Usual {
        Usual::of(self.members.iter().map(|(_, facts)| side.least(facts).value).collect())
    }

    fn query(
        &self,
        index: OpeningIndex,
        side: Side,
        given: Given<Length>,
        median: Length,
        slip: Option<(Slip, Length)>,
    ) -> Option<Query> {
        let mut cells = self.rows[index].joined.entries();
        let (column, _) = cells.find(|(_, entry)| entry.at == given.at)?;
        let (among, likely) = (self.among, slip.map(|(slip, _)| slip));
        let asked = SurveyQuery::StandsOut { side, among, slip: likely, column };
        let shown = |length: Length| length.shown(self.bare.shown_in());
        let (size, usual, peers) = (shown(given.value), shown(median), self.members.len());
        let likely = slip.map_or_else(String::new, |(_, meant)| format!("; probably {}", shown(meant)));
        let query = Query::new(&asked, Some(given.at)).about(index);
        Some(query.with_detail(format!("{size}; the median of {peers} is {usual}{likely}")))
    }
}

/// Whether a size stands in the type's row rather than the opening's own.
pub(super) fn from_type(joined: Joined<'_>, given: Given<Length>) -> bool {
    joined.of_type.is_some_and(|row| (row.at.sheet, row.at.row) == (given.at.sheet, given.at.row))
}

/// What is usual in a group: its median, and how far from that a size may be. Medians of an even
/// number of sizes lie between two of them, so both are kept as multiples.
struct Usual {
    /// The sizes, rising.
    sorted: Vec<Length>,
    /// Twice the median.
    twice_median: Length,
    /// Four times the most that a size may be off.
    fourfold_most: Length,
}

impl Usual {
    /// `sizes` is not empty.
    fn of(mut sizes: Vec<Length>) -> Usual {
        sizes.sort_unstable();
        let twice_median = twice_median(&sizes);
        // Each is twice a deviation, so twice their median is four times the median deviation.
        let mut twofold: Vec<Length> = sizes.iter().map(|size| (*size * 2 - twice_median).abs()).collect();
        twofold.sort_unstable();
        let four_deviations = self::twice_median(&twofold);
        let fourfold_most = (NEAR * 4).max(four_deviations * DEVIATIONS);
        Usual { sorted: sizes, twice_median, fourfold_most }
    }

    fn median(&self) -> Length {
        Length::from_ratio(i128::from(self.twice_median.nm()), 2)
    }

    /// Whether a size is no further off than it may be.
    fn is_near(&self, size: Length) -> bool {
        (size * 2 - self.twice_median).abs() * 2 <= self.fourfold_most
    }

    /// Whether enough of the group, and one other at least, have about this size.
    fn is_second_size(&self, size: Length) -> bool {
        let from = self.sorted.partition_point(|other| *other < size - NEAR);
        let to = self.sorted.partition_point(|other| *other <= size + NEAR);
        to - from >= 2 && (to - from) * SECOND_SIZE >= self.sorted.len()
    }
}

/// Twice the median of rising lengths, of which there is one at the least.
fn twice_median(sorted: &[Length]) -> Length {
    debug_assert!(!sorted.is_empty());
    let middle = |place: usize| sorted.get(place).copied().unwrap_or_default();
    middle(sorted.len().saturating_sub(1) / 2) + middle(sorted.len() / 2)
}

#[cfg(test)]
mod tests {
    use super::place_on_floor;

    #[test]
    fn a_unit_says_where_it_stands_on_its_floor() {
        for (unit, place) in [
            ("0304", "04"),
            ("12-04", "04"),
            ("Flat 1204", "04"),
            ("A-0304", "04"),
            ("3B", "b"),
            ("3-2", "2"),
            ("Flat 7", ""),
            ("12", ""),
            ("Penthouse", ""),
            ("", ""),
        ] {
            assert_eq!(place_on_floor(unit), place, "{unit}");
        }
    }
}
