//! What a sheet's file has beneath its rows: the blocks of cells that are one, and the links within the
//! workbook. The library would keep every cell of a block, and several texts of a link.
//!
//! They are of ISO/IEC 29500-1, Office Open XML, sections 18.3.1.55 and 18.3.1.48, byte for byte as the
//! library writes them.

use std::fmt::Write as _;
use std::io::{self, Write};

use super::escape;
use crate::place::column_letters;
use crate::report::expr::Address;

/// Blocks and links, in the order in which they were made.
#[derive(Default)]
pub(super) struct Beneath {
    blocks: String,
    count: usize,
    links: String,
}

impl Beneath {
    /// Makes one cell of a block of several, both ends included.
    pub(super) fn block(&mut self, rows: (u32, u32), columns: (u16, u16)) {
        self.blocks.push_str("<mergeCell ref=\"");
        cell(&mut self.blocks, rows.0, columns.0);
        self.blocks.push(':');
        cell(&mut self.blocks, rows.1, columns.1);
        self.blocks.push_str("\"/>");
        self.count += 1;
    }

    /// Makes a link of a cell that shows this text.
    pub(super) fn link(&mut self, row: u32, column: u16, leads: &Address, text: &str) {
        self.links.push_str("<hyperlink ref=\"");
        cell(&mut self.links, row, column);
        self.links.push_str("\" location=\"'");
        escape::attribute(&mut self.links, &leads.sheet.replace('\'', "''"));
        self.links.push_str("'!");
        cell(&mut self.links, leads.row, leads.column);
        self.links.push_str("\" display=\"");
        escape::attribute(&mut self.links, text);
        self.links.push_str("\"/>");
    }

    /// Bytes that they take, at the most.
    pub(super) fn length(&self) -> u64 {
        const AROUND: usize = 200;
        (self.blocks.len() + self.links.len() + AROUND) as u64
    }

    /// Writes all of them.
    ///
    /// # Errors
    /// If `out` fails.
    pub(super) fn write(&self, out: &mut impl Write) -> io::Result<()> {
        if self.count > 0 {
            write!(out, "<mergeCells count=\"{}\">{}</mergeCells>", self.count, self.blocks)?;
        }
        if !self.links.is_empty() {
            write!(out, "<hyperlinks>{}</hyperlinks>", self.links)?;
        }
        Ok(())
    }
}

/// Adds a cell's address.
fn cell(to: &mut String, row: u32, column: u16) {
    to.push_str(&column_letters(column));
    // A string takes whatever is written to it.
    let _ = write!(to, "{}", u64::from(row) + 1);
}

#[cfg(test)]
mod tests {
    use std::io::{Cursor, Read};

    use rust_xlsxwriter::{Format, Url, Workbook};
    use zip::ZipArchive;

    use super::Beneath;
    use crate::report::expr::Address;

    const BLOCKS: [((u32, u32), (u16, u16)); 3] = [((0, 0), (0, 3)), ((1, 4), (26, 26)), ((9, 10), (2, 701))];

    const LINKS: [(u32, u16, &str, u32, u16, &str); 3] = [
        (3, 0, "Order", 0, 0, "Order line 1"),
        (3, 5, "Order's openings", 1_048_575, 28, "<a> & \"b\" 'c'\nd"),
        (20, 0, "Ünit & \"<3>\"", 7, 0, "_x0041_"),
    ];

    #[test]
    fn blocks_and_links_are_as_the_library_writes_them() {
        let mut workbook = Workbook::new();
        let sheet = workbook.add_worksheet();
        let mut ours = Beneath::default();
        for (rows, columns) in BLOCKS {
            sheet.merge_range(rows.0, columns.0, rows.1, columns.1, "", &Format::new()).unwrap();
            ours.block(rows, columns);
        }
        for (row, column, leads, at, across, text) in LINKS {
            let address = Address { sheet: leads.into(), row: at, column: across };
            let to = leads.replace('\'', "''");
            let to = format!("internal:'{to}'!{}{}", crate::place::column_letters(across), at + 1);
            sheet.write_url(row, column, Url::new(to).set_text(text)).unwrap();
            ours.link(row, column, &address, text);
        }
        let mut archive = ZipArchive::new(Cursor::new(workbook.save_to_buffer().unwrap())).unwrap();
        let mut part = String::new();
        archive.by_name("xl/worksheets/sheet1.xml").unwrap().read_to_string(&mut part).unwrap();
        let from = part.split_once("</sheetData>").unwrap().1;
        let mut written = Vec::new();
        ours.write(&mut written).unwrap();
        assert_eq!(String::from_utf8(written).unwrap(), from.split_once("<pageMargins").unwrap().0);
    }
}
