//! The rows of a sheet as they stand in the file, kept until it is put together: the first part in memory,
//! what is longer on disk. The library would look up each cell's format by all that it says, which takes
//! longer than writing the cell, and keep every cell; here a look is a number, and a row that is written is
//! gone.
//!
//! Cells and rows are of ISO/IEC 29500-1, Office Open XML, sections 18.3.1.4 and 18.3.1.73, byte for byte
//! as the library writes them.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::io::{self, BufWriter, Seek, Write};
use std::ops::Range;

use tempfile::SpooledTempFile;

use super::escape;
use super::sheet::ROW;
use crate::breaking::TemporaryFault;
use crate::place::column_letters;
use crate::report::expr::{Formula, Outcome};

/// The number by which the file's cells name a format.
pub(super) type LookNumber = u32;

/// The format of cells that name none.
pub(super) const USUAL: LookNumber = 0;

/// Bytes of a sheet's rows that are kept in memory: more than the page of any usual unit, for with a sheet
/// each there are more units than a system lets a program open files.
const IN_MEMORY: usize = 1 << 20;

/// Rows, written from the top.
pub(super) struct Rows {
    file: BufWriter<SpooledTempFile>,
    /// The row that is being written, from 0.
    row: u32,
    /// Its number as addresses name it.
    named: String,
    /// Its height in points, where somebody set it.
    height: Option<u32>,
    /// Whether it folds away under the last one that does not.
    folds: bool,
    /// Height of the rows whose height nobody set, in points.
    usual: u32,
    /// Its cells, in the order in which they were written.
    written: String,
    /// The column of each, and where it stands in `written`.
    cells: Vec<(u16, Range<usize>)>,
    /// Blank cells of rows to come.
    ahead: BTreeMap<u32, Vec<(u16, LookNumber)>>,
    /// Letters of the columns so far.
    letters: Vec<String>,
    /// The last row and the last column in which anything stands; `None` where nothing does.
    reach: Option<(u32, u16)>,
}

impl Rows {
    /// No rows.
    pub(super) fn new() -> Rows {
        Rows {
            file: BufWriter::new(SpooledTempFile::new(IN_MEMORY)),
            row: 0,
            named: "1".to_owned(),
            height: None,
            folds: false,
            usual: ROW,
            written: String::new(),
            cells: Vec::new(),
            ahead: BTreeMap::new(),
            letters: Vec::new(),
            reach: None,
        }
    }

    /// Sets the height of rows whose own is not set, in points.
    pub(super) fn set_usual_height(&mut self, points: u32) {
        self.usual = points;
    }

    /// Sets the height of the row that is being written, in points.
    pub(super) fn set_height(&mut self, points: u32) {
        self.height = Some(points);
    }

    /// Lets the row that is being written fold away under the last one that does not.
    pub(super) fn fold(&mut self) {
        self.folds = true;
    }

    /// Writes a blank cell in the row that is being written.
    pub(super) fn blank(&mut self, column: u16, look: LookNumber) {
        if look == USUAL {
            let here = self.written.len();
            self.cells.push((column, here..here));
        } else {
            self.cell(column, look, |_| "/>");
        }
    }

    /// Writes a blank cell in the row that is being written or in one to come.
    pub(super) fn blank_in(&mut self, row: u32, column: u16, look: LookNumber) {
        match row > self.row {
            true => self.ahead.entry(row).or_default().push((column, look)),
            false => self.blank(column, look),
        }
    }

    /// Writes a number.
    pub(super) fn number(&mut self, column: u16, look: LookNumber, number: f64) {
        self.cell(column, look, |cell| {
            // A string takes whatever is written to it.
            let _ = write!(cell, "><v>{number}</v>");
            "</c>"
        });
    }

    /// Writes a text, which is not empty.
    pub(super) fn text(&mut self, column: u16, look: LookNumber, text: &str) {
        const SPACE: [char; 3] = ['\t', '\n', ' '];
        self.cell(column, look, |cell| {
            cell.push_str(" t=\"inlineStr\"><is><t");
            if text.starts_with(SPACE) || text.ends_with(SPACE) {
                cell.push_str(" xml:space=\"preserve\"");
            }
            cell.push('>');
            escape::cell_text(cell, text);
            "</t></is></c>"
        });
    }

