//! Sheets as files of every format that is read, made by hand from the formats' own descriptions.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::io::{Cursor, Write};

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use sillbook::grid::{Sheet, Value};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

/// Styles of cells, in the order in which the binary formats below hold them.
const PLAIN: u16 = 0;
const PERCENT: u16 = 1;
const DATE: u16 = 2;
/// The number formats of those styles: plain, 0.00 %, a short date (ECMA-376, 18.8.30).
const NUMBER_FORMATS: [u16; 3] = [0, 10, 14];

/// A zip archive of these parts.
pub fn packed(parts: &[(String, Vec<u8>)]) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, content) in parts {
        writer.start_file(name.as_str(), SimpleFileOptions::default()).unwrap();
        writer.write_all(content).unwrap();
    }
    writer.finish().unwrap().into_inner()
}

/// A number as the binary formats hold it, with its style.
fn number(value: &Value) -> Option<(f64, u16)> {
    match value {
        Value::Number(number) => Some((number.to_f64()?, PLAIN)),
        Value::Percent(percent) => Some(((percent / Decimal::ONE_HUNDRED).to_f64()?, PERCENT)),
        Value::Date(day) => Some((serial(day), DATE)),
        _ => None,
    }
}

/// Days from 1899-12-30 to a day of 1900 or later, as spreadsheets count them from March 1900 on.
fn serial(day: &str) -> f64 {
    let parts: Vec<i64> = day.split('-').map(|part| part.parse().unwrap()).collect();
    // Years begin in March, so that the leap day is the last.
    let (year, month) = if parts[1] > 2 { (parts[0], parts[1] - 3) } else { (parts[0] - 1, parts[1] + 9) };
    let days = 365 * year + year / 4 - year / 100 + year / 400 + (153 * month + 2) / 5 + parts[2];
    // The same sum for 1899-12-30 is 693,900.
    (days - 693_900) as f64
}

fn error_code(error: &str) -> u8 {
    match error {
        "#NULL!" => 0x00,
        "#DIV/0!" => 0x07,
        "#VALUE!" => 0x0F,
        "#REF!" => 0x17,
        "#NAME?" => 0x1D,
        "#NUM!" => 0x24,
        "#N/A" => 0x2A,
        other => panic!("no error of a spreadsheet: {other}"),
    }
}

/// Every text of a workbook once, in order.
fn texts(sheets: &[Sheet]) -> Vec<&str> {
    let mut texts: Vec<&str> = Vec::new();
    for (_, value) in sheets.iter().flat_map(|sheet| &sheet.rows).flat_map(|row| &row.cells) {
        if let Value::Text(text) = value
            && !texts.contains(&&**text)
        {
            texts.push(text);
        }
    }
    texts
}

fn place_of(texts: &[&str], text: &str) -> u32 {
    texts.iter().position(|other| *other == text).unwrap() as u32
}

/// A table of text, each field in quotation marks, of the first sheet.
pub fn csv(sheets: &[Sheet]) -> Vec<u8> {
    let sheet = &sheets[0];
    let mut text = String::new();
    let mut line = 0;
    for row in &sheet.rows {
        while line < row.row {
            text.push('\n');
            line += 1;
        }
        let last = row.cells.last().map_or(0, |cell| cell.0);
        let fields = (0..=last).map(|column| match row.value(column) {
            Some(Value::Text(text)) => format!("\"{}\"", text.replace('"', "\"\"")),
            Some(Value::Number(number)) => number.to_string(),
            Some(Value::Percent(percent)) => format!("{percent}%"),
            Some(Value::Date(text) | Value::Error(text)) => text.to_string(),
            Some(Value::Truth(truth)) => truth.to_string().to_uppercase(),
            Some(Value::NoResult) | None => String::new(),
        });
        text.push_str(&fields.collect::<Vec<_>>().join(","));
    }
    text.into_bytes()
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('"', "&quot;")
}

