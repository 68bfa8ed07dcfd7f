//! Where something stands: a cell of a survey, shown as `Openings!F42`.

use std::num::NonZeroU16;

/// Rows of a sheet, in every format that is read.
pub const MOST_ROWS: u32 = 1_048_576;
/// Columns of a sheet, in every format that is read.
pub const MOST_COLUMNS: u16 = 16_384;
/// UTF-16 units in the longest text that a cell holds.
pub const LONGEST_TEXT: usize = 32_767;

/// One sheet of one of the run's files, numbered from 1 in the order in which they were read, so that a cell
/// that may not be there takes no more room than one that is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SheetId(NonZeroU16);

impl SheetId {
    /// Its place among the sheets of the run.
    fn place(self) -> usize {
        usize::from(self.0.get()) - 1
    }
}

/// A cell: its sheet, and its row and column counted from 0 as the file stores them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CellRef {
    /// The sheet it is on.
    pub sheet: SheetId,
    /// Row, from 0.
    pub row: u32,
    /// Column, from 0.
    pub column: u16,
}

impl CellRef {
    /// The cell within its sheet: `F42`.
    pub fn address(self) -> String {
        format!("{}{}", column_letters(self.column), u64::from(self.row) + 1)
    }
}

/// The names of every sheet read in this run; turns a [`CellRef`] into text.
#[derive(Clone, Debug, Default)]
pub struct Sheets {
    names: Vec<SheetName>,
    /// Of how many surveys they are.
    files: usize,
    /// The first sheet of the earlier fit-out, of which a name is always told.
    first_earlier: Option<usize>,
}

#[derive(Clone, Debug)]
struct SheetName {
    survey: String,
    sheet: String,
}

impl Sheets {
    /// Says that the sheets to come are of another file, which may have the name of one before.
    pub fn next_file(&mut self) {
        self.files += 1;
    }

    /// Says that the sheets to come are of an earlier fit-out, which is no survey.
    pub fn earlier_file(&mut self) {
        self.first_earlier.get_or_insert(self.names.len());
    }

    /// Enters a sheet of the file called `survey`; `None` past 65,535 sheets.
    pub fn enter(&mut self, survey: &str, sheet: &str) -> Option<SheetId> {
        self.names.push(SheetName { survey: survey.to_owned(), sheet: sheet.to_owned() });
        u16::try_from(self.names.len()).ok().and_then(NonZeroU16::new).map(SheetId)
    }

    /// The file that a sheet belongs to.
    pub fn survey(&self, sheet: SheetId) -> &str {
        self.names.get(sheet.place()).map_or("", |name| &name.survey)
    }

    /// The sheet's own name.
    pub fn sheet(&self, sheet: SheetId) -> &str {
        self.names.get(sheet.place()).map_or("", |name| &name.sheet)
    }

    /// `Openings!F42`; with more than one survey in the run, `block-b.xlsx Openings!F42`.
    pub fn show(&self, cell: CellRef) -> String {
        format!("{}!{}", self.full_name(cell.sheet), cell.address())
    }

    /// `Openings row 42`; with more than one survey in the run, `block-b.xlsx Openings row 42`.
    pub fn show_row(&self, cell: CellRef) -> String {
        format!("{} row {}", self.full_name(cell.sheet), u64::from(cell.row) + 1)
    }

    fn full_name(&self, sheet: SheetId) -> String {
        let name = self.sheet(sheet);
        let is_earlier = self.first_earlier.is_some_and(|first| sheet.place() >= first);
        if is_earlier {
            // Not its file's name: the next run's has another, and says the same.
            return format!("earlier {name}");
        }
        if self.files > 1 { format!("{} {name}", self.survey(sheet)) } else { name.to_owned() }
    }
}

/// `A` for 0, `AA` for 26.
pub fn column_letters(column: u16) -> String {
    let mut letters = Vec::new();
    let mut rest = u32::from(column) + 1;
    while rest > 0 {
        rest -= 1;
        letters.push(char::from(b'A' + u8::try_from(rest % 26).unwrap_or(0)));
        rest /= 26;
    }
    letters.iter().rev().collect()
}

/// A value and the cell it was read from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Given<T> {
    /// The value.
    pub value: T,
    /// Its cell.
    pub at: CellRef,
}

#[cfg(test)]
mod tests {
    use super::column_letters;

    #[test]
    fn columns_are_lettered_as_spreadsheets_do() {
        let cases = [(0, "A"), (25, "Z"), (26, "AA"), (701, "ZZ"), (702, "AAA"), (16_383, "XFD")];
        for (column, letters) in cases {
            assert_eq!(column_letters(column), letters);
        }
    }
}
