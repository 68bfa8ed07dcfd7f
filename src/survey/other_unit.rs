//! A survey whose bare sizes are hardly in the unit that it gives them.
//!
//! A bare number is in the unit of its heading, else in that of `--units`, else in that of `Units`.
//! Where three openings or more have bare sizes, all given one unit, none of them makes a door or a
//! window in it and nearly all do in another, the unit is more likely wrong than every number. They
//! are then all held, by one stop that names the units that would do: nothing is read in a unit
//! that nobody wrote.
//!
//! `--units` with one of those units settles it. Where a heading gave the unit, it is then passed
//! over, in the columns of sizes alone: the command line and the numbers are two witnesses against
//! one. A heading whose numbers could be right is never passed over, and a heading that says the
//! same as `--units` is not doubted.

use std::ops::RangeInclusive;

use rust_decimal::Decimal;

use crate::grid::{Grid, Value};
use crate::length::{Length, PLAUSIBLE, Reading, Unit, readings, written_pair};
use crate::place::CellRef;
use crate::rules::columns::project::PROJECT;
use crate::schema::cobie::facility::{FACILITY, LINEAR_UNITS};
use crate::tables::{self, Entry, Fault, TableRow, Unread};

use super::joined::{HEIGHTS, Joined, WIDTHS};
use super::queries::SurveyQuery;
use super::table::SizeUnits;
use super::{BareUnit, Layout};

/// Fewer openings than this say nothing of their unit (common practice, no source).
const LEAST_OPENINGS: usize = 3;
/// Of so many openings, one may make no door or window in a unit that would do (common practice, no
/// source).
const ONE_OF: usize = 10;
/// Sizes that would do (common practice, no source).
const WOULD_DO: RangeInclusive<Length> = RangeInclusive::new(Length::from_mm(200), Length::from_mm(6_000));
/// Where the greater size of the middle opening lies: it tells centimeters from inches (common
/// practice, no source).
const USUAL: RangeInclusive<Length> = RangeInclusive::new(Length::from_mm(900), Length::from_mm(3_000));

/// Sizes that are hardly in the unit given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct OtherUnit {
    given: Unit,
    by: Giver,
    /// Units that would do, never none.
    likely: Vec<Unit>,
}

/// What gives a bare size its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Giver {
    Heading,
    Facility,
    Project,
    /// The command line, of a file without a sheet `Project`.
    Command,
}

/// A row with the row of its type, and the units that the headings over each name.
pub(super) struct Headed<'t> {
    pub joined: Joined<'t>,
    pub own: &'t SizeUnits,
    pub of_type: Option<&'t SizeUnits>,
}

/// The bare sizes of one row and the units that their headings give them.
type Bare = Vec<(Decimal, Option<Unit>)>;

impl OtherUnit {
    /// What is doubted of a file's rows, if anything.
    pub fn of<'t>(
        rows: impl Iterator<Item = Headed<'t>>,
        layout: &Layout<'_>,
        bare: BareUnit,
    ) -> Option<OtherUnit> {
        let grid = layout.grid();
        let mut openings: Vec<Vec<Decimal>> = Vec::new();
        let mut heading: Option<Option<Unit>> = None;
        for sizes in rows.map(|row| row.bare(grid)).filter(|sizes| !sizes.is_empty()) {
            for (_, unit) in &sizes {
                if *heading.get_or_insert(*unit) != *unit {
                    return None;
                }
            }
            let sizes: Vec<Decimal> = sizes.into_iter().map(|(number, _)| number).collect();
            // In nearly every survey the first row ends the doubt.
            if all_in(&sizes, heading?.unwrap_or(bare.unit), &PLAUSIBLE) {
                return None;
            }
            openings.push(sizes);
        }
        let heading = heading?;
        let given = heading.unwrap_or(bare.unit);
        if openings.len() < LEAST_OPENINGS || bare.is_insisted_on() && heading == Some(bare.unit) {
            return None;
        }
        let likely = likely(&openings, given);
        let by = match heading {
            Some(_) if layout.is_cobie() => Giver::Facility,
            Some(_) => Giver::Heading,
            None if tables::find(grid, PROJECT.sheet).is_some() => Giver::Project,
            None => Giver::Command,
        };
        (!likely.is_empty()).then_some(OtherUnit { given, by, likely })
    }

    /// The unit of headings that the command line passes over.
    pub fn passed_over(&self, bare: BareUnit) -> Option<Unit> {
        let of_heading = matches!(self.by, Giver::Heading | Giver::Facility);
        (of_heading && bare.is_insisted_on() && self.likely.contains(&bare.unit)).then_some(self.given)
    }

    /// Makes every bare size of a row one that says nothing but what it probably is.
    pub fn hold(&self, row: &mut TableRow, grid: &Grid) {
        let asked = SurveyQuery::OtherUnit { doubt: self.clone() };
        for column in WIDTHS.columns().chain(HEIGHTS.columns()) {
            let Some(Entry { at, .. }) = row.entry(column).cloned() else { continue };
            let Some(value) = value(grid, at).filter(|value| !numbers(value).is_empty()) else { continue };
            let written = format!("{} \"{}\"", column.name, tables::shown(value));
            let datum = Err(Box::new(Unread::of(&asked, Fault::OutOfBounds, written)));
            row.put(column, Entry { at, datum });
        }
    }

    pub fn words(&self) -> String {
        let likely: Vec<&str> = self.likely.iter().map(|unit| unit.plural()).collect();
        format!(
            "the sizes make no doors or windows in {}; they are probably in {}",
            self.given.plural(),
            likely.join(" or ")
        )
    }

    pub fn hint(&self) -> String {
        // Feet are no unit of a whole survey.
        let units: Vec<&str> =
            self.likely.iter().filter(|unit| **unit != Unit::Foot).map(|unit| unit.symbol()).collect();
        let first = self.likely[0].symbol();
        if units.is_empty() {
            return format!("put the unit in the headings, as in Width ({first})");
        }
        let units = units.join(" or ");
        let or = match self.by {
            Giver::Heading => "correct the unit in the headings".to_owned(),
            Giver::Facility => format!("correct {} on the sheet {}", LINEAR_UNITS.name, FACILITY.sheet),
            Giver::Project => format!("enter {units} next to Units on the sheet {}", PROJECT.sheet),
            Giver::Command => format!("put the unit in the headings, as in Width ({first})"),
        };
        format!("run with --units {units}, or {or}")
    }
}