    /// Writes a formula with its result.
    pub(super) fn formula(&mut self, column: u16, look: LookNumber, formula: &Formula) {
        self.cell(column, look, |cell| {
            if let Outcome::Word(_) = formula.outcome() {
                cell.push_str(" t=\"str\"");
            }
            cell.push_str("><f>");
            escape::marks(cell, formula.text());
            cell.push_str("</f><v>");
            escape::marks(cell, &formula.outcome().to_string());
            "</v></c>"
        });
    }

    fn cell(&mut self, column: u16, look: LookNumber, rest: impl FnOnce(&mut String) -> &'static str) {
        while self.letters.len() <= usize::from(column) {
            self.letters.extend(u16::try_from(self.letters.len()).map(column_letters));
        }
        let from = self.written.len();
        let cell = &mut self.written;
        cell.push_str("<c r=\"");
        cell.push_str(&self.letters[usize::from(column)]);
        cell.push_str(&self.named);
        cell.push('"');
        if look != USUAL {
            let _ = write!(cell, " s=\"{look}\"");
        }
        let end = rest(cell);
        cell.push_str(end);
        self.cells.push((column, from..self.written.len()));
    }

    /// Goes on to the next row.
    ///
    /// # Errors
    /// If the file cannot be written.
    pub(super) fn next_row(&mut self) -> Result<(), TemporaryFault> {
        for (column, look) in self.ahead.remove(&self.row).unwrap_or_default() {
            // What is written in the row itself stands above it.
            if self.cells.iter().all(|(written, _)| *written != column) {
                self.blank(column, look);
            }
        }
        let height = self.height.unwrap_or(self.usual);
        if !self.cells.is_empty() || self.height.is_some() || self.folds {
            self.file.write_all(b"<row r=\"")?;
            self.file.write_all(self.named.as_bytes())?;
            self.file.write_all(b"\"")?;
            if height != ROW || self.usual != ROW {
                write!(self.file, " ht=\"{}\" customHeight=\"1\"", in_dots(height))?;
            }
            if self.folds {
                self.file.write_all(b" outlineLevel=\"1\"")?;
            }
            self.write_cells()?;
            let last = self.cells.iter().map(|(column, _)| *column).max();
            let column = self.reach.map(|(_, column)| column).max(last).unwrap_or_default();
            self.reach = Some((self.row, column));
        }
        self.row += 1;
        self.named.clear();
        let _ = write!(self.named, "{}", self.row + 1);
        self.height = None;
        self.folds = false;
        self.written.clear();
        self.cells.clear();
        Ok(())
    }

    /// The cells from the left; the last that was written in a column is the one that stands.
    fn write_cells(&mut self) -> io::Result<()> {
        if self.cells.is_empty() {
            return self.file.write_all(b"/>");
        }
        self.file.write_all(b">")?;
        if self.cells.is_sorted_by(|(left, _), (right, _)| left < right) {
            self.file.write_all(self.written.as_bytes())?;
        } else {
            self.cells.sort_by_key(|(column, _)| *column);
            let same = self.cells.chunk_by(|(left, _), (right, _)| left == right);
            for (_, place) in same.filter_map(<[_]>::last) {
                self.file.write_all(self.written[place.clone()].as_bytes())?;
            }
        }
        self.file.write_all(b"</row>")
    }

    /// Ends with the row that is being written and all blank cells below it; gives the last row and the last
    /// column in which anything stands.
    ///
    /// # Errors
    /// If the file cannot be written.
    pub(super) fn end(&mut self) -> Result<Option<(u32, u16)>, TemporaryFault> {
        let last = self.ahead.keys().next_back().copied().unwrap_or_default().max(self.row);
        while self.row <= last {
            self.next_row()?;
        }
        Ok(self.reach)
    }

    /// All rows, to be read from the first, and how many bytes they are.
    ///
    /// # Errors
    /// If they cannot be written.
    pub(super) fn into_bytes(self) -> io::Result<(SpooledTempFile, u64)> {
        let mut file = self.file.into_inner().map_err(io::IntoInnerError::into_error)?;
        let length = file.stream_position()?;
        file.rewind()?;
        Ok((file, length))
    }
}

