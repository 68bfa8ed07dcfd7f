//! A part as a stream of records, each of a kind and a length of its own ([MS-XLSB] 2.1.4).

use std::io::{self, Read};

use crate::grid::binary::{Bytes, wide};
use crate::grid::error::Damage;
use crate::grid::guard::PartBytes;

/// Most bytes of a record: those that are read hold one cell or one text.
const MOST_BYTES: u32 = 1024 * 1024;

/// Kinds of records ([MS-XLSB] 2.3.2).
pub(super) mod kind {
    pub const ROW: u32 = 0;
    pub const CELL_BLANK: u32 = 1;
    pub const CELL_SQUEEZED: u32 = 2;
    pub const CELL_ERROR: u32 = 3;
    pub const CELL_TRUTH: u32 = 4;
    pub const CELL_NUMBER: u32 = 5;
    pub const CELL_TEXT: u32 = 6;
    pub const CELL_SHARED_TEXT: u32 = 7;
    pub const FORMULA_TEXT: u32 = 8;
    pub const FORMULA_NUMBER: u32 = 9;
    pub const FORMULA_TRUTH: u32 = 10;
    pub const FORMULA_ERROR: u32 = 11;
    /// The kinds from here on are those from `CELL_BLANK` on without a column, in the same order:
    /// such a cell is the next one in its row.
    pub const SHORT_CELL_BLANK: u32 = 12;
    pub const SHORT_CELL_SHARED_TEXT: u32 = 18;
    pub const SHARED_TEXT: u32 = 19;
    pub const NUMBER_FORMAT: u32 = 44;
    pub const STYLE: u32 = 47;
    pub const COLUMNS: u32 = 60;
    pub const CELL_RICH_TEXT: u32 = 62;
    pub const END_OF_SHEET: u32 = 130;
    pub const END_OF_WORKBOOK: u32 = 132;
    pub const WORKBOOK_PROPERTIES: u32 = 153;
    pub const SHEET: u32 = 156;
    pub const END_OF_SHARED_TEXTS: u32 = 160;
    pub const MERGED: u32 = 176;
    pub const END_OF_STYLES: u32 = 279;
    pub const CELL_STYLES: u32 = 617;
    pub const END_OF_CELL_STYLES: u32 = 618;
}

/// One record.
pub(super) struct Record<'r> {
    pub kind: u32,
    pub bytes: Bytes<'r>,
}

/// The records of a part.
pub(super) struct Records<'p> {
    part: PartBytes<'p>,
    buffer: Vec<u8>,
}

impl<'p> Records<'p> {
    pub(super) fn of(part: PartBytes<'p>) -> Records<'p> {
        Records { part, buffer: Vec::new() }
    }

    /// The next record, which there must be: a part has one that ends it.
    pub(super) fn next(&mut self) -> Result<Record<'_>, Damage> {
        let kind = self.number(2)?;
        let length = self.number(4)?;
        if length > MOST_BYTES {
            return Err(Damage::Broken(format!("it has a record of {length} bytes")));
        }
        self.buffer.resize(length as usize, 0);
        self.part.read_exact(&mut self.buffer)?;
        Ok(Record { kind, bytes: Bytes(&self.buffer) })
    }

    /// Reads what is left, up to the last byte: only there the archive tells whether the part is as it
    /// was packed.
    pub(super) fn end(mut self) -> Result<(), Damage> {
        io::copy(&mut self.part, &mut io::sink())?;
        Ok(())
    }

    /// A number of seven bits a byte, the low ones first; the eighth bit says that another follows.
    fn number(&mut self, most_bytes: u32) -> Result<u32, Damage> {
        let mut number = 0;
        for place in 0..most_bytes {
            let mut byte = [0];
            self.part.read_exact(&mut byte)?;
            number |= u32::from(byte[0] & 0x7F) << (7 * place);
            if byte[0] & 0x80 == 0 {
                break;
            }
        }
        Ok(number)
    }
}

impl Bytes<'_> {
    /// A text after its length in UTF-16 units; a length of all ones is that of no text.
    pub(super) fn wide_text(&mut self) -> Result<String, Damage> {
        match self.u32()? {
            u32::MAX => Ok(String::new()),
            units => self.take((units as usize).saturating_mul(2)).map(wide),
        }
    }
}
