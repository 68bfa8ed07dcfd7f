//! What a survey's rows become, and what is asked about them.

use crate::support::{Surveys, grid, surveys, told};
use sillbook::length::{Length, Unit};
use sillbook::query::{Checked, Query, Reader, Severity, Wording, gather};
use sillbook::survey::{self, Kind, LookedAt, Opening, Survey, SurveyError, UnitsError, Why};

/// A survey in inches, and its queries as lines.
fn read(text: &str) -> (Survey, Vec<String>) {
    read_files(&[("survey.xlsx", text)])
}

fn read_files(files: &[(&str, &str)]) -> (Survey, Vec<String>) {
    let run = surveys(files);
    let checked = read_run(&run).expect("the survey holds openings");
    let lines = told(&checked.queries, &run.sheets);
    (checked.value, lines)
}

fn read_run(run: &Surveys) -> Result<Checked<Survey>, SurveyError> {
    survey::read(&survey::lay_out(&run.grids)?, &run.sheets, Unit::Inch)
}

fn alone(text: &str) -> Surveys {
    surveys(&[("survey.xlsx", text)])
}

fn names(survey: &Survey) -> Vec<&str> {
    survey.openings.iter().map(|opening| &*opening.who.name).collect()
}

fn is_held(opening: &Opening) -> bool {
    opening.facts.is_none()
}

/// The only opening of a survey of one row: `headings` over `cells`, after a good id and size.
fn one(headings: &str, cells: &str) -> (Opening, Vec<String>) {
    let (survey, lines) =
        read(&format!("[Openings]\nOpening | Width | Height | {headings}\nW1 | 40 | 60 | {cells}"));
    let [opening] = <[Opening; 1]>::try_from(survey.openings).expect("one opening");
    (opening, lines)
}

/// Width and height cells alone, in those columns.
fn sized(headings: &str, cells: &str) -> (Opening, Vec<String>) {
    let (survey, lines) = read(&format!("[Openings]\nOpening | {headings}\nW1 | {cells}"));
    let [opening] = <[Opening; 1]>::try_from(survey.openings).expect("one opening");
    (opening, lines)
}

// ---- Which rows are openings -------------------------------------------------------------------

#[test]
fn an_id_a_unit_a_room_or_a_type_and_any_size_make_an_opening() {
    for (heading, cell) in [("Opening", "W1"), ("Unit", "101"), ("Room", "Kitchen"), ("Type", "A")] {
        let (survey, _) = read(&format!("[Openings]\n{heading} | Width | Height\n{cell} | 40 | 60"));
        assert_eq!((survey.openings.len(), survey.rows), (1, 1), "{heading}");
    }
    // A floor or a phase is not enough: nobody could find the opening by it.
    let (survey, lines) = read(
        "[Openings]
         Opening | Floor | Phase | Width | Height
         W1      | 1     | A     | 40    | 60
                 | 2     | B     | 41    | 61",
    );
    assert_eq!((survey.openings.len(), survey.rows), (1, 2));
    assert_eq!(lines, ["stop Openings!B3: the row has a size, but no id, unit, room or type"]);
}

#[test]
fn a_row_with_an_id_but_no_size_is_noted_and_a_row_with_neither_is_nothing() {
    let (survey, lines) = read(
        "[Openings]
         Opening | Unit | Room    | Width top | Height
         W1      | 101  | Kitchen | 40        | 60
         W2      | 101  | Kitchen |           |
                 | 102  |         |           |
         W3      | 102  | Hall    | 38        |
         W4      | 102  | Hall    |           | 60",
    );
    // W3 and W4 lack one size: they are held, never dropped.
    assert_eq!(names(&survey), ["W1", "W3", "W4"]);
    assert_eq!(survey.openings.iter().map(is_held).collect::<Vec<_>>(), [false, true, true]);
    assert_eq!(survey.rows, 3);
    assert_eq!(
        lines,
        [
            "note Openings!A3: the row has no size, so it is not treated as an opening",
            "stop Openings!A5: no height is given",
            "stop Openings!A6: no width is given",
        ]
    );
}

#[test]
fn a_row_that_begins_with_a_total_is_no_opening() {
    let (survey, lines) = read(
        "[Openings]
         Unit         | Opening | Quantity | Width | Height
         101          | W1      | 1        | 40    | 60
         101 Total    |         | 1        | 40    | 60
         Tower        | Total   | 1        | 40    | 60
         Grand total  |         | 1        | 40    | 60",
    );
    // In the third row the first text is a unit: an opening that is called `Total` stays one.
    assert_eq!(names(&survey), ["W1", "Total"]);
    assert_eq!(
        lines,
        [
            "note Openings!A3: this is a total row, so it is not treated as an opening",
            "note Openings!A5: this is a total row, so it is not treated as an opening",
        ]
    );
}

