//! A file's bytes, and limits of size, checked on a workbook's own table of contents before anything
//! is unpacked. Only what is read counts: sheets and pictures that are passed over may be of any size.
//!
//! A file is read once and whole, so that its cells and its fingerprint are of the same bytes,
//! whatever becomes of it meanwhile. A workbook is a zip archive, and a small archive can unpack to more than any memory holds. The
//! zip reader refuses a part that is larger than its table of contents says, so that reading the
//! table is enough.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{BufReader, Cursor, Read};
use std::path::Path;

use zip::ZipArchive;
use zip::read::ZipFile;

use super::Value;
use super::error::{Damage, Problem};
use super::limits::{
    MOST_BYTES, MOST_CELLS, MOST_PACKED_BYTES, MOST_PART_BYTES, MOST_PARTS, MOST_RATIO, MOST_TEXT_BYTES,
    RATIO_COUNTS_FROM,
};

/// The parts of a workbook.
pub(super) struct Package {
    archive: ZipArchive<Cursor<Vec<u8>>>,
    /// Position of each part by its name in lower case: some writers disagree with themselves.
    positions: BTreeMap<String, usize>,
    /// Bytes that may still be unpacked: a part may be asked for more than once.
    left: u64,
}

/// How each entry of an archive's table of contents begins.
const ENTRY: &[u8] = b"PK\x01\x02";

/// A part of a workbook as a stream of bytes.
pub(super) type PartBytes<'p> = BufReader<ZipFile<'p, Cursor<Vec<u8>>>>;

impl Package {
    /// Opens a workbook of no more parts than the limit. Two parts of one name are two workbooks in one, of
    /// which a reader would see either.
    pub(super) fn open(file: Vec<u8>) -> Result<Package, Problem> {
        // The zip reader makes an entry of each before it says how many there are.
        let found = file.windows(ENTRY.len()).filter(|bytes| *bytes == ENTRY).count();
        if found > MOST_PARTS {
            return Err(Problem::TooManyParts { found });
        }
        let mut archive = ZipArchive::new(Cursor::new(file)).map_err(|_| Problem::Incomplete)?;
        if archive.has_duplicate_names() {
            return Err(Problem::Incomplete);
        }
        let mut positions = BTreeMap::new();
        for position in 0..archive.len() {
            let entry = archive.by_index_raw(position).map_err(|_| Problem::Incomplete)?;
            positions.entry(part_name(entry.name_raw()).to_lowercase()).or_insert(position);
        }
        Ok(Package { archive, positions, left: MOST_BYTES })
    }

    /// Whether the workbook has a part of that name.
    pub(super) fn has(&self, name: &str) -> bool {
        self.positions.contains_key(&name.to_lowercase())
    }

    /// The bytes of the part of that name, if the workbook has it and they are within the limits.
    pub(super) fn bytes(&mut self, name: &str) -> Result<Option<PartBytes<'_>>, Problem> {
        let Some(position) = self.positions.get(&name.to_lowercase()) else { return Ok(None) };
        let does_not_unpack = || Damage::does_not_unpack().in_part(name);
        let entry = self.archive.by_index(*position).map_err(|_| does_not_unpack())?;
        let (bytes, packed) = (entry.size(), entry.compressed_size());
        if bytes > MOST_PART_BYTES {
            return Err(Problem::TooLarge { part: part_name(entry.name_raw()), bytes });
        }
        if bytes > RATIO_COUNTS_FROM && bytes / MOST_RATIO > packed {
            return Err(Problem::Swollen { part: part_name(entry.name_raw()) });
        }
        self.left = self.left.checked_sub(bytes).ok_or(Problem::TooLargeInAll)?;
        Ok(Some(BufReader::new(entry)))
    }
}

/// The name of a part, whichever way its slashes lean.
fn part_name(raw: &[u8]) -> String {
    String::from_utf8_lossy(raw).replace('\\', "/")
}

/// What a name stands for, which must be a file: to open a pipe is to wait for whoever fills it.
pub(super) fn is_file(path: &Path) -> Result<(), Problem> {
    let kind = fs::metadata(path)?;
    match (kind.is_file(), kind.is_dir()) {
        (true, _) => Ok(()),
        (false, true) => Err(Problem::Folder),
        (false, false) => Err(Problem::NoFile),
    }
}

/// All bytes of a file.
pub(super) fn whole_file(path: &Path) -> Result<Vec<u8>, Problem> {
    let file = File::open(path)?;
    let length = file.metadata()?.len().min(MOST_PACKED_BYTES);
    let mut bytes = Vec::with_capacity(usize::try_from(length).unwrap_or_default());
    file.take(MOST_PACKED_BYTES + 1).read_to_end(&mut bytes)?;
    within(MOST_PACKED_BYTES, &bytes).map(|()| bytes)
}

/// Holds a file against its limit.
pub(super) fn within(limit: u64, file: &[u8]) -> Result<(), Problem> {
    if file.len() as u64 > limit { Err(Problem::TooLargeAFile { limit }) } else { Ok(()) }
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
