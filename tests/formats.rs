//! One survey in every format is the same cells; what only one format has is read as it means it.

use std::fs;

use crate::support::files::Folder;
use crate::support::formats;
use sillbook::grid::{self, Block, Grid, Hidden, Value};
use sillbook::place::Sheets;

/// Cells of every kind, on two sheets, with a blank row and a blank column.
const EVERY_KIND: &str = "
    [Openings]
    Opening | Höhe ½ 宽 | Quantity |    | Share | Day        | Fits  | Wrong
    W1      | 36        | 2        |    | 8.25% | 2026-03-02 | TRUE  | #DIV/0!
            |           |          |    |       |            |       |
    '0304   | 105.0625  | -3       | 1  | 7%    | 2024-02-29 | FALSE | #N/A
    [Types & more]
    Type
    T
";

fn every_kind() -> Vec<grid::Sheet> {
    let mut sheets = crate::support::grid(EVERY_KIND).sheets;
    sheets[0].merged = vec![Block { rows: (1, 2), columns: (0, 1) }];
    sheets[0].hidden = Hidden { rows: vec![(1, 1)], columns: vec![(2, 3)] };
    sheets
}

fn read(name: &str, bytes: &[u8]) -> Result<Grid, String> {
    let folder = Folder::new();
    let path = folder.path().join(name);
    fs::write(&path, bytes).unwrap();
    grid::read(&path, &mut Sheets::default()).map_err(|error| {
        format!("{} ({})", error.to_string().replace(&path.display().to_string(), "FILE"), error.hint())
    })
}

/// Every cell of a grid, as `Openings 0,1 Text("W1")`.
fn cells(grid: &Grid) -> Vec<String> {
    let mut shown = Vec::new();
    for sheet in &grid.sheets {
        for row in &sheet.rows {
            for (column, value) in &row.cells {
                let value = match value {
                    Value::Number(number) => number.to_string(),
                    Value::Percent(percent) => format!("{percent} %"),
                    other => format!("{other:?}"),
                };
                shown.push(format!("{} {},{column} {value}", sheet.name, row.row));
            }
        }
    }
    shown
}

fn of(name: &str, bytes: &[u8]) -> Vec<String> {
    cells(&read(name, bytes).unwrap_or_else(|error| panic!("{name}: {error}")))
}

