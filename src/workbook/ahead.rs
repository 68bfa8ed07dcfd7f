//! Where rows will stand that are still to be written, so that a row above can lead to one below.

use super::layout::continued;
use crate::report::expr::Address;

/// Rows of a section that stay together: an empty one, its name, its headings, a row and its foot.
pub(super) const TOGETHER: u32 = 5;

/// A sheet of tables, walked before it is written. It takes the same turns as
/// [`Pages`](super::pages::Pages) does.
#[derive(Clone, Debug)]
pub(super) struct Ahead {
    /// The name of the sheets.
    pub name: &'static str,
    /// Which of them.
    pub number: usize,
    /// The row that comes next.
    pub row: u32,
    /// Rows of title and remarks.
    pub head: u32,
    /// Rows of a sheet.
    pub limit: u32,
}

impl Ahead {
    /// Passes a table's headings.
    pub(super) fn headings(&mut self) {
        if self.row >= self.limit {
            self.turn();
        }
        self.row += 1;
    }

    /// Passes a row of the table whose headings were passed last; gives where it will stand.
    pub(super) fn row(&mut self) -> Address {
        if self.row >= self.limit {
            self.turn();
            self.headings();
        }
        let sheet = continued(self.name, self.number).into();
        let address = Address { sheet, row: self.row, column: 0 };
        self.row += 1;
        address
    }

    fn turn(&mut self) {
        (self.number, self.row) = (self.number + 1, self.head);
    }
}
