//! The fitter's pages: what they say of every opening, how they are printed, and that they come out
//! whole whatever a survey calls its units.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{Cursor, Read};
use std::path::PathBuf;

use crate::support::{block, files::Folder};
use calamine::{Data, Reader, Xlsx};
use quick_xml::Reader as Xml;
use quick_xml::events::Event;
use rust_decimal::prelude::ToPrimitive;
use sillbook::length::Length;
use sillbook::pipeline::{self, Input, Silent};
use sillbook::report::{FixingStep, Ground, fixing_steps};
use sillbook::sizing::Mount;
use sillbook::survey::Substrate;
use sillbook::workbook::{Limits, write};

/// A survey's units in inches, and headings for its openings.
const HEAD: &str = "[Project]\nProject | Quay House\nRevision | B\nUnits | in\nJurisdiction | US\nBuilt | 2020\n[Openings]\n\
    Unit | Opening | Building | Room | Kind | Width | Height | Sill height | Recess depth | Substrate | Note\n";

/// A workbook as its bytes and its cells.
struct Written {
    bytes: Vec<u8>,
    sheets: Vec<String>,
    cells: BTreeMap<String, Vec<(u32, u32, Data)>>,
}

fn written(input: &Input, limits: Limits) -> Written {
    let report = pipeline::work(input, &Silent).unwrap();
    let mut file = Cursor::new(Vec::new());
    write(&report, limits, &mut file).unwrap();
    let bytes = file.into_inner();
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes.clone())).unwrap();
    let sheets = book.sheet_names();
    let mut cells = BTreeMap::new();
    for sheet in &sheets {
        let mut reader = book.worksheet_cells_reader(sheet).unwrap();
        let found: &mut Vec<_> = cells.entry(sheet.clone()).or_default();
        while let Some(cell) = reader.next_cell().unwrap() {
            let value: Data = cell.get_value().clone().into();
            if value != Data::Empty {
                found.push((cell.get_position().0, cell.get_position().1, value));
            }
        }
    }
    Written { bytes, sheets, cells }
}

impl Written {
    /// The sheets between the list of units and the costs.
    fn pages(&self) -> &[String] {
        let at = |name: &str| self.sheets.iter().position(|sheet| sheet == name).unwrap();
        &self.sheets[at("Install index") + 1..at("Cost summary")]
    }

    fn texts(&self, sheet: &str) -> Vec<String> {
        self.cells[sheet].iter().map(|cell| cell.2.to_string()).collect()
    }

    /// A part of the file; empty if there is none.
    fn part(&self, name: &str) -> String {
        let mut archive = zip::ZipArchive::new(Cursor::new(&self.bytes)).unwrap();
        let mut text = String::new();
        if let Ok(mut part) = archive.by_name(name) {
            part.read_to_string(&mut text).unwrap();
        }
        text
    }

    /// Names of the parts in a folder of the file.
    fn parts(&self, folder: &str) -> Vec<String> {
        let archive = zip::ZipArchive::new(Cursor::new(&self.bytes)).unwrap();
        let names = archive.file_names().map(|name| name.unwrap().into_owned());
        names.filter(|name| name.starts_with(folder)).collect()
    }

    /// The part that holds a sheet.
    fn sheet_part(&self, sheet: &str) -> String {
        let place = self.sheets.iter().position(|name| name == sheet).unwrap();
        self.part(&format!("xl/worksheets/sheet{}.xml", place + 1))
    }
}

/// The attributes of every element of a name, in order.
fn elements(part: &str, name: &str) -> Vec<BTreeMap<String, String>> {
    let mut reader = Xml::from_str(part);
    let mut found = Vec::new();
    loop {
        match reader.read_event().unwrap() {
            Event::Start(element) | Event::Empty(element) if element.local_name().as_ref() == name => {
                let attributes = element.attributes().map(|attribute| {
                    let attribute = attribute.unwrap();
                    let value = String::from_utf8_lossy(attribute.value.as_ref().as_bytes()).into_owned();
                    (attribute.key.as_ref().to_owned(), value)
                });
                found.push(attributes.collect());
            }
            Event::Eof => return found,
            _ => {}
        }
    }
}

