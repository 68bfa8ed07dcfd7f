//! The sheets put together in one file. The library makes every part of it but the rows that are on disk;
//! they are put in their place here, and the parts are compressed beside each other.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::{self, BufReader, Read, Seek, Write};

use rayon::prelude::*;
use rust_xlsxwriter::{Workbook, Worksheet, XlsxError};
use tempfile::SpooledTempFile;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipArchive, ZipWriter};

use super::rows::Rows;
use crate::breaking::Breaking;

/// How hard parts are compressed, from 1 to 9: at 3 a whole run takes three quarters of the time
/// that the usual 6 takes, and the workbook is a fifth larger.
const COMPRESSION: i64 = 3;

/// How hard the library compresses what is compressed here once more.
const FASTEST: u8 = 1;

/// Bytes of a compressed part that are kept in memory; a larger one is on disk.
const IN_MEMORY: usize = 1 << 20;

/// A sheet that is written.
pub(super) struct Filled {
    /// The sheet, or all of it but its rows.
    pub frame: Worksheet,
    /// Its rows, where they are on disk.
    pub rows: Option<Rows>,
}

/// Puts the sheets together in this order.
///
/// # Errors
/// If `out` or a temporary file fails.
pub(super) fn bind(
    mut workbook: Workbook,
    sheets: impl IntoIterator<Item = Filled>,
    out: &mut (impl Write + Seek + Send),
) -> Result<(), XlsxError> {
    let mut rows = BTreeMap::new();
    for (number, sheet) in (1..).zip(sheets) {
        rows.extend(sheet.rows.map(|rows| (format!("xl/worksheets/sheet{number}.xml"), rows)));
        workbook.push_worksheet(sheet.frame);
    }
    let mut loose = tempfile::tempfile()?;
    workbook.set_zip_compression_level(FASTEST).save_to_writer(Breaking::new(&mut loose))?;
    let mut loose = ZipArchive::new(BufReader::new(loose))?;
    // Many sheets take a while to let go of.
    let ((), parts) = rayon::join(|| drop(workbook), || parts(&mut loose, rows));
    let packed = parts?.into_par_iter().with_max_len(1).map(|part| part.map(Part::packed).transpose());
    let packed = packed.collect::<Result<Vec<_>, XlsxError>>()?;
    let mut whole = ZipWriter::new(out);
    for (place, part) in packed.into_iter().enumerate() {
        match part {
            Some(mut part) => whole.raw_copy_file(part.by_index_raw(0)?)?,
            None => whole.raw_copy_file(loose.by_index_raw(place)?)?,
        }
    }
    whole.finish()?;
    Ok(())
}

/// Every part of a file, with the rows that are its own; `None` for a picture, which is compressed as it is.
fn parts(
    loose: &mut ZipArchive<BufReader<File>>,
    mut rows: BTreeMap<String, Rows>,
) -> Result<Vec<Option<Part>>, XlsxError> {
    let mut parts = Vec::with_capacity(loose.len());
    for place in 0..loose.len() {
        let mut file = loose.by_index(place)?;
        if file.compression() == CompressionMethod::Stored {
            parts.push(None);
            continue;
        }
        let name = file.name()?.into_owned();
        let mut content = String::new();
        file.read_to_string(&mut content)?;
        parts.push(Some(Part { rows: rows.remove(&name), name, content }));
    }
    Ok(parts)
}

/// A part of the file.
struct Part {
    name: String,
    /// All of it but the rows that are on disk.
    content: String,
    rows: Option<Rows>,
}

impl Part {
    /// The part compressed, alone in an archive of its own.
    fn packed(self) -> Result<ZipArchive<SpooledTempFile>, XlsxError> {
        /// What stands around the rows of a sheet.
        const ROWS: [&str; 2] = ["<sheetData>", "</sheetData>"];
        let rows = self.rows.map(Rows::into_file).transpose()?;
        let length = rows.as_ref().map(|rows| rows.metadata()).transpose()?.map_or(0, |rows| rows.len());
        let options = SimpleFileOptions::default()
            .compression_method(CompressionMethod::Deflated)
            .compression_level(Some(COMPRESSION))
            .unix_permissions(0o600)
            .last_modified_time(DateTime::default())
            .large_file(u32::try_from(length + self.content.len() as u64).is_err());
        let mut archive = ZipWriter::new(Breaking::new(SpooledTempFile::new(IN_MEMORY)));
        archive.start_file(&*self.name, options)?;
        match rows {
            None => archive.write_all(self.content.as_bytes())?,
            Some(rows) => {
                let [begin, end] = ROWS;
                let parted = self.content.split_once(begin).zip(self.content.rsplit_once(end));
                let cannot_take = || XlsxError::ParameterError(format!("{} cannot take its rows", self.name));
                let ((before, _), (_, after)) = parted.ok_or_else(cannot_take)?;
                archive.write_all(before.as_bytes())?;
                archive.write_all(begin.as_bytes())?;
                io::copy(&mut BufReader::new(rows), &mut archive)?;
                archive.write_all(end.as_bytes())?;
                archive.write_all(after.as_bytes())?;
            }
        }
        Ok(ZipArchive::new(archive.finish()?.into_inner())?)
    }
}