#[test]
fn a_total_in_a_column_of_its_own_or_beside_a_merged_unit_is_no_opening() {
    let (survey, _) = read(
        "[Openings]
         Unit | Group  | Opening | Width | Height
         101  | front  | W1      | 40    | 60
         ^    | Total  |         | 40    | 60",
    );
    assert_eq!(names(&survey), ["W1"]);
}

// ---- Types -------------------------------------------------------------------------------------

#[test]
fn a_type_fills_the_blanks_of_a_row_and_the_row_wins_cell_by_cell() {
    let (survey, lines) = read(
        "[Types]
         Type | Width | Height | Mount   | Wall left | Glass
         A    | 40    | 60     | outside | 3         | clear
         [Openings]
         Opening | Type | Height | Wall left | Glass
         W1      | a    |        |           |
         W2      | A    | 62     | 0         | frosted",
    );
    assert_eq!(lines, [] as [&str; 0]);
    let facts = |index: usize| survey.openings[index].facts.as_deref().expect("not held");
    let inches = |index: usize| {
        let facts = facts(index);
        (facts.width.least().value, facts.height.least().value, facts.wall_left.map(|wall| wall.value))
    };
    assert_eq!(inches(0), (Length::inches(40), Length::inches(60), Some(Length::inches(3))));
    assert_eq!(inches(1), (Length::inches(40), Length::inches(62), Some(Length::ZERO)));
    let carried: Vec<&str> = survey.openings.iter().map(|opening| &*opening.who.carried[0]).collect();
    assert_eq!(carried, ["clear", "frosted"]);
}

#[test]
fn a_width_stands_for_all_three_places_when_row_and_type_meet() {
    // Columns of the row; columns of its type; the widths that count, in inches.
    let cases: [(&str, &str, &[i64]); 5] = [
        // `Width` alone means three equal widths: nothing of the type's is left.
        ("Width=39", "Width top=41 Width middle=42", &[39]),
        ("Width top=39 Width middle=38 Width bottom=37", "Width=41", &[39, 38, 37]),
        ("Width top=39", "Width=41", &[41, 39]),
        ("Width top=39", "Width top=41 Width bottom=42", &[39, 42]),
        ("Width=39 Width top=38", "Width=41 Width bottom=43", &[39, 38]),
    ];
    for (row, of_type, expected) in cases {
        let columns = |text: &str| {
            let (mut headings, mut cells) = (String::new(), String::new());
            for (at, part) in text.match_indices('=') {
                let heading = text[..at].rsplit(|c: char| c.is_ascii_digit()).next().expect("a heading");
                let cell = text[at + part.len()..].split(' ').next().expect("a cell");
                headings += &format!("| {} ", heading.trim());
                cells += &format!("| {cell} ");
            }
            (headings, cells)
        };
        let ((row_headings, row_cells), (type_headings, type_cells)) = (columns(row), columns(of_type));
        let (survey, _) = read(&format!(
            "[Openings]\nOpening | Type | Height {row_headings}\nW1 | A | 60 {row_cells}
             [Types]\nType {type_headings}\nA {type_cells}"
        ));
        let facts = survey.openings[0].facts.as_deref().expect("not held");
        let widths: Vec<Length> = facts.width.all().map(|width| width.value).collect();
        let expected: Vec<Length> = expected.iter().copied().map(Length::inches).collect();
        assert_eq!(widths, expected, "{row} over {of_type}");
    }
}

#[test]
fn a_type_that_leads_nowhere_is_a_check_or_a_stop_without_a_size() {
    let (survey, lines) = read(
        "[Types]
         Type  | Width | Height | Note
         Patio | 70    | 80     |
         Twin  | 30    | 40     |
         twin  | 31    | 40     |
               | 32    | 40     | who uses this?
         Bare  |       |        | no size yet
         [Openings]
         Opening | Type  | Width | Height
         W1      | Pateo | 40    | 60
         W2      | Pateo |       |
         W3      | Twin  |       |
         W4      | Bare  |       |
         W5      | Patio |       |",
    );
    assert_eq!(names(&survey), ["W1", "W2", "W3", "W5"]);
    assert_eq!(survey.openings.iter().map(is_held).collect::<Vec<_>>(), [false, true, true, false]);
    assert_eq!(
        lines,
        [
            "check Types!B5: a row in a list of types has no type name, so no opening can use it",
            "note Openings!A5: the row has no size, so it is not treated as an opening",
            "check Openings!B2: the type is not in any list of types (did you mean \"Patio\"?)",
            "stop Openings!B3: the type is not in any list of types, and the row has no size of its own \
             (did you mean \"Patio\"?)",
            "stop Openings!B4: the type is listed more than once",
        ]
    );
}