impl Headed<'_> {
    fn bare(&self, grid: &Grid) -> Bare {
        let mut bare = Bare::new();
        let mut before = None;
        for size in [&WIDTHS, &HEIGHTS] {
            for (column, entry) in size.entries(self.joined) {
                // One cell may give both a width and a height.
                if before.replace(entry.at) == Some(entry.at) {
                    continue;
                }
                let own = self.joined.row.entry(column).is_some();
                let Some(units) = (if own { Some(self.own) } else { self.of_type }) else { continue };
                let Some(value) = value(grid, entry.at) else { continue };
                let numbers = numbers(value);
                let unit = if numbers.len() == 2 { units.of_pair() } else { units.of(column) };
                bare.extend(numbers.into_iter().map(|number| (number, unit)));
            }
        }
        bare
    }
}

/// The units in which nearly all openings would do, each given by its bare sizes.
pub(super) fn likely(openings: &[Vec<Decimal>], given: Unit) -> Vec<Unit> {
    let would_do = |unit: &Unit| {
        let doing = openings.iter().filter(|sizes| all_in(sizes, *unit, &WOULD_DO)).count();
        doing * ONE_OF >= openings.len() * (ONE_OF - 1) && all_in(&[usual(openings)], *unit, &USUAL)
    };
    others(given).iter().copied().filter(would_do).collect()
}

/// The units that numbers may be in instead.
const fn others(given: Unit) -> &'static [Unit] {
    match given {
        Unit::Inch => &[Unit::Foot, Unit::Millimeter, Unit::Centimeter, Unit::Meter],
        Unit::Foot => &[Unit::Inch, Unit::Millimeter, Unit::Centimeter, Unit::Meter],
        Unit::Millimeter => &[Unit::Centimeter, Unit::Meter, Unit::Inch],
        Unit::Centimeter => &[Unit::Millimeter, Unit::Meter, Unit::Inch],
        Unit::Meter => &[Unit::Millimeter, Unit::Centimeter, Unit::Inch],
    }
}

fn all_in(sizes: &[Decimal], unit: Unit, bounds: &RangeInclusive<Length>) -> bool {
    sizes.iter().all(|size| Length::of(*size, unit).is_some_and(|length| bounds.contains(&length)))
}

/// The median of the openings' greater sizes.
fn usual(openings: &[Vec<Decimal>]) -> Decimal {
    let mut greater: Vec<Decimal> = openings.iter().filter_map(|sizes| sizes.iter().copied().max()).collect();
    greater.sort_unstable();
    greater.get(greater.len() / 2).copied().unwrap_or_default()
}

fn value(grid: &Grid, at: CellRef) -> Option<&Value> {
    grid.sheets.iter().find(|sheet| sheet.id == at.sheet)?.value(at.row, at.column)
}

/// The number that a size cell holds, or the two of a width and a height, if they name no unit and
/// can be read in one way.
fn numbers(value: &Value) -> Vec<Decimal> {
    let numbers = match value {
        Value::Number(number) => vec![*number],
        Value::Text(text) => {
            let single = readings(text);
            let all = match written_pair(text).filter(|_| single.is_empty()) {
                Some(pair) => Vec::from(pair.readings),
                None => vec![single],
            };
            let bare = |readings: &Vec<_>| match readings.as_slice() {
                [Reading { value, unit: None, .. }] => Some(*value),
                _ => None,
            };
            all.iter().map(bare).collect::<Option<_>>().unwrap_or_default()
        }
        _ => Vec::new(),
    };
    if numbers.iter().all(|number| *number > Decimal::ZERO) { numbers } else { Vec::new() }
}