fn read(folder: &Folder, survey: &str) -> Input {
    pipeline::read(&[folder.survey("survey.xlsx", survey)], None, &Silent).unwrap()
}

/// A window that can be made, in a unit.
fn window(unit: &str, id: &str) -> String {
    format!("{unit} | {id} | | Lounge | window | 36 | 48 | 30 | 5 | wood |\n")
}

#[test]
fn every_unit_has_a_page_of_its_own_under_its_whole_name() {
    let folder = Folder::new();
    let long = "very long name of a unit ".repeat(8);
    let long = long.trim_end();
    let names = [
        "Penthouse",
        "PENTHOUSE",
        "penthouse",
        "3/04",
        "3:04",
        "x[y]*?",
        "Summary",
        "order",
        "Order 2",
        "History",
        "Install 1",
        "''quoted'",
        long,
    ];
    let rows: String =
        names.iter().enumerate().map(|(place, unit)| window(unit, &format!("W{place}"))).collect();
    let written = written(&read(&folder, &format!("{HEAD}{rows}")), Limits::SPREADSHEET);
    let pages = written.pages();
    assert_eq!(pages.len(), names.len());
    let mut lower: Vec<String> = written.sheets.iter().map(|name| name.to_lowercase()).collect();
    lower.sort();
    lower.dedup();
    assert_eq!(lower.len(), written.sheets.len(), "two sheets of one name");
    for (page, name) in pages.iter().zip(names) {
        assert!(
            page.encode_utf16().count() <= 31 && !page.contains(['[', ']', ':', '*', '?', '/', '\\']),
            "{page}"
        );
        // A text that begins with an apostrophe is read without it.
        let title = format!("Unit {}", name.strip_prefix('\'').unwrap_or(name));
        let titles = written.texts(page);
        assert_eq!(titles[0], title);
        // 16-point bold letters are about 11 dots wide, and 795 dots are there.
        let lines = title.chars().count().div_ceil(72) as f64;
        let first = &elements(&written.sheet_part(page), "row")[0];
        assert!(first["ht"].parse::<f64>().unwrap() >= lines * 20.0, "{title}: {first:?}");
    }
}

#[test]
fn text_that_looks_like_a_formula_stays_text_on_the_page() {
    let folder = Folder::new();
    let row = "=1+1 | =W1 | | =A1 | window | 36 | 48 | 30 | 5 | wood | =SUM(A1)\n";
    let written = written(&read(&folder, &format!("{HEAD}{row}")), Limits::SPREADSHEET);
    let page = &written.pages()[0];
    let texts = written.texts(page);
    assert!(texts.contains(&"Unit =1+1".to_owned()), "{texts:?}");
    assert!(texts.contains(&"Note: =SUM(A1)".to_owned()), "{texts:?}");
    assert!(!written.sheet_part(page).contains("<f>"));
}

/// Points of rows that a page of US Letter or Tabloid holds, before it is scaled.
const LETTER: f64 = 730.0;

#[test]
fn a_page_goes_on_between_openings_and_says_so() {
    let folder = Folder::new();
    let rows: String = (1..=60).map(|number| window("'0304", &format!("W{number}"))).collect();
    let written = written(&read(&folder, &format!("{HEAD}{rows}")), Limits::SPREADSHEET);
    let page = &written.pages()[0];
    let cells = &written.cells[page];
    for number in 1..=60 {
        let name = format!("{number} of 60: W{number}, Lounge - inside mount");
        assert!(cells.iter().any(|cell| cell.2.to_string().starts_with(&name)), "{name}");
    }
    let part = written.sheet_part(page);
    let breaks: Vec<u32> = elements(&part, "brk").iter().map(|found| found["id"].parse().unwrap()).collect();
    // Six to a page, two abreast, less the first page's head and the last one's order of work.
    assert!((9..=11).contains(&breaks.len()), "{breaks:?}");
    for &row in &breaks {
        let first = cells.iter().find(|cell| (cell.0, cell.1) == (row, 0)).unwrap();
        assert_eq!(first.2, Data::String("Unit 0304, continued".to_owned()));
    }
    // Every printed page has room for its rows.
    let mut heights = vec![0.0; breaks.len() + 1];
    for row in elements(&part, "row") {
        let at: u32 = row["r"].parse().unwrap();
        let on = breaks.iter().filter(|&&first| first < at).count();
        // A row of the usual height says nothing of it.
        heights[on] += row.get("ht").map_or(15.0, |height| height.parse::<f64>().unwrap());
    }
    let scale = elements(&part, "pageSetup")[0]["scale"].parse::<f64>().unwrap() / 100.0;
    assert!(heights.iter().all(|&height| height * scale <= LETTER), "{heights:?} at {scale}");
}