// ---- Names -------------------------------------------------------------------------------------

#[test]
fn an_opening_is_shown_by_the_shortest_name_that_is_unique() {
    // Building, unit and id of each row; the names shown.
    let cases: [(&[&str], &[&str]); 8] = [
        (&["|101|W1", "|101|W2"], &["W1", "W2"]),
        (&["|101|W1", "|102|W1", "|102|W2"], &["101/W1", "102/W1", "W2"]),
        (&["A|101|W1", "B|101|W1", "B|102|W1"], &["A/101/W1", "B/101/W1", "102/W1"]),
        (&["||W1", "|101|W1"], &["No unit/W1", "101/W1"]),
        // A written id that looks like unit and id gives way as well.
        (&["A|5|101/W1", "A|101|W1", "A|102|W1"], &["5/101/W1", "A/101/W1", "102/W1"]),
        // Blank ids: the unit and a running number in it, passing over a number that is written.
        (&["|101|", "|102|", "|101|", "||"], &["101 1", "102 1", "101 2", "No unit 1"]),
        (&["|101|", "|101|101 1"], &["101 2", "101 1"]),
        (&["A|101|", "B|101|"], &["A/101 1", "B/101 1"]),
    ];
    for (rows, expected) in cases {
        let rows: Vec<String> = rows.iter().map(|row| format!("{row} | Hall | 40 | 60")).collect();
        let (survey, lines) = read(&format!(
            "[Openings]\nBuilding | Unit | Opening | Room | Width | Height\n{}",
            rows.join("\n")
        ));
        assert_eq!(names(&survey), expected, "{rows:?}");
        assert_eq!(lines, [] as [&str; 0], "{rows:?}");
    }
}

#[test]
fn two_rows_with_the_same_key_are_both_held_and_shown_by_row() {
    let (survey, lines) = read(
        "[Openings]
         Unit | Opening | Width | Height
         101  | W1      | 40    | 60
         101  | w1      | 41    | 61
         101  | W 1     | 42    | 62",
    );
    // `W 1` is another id: only case and the width of spaces make no difference.
    assert_eq!(names(&survey), ["101/W1 (Openings row 2)", "101/w1 (Openings row 3)", "W 1"]);
    assert_eq!(survey.openings.iter().map(is_held).collect::<Vec<_>>(), [true, true, false]);
    assert_eq!(
        lines,
        [
            "stop Openings!B2: another row has the same building, unit and id (Openings row 3)",
            "stop Openings!B3: another row has the same building, unit and id (Openings row 2)",
        ]
    );
}

#[test]
fn a_row_that_an_export_may_have_repeated_is_held_with_a_hint() {
    let run = surveys(&[(
        "survey.xlsx",
        "[Openings]
         Unit | Opening | Width | Height | Note
         101  | W1      | 40    | 60     | first
         101  | W1      | 40    | 60     | again
         101  | W2      |       |        |",
    )]);
    let Checked { value: survey, queries } = read_run(&run).expect("the survey holds openings");
    assert_eq!(survey.openings.iter().map(is_held).collect::<Vec<_>>(), [true, true]);
    assert_eq!(
        told(&queries, &run.sheets)[1..],
        [
            "stop Openings!B2: another row has the same building, unit, id and sizes (Openings row 3)",
            "stop Openings!B3: another row has the same building, unit, id and sizes (Openings row 2)",
        ]
    );
    let hint = &queries[1].hint;
    assert!(hint.contains("delete one") && hint.contains("its own id"), "{hint}");
}

