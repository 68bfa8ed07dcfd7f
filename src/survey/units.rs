//! What a bare number in a survey is in, and so in what its sizes are shown: those of a survey in
//! centimeters or meters in millimeters.
//!
//! A sheet `Project` is read for this item alone before it is read as rules: until the units are
//! known, no length on it could be.

use thiserror::Error;

use crate::grid::Grid;
use crate::length::Unit;
use crate::place::{CellRef, Sheets};
use crate::query::Wording;
use crate::rules::columns::project::{COLUMNS, PROJECT};
use crate::schema::choices::Choice;
use crate::tables::{self, Datum};

use super::{Files, Layout};

/// Why the run does not know what a bare number is in; nothing can be written.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum UnitsError {
    /// Nothing names a unit.
    #[error("{survey} does not say whether its sizes are in inches or millimeters")]
    Unnamed {
        /// The file.
        survey: String,
        /// Whether it has a sheet `Project` to name one on, as no CSV file has.
        has_project: bool,
    },
    /// The item `Units` says none of its words.
    #[error("Units must be in, mm, cm or m, but {at} is {written}")]
    Unreadable {
        /// The cell, as it is shown.
        at: String,
        /// What is written there.
        written: String,
    },
    /// Headings or cells of one survey, or two surveys, disagree.
    #[error("{first} is in {first_units}, but {second} is in {second_units}", first_units = .first_unit.plural(), second_units = .second_unit.plural())]
    Disagree {
        /// A cell, as it is shown.
        first: String,
        /// The unit that it names.
        first_unit: Unit,
        /// The first cell that disagrees with it.
        second: String,
        /// The unit that it names.
        second_unit: Unit,
    },
}

impl Wording for UnitsError {
    fn hint(&self) -> String {
        match self {
            UnitsError::Unnamed { has_project: false, .. } => {
                "put the unit in the headings, as in Width (in), or run with --units in, mm, cm or m".into()
            }
            UnitsError::Unnamed { .. } | UnitsError::Unreadable { .. } => {
                "enter in, mm, cm or m next to Units on the sheet Project, or run with --units and one of them".into()
            }
            UnitsError::Disagree { .. } => {
                "run with --units in, mm, cm or m, or enter the same Units on the sheet Project of every workbook".into()
            }
        }
    }
}

/// What a bare number of the run is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BareUnit {
    /// The unit.
    pub unit: Unit,
    /// What names it.
    pub from: UnitFrom,
}

/// What names the unit of a bare number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum UnitFrom {
    /// The command line.
    Command,
    /// The item of `Project`.
    Project,
    /// Headings of the openings or types.
    Headings,
    /// Cells of theirs.
    Cells,
}

impl UnitFrom {
    /// As it is shown.
    pub const fn words(self) -> &'static str {
        match self {
            UnitFrom::Command => "--units",
            UnitFrom::Project => "Project",
            UnitFrom::Headings => "heading",
            UnitFrom::Cells => "cells",
        }
    }
}

impl BareUnit {
    /// Whether the command line says so, not the surveys.
    pub(super) fn is_insisted_on(self) -> bool {
        self.from == UnitFrom::Command
    }
}

/// As `Project` says.
impl From<Unit> for BareUnit {
    fn from(unit: Unit) -> BareUnit {
        BareUnit { unit, from: UnitFrom::Project }
    }
}

impl Default for BareUnit {
    fn default() -> BareUnit {
        Unit::Millimeter.into()
    }
}

/// Settles what a bare number is in, for the whole run: `wanted` by the command line, else what
/// each survey's `Units` says, else what the headings and cells of its openings and types name.
/// Every survey must name one, and all the same.
pub fn settle_units(run: &Files<'_>, sheets: &Sheets, wanted: Option<Unit>) -> Result<BareUnit, UnitsError> {
    if let Some(unit) = wanted {
        return Ok(BareUnit { unit, from: UnitFrom::Command });
    }
    let mut settled: Option<Named> = None;
    for layout in &run.layouts {
        let named = named_by(layout, run, sheets)?;
        agree(sheets, settled.get_or_insert(named), named)?;
    }
    match (settled, run.layouts.first()) {
        (Some(named), _) => Ok(BareUnit { unit: named.unit, from: named.from }),
        (None, first) => Err(UnitsError::Unnamed {
            survey: first.map_or_else(String::new, |layout| layout.grid().survey.clone()),
            has_project: false,
        }),
    }
}

/// A unit and the cell that names it.
#[derive(Clone, Copy)]
struct Named {
    unit: Unit,
    from: UnitFrom,
    at: CellRef,
}

fn named_by(layout: &Layout<'_>, run: &Files<'_>, sheets: &Sheets) -> Result<Named, UnitsError> {
    for grid in std::iter::once(layout.grid()).chain(run.for_all()) {
        if let Some(named) = named_by_project(grid, sheets)? {
            return Ok(named);
        }
    }
    let named = layout.units_named().into_iter();
    let mut named = named.map(|(at, unit)| {
        let from = if layout.heads(at) { UnitFrom::Headings } else { UnitFrom::Cells };
        Named { unit: family(unit), from, at }
    });
    let first = named.next().ok_or_else(|| UnitsError::Unnamed {
        survey: layout.grid().survey.clone(),
        has_project: tables::find(layout.grid(), PROJECT.sheet).is_some(),
    })?;
    for other in named {
        agree(sheets, &first, other)?;
    }
    Ok(first)
}

fn named_by_project(grid: &Grid, sheets: &Sheets) -> Result<Option<Named>, UnitsError> {
    let Some(sheet) = tables::find(grid, PROJECT.sheet) else { return Ok(None) };
    // The item is a word: reading it does not depend on the unit that is passed.
    let table = tables::read(sheet, &PROJECT, Unit::Millimeter);
    let Some(entry) = table.rows.first().and_then(|items| items.entry(&COLUMNS.units)) else {
        return Ok(None);
    };
    let unit = match &entry.datum {
        Ok(Datum::Choice(word)) => Unit::of(word),
        Ok(_) => None,
        Err(unread) => {
            let at = sheets.show(entry.at);
            return Err(UnitsError::Unreadable { at, written: unread.written.clone() });
        }
    };
    Ok(unit.map(|unit| Named { unit, from: UnitFrom::Project, at: entry.at }))
}

fn agree(sheets: &Sheets, first: &Named, second: Named) -> Result<(), UnitsError> {
    if first.unit == second.unit {
        return Ok(());
    }
    Err(UnitsError::Disagree {
        first: sheets.show(first.at),
        first_unit: first.unit,
        second: sheets.show(second.at),
        second_unit: second.unit,
    })
}

/// What numbers without a unit are in beside some that name one: the headings of a metric survey
/// may name any metric unit, and its bare numbers are in millimeters.
const fn family(unit: Unit) -> Unit {
    unit.shown_in().unit()
}
