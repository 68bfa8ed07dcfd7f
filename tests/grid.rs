//! Files to cells: what a spreadsheet program writes, and what only an ill-meaning one would.

use std::fs::{self, File};
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use rust_xlsxwriter::{ExcelDateTime, Format, Formula, Workbook};
use sillbook::grid::{self, Block, Grid, GridError, Hidden, Value};
use sillbook::place::Sheets;
use tempfile::TempDir;
use zip::write::SimpleFileOptions;
use zip::{ZipArchive, ZipWriter};

fn read(path: &Path) -> Result<(Grid, Sheets), GridError> {
    let mut sheets = Sheets::default();
    grid::read(path, &mut sheets).map(|grid| (grid, sheets))
}

/// Every cell with its address, as `Openings!A1 Text("W1")`.
fn cells(path: &Path) -> Vec<String> {
    let (grid, sheets) = read(path).unwrap_or_else(|error| panic!("{error}"));
    let mut shown = Vec::new();
    for sheet in &grid.sheets {
        for row in &sheet.rows {
            for (column, value) in &row.cells {
                let value = match value {
                    Value::Number(number) => number.to_string(),
                    Value::Percent(percent) => format!("{percent} %"),
                    other => format!("{other:?}"),
                };
                shown.push(format!("{} {value}", sheets.show(sheet.at(row.row, *column))));
            }
        }
    }
    shown
}

/// The message and hint of a file that is refused.
fn refusal(path: &Path) -> String {
    match read(path) {
        Ok(_) => panic!("{} was read", path.display()),
        Err(error) => {
            let named = error.to_string().replace(&path.display().to_string(), "FILE");
            assert_ne!(named, error.to_string(), "the message names the file");
            format!("{named} ({})", error.hint())
        }
    }
}

const ROOT_RELATIONS: &str = r#"<Relationships><Relationship Id="r1" Type="http://x/officeDocument" Target="xl/workbook.xml"/></Relationships>"#;
const RELATIONS: &str = r#"<Relationships><Relationship Id="r1" Type="http://x/worksheet" Target="worksheets/sheet1.xml"/>
    <Relationship Id="r2" Type="http://x/sharedStrings" Target="/xl/sharedStrings.xml"/></Relationships>"#;
const WORKBOOK: &str =
    r#"<workbook xmlns:r="r"><sheets><sheet name="A &amp; B" sheetId="1" r:id="r1"/></sheets></workbook>"#;

/// A workbook made by hand, with the contents of its one sheet.
fn by_hand(folder: &TempDir, sheet: &str, shared_strings: &str) -> PathBuf {
    with_part(folder, &format!("<worksheet>{sheet}</worksheet>"), shared_strings)
}

/// A workbook made by hand, with the whole text of its one sheet's part.
fn with_part(folder: &TempDir, sheet: &str, shared_strings: &str) -> PathBuf {
    let path = folder.path().join("by-hand.xlsx");
    let mut archive = ZipWriter::new(File::create(&path).expect("a file"));
    for (name, text) in [
        ("_rels/.rels", ROOT_RELATIONS),
        ("xl/workbook.xml", WORKBOOK),
        ("xl/_rels/workbook.xml.rels", RELATIONS),
        ("xl/worksheets/sheet1.xml", sheet),
        ("xl/sharedStrings.xml", shared_strings),
    ] {
        archive.start_file(name, SimpleFileOptions::default()).expect("a part");
        archive.write_all(text.as_bytes()).expect("its text");
    }
    archive.finish().expect("an archive");
    path
}

