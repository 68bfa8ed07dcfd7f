//! What a reader of the sheets rests on: nothing is cut off, links lead where they say, sections
//! begin pages, and every stop setting is there.

use std::io::Cursor;
use std::path::Path;

use crate::support::block;
use crate::support::package::{Cell, Package, Sheet};
use serde_json::Value;
use sillbook::drawing::bar::{Bar, LONG, Stretch};
use sillbook::exchange::json;
use sillbook::length::Length;
use sillbook::pipeline::{self, Input, Silent};
use sillbook::query::{GatheredQuery, Severity};
use sillbook::workbook::{Limits, write};

fn demo(file: &str) -> Input {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo").join(file);
    pipeline::read(&[path], None, &Silent).unwrap()
}

fn package(input: &Input, limits: Limits) -> Package {
    let report = pipeline::work(input, &Silent).unwrap();
    let mut file = Cursor::new(Vec::new());
    write(&report, limits, &mut file).unwrap();
    Package::of(file.into_inner())
}

fn document(input: &Input) -> Value {
    let report = pipeline::work(input, &Silent).unwrap();
    let mut text = Vec::new();
    json::write(&report, &mut text).unwrap();
    serde_json::from_slice(&text).unwrap()
}

/// The sheets of tables.
const TABLES: [&str; 11] = [
    "Summary",
    "Queries",
    "Openings",
    "Order",
    "Order's openings",
    "Cut list",
    "Offcuts",
    "Hardware",
    "Install index",
    "Working",
    "Rules used",
];
/// Full at 150 rows, so that sheets go on.
const TIGHT: Limits = Limits { rows: 150, ..Limits::SPREADSHEET };

/// About how wide a letter is in a plain sans-serif font, in thousandths of its height.
fn letter(letter: char) -> f64 {
    match letter {
        'i' | 'j' | 'l' | 'I' | '.' | ',' | ':' | ';' | '\'' | '|' | '!' => 222.0,
        ' ' | 'f' | 't' | '(' | ')' | '[' | ']' | '/' | '-' | 'r' => 278.0,
        'm' | 'w' | 'M' | 'W' | '%' | '@' => 722.0,
        _ if letter.is_uppercase() => 667.0,
        'c' | 'k' | 's' | 'v' | 'x' | 'y' | 'z' => 500.0,
        _ => 556.0,
    }
}

/// Width of a text in pixels of which 96 are an inch.
fn wide(text: &str, cell: &Cell) -> f64 {
    let height = cell.style.points * 96.0 / 72.0;
    text.chars().map(letter).sum::<f64>() * height / 1_000.0
}

/// What a number looks like.
fn shown(cell: &Cell) -> String {
    let Ok(number) = cell.text.parse::<f64>() else { return cell.text.clone() };
    if cell.is_text {
        return cell.text.clone();
    }
    let format = cell.style.number.as_str();
    let whole = format!("{:.0}", number.trunc().abs());
    match format {
        "# ??/16" => format!("{whole} 15/16"),
        _ if format.starts_with("# ?/") => format!("{whole} 7/8"),
        "0.000" => format!("{number:.3}"),
        "yyyy-mm-dd" => "2026-01-01".to_owned(),
        _ => format!("{number:.1}"),
    }
}

/// Lines that a text takes in so many pixels, words whole.
fn lines(cell: &Cell, room: f64) -> usize {
    let mut lines = 0;
    for line in cell.text.split('\n') {
        lines += 1;
        let mut used = 0.0;
        for word in line.split(' ') {
            let word = wide(word, cell);
            if used > 0.0 && used + word > room {
                (lines, used) = (lines + 1, 0.0);
            }
            lines += ((word / room).ceil() as usize).saturating_sub(1);
            used += word + wide(" ", cell);
        }
    }
    lines
}

