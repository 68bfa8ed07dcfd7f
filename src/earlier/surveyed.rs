//! The openings as an earlier run took them, cell by cell: what a later one is compared with.

use std::sync::Arc;

use super::blind::{Row, opening_key};
use super::{EarlierError, is_or_continues};
use crate::grid::{Grid, Value};
use crate::length::{Length, Unit};
use crate::place::CellRef;
use crate::schema::Column;
use crate::schema::openings::{BUILDING, OPENING, OPENINGS, UNIT};
use crate::schema::surveyed::{ANSWERED, AS_SURVEYED, SHOWN};
use crate::survey::Texts;
use crate::tables::{self, Datum, read_value};

/// What stands between the columns that an answer has filled.
const BETWEEN: &str = ", ";

/// An opening as an earlier run took it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptOpening {
    /// Its row.
    pub at: CellRef,
    /// Its name as it was shown.
    pub name: Arc<str>,
    /// What its cells say, by the slot of their column of `Openings`.
    said: Box<[(u16, Arc<str>)]>,
    /// Slots of the columns that an answer has filled.
    answered: Box<[u16]>,
}

impl KeptOpening {
    /// What was taken under a column of `Openings`; empty for a blank.
    pub fn said(&self, column: &Column) -> &str {
        let cell = self.said.iter().find(|(slot, _)| usize::from(*slot) == column.slot);
        cell.map_or("", |(_, text)| text)
    }

    /// Whether an answer has filled a column.
    pub fn is_answered(&self, column: &Column) -> bool {
        self.answered.iter().any(|slot| usize::from(*slot) == column.slot)
    }

    /// Building, unit and id as keys are compared; `None` without an id.
    pub fn key(&self) -> Option<String> {
        let id = self.said(&OPENING);
        (!id.is_empty()).then(|| opening_key(self.said(&BUILDING), self.said(&UNIT), id))
    }

    fn read(row: Row<'_>, name: Arc<str>, texts: &mut Texts) -> Result<KeptOpening, EarlierError> {
        let mut said = Vec::new();
        for &column in OPENINGS.columns {
            let text = row.text(column)?;
            if let (false, Ok(slot)) = (text.is_empty(), u16::try_from(column.slot)) {
                said.push((slot, texts.shared(&text)));
            }
        }
        let names = row.text(&ANSWERED)?;
        let answered = names.split(BETWEEN).filter_map(|name| {
            let column = OPENINGS.columns.iter().find(|column| column.name == name)?;
            u16::try_from(column.slot).ok()
        });
        Ok(KeptOpening { at: row.row.at, name, said: said.into(), answered: answered.collect() })
    }
}

/// The columns that an answer has filled, as `As surveyed` names them.
pub fn answered_in_words(is_answered: impl Fn(&Column) -> bool) -> String {
    let names = OPENINGS.columns.iter().filter(|column| is_answered(column)).map(|column| column.name);
    names.collect::<Vec<_>>().join(BETWEEN)
}

/// What a text of `As surveyed` means under a column of `Openings`; `None` for a blank. What that cannot
/// read is a text.
pub fn meant(text: &str, column: &Column) -> Option<Datum> {
    if text.is_empty() {
        return None;
    }
    // Every length there names its unit.
    let read = read_value(&Value::Text(text.into()), column, None, Unit::Millimeter);
    Some(read.unwrap_or_else(|_| Datum::Text(text.into())))
}

/// The least length that some columns say; `None` if none of them says one.
pub fn least<T: AsRef<str>>(columns: &[&Column], said: impl Fn(&Column) -> T) -> Option<Length> {
    let lengths = columns.iter().filter_map(|column| match meant(said(column).as_ref(), column)? {
        Datum::Length(length) => Some(length),
        _ => None,
    });
    lengths.min()
}

/// Every opening of the sheets `As surveyed`, in their order.
///
/// # Errors
/// [`EarlierError`] where there is no such sheet, or a cell of it cannot be read.
pub(super) fn read(grid: &Grid, show: &dyn Fn(CellRef) -> String) -> Result<Vec<KeptOpening>, EarlierError> {
    let mut sheets =
        grid.sheets.iter().filter(|sheet| is_or_continues(&sheet.name, AS_SURVEYED.sheet)).peekable();
    if sheets.peek().is_none() {
        return Err(EarlierError::NoFitOut { file: grid.survey.clone(), sheet: AS_SURVEYED.sheet });
    }
    let mut texts = Texts::default();
    let mut openings = Vec::new();
    for sheet in sheets {
        for row in &tables::read(sheet, &AS_SURVEYED, Unit::Millimeter).rows {
            let row = Row { row, show };
            let name = row.text(&SHOWN)?;
            // A remark that someone put beside the rows.
            if !name.is_empty() {
                openings.push(KeptOpening::read(row, name, &mut texts)?);
            }
        }
    }
    Ok(openings)
}