#[test]
fn the_same_opening_in_two_files_is_held_in_both_even_if_the_files_share_a_name() {
    let text = "[Openings]\nUnit | Opening | Width | Height\n101 | W1 | 40 | 60";
    let (survey, _) = read_files(&[("a.xlsx", text), ("b.xlsx", text)]);
    assert_eq!(names(&survey), ["101/W1 (a.xlsx Openings row 2)", "101/W1 (b.xlsx Openings row 2)"]);
    assert!(survey.openings.iter().all(is_held));
    let (survey, _) = read_files(&[("a.xlsx", text), ("a.xlsx", text)]);
    assert_eq!(names(&survey), ["101/W1 (a.xlsx Openings row 2)", "101/W1 (a.xlsx Openings row 2) (2)"]);
}

#[test]
fn a_merged_unit_speaks_for_each_row_beside_it() {
    let (survey, _) = read(
        "[Openings]
         Unit | Opening | Width | Height
         101  | W1      | 40    | 60
         ^    | W2      | 40    | 60
              | W3      | 40    | 60",
    );
    let units: Vec<&str> = survey.openings.iter().map(|opening| opening.who.shown_unit()).collect();
    assert_eq!(units, ["101", "101", "No unit"]);
}

// ---- Cells -------------------------------------------------------------------------------------

/// What one unreadable cell does: held, looked at, or nothing.
#[derive(Debug, PartialEq, Eq)]
enum Does {
    Hold,
    Check,
    Nothing,
}

fn does(opening: &Opening, lines: &[String]) -> Does {
    let severities: Vec<&str> = lines.iter().filter_map(|line| line.split(' ').next()).collect();
    match (is_held(opening), severities.as_slice()) {
        (true, ["stop"]) => Does::Hold,
        (false, ["check"]) => Does::Check,
        (false, []) => Does::Nothing,
        other => panic!("neither held by one stop nor free with at most one check: {other:?} {lines:?}"),
    }
}

#[test]
fn a_cell_that_decides_what_is_made_holds_its_opening_when_it_cannot_be_read() {
    use Does::{Check, Hold, Nothing};
    let cases = [
        // A blank would be taken for a value; that is not what was written.
        ("Wall left", "plenty", Hold),
        ("Wall left", "#REF!", Hold),
        ("Wall left", "=?", Hold),
        ("Wall left", "-1", Hold),
        ("Wall left", "2026-03-04", Hold),
        ("Wall left", "0", Nothing),
        ("Handle", "sticks out", Hold),
        ("Trim", "#N/A", Hold),
        ("Sill height", "low", Hold),
        ("Floor to come", "soon", Hold),
        ("Mount", "indoors", Hold),
        ("Draw", "lft", Hold),
        ("Draw", "LEFT", Nothing),
        ("Control", "remote", Hold),
        ("Quantity", "some", Hold),
        ("Quantity", "0", Hold),
        ("Quantity", "10001", Hold),
        ("Quantity", "10000", Nothing),
        ("Kind", "porthole", Hold),
        ("Measured", "guessed", Hold),
        ("Drop wanted", "0", Hold),
        ("Escape", "maybe", Hold),
        ("Color", "#REF!", Hold),
        ("Product", "=?", Hold),
        // A blank is unknown, and so is an error; but words that say something hold.
        ("Recess depth", "#REF!", Check),
        ("Recess depth", "=?", Check),
        ("Recess depth", "deep", Hold),
        ("Recess depth", "-3", Hold),
        ("Recess depth", "0", Nothing),
        ("Opens", "#REF!", Check),
        ("Opens", "sideways", Hold),
        ("Header height", "#REF!", Check),
        // A blank is unknown, or the text is only a name.
        ("Substrate", "cheese", Check),
        ("Opening leaf", "middle", Check),
        ("Room", "#REF!", Check),
        ("Note", "=?", Check),
        ("Unit", "#REF!", Check),
        ("Unit", "2026-03-04", Hold),
    ];
    for (heading, cell, expected) in cases {
        let (opening, lines) = one(heading, cell);
        assert_eq!(does(&opening, &lines), expected, "{heading} {cell}: {lines:?}");
    }
}

#[test]
fn a_date_for_an_id_holds_the_row_and_says_to_format_the_column_as_text() {
    let run = surveys(&[("survey.xlsx", "[Openings]\nOpening | Width | Height\n2026-03-04 | 40 | 60")]);
    let checked = read_run(&run).expect("the survey holds openings");
    assert!(is_held(&checked.value.openings[0]));
    let [query] = checked.queries.as_slice() else { panic!("one query: {:?}", checked.queries) };
    assert_eq!(query.severity, Severity::Stop);
    assert!(query.hint.contains("text"), "{}", query.hint);
}

