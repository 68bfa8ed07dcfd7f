//! One row of a sheet, filled through the schema's own columns.

use sillbook::place::column_letters;
use sillbook::schema::openings::{OPENING, UNIT};
use sillbook::schema::{Column, Table};

use super::workbook::{Cell, Sheet};

/// A column that the schema does not know: carried through to the result beside the opening.
pub const FRAME: &str = "Frame";

/// A row with a place for each of its table's columns.
pub struct Row {
    table: &'static Table,
    cells: Vec<Option<Cell>>,
    frame: Option<Cell>,
}

impl Row {
    /// A row in which everything is blank.
    pub fn of(table: &'static Table) -> Row {
        Row { table, cells: vec![None; table.columns.len()], frame: None }
    }

    /// The same row with a cell filled.
    pub fn with(mut self, column: &Column, cell: impl Into<Cell>) -> Row {
        self.set(column, cell);
        self
    }

    /// Fills a cell.
    pub fn set(&mut self, column: &Column, cell: impl Into<Cell>) {
        self.cells[column.slot] = Some(cell.into());
    }

    /// Empties a cell.
    pub fn clear(&mut self, column: &Column) {
        self.cells[column.slot] = None;
    }

    /// Fills the column that is only carried through.
    pub fn set_frame(&mut self, frame: impl Into<Cell>) {
        self.frame = Some(frame.into());
    }

    /// Whether this is the opening of that unit with that mark.
    pub fn is(&self, unit: &str, mark: &str) -> bool {
        self.says(&UNIT, unit) && self.says(&OPENING, mark)
    }

    /// Whether that text is in the cell.
    pub fn says(&self, column: &Column, text: &str) -> bool {
        self.text(column) == Some(text)
    }

    /// The text in the cell; `None` if there is none.
    pub fn text(&self, column: &Column) -> Option<&str> {
        match &self.cells[column.slot] {
            Some(Cell::Text(written)) => Some(written),
            _ => None,
        }
    }
}

/// A sheet of rows of one table, without the columns that none of them fills.
pub struct RowSheet {
    columns: Vec<&'static Column>,
    rows: Vec<Row>,
}

impl RowSheet {
    /// The sheet, rows as given and columns in the schema's order.
    pub fn of(rows: Vec<Row>) -> RowSheet {
        let filled = |column: &&&Column| rows.iter().any(|row| row.cells[column.slot].is_some());
        let columns = rows.first().map_or(&[][..], |row| row.table.columns);
        RowSheet { columns: columns.iter().filter(filled).copied().collect(), rows }
    }

    /// Where the cell of a row (from 0) stands, such as `F42`; `None` if no row fills that column.
    pub fn address(&self, row: usize, column: &Column) -> Option<String> {
        let position = self.position(column)?;
        Some(format!("{}{}", column_letters(position), row + 2))
    }

    /// A column's position, from 0.
    pub fn position(&self, column: &Column) -> Option<u16> {
        let position = self.columns.iter().position(|filled| filled.slot == column.slot)?;
        u16::try_from(position).ok()
    }

    /// The sheet as cells; `heading` writes a column's heading.
    pub fn into_sheet(self, heading: impl Fn(&Column) -> String) -> Sheet {
        let name = self.rows.first().map_or("", |row| row.table.sheet);
        let has_frames = self.rows.iter().any(|row| row.frame.is_some());
        let mut headings: Vec<String> = self.columns.iter().map(|column| heading(column)).collect();
        headings.extend(has_frames.then(|| FRAME.to_owned()));
        let cells = |mut row: Row| {
            let mut cells: Vec<Option<Cell>> =
                self.columns.iter().map(|column| row.cells[column.slot].take()).collect();
            cells.extend(has_frames.then_some(row.frame));
            cells
        };
        Sheet::new(name, headings, self.rows.into_iter().map(cells).collect())
    }
}