/// A column's width is stored in digits of the sheets' font, 9 points high. One program takes such a
/// digit for the 7 dots it fills on a screen, another for the 6.67 that it is wide, and shows every
/// column narrower by that.
const NARROWER: f64 = 6.67 / 7.0;
/// What a cell takes at its sides.
const PADDING: f64 = 10.0;

/// Every cell of a sheet that does not show all it holds.
fn cut_off(name: &str, sheet: &Sheet) -> Vec<String> {
    let width = |column: u32| sheet.widths.get(&column).copied().unwrap_or(64.0) * NARROWER;
    let last = sheet.cells.keys().map(|at| at.1).max().unwrap_or(0);
    let mut cut = Vec::new();
    for (at, cell) in &sheet.cells {
        let to = sheet.merged.get(at).copied().unwrap_or(at.1);
        let room = (at.1..=to).map(width).sum::<f64>() - PADDING;
        let height = sheet.heights.get(&at.0).copied().unwrap_or(15.0);
        let fits = if cell.is_text && cell.style.wraps {
            // A line of text takes a tenth more than its font is high.
            lines(cell, room) as f64 * cell.style.points * 1.1 <= height + 3.0
        } else if cell.is_text {
            // It runs on over the cells beside it, which must be empty.
            let next = sheet.cells.range((at.0, at.1 + 1)..(at.0 + 1, 0)).next().map(|(at, _)| at.1);
            let to = next.map_or(last, |next| next - 1);
            wide(&cell.text, cell) <= (at.1..=to).map(width).sum::<f64>() - PADDING / 2.0
        } else {
            wide(&shown(cell), cell) <= room
        };
        if !fits {
            cut.push(format!("{name} {at:?} ({room} px, {height} pt): {}", cell.text));
        }
    }
    cut
}

#[test]
fn nothing_is_cut_off_in_any_column() {
    for file in ["larch-terrace.xlsx", "harrier-wharf.xlsx"] {
        let package = package(&demo(file), Limits::SPREADSHEET);
        for name in TABLES {
            for (name, sheet) in package.going_on(name) {
                assert_eq!(cut_off(name, sheet), Vec::<String>::new(), "{file}");
            }
        }
    }
}

#[test]
fn a_narrow_column_and_a_low_row_are_seen() {
    let mut package = package(&block::plain(), Limits::SPREADSHEET);
    let sheet = package.sheets.get_mut("Rules used").unwrap();
    assert!(cut_off("Rules used", sheet).is_empty());
    sheet.heights.clear();
    assert!(cut_off("Rules used", sheet).len() > 20);
    let sheet = package.sheets.get_mut("Order").unwrap();
    sheet.widths.values_mut().for_each(|width| *width /= 3.0);
    assert!(cut_off("Order", sheet).len() > 20);
}

#[test]
fn links_lead_where_they_say_also_where_sheets_go_on() {
    let mut lines = 0;
    for (input, limits) in [
        (demo("larch-terrace.xlsx"), Limits::SPREADSHEET),
        (demo("harrier-wharf.xlsx"), TIGHT),
        (block::of_units(40), TIGHT),
    ] {
        let package = package(&input, limits);
        for (_, sheet) in package.going_on("Order") {
            for (at, link) in &sheet.links {
                let text = &sheet.cells[at].text;
                let target = &package.at(link).text;
                if link.contains("Order") {
                    // A line leads to its first label, which has its number.
                    let line = &sheet.cells[&(at.0, 0)].text;
                    let (sheet, cell) = link.rsplit_once('!').unwrap();
                    let to = crate::support::package::position(cell);
                    assert_eq!(target, line, "{link}");
                    let label =
                        &package.sheets[&sheet.trim_matches('\'').replace("''", "'")].cells[&(to.0, 1)].text;
                    assert!(label.starts_with("1 "), "{link}: {label}");
                    lines += 1;
                } else if link.contains("Openings") {
                    assert_eq!(target, text, "{link}");
                } else if text == "Summary" {
                    assert_eq!(link, "'Summary'!A1");
                } else {
                    assert!(target.contains(&**text), "{link}: {target}");
                }
            }
        }
        for (_, sheet) in package.going_on("Cut list") {
            for (at, link) in sheet.links.iter().filter(|(_, link)| link.contains("Order")) {
                let line = sheet.cells[at].text.rsplit(' ').next().unwrap();
                assert_eq!(package.at(link).text, line, "{link}");
                lines += 1;
            }
        }
        for (_, sheet) in package.going_on("Hardware") {
            for (at, link) in sheet.links.iter().filter(|(_, link)| !link.contains("Summary")) {
                let unit = sheet.cells[at].text.rsplit(", ").next().unwrap();
                assert!(package.at(link).text.contains(unit), "{link}");
            }
        }
    }
    assert!(lines > 100, "{lines}");
}

