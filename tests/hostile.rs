//! No input makes the program panic, hang, use memory without bound, or leave half a file: files
//! with bytes and parts that are wrong, and cells that no surveyor would write.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot go on has failed"
)]

#[allow(dead_code, reason = "it takes the files and formats of the door alone")]
mod support;

use std::collections::BTreeSet;
use std::fs;
use std::io::Cursor;
use std::panic::catch_unwind;
use std::time::{Duration, Instant};

use calamine::{Reader, Xlsx};
use sillbook::exchange::csv::List;
use sillbook::grid::{GridError, Problem};
use sillbook::pipeline::{self, RunError, Silent};
use support::chance::Chance;
use support::files::Folder;
use support::formats::{self, packed};
use support::spoil::{corrupted, parts};

/// A survey whose every part matters: texts, numbers, a percentage, a date and three sheets.
const SMALL: &str = "
    [Project]
    Project    | Quay House
    Units      | in
    Tax %      | 8.25%
    Order date | 2026-03-02
    [Openings]
    Opening | Unit | Kind   | Type | Quantity | Width | Height | Sill height | Recess depth | Handle | Substrate
    W1      | 1    | window | T    | 2        | 36    | 48     | 30          | 5            | 0      | wood
    W2      | 2    | window | T    |          | 42    | 48     | 30          | 5            | 0      | wood
    [Types]
    Type | Mount
    T    | inside
";

/// How long a run of a small survey may take: far more than it does, far less than for ever.
const MOST_TIME: Duration = Duration::from_secs(60);

/// How a run of a hostile survey ended: whole, or refused in words with nothing left behind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Ended {
    Done,
    Refused,
}

/// Runs a survey of these bytes with every output, and holds the run to its word.
fn run(file: &str, bytes: &[u8]) -> Result<Ended, String> {
    let folder = Folder::new();
    fs::write(folder.path().join(file), bytes).unwrap();
    run_in(&folder, file)
}

fn run_in(folder: &Folder, file: &str) -> Result<Ended, String> {
    let mut command = assert_cmd::cargo::cargo_bin_cmd!("sillbook");
    command.current_dir(folder.path()).timeout(MOST_TIME);
    let output =
        command.args(["run", file, "-o", "out.xlsx", "--json", "out.json", "--csv", "lists"]).output();
    let output = output.map_err(|error| format!("does not end: {error}"))?;
    let said = String::from_utf8(output.stderr).map_err(|_| "says what is no text".to_owned())?;
    let names = folder.names();
    let left: Vec<&str> = names.iter().map(String::as_str).filter(|name| *name != file).collect();
    if said.contains("panicked") || said.contains("RUST_BACKTRACE") {
        return Err(format!("panics: {said}"));
    }
    if said.chars().any(|c| c.is_control() && c != '\n') {
        return Err(format!("steers the terminal: {said:?}"));
    }
    match output.status.code() {
        Some(0) if left == ["lists", "out.json", "out.xlsx"] => whole(folder).map(|()| Ended::Done),
        Some(3) if left.is_empty() && said.contains("error: ") => Ok(Ended::Refused),
        code => Err(format!("ends with {code:?}, leaves {left:?} and says: {said}")),
    }
}

/// Whether every output can be read to its end.
fn whole(folder: &Folder) -> Result<(), String> {
    let read = |name: &str| fs::read(folder.path().join(name)).map_err(|error| format!("{name}: {error}"));
    let document: serde_json::Value =
        serde_json::from_slice(&read("out.json")?).map_err(|error| format!("out.json: {error}"))?;
    if document["format"] != "sillbook/1" {
        return Err("out.json is no document".to_owned());
    }
    for list in List::ALL {
        let bytes = read(&format!("lists/{}", list.file_name()))?;
        let mut reader = csv::Reader::from_reader(&*bytes);
        for record in reader.records() {
            record.map_err(|error| format!("{}: {error}", list.file_name()))?;
        }
    }
    let mut book = Xlsx::new(Cursor::new(read("out.xlsx")?)).map_err(|error| format!("out.xlsx: {error}"))?;
    let names = book.sheet_names();
    let distinct: BTreeSet<String> = names.iter().map(|name| name.to_lowercase()).collect();
    if distinct.len() != names.len() || names.iter().any(|name| name.chars().count() > 31) {
        return Err(format!("sheets of no legal or no unique name: {names:?}"));
    }
    for name in names {
        #[allow(
            clippy::disallowed_methods,
            reason = "a sheet of the program's own is no larger than its report"
        )]
        let range = book.worksheet_range(&name).map_err(|error| format!("{name}: {error}"))?;
        if let Some(error) = range.used_cells().find(|cell| matches!(cell.2, calamine::Data::Error(_))) {
            return Err(format!("{name} holds an error: {error:?}"));
        }
    }
    Ok(())
}

