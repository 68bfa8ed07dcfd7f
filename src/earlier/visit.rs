//! One row of `Fitting days` beside which something is typed: the visit that it is about, and its date.
//! Rows that say nothing of their own are planned anew, and the table of loads below them has none of
//! the columns that people type in.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::blind::Row;
use super::error::EarlierError;
use crate::date::Date;
use crate::grid::Sheet;
use crate::length::Unit;
use crate::name::folded;
use crate::place::CellRef;
use crate::query::Checked;
use crate::schema::Column;
use crate::schema::fitting_days::*;
use crate::tables;

/// Which visit: phase, building and unit as they are compared, and which of theirs.
pub type VisitKey = ([String; 3], Visit);

/// A visit of an earlier fit-out beside which something is typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptVisit {
    /// Its row.
    pub at: CellRef,
    /// The phase.
    pub phase: Arc<str>,
    /// The building.
    pub building: Arc<str>,
    /// The floor.
    pub floor: Arc<str>,
    /// The unit.
    pub unit: Arc<str>,
    /// Which of its visits.
    pub visit: Visit,
    /// The date that it had.
    pub date: Option<Date>,
    /// Whether it keeps that, if someone says.
    pub keep: Option<bool>,
    /// When the residents were told.
    pub told_on: Option<Date>,
    /// When it was made.
    pub done: Option<Date>,
}

impl KeptVisit {
    /// What tells it from any other.
    pub fn key(&self) -> VisitKey {
        ([&self.phase, &self.building, &self.unit].map(|name| folded(name)), self.visit)
    }

    /// The date that it keeps.
    pub fn holds(&self) -> Option<Date> {
        self.date.filter(|_| self.keep == Some(true))
    }
}

/// The first column that a sheet `Fitting days` lacks and must have.
pub(super) fn lacking(sheet: &Sheet) -> Option<&'static Column> {
    let columns = tables::read(sheet, &FITTING_DAYS, Unit::Millimeter).columns;
    let taken = |column: &&Column| {
        columns.iter().filter_map(|read| read.taken).any(|taken| taken.slot == column.slot)
    };
    NEEDED.into_iter().find(|column| !taken(column))
}

/// Reads the visits of a sheet beside which something is typed.
pub(super) fn read(
    sheet: &Sheet,
    show: &dyn Fn(CellRef) -> String,
    unit: Unit,
) -> Result<Checked<Vec<KeptVisit>>, EarlierError> {
    if let Some(column) = lacking(sheet) {
        return Err(EarlierError::NoColumn { sheet: sheet.name.clone(), column: column.name });
    }
    let table = tables::read(sheet, &FITTING_DAYS, unit);
    let rows = table.rows.iter().map(|row| Row { row, show });
    let typed = rows.filter(|row| TYPED.iter().any(|column| row.entry(column).is_some()));
    let visits = typed.map(|row| {
        Ok(KeptVisit {
            at: row.row.at,
            phase: row.text(&PHASE)?,
            building: row.text(&BUILDING)?,
            floor: row.text(&FLOOR)?,
            unit: row.text(&UNIT)?,
            visit: row.or(&VISIT, Visit::First)?,
            date: row.opt(&DATE)?,
            keep: row.opt(&KEEP)?,
            told_on: row.opt(&TOLD_ON)?,
            done: row.opt(&DONE)?,
        })
    });
    Ok(Checked { value: visits.collect::<Result<_, _>>()?, queries: table.queries })
}

/// Adds visits to those that are known; two rows of one visit must say the same.
pub(super) fn add(
    known: &mut Vec<KeptVisit>,
    read: Vec<KeptVisit>,
    show: &dyn Fn(CellRef) -> String,
) -> Result<(), EarlierError> {
    let mut by_key: BTreeMap<VisitKey, usize> =
        known.iter().enumerate().map(|(place, visit)| (visit.key(), place)).collect();
    for visit in read {
        match by_key.get(&visit.key()).and_then(|&place| known.get(place)) {
            None => {
                by_key.insert(visit.key(), known.len());
                known.push(visit);
            }
            Some(first) if *first == (KeptVisit { at: first.at, ..visit.clone() }) => {}
            Some(first) => {
                let (first, second) = (show(first.at), show(visit.at));
                return Err(EarlierError::DifferOfVisit { first, second });
            }
        }
    }
    Ok(())
}