#[test]
fn a_unit_of_more_rows_than_a_sheet_holds_goes_on_on_another() {
    let folder = Folder::new();
    let rows: String = (1..=60).map(|number| window("'0304", &format!("W{number}"))).collect();
    let limits = Limits { rows: 400, ..Limits::SPREADSHEET };
    let written = written(&read(&folder, &format!("{HEAD}{rows}")), limits);
    let pages = written.pages();
    assert_eq!(pages[..2], ["0304", "0304 (2)"]);
    let bands =
        pages.iter().flat_map(|page| written.texts(page)).filter(|text| text.contains(", Lounge - inside"));
    assert_eq!(bands.count(), 60);
    // It is one unit all the same.
    let summary = &written.cells["Summary"];
    let label = summary.iter().find(|cell| cell.2 == Data::String("Units".to_owned())).unwrap();
    assert!(summary.contains(&(label.0, label.1 + 1, Data::Float(1.0))));
}

#[test]
fn two_openings_of_either_mount_are_on_one_printed_page() {
    let folder = Folder::new();
    let outside = "A | W2 | | Hall | window | 36 | 48 | 30 | 0 | concrete |\n";
    for units in ["in", "mm"] {
        let survey = format!("{}{outside}{}", HEAD.replace("| in", &format!("| {units}")), window("A", "W1"));
        let survey = if units == "mm" { in_millimeters(&survey) } else { survey };
        let written = written(&read(&folder, &survey), Limits::SPREADSHEET);
        let breaks = elements(&written.sheet_part("A"), "brk").len();
        assert_eq!(breaks, 0, "{units}: {:#?}", written.texts("A"));
    }
}

#[test]
fn six_openings_are_two_abreast_on_one_lying_page_of_twice_the_size() {
    let folder = Folder::new();
    for (units, paper) in [("in", "3"), ("mm", "8")] {
        let outside = "A | W6 | | Hall | window | 36 | 48 | 30 | 0 | concrete |\n";
        let windows: String = (1..=5).map(|number| window("A", &format!("W{number}"))).collect();
        let survey = format!("{}{windows}{outside}", HEAD.replace("| in", &format!("| {units}")));
        let survey = if units == "mm" { in_millimeters(&survey) } else { survey };
        let written = written(&read(&folder, &survey), Limits::SPREADSHEET);
        let part = written.sheet_part("A");
        assert!(elements(&part, "brk").is_empty(), "{units}");
        // The notes stand beside them.
        let beside = |words: &str| {
            let cells = written.cells["A"].iter();
            cells.filter(|cell| cell.2.to_string().starts_with(words)).map(|cell| cell.1).collect::<Vec<_>>()
        };
        assert_eq!(beside("Before you drill"), [16], "{units}");
        let set_up = &elements(&part, "pageSetup")[0];
        assert_eq!((set_up["paperSize"].as_str(), set_up["orientation"].as_str()), (paper, "landscape"));
        // The second, fourth and sixth stand beside the first, third and fifth.
        let band = |number: usize| {
            let begins = format!("{number} of 6: ");
            let cell = written.cells["A"].iter().find(|cell| cell.2.to_string().starts_with(&begins));
            cell.map(|cell| (cell.0, cell.1)).unwrap()
        };
        for left in [1, 3, 5] {
            assert_eq!(band(left).1, 0, "{left}");
            assert_eq!(band(left + 1), (band(left).0, 8), "{left}");
        }
    }
}