#[test]
fn what_a_spreadsheet_writes_is_read_cell_by_cell() -> Result<(), Box<dyn std::error::Error>> {
    let folder = TempDir::new()?;
    let path = folder.path().join("survey.XLSX");
    let mut book = Workbook::new();
    let sheet = book.add_worksheet().set_name("Openings")?;
    let percent = Format::new().set_num_format("0.00%");
    let built_in_percent = Format::new().set_num_format_index(9);
    let day = Format::new().set_num_format("yyyy-mm-dd");
    let bold = Format::new().set_bold();
    sheet.write(0, 0, " Width, \u{1}<in> & \"more\" ")?;
    sheet.write(0, 2, "   ")?;
    sheet.write_blank(0, 3, &bold)?;
    sheet.write(1, 0, 876.000_000_000_000_1)?;
    sheet.write(1, 1, 105.0625)?;
    sheet.write(1, 2, -3)?;
    sheet.write_with_format(2, 0, 0.0825, &percent)?;
    sheet.write_with_format(2, 1, 0.07, &built_in_percent)?;
    sheet.write_with_format(3, 0, &ExcelDateTime::parse_from_str("2026-03-04")?, &day)?;
    sheet.write_with_format(3, 1, &ExcelDateTime::parse_from_str("2026-03-04 10:30:00")?, &day)?;
    sheet.write(4, 0, true)?;
    sheet.write_formula(5, 0, Formula::new("=1+1").set_result("2"))?;
    sheet.write_formula(5, 1, Formula::new("=A1&\"\"").set_result("text"))?;
    sheet.write_formula(5, 2, Formula::new("=1/0").set_result("#DIV/0!"))?;
    sheet.merge_range(6, 0, 8, 0, "0304", &bold)?;
    sheet.write(1_048_575, 16_383, "far away")?;
    book.add_worksheet().set_name("Notes")?.write(0, 0, "second")?;
    book.save(&path)?;

    assert_eq!(
        cells(&path),
        [
            "Openings!A1 Text(\" Width, \\u{1}<in> & \\\"more\\\" \")",
            "Openings!A2 876",
            "Openings!B2 105.0625",
            "Openings!C2 -3",
            "Openings!A3 8.25 %",
            "Openings!B3 7 %",
            "Openings!A4 Date(\"2026-03-04\")",
            "Openings!B4 Date(\"2026-03-04T10:30:00\")",
            "Openings!A5 Truth(true)",
            "Openings!A6 2",
            "Openings!B6 Text(\"text\")",
            "Openings!C6 Error(\"#DIV/0!\")",
            "Openings!A7 Text(\"0304\")",
            "Openings!XFD1048576 Text(\"far away\")",
            "Notes!A1 Text(\"second\")",
        ]
    );
    let (grid, _) = read(&path)?;
    assert_eq!(grid.survey, "survey.XLSX");
    assert_eq!(grid.sheets[0].merged, [Block { rows: (6, 8), columns: (0, 0) }]);
    Ok(())
}

#[test]
fn one_bad_cell_spoils_no_other() {
    let folder = TempDir::new().expect("a folder");
    let sheet = r##"<sheetData>
        <row r="2"><c r="A2" t="e"><f>_xlfn.SEQUENCE(3)</f><v>#SPILL!</v></c><c r="B2"><v>1</v></c></row>
        <row r="3"><c><v>1</v></c><c t="e"><v>#CALC!</v></c><c><v>3</v></c></row>
        <row r="4"><c r="A4" t="s"><v>1</v></c><c r="B4" t="s"><v>99</v></c><c r="C4"><v>1e400</v></c><c r="D4"><v>abc</v></c>
            <c r="E4" t="b"><v>7</v></c><c r="F4" t="what"><v>8</v></c><c r="G4"><v>9</v></c></row>
        <row r="5"><c r="A5"><f>B1*2</f></c><c r="B5"><f>B1*2</f><v/></c><c r="C5" t="str"><f>""</f><v></v></c>
            <c r="D5" t="inlineStr"><is><r><t>rich </t></r><r><t>text</t></r><rPh><t>aside</t></rPh></is></c><c r="E5" s="1"/></row>
        <row r="1"><c r="C1"><v>3</v></c><c r="A1"><v>1</v></c><c r="A1"><v>2</v></c></row>
        </sheetData><mergeCells><mergeCell ref="A1:B2"/><mergeCell ref="B9:A1"/><mergeCell ref="nonsense"/></mergeCells>"##;
    // The count is false, and is not believed.
    let strings = r#"<sst count="9" uniqueCount="9000000000000000000"><si><t>a</t></si><si><t>b &amp; &#99;</t></si></sst>"#;
    let path = by_hand(&folder, sheet, strings);
    assert_eq!(
        cells(&path),
        [
            "A & B!A1 Error(\"two values for one cell\")",
            "A & B!C1 3",
            "A & B!A2 Error(\"#SPILL!\")",
            "A & B!B2 1",
            "A & B!A3 1",
            "A & B!B3 Error(\"#CALC!\")",
            "A & B!C3 3",
            "A & B!A4 Text(\"b & c\")",
            "A & B!B4 Error(\"99\")",
            "A & B!C4 Error(\"1e400\")",
            "A & B!D4 Error(\"abc\")",
            "A & B!E4 Error(\"7\")",
            "A & B!F4 Error(\"8\")",
            "A & B!G4 9",
            "A & B!A5 NoResult",
            "A & B!B5 NoResult",
            "A & B!D5 Text(\"rich text\")",
        ]
    );
    let (grid, _) = read(&path).expect("a grid");
    assert_eq!(grid.sheets[0].merged, [Block { rows: (0, 1), columns: (0, 1) }]);
}

