//! The sheets put together in one file. The library writes the file with all that a sheet has beside its
//! rows: columns, links, merged blocks, pictures, page set-up. Where the rows are on disk, its part of the
//! file is compressed here, beside the others, with the rows in their place.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::{self, BufReader, Read, Seek, Write};

use rayon::prelude::*;
use rust_xlsxwriter::{Workbook, Worksheet, XlsxError};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipArchive, ZipWriter};

use super::rows::Rows;

/// How hard parts are compressed, from 1 to 9: at 3 a whole run takes three quarters of the time
/// that the usual 6 takes, and the workbook is a fifth larger.
const COMPRESSION: u8 = 3;

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
    workbook.set_zip_compression_level(COMPRESSION);
    let mut rows = BTreeMap::new();
    for (number, sheet) in (1..).zip(sheets) {
        rows.extend(sheet.rows.map(|rows| (format!("xl/worksheets/sheet{number}.xml"), rows)));
        workbook.push_worksheet(sheet.frame);
    }
    let mut file = tempfile::tempfile()?;
    workbook.save_to_writer(&mut file)?;
    drop(workbook);
    let mut frames = ZipArchive::new(BufReader::new(file))?;
    let framed: Vec<Framed> = rows
        .into_iter()
        .map(|(part, rows)| {
            let mut frame = String::new();
            frames.by_name(&part)?.read_to_string(&mut frame)?;
            Ok(Framed { part, frame, rows })
        })
        .collect::<Result<_, XlsxError>>()?;
    let mut full: BTreeMap<String, ZipArchive<File>> =
        framed.into_par_iter().with_max_len(1).map(Framed::compressed).collect::<Result<_, XlsxError>>()?;
    let mut whole = ZipWriter::new(out);
    for place in 0..frames.len() {
        let frame = frames.by_index_raw(place)?;
        match full.get_mut(&*frame.name()?) {
            Some(full) => whole.raw_copy_file(full.by_index_raw(0)?)?,
            None => whole.raw_copy_file(frame)?,
        }
    }
    whole.finish()?;
    Ok(())
}

/// A sheet's part of the file.
struct Framed {
    /// Its name in the file.
    part: String,
    /// The part without the rows.
    frame: String,
    rows: Rows,
}

impl Framed {
    /// The part with its rows, alone in an archive of its own.
    fn compressed(self) -> Result<(String, ZipArchive<File>), XlsxError> {
        const ROWS: [&str; 2] = ["<sheetData>", "</sheetData>"];
        let [begin, end] = ROWS;
        let (before, rest) = self.frame.split_once(begin).unwrap_or((&self.frame, ""));
        let (_, after) = rest.rsplit_once(end).unwrap_or_default();
        let rows = self.rows.into_file()?;
        let options = SimpleFileOptions::default()
            .compression_method(CompressionMethod::Deflated)
            .compression_level(Some(COMPRESSION.into()))
            .last_modified_time(DateTime::default())
            .large_file(u32::try_from(rows.metadata()?.len() + self.frame.len() as u64).is_err());
        let mut archive = ZipWriter::new(tempfile::tempfile()?);
        archive.start_file(&*self.part, options)?;
        archive.write_all(before.as_bytes())?;
        archive.write_all(begin.as_bytes())?;
        io::copy(&mut BufReader::new(rows), &mut archive)?;
        archive.write_all(end.as_bytes())?;
        archive.write_all(after.as_bytes())?;
        Ok((self.part, ZipArchive::new(archive.finish()?)?))
    }
}