#[test]
fn one_bad_width_of_three_is_a_check_and_the_good_ones_are_used() {
    use Does::{Check, Hold, Nothing};
    let headings = "Width top | Width middle | Width bottom | Height";
    let cases = [
        ("40 | 41 | 42 | 60", Nothing, Some(40)),
        ("40 | #REF! | 42 | 60", Check, Some(40)),
        ("40 | =? | 42 | 60", Check, Some(40)),
        ("0 | 41 | 42 | 60", Check, Some(41)),
        ("wide | 41 | 42 | 60", Check, Some(41)),
        // 0.3 in is under 10 mm, the least that a width can be.
        ("0.3 | 41 | 42 | 60", Check, Some(41)),
        // A negative number holds, and so does a date, whatever else is good.
        ("-40 | 41 | 42 | 60", Hold, None),
        ("2026-03-04 | 41 | 42 | 60", Hold, None),
        ("#REF! | | | 60", Hold, None),
        ("0 | | | 60", Hold, None),
    ];
    for (cells, expected, least) in cases {
        let (opening, lines) = sized(headings, cells);
        assert_eq!(does(&opening, &lines), expected, "{cells}: {lines:?}");
        let width = opening.facts.map(|facts| facts.width.least().value);
        assert_eq!(width, least.map(Length::inches), "{cells}");
    }
}

#[test]
fn one_diagonal_alone_counts_as_none() {
    let (opening, lines) = one("Diagonal 1 | Diagonal 2", "72 | 72 1/8");
    assert!(opening.facts.is_some_and(|facts| facts.diagonals.is_some()));
    assert_eq!(lines, [] as [&str; 0]);
    let (opening, lines) = one("Diagonal 1 | Diagonal 2", "72 |");
    assert!(opening.facts.is_some_and(|facts| facts.diagonals.is_none()));
    assert_eq!(lines, ["note Openings!D2: one diagonal alone does not show whether an opening is square"]);
}

#[test]
fn every_query_of_a_held_row_is_told_in_one_run() {
    let (survey, lines) = read(
        "[Openings]
         Opening | Width | Height | Wall left | Draw
         W1      | wide  |        | plenty    | lft",
    );
    assert!(is_held(&survey.openings[0]));
    let places: Vec<&str> = lines.iter().filter_map(|line| line.split(':').next()).collect();
    assert_eq!(
        places,
        ["stop Openings!B2", "stop Openings!A2", "stop Openings!D2", "stop Openings!E2"],
        "{lines:?}"
    );
}

#[test]
fn a_blank_kind_is_a_patio_door_from_72_in_high_with_a_sill_of_at_most_6_in() {
    let cases = [
        ("72 |", Kind::PatioDoor),
        ("71.99 |", Kind::Window),
        ("72 | 6", Kind::PatioDoor),
        ("72 | 6.01", Kind::Window),
        ("72 | 0", Kind::PatioDoor),
    ];
    for (cells, kind) in cases {
        let (opening, _) = sized("Width | Height | Sill height", &format!("70 | {cells}"));
        assert_eq!(opening.facts.map(|facts| facts.kind), Some(kind), "{cells}");
    }
    // The least height decides, and a kind that is written is never settled.
    let (opening, _) = sized("Width | Height left | Height right", "70 | 71 | 80");
    assert_eq!(opening.facts.map(|facts| facts.kind), Some(Kind::Window));
    let (opening, _) = sized("Width | Height | Kind", "70 | 60 | door");
    assert_eq!(opening.facts.map(|facts| facts.kind), Some(Kind::Door));
}

#[test]
fn a_blank_sill_is_0_for_a_door_and_unknown_for_a_window() {
    let cases = [
        ("door |", Some(Length::ZERO)),
        ("patio door |", Some(Length::ZERO)),
        ("window |", None),
        ("window | 0", Some(Length::ZERO)),
        ("door | 2", Some(Length::inches(2))),
    ];
    for (cells, sill) in cases {
        let (opening, _) = one("Kind | Sill height", cells);
        assert_eq!(opening.facts.and_then(|facts| facts.sill_height()), sill, "{cells}");
    }
}

// ---- Assumptions -------------------------------------------------------------------------------

fn assumed(survey: &Survey, column: &str) -> Vec<(String, u64)> {
    // As if every opening that is not held here got a blind.
    let all = sillbook::survey::assumed(survey, |_| true);
    let of_column = all.into_iter().filter(|assumption| assumption.column.name == column);
    of_column.map(|assumption| (assumption.value, assumption.openings)).collect()
}

