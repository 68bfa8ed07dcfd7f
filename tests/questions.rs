//! The right questions: each doubt is one clear query, with what to fill in, and an answer to it
//! is read.

use std::io::Cursor;

use crate::support::files::Folder;
use crate::support::opening::{Case, check, survey_text};
use crate::support::{Surveys, surveys, told};
use proptest::prelude::*;
use sillbook::grid::{self, Row, Sheet, Value};
use sillbook::length::{Unit, Units};
use sillbook::pipeline::{self, Input, Options, Silent};
use sillbook::place::Sheets;
use sillbook::query::{Severity, Wording};
use sillbook::report::Report;
use sillbook::survey::{self, Survey};
use sillbook::{rules, workbook};

/// A survey in those units, and its queries as lines, with their hints.
fn read_in(text: &str, bare: Unit) -> (Survey, Vec<String>) {
    let run = surveys(&[("survey.xlsx", text)]);
    let layouts = survey::lay_out(&run.grids).expect("a table of openings");
    let checked = survey::read(&layouts, &run.sheets, bare).expect("the survey holds openings");
    let lines = told(&checked.queries, &run.sheets).into_iter().zip(&checked.queries);
    (checked.value, lines.map(|(line, query)| format!("{line} -> {}", query.hint)).collect())
}

fn read(text: &str) -> (Survey, Vec<String>) {
    read_in(text, Unit::Inch)
}

/// All that a run works on, from surveys in inches.
fn input(run: Surveys) -> Input {
    let Surveys { grids, sheets } = run;
    let mut queries = Vec::new();
    let rules = rules::build(&grids, Unit::Inch).expect("good rules").into_value(&mut queries);
    let layouts = survey::lay_out(&grids).expect("a table of openings");
    let survey = survey::read(&layouts, &sheets, Unit::Inch).expect("openings").into_value(&mut queries);
    Input { sheets, rules, survey, earlier: None, queries, fingerprint: None, options: Options::default() }
}

fn work(input: &Input) -> Report<'_> {
    pipeline::work(input, &Silent).expect("a plan that can be cut")
}

// ---- Peers -------------------------------------------------------------------------------------

/// A survey of one type whose rows are so wide, all 60 high.
fn widths(widths: &[&str]) -> String {
    let row = |(number, width): (usize, &&str)| format!("\nW{number} | A | {width} | 60");
    let rows: String = widths.iter().enumerate().map(row).collect();
    format!("[Openings]\nOpening | Type | Width | Height{rows}\n[Types]\nType | Note\nA | as drawn")
}

#[test]
fn a_size_far_from_those_of_its_type_is_asked_about() {
    // The limits are common practice, no source. Peers that agree to the last sixteenth have a median deviation of 0: then 3/4 in is allowed.
    // 36 to 40 and a sixth have the median 38 1/2 and the deviations 1/2, 1/2, 1 1/2, 1 1/2, 2 1/2
    // and that of the sixth, so 4 x 1 1/2 = 6 is allowed: up to 44 1/2.
    let cases: [(&[&str], &[usize]); 11] = [
        (&["36", "36", "36", "36 3/4"], &[]),
        (&["36", "36", "36", "36 13/16"], &[3]),
        (&["35 3/16", "36", "36", "36"], &[0]),
        (&["36", "37", "38", "39", "40", "44 1/2"], &[]),
        (&["36", "37", "38", "39", "40", "44 9/16"], &[5]),
        // Three are too few to say which of them is usual.
        (&["36", "36", "60"], &[]),
        // Two sizes, half and half, are both usual.
        (&["36", "36", "36", "72", "72", "72"], &[]),
        // Two of eight are a second size, two of nine and one of four are not.
        (&["36", "36", "36", "36", "36", "36", "72", "72"], &[]),
        (&["36", "36", "36", "36", "36", "36", "36", "72", "72"], &[7, 8]),
        (&["36", "36", "36", "72"], &[3]),
        // But no building has a second size of three inches where the first is three feet.
        (&["36", "36", "36", "36", "36", "36", "3", "3"], &[6, 7]),
    ];
    for (sizes, expected) in cases {
        let (_, lines) = read(&widths(sizes));
        let cells: Vec<String> = expected.iter().map(|row| format!("Openings!C{}:", row + 2)).collect();
        assert_eq!(lines.len(), cells.len(), "{sizes:?}: {lines:#?}");
        for (line, cell) in lines.iter().zip(cells) {
            let says = "the width does not match other openings of this type";
            assert!(line.starts_with(&format!("check {cell} {says}")), "{sizes:?}: {line}");
        }
    }
}

