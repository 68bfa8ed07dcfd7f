//! Limits of size, checked on a workbook's own table of contents before anything is unpacked.
//!
//! A workbook is a zip archive, and a small archive can unpack to more than any memory holds. The
//! zip reader refuses a part that is larger than its table of contents says, so that reading the
//! table is enough.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::{BufReader, Read, Seek, SeekFrom};
use std::path::Path;

use quick_xml::Reader;
use zip::ZipArchive;
use zip::read::ZipFile;

use super::error::Problem;
use super::{Row, Value};

/// Most parts of a workbook.
pub(super) const MOST_PARTS: usize = 20_000;
/// Most bytes of one part, unpacked.
pub(super) const MOST_PART_BYTES: u64 = 512 * 1024 * 1024;
/// Most bytes of all parts, unpacked.
pub(super) const MOST_BYTES: u64 = 1024 * 1024 * 1024;
/// Most that a part over [`RATIO_COUNTS_FROM`] may shrink in the archive. Sheets of real cells
/// shrink by 5 to 20 times.
pub(super) const MOST_RATIO: u64 = 200;
/// Bytes of a part, unpacked, from which its ratio counts.
const RATIO_COUNTS_FROM: u64 = 50 * 1024 * 1024;
/// Most cells of a workbook that hold something.
pub(super) const MOST_CELLS: usize = 20_000_000;
/// Most bytes of text in all cells, each counted as often as it is shown.
pub(super) const MOST_TEXT_BYTES: usize = 512 * 1024 * 1024;

/// How a compound file begins: an encrypted workbook, or one in the format of 2003 and before.
const COMPOUND_FILE: [u8; 8] = [0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1];

/// The parts of a workbook that is within the limits.
pub(super) struct Package {
    archive: ZipArchive<BufReader<File>>,
    /// Position of each part by its name in lower case: some writers disagree with themselves.
    positions: BTreeMap<String, usize>,
}

/// A part of a workbook as a stream of XML.
pub(super) type Part<'p> = Reader<BufReader<ZipFile<'p, BufReader<File>>>>;

impl Package {
    /// Opens a workbook and holds its table of contents against the limits.
    pub(super) fn open(path: &Path) -> Result<Package, Problem> {
        let mut file = BufReader::new(File::open(path)?);
        let mut start = Vec::new();
        file.by_ref().take(8).read_to_end(&mut start)?;
        if start == COMPOUND_FILE {
            return Err(Problem::Locked);
        }
        file.seek(SeekFrom::Start(0))?;
        let not_a_workbook =
            |error: zip::result::ZipError| Problem::NotAWorkbook { reason: error.to_string() };
        let mut archive = ZipArchive::new(file).map_err(not_a_workbook)?;
        if archive.len() > MOST_PARTS {
            return Err(Problem::TooManyParts { found: archive.len() });
        }
        let mut positions = BTreeMap::new();
        let mut total: u64 = 0;
        for position in 0..archive.len() {
            let entry = archive.by_index_raw(position).map_err(not_a_workbook)?;
            let part = String::from_utf8_lossy(entry.name_raw()).replace('\\', "/");
            let (bytes, packed) = (entry.size(), entry.compressed_size());
            if bytes > MOST_PART_BYTES {
                return Err(Problem::TooLarge { part, bytes });
            }
            if bytes > RATIO_COUNTS_FROM && bytes / MOST_RATIO > packed {
                return Err(Problem::Swollen { part });
            }
            total += bytes;
            if total > MOST_BYTES {
                return Err(Problem::TooLargeInAll);
            }
            positions.entry(part.to_lowercase()).or_insert(position);
        }
        Ok(Package { archive, positions })
    }

    /// The part of that name, if the workbook has it.
    pub(super) fn part(&mut self, name: &str) -> Result<Option<Part<'_>>, Problem> {
        let Some(position) = self.positions.get(&name.to_lowercase()) else { return Ok(None) };
        let entry = self
            .archive
            .by_index(*position)
            .map_err(|error| Problem::Damaged { part: name.to_owned(), reason: error.to_string() })?;
        let mut part = Reader::from_reader(BufReader::new(entry));
        part.config_mut().expand_empty_elements = true;
        Ok(Some(part))
    }
}

/// What may still be read of a workbook's cells.
pub(super) struct Budget {
    cells: usize,
    text_bytes: usize,
}

impl Budget {
    /// The whole of what is allowed.
    pub(super) fn whole() -> Budget {
        Budget { cells: MOST_CELLS, text_bytes: MOST_TEXT_BYTES }
    }

    /// Takes one cell's share.
    pub(super) fn spend(&mut self, value: &Value) -> Result<(), Problem> {
        self.cells = self.cells.checked_sub(1).ok_or(Problem::TooManyCells)?;
        if let Value::Text(text) | Value::Date(text) | Value::Error(text) = value {
            self.text_bytes = self.text_bytes.checked_sub(text.len()).ok_or(Problem::TooMuchText)?;
        }
        Ok(())
    }
}

/// Puts rows and cells that a file holds out of order into order. Of two values for one cell the
/// first stays.
pub(super) fn in_order(rows: &mut Vec<Row>) {
    let rises = |rows: &[Row]| rows.windows(2).all(|pair| pair[0].row < pair[1].row);
    if !rises(rows) {
        rows.sort_by_key(|row| row.row);
        rows.dedup_by(|later, earlier| {
            let same = later.row == earlier.row;
            if same {
                earlier.cells.append(&mut later.cells);
            }
            same
        });
    }
    for row in rows {
        if !row.cells.windows(2).all(|pair| pair[0].0 < pair[1].0) {
            row.cells.sort_by_key(|cell| cell.0);
            row.cells.dedup_by_key(|cell| cell.0);
        }
    }
}
