//! Rules as written: the built-in files and the survey's rule sheets both come to rows of raw
//! cells, which one builder checks into typed rules.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::RuleUsed;
use super::columns::EXAMPLE_PRICE;
use super::queries::{Findings, RuleQuery, RulesError};
use crate::name::ByName;
use crate::place::{CellRef, Given};
use crate::schema::{Column, Form, Kind, Table, WhenUnread};
use crate::tables::{Datum, FromDatum, Unread};
use crate::worked::Rule;

/// Key of the column that is for the reader alone: no rule is taken from it.
pub(super) const NOTE: &str = "note";

/// Whether a column holds what an item costs.
pub(super) fn is_price(column: &Column) -> bool {
    matches!(column.key, "price" | "rate")
}

/// One item of a rule sheet.
#[derive(Clone, Debug)]
pub(super) struct RawRow {
    pub(super) table: &'static Table,
    /// What the row is about: the text of its first column; empty for the project's items.
    pub(super) item: String,
    /// Its first cell; `None` for a built-in row.
    pub(super) at: Option<CellRef>,
    /// One place for each column of the table; `None` where nothing is written.
    pub(super) cells: Vec<Option<RawCell>>,
    /// Whether its price is an invented one that nobody has changed.
    pub(super) example: bool,
}

/// Rows by the names of their items.
pub(super) type ByItem<'r> = ByName<&'r RawRow>;

/// The rows of a list by the names of their items.
pub(super) fn by_item(rows: &[RawRow]) -> ByItem<'_> {
    rows.iter().map(|row| (row.item.as_str(), row)).collect()
}

/// One value of a rule, as written.
#[derive(Clone, Debug)]
pub(super) struct RawCell {
    pub(super) datum: Result<Datum, Box<Unread>>,
    pub(super) written: String,
    pub(super) from: Origin,
}

/// Where a value was written.
#[derive(Clone, Debug)]
pub(super) enum Origin {
    /// In a built-in file, with its reason.
    BuiltIn(Arc<str>),
    /// In a survey.
    Cell(CellRef),
}