#[test]
fn the_likely_slip_is_the_hint() {
    let of = |units, usual: &str, odd: &str| {
        let row = |cells: &str| format!("\nA | {cells}");
        let text = format!(
            "[Openings]\nType | Width | Height{}{}\n[Types]\nType\nA",
            row(usual).repeat(4),
            row(odd)
        );
        read_in(&text, units).1
    };
    for (units, usual, odd, says) in [
        (Unit::Inch, "36 | 60", "60 | 36", &["width and height are probably swapped"; 2][..]),
        (Unit::Inch, "36 | 60", "63 | 60", &["probably 36 in", "two digits are probably swapped"]),
        (Unit::Inch, "36 | 60", "3 | 60", &["probably in feet"]),
        (Unit::Inch, "36 | 60", "914.4 | 60", &["probably 36 in", "probably in millimeters"]),
        (Unit::Inch, "36 | 60", "91.5 | 60", &["probably in centimeters"]),
        (Unit::Inch, "36 | 60", "360 | 60", &["point is probably one place out"]),
        (Unit::Millimeter, "914 | 1524", "91.4 | 1524", &["probably 914 mm", "probably in centimeters"]),
        (Unit::Millimeter, "914 | 1524", "36 | 1524", &["probably in inches"]),
        (Unit::Millimeter, "914 | 1524", "914 | 124", &["the height", "a digit is probably missing"]),
        (Unit::Millimeter, "914 | 1524", "9914 | 1524", &["a digit was probably typed twice"]),
        (Unit::Millimeter, "914 | 1524", "700 | 1524", &["700 mm; the median of 5 is 914 mm"]),
    ] {
        let lines = of(units, usual, odd);
        let asked = lines.iter().filter(|line| line.contains("does not match")).collect::<Vec<_>>();
        assert!(!asked.is_empty(), "{odd} among {usual}: {lines:#?}");
        for words in says {
            assert!(
                asked.iter().any(|line| line.contains(words)),
                "{odd} among {usual}: {words} in {asked:#?}"
            );
        }
    }
}

#[test]
fn a_size_that_the_type_gives_is_never_asked_about() {
    let text = "[Openings]\nOpening | Type | Width\nW1 | A | 72\nW2 | A | 72\nW3 | A | 72\nW4 | A |\n\
                [Types]\nType | Width | Height\nA | 36 | 60";
    assert_eq!(read(text).1, [""; 0]);
    // A row's own size is, among those that take the type's.
    let text = "[Openings]\nOpening | Type | Width\nW1 | A | 72\nW2 | A |\nW3 | A |\nW4 | A |\n\
                [Types]\nType | Width | Height\nA | 36 | 60";
    let (_, lines) = read(text);
    assert!(matches!(&lines[..], [line] if line.starts_with("check Openings!C2: the width")), "{lines:#?}");
}

#[test]
fn without_a_type_the_same_place_in_other_units_has_the_peers() {
    let unit = |ids: [&str; 2], unit: &str, width: &str| {
        let [one, other] = ids;
        format!("\n{one} | {unit} | Bedroom | {width} | 60\n{other} | {unit} | Bedroom | 48 | 60")
    };
    let survey =
        |rows: &[String]| format!("[Openings]\nOpening | Unit | Room | Width | Height{}", rows.concat());
    let with_unit = survey(&[
        unit(["0104/W1", "0104/W2"], "0104", "36"),
        // In another order: the id says which is which.
        unit(["0204/W1", "0204/W2"], "0204", "36"),
        unit(["0304/W1", "0304/W2"], "0304", "36"),
        unit(["0404/W1", "0404/W2"], "0404", "63"),
    ]);
    let running = survey(&[
        unit(["1", "2"], "0104", "36"),
        unit(["3", "4"], "0204", "36"),
        unit(["5", "6"], "0304", "36"),
        unit(["7", "8"], "0404", "63"),
    ]);
    for text in [&with_unit, &running] {
        let (_, lines) = read(text);
        let place = "check Openings!D8: the width does not match the same opening in other units";
        assert!(matches!(&lines[..], [line] if line.starts_with(place)), "{text}: {lines:#?}");
    }
    // Three units are too few, and an opening in another room is no peer.
    let three = survey(&[
        unit(["1", "2"], "0104", "36"),
        unit(["3", "4"], "0204", "36"),
        unit(["5", "6"], "0304", "63"),
    ]);
    assert_eq!(read(&three).1, [""; 0]);
    assert_eq!(read(&running.replacen("Bedroom", "Kitchen", 2)).1, [""; 0]);
}

#[test]
fn peers_do_not_depend_on_the_order_of_rows() {
    let forwards = read(&widths(&["36", "36", "36", "63", "36 1/4"])).1;
    let backwards = read(&widths(&["36 1/4", "63", "36", "36", "36"])).1;
    assert_eq!(forwards.len(), 1);
    assert_eq!(forwards[0].replace("C5", "C3"), backwards[0]);
}

// ---- What cannot be ----------------------------------------------------------------------------

#[test]
fn heights_that_contradict_each_other_are_asked_about() {
    const DIFFERS: &str = "head height minus sill height differs from the height by more than 1/2 in";
    for case in [
        // 36 + 60 = 96.
        ("Kind = window; Sill height = 36; Ceiling height = 96", "does not ask = is above the ceiling"),
        ("Kind = window; Sill height = 36 1/16; Ceiling height = 96", "asks = is above the ceiling"),
        ("Kind = door; Ceiling height = 59", "asks = is above the ceiling"),
        ("Kind = window; Sill height = 36; Head height = 36 1/16", "asks = differs from the height"),
        ("Kind = window; Sill height = 36; Head height = 36", "held; asks = at or above the head"),
        // 96 1/2 - 36 = 60 1/2 is 1/2 over 60; a blank sill is 0 for a door, unknown for a window.
        ("Kind = window; Sill height = 36; Head height = 96 1/2", "does not ask = differs from"),
        ("Kind = window; Sill height = 36; Head height = 96 9/16", "asks = differs from"),
        ("Kind = window; Sill height = 36; Head height = 95 1/2", "does not ask = differs from"),
        ("Kind = window; Sill height = 36; Head height = 95 7/16", "asks = differs from"),
        ("Kind = door; Head height = 60 1/2", "does not ask = differs from"),
        ("Kind = door; Head height = 61", "asks = differs from"),
        ("Kind = window; Head height = 96", "does not ask = differs from"),
        ("Kind = window; Head height = 59", "asks = differs from"),
        // Finished sizes are the blinds', so they say nothing of the opening.
        (
            "Kind = window; Sill height = 36; Head height = 30; Sizes given are = finished; Mount = outside",
            "does not ask = at or above the head",
        ),
    ] {
        let row = Box::leak(format!("Width = 40; Height = 60; {}", case.0).into_boxed_str());
        check(Case(row, case.1));
    }
    check(Case(
        "Width = 40; Height = 60; Sill height = 30; Head height = 99",
        Box::leak(format!("asks = {DIFFERS}").into_boxed_str()),
    ));
}