/// An OpenDocument spreadsheet (ISO/IEC 26300).
pub fn ods(sheets: &[Sheet]) -> Vec<u8> {
    let mut content =
        "<office:document-content><office:automatic-styles/><office:body><office:spreadsheet>".to_owned();
    for sheet in sheets {
        write!(content, "<table:table table:name=\"{}\">", escaped(&sheet.name)).unwrap();
        let mut next = 0;
        for row in &sheet.rows {
            if row.row > next {
                let blank = row.row - next;
                write!(content, "<table:table-row table:number-rows-repeated=\"{blank}\"><table:table-cell table:number-columns-repeated=\"1024\"/></table:table-row>").unwrap();
            }
            next = row.row + 1;
            content.push_str("<table:table-row>");
            let mut column = 0;
            for (at, value) in &row.cells {
                if *at > column {
                    write!(content, "<table:table-cell table:number-columns-repeated=\"{}\"/>", at - column)
                        .unwrap();
                }
                column = at + 1;
                let merged =
                    sheet.merged.iter().find(|block| (block.rows.0, block.columns.0) == (row.row, *at));
                let span = merged.map_or(String::new(), |block| {
                    let (rows, columns) =
                        (block.rows.1 - block.rows.0 + 1, block.columns.1 - block.columns.0 + 1);
                    format!(
                        " table:number-rows-spanned=\"{rows}\" table:number-columns-spanned=\"{columns}\""
                    )
                });
                let (attributes, shown) = ods_value(value);
                let shown = shown.map_or(String::new(), |text| {
                    text.split('\n').map(|line| format!("<text:p>{}</text:p>", escaped(line))).collect()
                });
                write!(content, "<table:table-cell{span}{attributes}>{shown}</table:table-cell>").unwrap();
            }
            content.push_str("</table:table-row>");
        }
        content.push_str("</table:table>");
    }
    content.push_str("</office:spreadsheet></office:body></office:document-content>");
    packed(&[
        ("mimetype".to_owned(), b"application/vnd.oasis.opendocument.spreadsheet".to_vec()),
        ("content.xml".to_owned(), content.into_bytes()),
    ])
}

/// A cell's attributes, and the text that it shows.
fn ods_value(value: &Value) -> (String, Option<String>) {
    let typed = |kind: &str, name: &str, value: String| {
        (format!(" office:value-type=\"{kind}\" office:{name}=\"{value}\""), Some(value))
    };
    match value {
        Value::Text(text) => (" office:value-type=\"string\"".to_owned(), Some(text.to_string())),
        Value::Number(number) => typed("float", "value", number.to_string()),
        Value::Percent(percent) => typed("percentage", "value", (percent / Decimal::ONE_HUNDRED).to_string()),
        Value::Date(day) => typed("date", "date-value", day.to_string()),
        Value::Truth(truth) => typed("boolean", "boolean-value", truth.to_string()),
        Value::Error(error) => (
            " table:formula=\"of:=1/0\" office:value-type=\"string\" calcext:value-type=\"error\"".to_owned(),
            Some(error.to_string()),
        ),
        Value::NoResult => (" table:formula=\"of:=1+1\"".to_owned(), None),
    }
}

/// A record of .xlsb: its kind and its length in seven bits a byte, then its bytes.
fn xlsb_record(out: &mut Vec<u8>, kind: u32, bytes: &[u8]) {
    for mut number in [kind, bytes.len() as u32] {
        while number > 0x7F {
            out.push((number & 0x7F) as u8 | 0x80);
            number >>= 7;
        }
        out.push(number as u8);
    }
    out.extend(bytes);
}

fn wide(text: &str) -> Vec<u8> {
    let units: Vec<u16> = text.encode_utf16().collect();
    let mut bytes = (units.len() as u32).to_le_bytes().to_vec();
    bytes.extend(units.into_iter().flat_map(u16::to_le_bytes));
    bytes
}

fn joined(parts: &[&[u8]]) -> Vec<u8> {
    parts.concat()
}