#[test]
fn what_is_taken_for_a_blank_is_counted_by_quantity_and_not_for_held_openings() {
    let (survey, _) = read(
        "[Openings]
         Opening | Quantity | Width | Height | Handle | Kind   | Recess depth
         W1      | 3        | 40    | 60     |        |        | 4
         W2      |          | 40    | 80     | 1      | window |
         W3      | 5        |       | 60     |        |        |
         W4      | 2        | 40    | 80     |        |        |",
    );
    // Handle is blank for W1 (3) and W4 (2); W3 is held.
    assert_eq!(assumed(&survey, "Handle"), [("0".into(), 5)]);
    assert_eq!(assumed(&survey, "Quantity"), [("1".into(), 1)]);
    assert_eq!(assumed(&survey, "Kind"), [("window".into(), 3), ("patio door".into(), 2)]);
    assert_eq!(assumed(&survey, "Sill height"), [("unknown".into(), 4), ("0".into(), 2)]);
    assert_eq!(assumed(&survey, "Wall left"), [("enough".into(), 6)]);
    assert_eq!(assumed(&survey, "Recess depth"), [("unknown".into(), 3)]);
    // Only where there is a depth does it matter what it was measured to.
    assert_eq!(assumed(&survey, "Depth to"), [("glass".into(), 3)]);
    assert_eq!(assumed(&survey, "Unit"), [("No unit".into(), 6)]);
    assert_eq!(assumed(&survey, "Opening"), []);
    // What a blank product means is not the survey's to say.
    assert_eq!(assumed(&survey, "Product"), []);
}

#[test]
fn a_cell_that_cannot_be_read_is_no_assumption() {
    let (survey, _) = read(
        "[Openings]
         Opening | Width | Height | Substrate
         W1      | 40    | 60     | cheese
         W2      | 40    | 60     |",
    );
    assert_eq!(assumed(&survey, "Substrate"), [("unknown".into(), 1)]);
}

// ---- Files -------------------------------------------------------------------------------------

#[test]
fn carried_columns_of_several_surveys_stand_under_one_another() {
    let (survey, _) = read_files(&[
        (
            "a.xlsx",
            "[Openings]
             Opening | Glazing | Width | Height | Aspect
             W1      | double  | 40    | 60     | north",
        ),
        (
            "b.xlsx",
            "[Openings]
             Opening | Width | Height | ASPECT | Keeper
             W2      | 40    | 60     | south  | none",
        ),
    ]);
    let headings: Vec<&str> = survey.carried.iter().map(|heading| &**heading).collect();
    assert_eq!(headings, ["Glazing", "Aspect", "Keeper"]);
    let rows: Vec<Vec<&str>> = survey
        .openings
        .iter()
        .map(|opening| opening.who.carried.iter().map(|text| &**text).collect())
        .collect();
    assert_eq!(rows, [["double", "north", ""], ["", "south", "none"]]);
    let files: Vec<&str> = survey.openings.iter().map(|opening| &*opening.who.survey).collect();
    assert_eq!(files, ["a.xlsx", "b.xlsx"]);
}

#[test]
fn without_a_sheet_of_that_name_every_table_that_looks_like_openings_is_read() {
    let (survey, lines) = read(
        "[Cover]
         A made-up tower
         [Floor 1]
         Unit | Opening | Width | Height
         101  | W1      | 40    | 60
         [Floor 2]
         Apartment | Room | W  | H
         201       | Hall | 41 | 61
         [Types]
         Type | Room | Width | Height
         A    | Hall | 30    | 30
         [Stock sizes]
         Product   | Color | Width | Height
         louver-89 | white  | 66    | 84
         [Register]
         Unit | Room | Width
         301  | Hall | 40",
    );
    assert_eq!(names(&survey), ["W1", "201 1"]);
    // Stock sizes are what their sheet says.
    assert_eq!(
        lines,
        [
            "note Register!A1: the table lists no openings, so it is ignored \
             (has no column for height)",
            "note Floor 1!A1: the sheet name is used as the floor of each row",
            "note Floor 2!A1: the sheet name is used as the floor of each row",
        ]
    );
}