#[test]
fn a_depth_in_another_unit_is_asked_about_with_the_likely_one() {
    for (depth, expected) in [
        ("1/2", "does not ask = recess depth is"),
        ("0", "does not ask = recess depth is"),
        ("7/16", "asks = recess depth is less than 1/2 in"),
        ("24", "does not ask = recess depth is"),
        ("76", "held; asks = recess depth is more than 24 in"),
    ] {
        let row = Box::leak(format!("Width = 40; Height = 60; Recess depth = {depth}").into_boxed_str());
        check(Case(row, expected));
    }
    let run = surveys(&[(
        "survey.xlsx",
        "[Project]\nUnits | in\n[Openings]\nOpening | Width | Height | Recess depth\nW1 | 40 | 60 | 76",
    )]);
    let input = input(run);
    let report = work(&input);
    // 76 mm = 2.99 in.
    let query =
        report.queries.iter().find(|query| query.message.contains("more than 24 in")).expect("the stop");
    assert_eq!(query.places[0].detail, "76 in; 76 mm would be 2.99 in");
    assert_eq!(query.fills, Some("Recess depth"));
}

// ---- What to do ---------------------------------------------------------------------------------

/// What a whole run asks about a row in inches, by code: words, hint and what is special to it.
fn asked(row: &str, code: &str) -> Option<[String; 3]> {
    let input = input(surveys(&[("survey.xlsx", &survey_text(row))]));
    let report = work(&input);
    let query = report.queries.iter().find(|query| query.code == code)?;
    Some([query.message.clone(), query.hint.clone(), query.places[0].detail.clone()])
}

#[test]
fn a_csv_is_told_of_its_headings_and_of_no_sheet() {
    let run = surveys(&[("doors.csv", "[doors]\nOpening | Width | Height\nD1 | 36 | 80")]);
    let layouts = survey::lay_out(&run.grids).expect("a table of openings");
    let hint = survey::settle_units(&layouts, &run.sheets, None).expect_err("no unit").hint();
    assert!(hint.contains("headings") && hint.contains("Width (in)") && hint.contains("--units"), "{hint}");
    assert!(!hint.contains("sheet") && !hint.contains("Project"), "{hint}");
    let run = surveys(&[("doors.csv", "[doors]\nDoor | Wide\nD1 | 36")]);
    let hint = survey::lay_out(&run.grids).err().expect("no table").hint();
    assert!(hint.starts_with("give the table headings such as"), "{hint}");
}

#[test]
fn a_stack_without_a_draw_says_what_is_known_of_the_leaf() {
    const DOOR: &str = "Kind = door; Width = 40; Height = 80; Handle = 0";
    for (leaf, known) in [("", "blank"), ("; Opening leaf = both", "both"), ("; Opening leaf = none", "none")]
    {
        let [words, ..] = asked(&format!("{DOOR}{leaf}"), "draw-unknown").expect("a check");
        assert!(words.starts_with(&format!("opening leaf is {known} and draw is blank")), "{words}");
    }
    assert_eq!(asked(&format!("{DOOR}; Opening leaf = left"), "draw-unknown"), None);
}

#[test]
fn a_stack_over_the_opening_leaf_is_to_be_stacked_elsewhere() {
    const DOOR: &str = "Kind = door; Width = 40; Height = 80; Handle = 0; Opening leaf = left; Draw = left";
    let [words, hint, detail] = asked(DOOR, "stack-over-leaf").expect("a check");
    assert_eq!((words.as_str(), detail.as_str()), ("the louvers stack over the opening leaf", "draw left"));
    assert!(hint.contains("Draw") && hint.contains("stack over the fixed leaf"), "{hint}");
}

#[test]
fn a_total_without_sizes_leaves_nothing_to_do() {
    let (_, lines) = read("[Openings]\nOpening | Width | Height\nW1 | 36 | 48\nTotal | |\nW2 | |");
    assert_eq!(lines.len(), 2, "{lines:#?}");
    assert!(
        lines[0].contains("A3: this is a total row") && lines[0].contains("-> nothing to do"),
        "{lines:#?}"
    );
    assert!(lines[1].contains("A4: the row has no size") && lines[1].contains("-> measure it"), "{lines:#?}");
}