/// A workbook in the binary form of Office Open XML ([MS-XLSB]).
pub fn xlsb(sheets: &[Sheet]) -> Vec<u8> {
    let texts = texts(sheets);
    let relation = |id: &str, kind: &str, target: &str| {
        format!("<Relationship Id=\"{id}\" Type=\"http://x/{kind}\" Target=\"{target}\"/>")
    };
    let mut relations =
        relation("t", "sharedStrings", "sharedStrings.bin") + &relation("s", "styles", "styles.bin");
    let (mut book, mut parts) = (Vec::new(), Vec::new());
    xlsb_record(&mut book, 131, &[]);
    for (number, sheet) in sheets.iter().enumerate() {
        relations += &relation(&format!("r{number}"), "worksheet", &format!("worksheets/sheet{number}.bin"));
        let id = wide(&format!("r{number}"));
        xlsb_record(&mut book, 156, &joined(&[&[0; 4], &[number as u8, 0, 0, 0], &id, &wide(&sheet.name)]));
        parts.push((format!("xl/worksheets/sheet{number}.bin"), xlsb_sheet(sheet, &texts)));
    }
    xlsb_record(&mut book, 132, &[]);
    let mut shared = Vec::new();
    xlsb_record(&mut shared, 159, &[0xFF; 8]);
    for text in &texts {
        xlsb_record(&mut shared, 19, &joined(&[&[0], &wide(text)]));
    }
    xlsb_record(&mut shared, 160, &[]);
    let mut styles = Vec::new();
    xlsb_record(&mut styles, 617, &[3, 0, 0, 0]);
    for format in NUMBER_FORMATS {
        xlsb_record(&mut styles, 47, &joined(&[&[0, 0], &format.to_le_bytes(), &[0; 12]]));
    }
    xlsb_record(&mut styles, 618, &[]);
    let root = relation("r", "officeDocument", "xl/workbook.bin");
    for (name, relations) in [("_rels/.rels", root), ("xl/_rels/workbook.bin.rels", relations)] {
        parts.push((name.to_owned(), format!("<Relationships>{relations}</Relationships>").into_bytes()));
    }
    parts.push(("xl/workbook.bin".to_owned(), book));
    parts.push(("xl/sharedStrings.bin".to_owned(), shared));
    parts.push(("xl/styles.bin".to_owned(), styles));
    packed(&parts)
}

fn xlsb_sheet(sheet: &Sheet, texts: &[&str]) -> Vec<u8> {
    let mut out = Vec::new();
    xlsb_record(&mut out, 129, &[]);
    for (first, last) in &sheet.hidden.columns {
        let (first, last) = (u32::from(*first).to_le_bytes(), u32::from(*last).to_le_bytes());
        xlsb_record(&mut out, 60, &joined(&[&first, &last, &[0; 8], &[1, 0]]));
    }
    for row in &sheet.rows {
        let hidden = sheet.hidden.rows.iter().any(|(first, last)| (*first..=*last).contains(&row.row));
        xlsb_record(
            &mut out,
            0,
            &joined(&[&row.row.to_le_bytes(), &[0; 7], &[if hidden { 0x10 } else { 0 }, 0]]),
        );
        for (column, value) in &row.cells {
            let head =
                |style: u16| joined(&[&u32::from(*column).to_le_bytes(), &u32::from(style).to_le_bytes()]);
            match value {
                Value::Text(text) => {
                    let at = place_of(texts, text).to_le_bytes();
                    xlsb_record(&mut out, 7, &joined(&[&head(PLAIN), &at]));
                }
                Value::Truth(truth) => {
                    xlsb_record(&mut out, 4, &joined(&[&head(PLAIN), &[u8::from(*truth)]]))
                }
                Value::Error(error) => {
                    xlsb_record(&mut out, 3, &joined(&[&head(PLAIN), &[error_code(error)]]))
                }
                value => {
                    if let Some((number, style)) = number(value) {
                        xlsb_record(&mut out, 5, &joined(&[&head(style), &number.to_le_bytes()]));
                    }
                }
            }
        }
    }
    for block in &sheet.merged {
        let columns = [block.columns.0, block.columns.1].map(u32::from);
        let ends = [block.rows.0, block.rows.1, columns[0], columns[1]];
        xlsb_record(&mut out, 176, &ends.map(u32::to_le_bytes).concat());
    }
    xlsb_record(&mut out, 130, &[]);
    out
}