/// A rule without a value where one is needed. A blank takes the built-in value and a cell that
/// cannot be read is sifted out before, so no survey leads here.
#[derive(Clone, Copy, Debug)]
pub(super) struct Missing(pub(super) &'static Column);

impl From<Missing> for RulesError {
    fn from(Missing(column): Missing) -> RulesError {
        RulesError::BuiltIn { file: "templates", message: format!("{} has no value", column.name) }
    }
}

impl RawCell {
    pub(super) fn at(&self) -> Option<CellRef> {
        match self.from {
            Origin::BuiltIn(_) => None,
            Origin::Cell(at) => Some(at),
        }
    }

    /// Asks about a percentage that may be a share: 0.0825, typed without a percent sign.
    pub(super) fn doubt_share(&self, sheet: &'static str, column: &'static Column, findings: &mut Findings) {
        let (Origin::Cell(at), Ok(Datum::Number(number))) = (&self.from, &self.datum) else { return };
        let may_be_share = Decimal::ZERO < *number && *number < Decimal::ONE && !self.written.contains('%');
        if may_be_share {
            let number = number.normalize();
            let share = (number * Decimal::ONE_HUNDRED).normalize();
            let detail = format!("\"{}\": read as {number} %; {share} % if it is a share", self.written);
            findings.raise(RuleQuery::Share { sheet, rule: column.name }, Some(*at), detail);
        }
    }

    fn why(&self) -> &str {
        match &self.from {
            Origin::BuiltIn(why) => why,
            Origin::Cell(_) => "",
        }
    }
}

impl RawRow {
    pub(super) fn empty(table: &'static Table, item: &str) -> RawRow {
        RawRow {
            table,
            item: item.to_owned(),
            at: None,
            cells: vec![None; table.columns.len()],
            example: false,
        }
    }

    pub(super) fn cell(&self, column: &Column) -> Option<&RawCell> {
        self.cells.get(column.slot)?.as_ref()
    }

    /// Where a query about a rule points: its cell, else the row.
    pub(super) fn at(&self, column: &Column) -> Option<CellRef> {
        self.cell(column).and_then(RawCell::at).or(self.at)
    }

    /// As written; empty if nothing is.
    pub(super) fn written(&self, column: &Column) -> &str {
        self.cell(column).map_or("", |cell| &cell.written)
    }

    /// The rule's value; `None` if nothing is written or it cannot be read.
    pub(super) fn value<T: FromDatum>(&self, column: &Column) -> Option<T> {
        T::from_datum(self.cell(column)?.datum.as_ref().ok()?)
    }

    /// The rule's value, where one is needed.
    pub(super) fn needed<T: FromDatum>(&self, column: &'static Column) -> Result<T, Missing> {
        self.value(column).ok_or(Missing(column))
    }

    /// A value under the rule's name, such as `louver-89.side_clearance`.
    pub(super) fn named<T>(&self, column: &Column, value: T) -> Rule<T> {
        Rule { value, name: format!("{}.{}", self.item, column.key) }
    }

    /// The row under its item's known spelling.
    pub(super) fn spelled(mut self, item: &str) -> RawRow {
        if let Some(Some(cell)) = self.cells.first_mut() {
            cell.datum = Ok(Datum::Text(item.into()));
        }
        item.clone_into(&mut self.item);
        self
    }

    /// Fills this row's blanks from another, cell by cell.
    pub(super) fn over(&self, base: &RawRow) -> RawRow {
        let cells =
            self.cells.iter().zip(&base.cells).map(|(own, base)| own.as_ref().or(base.as_ref()).cloned());
        RawRow { cells: cells.collect(), ..self.clone() }
    }

    /// Makes a rule one without a value.
    pub(super) fn forget(&mut self, column: &Column) {
        self.take(column);
    }

    /// Takes a cell out of the row.
    pub(super) fn take(&mut self, column: &Column) -> Option<RawCell> {
        self.cells.get_mut(column.slot)?.take()
    }

    /// Puts a cell into the row.
    pub(super) fn put(&mut self, column: &Column, cell: RawCell) {
        if let Some(place) = self.cells.get_mut(column.slot) {
            *place = Some(cell);
        }
    }

    /// Spells the text of a cell as it is known; it is shown as it was written.
    pub(super) fn spell(&mut self, column: &Column, known: &str) {
        if let Some(Some(cell)) = self.cells.get_mut(column.slot) {
            cell.datum = Ok(Datum::Text(known.into()));
        }
    }

    /// Raises a query for each cell that cannot be read: a check in a column that may be unknown,
    /// elsewhere a stop. Says whether what must be known could be read.
    pub(super) fn sift(&self, findings: &mut Findings) -> bool {
        let mut usable = true;
        for (column, cell) in self.table.columns.iter().zip(&self.cells) {
            if let (Kind::Percent { .. }, Some(cell)) = (column.kind, cell) {
                cell.doubt_share(self.table.sheet, column, findings);
            }
            let Some(RawCell { datum: Err(unread), .. }) = cell else { continue };
            let at = self.at(column);
            if column.unread == WhenUnread::Unknown {
                findings.unknown(self.table.sheet, at, unread);
            } else {
                findings.unreadable(self.table.sheet, at, unread);
                usable = false;
            }
        }
        usable
    }

    /// Raises a check if a row lacks one of the cells without which it says nothing.
    pub(super) fn complete(&self, needs: &[&'static Column], findings: &mut Findings) -> bool {
        let lacking = needs.iter().find(|column| self.cell(column).is_none());
        if let Some(column) = lacking {
            let query = RuleQuery::Incomplete { sheet: self.table.sheet, rule: column.name };
            findings.raise(query, self.at, self.item.clone());
        }
        lacking.is_none()
    }

    /// Settles whether the row's price is an invented one that nobody has changed: a built-in row
    /// that says so, or a survey's row that still says so and still has the built-in price.
    pub(super) fn with_example(mut self, built_in: Option<&RawRow>) -> RawRow {
        let same = |known: &RawRow| known.price().is_some() && known.price() == self.price();
        self.example = self.is_marked() && (self.at.is_none() || built_in.is_some_and(same));
        self
    }

    fn is_marked(&self) -> bool {
        let note = self.table.columns.iter().find(|column| column.key == NOTE);
        note.is_some_and(|note| self.written(note).contains(EXAMPLE_PRICE))
    }

    fn price(&self) -> Option<Decimal> {
        self.table.columns.iter().find(|column| is_price(column)).and_then(|column| self.value(column))
    }

    /// Every rule of the row that has a value, for `Rules used`; not the item's name and not its note.
    pub(super) fn used(&self) -> impl Iterator<Item = RuleUsed> + '_ {
        let names = usize::from(self.table.form == Form::Rows);
        self.table.columns.iter().zip(&self.cells).skip(names).filter_map(|(column, cell)| {
            let cell = cell.as_ref().filter(|_| column.key != NOTE)?;
            Some(RuleUsed {
                table: self.table.sheet,
                item: self.item.clone(),
                rule: column.name,
                value: cell.written.clone(),
                at: cell.at(),
                why: cell.why().to_owned(),
                example: self.example && is_price(column) || cell.why().contains(EXAMPLE_PRICE),
            })
        })
    }
}

/// A type that a field read straight from its cell may have, and what a blank is to it.
pub(super) trait FromCell: Sized {
    /// An error if a value is needed and there is none.
    fn from_cell(row: &RawRow, column: &'static Column) -> Result<Self, Missing>;
}

impl<T: FromDatum> FromCell for T {
    fn from_cell(row: &RawRow, column: &'static Column) -> Result<T, Missing> {
        row.needed(column)
    }
}

impl<T: FromDatum> FromCell for Rule<T> {
    fn from_cell(row: &RawRow, column: &'static Column) -> Result<Rule<T>, Missing> {
        row.needed(column).map(|value| row.named(column, value))
    }
}

impl<T: FromDatum> FromCell for Option<T> {
    fn from_cell(row: &RawRow, column: &'static Column) -> Result<Option<T>, Missing> {
        Ok(row.value(column))
    }
}

impl<T: FromDatum> FromCell for Option<Given<T>> {
    fn from_cell(row: &RawRow, column: &'static Column) -> Result<Option<Given<T>>, Missing> {
        Ok(row.value(column).zip(row.at(column)).map(|(value, at)| Given { value, at }))
    }
}

/// A text for the reader alone: a blank is an empty one.
impl FromCell for String {
    fn from_cell(row: &RawRow, column: &'static Column) -> Result<String, Missing> {
        Ok(row.value::<Arc<str>>(column).map_or_else(String::new, |text| text.to_string()))
    }
}