#[test]
fn out_of_square_is_shown_as_other_lengths_are() {
    // (100 1/2^2 - 100^2) / (4 x 40) = 0.6265625.
    const WINDOW: &str = "Width = 40; Height = 90; Diagonal 1 = 100; Diagonal 2 = 100 1/2; Mount = outside";
    let [words, _, detail] = asked(WINDOW, "out-of-square").expect("a check");
    assert!(words.starts_with("the opening is out of square by more than"), "{words}");
    assert_eq!(detail, "0.63 in; overlap at the foot 1.37 in");
}

// ---- One query for each cause ------------------------------------------------------------------

#[test]
fn queries_stand_in_order_of_what_they_hold_back() {
    let input = input(surveys(&[(
        "survey.xlsx",
        "[Project]\nUnits | in\n[Openings]
         Opening | Unit | Quantity | Width | Height | Mount | Recess depth
         W1      | 1    |          | 40    |        |       |
         W2      | 1    |          |       | 60     |       |
         W3      | 1    |          | 41    |        |       |
         W4      | 1    | 5        | 40    | 60     | inside | 1",
    )]));
    let report = work(&input);
    let stops: Vec<(&str, Option<&str>, usize)> = report
        .queries
        .iter()
        .filter(|query| query.severity == Severity::Stop)
        .map(|query| (&*query.message, query.fills, query.places.len()))
        .collect();
    // Five openings on one row, then two rows of one each, then one.
    assert_eq!(stops.len(), 3, "{stops:#?}");
    assert!(stops[0].0.starts_with("the recess is too shallow"), "{stops:#?}");
    assert_eq!((stops[0].1, stops[0].2), (Some("Mount"), 1));
    assert_eq!(stops[1], ("no height is given", Some("Height"), 2));
    assert_eq!(stops[2], ("no width is given", Some("Width"), 1));
}

// ---- Answers -----------------------------------------------------------------------------------

const ASKED: &str = "[Openings]
    Opening | Unit | Width | Height | Recess depth (mm) | Kind
    W1      | 101  |       | 60     |                   |
    W2      | 101  | 40    | 60     | 80                |
    W1      | 102  | 41    | -60    |                   |
    W2      | 102  | 42    | 61     |                   | porthole";

/// The survey above with a sheet `Answers` of these rows.
fn answered(rows: &str) -> (Survey, Vec<String>) {
    let rows = rows.split(';').map(str::trim).collect::<Vec<_>>().join("\n");
    read(&format!("{ASKED}\n[Answers]\nQuery | Opening | Column | Answer\n{rows}"))
}

#[test]
fn an_answer_takes_the_place_of_a_cell_and_says_so() {
    let (survey, lines) =
        answered("no width is given | 101 / w1 | width | 39 1/2; x | 102/W1 | Height | 5 ft");
    let sizes: Vec<Option<(String, String)>> = survey
        .openings
        .iter()
        .map(|opening| {
            let facts = opening.facts.as_ref()?;
            Some(
                [facts.width.least(), facts.height.least()]
                    .map(|given| given.value.show(Units::Inches))
                    .into(),
            )
        })
        .collect();
    let size = |width: &str, height: &str| Some((width.to_owned(), height.to_owned()));
    assert_eq!(sizes, [size("39 1/2 in", "60 in"), size("40 in", "60 in"), size("41 in", "60 in"), None]);
    // The cell that is cited is the answer's.
    let facts = survey.openings[0].facts.as_ref().expect("not held");
    assert_eq!((facts.width.least().at.row, facts.width.least().at.column), (1, 3));
    let taken: Vec<&String> = lines.iter().filter(|line| line.starts_with("note")).collect();
    assert!(
        taken[0].starts_with("note Answers!D2: a value was taken from the sheet Answers (Width: 39 1/2)")
    );
    assert!(taken[1].starts_with("note Answers!D3: a value was taken from the sheet Answers (Height: 5 ft)"));
    assert_eq!(taken.len(), 2);
    // No other opening is touched.
    assert!(lines.iter().any(|line| line.contains("Kind must be one of")), "{lines:#?}");
}