/// A record of .xls: its kind and its length in 16 bits each, then its bytes, which go on in further
/// records if they are many.
fn xls_record(out: &mut Vec<u8>, kind: u16, bytes: &[u8]) {
    out.extend(kind.to_le_bytes());
    out.extend((bytes.len() as u16).to_le_bytes());
    out.extend(bytes);
}

fn xls_text(text: &str) -> Vec<u8> {
    let units: Vec<u16> = text.encode_utf16().collect();
    let mut bytes = (units.len() as u16).to_le_bytes().to_vec();
    bytes.push(1);
    bytes.extend(units.into_iter().flat_map(u16::to_le_bytes));
    bytes
}

/// A workbook of 1997 to 2003 ([MS-XLS]) in a compound file.
pub fn xls(sheets: &[Sheet]) -> Vec<u8> {
    compound(&xls_stream(sheets))
}

/// The stream of records that holds a workbook.
pub fn xls_stream(sheets: &[Sheet]) -> Vec<u8> {
    const BEGIN: u16 = 0x0809;
    const END: u16 = 0x000A;
    let texts = texts(sheets);
    let mut out = Vec::new();
    xls_record(&mut out, BEGIN, &[0, 6, 5, 0, 0, 0, 0, 0]);
    for format in NUMBER_FORMATS {
        xls_record(&mut out, 0x00E0, &joined(&[&[0, 0], &format.to_le_bytes(), &[0; 16]]));
    }
    let mut starts = Vec::new();
    for sheet in sheets {
        let name = xls_text(&sheet.name);
        // A short text has its length in eight bits.
        let name = joined(&[&name[..1], &name[2..]]);
        starts.push(out.len() + 4);
        xls_record(&mut out, 0x0085, &joined(&[&[0; 4], &[0, 0], &name]));
    }
    let count = (texts.len() as u32).to_le_bytes();
    // Every text begins a record of its own but the first, so that the table goes on a dozen times.
    let mut kind = 0x00FC;
    let mut bytes = joined(&[&count, &count]);
    for text in &texts {
        let text = xls_text(text);
        if bytes.len() + text.len() > 200 {
            xls_record(&mut out, kind, &bytes);
            (kind, bytes) = (0x003C, Vec::new());
        }
        bytes.extend(text);
    }
    xls_record(&mut out, kind, &bytes);
    xls_record(&mut out, END, &[]);
    for (sheet, at) in sheets.iter().zip(starts) {
        let start = (out.len() as u32).to_le_bytes();
        out[at..at + 4].copy_from_slice(&start);
        xls_record(&mut out, BEGIN, &[0, 6, 0x10, 0, 0, 0, 0, 0]);
        xls_cells(&mut out, sheet, &texts);
        xls_record(&mut out, END, &[]);
    }
    out
}

