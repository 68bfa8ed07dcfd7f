//! What a bare number in a survey is in.
//!
//! A sheet `Project` is read for this item alone before it is read as rules: until the units are
//! known, no length on it could be.

use thiserror::Error;

use crate::grid::Grid;
use crate::length::{Unit, Units};
use crate::place::{CellRef, Sheets};
use crate::query::Wording;
use crate::rules::columns::project::{COLUMNS, PROJECT};
use crate::schema::choices::Choice;
use crate::tables::{self, Datum};

use super::{Files, Layout};
use super::slips::plural;

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
    /// The item `Units` says neither `in` nor `mm`.
    #[error("Units must be in or mm, but {at} is {written}")]
    Unreadable {
        /// The cell, as it is shown.
        at: String,
        /// What is written there.
        written: String,
    },
    /// Headings or cells of one survey, or two surveys, disagree.
    #[error("{first} is in {first_units}, but {second} is in {second_units}", first_units = plural(.first_units.unit()), second_units = plural(.second_units.unit()))]
    Disagree {
        /// A cell, as it is shown.
        first: String,
        /// The units that it names.
        first_units: Units,
        /// The first cell that disagrees with it.
        second: String,
        /// The units that it names.
        second_units: Units,
    },
}

impl Wording for UnitsError {
    fn hint(&self) -> String {
        match self {
            UnitsError::Unnamed { has_project: false, .. } => {
                "put the unit in the headings, as in Width (in), or run with --units in or --units mm".into()
            }
            UnitsError::Unnamed { .. } | UnitsError::Unreadable { .. } => {
                "enter in or mm next to Units on the sheet Project, or run with --units in or --units mm".into()
            }
            UnitsError::Disagree { .. } => {
                "run with --units in or --units mm, or fill in the same Units on the sheet Project of every workbook".into()
            }
        }
    }
}

/// Settles what a bare number is in, for the whole run: `wanted` by the command line, else what
/// each survey's `Units` says, else what the headings and cells of its openings and types name.
/// Every survey must name one, and all the same.
pub fn settle_units(
    run: &Files<'_>,
    sheets: &Sheets,
    wanted: Option<Units>,
) -> Result<Units, UnitsError> {
    if let Some(wanted) = wanted {
        return Ok(wanted);
    }
    let mut settled: Option<Named> = None;
    for layout in &run.layouts {
        let named = named_by(layout, run, sheets)?;
        agree(sheets, settled.get_or_insert(named), named)?;
    }
    match (settled, run.layouts.first()) {
        (Some(named), _) => Ok(named.units),
        (None, first) => Err(UnitsError::Unnamed {
            survey: first.map_or_else(String::new, |layout| layout.grid().survey.clone()),
            has_project: false,
        }),
    }
}

/// Units and the cell that names them.
#[derive(Clone, Copy)]
struct Named {
    units: Units,
    at: CellRef,
}

fn named_by(layout: &Layout<'_>, run: &Files<'_>, sheets: &Sheets) -> Result<Named, UnitsError> {
    for grid in std::iter::once(layout.grid()).chain(run.for_all()) {
        if let Some(named) = named_by_project(grid, sheets)? {
            return Ok(named);
        }
    }
    let named = layout.units_named().into_iter();
    let mut named = named.map(|(at, unit)| Named { units: family(unit), at });
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
    // The item is a word: reading it does not depend on the units that are passed.
    let table = tables::read(sheet, &PROJECT, Units::Millimeters);
    let Some(entry) = table.rows.first().and_then(|items| items.entry(&COLUMNS.units)) else {
        return Ok(None);
    };
    let units = match &entry.datum {
        Ok(Datum::Choice(word)) => Units::of(word),
        Ok(_) => None,
        Err(unread) => {
            let at = sheets.show(entry.at);
            return Err(UnitsError::Unreadable { at, written: unread.written.clone() });
        }
    };
    Ok(units.map(|units| Named { units, at: entry.at }))
}

fn agree(sheets: &Sheets, first: &Named, second: Named) -> Result<(), UnitsError> {
    if first.units == second.units {
        return Ok(());
    }
    Err(UnitsError::Disagree {
        first: sheets.show(first.at),
        first_units: first.units,
        second: sheets.show(second.at),
        second_units: second.units,
    })
}

fn family(unit: Unit) -> Units {
    match unit {
        Unit::Inch | Unit::Foot => Units::Inches,
        Unit::Millimeter | Unit::Centimeter | Unit::Meter => Units::Millimeters,
    }
}