#[test]
fn a_file_without_openings_is_an_error_that_names_its_sheets() {
    let read = |text| read_run(&alone(text)).map(|_| ()).expect_err("no openings");
    let none = read("[Cover]\nA made-up tower\n[Prices]\nItem | Price\nwand | 1");
    assert_eq!(
        none,
        SurveyError::NoOpenings {
            survey: "survey.xlsx".into(),
            looked_at: vec![
                LookedAt { place: "Cover".into(), why: Why::NoHeadings, unknown: Vec::new() },
                LookedAt { place: "Prices".into(), why: Why::Reserved, unknown: Vec::new() },
            ]
        }
    );
    assert_eq!(
        none.to_string(),
        "survey.xlsx has no table of openings: Cover does not have the headings of a table of openings; \
         Prices has a name that is reserved for something else"
    );
    assert!(none.hint().contains("Openings"));
    let empty = read("[Openings]\nOpening | Width | Height\nW1 | |");
    assert_eq!(empty.to_string(), "survey.xlsx lists no openings on Openings");
}

#[test]
fn a_million_blinds_are_read_and_one_more_is_not() {
    let rows = |last: u32| {
        let full = (0..99).map(|row| format!("W{row} | 10000 | 40 | 60\n")).collect::<String>();
        format!(
            "[Openings]\nOpening | Quantity | Width | Height\n{full}W99 | 9999 | 40 | 60\nW100 | {last} | 40 | 60"
        )
    };
    // 99 x 10,000 + 9,999 + 1 = 1,000,000.
    assert!(read_run(&alone(&rows(1))).is_ok());
    assert_eq!(read_run(&alone(&rows(2))).map(|_| ()), Err(SurveyError::TooManyBlinds { blinds: 1_000_001 }));
}

#[test]
fn a_first_row_of_dashes_is_a_row_and_no_headings() {
    for blank in ["-", "--", "–", "—", "?", "??", "...", "/", "n/a"] {
        let rows = (1..4).map(|row| format!("W{row} | 40 | 60{}\n", format!(" | {blank}").repeat(5)));
        let rows: String = rows.collect();
        let headings = "Opening | Width | Height | Handle | Wall left | Wall right | Stud spacing | Mount";
        let survey = read_run(&alone(&format!("[Openings]\n{headings}\n{rows}")));
        let survey = survey.unwrap_or_else(|error| panic!("{blank}: {error}")).value;
        assert_eq!(names(&survey), ["W1", "W2", "W3"], "{blank}");
    }
}

#[test]
fn half_a_million_cells_that_cannot_be_read_are_asked_about_and_one_more_is_not() {
    const COLUMNS: [&str; 5] = ["Handle", "Wall left", "Wall right", "Stud spacing", "Mount"];
    let survey = |more: &str| {
        let headings = COLUMNS.join(" | ");
        let rows = (0..100_000).map(|row| format!("W{row} | 40 | 60{}\n", " | ?!".repeat(COLUMNS.len())));
        let rows: String = rows.collect();
        alone(&format!("[Openings]\nOpening | Width | Height | {headings}\n{rows}{more}"))
    };
    assert_eq!(read_run(&survey("")).map(|_| ()), Ok(()));
    let refused = read_run(&survey("L1 | 40 | 60 | | | | | ?!")).map(|_| ()).unwrap_err();
    assert_eq!(refused, SurveyError::TooManyUnread { cells: 500_001, column: "Mount" });
    assert!(refused.hint().contains("what stands under Mount"), "{}", refused.hint());
}

// ---- Units -------------------------------------------------------------------------------------

const IN_MM: &str = "[Project]\nUnits | mm\n[Openings]\nOpening | Width\nW1 | 1000";
const IN_INCHES: &str = "[Openings]\nOpening | Width (in) | Height\nW1 | 40 | 60";
const IN_NOTHING: &str = "[Openings]\nOpening | Width | Height\nW1 | 40 | 60";
const MIXED: &str = "[Openings]\nOpening | Width (in) | Height (mm)\nW1 | 40 | 600";

fn settle(run: &Surveys, wanted: Option<Unit>) -> Result<Unit, UnitsError> {
    survey::settle_units(&survey::lay_out(&run.grids).expect("tables of openings"), &run.sheets, wanted)
        .map(|bare| bare.unit)
}