#[test]
fn an_answer_finds_its_opening_and_its_column_or_is_asked_about() {
    for (row, says) in [
        // By a cell of the row, and by its row.
        ("x | Openings!A2 | Width | 39", "note Answers!D2: a value was taken"),
        ("x | openings row 2 | Width | 39", "note Answers!D2: a value was taken"),
        (
            "x | W1 | Width | 39",
            "stop Answers!D2: an answer for Width may be for this opening or for another of its name",
        ),
        (
            "x | 101/W11 | Width | 39",
            "check Answers!B2: an answer names an opening that is not in the survey (\"101/W11\": did you mean",
        ),
        (
            "x | 101/W1 | Widht | 39",
            "check Answers!C2: an answer names a column that the sheet Openings cannot have (\"Widht\": did you mean \"Width\"?)",
        ),
        (
            "x | 101/W1 | Order date | 2026-03-04",
            "check Answers!C2: an answer is for an item of the sheet Project",
        ),
        ("x | | Order date | 2026-03-04", "check Answers!D2: an answer is for an item of the sheet Project"),
        (
            "x | | Width | 39",
            "check Answers!D2: an answer names no opening, and no openings are listed under its query",
        ),
        (
            "x | 101/W1 | | all right so",
            "check Answers!D2: no cell takes this answer: the query can only be accepted (all right so)",
        ),
        ("x | 101/W1 | Width | wide", "check Answers!D2: an answer for Width cannot be read"),
        ("x | 101/W1 | Width | wide", "stop Openings!A2: no width is given"),
        ("x | 101/W1 | Width | 39; x | 101/W1 | Width | 38", "stop Answers!D2: the answers for Width differ"),
        ("x | 101/W1 | Width | 39; x | Openings!A2 | Width | 39 in", "note Answers!D2: a value was taken"),
        ("x | 101/W1 | Width |", "stop Openings!A2: no width is given"),
        // A bare number is in the unit of the opening's own heading.
        ("x | 101/W1 | Recess depth | 80", "note Answers!D2: a value was taken"),
    ] {
        let (_, lines) = answered(row);
        assert!(lines.iter().any(|line| line.starts_with(says)), "{row}: {says} in {lines:#?}");
    }
    let (survey, _) = answered("x | 101/W1 | Recess depth | 80; x | 101/W1 | Width | 39");
    let depth = survey.openings[0].facts.as_ref().and_then(|facts| facts.recess_depth).expect("a depth");
    assert_eq!(depth.value.show(Units::Millimeters), "80 mm");
    let (_, lines) = read(&format!("{ASKED}\n[Answers]\nto do | by whom\nmeasure | someone"));
    let none = "check Answers!A1: the sheet Answers has no headings Column and Answer";
    assert!(lines.iter().any(|line| line.starts_with(none)), "{lines:#?}");
}

#[test]
fn an_answer_for_all_is_for_those_that_have_none_of_their_own() {
    let rows = "opens how? | all 3 | Opens | slide; opens how? | 101/W1 | Opens | ; | 101/W2 | Opens | in; | 102/W1 | Opens |; another | 102/W2 | Opens |";
    let (_, lines) = answered(rows);
    let taken: Vec<&str> =
        lines.iter().filter(|line| line.contains("was taken")).map(|line| &line[..45]).collect();
    assert_eq!(lines.iter().filter(|line| line.contains("(Opens: slide)")).count(), 2, "{taken:#?}");
    assert_eq!(lines.iter().filter(|line| line.contains("(Opens: in)")).count(), 1, "{taken:#?}");
}

#[test]
fn no_answer_drops_a_measurement() {
    let three =
        "[Openings]\nOpening | Width top | Width middle | Width bottom | Height\nW1 | 40 | 14 | 40 | 60\n";
    let width = |answers: &str| {
        let (survey, _) = read(&format!("{three}[Answers]\nOpening | Column | Value\n{answers}"));
        let facts = survey.openings[0].facts.clone().expect("not held");
        facts.width.all().map(|given| given.value.show(Units::Inches)).collect::<Vec<_>>()
    };
    assert_eq!(width("W1 | Width | 41"), ["41 in", "40 in", "14 in", "40 in"]);
    assert_eq!(width("W1 | Width middle | 41"), ["40 in", "41 in", "40 in"]);
}

#[test]
fn an_id_that_is_answered_parts_two_rows_of_one_name() {
    let twins = "[Openings]\nOpening | Unit | Width | Height\nW1 | 1 | 40 | 60\nW1 | 1 | 41 | 60\n";
    let (survey, lines) = read(twins);
    assert_eq!(lines.iter().filter(|line| line.starts_with("stop")).count(), 2);
    let name = &survey.openings[1].who.name;
    let (survey, lines) = read(&format!("{twins}[Answers]\nOpening | Column | Value\n{name} | Opening | W2"));
    assert_eq!(lines.iter().filter(|line| line.starts_with("stop")).count(), 0, "{lines:#?}");
    let names: Vec<&str> = survey.openings.iter().map(|opening| &*opening.who.name).collect();
    assert_eq!(names, ["W1", "W2"]);
}

/// The sheet `Queries` of a run's workbook, as a program reads it.
fn queries_of(report: &Report<'_>) -> Sheet {
    let folder = Folder::new();
    let path = folder.path().join("fitout.xlsx");
    let mut file = Cursor::new(Vec::new());
    workbook::write(report, workbook::Limits::SPREADSHEET, &mut file).expect("a workbook");
    std::fs::write(&path, file.into_inner()).expect("room to write");
    let grid = grid::read(&path, &mut Sheets::default()).expect("a workbook that can be read");
    grid.sheets.into_iter().find(|sheet| sheet.name == "Queries").expect("the sheet")
}

/// Where a person writes on the sheet `Queries`.
const ANSWER: u16 = 9;
const BY: u16 = 10;
const ON: u16 = 11;

/// Writes in a cell of a row.
fn put(row: &mut Row, column: u16, text: &str) {
    row.cells.retain(|(known, _)| *known != column);
    let place = row.cells.partition_point(|(known, _)| *known < column);
    row.cells.insert(place, (column, Value::Text(text.into())));
}