/// Every sheet keeps to the paper that the project names, whatever its units are.
#[test]
fn a_project_keeps_to_its_paper() {
    let folder = Folder::new();
    let windows: String = (1..=6).map(|number| window("A", &format!("W{number}"))).collect();
    for (paper, small, large) in
        [("Letter", "1", None), ("A4", "9", None), ("Tabloid", "1", Some("3")), ("A3", "9", Some("8"))]
    {
        let survey =
            format!("{}{windows}", HEAD.replace("[Project]", &format!("[Project]\nPaper | {paper}")));
        let written = written(&read(&folder, &survey), Limits::SPREADSHEET);
        let of = |sheet: &str| elements(&written.sheet_part(sheet), "pageSetup")[0].clone();
        for sheet in &written.sheets {
            let is_wide = ["As surveyed", "Openings", "Order", "Blinds", "A"].contains(&sheet.as_str());
            let wanted = large.filter(|_| is_wide).unwrap_or(small);
            assert_eq!(of(sheet)["paperSize"], wanted, "{paper}: {sheet}");
        }
        let lies = if large.is_some() { "landscape" } else { "portrait" };
        assert_eq!(of("A").get("orientation").map_or("portrait", String::as_str), lies, "{paper}");
        // Without paper of twice the size the order takes two pages beside each other.
        let across = of("Order").get("fitToWidth").map_or("1", String::as_str).to_owned();
        assert_eq!(across, if large.is_some() { "1" } else { "2" }, "{paper}");
    }
}

/// The sizes of the survey above in millimeters.
fn in_millimeters(survey: &str) -> String {
    let sizes = [
        ("| 36 | 48 | 30 | 5 |", "| 910 | 1220 | 760 | 130 |"),
        ("| 36 | 48 | 30 |", "| 910 | 1220 | 760 |"),
    ];
    sizes.iter().fold(survey.to_owned(), |survey, (inches, millimeters)| survey.replace(inches, millimeters))
}

#[test]
fn every_bracket_center_stands_on_the_page() {
    let folder = Folder::new();
    let survey = format!(
        "{HEAD}A | wide | | Hall | patio door | 150 | 82 | 0 | 0 | concrete |\n\
         A | narrow | | Hall | window | 13 | 30 | 40 | 0 | stud wall |\n\
         A | deep | | Hall | window | 71 | 40 | 40 | 6 | wood |\n"
    );
    let input = read(&folder, &survey);
    let written = written(&input, Limits::SPREADSHEET);
    let numbers: Vec<f64> = written.cells["A"]
        .iter()
        .filter_map(|cell| match cell.2 {
            Data::Float(number) => Some(number),
            _ => None,
        })
        .collect();
    let report = pipeline::work(&input, &Silent).unwrap();
    let mut checked = 0;
    for blind in report.blinds.iter().map(|blind| blind.as_ref().unwrap()) {
        let brackets = &blind.fitted.brackets;
        for center in brackets.from_left.iter().chain(brackets.from_opening_left.iter().flatten()) {
            let inches = |length: &Length| length.in_unit(sillbook::length::Unit::Inch).to_f64().unwrap();
            assert!(numbers.iter().any(|number| (number - inches(center)).abs() < 1e-9), "{center:?}");
            checked += 1;
        }
    }
    // 154 in wide: ceil(146 / 32) + 1 = 6 brackets; 17 in: 2; 70 1/2 in: 3; each from both ends.
    assert_eq!(checked, 2 * (6 + 2 + 3));
}

#[test]
fn without_any_price_the_page_is_whole() {
    let folder = Folder::new();
    let survey = format!("{HEAD}{}[Prices]\nItem | Price | Per\nwand |  | each\n", window("A", "W1"));
    let written = written(&read(&folder, &survey), Limits::SPREADSHEET);
    let texts = written.texts("A");
    for words in ["Order of work, inside mount: W1", "Before you drill", "Signed"] {
        assert!(texts.iter().any(|text| text == words), "{words}");
    }
    assert!(!texts.iter().any(|text| text.contains("USD")), "money is no matter of the fitter");
    // What must be known before drilling is read before the steps.
    let at = |words: &str| texts.iter().position(|text| text.starts_with(words)).unwrap();
    assert!(at("Before you drill") < at("Order of work"));
}