#[test]
fn a_value_that_a_cell_has_twice_counts_once_and_two_values_are_an_error() {
    let folder = TempDir::new().expect("a folder");
    let error = "Error(\"two values for one cell\")";
    let cells_and_values = [
        (r#"<c t="inlineStr"><v>2</v><is><t>2</t></is></c>"#, "Text(\"2\")"),
        (r#"<c t="inlineStr"><is><t>2</t></is><v>2</v></c>"#, "Text(\"2\")"),
        (
            r#"<c t="inlineStr"><v/><is><r><t>1</t></r><r><t>2</t></r><rPh><t>3</t></rPh></is></c>"#,
            "Text(\"12\")",
        ),
        (r#"<c t="inlineStr"><v>3</v><is><t>2</t></is></c>"#, error),
        (r#"<c t="str"><v>2</v><is><t>2</t></is></c>"#, "Text(\"2\")"),
        (r#"<c t="str"><f>A1</f><v>2</v><is><t>3</t></is></c>"#, error),
        (r#"<c><v>2</v><v>2</v></c>"#, "2"),
        (r#"<c><v>3</v><v>6</v></c>"#, error),
        (r#"<c t="s"><v>0</v><is><t>0</t></is></c>"#, "Text(\"shared\")"),
        (r#"<c r="A1"><v>2</v></c><c r="A1"><v>2</v></c>"#, "2"),
        (r#"<c r="A1"><v>2</v></c><c r="A1"><v>3</v></c>"#, error),
        (r#"<c r="A1"><v>2</v></c></row><row r="2"/><row r="1"><c r="A1"><v>3</v></c>"#, error),
    ];
    for (written, value) in cells_and_values {
        let sheet = format!("<sheetData><row r=\"1\">{written}</row></sheetData>");
        let path = by_hand(&folder, &sheet, "<sst><si><t>shared</t></si></sst>");
        assert_eq!(cells(&path), [format!("A & B!A1 {value}")], "{written}");
    }
}

#[test]
fn a_list_of_sheets_that_contradicts_itself_is_refused() {
    let folder = TempDir::new().expect("a folder");
    let path = by_hand(&folder, "<sheetData><row><c><v>1</v></c></row></sheetData>", "<sst/>");
    let sound = fs::read(&path).expect("its bytes");
    let book = "xl/workbook.xml";
    let relations = "xl/_rels/workbook.xml.rels";
    let listed =
        WORKBOOK.split("<sheets>").nth(1).expect("a list").split("</sheets>").next().expect("a sheet");
    let (second, shared) = (r#"Id="r1" Type"#, r#"Id="r2""#);
    let swaps: [(&str, &str, String, &str); 7] = [
        (book, listed, listed.repeat(5_000), "two of its sheets are the same part"),
        (book, "r:id=\"r1\"", "r:id=\"r9\"".to_owned(), "it lists a sheet that is missing"),
        (book, "r:id=\"r1\"", String::new(), "it lists a sheet that is missing"),
        (book, "r:id=\"r1\"", "r:id=\"r2\"".to_owned(), "it lists a sheet that is none"),
        (relations, "/worksheet", "/workshop".to_owned(), "it lists a sheet that is none"),
        (relations, shared, "Id=\"r1\"".to_owned(), "two parts of it have the same number"),
        (
            relations,
            "<Relationship Id",
            format!("<Relationship {second}=\"x/sharedStrings\" Target=\"other.xml\"/><Relationship Id"),
            "more than one part of the kind sharedStrings",
        ),
    ];
    for (part, there, instead, said) in swaps {
        let changed = folder.path().join("changed.xlsx");
        let mut old = ZipArchive::new(std::io::Cursor::new(&sound)).expect("an archive");
        let mut new = ZipWriter::new(File::create(&changed).expect("a file"));
        for at in 0..old.len() {
            let mut entry = old.by_index(at).expect("a part");
            let name = entry.name().expect("a name").into_owned();
            let mut text = String::new();
            entry.read_to_string(&mut text).expect("its text");
            if name == part {
                assert!(text.contains(there), "{part} has no {there}");
                text = text.replacen(there, &instead, 1);
            }
            new.start_file(name, SimpleFileOptions::default()).expect("a part");
            new.write_all(text.as_bytes()).expect("its text");
        }
        new.finish().expect("an archive");
        let refused = refusal(&changed);
        assert!(
            refused.starts_with(&format!("FILE is incomplete or damaged in its part {book}: ")),
            "{refused}"
        );
        assert!(refused.contains(said), "{refused}");
    }
}

#[test]
fn merged_cells_that_overlap_are_refused() {
    let folder = TempDir::new().expect("a folder");
    let merged = |blocks: &[&str]| {
        let blocks: String = blocks.iter().map(|block| format!("<mergeCell ref=\"{block}\"/>")).collect();
        by_hand(&folder, &format!("<sheetData/><mergeCells>{blocks}</mergeCells>"), "<sst/>")
    };
    for apart in
        [&["A1:A3", "B1:B3", "A4:B4"][..], &["A1:B2", "A1:B2"], &["C1:D9", "A2:B3", "A4:B9", "E1:F1"]]
    {
        assert!(read(&merged(apart)).is_ok(), "{apart:?}");
    }
    for overlapping in [
        &["A1:A10", "A3:A4"][..],
        &["A1:D1", "B1:B5"],
        &["B2:C3", "A1:B2"],
        &["A1:A2", "C1:D9", "B4:C5"],
        &["A1:F1", "A2:B9", "A5:XFD5"],
    ] {
        let refused = refusal(&merged(overlapping));
        assert!(refused.contains("the merged cells of A & B overlap"), "{overlapping:?}: {refused}");
    }
}

#[test]
fn an_archive_of_more_parts_than_a_workbook_has_is_refused() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path().join("s.xlsx");
    let parts: Vec<_> = (0..=20_000).map(|part| (format!("{part}"), Vec::new())).collect();
    fs::write(&path, crate::support::formats::packed(&parts)).expect("a file");
    let refused = refusal(&path);
    assert!(
        refused.starts_with("FILE is too large: it has 20001 parts inside, and the limit is 20000"),
        "{refused}"
    );
}

#[test]
fn two_parts_of_one_name_are_refused() {
    let folder = TempDir::new().expect("a folder");
    let parts = ["content.xml", "content.xm_"].map(|name| {
        let text = "<document-content><body><spreadsheet/></body></document-content>";
        (name.to_owned(), text.as_bytes().to_vec())
    });
    let path = folder.path().join("s.ods");
    let mut bytes = crate::support::formats::packed(&parts);
    fs::write(&path, &bytes).expect("a file");
    assert!(read(&path).is_ok());
    while let Some(at) = bytes.windows(4).position(|name| name == b".xm_") {
        bytes[at + 3] = b'l';
    }
    fs::write(&path, &bytes).expect("a file");
    assert!(refusal(&path).starts_with("FILE is incomplete or damaged ("));
}

#[test]
fn a_byte_that_is_changed_within_a_part_is_seen_wherever_it_is() {
    let folder = TempDir::new().expect("a folder");
    let sheets = crate::support::grid("[A]\nWidth\n36\n48\n").sheets;
    let sheet = "<worksheet><sheetData><row><c><v>36</v></c></row></sheetData></worksheet>";
    let xlsx = [
        ("_rels/.rels", ROOT_RELATIONS),
        ("xl/workbook.xml", WORKBOOK),
        ("xl/_rels/workbook.xml.rels", RELATIONS),
        ("xl/worksheets/sheet1.xml", sheet),
    ];
    let xlsx: Vec<_> = xlsx.map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec())).into();
    let formats = [
        ("s.xlsx", crate::support::formats::packed(&xlsx), &b"<v>3"[..]),
        ("s.ods", crate::support::formats::ods(&sheets), b"office:value=\"3"),
        // The double 36 is 40 42 00 and so on, the last byte first.
        ("s.xlsb", crate::support::formats::xlsb(&sheets), &[0, 0, 0, 0, 0, 0, 0x42]),
    ];
    for (name, packed, before) in formats {
        // The same parts as they are, not squeezed.
        let mut old = ZipArchive::new(std::io::Cursor::new(packed)).expect("an archive");
        let mut new = ZipWriter::new(std::io::Cursor::new(Vec::new()));
        let stored = SimpleFileOptions::default().compression_method(zip::CompressionMethod::Stored);
        for at in 0..old.len() {
            let mut entry = old.by_index(at).expect("a part");
            let mut bytes = Vec::new();
            entry.read_to_end(&mut bytes).expect("its bytes");
            new.start_file(entry.name().expect("a name").into_owned(), stored).expect("a part");
            new.write_all(&bytes).expect("its bytes");
        }
        let mut bytes = new.finish().expect("an archive").into_inner();
        let path = folder.path().join(name);
        fs::write(&path, &bytes).expect("a file");
        assert!(cells(&path).iter().any(|cell| cell.ends_with(" 36")), "{name} is sound");
        let at = bytes.windows(before.len()).position(|there| there == before).expect("the value");
        bytes[at + before.len() - 1] ^= 1;
        fs::write(&path, &bytes).expect("a file");
        let refused = refusal(&path);
        assert!(refused.contains("it cannot be unpacked"), "{name}: {refused}");
    }
}

#[cfg(unix)]
#[test]
fn what_is_neither_a_file_nor_a_folder_is_refused_at_once() {
    let folder = TempDir::new().expect("a folder");
    let pipe = folder.path().join("x.csv");
    let made = std::process::Command::new("mkfifo").arg(&pipe).status().expect("a command");
    assert!(made.success());
    let refused = "FILE is a pipe or a device, not a file (save what comes from it as a file, and give that file's name)";
    assert_eq!(refusal(&pipe), refused);
    let link = folder.path().join("link.xlsx");
    std::os::unix::fs::symlink("/dev/null", &link).expect("a link");
    assert_eq!(refusal(&link), refused);
    let socket = folder.path().join("socket.csv");
    let _listener = std::os::unix::net::UnixListener::bind(&socket).expect("a socket");
    assert_eq!(refusal(&socket), refused);
}

#[test]
fn a_fingerprint_is_of_the_bytes_that_were_read() {
    use std::sync::atomic::{AtomicBool, Ordering};
    let folder = TempDir::new().expect("a folder");
    let path = folder.path().join("s.csv");
    let states = ["Opening,Width\nW1,36\n", "Opening,Width\nW2,42\n"];
    let put = |state: &str| {
        let new = folder.path().join("new");
        fs::write(&new, state).and_then(|()| fs::rename(&new, &path)).expect("a file");
    };
    let all = |path: &PathBuf| {
        let (grids, print) =
            grid::read_all(std::slice::from_ref(path), &mut Sheets::default()).expect("a grid");
        (grids[0].sheets[0].value(1, 0).cloned(), print)
    };
    let known = states.map(|state| {
        put(state);
        all(&path)
    });
    assert_ne!(known[0], known[1]);
    // A program saves the file again and again meanwhile.
    let done = AtomicBool::new(false);
    std::thread::scope(|scope| {
        scope.spawn(|| {
            while !done.load(Ordering::Relaxed) {
                states.iter().for_each(|state| put(state));
            }
        });
        let read: Vec<_> = (0..500).map(|_| all(&path)).collect();
        done.store(true, Ordering::Relaxed);
        assert!(read.iter().all(|read| known.contains(read)));
    });
}

#[test]
fn rows_and_columns_that_are_not_shown_are_noted_and_read() {
    let folder = TempDir::new().expect("a folder");
    let sheet = r#"<cols><col min="2" max="3" hidden="1"/><col min="4" max="4" width="0"/><col min="6" max="6" width="9" hidden="0"/>
        <col min="0" max="9" hidden="1"/><col min="16384" max="99999" hidden="true"/></cols>
        <sheetData><row r="2" hidden="1"><c><v>1</v></c></row><row hidden="true" outlineLevel="1"><c><v>2</v></c></row>
        <row r="5" ht="0"/><row r="6" hidden="0" ht="15"/></sheetData>"#;
    let path = by_hand(&folder, sheet, "<sst/>");
    assert_eq!(cells(&path), ["A & B!A2 1", "A & B!A3 2"]);
    let (grid, _) = read(&path).expect("a grid");
    let hidden = Hidden { rows: vec![(1, 2), (4, 4)], columns: vec![(1, 3), (16_383, 16_383)] };
    assert_eq!(grid.sheets[0].hidden, hidden);
}

#[test]
fn a_cell_outside_every_sheet_is_refused() {
    let folder = TempDir::new().expect("a folder");
    for address in ["XFE1", "A1048577", "XFE2000000", "A99999999999", "7", ""] {
        let sheet = format!(r#"<sheetData><row><c r="{address}"><v>1</v></c></row></sheetData>"#);
        assert_eq!(
            refusal(&by_hand(&folder, &sheet, "<sst/>")),
            format!(
                "FILE has a cell outside the 1048576 rows and 16384 columns of a sheet: {address} on A & B \
                 (delete that cell, or open the file in a spreadsheet program and save it again)"
            )
        );
    }
    let wide = "<c/>".repeat(16_385);
    let refused = refusal(&by_hand(&folder, &format!("<sheetData><row>{wide}</row></sheetData>"), "<sst/>"));
    assert!(refused.contains("row 1, column 16385 on A & B"), "{refused}");
}

#[test]
fn texts_longer_than_a_cell_holds_are_errors_in_their_cells() {
    let folder = TempDir::new().expect("a folder");
    let strings = format!("<sst><si><t>{}</t></si></sst>", "é".repeat(32_768));
    let sheet = r#"<sheetData><row><c t="s"><v>0</v></c></row></sheetData>"#;
    assert_eq!(
        cells(&by_hand(&folder, sheet, &strings)),
        ["A & B!A1 Error(\"a text of more than 32767 characters\")"]
    );
}

#[test]
fn more_than_any_survey_holds_is_refused() {
    let folder = TempDir::new().expect("a folder");
    // A text of 32,000 bytes shown 8,500 times makes 272,000,000 bytes, over 256 MiB.
    let strings = format!("<sst><si><t>{}</t></si></sst>", "x".repeat(32_000));
    let row = r#"<row><c t="s"><v>0</v></c></row>"#.repeat(8_500);
    let refused = refusal(&by_hand(&folder, &format!("<sheetData>{row}</sheetData>"), &strings));
    assert_eq!(
        refused,
        "FILE is too large: it has more than 268435456 bytes of text (copy the survey's sheets alone into a new workbook)"
    );
    // Sixty million blanks shrink a thousandfold.
    let refused = refusal(&by_hand(&folder, &" ".repeat(60_000_000), "<sst/>"));
    assert!(
        refused.starts_with("FILE has a part xl/worksheets/sheet1.xml compressed more than 200 to 1"),
        "{refused}"
    );
}

#[test]
fn what_is_not_read_of_a_workbook_may_be_of_any_size() {
    let folder = TempDir::new().expect("a folder");
    let sheet = r#"<sheetData><row><c t="s"><v>0</v></c></row></sheetData>"#;
    let path = by_hand(&folder, sheet, "<sst><si><t>W1</t></si></sst>");
    let alone = cells(&path);
    let file = File::options().read(true).write(true).open(&path).expect("the file");
    let mut archive = ZipWriter::new_append(file).expect("an archive");
    archive.start_file("xl/media/plan.bmp", SimpleFileOptions::default()).expect("a part");
    // A blank plan shrinks a thousandfold, as no sheet may.
    archive.write_all(&vec![0; 60_000_000]).expect("its dots");
    archive.finish().expect("an archive");
    assert_eq!(cells(&path), alone);
}

#[test]
fn what_is_no_whole_workbook_is_refused() {
    let folder = TempDir::new().expect("a folder");
    let with = |name: &str, contents: &[u8]| {
        let path = folder.path().join(name);
        fs::write(&path, contents).expect("a file");
        refusal(&path)
    };
    assert_eq!(
        with("survey.pdf", b"%PDF"),
        "FILE is not in a supported format (.xlsx, .xlsm, .xlsb, .xls, .ods, .csv, .tsv) (save it as .xlsx)"
    );
    assert!(with("text.xlsx", b"not a zip").starts_with("FILE is not a workbook, whatever its name says ("));
    assert!(with("empty.xlsx", b"").starts_with("FILE is empty ("));
    let cut = with("cut.xlsx", b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1 and so on");
    assert!(cut.starts_with("FILE is incomplete or damaged in its part file system: it ends early"), "{cut}");
    assert!(refusal(&folder.path().join("missing.xlsx")).starts_with("FILE does not exist ("));
    assert!(refusal(folder.path()).starts_with("FILE is a folder, not a file ("));

    let whole = by_hand(&folder, "<sheetData><row><c><v>1</v></c></row></sheetData>", "<sst/>");
    let mut bytes = Vec::new();
    File::open(&whole).and_then(|mut file| file.read_to_end(&mut bytes)).expect("its bytes");
    for length in (0..bytes.len()).step_by(7) {
        let refused = with("cut.xlsx", &bytes[..length]);
        let says = if length > 1 { "FILE is incomplete or damaged (open it " } else { "FILE is" };
        assert!(refused.starts_with(says), "{length}: {refused}");
    }
    // A sheet that breaks off inside a sound archive must not pass for a short one.
    for cut in [
        "",
        "<row>",
        "<row><c>",
        "<row><c><v>1",
        "<row><c><f>1",
        "<row><c t='inlineStr'><is>",
        "<!--",
        "<row><c></row>",
    ] {
        let sheet = format!("<worksheet><sheetData><row><c><v>1</v></c></row>{cut}");
        let refused = refusal(&with_part(&folder, &sheet, "<sst/>"));
        assert!(
            refused.starts_with("FILE is incomplete or damaged in its part xl/worksheets/sheet1.xml: "),
            "{refused}"
        );
    }
    // Nor must another part in its place pass for an empty one.
    for other in ["", "<chartsheet><sheetData/></chartsheet>", "<!--worksheet--><sheet/>"] {
        let refused = refusal(&with_part(&folder, other, "<sst/>"));
        assert!(
            refused.starts_with("FILE is incomplete or damaged in its part xl/worksheets/sheet1.xml: "),
            "{refused}"
        );
    }
    let refused = refusal(&by_hand(&folder, "<sheetData/>", "<sst><si><t>a"));
    assert!(
        refused.starts_with("FILE is incomplete or damaged in its part xl/sharedStrings.xml: "),
        "{refused}"
    );
}

#[test]
fn a_changed_byte_never_brings_the_reader_down() {
    let folder = TempDir::new().expect("a folder");
    let sheet = r#"<sheetData><row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1"><f>1</f><v>2</v></c></row></sheetData>"#;
    let whole = by_hand(&folder, sheet, "<sst><si><t>a</t></si></sst>");
    let bytes = fs::read(&whole).expect("its bytes");
    let path = folder.path().join("changed.xlsx");
    for at in 0..bytes.len() {
        let mut changed = bytes.clone();
        changed[at] ^= 0x15;
        fs::write(&path, &changed).expect("a file");
        if let Err(error) = read(&path) {
            assert!(!matches!(error.problem, grid::Problem::Failed), "byte {at}: {error}");
        }
    }
}