fn xls_cells(out: &mut Vec<u8>, sheet: &Sheet, texts: &[&str]) {
    for (first, last) in &sheet.hidden.columns {
        xls_record(
            out,
            0x007D,
            &joined(&[&first.to_le_bytes(), &last.to_le_bytes(), &[0; 4], &[1, 0], &[0; 2]]),
        );
    }
    let rows = sheet.rows.first().map_or(0, |row| row.row)..sheet.rows.last().map_or(0, |row| row.row + 1);
    let columns =
        sheet.rows.iter().flat_map(|row| &row.cells).map(|cell| cell.0 + 1).max().unwrap_or_default();
    let rows = [rows.start, rows.end].map(u32::to_le_bytes).concat();
    xls_record(out, 0x0200, &joined(&[&rows, &[0, 0], &columns.to_le_bytes(), &[0, 0]]));
    let hidden = |row| sheet.hidden.rows.iter().any(|(first, last)| (*first..=*last).contains(&row));
    let listed = sheet.rows.iter().map(|row| row.row);
    let listed: BTreeSet<u32> =
        listed.chain(sheet.hidden.rows.iter().flat_map(|run| run.0..=run.1)).collect();
    for row in listed {
        let cells = sheet.rows.iter().find(|other| other.row == row).map_or(&[][..], |row| &row.cells);
        let ends = [cells.first().map_or(0, |cell| cell.0), cells.last().map_or(0, |cell| cell.0 + 1)];
        let ends = ends.map(u16::to_le_bytes).concat();
        let flags = [if hidden(row) { 0x20 } else { 0 }, 1, 15, 0];
        xls_record(out, 0x0208, &joined(&[&(row as u16).to_le_bytes(), &ends, &[0; 6], &flags]));
    }
    for row in &sheet.rows {
        for (column, value) in &row.cells {
            let head = |style: u16| [row.row as u16, *column, style].map(u16::to_le_bytes).concat();
            match value {
                Value::Text(text) => {
                    let at = place_of(texts, text).to_le_bytes();
                    xls_record(out, 0x00FD, &joined(&[&head(PLAIN), &at]));
                }
                Value::Truth(truth) => {
                    xls_record(out, 0x0205, &joined(&[&head(PLAIN), &[u8::from(*truth), 0]]))
                }
                Value::Error(error) => {
                    xls_record(out, 0x0205, &joined(&[&head(PLAIN), &[error_code(error), 1]]))
                }
                value => {
                    if let Some((number, style)) = number(value) {
                        xls_record(out, 0x0203, &joined(&[&head(style), &number.to_le_bytes()]));
                    }
                }
            }
        }
    }
    if !sheet.merged.is_empty() {
        let mut bytes = (sheet.merged.len() as u16).to_le_bytes().to_vec();
        for block in &sheet.merged {
            let ends = [block.rows.0 as u16, block.rows.1 as u16, block.columns.0, block.columns.1];
            bytes.extend(ends.map(u16::to_le_bytes).concat());
        }
        xls_record(out, 0x00E5, &bytes);
    }
}

/// A compound file of sectors of 512 bytes whose one stream is `Workbook` ([MS-CFB]).
pub fn compound(stream: &[u8]) -> Vec<u8> {
    const SECTOR: usize = 512;
    const END: u32 = 0xFFFF_FFFE;
    const FREE: u32 = 0xFFFF_FFFF;
    const TABLE: u32 = 0xFFFF_FFFD;
    // Shorter streams stand elsewhere.
    let mut stream = stream.to_vec();
    stream.resize(stream.len().max(4096).next_multiple_of(SECTOR), 0);
    let directory = stream.len() / SECTOR;
    let mut tables = 1;
    while tables * SECTOR / 4 < directory + 1 + tables {
        tables += 1;
    }

    let mut next: Vec<u32> = (1..directory as u32).collect();
    next.extend([END, END]);
    next.extend(vec![TABLE; tables]);
    next.resize(tables * SECTOR / 4, FREE);

    let entry = |name: &str, kind: u8, start: u32, length: usize| {
        let units: Vec<u8> = name.encode_utf16().flat_map(u16::to_le_bytes).collect();
        let mut entry = units.clone();
        entry.resize(64, 0);
        entry.extend((units.len() as u16 + 2).to_le_bytes());
        entry.extend([kind, 1]);
        entry.extend([FREE, if kind == 5 { 1 } else { FREE }, FREE].map(u32::to_le_bytes).concat());
        entry.resize(116, 0);
        let child = [start, length as u32, 0].map(u32::to_le_bytes).concat();
        entry.extend(child);
        entry
    };
    let mut entries = [entry("Root Entry", 5, END, 0), entry("Workbook", 2, 0, stream.len())].concat();
    entries.resize(SECTOR, 0);

    let mut file = vec![0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1];
    file.resize(24, 0);
    for half in [0x3E_u16, 3, 0xFFFE, 9, 6] {
        file.extend(half.to_le_bytes());
    }
    file.resize(44, 0);
    for whole in [tables as u32, directory as u32, 0, 4096, END, 0, END, 0] {
        file.extend(whole.to_le_bytes());
    }
    for table in 0..109 {
        let number = if table < tables { (directory + 1 + table) as u32 } else { FREE };
        file.extend(number.to_le_bytes());
    }
    file.extend(stream);
    file.extend(entries);
    file.extend(next.into_iter().flat_map(u32::to_le_bytes));
    file
}
