//! The sheets put together in one file. The library makes every part of it but the sheets' rows and what
//! stands beneath them; these are put in their places here, and the parts are compressed beside each other.

use std::collections::BTreeMap;
use std::io::{self, BufReader, Read, Seek, Write};

use rayon::prelude::*;
use rust_xlsxwriter::{Workbook, Worksheet, XlsxError};
use tempfile::SpooledTempFile;
use zip::result::ZipError;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipArchive, ZipWriter};

use super::WorkbookError;
use super::beneath::Beneath;
use super::rows::Rows;
use crate::breaking::{Breaking, TemporaryFault};

/// How hard parts are compressed, from 1 to 9: at 3 a whole run takes three quarters of the time
/// that the usual 6 takes, and the workbook is a fifth larger.
const COMPRESSION: i64 = 3;

/// How hard the library compresses what is compressed here once more.
const FASTEST: u8 = 1;

/// Bytes of all that the library makes that are kept in memory, and of a compressed part; what is more is on
/// disk.
const ALL_IN_MEMORY: usize = 1 << 24;
const IN_MEMORY: usize = 1 << 20;

/// A sheet that is written.
pub(super) struct Filled {
    /// All of it but the rest.
    pub frame: Worksheet,
    pub rows: Rows,
    pub beneath: Beneath,
}

/// What of a sheet is written here.
type Ours = (Rows, Beneath);

/// Puts the sheets together in this order.
///
/// # Errors
/// If `out` or a temporary file fails.
pub(super) fn bind(
    workbook: Workbook,
    sheets: impl IntoIterator<Item = Filled>,
    out: &mut (impl Write + Seek + Send),
) -> Result<(), WorkbookError> {
    let (loose, packed) = packed(workbook, sheets).map_err(of_temporary_files)?;
    Ok(join(loose, packed, out)?)
}

/// One archive of all parts, as they are compressed.
fn join(
    mut loose: Loose,
    packed: Vec<Option<Packed>>,
    out: &mut (impl Write + Seek + Send),
) -> Result<(), XlsxError> {
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

/// A fault before anything of the file itself is written.
fn of_temporary_files(error: XlsxError) -> WorkbookError {
    match error {
        XlsxError::IoError(error) | XlsxError::ZipError(ZipError::Io(error)) => {
            TemporaryFault::from(error).into()
        }
        other => other.into(),
    }
}

/// All parts as the library makes them.
type Loose = ZipArchive<BufReader<SpooledTempFile>>;

/// A part compressed, alone in an archive of its own.
type Packed = ZipArchive<SpooledTempFile>;

/// All parts as the library makes them, and each compressed with its rows; `None` for a picture, which is
/// compressed as it is.
fn packed(
    mut workbook: Workbook,
    sheets: impl IntoIterator<Item = Filled>,
) -> Result<(Loose, Vec<Option<Packed>>), XlsxError> {
    let mut ours = BTreeMap::new();
    for (number, Filled { frame, rows, beneath }) in (1..).zip(sheets) {
        ours.insert(format!("xl/worksheets/sheet{number}.xml"), (rows, beneath));
        workbook.push_worksheet(frame);
    }
    let mut loose = SpooledTempFile::new(ALL_IN_MEMORY);
    workbook.set_zip_compression_level(FASTEST).save_to_writer(Breaking::new(&mut loose))?;
    let mut loose = ZipArchive::new(BufReader::new(loose))?;
    // Many sheets take a while to let go of.
    let ((), parts) = rayon::join(|| drop(workbook), || parts(&mut loose, ours));
    let packed = parts?.into_par_iter().with_max_len(1).map(|part| part.map(Part::packed).transpose());
    Ok((loose, packed.collect::<Result<_, XlsxError>>()?))
}

/// Every part of a file, a sheet with what of it is ours; `None` for a picture.
fn parts(loose: &mut Loose, mut ours: BTreeMap<String, Ours>) -> Result<Vec<Option<Part>>, XlsxError> {
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
        parts.push(Some(Part { ours: ours.remove(&name), name, content }));
    }
    match ours.first_key_value() {
        None => Ok(parts),
        Some((name, _)) => Err(cannot_take(name)),
    }
}

/// A sheet without a place for what of it is ours.
fn cannot_take(name: &str) -> XlsxError {
    XlsxError::ParameterError(format!("{name} cannot take its rows"))
}

/// A part of the file.
struct Part {
    name: String,
    /// What the library made of it.
    content: String,
    ours: Option<Ours>,
}

impl Part {
    fn packed(self) -> Result<Packed, XlsxError> {
        let ours = self.ours.map(|(rows, beneath)| Ok::<_, XlsxError>((rows.into_bytes()?, beneath)));
        let ours = ours.transpose()?;
        let length = ours.as_ref().map_or(0, |((_, length), beneath)| length + beneath.length());
        let options = SimpleFileOptions::default()
            .compression_method(CompressionMethod::Deflated)
            .compression_level(Some(COMPRESSION))
            .unix_permissions(0o600)
            .last_modified_time(DateTime::default())
            .large_file(u32::try_from(length + self.content.len() as u64).is_err());
        let mut archive = ZipWriter::new(Breaking::new(SpooledTempFile::new(IN_MEMORY)));
        archive.start_file(&*self.name, options)?;
        match ours {
            None => archive.write_all(self.content.as_bytes())?,
            Some(((rows, _), beneath)) => {
                let around = around(&self.content).ok_or_else(|| cannot_take(&self.name));
                let [above, between, below] = around?;
                archive.write_all(above.as_bytes())?;
                io::copy(&mut BufReader::new(rows), &mut archive)?;
                archive.write_all(between.as_bytes())?;
                beneath.write(&mut archive)?;
                archive.write_all(below.as_bytes())?;
            }
        }
        Ok(ZipArchive::new(archive.finish()?.into_inner())?)
    }
}

/// What a sheet has above its rows, between them and its blocks and links, and below these; `None` if it
/// has no place for them.
fn around(content: &str) -> Option<[&str; 3]> {
    let rows = content.find(ROWS)? + ROWS.len();
    let (above, rest) = content.split_at(rows);
    let (_, rest) = rest.split_at(rest.rfind(END_OF_ROWS)?);
    let below = BELOW.iter().find_map(|element| rest.find(element))?;
    let (between, below) = rest.split_at(below);
    Some([above, between, below])
}

/// What stands around the rows of a sheet.
const ROWS: &str = "<sheetData>";
const END_OF_ROWS: &str = "</sheetData>";

/// What can come next below its links (ISO/IEC 29500-1, section 18.3.1.99).
const BELOW: [&str; 2] = ["<printOptions", "<pageMargins"];