#[test]
fn a_survey_with_its_answers_copied_in_is_complete() {
    const SURVEY: &str = "[Project]
        Units      | in
        [Openings]
        Opening | Unit | Kind   | Width | Height | Recess depth | Handle | Substrate | Opening leaf | Draw
        W1      | 101  | window |       | 60     | 5            | 0      | wood    |              |
        W2      | 101  | window | 40    | 60     | 5            | 0      | steelwork |              |
        W1      | 102  | window |       | 60     | 5            | 0      | wood    |              |
        W2      | 102  | window | 40    | 60     | 76           | 0      | wood    |              |
        D1      | 102  | door   | 40    | 80     |              |        |           |              |
        D1      | 103  | door   | 40    | 80     |              |        | concrete  |              |";
    let first = input(surveys(&[("survey.xlsx", SURVEY)]));
    let report = work(&first);
    assert_eq!((report.counts.held, report.complete()), (3, false));
    let mut answers = queries_of(&report);

    // A person fills in the column Answer, for all or one by one, and copies the sheet.
    let given = [
        ("no width is given", "all 2", "41"),
        ("no width is given", "102/W1", "42"),
        ("recess depth is more than 24 in: probably in the wrong unit", "102/W2", "76 mm"),
        ("handle is blank on a door; it is assumed to be 0", "all 2", "2 in"),
    ];
    for (query, opening, answer) in given {
        let says =
            |row: &Row, text: &str| row.cells.iter().any(|(_, value)| *value == Value::Text(text.into()));
        let row = answers.rows.iter_mut().find(|row| says(row, query) && says(row, opening));
        let row = row.unwrap_or_else(|| panic!("no row for {query} at {opening}"));
        put(row, ANSWER, answer);
    }
    let mut run = surveys(&[("survey.xlsx", SURVEY)]);
    answers.name = "Answers".into();
    answers.id = run.sheets.enter("survey.xlsx", "Answers").expect("room for a sheet");
    run.grids[0].sheets.push(answers);

    let second = input(run);
    let report = work(&second);
    assert!(report.complete(), "{:#?}", report.queries);
    let width = |place: usize| {
        let facts = second.survey.openings[place].facts.as_ref().expect("not held");
        facts.width.least().value.show(Units::Inches)
    };
    assert_eq!([width(0), width(2)], ["41 in", "42 in"]);
    let said = |words: &str| report.queries.iter().find(|query| query.message.contains(words));
    assert_eq!(said("taken from the sheet Answers").map(|query| query.places.len()), Some(5));
    assert!(said("handle is blank").is_none() && said("an answer").is_none(), "{:#?}", report.queries);
}

/// The surveys of a project, round by round: its openings as they stand, and the sheets of answers
/// that were copied in so far.
struct Rounds {
    openings: String,
    answers: Vec<Sheet>,
}