/// A height as the file has it: in whole dots of a screen, of which there are four to three points.
fn in_dots(points: u32) -> f64 {
    (f64::from(points) * 4.0 / 3.0).round() * 0.75
}

#[cfg(test)]
mod tests {
    use std::io::{Cursor, Read};

    use rust_decimal::Decimal;
    use rust_xlsxwriter::{Formula as Written, Workbook, Worksheet};
    use zip::ZipArchive;

    use super::{Formula, Rows};
    use crate::money::Currency;
    use crate::report::expr::Expr;
    use crate::workbook::look::{self, Look, Tone};
    use crate::workbook::shown::Shown;

    /// A cell that both write: row, column, look, what it holds.
    type Given = (u32, u16, (Tone, Shown), What);

    enum What {
        Blank,
        Text(&'static str),
        Number(f64),
        Formula(Formula),
    }

    fn formula(expr: Expr) -> What {
        What::Formula(Formula::new(&expr, "Sheet", &|_| None).unwrap())
    }

    fn given() -> Vec<Given> {
        let (plain, money) = ((Tone::Body, Shown::Plain), (Tone::Total, Shown::Money));
        let usual = Tone::ALL.map(|tone| (tone, Shown::Plain)).into_iter();
        let texts = [
            "a",
            " a",
            "a ",
            "a\nb\n",
            "\ta",
            "<&>\"'",
            "_x0041_",
            "_x_x0041__x00G1_",
            "x_x",
            "_x",
            "_x004",
            "é_x00e9_é",
            "_xé0041_",
            "=1+1",
            "…",
        ];
        let numbers = [0.0, -0.0, 0.1, 105.5, 1e-7, 1e21, -2679.7, 1.0 / 3.0, f64::MAX];
        let mut given: Vec<Given> = vec![
            (0, 2, plain, What::Text("right of what is written next")),
            (0, 0, money, What::Number(1.0)),
            (0, 0, plain, What::Text("in its place")),
            (2, 27, money, formula(Expr::constant(Decimal::new(1250, 2)).plus(Expr::constant(Decimal::ONE)))),
            (2, 28, money, formula(Expr::word("a & b"))),
        ];
        given.extend((0..).zip(usual).map(|(column, look)| (3, column, look, What::Blank)));
        given.extend((4..).zip(texts).map(|(row, text)| (row, 700, plain, What::Text(text))));
        given.extend((40..).zip(numbers).map(|(row, number)| (row, 1, money, What::Number(number))));
        given
    }

    fn by_the_library(sheet: &mut Worksheet, look: &Look, usual: Option<u32>) {
        if let Some(points) = usual {
            sheet.set_default_row_height(points);
        }
        for (row, height) in HEIGHTS {
            sheet.set_row_height(row, height).unwrap();
        }
        for row in FOLDED {
            sheet.group_rows(row, row).unwrap();
        }
        for (row, column, (tone, shown), what) in given() {
            let format = look.format(tone, shown);
            match what {
                What::Blank => sheet.write_blank(row, column, format),
                What::Text(text) => sheet.write_string_with_format(row, column, text, format),
                What::Number(number) => sheet.write_number_with_format(row, column, number, format),
                What::Formula(formula) => {
                    let written = Written::new(formula.text()).set_result(formula.outcome().to_string());
                    sheet.write_formula_with_format(row, column, written, format)
                }
            }
            .unwrap();
        }
    }

    /// Rows whose heights are set: of some cells, of none, the usual height, and one that is no whole dot.
    const HEIGHTS: [(u32, u32); 4] = [(0, 24), (1, 36), (3, 15), (5, 13)];

    /// Rows that fold: of some cells, of a height that is set, of neither.
    const FOLDED: [u32; 3] = [2, 5, 30];

