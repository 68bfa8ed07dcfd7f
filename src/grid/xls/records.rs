//! A stream of records, each of a kind and a length of its own, some of which go on in records that
//! follow ([MS-XLS] 2.1.4).

use encoding_rs::Encoding;

use crate::grid::binary::{Bytes, wide};
use crate::grid::error::Damage;

/// Kinds of records ([MS-XLS] 2.3.2).
pub(super) mod kind {
    pub const FORMULA: u16 = 0x0006;
    /// The same formula under its older numbers, which some writers keep.
    pub const FORMULA_OF_1990: u16 = 0x0206;
    pub const FORMULA_OF_1992: u16 = 0x0406;
    pub const END: u16 = 0x000A;
    pub const DATE_MODE: u16 = 0x0022;
    pub const ENCRYPTED: u16 = 0x002F;
    pub const CONTINUE: u16 = 0x003C;
    pub const CODE_PAGE: u16 = 0x0042;
    pub const COLUMNS: u16 = 0x007D;
    pub const SHEET: u16 = 0x0085;
    pub const SQUEEZED_NUMBERS: u16 = 0x00BD;
    pub const BLANKS: u16 = 0x00BE;
    pub const RICH_TEXT: u16 = 0x00D6;
    pub const STYLE: u16 = 0x00E0;
    pub const MERGED: u16 = 0x00E5;
    pub const SHARED_TEXTS: u16 = 0x00FC;
    pub const SHARED_TEXT: u16 = 0x00FD;
    pub const DIMENSIONS: u16 = 0x0200;
    pub const BLANK: u16 = 0x0201;
    pub const NUMBER: u16 = 0x0203;
    pub const TEXT: u16 = 0x0204;
    pub const TRUTH_OR_ERROR: u16 = 0x0205;
    pub const FORMULA_TEXT: u16 = 0x0207;
    pub const ROW: u16 = 0x0208;
    pub const SQUEEZED_NUMBER: u16 = 0x027E;
    pub const NUMBER_FORMAT: u16 = 0x041E;
    pub const BEGIN: u16 = 0x0809;
}

/// One record, with those that it goes on in.
pub(super) struct Record<'s> {
    pub kind: u16,
    /// Its own bytes.
    pub bytes: Bytes<'s>,
    /// The bytes of the records that it goes on in.
    more: std::vec::IntoIter<&'s [u8]>,
}

/// The records of a stream from some place on.
pub(super) struct Records<'s> {
    rest: Bytes<'s>,
}

impl<'s> Records<'s> {
    pub(super) fn of(stream: &'s [u8]) -> Records<'s> {
        Records { rest: Bytes(stream) }
    }

    /// How many bytes there are still to be read.
    pub(super) fn left(&self) -> usize {
        self.rest.0.len()
    }

    /// Whether nothing but filling is left.
    pub(super) fn at_end(&self) -> bool {
        self.rest.0.get(..2).is_none_or(|kind| kind == [0, 0])
    }

    /// The next record, which there must be: whatever begins has a record that ends it.
    pub(super) fn next(&mut self) -> Result<Record<'s>, Damage> {
        let (kind, bytes) = self.single()?;
        if kind == 0 {
            return Err(Damage::Broken("it has a record of no kind".into()));
        }
        let mut more = Vec::new();
        while self.rest.0.starts_with(&kind::CONTINUE.to_le_bytes()) {
            let (_, bytes) = self.single()?;
            if !bytes.is_empty() {
                more.push(bytes);
            }
        }
        Ok(Record { kind, bytes: Bytes(bytes), more: more.into_iter() })
    }

    fn single(&mut self) -> Result<(u16, &'s [u8]), Damage> {
        let kind = self.rest.u16()?;
        let length = self.rest.u16()?;
        Ok((kind, self.rest.take(length.into())?))
    }
}

/// How a workbook writes its texts.
#[derive(Clone, Copy)]
pub(super) enum Writing {
    /// In UTF-16, or in Latin-1 where that will do (1997 to 2003).
    Unicode,
    /// In the code page of the place where it was made (1993 to 1996).
    CodePage(&'static Encoding),
}

/// What a text's flags say ([MS-XLS] 2.5.293).
const WIDE: u8 = 1;
const HAS_READING_AIDS: u8 = 4;
const IS_RICH: u8 = 8;

impl Record<'_> {
    /// Whether it goes on in another record.
    pub(super) fn goes_on(&self) -> bool {
        self.more.len() > 0
    }

    /// A text after its length in 16 bits.
    pub(super) fn text(&mut self, writing: Writing) -> Result<String, Damage> {
        let length = self.bytes.u16()?;
        self.characters(length, writing)
    }

    /// A text after its length in 8 bits.
    pub(super) fn short_text(&mut self, writing: Writing) -> Result<String, Damage> {
        let length = self.bytes.u8()?;
        self.characters(length.into(), writing)
    }

    /// A shared text, with what it says of its formats and its reading aids; `None` at the end.
    pub(super) fn shared_text(&mut self) -> Result<Option<String>, Damage> {
        if self.bytes.0.is_empty() && !self.go_on() {
            return Ok(None);
        }
        let length = self.bytes.u16()?;
        let flags = self.bytes.u8()?;
        let runs = if flags & IS_RICH != 0 { usize::from(self.bytes.u16()?) } else { 0 };
        let aids = if flags & HAS_READING_AIDS != 0 { self.bytes.u32()? as usize } else { 0 };
        let text = self.unicode(length, flags)?;
        self.skip(runs * 4)?;
        self.skip(aids)?;
        Ok(Some(text))
    }

    fn characters(&mut self, length: u16, writing: Writing) -> Result<String, Damage> {
        match writing {
            Writing::Unicode => {
                let flags = self.bytes.u8()?;
                self.unicode(length, flags)
            }
            Writing::CodePage(encoding) => {
                let bytes = self.bytes.take(length.into())?;
                Ok(encoding.decode_without_bom_handling(bytes).0.into_owned())
            }
        }
    }

    /// Characters, which may go on in further records; each of these has flags of its own.
    fn unicode(&mut self, length: u16, mut flags: u8) -> Result<String, Damage> {
        let mut text = String::new();
        let mut left = usize::from(length);
        while left > 0 {
            if self.bytes.0.is_empty() {
                if !self.go_on() {
                    return Err(Damage::breaks_off());
                }
                flags = self.bytes.u8()?;
            }
            let size = if flags & WIDE != 0 { 2 } else { 1 };
            let here = left.min(self.bytes.0.len() / size);
            if here == 0 {
                return Err(Damage::breaks_off());
            }
            let bytes = self.bytes.take(here * size)?;
            match size {
                2 => text.push_str(&wide(bytes)),
                _ => text.extend(bytes.iter().map(|byte| char::from(*byte))),
            }
            left -= here;
        }
        Ok(text)
    }

    /// Passes over bytes, wherever the record goes on.
    fn skip(&mut self, mut count: usize) -> Result<(), Damage> {
        loop {
            let here = count.min(self.bytes.0.len());
            self.bytes.take(here)?;
            count -= here;
            if count == 0 {
                return Ok(());
            }
            if !self.go_on() {
                return Err(Damage::breaks_off());
            }
        }
    }

    /// Goes on in the next record that this one goes on in, if there is one.
    fn go_on(&mut self) -> bool {
        let next = self.more.next();
        self.bytes = next.map_or(self.bytes, Bytes);
        next.is_some()
    }
}