#[test]
fn heights_are_from_the_floor_that_was_measured_and_a_floor_to_come_is_told_at_its_opening() {
    let folder = Folder::new();
    let head = HEAD.replace("| Note", "| Floor surface | Floor to come | Note");
    let rows = "A | W1 | | Hall | window | 36 | 48 | 30 | 0 | wood | unfinished | 5/8 |\
\\
                A | W2 | | Hall | window | 36 | 48 | 30 | 0 | wood | unfinished | |\
\\
                A | W3 | | Hall | window | 36 | 48 | 30 | 0 | wood | | |\
";
    let written = written(&read(&folder, &format!("{head}{rows}")), Limits::SPREADSHEET);
    for sheet in ["A", "Openings"] {
        let said = "Heights are from the floor as it was when it was measured.";
        assert!(written.texts(sheet).iter().any(|text| text.contains(said)), "{sheet}");
    }
    let texts = written.texts("A");
    let cautions: Vec<&str> =
        texts.iter().filter(|text| text.contains("floor was")).map(|text| &**text).collect();
    let known = "Caution: heights are from the floor as it was when it was measured; 5/8 in of floor was still to come";
    let unknown =
        "Caution: the floor was not finished; heights are from the floor as it was when it was measured";
    assert!(cautions.contains(&known) && cautions.contains(&unknown), "{cautions:#?}");
}

#[test]
fn a_drawing_is_stored_once_and_says_what_it_shows() {
    let folder = Folder::new();
    let rows: String = (1..=5).map(|number| window("'0304", &format!("W{number}"))).collect();
    let input = read(&folder, &format!("{HEAD}{rows}"));
    let drawn = written(&input, Limits::SPREADSHEET);
    let is_elevation = |name: &&String| drawn.part(name).contains("Elevation of");
    let drawings = drawn.parts("xl/drawings/drawing");
    let drawing = drawings.iter().find(is_elevation).unwrap();
    // Five windows of one size look the same.
    let related = drawn.part(&drawing.replace("drawings/", "drawings/_rels/").replace(".xml", ".xml.rels"));
    assert_eq!(elements(&related, "Relationship").len(), 1);
    let pictures = elements(&drawn.part(drawing), "cNvPr");
    let words: Vec<&str> = pictures.iter().map(|picture| &*picture["descr"]).collect();
    assert_eq!(words.len(), 5);
    assert_eq!(words[4], "Elevation of W5 seen from inside the room");
    let anchors = elements(&drawn.part(drawing), "twoCellAnchor");
    assert!(anchors.iter().all(|anchor| anchor["editAs"] == "oneCell"), "{anchors:?}");

    for (limits, why) in [
        (Limits::SPREADSHEET.without_drawings(), "No drawings (--no-drawings)."),
        (
            Limits { drawings: 4, ..Limits::SPREADSHEET.without_drawings() },
            "No drawings: there are more than 4 openings.",
        ),
    ] {
        let bare = written(&input, limits);
        assert_eq!(bare.parts("xl/media/"), Vec::<String>::new());
        let (all, mut left) = (drawn.texts("0304"), bare.texts("0304"));
        assert!(left.contains(&why.to_owned()), "{left:?}");
        assert!(bare.texts("Summary").contains(&why.to_owned()));
        // All that the page says stands on it still, in the same order. Notes stand in one cell beside the
        // blocks, or each in its own below them.
        left.retain(|text| text != why);
        let notes: BTreeSet<String> = (drawn.texts("0304").iter().chain(&left))
            .filter(|text| {
                text.contains('\n')
                    || text.starts_with("Before you drill")
                    || text.starts_with("Order of work")
            })
            .flat_map(|text| text.split('\n'))
            .map(str::to_owned)
            .collect();
        assert!(notes.len() > 10, "{notes:?}");
        let apart = |texts: Vec<String>| -> (Vec<String>, Vec<String>) {
            let again = |text: &str| text.ends_with(", continued") || text.starts_with("Revision");
            let lines = texts.iter().flat_map(|text| text.split('\n')).filter(|text| !again(text));
            let (mut of_notes, others): (Vec<String>, Vec<String>) =
                lines.map(str::to_owned).partition(|text| notes.contains(text));
            of_notes.sort();
            (of_notes, others)
        };
        assert_eq!(apart(left), apart(all));
    }
}