/// Runs each survey; all that is wrong is told at once.
#[track_caller]
fn all_end_well(cases: impl IntoIterator<Item = (String, Result<Ended, String>)>) -> Vec<Ended> {
    let (mut ended, mut faults) = (Vec::new(), Vec::new());
    for (case, outcome) in cases {
        match outcome {
            Ok(outcome) => ended.push(outcome),
            Err(fault) => faults.push(format!("{case}: {fault}")),
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    ended
}

fn small() -> Vec<u8> {
    let folder = Folder::new();
    fs::read(folder.survey("small.xlsx", SMALL)).unwrap()
}

#[test]
fn the_small_survey_is_sound() {
    assert_eq!(run("small.xlsx", &small()), Ok(Ended::Done));
}

/// How many corruptions of a survey are tried in each format.
const CORRUPTIONS: u64 = 200;
/// How long one of them may take to be read and worked out.
const MOST_SECONDS: u64 = 10;
/// How much memory all of them may take at their worst: 1 GiB in KiB, as the system counts it.
const MOST_MEMORY: u64 = 1024 * 1024;

#[test]
fn a_corrupt_survey_of_any_format_is_read_or_refused() {
    let sheets = support::grid(SMALL).sheets;
    // A table of text has one sheet, and units in its headings.
    let text = support::grid(SMALL_TEXT).sheets;
    let surveys = [
        ("small.xlsx", small()),
        ("small.xlsb", formats::xlsb(&sheets)),
        ("small.xls", formats::xls(&sheets)),
        ("small.ods", formats::ods(&sheets)),
        ("small.csv", formats::csv(&text)),
    ];
    let mut faults = Vec::new();
    for (name, sound) in &surveys {
        let outcome = work_out(name, sound);
        assert_eq!(outcome, Ok(Ended::Done), "{name} is sound");
        let mut ended = Vec::new();
        for seed in 0..CORRUPTIONS {
            let bytes = corrupted(sound, &mut Chance::new(seed));
            match work_out(name, &bytes) {
                Ok(outcome) => ended.push(outcome),
                Err(fault) => faults.push(format!("{name}, seed {seed}: {fault}")),
            }
        }
        assert!(ended.contains(&Ended::Refused) && ended.contains(&Ended::Done), "{name}: {ended:?}");
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    if let Some(peak) = peak_of_memory() {
        assert!(peak < MOST_MEMORY, "{peak} KiB at the peak");
    }
}

/// One sheet with its units in its headings.
const SMALL_TEXT: &str = "
    [Openings]
    Opening | Unit | Kind   | Quantity | Width (in) | Height (in) | Note
    W1      | 1    | window | 2        | 36         | 48          | by the \"stair\", left
    W2      | 2    | window |          | 42         | 48          |
";

/// Reads a survey of these bytes and works it out, in this process.
fn work_out(name: &str, bytes: &[u8]) -> Result<Ended, String> {
    let folder = Folder::new();
    let path = folder.path().join(name);
    fs::write(&path, bytes).unwrap();
    let started = Instant::now();
    let outcome = catch_unwind(|| match pipeline::read(&[path], None, &Silent) {
        Ok(input) => match pipeline::work(&input, &Silent) {
            Ok(_) => Ok(Ended::Done),
            Err(error) => Err(format!("is a fault of the program: {error}")),
        },
        Err(RunError::Grid(GridError { problem: Problem::Failed, .. })) => {
            Err("made a reader panic".to_owned())
        }
        Err(RunError::BuiltInRules { message }) => Err(format!("is a fault of the program: {message}")),
        Err(error) if error.to_string().is_empty() => Err("is refused without a word".to_owned()),
        Err(_) => Ok(Ended::Refused),
    });
    let taken = started.elapsed();
    if taken > Duration::from_secs(MOST_SECONDS) {
        return Err(format!("takes {taken:?}"));
    }
    outcome.unwrap_or_else(|_| Err("panics".to_owned()))
}

/// How many states of each workbook of 1993 to 2003 are read in which a byte or two are spoilt.
const SPOILT: u64 = 200;

/// Workbooks of 1993 to 2003, by our own hand and by others: openings before and after another sheet.
fn workbooks_of_records() -> Vec<(String, Vec<u8>)> {
    let row = |row| format!("W{row} | {} | window | {} | 48\n", row % 7, 30 + row);
    let rows: String = (1..=40).map(row).collect();
    let head = "[Openings]\nOpening | Unit | Kind | Width (in) | Height (in)\n";
    let mut sheets = support::grid(&format!("{head}{rows}[Notes]\nof the site\n")).sheets;
    let mut books = vec![("openings first".to_owned(), formats::xls(&sheets))];
    sheets.swap(0, 1);
    books.push(("openings last".to_owned(), formats::xls(&sheets)));
    for name in ["german-list-of-the-nineties", "merged-two-row-headings", "sheet-for-each-floor"] {
        books.push((name.to_owned(), fs::read(format!("tests/odd/{name}.xls")).unwrap()));
    }
    books
}

/// Where each record of a workbook begins whose stream stands in one piece.
fn heads_of_records(book: &[u8]) -> Vec<usize> {
    let starts = |at: &usize| book[*at..].starts_with(&[0x09, 0x08]);
    let mut at = (512..book.len()).step_by(64).find(starts).unwrap();
    let mut heads = Vec::new();
    while let Some([low, high, length @ ..]) = book.get(at..at + 4)
        && (*low, *high) != (0, 0)
    {
        heads.push(at);
        at += 4 + usize::from(u16::from_le_bytes([length[0], length[1]]));
    }
    heads
}

#[test]
fn a_spoilt_byte_loses_no_opening_without_a_word() {
    let mut faults = Vec::new();
    for (name, sound) in workbooks_of_records() {
        let folder = Folder::new();
        let path = folder.path().join("s.xls");
        let read = |bytes: &[u8]| {
            fs::write(&path, bytes).unwrap();
            let input = pipeline::read(std::slice::from_ref(&path), None, &Silent).ok()?;
            let queries = input.queries.iter().map(|query| format!("{query:?}"));
            Some((input.survey.openings.len(), queries.collect::<BTreeSet<String>>()))
        };
        let (all, known) = read(&sound).unwrap();
        let heads = heads_of_records(&sound);
        let (mut refused, mut whole) = (0, 0);
        for seed in 0..SPOILT {
            let mut chance = Chance::new(seed);
            let (mut bytes, mut spoilt) = (sound.clone(), Vec::new());
            for _ in 0..1 + chance.of(2) {
                // Half of them within what a record says of itself: its kind and its length.
                let at = match chance.of(2) {
                    0 => chance.of(bytes.len()),
                    _ => heads[chance.of(heads.len())] + chance.of(4),
                };
                let byte = chance.of(256) as u8;
                spoilt.push(format!("byte {at} from {:#04x} to {byte:#04x}", bytes[at]));
                bytes[at] = byte;
            }
            match read(&bytes) {
                None => refused += 1,
                Some((openings, _)) if openings >= all => whole += 1,
                Some((_, asked)) if asked.difference(&known).next().is_some() => {}
                Some((openings, _)) => {
                    faults.push(format!("{name}, {}: {openings} of {all} openings", spoilt.join(", ")));
                }
            }
        }
        assert!(refused > 0 && whole > 0, "{name}: {refused} of {SPOILT} are refused, {whole} read whole");
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// The most memory that this process has had, in KiB, where the system tells.
fn peak_of_memory() -> Option<u64> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let peak = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    peak.trim().strip_suffix("kB")?.trim().parse().ok()
}

/// Files that are each made to bring one kind of reader down, with what is wrong with them.
fn nasty_files() -> Vec<(&'static str, &'static str, Vec<u8>)> {
    const MANY: usize = 100_000_000;
    let sheets = support::grid(SMALL).sheets;
    let record = |kind: u16, bytes: &[u8]| {
        [&kind.to_le_bytes()[..], &(bytes.len() as u16).to_le_bytes(), bytes].concat()
    };
    let begin = record(0x0809, &[0, 6, 5, 0, 0, 0, 0, 0]);
    // A stream whose first part says this of the whole workbook.
    let xls = |said: Vec<u8>| formats::compound(&[begin.clone(), said, record(0x000A, &[])].concat());
    // The same survey with a part of one of its archives exchanged.
    let exchanged = |archive: &[u8], part: &str, content: Vec<u8>| {
        let mut parts = parts(archive).unwrap();
        parts.iter_mut().find(|(name, _)| name == part).unwrap().1 = content;
        packed(&parts)
    };
    let xlsb = formats::xlsb(&sheets);
    let far =
        |record: &[u8]| exchanged(&xlsb, "xl/worksheets/sheet1.bin", [&[0x81, 0x01, 0][..], record].concat());
    let ods = |table: &str| {
        let content = format!(
            "<office:document-content><office:body><office:spreadsheet><table:table table:name=\"Openings\">\
             {table}</table:table></office:spreadsheet></office:body></office:document-content>"
        );
        packed(&[("content.xml".to_owned(), content.into_bytes())])
    };
    let nested = (0..200).fold(small(), |inside, _| packed(&[("xl/workbook.xml".to_owned(), inside)]));
    vec![
        ("s.csv", "one line of a hundred million letters", vec![b'W'; MANY]),
        ("s.csv", "one line of a hundred million separators", vec![b','; MANY]),
        ("s.csv", "a hundred million quotation marks", vec![b'"'; MANY]),
        ("s.csv", "a hundred million line breaks", vec![b'\n'; MANY]),
        ("s.csv", "a hundred million zero bytes", vec![0; MANY]),
        ("s.csv", "two million cells of quotation marks", b"\"\"\"\",".repeat(2_000_000)),
        ("s.csv", "a mark of UTF-16 and half a character", b"\xFF\xFEO\0p\0\xD8".to_vec()),
        (
            "s.xls",
            "two billion shared texts, of which none is there",
            xls(record(0x00FC, &[0xFF, 0xFF, 0xFF, 0x7F, 0xFF, 0xFF, 0xFF, 0x7F])),
        ),
        (
            "s.xls",
            "a text of two billion bytes of reading aids",
            xls(record(0x00FC, &[1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 4, 0xFF, 0xFF, 0xFF, 0x7F, 65])),
        ),
        (
            "s.xls",
            "a million records that go on and on",
            xls([record(0x00FC, &[0; 8]), record(0x003C, &[0]).repeat(1_000_000)].concat()),
        ),
        (
            "s.xls",
            "a sheet that begins past the end",
            xls(record(0x0085, &[0xFF, 0xFF, 0xFF, 0x7F, 0, 0, 1, 0, 65])),
        ),
        (
            "s.xls",
            "a sheet that begins where the workbook does",
            xls(record(0x0085, &[0, 0, 0, 0, 0, 0, 1, 0, 65])),
        ),
        (
            "s.xls",
            "a record that ends past the end",
            formats::compound(&[&begin[..], &[0xFC, 0, 0xFF, 0xFF]].concat()),
        ),
        ("s.xlsb", "a record of 200 megabytes", far(&[0, 0x80, 0x80, 0x80, 0x64])),
        (
            "s.xlsb",
            "a row past every sheet",
            far(&[
                0, 13, 0xFF, 0xFF, 0xFF, 0xFF, 0, 0, 0, 0, 0, 0, 0, 0, 0, 5, 16, 0, 0, 0, 0, 0, 0, 0, 0, 0,
                0, 0, 0, 0, 0, 0, 0,
            ]),
        ),
        (
            "s.xlsb",
            "a cell past every sheet",
            far(&[5, 16, 0xFF, 0xFF, 0xFF, 0xFF, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]),
        ),
        (
            "s.xlsb",
            "a text of four billion letters",
            far(&[6, 12, 0, 0, 0, 0, 0, 0, 0, 0, 0xFE, 0xFF, 0xFF, 0xFF]),
        ),
        (
            "s.ods",
            "a billion blanks",
            ods(
                "<table:table-row><table:table-cell office:value-type=\"string\"><text:p><text:s text:c=\"1000000000\"/>x</text:p></table:table-cell></table:table-row>",
            ),
        ),
        (
            "s.ods",
            "a cell merged over a billion",
            ods(
                "<table:table-row><table:table-cell office:value-type=\"float\" office:value=\"1\" table:number-rows-spanned=\"1000000000\" table:number-columns-spanned=\"18446744073709551616\"/></table:table-row>",
            ),
        ),
        (
            "s.ods",
            "a duration past all numbers",
            ods(&format!(
                "<table:table-row><table:table-cell office:value-type=\"time\" office:time-value=\"PT{}H\"/></table:table-row>",
                "9".repeat(27)
            )),
        ),
        (
            "s.ods",
            "a hundred thousand elements within each other",
            ods(&"<table:table-row-group>".repeat(100_000)),
        ),
        ("s.xlsx", "an archive in an archive in an archive, two hundred deep", nested),
    ]
}

#[test]
fn a_file_made_to_bring_a_reader_down_does_not() {
    let mut faults = Vec::new();
    for (name, what, bytes) in nasty_files() {
        if let Err(fault) = work_out(name, &bytes) {
            faults.push(format!("{name}, {what}: {fault}"));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    if let Some(peak) = peak_of_memory() {
        assert!(peak < MOST_MEMORY, "{peak} KiB at the peak");
    }
}

#[test]
fn a_corrupt_survey_of_any_format_ends_the_command_in_words() {
    let sheets = support::grid(SMALL).sheets;
    for (name, sound) in [
        ("small.xlsx", small()),
        ("small.xlsb", formats::xlsb(&sheets)),
        ("small.xls", formats::xls(&sheets)),
        ("small.ods", formats::ods(&sheets)),
    ] {
        assert_eq!(run(name, &sound), Ok(Ended::Done), "{name}");
        let cases = (0..6).map(|seed| {
            (format!("{name}, seed {seed}"), run(name, &corrupted(&sound, &mut Chance::new(seed))))
        });
        all_end_well(cases);
    }
}

#[test]
fn a_file_without_one_of_its_parts_is_read_or_refused() {
    let parts = parts(&small()).unwrap();
    let mut cases = Vec::new();
    for (position, (name, content)) in parts.iter().enumerate() {
        let mut without = parts.clone();
        without.remove(position);
        cases.push((format!("without {name}"), without));
        for (how, content) in [
            ("empty", Vec::new()),
            ("of another kind", b"{\"not\": \"xml\"}".to_vec()),
            ("half", content[..content.len() / 2].to_vec()),
        ] {
            let mut spoilt = parts.clone();
            spoilt[position].1 = content;
            cases.push((format!("{name} {how}"), spoilt));
        }
    }
    let ended =
        all_end_well(cases.iter().map(|(case, parts)| (case.clone(), run("small.xlsx", &packed(parts)))));
    assert!(ended.contains(&Ended::Refused) && ended.contains(&Ended::Done));
}

#[test]
fn cells_that_no_spreadsheet_writes_are_read_or_refused() {
    let parts = parts(&small()).unwrap();
    let sheet = "xl/worksheets/sheet2.xml";
    let long = "9".repeat(400);
    let bomb = format!(
        "<!DOCTYPE w [<!ENTITY a \"{}\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;\">]><worksheet",
        "a".repeat(1000)
    );
    let nested = "<c>".repeat(20_000);
    // In which part, what is there, and what stands there instead.
    let swaps: Vec<(&str, &str, &str)> = vec![
        (sheet, "<v>36</v>", "<v>1e308</v>"),
        (sheet, "<v>36</v>", "<v>-1e308</v>"),
        (sheet, "<v>36</v>", "<v>1e999</v>"),
        (sheet, "<v>36</v>", "<v>1e-320</v>"),
        (sheet, "<v>36</v>", "<v>NaN</v>"),
        (sheet, "<v>36</v>", "<v>inf</v>"),
        (sheet, "<v>36</v>", "<v>-0</v>"),
        (sheet, "<v>36</v>", "<v></v>"),
        (sheet, "<v>36</v>", "<v> 36 </v>"),
        (sheet, "<v>36</v>", "<v>0x24</v>"),
        (sheet, "<v>36</v>", "<v>36,0</v>"),
        (sheet, "<v>36</v>", &long),
        (sheet, "<v>36</v>", "<f>1/0</f><v>36</v>"),
        (sheet, "<v>36</v>", "<f>HYPERLINK(\"x\")</f>"),
        (sheet, "<v>36</v>", "<v>&bogus;</v>"),
        (sheet, "<v>36</v>", "<v>&#0;&#x1F;36</v>"),
        (sheet, "<v>36</v>", &nested),
        (sheet, "<v>36</v>", "<v>36"),
        (sheet, "<v>2</v>", "<v>999999999</v>"),
        (sheet, "<v>2</v>", "<v>2.5</v>"),
        (sheet, "<v>2</v>", "<v>4294967297</v>"),
        (sheet, "r=\"A2\"", "r=\"XFE2\""),
        (sheet, "r=\"A2\"", "r=\"A9999999999999999999\""),
        (sheet, "r=\"A2\"", "r=\"A0\""),
        (sheet, "r=\"A2\"", "r=\"2A\""),
        (sheet, "r=\"A2\"", "r=\"\""),
        (sheet, "r=\"A2\"", "r=\"A1048576\""),
        (sheet, "r=\"A2\"", "r=\"A3\""),
        (sheet, "<row r=\"2\"", "<row r=\"-2\""),
        (sheet, "<row r=\"2\"", "<row r=\"4294967296\""),
        (sheet, "<row r=\"2\"", "<row r=\"1048577\""),
        (sheet, "<row r=\"3\"", "<row r=\"2\""),
        (sheet, " t=\"s\"", " t=\"s\" s=\"99999\""),
        (sheet, " t=\"s\"", " t=\"unheard of\""),
        (sheet, " t=\"s\"", " t=\"e\""),
        (sheet, " t=\"s\"", " t=\"d\""),
        (sheet, " t=\"s\"", ""),
        (sheet, "<worksheet", &bomb),
        (sheet, "<sheetData>", "<mergeCells><mergeCell ref=\"A1:XFD1048576\"/></mergeCells><sheetData>"),
        (sheet, "</sheetData>", "</sheetData><mergeCells><mergeCell ref=\"A2:A1048576\"/></mergeCells>"),
        (sheet, "</sheetData>", "</sheetData><mergeCells><mergeCell ref=\"D9:A1\"/></mergeCells>"),
        (sheet, "</sheetData>", ""),
        ("xl/sharedStrings.xml", "<t>W1</t>", "<t>W_x0000_1</t>"),
        ("xl/sharedStrings.xml", "<t>W1</t>", "<t>W1"),
        ("xl/sharedStrings.xml", "uniqueCount=\"", "uniqueCount=\"99999999999"),
        ("xl/workbook.xml", "name=\"Openings\"", "name=\"Project\""),
        ("xl/workbook.xml", "name=\"Openings\"", "name=\"\""),
        ("xl/workbook.xml", "name=\"Openings\"", "name=\"../../Openings\""),
        ("xl/workbook.xml", "<workbookPr", "<workbookPr date1904=\"true\""),
        ("xl/_rels/workbook.xml.rels", "worksheets/sheet2.xml", "worksheets/sheet1.xml"),
        ("xl/_rels/workbook.xml.rels", "worksheets/sheet2.xml", "../../../../etc/passwd"),
        ("xl/_rels/workbook.xml.rels", "worksheets/sheet2.xml", "workbook.xml"),
        ("xl/styles.xml", "numFmtId=\"", "numFmtId=\"99999999999999"),
    ];
    let case = |(part, there, instead): &(&str, &str, &str)| {
        let mut parts = parts.clone();
        let found = parts.iter_mut().find(|(name, _)| name == part);
        let (_, content) = found.unwrap_or_else(|| panic!("no part {part}"));
        let text = String::from_utf8(content.clone()).unwrap();
        assert!(text.contains(there), "{part} has no {there}: {text}");
        *content = text.replace(there, instead).into_bytes();
        let shown: String = instead.chars().take(60).collect();
        (format!("{part}: {there} -> {shown}"), run("small.xlsx", &packed(&parts)))
    };
    let ended = all_end_well(swaps.iter().map(case));
    assert!(ended.contains(&Ended::Refused) && ended.contains(&Ended::Done));
}

#[test]
fn files_of_other_formats_are_read_or_refused() {
    let sound = small();
    let compound = [&[0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1][..], &[0xFF; 4096]].concat();
    let wide = format!("Opening,Unit,Width,Height\nW1,1,{},78\n", "\"".repeat(9_999));
    let long = format!("Opening,Unit,Width (in),Height (in)\n{},1,106,78\n", "W".repeat(2_000_000));
    let many = format!("Opening,Unit,Width (in),Height (in)\n{}", ",".repeat(100_000));
    let files: [(&str, Vec<u8>); 15] = [
        ("s.xls", sound.clone()),
        ("s.xlsb", sound.clone()),
        ("s.ods", sound.clone()),
        ("s.xlsm", sound.clone()),
        ("s.csv", sound),
        ("s.xls", compound.clone()),
        ("s.xlsx", compound),
        ("s.csv", b"Opening,Unit,Width (in),Height (in)\nW1,1,106,78\n".to_vec()),
        ("s.csv", b"Opening,Unit,Width (in),Height (in)\nW\xFF\xFE1,1,\x00106,78\n".to_vec()),
        ("s.csv", b"\xFF\xFEO\0p\0e\0n\0i\0n\0g\0".to_vec()),
        ("s.csv", b"\"Opening,Unit,Width (in),Height (in)\nW1,1,106,78\n".to_vec()),
        ("s.csv", Vec::new()),
        ("s.csv", wide.into_bytes()),
        ("s.csv", long.into_bytes()),
        ("s.csv", many.into_bytes()),
    ];
    let ended = all_end_well(
        (0..)
            .zip(&files)
            .map(|(number, (file, bytes)): (usize, _)| (format!("file {number}, {file}"), run(file, bytes))),
    );
    let done: Vec<&str> = files
        .iter()
        .zip(ended)
        .filter(|(_, ended)| *ended == Ended::Done)
        .map(|((file, _), _)| *file)
        .collect();
    assert!(done.contains(&"s.xlsm"), "{done:?}");
}

/// Cells that a column may be given, whatever it is for.
fn odd_cells() -> Vec<String> {
    let mut cells: Vec<String> = [
        "1e308",
        "-1e308",
        "NaN",
        "inf",
        "0",
        "-1",
        "-0",
        "0.000000000001",
        "79228162514264337593543950335",
        "999999999999999999999999999999999999",
        "0.1234567890123456789",
        "1/0",
        "0/0",
        "1 2/0",
        "1/999999999999",
        "'1e308",
        "'",
        "''",
        "=cmd()",
        "=1+1",
        "+1",
        "@x",
        "-x",
        "%",
        "100%",
        "-5%",
        "2026-03-04",
        "TRUE",
        "FALSE",
        "\u{1}",
        "W\u{1b}[31m",
        "\u{7}\u{8}",
        "\u{202e}drawkcab",
        "\u{feff}78",
        "\u{a0}",
        "🪟🪟🪟",
        "ﷺ",
        "١٠٦",
        "²",
        "½",
        "105½",
        "3ñ1/2",
        "œ/4",
        "8' 10\" 4'",
        "5 ft",
        "5 km",
        "5 5 5 5",
        "2,692",
        "2.692,5",
        "1,2,3",
        "../../x",
        "C:\\x",
        "/etc/passwd",
        "con",
        "[x]",
        "a:b*c?d/e\\f",
        "'quoted'",
        "History",
        "Summary",
        "summary",
        "<v>1</v>",
        "&amp;&#0;",
        "_x0000_",
        "_x001B_",
        "http://x.example",
        "mailto:x",
        "{\"a\":1}",
        "\u{2028}",
        "e\u{301}",
        "total",
        "yes",
        "no",
        "1.5",
        "10000",
        "10001",
        "1000000",
    ]
    .map(str::to_owned)
    .to_vec();
    cells.push("x".repeat(200));
    cells.push("y".repeat(32_000));
    cells.push("🪟".repeat(8_000));
    cells
}

#[test]
fn odd_cells_are_asked_about_and_the_other_openings_go_on() {
    const COLUMNS: [&str; 38] = [
        "Opening",
        "Building",
        "Floor",
        "Unit",
        "Room",
        "Phase",
        "Kind",
        "Type",
        "Quantity",
        "Width",
        "Height",
        "Width top",
        "Diagonal 1",
        "Measured",
        "Recess depth",
        "Depth to",
        "Handle",
        "Trim",
        "Wall left",
        "Wall right",
        "Wall above",
        "Wall below",
        "Left ends at",
        "Sill height",
        "Floor surface",
        "Floor to come",
        "Header height",
        "Header offset",
        "Mount",
        "Drop wanted",
        "Product",
        "Color",
        "Opening leaf",
        "Opens",
        "Draw",
        "Control",
        "Substrate",
        "Note",
    ];
    let sound = |column: &str| match column {
        "Width" => "36",
        "Height" => "48",
        "Kind" => "window",
        "Recess depth" => "5",
        "Handle" => "0",
        _ => "",
    };
    // Each run has one odd cell in every row, another column in each run's rows.
    let odd = odd_cells();
    let survey = |shift: usize| {
        let mut text = format!("[Project]\nUnits | in\n[Openings]\n{}\n", COLUMNS.join(" | "));
        for (row, cell) in odd.iter().enumerate() {
            let spoilt = (row + shift) % COLUMNS.len();
            let id = format!("R{row}");
            let cells = COLUMNS.iter().enumerate().map(|(position, column)| match (position, *column) {
                (position, _) if position == spoilt => cell.as_str(),
                (_, "Opening") => id.as_str(),
                (_, column) => sound(column),
            });
            text.push_str(&cells.collect::<Vec<_>>().join(" | "));
            text.push('\n');
        }
        text
    };
    let ended = all_end_well((0..COLUMNS.len()).map(|shift| {
        let folder = Folder::new();
        folder.survey("odd.xlsx", &survey(shift));
        (format!("shifted by {shift}"), run_in(&folder, "odd.xlsx"))
    }));
    assert!(ended.iter().all(|ended| *ended == Ended::Done));
}

#[test]
fn odd_items_and_rules_are_refused_or_asked_about() {
    let projects = [
        "Project",
        "Units",
        "Currency",
        "Sizes given are",
        "Ceiling height",
        "Built",
        "Tax %",
        "Profit %",
        "Labor rate",
        "Spare louvers %",
        "Spare parts %",
        "Cost basis",
        "Accept less cover",
        "Merge sizes",
        "Need by",
        "Order date",
    ];
    let sheets = [
        ("Products", "Product | Pitch", "louver-89"),
        ("Products", "Product | Rounding step", "louver-89"),
        ("Products", "Product | Maximum width", "louver-89"),
        ("Stock sizes", "Nominal drop | On hand | Nominal width", "84 | 5"),
        ("Stock sizes", "Nominal width | Nominal drop | On hand | Brackets", "104 | 84 | 5"),
        ("Materials", "Material | Hem allowance", "fabric-89"),
        ("Materials", "Material | Louver kg/m2", "fabric-89"),
        ("Materials", "Like | Material", "rail"),
        ("Bars", "Material | Length", "rail"),
        ("Offcuts", "Material | Color | Length", "rail | white"),
        ("Prices", "Item | Price", "made-to-measure blind"),
        ("Rates", "Item | Rate", "making"),
        ("Types", "Type | Width", "T"),
    ];
    let odd = odd_cells();
    let openings = "[Openings]\nOpening | Unit | Kind | Width | Height | Sill height | Recess depth | Handle\n\
                    W1 | 1 | window | 36 | 48 | 30 | 5 | 0\n";
    let mut cases = Vec::new();
    // Every third odd cell for each item, beginning at another one.
    for (start, item) in projects.iter().enumerate() {
        for cell in odd.iter().skip(start % 6).step_by(6) {
            let units = if *item == "Units" { "" } else { "Units | in\n" };
            cases.push(format!("[Project]\n{units}{item} | {cell}\n{openings}"));
        }
    }
    for (start, (sheet, headings, cells)) in sheets.iter().enumerate() {
        for cell in odd.iter().skip(start % 6).step_by(6) {
            cases.push(format!("[Project]\nUnits | in\nCost basis | make\nStock sizes | yes\n{openings}[{sheet}]\n{headings}\n{cells} | {cell}\n"));
        }
    }
    let ended = all_end_well(cases.iter().map(|text| {
        let folder = Folder::new();
        folder.survey("odd.xlsx", text);
        let shown: String = text.chars().take(400).collect();
        (shown, run_in(&folder, "odd.xlsx"))
    }));
    assert!(ended.contains(&Ended::Refused) && ended.contains(&Ended::Done));
}

#[test]
fn names_that_clash_or_climb_become_sheets_of_their_own() {
    let units = [
        "../../x",
        "..\\..\\x",
        "A",
        "a",
        "Á",
        "á",
        "Summary",
        "SUMMARY",
        "History",
        "'A'",
        "[A]",
        "A:B*C?D/E",
        "",
        "=A",
        "🪟",
        "ſ",
        "s",
        "S",
        "ı",
        "İ",
        "con",
    ];
    let long = ["n".repeat(200), format!("{}m", "n".repeat(199)), "N".repeat(200), "🪟".repeat(40)];
    let rows = units.iter().map(|unit| (*unit).to_owned()).chain(long);
    let rows: String = rows.map(|unit| format!("W1 | {unit} | window | 36 | 48\n")).collect();
    let folder = Folder::new();
    folder.survey(
        "s.xlsx",
        &format!("[Project]\nUnits | in\n[Openings]\nOpening | Unit | Kind | Width | Height\n{rows}"),
    );
    assert_eq!(run_in(&folder, "s.xlsx"), Ok(Ended::Done));
    assert_eq!(folder.names(), ["lists", "out.json", "out.xlsx", "s.xlsx"]);
}

#[test]
fn more_blinds_than_the_most_are_refused_before_any_work() {
    // 101 rows of 10,000 are 1,010,000 blinds, over the 1,000,000.
    let rows: String = (1..=101).map(|row| format!("W{row} | 1 | window | 10000 | 36 | 48\n")).collect();
    let heads = "[Project]\nUnits | in\n[Openings]\nOpening | Unit | Kind | Quantity | Width | Height\n";
    let folder = Folder::new();
    folder.survey("s.xlsx", &format!("{heads}{rows}"));
    assert_eq!(run_in(&folder, "s.xlsx"), Ok(Ended::Refused));
}

/// Runs a survey where the system gives no more memory than this, in KiB; what it says, if it is refused.
#[cfg(unix)]
fn refused_within(kib: u64, survey: &str) -> Result<String, String> {
    let folder = Folder::new();
    fs::write(folder.path().join("s.csv"), survey).unwrap();
    let sillbook = assert_cmd::cargo::cargo_bin!("sillbook").display().to_string();
    let script = format!("ulimit -v {kib}; exec \"$0\" run s.csv --threads 2");
    let mut command = std::process::Command::new("sh");
    let output = command.current_dir(folder.path()).args(["-c", &script, &sillbook]).output().unwrap();
    let said = String::from_utf8(output.stderr).map_err(|_| "says what is no text".to_owned())?;
    match (output.status.code(), folder.names().len()) {
        (Some(3), 1) => Ok(said),
        (code, files) => Err(format!("ends with {code:?}, {files} files and says: {said}")),
    }
}

#[cfg(unix)]
#[test]
fn a_survey_that_memory_would_not_hold_is_refused_in_words_before_it_ends() {
    let heads = "Opening,Unit,Width (in),Height (in),Quantity\n";
    let rows = |count: u32| -> String { (0..count).map(|row| format!("W{row},1,36,48\n")).collect() };
    let blinds: String = (0..100).map(|row| format!("W{row},{row},180,48,10000\n")).collect();
    let cases = [
        (rows(1_000_000), "it has 1000001 rows of 4000005 cells"),
        (rows(200_000), "it has 200000 openings, 200000 blinds"),
        (blinds, "it has 100 openings, 1000000 blinds, 100 units, 59000000 louvers"),
    ];
    for (rows, says) in cases {
        let said = refused_within(2_000_000, &format!("{heads}{rows}")).unwrap();
        let says = format!(
            "error: this survey is larger than this program takes: {says}\n  hint: split it by building"
        );
        assert!(said.starts_with(&says), "{said}");
    }
}

#[test]
fn a_run_that_does_not_keep_its_word_is_seen() {
    let folder = Folder::new();
    folder.survey("s.xlsx", SMALL);
    fs::write(folder.path().join("half.xlsx"), "PK").unwrap();
    let seen = run_in(&folder, "s.xlsx").unwrap_err();
    assert!(seen.contains("half.xlsx"), "{seen}");

    let other = Folder::new();
    fs::write(other.path().join("out.json"), "{}").unwrap();
    assert_eq!(whole(&other), Err("out.json is no document".to_owned()));
}

#[cfg(unix)]
#[test]
fn a_pipe_ends_the_command_at_once_and_in_words() {
    let folder = Folder::new();
    let pipe = |name: &str| {
        let made = std::process::Command::new("mkfifo").arg(folder.path().join(name)).status().unwrap();
        assert!(made.success());
    };
    pipe("x.csv");
    folder.survey("s.xlsx", SMALL);
    let said = |arguments: &[&str]| {
        let mut command = assert_cmd::cargo::cargo_bin_cmd!("sillbook");
        command.current_dir(folder.path()).timeout(MOST_TIME);
        let output = command.args(arguments).output().unwrap();
        assert_eq!(output.status.code(), Some(3), "{arguments:?}");
        String::from_utf8(output.stderr).unwrap()
    };
    for arguments in [&["check", "x.csv"][..], &["run", "s.xlsx", "x.csv"], &["check", "."]] {
        assert!(said(arguments).contains("x.csv is a pipe or a device, not a file"), "{arguments:?}");
    }
    pipe("out.json");
    let written = said(&["run", "s.xlsx", "--force", "--json", "out.json"]);
    assert!(written.contains("out.json is a pipe or a device, not a file"), "{written}");
    assert_eq!(folder.names(), ["out.json", "s.xlsx", "x.csv"]);
}
