//! Limits of size, checked on a workbook's own table of contents before anything is unpacked.
//!
//! A workbook is a zip archive, and a small archive can unpack to more than any memory holds. The
//! zip reader refuses a part that is larger than its table of contents says, so that reading the
//! table is enough.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::{BufReader, Read};
use std::path::Path;

use zip::ZipArchive;
use zip::read::ZipFile;

use super::Value;
use super::error::{Damage, Problem};
use super::limits::{
    MOST_BYTES, MOST_CELLS, MOST_FILE_BYTES, MOST_PART_BYTES, MOST_PARTS, MOST_RATIO, MOST_TEXT_BYTES,
    RATIO_COUNTS_FROM,
};

/// The parts of a workbook that is within the limits.
pub(super) struct Package {
    archive: ZipArchive<BufReader<File>>,
    /// Position and size of each part by its name in lower case: some writers disagree with
    /// themselves.
    positions: BTreeMap<String, (usize, u64)>,
    /// Bytes that may still be unpacked: a part may be asked for more than once.
    left: u64,
}

/// A part of a workbook as a stream of bytes.
pub(super) type PartBytes<'p> = BufReader<ZipFile<'p, BufReader<File>>>;

impl Package {
    /// Opens a workbook and holds its table of contents against the limits.
    pub(super) fn open(path: &Path) -> Result<Package, Problem> {
        let file = BufReader::new(File::open(path)?);
        let mut archive = ZipArchive::new(file).map_err(|_| Problem::Incomplete)?;
        if archive.len() > MOST_PARTS {
            return Err(Problem::TooManyParts { found: archive.len() });
        }
        let mut positions = BTreeMap::new();
        let mut left = MOST_BYTES;
        for position in 0..archive.len() {
            let entry = archive.by_index_raw(position).map_err(|_| Problem::Incomplete)?;
            let part = String::from_utf8_lossy(entry.name_raw()).replace('\\', "/");
            let (bytes, packed) = (entry.size(), entry.compressed_size());
            if bytes > MOST_PART_BYTES {
                return Err(Problem::TooLarge { part, bytes });
            }
            if bytes > RATIO_COUNTS_FROM && bytes / MOST_RATIO > packed {
                return Err(Problem::Swollen { part });
            }
            left = left.checked_sub(bytes).ok_or(Problem::TooLargeInAll)?;
            positions.entry(part.to_lowercase()).or_insert((position, bytes));
        }
        Ok(Package { archive, positions, left: MOST_BYTES })
    }

    /// Whether the workbook has a part of that name.
    pub(super) fn has(&self, name: &str) -> bool {
        self.positions.contains_key(&name.to_lowercase())
    }

    /// The bytes of the part of that name, if the workbook has it.
    pub(super) fn bytes(&mut self, name: &str) -> Result<Option<PartBytes<'_>>, Problem> {
        let Some((position, bytes)) = self.positions.get(&name.to_lowercase()) else { return Ok(None) };
        self.left = self.left.checked_sub(*bytes).ok_or(Problem::TooLargeInAll)?;
        let entry = self.archive.by_index(*position).map_err(|_| Damage::does_not_unpack().in_part(name))?;
        Ok(Some(BufReader::new(entry)))
    }
}

/// A whole file that is not packed.
pub(super) fn whole_file(path: &Path) -> Result<Vec<u8>, Problem> {
    let mut bytes = Vec::new();
    File::open(path)?.take(MOST_FILE_BYTES + 1).read_to_end(&mut bytes)?;
    if bytes.len() as u64 > MOST_FILE_BYTES { Err(Problem::TooLargeAFile) } else { Ok(bytes) }
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
        match value {
            Value::Text(text) | Value::Date(text) | Value::Error(text) => self.keep(text),
            _ => self.keep(""),
        }
    }

    /// Takes the share of a text that cells refer to.
    pub(super) fn keep(&mut self, text: &str) -> Result<(), Problem> {
        self.cells = self.cells.checked_sub(1).ok_or(Problem::TooManyCells)?;
        self.text_bytes = self.text_bytes.checked_sub(text.len()).ok_or(Problem::TooMuchText)?;
        Ok(())
    }
}