#[test]
fn pages_lead_to_the_lists_and_the_list_to_pages() {
    let input = block::plain();
    let written = written(&input, Limits::SPREADSHEET);
    let locations = |sheet: &str| -> Vec<String> {
        let links = elements(&written.sheet_part(sheet), "hyperlink");
        links.iter().map(|link| link["location"].replace('\'', "").replace("&apos;", "")).collect()
    };
    let page = locations("0304");
    for sheet in ["Install index!", "Order!", "Queries!"] {
        assert!(page.iter().any(|location| location.starts_with(sheet)), "{sheet} in {page:?}");
    }
    let index = locations("Install index");
    assert!(["0304!A1", "0305!A1"].iter().all(|page| index.contains(&(*page).to_owned())), "{index:?}");
}

#[test]
fn the_same_bytes_have_the_same_fingerprint_which_stands_on_every_sheet() {
    let folder = Folder::new();
    let (first, second) = (
        folder.survey("first.xlsx", &format!("{HEAD}{}", window("A", "W1"))),
        folder.survey("second.xlsx", &format!("{HEAD}{}", window("B", "W2"))),
    );
    let read = |paths: &[&PathBuf]| {
        let paths: Vec<PathBuf> = paths.iter().map(|&path| path.clone()).collect();
        pipeline::read(&paths, None, &Silent).unwrap()
    };
    let shown = |paths: &[&PathBuf]| read(paths).fingerprint.unwrap().to_string();
    let copy = folder.path().join("copy.xlsx");
    std::fs::copy(&first, &copy).unwrap();
    assert_eq!(shown(&[&first]), shown(&[&copy]));
    assert_ne!(shown(&[&first]), shown(&[&second]));
    assert_ne!(shown(&[&first, &second]), shown(&[&second, &first]));
    let print = shown(&[&first]);
    assert!(print.len() == 12 && print.chars().all(|digit| digit.is_ascii_hexdigit()), "{print}");

    let written = written(&read(&[&first]), Limits::SPREADSHEET);
    for sheet in &written.sheets {
        let stamp = format!("Revision B, survey {print}");
        let part = written.sheet_part(sheet);
        let margins = part.split_once("<headerFooter").map_or("", |(_, margins)| margins);
        assert_eq!(margins.matches(&stamp).count(), 2, "header and footer of {sheet}");
    }
    assert!(written.texts("A").contains(&format!("Revision B, survey {print}")));
    assert!(written.texts("Summary").contains(&print));
}

#[test]
fn the_order_of_work_is_by_mount_and_by_what_the_wall_is() {
    let grounds = [
        (Some(Substrate::Wood), Some(Substrate::Wood), Ground::Wood),
        (Some(Substrate::StudWall), Some(Substrate::Wood), Ground::WoodBehindBoard),
        (Some(Substrate::StudWall), Some(Substrate::Drywall), Ground::HollowWall),
        (Some(Substrate::StudWall), None, Ground::HollowWall),
        (Some(Substrate::Drywall), None, Ground::HollowWall),
        (Some(Substrate::Masonry), None, Ground::Masonry),
        (Some(Substrate::Concrete), Some(Substrate::Concrete), Ground::Concrete),
        (Some(Substrate::Steel), None, Ground::SteelStud),
        (None, None, Ground::Unknown),
    ];
    for (wall, chosen, ground) in grounds {
        assert_eq!(Ground::of(wall, chosen), ground, "{wall:?} {chosen:?}");
    }
    let every = grounds.map(|(_, _, ground)| ground).into_iter().collect::<BTreeSet<_>>();
    let every: Vec<Ground> = every.into_iter().collect();
    let says = |steps: &[FixingStep], words: &str| -> usize {
        steps
            .iter()
            .find(|step| step.words.to_lowercase().contains(words))
            .unwrap_or_else(|| panic!("{words}"))
            .number
    };
    for mount in [Mount::Inside, Mount::Outside] {
        let steps = fixing_steps(mount, &every);
        // The first bracket, the rail, the louvers, the valance, the wand, and the film last, in this order.
        let order =
            ["bracket", "rail", "louvers", "valance", "wand", "film"].map(|words| says(&steps, words));
        assert!(order.is_sorted() && order[5] == steps.last().unwrap().number, "{order:?}");
        let drilled: Vec<&FixingStep> = steps.iter().filter(|step| step.ground.is_some()).collect();
        assert_eq!(drilled.len(), every.len());
        assert!(drilled.iter().all(|step| step.number == drilled[0].number));
        for step in drilled {
            let hammer = step.words.contains("Hammer drill with shroud and vacuum");
            let hard = matches!(step.ground, Some(Ground::Masonry | Ground::Concrete));
            assert_eq!(hammer, hard, "{:?}", step.ground);
        }
    }
    let step = |mount, ground| fixing_steps(mount, &[ground]);
    assert!(says(&step(Mount::Inside, Ground::Wood), "lowest point") == 1);
    assert!(says(&step(Mount::Outside, Ground::Wood), "level line") == 2);
    says(&step(Mount::Outside, Ground::HollowWall), "stop and ask");
    says(&step(Mount::Outside, Ground::SteelStud), "self-drilling");
    says(&step(Mount::Outside, Ground::Unknown), "do not drill yet");
}