impl Rounds {
    /// What a run says now; `told` gets the report.
    fn run<T>(&self, told: impl FnOnce(&Report<'_>) -> T) -> T {
        let mut run = surveys(&[("survey.xlsx", &self.openings)]);
        for (number, answers) in self.answers.iter().enumerate() {
            let name = if number == 0 { "Answers".to_owned() } else { format!("Answers ({})", number + 1) };
            let id = run.sheets.enter("survey.xlsx", &name).expect("room for a sheet");
            run.grids[0].sheets.push(Sheet { id, name, ..answers.clone() });
        }
        told(&work(&input(run)))
    }

    /// Answers the queries of a run on its sheet, by code and opening, and copies it.
    fn answer(&mut self, given: &[(&str, &str, &str)], by: &str, on: &str) {
        let mut sheet = self.run(queries_of);
        for (code, opening, answer) in given {
            let says = |row: &Row, at: u16, text: &str| row.value(at) == Some(&Value::Text(text.into()));
            let row = sheet.rows.iter_mut().find(|row| says(row, 0, code) && says(row, 5, opening));
            let row = row.unwrap_or_else(|| panic!("no row for {code} at {opening}"));
            put(row, ANSWER, answer);
            put(row, BY, by);
            put(row, ON, on);
        }
        self.answers.push(sheet);
    }
}

/// The codes of the stops and checks of a run, once each.
fn open(report: &Report<'_>) -> Vec<&'static str> {
    let asked = report.queries.iter().filter(|query| query.severity != Severity::Note);
    let mut codes: Vec<&str> = asked.map(|query| query.code).collect();
    codes.sort_unstable();
    codes.dedup();
    codes
}

const THREE_WIDTHS: &str = "[Openings]
    Opening | Kind   | Width top | Width middle | Width bottom | Height | Recess depth | Handle | Substrate | Opening leaf | Draw | Sill height
    W1      | window | 44 3/4    | 47 1/2       | 47 1/2       | 60     | 5            | 0      | wood      | none         | left | 30
    W2      | window | 40        | 40           | 40           | 60     | 5            | 0      | porthole  | none         | left | 30";

#[test]
fn three_rounds_of_answers_lose_nothing() {
    let mut rounds = Rounds { openings: THREE_WIDTHS.to_owned(), answers: Vec::new() };
    let width = |report: &Report<'_>, place: usize| {
        report.blinds[place].as_ref().map(|blind| blind.sourced.size.width.show(Units::Inches))
    };
    let before = rounds.run(|report| (width(report, 0), open(report)));
    assert_eq!(before.0.as_deref(), Some("44 1/4 in"));
    assert!(before.1.contains(&"width-spread"), "{before:?}");

    // Accepted: the narrowest width still counts, and the query is listed apart with who and when.
    rounds.answer(&[("width-spread", "W1", "correct, checked")], "R. Moss", "2026-03-04");
    rounds.run(|report| {
        assert_eq!(width(report, 0).as_deref(), Some("44 1/4 in"));
        assert!(!open(report).contains(&"width-spread"), "{:?}", open(report));
        let accepted: Vec<&str> = report.accepted.iter().map(|query| query.code).collect();
        assert_eq!(accepted, ["width-spread"]);
        let who = report.accepted[0].places[0].accepted.as_ref().expect("someone accepted it");
        assert_eq!(who.words(), "accepted by R. Moss, 2026-03-04");
        // The caution stays, and says so.
        let doubts = sillbook::report::Doubts::of(report);
        assert!(doubts.about(0).any(|doubt| doubt.words().contains("accepted by R. Moss")));
    });

    // A second round answers something else; the first still holds.
    rounds.answer(&[("unknown-word", "W2", "steel")], "R. Moss", "2026-03-11");
    rounds.run(|report| {
        assert!(!open(report).contains(&"width-spread") && !open(report).contains(&"unknown-word"));
        let taken: Vec<&str> = report.answers.iter().map(|answer| answer.taken.words()).collect();
        assert_eq!(taken, ["accepted", "value"]);
    });

    // The room is measured again: an old word never beats a new cell in silence.
    rounds.openings = THREE_WIDTHS.replace("44 3/4 ", "46 1/4 ");
    rounds.run(|report| {
        assert!(!open(report).contains(&"width-spread"), "a smaller spread is no worse: {:?}", open(report));
        assert_eq!(width(report, 0).as_deref(), Some("45 3/4 in"));
    });
    rounds.openings = THREE_WIDTHS.replace("44 3/4 ", "43 3/4 ");
    rounds.run(|report| {
        assert!(open(report).contains(&"width-spread"), "{:?}", open(report));
        assert_eq!(width(report, 0).as_deref(), Some("43 1/4 in"));
        let asked = report.queries.iter().find(|query| query.code == "width-spread").expect("asked again");
        assert!(asked.places[0].detail.contains("accepted at"), "{}", asked.places[0].detail);
    });
    rounds.answer(&[("width-spread", "W1", "ok")], "A. Reed", "2026-04-02");
    rounds.run(|report| {
        assert!(!open(report).contains(&"width-spread"), "{:?}", open(report));
        let taken: Vec<&str> = report.answers.iter().map(|answer| answer.taken.words()).collect();
        assert_eq!(taken, ["replaced", "value", "accepted"]);
    });

    // A value that was answered, and then a cell that says another.
    rounds.openings = rounds.openings.replace("porthole ", "concrete ");
    rounds.run(|report| {
        assert!(open(report).contains(&"answer-outdated"), "{:?}", open(report));
        assert!(report.blinds[1].is_none());
    });
    // And one that says the same: settled.
    rounds.openings = rounds.openings.replace("concrete ", "steel ");
    rounds.run(|report| {
        assert!(open(report).iter().all(|code| !code.starts_with("answer")), "{:?}", open(report));
        let taken: Vec<&str> = report.answers.iter().map(|answer| answer.taken.words()).collect();
        assert_eq!(taken, ["replaced", "settled in the survey", "accepted"]);
    });
}

#[test]
fn every_check_can_be_closed() {
    let doors = "\n    D1 | door | 40 | 40 | 40 | 80 | | | wood | | | \n    D2 | door | 40 | 40 | 41 | 80 | 5 | | wood | left | left | ";
    let openings = THREE_WIDTHS.replace("porthole ", "wood ") + doors;
    let mut rounds = Rounds { openings, answers: Vec::new() };
    let all: Vec<(String, String)> = rounds.run(|report| {
        let checks = report.queries.iter().filter(|query| query.severity == Severity::Check);
        let row = |query: &sillbook::query::GatheredQuery| {
            let name = |place: &sillbook::query::QueryPlace| match place.opening {
                Some(opening) => report.survey.openings[opening].who.name.to_string(),
                None => place.at.map_or_else(String::new, |at| report.sheets.show(at)),
            };
            let opening = match query.places.as_slice() {
                [place] => name(place),
                places => survey::every_one_of(places.len()),
            };
            (query.code.to_owned(), opening)
        };
        checks.map(row).collect()
    });
    assert!(all.len() > 1, "{all:?}");
    let given: Vec<(&str, &str, &str)> =
        all.iter().map(|(code, opening)| (&**code, &**opening, "ok")).collect();
    rounds.answer(&given, "", "");
    rounds.run(|report| assert_eq!(open(report), [""; 0]));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is answered, a blind in a recess is never wider than the narrowest width that the
    /// opening has after the answer, and no measured place is lost.
    #[test]
    fn no_answer_makes_a_blind_wider_than_its_recess(
        column in prop::sample::select(vec!["Width", "Width top", "Width middle", "Recess depth", "Mount", "Kind"]),
        answer in prop::sample::select(vec![
            "ok", "yes", "correct, checked", "checked 47 1/2", "47 1/2 correct", "as measured", "no", "-", "47", "45",
            "46 - 48", "about 47", "inside", "0", "n/a", "=A1", "1190 mm", "door",
        ]),
        as_read in prop::sample::select(vec!["", "44 3/4 in", "44 3/4", "47 1/2", "(blank)", "4 ft", "(type A)"]),
    ) {
        let text = format!("{THREE_WIDTHS}\n[Answers]\nOpening | Column | As read | Answer\nW1 | {column} | {as_read} | {answer}");
        let input = input(surveys(&[("survey.xlsx", &text)]));
        let report = work(&input);
        if let (Some(facts), Some(blind)) = (&input.survey.openings[0].facts, &report.blinds[0]) {
            let all: Vec<_> = facts.width.all().map(|given| given.value).collect();
            prop_assert!(all.len() >= 3, "{all:?}");
            let is_inside = blind.sizing.hung.mount() == sillbook::sizing::Mount::Inside;
            prop_assert!(!is_inside || blind.sourced.size.width < facts.width.least().value);
            let untouched = column != "Width top" || report.answers[0].taken.words() != "value";
            let narrowest = sillbook::length::Length::inches(45);
            prop_assert!(!untouched || facts.width.least().value < narrowest);
        }
    }
}

#[test]
fn an_answer_is_for_its_own_row_and_no_other() {
    // Two tables side by side: a row of the sheet is a row of each.
    let beside = "[Openings]\nOpening | Width | Height | | Opening | Width | Height\nW1 | 40 | 60 | | W3 | 44 | 60\n\
                  W2 | 41 | 60 | | W4 | 45 | 60\n[Answers]\nOpening | Column | Answer\n";
    let widths = |answer: &str| {
        let (survey, lines) = read(&format!("{beside}{answer}"));
        let width = |opening: &survey::Opening| {
            let facts = opening.facts.as_ref()?;
            Some(format!("{} {}", opening.who.name, facts.width.least().value.show(Units::Inches)))
        };
        (survey.openings.iter().filter_map(width).collect::<Vec<_>>(), lines)
    };
    let mut given = widths("W1 | Width | 20").0;
    given.sort_unstable();
    assert_eq!(given, ["W1 20 in", "W2 41 in", "W3 44 in", "W4 45 in"]);
    let mut given = widths("Openings!F3 | Width | 20").0;
    given.sort_unstable();
    assert_eq!(given, ["W1 40 in", "W2 41 in", "W3 44 in", "W4 20 in"]);
    let (_, lines) = widths("Openings!A99 | Width | 20");
    assert!(lines.iter().any(|line| line.contains("not in the survey")), "{lines:#?}");
}

#[test]
fn feet_and_inches_in_two_columns_are_one_cell_to_an_answer() {
    let text = "[Openings]\nOpening | Width ft | Width in | Height\nW1 | 3 | 4 | 60\n\
                [Answers]\nOpening | Column | As read | Answer\nW1 | Width | 40 in | 36 in";
    let (survey, lines) = read(text);
    let facts = survey.openings[0].facts.as_ref().unwrap_or_else(|| panic!("held: {lines:#?}"));
    assert_eq!(facts.width.least().value.show(Units::Inches), "36 in");
}

#[test]
fn an_answer_by_a_running_number_does_not_go_on_to_another_row() {
    let rows = |first: &str| {
        format!(
            "[Openings]\nUnit | Room | Kind | Width | Height | Handle\n{first}101 | Bath | door | 40 | 80 | \n\
             [Answers]\nOpening | Room | Column | As read | Answer\n101 1 | Bath | Handle | (blank) | 2"
        )
    };
    let handle = |text: &str| {
        let (survey, lines) = read(text);
        (survey.openings[0].facts.as_ref().map(|facts| facts.handle.is_some()), lines)
    };
    assert_eq!(handle(&rows("")).0, Some(true));
    // A row is put in above: the answer is for none of them until someone says so.
    let (hall, lines) = handle(&rows("101 | Hall | door | 41 | 80 | \n"));
    assert_eq!(hall, None, "{lines:#?}");
    assert!(lines.iter().any(|line| line.contains("answered for Bath")), "{lines:#?}");
}

#[test]
fn the_query_about_two_answers_is_answered_in_its_own_box() {
    let openings = "[Openings]\nOpening | Width | Height | Mount\nW1 | 40 | 60 | outside\n";
    let stops = |answers: &str| {
        let (_, lines) =
            read(&format!("{openings}[Answers]\nCode | Opening | Column | As read | Answer\n{answers}"));
        lines.iter().filter(|line| line.starts_with("stop")).count()
    };
    let outdated = "unknown-word | W1 | Mount | insde | inside";
    assert_eq!(stops(outdated), 1);
    assert_eq!(stops(&format!("{outdated}\nanswer-outdated | W1 | Mount | outside | outside")), 0);
    let differ = "size-missing | W1 | Width | | 50\nsize-missing | W1 | Width | | 51";
    assert_eq!(stops(differ), 1);
    let (_, lines) =
        read(&format!("{openings}[Answers]\nCode | Opening | Column | As read | Answer\n{differ}"));
    let cites_both = |line: &String| line.contains("\"50\" (Answers!E2), \"51\" (Answers!E3)");
    assert!(lines.iter().any(cites_both), "{lines:#?}");
    assert_eq!(stops(&format!("{differ}\nanswers-differ | W1 | Width | 40 in | 51")), 0);
    // On two sheets, in cells of one address.
    let heads = "Code | Opening | Column | As read | Answer";
    let (one, other) = differ.split_once('\n').unwrap();
    let (_, lines) = read(&format!("{openings}[Answers]\n{heads}\n{one}\n[Answers 2]\n{heads}\n{other}"));
    let cites_sheets = |line: &String| line.contains("\"50\" (Answers!E2), \"51\" (Answers 2!E2)");
    assert!(lines.iter().any(cites_sheets), "{lines:#?}");
}