#[test]
fn a_survey_is_the_same_cells_in_every_format() {
    let sheets = every_kind();
    let expected = cells(&Grid { survey: String::new(), sheets: sheets.clone() });
    for (name, bytes) in [
        ("s.xlsb", formats::xlsb(&sheets)),
        ("s.xls", formats::xls(&sheets)),
        ("s.ods", formats::ods(&sheets)),
        // A name that says otherwise does not matter.
        ("s.xlsx", formats::xls(&sheets)),
        ("s.xls", formats::xlsb(&sheets)),
        ("s.xlsm", formats::ods(&sheets)),
    ] {
        let grid = read(name, &bytes).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert_eq!(cells(&grid), expected, "{name}");
        assert_eq!(grid.sheets[0].merged, sheets[0].merged, "{name}");
    }
    for (name, bytes) in [("s.xlsb", formats::xlsb(&sheets)), ("s.xls", formats::xls(&sheets))] {
        assert_eq!(read(name, &bytes).unwrap().sheets[0].hidden, sheets[0].hidden, "{name}");
    }
    // A table of text has one sheet, named by its file, and only texts.
    let text = of("Openings.csv", &formats::csv(&sheets));
    assert_eq!(text.len(), expected.iter().filter(|cell| cell.starts_with("Openings")).count());
    for cell in
        [r#"Openings 1,1 Text("36")"#, r#"Openings 3,0 Text("0304")"#, r#"Openings 1,4 Text("8.25%")"#]
    {
        assert!(text.iter().any(|found| found == cell), "{cell} in {text:?}");
    }
}

#[test]
fn a_table_of_text_keeps_every_cell_as_written_and_in_its_row() {
    let cases: [(&str, &[u8], &[&str]); 8] = [
        ("a.csv", b"a,b\n\n1 , \n", &["a 0,0 Text(\"a\")", "a 0,1 Text(\"b\")", "a 2,0 Text(\"1 \")"]),
        ("a.csv", b"\xEF\xBB\xBFa;1,5\n", &["a 0,0 Text(\"a\")", "a 0,1 Text(\"1,5\")"]),
        ("a.csv", b"\xFF\xFEa\0;\0b\0", &["a 0,0 Text(\"a\")", "a 0,1 Text(\"b\")"]),
        ("a.csv", b"H\xF6he,b\n", &["a 0,0 Text(\"Höhe\")", "a 0,1 Text(\"b\")"]),
        ("a.tsv", b"a\tb, c\n", &["a 0,0 Text(\"a\")", "a 0,1 Text(\"b, c\")"]),
        ("a.csv", b"sep=|\na|b;c,d\n", &["a 0,0 Text(\"a\")", "a 0,1 Text(\"b;c,d\")"]),
        (
            "a.csv",
            b"\"a\nb\",c\nd,e",
            &["a 0,0 Text(\"a\\nb\")", "a 0,1 Text(\"c\")", "a 1,0 Text(\"d\")", "a 1,1 Text(\"e\")"],
        ),
        ("a.csv", b"\"30\" x 75\",b\n", &["a 0,0 Error(\"\\\"30\\\" x 75\\\"\")", "a 0,1 Text(\"b\")"]),
    ];
    for (name, bytes, expected) in cases {
        assert_eq!(of(name, bytes), expected, "{}", String::from_utf8_lossy(bytes));
    }
    // A table of text under a workbook's name, as some programs export one.
    assert_eq!(of("a.xls", b"a\tb\n1\t2\n").len(), 4);
}

#[test]
fn what_is_not_what_its_name_says_is_refused_in_words() {
    let saved = "(open it in a spreadsheet program and save it as .xlsx)";
    let cases: [(&str, &[u8], String); 6] = [
        (
            "a.xls",
            b"<html><table><tr><td>W1</td>",
            format!("FILE is a web page or an XML file, not a workbook {saved}"),
        ),
        (
            "a.csv",
            b"<?xml version=\"1.0\"?><Workbook/>",
            format!("FILE is a web page or an XML file, not a workbook {saved}"),
        ),
        (
            "a.xls",
            b"\x09\x00\x04\x00\x07\x00\x10\x00",
            format!("FILE is a workbook in a pre-1993 format {saved}"),
        ),
        ("a.csv", b"a,b\nc\0,d\n", format!("FILE is not a text file (it contains a zero byte) {saved}")),
        ("a.xls", b"just some words", format!("FILE is not a workbook, whatever its name says {saved}")),
        (
            "a.csv",
            b"a,b\n\"c,d\ne,f\n",
            "FILE has a quotation mark in row 2 that is never closed \
             (close it at the end of its cell, or write it twice if it is an inch mark)"
                .to_owned(),
        ),
    ];
    for (name, bytes, expected) in cases {
        assert_eq!(read(name, bytes).unwrap_err(), expected);
    }
}

/// A spreadsheet whose one sheet holds this.
fn ods_with(table: &str) -> Vec<u8> {
    let content = format!(
        "<office:document-content><office:body><office:spreadsheet><table:table table:name=\"A\">{table}</table:table>\
         </office:spreadsheet></office:body></office:document-content>"
    );
    formats::packed(&[("content.xml".to_owned(), content.into_bytes())])
}

#[test]
fn open_document_cells_mean_what_their_types_say() {
    let row = |cells: &str| format!("<table:table-row>{cells}</table:table-row>");
    let cell = |attributes: &str, inside: &str| {
        format!("<table:table-cell {attributes}>{inside}</table:table-cell>")
    };
    let cases = [
        (cell("office:value-type=\"currency\" office:value=\"12.50\"", "<text:p>12,50 €</text:p>"), "12.5"),
        (cell("office:value-type=\"time\" office:time-value=\"PT10H30M00S\"", ""), "Date(\"10:30:00\")"),
        (cell("office:value-type=\"time\" office:time-value=\"soon\"", ""), "Error(\"soon\")"),
        (
            cell("office:value-type=\"date\" office:date-value=\"2026-03-04T10:30:00.000\"", ""),
            "Date(\"2026-03-04T10:30:00\")",
        ),
        (cell("office:value-type=\"float\" office:value=\"1e999\"", ""), "Error(\"1e999\")"),
        (cell("table:formula=\"of:=1\" office:value-type=\"float\"", ""), "NoResult"),
        (
            cell("table:formula=\"of:=1\" office:value-type=\"string\"", "<text:p>Err:502</text:p>"),
            "Error(\"Err:502\")",
        ),
        (
            cell(
                "office:value-type=\"string\"",
                "<text:p>a <text:span>b</text:span><text:s text:c=\"2\"/>c</text:p><text:p>d</text:p>",
            ),
            "Text(\"a b  c\\nd\")",
        ),
        (
            cell(
                "office:value-type=\"string\"",
                "<office:annotation><text:p>aside</text:p></office:annotation><text:p>1&apos; &#189;</text:p>",
            ),
            "Text(\"1' ½\")",
        ),
        (
            cell(
                "office:value-type=\"string\"",
                "<text:p>3<office:annotation><text:p>4</text:p></office:annotation><draw:frame><draw:text-box><text:p>5</text:p>\
                 </draw:text-box></draw:frame><text:ruby><text:ruby-base>6</text:ruby-base><text:ruby-text>7</text:ruby-text></text:ruby></text:p>",
            ),
            "Text(\"36\")",
        ),
        (
            cell(
                "office:value-type=\"string\"",
                "<text:h>a</text:h><text:list><text:list-item><text:p>b</text:p></text:list-item></text:list>",
            ),
            "Text(\"a\\nb\")",
        ),
    ];
    for (cell, expected) in cases {
        assert_eq!(of("a.ods", &ods_with(&row(&cell))), [format!("A 0,0 {expected}")], "{cell}");
    }
}

#[test]
fn open_document_repeats_are_taken_for_cells_that_hold_something() {
    let text = "<table:table-cell office:value-type=\"string\" table:number-columns-repeated=\"2\"><text:p>x</text:p></table:table-cell>";
    let table = "<table:table-column table:number-columns-repeated=\"2\"/><table:table-column table:visibility=\"collapse\"/>\
         <table:table-row table:number-rows-repeated=\"1000000000\" table:visibility=\"filter\"/>";
    let grid = read("a.ods", &ods_with(table)).unwrap();
    assert_eq!(grid.sheets[0].hidden, Hidden { rows: vec![(0, 1_048_575)], columns: vec![(2, 2)] });

    let table = format!(
        "<table:table-row table:number-rows-repeated=\"3\"><table:table-cell table:number-columns-repeated=\"99999999999\"/></table:table-row>\
         <table:table-row table:number-rows-repeated=\"2\">{text}<table:covered-table-cell/></table:table-row>"
    );
    let expected = ["A 3,0 Text(\"x\")", "A 3,1 Text(\"x\")", "A 4,0 Text(\"x\")", "A 4,1 Text(\"x\")"];
    assert_eq!(of("a.ods", &ods_with(&table)), expected);

    // A billion rows of a billion cells that hold something are past every sheet.
    let cell = "<table:table-cell office:value-type=\"float\" office:value=\"1\" table:number-columns-repeated=\"N\"/>";
    let table =
        format!("<table:table-row table:number-rows-repeated=\"1000000000\">{cell}</table:table-row>");
    let refused = read("a.ods", &ods_with(&table.replace('N', "1000000000"))).unwrap_err();
    assert!(refused.contains("row 1, column 16385 on A"), "{refused}");
    let refused = read("a.ods", &ods_with(&table.replace('N', "16384"))).unwrap_err();
    assert!(refused.contains("it has more than 10000000 cells"), "{refused}");
}

#[test]
fn workbooks_of_1993_to_2003_may_not_lead_the_reader_astray() {
    let sheets = every_kind();
    let sound = formats::xls(&sheets);
    // The table of what follows what, and the directory, begin where the header says.
    let circle = {
        let mut bytes = sound.clone();
        let table = bytes.len() - 512;
        bytes[table..table + 4].copy_from_slice(&[0, 0, 0, 0]);
        bytes
    };
    assert!(read("a.xls", &circle).unwrap_err().contains("in a circle"));

    let locked = {
        let mut stream = vec![0x09, 0x08, 4, 0, 0, 6, 5, 0, 0x2F, 0, 0, 0];
        stream.extend(formats::xls_stream(&sheets));
        formats::compound(&stream)
    };
    assert!(read("a.xls", &locked).unwrap_err().starts_with("FILE is protected by a password"));

    let overlapping = {
        let mut stream = formats::xls_stream(&sheets);
        // Both sheets begin where the first one does, which is longer than the second.
        let sheets: Vec<usize> =
            (0..stream.len() - 1).filter(|at| stream[*at..].starts_with(&[0x85, 0])).collect();
        let first: [u8; 4] = stream[sheets[0] + 4..sheets[0] + 8].try_into().unwrap();
        let many: Vec<u8> = stream[sheets[0]..sheets[1]].repeat(1000);
        let start = u32::from_le_bytes(first) + many.len() as u32;
        let mut listed = stream.split_off(sheets[0]);
        let mut many = many;
        let each = sheets[1] - sheets[0];
        for entry in many.chunks_exact_mut(each) {
            entry[4..8].copy_from_slice(&start.to_le_bytes());
        }
        stream.extend(many);
        stream.append(&mut listed);
        formats::compound(&stream)
    };
    assert!(read("a.xls", &overlapping).unwrap_err().contains("its sheets overlap"));
}

/// The records of a stream, each whole.
fn records(stream: &[u8]) -> Vec<Vec<u8>> {
    let mut records = Vec::new();
    let mut rest = stream;
    while let [_, _, low, high, ..] = *rest {
        let (record, after) = rest.split_at(4 + usize::from(u16::from_le_bytes([low, high])));
        records.push(record.to_vec());
        rest = after;
    }
    records
}

#[test]
fn a_workbook_of_1993_to_2003_that_has_lost_a_record_is_refused() {
    let survey = "[B]\nnone\n[A]\nOpening | Width\nW1 | 36\nW2 | 42\n |\n |\nW3 | 48\n";
    let sound = records(&formats::xls_stream(&crate::support::grid(survey).sheets));
    let spoilt = |spoil: &dyn Fn(&mut Vec<Vec<u8>>)| {
        let mut records = sound.clone();
        spoil(&mut records);
        read("a.xls", &formats::compound(&records.concat()))
    };
    assert!(spoilt(&|_| {}).is_ok());
    let of = |kind: u16| move |record: &&mut Vec<u8>| record.starts_with(&kind.to_le_bytes());
    // A record that a spoilt byte makes one of another kind, and what is said of it.
    let numbers: [(u16, usize, u16, &str); 7] = [
        (0x0203, 1, 0x0000, "a record of no kind"),
        (0x0203, 1, 0x0003, "something unknown among its cells"),
        (0x0203, 1, 0x0103, "something unknown among its cells"),
        (0x0203, 1, 0x003C, "something unknown among its cells"),
        (0x0208, 2, 0x0308, "something unknown among its cells"),
        (0x0085, 1, 0x0185, "it does not end where it should"),
        (0x00FD, 1, 0x000A, "row 1 of a sheet has lost its cells"),
    ];
    for (kind, which, other, said) in numbers {
        let read = spoilt(&|records| {
            let record = records.iter_mut().filter(of(kind)).nth(which).unwrap();
            record[..2].copy_from_slice(&other.to_le_bytes());
        });
        let refused = read.unwrap_err();
        assert!(refused.contains(said), "{kind:#06x} to {other:#06x}: {refused}");
    }
    let last_row = |records: &mut Vec<Vec<u8>>| {
        // The last row, whose number stands after kind and length, and no more of it than its own record.
        records.retain(|record| record[4..].first_chunk() != Some(&[5, 0]) || record[0] == 8);
    };
    assert!(spoilt(&last_row).unwrap_err().contains("row 6 of a sheet has lost its cells"));
    // A sheet without records of its rows says by its dimensions how far it reaches.
    let no_rows = |records: &mut Vec<Vec<u8>>| {
        let sheet = records.iter().rposition(|record| record[..2] == [9, 8]).unwrap();
        let mut cells = records.split_off(sheet);
        cells.retain(|record| record[..2] != [8, 2] && record[4..].first_chunk() != Some(&[5, 0]));
        records.append(&mut cells);
    };
    let refused = spoilt(&no_rows).unwrap_err();
    assert!(refused.contains("a sheet ends at row 3 and should end at row 6"), "{refused}");
    // Writers of others put links and notes beside their cells, and give a row without cells a column.
    let as_others_do = |records: &mut Vec<Vec<u8>>| {
        let cell = records.iter().rposition(|record| record[..2] == [3, 2]).unwrap();
        let link = [&[0xB8, 0x01, 12, 0, 5, 0, 5, 0][..], &[0; 8]].concat();
        let note = vec![0x1C, 0, 4, 0, 5, 0, 0, 0];
        let row = [&[0x08, 0x02, 16, 0, 9, 0, 0, 0, 1, 0][..], &[0; 10]].concat();
        records.splice(cell..cell, [link, note, row]);
    };
    assert!(spoilt(&as_others_do).is_ok());
    let astray = |records: &mut Vec<Vec<u8>>| {
        records.iter_mut().filter(of(0x0203)).nth(1).unwrap()[7] = 1;
    };
    assert!(spoilt(&astray).unwrap_err().contains("row 3 of a sheet has a cell too far out"));
    let long = |records: &mut Vec<Vec<u8>>| {
        let record = records.iter_mut().filter(of(0x0203)).nth(1).unwrap();
        record[2] += 1;
        record.push(0);
    };
    assert!(spoilt(&long).unwrap_err().contains("a cell of the wrong length"));
    let other_kind = |records: &mut Vec<Vec<u8>>| {
        // The first sheet is a chart by the list of sheets.
        records.iter_mut().find(of(0x0085)).unwrap()[9] = 2;
    };
    assert!(spoilt(&other_kind).unwrap_err().contains("a sheet of another kind than it says"));
}

#[test]
fn formulas_of_workbooks_of_1993_to_2003_are_read_under_each_of_their_numbers() {
    let formula = |kind: u16, column: u8, result: [u8; 8]| {
        let head = [kind.to_le_bytes(), [22, 0], [0, 0], [column, 0], [0, 0]].concat();
        [&head[..], &result, &[0; 8]].concat()
    };
    let text = [0, 0, 0, 0, 0, 0, 0xFF, 0xFF];
    let mut stream = records(&formats::xls_stream(&crate::support::grid("[A]\nx\n").sheets));
    let end = stream.len() - 1;
    let cells = [
        formula(0x0006, 1, 36_f64.to_le_bytes()),
        formula(0x0206, 2, 37_f64.to_le_bytes()),
        formula(0x0406, 3, 38_f64.to_le_bytes()),
        formula(0x0006, 4, text),
        vec![0x07, 0x02, 5, 0, 2, 0, 0, b'o', b'k'],
        // The texts that these result in are not there.
        formula(0x0006, 5, text),
        formula(0x0006, 6, text),
    ];
    stream.splice(end..end, cells);
    // The row's own record, which says that it ends at its first column.
    let row = stream.iter_mut().find(|record| record[..2] == [8, 2]).unwrap();
    row[8] = 7;
    assert_eq!(
        of("a.xls", &formats::compound(&stream.concat())),
        [
            "A 0,0 Text(\"x\")",
            "A 0,1 36",
            "A 0,2 37",
            "A 0,3 38",
            "A 0,4 Text(\"ok\")",
            "A 0,5 NoResult",
            "A 0,6 NoResult"
        ]
    );
}