#[test]
fn a_step_that_is_for_some_names_them() {
    let folder = Folder::new();
    let survey = format!(
        "{HEAD}A | D1 | | Hall | patio door | 70 | 82 | 0 | 0 | concrete |\n\
         A | D2 | | Hall | patio door | 70 | 82 | 0 | 0 | masonry |\n{}",
        window("A", "W1")
    );
    let texts = written(&read(&folder, &survey), Limits::SPREADSHEET).texts("A");
    for words in [
        "Order of work, inside mount: W1",
        "Order of work, outside mount: D1, D2",
        "4  Into wood (W1): ",
        "4a  Into brick or block (D2): ",
        "4b  Into concrete (D1): ",
    ] {
        assert!(texts.iter().any(|text| text.contains(words)), "{words} in {texts:#?}");
    }
}

/// What stands clear is on the page of an escape opening, with what its code asks for (IRC R310), and of
/// an accessible door; and what operates a blind, with its end.
#[test]
fn a_page_says_what_is_clear_and_what_operates_a_blind() {
    let folder = Folder::new();
    let survey = "[Project]\nProject | Quay House\nUnits | in\nJurisdiction | US\n[Openings]\n\
        Unit | Opening | Kind | Width | Height | Sill height | Recess depth | Substrate | Control | Motor side | \
        Cord device | Cord height | Accessible | Escape | Escape clear width | Escape clear height\n\
        A | W1 | window | 26 1/4 | 48 | 30 | 4 | wood | wand | | | | | yes | 24 | 46\n\
        A | D1 | door | 38 5/8 | 78 | 0 | 0 | wood | motor | left | | | yes | | |\n\
        A | W2 | window | 36 | 48 | 30 | 0 | wood | cord | | tension device | 47 | | | |\n\
        A | W3 | window | 36 | 48 | 30 | 0 | wood | motor | | | | | | |\n";
    let written = written(&read(&folder, survey), Limits::SPREADSHEET);
    let texts = written.texts("A");
    let beside = |name: &str| {
        let of = |pair: &[String]| (pair[0] == name).then(|| pair[1].clone());
        // Two blocks stand abreast, so their texts come in turns.
        let mut beside: Vec<String> = texts.windows(2).filter_map(of).collect();
        beside.sort_unstable();
        beside
    };
    assert_eq!(beside("Escape"), ["19 1/8 in clear, 20 in needed; it opens by hand, without key or tool"]);
    let clear = |words: &String| words.ends_with("; clear when open 31 7/8 in");
    assert!(beside("Louvers").iter().any(clear), "{texts:#?}");
    assert_eq!(beside("Control side"), ["left", "right", "right", "unknown"]);
    assert_eq!(beside("Control"), ["motor", "motor"]);
    assert!(
        texts.iter().any(|text| text.starts_with("Caution: a child can strangle in a cord")),
        "{texts:#?}"
    );
}