    fn by_rows(look: &Look, usual: Option<u32>) -> String {
        let mut rows = Rows::new();
        usual.into_iter().for_each(|points| rows.set_usual_height(points));
        let mut heights = HEIGHTS.into_iter().peekable();
        let mut given = given().into_iter().peekable();
        for row in 0..60 {
            if let Some((_, points)) = heights.next_if(|(tall, _)| *tall == row) {
                rows.set_height(points);
            }
            if FOLDED.contains(&row) {
                rows.fold();
            }
            while let Some((_, column, (tone, shown), what)) = given.next_if(|(at, ..)| *at == row) {
                let look = look.number(tone, shown);
                match what {
                    What::Blank => rows.blank(column, look),
                    What::Text(text) => rows.text(column, look, text),
                    What::Number(number) => rows.number(column, look, number),
                    What::Formula(formula) => rows.formula(column, look, &formula),
                }
            }
            rows.next_row().unwrap();
        }
        assert_eq!(rows.end().unwrap(), Some((48, 700)));
        let mut written = String::new();
        rows.into_bytes().unwrap().0.read_to_string(&mut written).unwrap();
        written
    }

    fn part(archive: &mut ZipArchive<Cursor<Vec<u8>>>, name: &str) -> String {
        let mut part = String::new();
        archive.by_name(&format!("xl/{name}.xml")).unwrap().read_to_string(&mut part).unwrap();
        part
    }

    /// The rows with every text in its cell, and without the columns that they reach over.
    fn with_texts(texts: &str, sheet: &str) -> String {
        let texts: Vec<&str> =
            texts.split("<si>").skip(1).map(|text| text.split_once("</si>").unwrap().0).collect();
        let rows = sheet.split_once("<sheetData>").unwrap().1.split_once("</sheetData>").unwrap().0;
        let mut whole = String::new();
        for (place, from) in rows.split(" spans=\"").enumerate() {
            whole.push_str(if place == 0 { from } else { from.split_once('"').unwrap().1 });
        }
        let (first, cells) = whole.split_once(" t=\"s\"><v>").unwrap();
        let mut rows = first.to_owned();
        for from in cells.split(" t=\"s\"><v>") {
            let (text, rest) = from.split_once("</v>").unwrap();
            let text = texts[text.parse::<usize>().unwrap()];
            rows.push_str(&format!(" t=\"inlineStr\"><is>{text}</is>{rest}"));
        }
        rows
    }

    #[test]
    fn rows_are_as_the_library_writes_them() {
        let look = Look::new(Currency::from_code("USD").unwrap());
        for usual in [None, Some(18)] {
            let mut workbook = Workbook::new();
            let (format, height, width) = look::usual();
            workbook.set_default_format(&format, height, width).unwrap();
            look.formats().for_each(|format| workbook.register_format(format));
            by_the_library(workbook.add_worksheet(), &look, usual);
            let mut archive = ZipArchive::new(Cursor::new(workbook.save_to_buffer().unwrap())).unwrap();
            let rows =
                with_texts(&part(&mut archive, "sharedStrings"), &part(&mut archive, "worksheets/sheet1"));
            let ours = by_rows(&look, usual);
            let same = ours.split("<row ").zip(rows.split("<row ")).find(|(ours, library)| ours != library);
            assert_eq!(same, None);
            assert_eq!(ours.len(), rows.len());
        }
    }

    #[test]
    fn a_block_reaches_into_rows_to_come() {
        let mut rows = Rows::new();
        for row in 0..3 {
            rows.blank_in(row, 1, 7);
        }
        rows.text(1, 7, "beside three rows");
        rows.next_row().unwrap();
        rows.number(0, 8, 1.0);
        rows.next_row().unwrap();
        assert_eq!(rows.end().unwrap(), Some((2, 1)));
        let mut written = String::new();
        rows.into_bytes().unwrap().0.read_to_string(&mut written).unwrap();
        assert_eq!(
            written,
            "<row r=\"1\"><c r=\"B1\" s=\"7\" t=\"inlineStr\"><is><t>beside three rows</t></is></c></row>\
             <row r=\"2\"><c r=\"A2\" s=\"8\"><v>1</v></c><c r=\"B2\" s=\"7\"/></row>\
             <row r=\"3\"><c r=\"B3\" s=\"7\"/></row>"
        );
    }
}