/// A list can be filtered from its headings to its last row, and no total below it is among them.
#[test]
fn a_list_is_filtered_by_its_headings() {
    let package = package(&demo("larch-terrace.xlsx"), Limits::SPREADSHEET);
    for (sheet, heading) in [
        ("Openings", "Opening"),
        ("Order", "Line"),
        ("Order's openings", "Line"),
        ("Blinds", "What"),
        ("Also fits", "Line"),
        ("Queries", "Code"),
        ("Columns read", "Survey"),
        ("As surveyed", "Opening as shown"),
        ("Rules used", "Table"),
        ("Working", "Opening"),
    ] {
        let place = package.order.iter().position(|name| name == sheet).unwrap();
        let filter =
            package.names.iter().find(|(name, of, _)| name == "_xlnm._FilterDatabase" && *of == place);
        let filter = &filter.unwrap_or_else(|| panic!("no filter on {sheet}")).2;
        let range = filter.rsplit('!').next().unwrap().replace('$', "");
        let (first, last) = range.split_once(':').unwrap();
        let row = |cell: &str| {
            cell.trim_start_matches(|c: char| c.is_ascii_alphabetic()).parse::<u32>().unwrap() - 1
        };
        let cells = &package.sheets[sheet].cells;
        assert_eq!((&first[..1], &*cells[&(row(first), 0)].text), ("A", heading), "{sheet}");
        assert!(row(last) > row(first), "{sheet}");
    }
    let order = &package.sheets["Order"].cells;
    let filter = package
        .names
        .iter()
        .find(|(name, of, _)| name == "_xlnm._FilterDatabase" && package.order[*of] == "Order");
    let last: u32 = filter.unwrap().2.rsplit('$').next().unwrap().parse().unwrap();
    let below: Vec<&str> =
        order.range((last, 0)..).filter(|(at, _)| at.1 == 0).map(|(_, cell)| &*cell.text).take(1).collect();
    assert!(below.iter().all(|text| text.starts_with("Spare") || text.starts_with("Totals")), "{below:?}");
}

#[test]
fn sections_begin_pages_and_details_fold() {
    let package = package(&demo("larch-terrace.xlsx"), Limits::SPREADSHEET);
    let begins = |sheet: &str, words: &str| {
        let sheet = &package.sheets[sheet];
        let row = sheet.cells.iter().find(|(at, cell)| at.1 == 0 && cell.text.starts_with(words));
        let row = row.unwrap_or_else(|| panic!("no {words}")).0.0;
        assert!(sheet.breaks.contains(&row), "{words} in {:?}", sheet.breaks);
    };
    for (sheet, words) in
        [("Hardware", "Van list by floor"), ("Hardware", "The same by unit"), ("Cut list", "rail, white:")]
    {
        begins(sheet, words);
    }
    for name in ["Cut list", "Hardware"] {
        let sheet = &package.sheets[name];
        assert!(sheet.says_folds && sheet.folds.len() > 50, "{name}: {}", sheet.folds.len());
        assert!(sheet.folds.values().all(|level| *level == 1), "{name}");
        // A pattern's row and a unit's stay in sight.
        let is_head = |cell: &Cell| cell.style.bold && cell.style.points == 9.0;
        let kept = sheet.cells.iter().filter(|(at, cell)| at.1 == 0 && is_head(cell));
        assert!(kept.filter(|(at, _)| !sheet.folds.contains_key(&at.0)).count() > 5, "{name}");
    }
}