#[test]
fn units_come_from_the_command_then_the_project_then_headings_and_cells() {
    let cases = [
        (IN_MM, None, Unit::Millimeter),
        (IN_MM, Some(Unit::Inch), Unit::Inch),
        (IN_INCHES, None, Unit::Inch),
        (IN_NOTHING, Some(Unit::Millimeter), Unit::Millimeter),
        (MIXED, Some(Unit::Inch), Unit::Inch),
        // The project settles what bare numbers are in; a heading may name another unit.
        (
            "[Project]\nUnits | in\n[Openings]\nOpening | Width | Recess depth (mm)\nW1 | 40 | 80",
            None,
            Unit::Inch,
        ),
        ("[Openings]\nOpening | Width | Height\nW1 | 40 | 8' 10\"", None, Unit::Inch),
        ("[Types]\nType | Width (cm)\nA | 90\n[Openings]\nOpening | Type\nW1 | A", None, Unit::Millimeter),
    ];
    for (text, wanted, expected) in cases {
        assert_eq!(settle(&alone(text), wanted), Ok(expected), "{text}");
    }
}

#[test]
fn units_that_nothing_names_or_that_disagree_stop_the_run() {
    let settle = |files: &[(&str, &str)]| settle(&surveys(files), None);
    let unnamed = settle(&[("a.xlsx", IN_NOTHING)]).expect_err("no units");
    assert_eq!(unnamed, UnitsError::Unnamed { survey: "a.xlsx".into(), has_project: false });
    assert!(unnamed.hint().contains("Width (in)") && unnamed.hint().contains("--units"));

    // A sheet is named where there is one.
    let blank =
        settle(&[("a.xlsx", "[Project]\nSite | here\n[Openings]\nOpening | Width | Height\nW1 | 40 | 60")]);
    let blank = blank.expect_err("no units").hint();
    assert!(blank.contains("Units on the sheet Project") && blank.contains("--units"), "{blank}");

    let mixed = settle(&[("a.xlsx", MIXED)]).expect_err("both");
    assert_eq!(mixed.to_string(), "Openings!B1 is in inches, but Openings!C1 is in millimeters");

    let two = settle(&[("a.xlsx", IN_MM), ("b.xlsx", IN_INCHES)]).expect_err("both");
    assert_eq!(two.to_string(), "a.xlsx Project!B1 is in millimeters, but b.xlsx Openings!B1 is in inches");

    // One survey never borrows the units of another.
    let one = settle(&[("a.xlsx", IN_MM), ("b.xlsx", IN_NOTHING)]).expect_err("b names none");
    assert_eq!(one, UnitsError::Unnamed { survey: "b.xlsx".into(), has_project: false });

    let furlongs =
        settle(&[("a.xlsx", "[Project]\nUnits | furlong\n[Openings]\nOpening | Width (in)\nW1 | 40")]);
    assert!(matches!(furlongs, Err(UnitsError::Unreadable { .. })), "{furlongs:?}");
}

// ---- Gathering ---------------------------------------------------------------------------------

#[test]
fn queries_gather_by_cause_whatever_their_order() {
    let sheet = grid(IN_NOTHING).sheets[0].id;
    let at = |row| Some(sillbook::place::CellRef { sheet, row, column: 0 });
    let query = |severity, message: &str, row, opening| Query {
        code: "doubt",
        severity,
        message: message.to_owned(),
        hint: String::new(),
        fills: None,
        reader: Reader::Everyone,
        at: at(row),
        opening,
        detail: String::new(),
        as_read: String::new(),
        accepted: None,
    };
    let queries = vec![
        query(Severity::Note, "a row is no opening", 9, None),
        query(Severity::Stop, "no height is given", 3, Some(1)),
        query(Severity::Check, "the type is not in any list of types", 7, Some(5)),
        query(Severity::Stop, "no width is given", 5, Some(3)),
        query(Severity::Stop, "no width is given", 2, Some(0)),
        query(Severity::Stop, "no width is given", 2, Some(0)),
        query(Severity::Stop, "an opening has no name", 8, None),
    ];
    let mut backwards = queries.clone();
    backwards.reverse();
    let gathered = gather(queries, |_| 1);
    let shown: Vec<(Severity, &str, Vec<Option<usize>>)> = gathered
        .iter()
        .map(|cause| {
            (cause.severity, &*cause.message, cause.places.iter().map(|place| place.opening).collect())
        })
        .collect();
    assert_eq!(
        shown,
        [
            (Severity::Stop, "no width is given", vec![Some(0), Some(3)]),
            (Severity::Stop, "an opening has no name", vec![None]),
            (Severity::Stop, "no height is given", vec![Some(1)]),
            (Severity::Check, "the type is not in any list of types", vec![Some(5)]),
            (Severity::Note, "a row is no opening", vec![None]),
        ]
    );
    assert_eq!(gather(backwards, |_| 1), gathered);
}