/// The stops of each pattern as the document gives its pieces: each length of a bar once, in order.
/// Entries that differ in lines alone are one pattern. A roll has no stops.
fn stops_of_document(document: &Value) -> Vec<f64> {
    let number = |value: &Value| value.as_f64().unwrap();
    let mut stops = Vec::new();
    for plan in document["cuts"].as_array().unwrap().iter().filter(|plan| plan["cut_in"] == "pieces") {
        let what = |pattern: &Value| ["pieces_mm", "stock_mm", "from"].map(|key| pattern[key].clone());
        let patterns = plan["patterns"].as_array().unwrap();
        for alike in patterns.chunk_by(|one, other| what(one) == what(other)) {
            let pieces = alike[0]["pieces_mm"].as_array().unwrap();
            stops.extend(pieces.chunk_by(|one, other| one == other).map(|equal| number(&equal[0])));
        }
    }
    stops
}

/// The decimal stops of the cut list in millimeters, in the order in which a man reads them.
fn stops_of_sheet(package: &Package, inch: bool) -> Vec<f64> {
    let mut stops = Vec::new();
    for (_, sheet) in package.going_on("Cut list") {
        let counts = |row: u32| sheet.cells.get(&(row, 0)).is_some_and(|cell| !cell.is_text);
        for (at, cell) in &sheet.cells {
            if at.1 == 1 && !cell.is_text && counts(at.0) {
                stops.push(cell.text.parse::<f64>().unwrap() * if inch { 25.4 } else { 1.0 });
            }
        }
    }
    stops
}

#[test]
fn every_stop_setting_is_on_the_cut_list_in_order() {
    for (input, inch, limits) in [
        (demo("larch-terrace.xlsx"), false, Limits::SPREADSHEET),
        (demo("harrier-wharf.xlsx"), true, Limits::SPREADSHEET),
        (demo("harrier-wharf.xlsx"), true, TIGHT),
    ] {
        let wanted = stops_of_document(&document(&input));
        let found = stops_of_sheet(&package(&input, limits), inch);
        assert_eq!(found.len(), wanted.len());
        for (found, wanted) in found.iter().zip(&wanted) {
            assert!((found - wanted).abs() < 0.001, "{found} for {wanted}");
        }
    }
}

#[test]
fn a_column_that_is_blank_for_the_whole_job_is_left_out() {
    let package = package(&block::plain(), Limits::SPREADSHEET);
    let headings = |sheet: &str, row: u32| -> Vec<String> {
        package.sheets[sheet]
            .cells
            .iter()
            .filter(|(at, _)| at.0 == row)
            .map(|(_, cell)| cell.text.clone())
            .collect()
    };
    let openings = headings("Openings", 2);
    assert!(
        !openings.contains(&"Phase".to_owned()) && !openings.contains(&"Note".to_owned()),
        "{openings:?}"
    );
    assert!(openings.contains(&"Building".to_owned()) && openings.contains(&"Reason held".to_owned()));
    let order = headings("Order", 6);
    assert!(!order.contains(&"Phase".to_owned()), "{order:?}");
    assert!(order.contains(&"Wand length (in)".to_owned()), "{order:?}");
}

#[test]
fn no_stop_and_no_check_is_hidden_and_notes_are_told_in_one_row() {
    let input = demo("harrier-wharf.xlsx");
    let report = pipeline::work(&input, &Silent).unwrap();
    let package = package(&input, Limits::SPREADSHEET);
    let sheet = &package.sheets["Queries"];
    let rows = |query: &str| {
        sheet
            .cells
            .iter()
            .filter(|(at, cell)| at.1 == 3 && cell.text == query)
            .map(|(at, _)| at.0)
            .collect::<Vec<_>>()
    };
    // Several causes may say the same; each has a row, and below one for each place if they are
    // many or want an answer.
    let wanted = |message: &str| -> usize {
        let causes = report.queries.iter().filter(|query| query.message == message);
        let rows_of = |query: &GatheredQuery| {
            let places = query.places.len();
            let of_a_heading = query.fills == Some("Headings");
            let listed = query.severity != Severity::Note && places > 1 && !of_a_heading;
            1 + if listed { places } else { 0 }
        };
        causes.map(rows_of).sum()
    };
    let mut listed = 0;
    for query in &report.queries {
        let rows = rows(&query.message).len();
        assert_eq!(rows, wanted(&query.message), "{}", query.message);
        listed += usize::from(rows > 2);
    }
    assert!(listed > 0);
}

#[test]
fn the_total_of_the_order_is_every_blind() {
    let input = demo("harrier-wharf.xlsx");
    let report = pipeline::work(&input, &Silent).unwrap();
    let package = package(&input, Limits::SPREADSHEET);
    let sheet = &package.sheets["Order"];
    let (at, _) = sheet.cells.iter().find(|(at, cell)| at.1 == 2 && cell.text == "all").unwrap();
    assert_eq!(sheet.cells[&(at.0, 1)].text, report.counts.blinds.to_string());
    let louvers: u64 =
        report.order.lines.iter().map(|line| line.quantity * u64::from(line.louvers.unwrap().count)).sum();
    assert_eq!(sheet.cells[&(at.0, 7)].text, louvers.to_string());
}

#[test]
fn a_bar_is_drawn_to_scale() {
    let mm = Length::from_mm;
    let pieces = [2_224, 2_224, 1_000].map(|length| (mm(length), length.to_string())).to_vec();
    let bar = Bar { stock: mm(6_000), trim: mm(10), kerf: mm(3), pieces, left: "529".to_owned() };
    let marks = bar.marks();
    // 6,000 mm on so many dots, each end to the nearest.
    let dots = |mm: f64| (mm * f64::from(LONG) / 6_000.0).round() as i32;
    let ends: Vec<(Stretch, i32, i32)> =
        marks.iter().map(|mark| (mark.stretch, mark.from, mark.to)).collect();
    let wanted = [
        (Stretch::Trim, 0.0, 10.0),
        (Stretch::Piece(0), 10.0, 2_234.0),
        (Stretch::Kerf, 2_234.0, 2_237.0),
        (Stretch::Piece(1), 2_237.0, 4_461.0),
        (Stretch::Kerf, 4_461.0, 4_464.0),
        (Stretch::Piece(2), 4_464.0, 5_464.0),
        (Stretch::Kerf, 5_464.0, 5_467.0),
        (Stretch::Left, 5_467.0, 5_990.0),
        (Stretch::Trim, 5_990.0, 6_000.0),
    ];
    let wanted: Vec<_> =
        wanted.iter().map(|(stretch, from, to)| (*stretch, dots(*from), dots(*to))).collect();
    assert_eq!(ends, wanted);
}

#[test]
fn each_distinct_bar_is_one_picture_and_what_is_not_drawn_is_said() {
    let input = demo("larch-terrace.xlsx");
    let whole = package(&input, Limits::SPREADSHEET);
    let patterns: usize = document(&input)["cuts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|plan| plan["patterns"].as_array().unwrap().len())
        .sum();
    let drawn = whole.sheets["Cut list"].pictures.len();
    assert!(drawn > 10 && drawn <= patterns, "{drawn} of {patterns}");
    let few = package(&input, Limits { bars: 3, ..Limits::SPREADSHEET });
    assert!(few.sheets["Cut list"].pictures.len() < drawn);
    let said =
        few.sheets["Cut list"].cells.values().any(|cell| cell.text.starts_with("Only the first 3 of "));
    assert!(said);
}
