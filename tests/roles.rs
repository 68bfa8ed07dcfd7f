//! What each table of a survey is taken for, and what is said of the others.

use crate::support::{surveys, told};
use sillbook::length::{Unit, Units};
use sillbook::rules;
use sillbook::survey::{self, Opening, SurveyError};

/// Each opening as `name, floor, kind, width x height in inches, quantity`, a held one as `name, held`;
/// then what is asked.
fn read(text: &str) -> (Vec<String>, Vec<String>) {
    let run = surveys(&[("survey.xlsx", text)]);
    let layouts = survey::lay_out(&run.grids).expect("the survey holds a table of openings");
    let units = survey::settle_units(&layouts, &run.sheets, None).unwrap_or(Unit::Inch.into());
    let checked = survey::read(&layouts, &run.sheets, units).expect("the survey holds openings");
    let lines = told(&checked.queries, &run.sheets);
    (checked.value.openings.iter().map(shown).collect(), lines)
}

fn shown(opening: &Opening) -> String {
    let who = &opening.who;
    let Some(facts) = &opening.facts else { return format!("{}, held", who.name) };
    let [width, height] = [&facts.width, &facts.height].map(|size| size.least().value.show(Units::Inches));
    format!("{}, {}, {}, {width} x {height}, {}", who.name, who.floor, facts.kind, who.quantity)
}

fn error(text: &str) -> String {
    let run = surveys(&[("survey.xlsx", text)]);
    survey::lay_out(&run.grids).err().expect("the survey holds no table of openings").to_string()
}

/// Holds a survey to its openings and queries.
fn check(text: &str, openings: &[&str], queries: &[&str]) {
    assert_eq!(read(text), (own(openings), own(queries)), "{text}");
}

fn own(lines: &[&str]) -> Vec<String> {
    lines.iter().map(|line| (*line).to_owned()).collect()
}

// ---- A sheet for each floor --------------------------------------------------------------------

#[test]
fn sheets_named_after_floors_give_their_rows_a_floor() {
    check(
        "[Ground]
         Opening | Width | Height
         W1      | 40    | 60
         [Level 1]
         Opening | Width | Height
         W2      | 41    | 61",
        &["W1, Ground, window, 40 in x 60 in, 1", "W2, Level 1, window, 41 in x 61 in, 1"],
        &[
            "note Ground!A1: the sheet name is used as the floor of each row",
            "note Level 1!A1: the sheet name is used as the floor of each row",
        ],
    );
}

#[test]
fn a_column_of_floors_or_a_sheet_of_another_name_leaves_the_floors_alone() {
    check(
        "[Level 1]
         Opening | Floor | Width | Height
         W1      | One   | 40    | 60
         [Level 2]
         Opening | Width | Height
         W2      | 41    | 61",
        &["W1, One, window, 40 in x 60 in, 1", "W2, , window, 41 in x 61 in, 1"],
        &[],
    );
    check(
        "[Level 1]
         Opening | Width | Height
         W1      | 40    | 60
         [Annex]
         Opening | Width | Height
         W2      | 41    | 61",
        &["W1, , window, 40 in x 60 in, 1", "W2, , window, 41 in x 61 in, 1"],
        &[],
    );
}

// ---- Types -------------------------------------------------------------------------------------

#[test]
fn a_list_of_types_beside_openings_gives_sizes_and_its_counts_are_not_used() {
    check(
        "[Schedule]
         Type | Width | Height | Quantity
         A    | 40    | 60     | 2
         B    | 30    | 50     | 9
         [Flats]
         Opening | Room    | Type | Height
         W1      | Kitchen | A    |
         W2      | Hall    | A    | 62",
        &["W1, , window, 40 in x 60 in, 1", "W2, , window, 40 in x 62 in, 1"],
        &[
            "note Schedule!D2: the counts in the list of types are ignored: the openings are listed one by one",
        ],
    );
}

#[test]
fn a_list_of_types_with_counts_alone_is_openings_with_quantities_known_by_their_type() {
    check(
        "[Schedule]
         Type  | Width | Height | Quantity
         A     | 40    | 60     | 2
         B     | 30    | 50     | 9
         Total |       |        | 11",
        &["A, , window, 40 in x 60 in, 2", "B, , window, 30 in x 50 in, 9"],
        &["note Schedule!A4: this is a total row, so it is not treated as an opening"],
    );
    // Without counts nobody knows how many to make.
    assert_eq!(
        error("[Schedule]\nType | Width | Height\nA | 40 | 60"),
        "survey.xlsx has no table of openings: Schedule lists types only, without counts or openings"
    );
}

#[test]
fn types_that_no_opening_names_are_passed_over_and_a_type_without_a_list_is_a_label() {
    check(
        "[Windows]
         Opening | Width | Height
         W1      | 40    | 60
         [Schedule]
         Type | Width | Height | Quantity
         A    | 40    | 60     | 2",
        &["W1, , window, 40 in x 60 in, 1"],
        &["note Schedule!A1: the table lists no openings, so it is ignored \
           (lists types, but no table of openings has a column Type)"],
    );
    check(
        "[Openings]
         Opening | Type | Width | Height
         W1      | A    | 40    | 60
         W2      | A    |       |",
        &["W1, , window, 40 in x 60 in, 1", "W2, held"],
        &["stop Openings!B3: the type is not in any list of types, and the row has no size of its own"],
    );
}

#[test]
fn a_sheet_of_openings_and_a_sheet_of_types_are_read_for_them_alone() {
    check(
        "[Openings]
         Opening | Type | Width
         W1      | A    |
         [Types]
         Type | Width | Height
         A    | 40    | 60
         [Old schedule]
         Type | Width | Height
         A    | 41    | 61
         [Draft]
         Opening | Width | Height
         W9      | 40    | 60",
        &["W1, , window, 40 in x 60 in, 1"],
        &[],
    );
}

// ---- What is no table of openings --------------------------------------------------------------

#[test]
fn a_file_without_openings_says_of_each_table_why_it_is_none() {
    let run = surveys(&[(
        "survey.xlsx",
        "[Rooms]
             Room | Length | Width | Height
             Hall | 3000   | 2000  | 2500
             [Glazing]
             Type | U-value | Note
             A    | 1.1     | triple
             [Parts]
             Item | Width | Height
             rail | 40    | 2
             [Heads]
             Opening | Height
             W1      | 60
             [Empty]
             [Letter]
             To whom it may concern
             [Rates]
             Item | Rate
             survey | 5",
    )]);
    let error = survey::lay_out(&run.grids).err().expect("the survey holds no table of openings");
    let SurveyError::NoOpenings { looked_at, .. } = &error else { panic!("{error}") };
    let why: Vec<String> = looked_at.iter().map(|table| format!("{} {}", table.place, table.why)).collect();
    assert_eq!(
        why,
        [
            "Rooms has a column Length, so it looks like a list of other things",
            "Glazing has no column for width or height",
            "Parts has no column that identifies an opening: id, unit or room",
            "Heads has no column for width",
            "Empty is empty",
            "Letter does not have the headings of a table of openings",
            "Rates has a name that is reserved for something else",
        ]
    );
    // A message is a line: the first three, and how many more.
    let unknown =
        ["", " (headings that are not known: U-value)", " (headings that are not known: Item (Opening?))"];
    let told: Vec<String> = why.iter().zip(unknown).map(|(why, unknown)| format!("{why}{unknown}")).collect();
    let said = format!("survey.xlsx has no table of openings: {}", told.join("; "));
    assert_eq!(error.to_string(), format!("{said}; and 4 more sheets or tables without"));
}

#[test]
fn a_window_with_a_length_beside_its_sill_is_no_room() {
    check(
        "[Windows]
         Room | Length | Width | Height | Sill
         Hall | 12     | 40    | 60     | 30",
        &["No unit 1, , window, 40 in x 60 in, 1"],
        &[],
    );
}

// ---- Categories --------------------------------------------------------------------------------

#[test]
fn rows_that_are_neither_doors_nor_windows_are_counted_in_one_note() {
    check(
        "[Export]
         Mark | Category       | Width | Height
         D1   | Doors          | 36    | 84
         W1   | Außenfenster   | 40    | 80
         C1   | Furniture      | 24    | 72
         C2   | Walls          | 400   | 100
         P1   | Curtain walls  | 60    | 90
         X1   |                | 50    | 70",
        // A category settles what a blank kind is: W1 would be a patio door by its height alone.
        &[
            "D1, , door, 36 in x 84 in, 1",
            "W1, , window, 40 in x 80 in, 1",
            "P1, , patio door, 60 in x 90 in, 1",
            "X1, , window, 50 in x 70 in, 1",
        ],
        &[
            "check Export!B6: the category is not recognized as a door or a window; the row is treated as an opening",
            "note Export!B4: rows are ignored: their category is neither door nor window \
             (2 in this table)",
        ],
    );
}

#[test]
fn a_category_that_means_something_else_is_not_asked_about() {
    check(
        "[Openings]
         Opening | Category | Width | Height
         W1      | A        | 40    | 60
         W2      | external | 40    | 60",
        &["W1, , window, 40 in x 60 in, 1", "W2, , window, 40 in x 60 in, 1"],
        &[],
    );
}

/// Names as in ISO 16739-1: entities, and the attributes OverallWidth and OverallHeight.
#[test]
fn a_flat_export_of_a_building_model_is_read() {
    check(
        "[Model]
         Tag | IfcClass              | OverallWidth | OverallHeight | Storey
         W1  | IfcWindow             | 1016 mm      | 1270 mm       | EG
         D1  | IfcDoorStandardCase   | 914.4 mm     | 2032 mm       | EG
         O1  | IfcOpeningElement     | 1016 mm      | 1270 mm       | EG",
        &["W1, EG, window, 40 in x 50 in, 1", "D1, EG, door, 36 in x 80 in, 1"],
        &["note Model!B4: rows are ignored: their category is neither door nor window \
           (1 in this table)"],
    );
}

// ---- COBie -------------------------------------------------------------------------------------

/// Sheets and headings as in COBie (NBIMS-US V3 section 4.2); the rows are invented.
const COBIE: &str = "[Facility]
     Name  | Category | LinearUnits
     Tower | Flats    | inches
     [Space]
     Name | FloorName
     101  | Level 1
     [Type]
     Name    | Category         | ExtObject       | NominalLength | NominalWidth | NominalHeight
     Win A   | 23-17 13 00: Windows | IfcWindowStyle  | n/a           | 40           | 60
     Door B  | n/a              | IfcDoorStyle    | n/a           | 36           | 84
     Door C  | n/a              | IfcDoorStyle    | n/a           | n/a          | 84
     Pump    | Pumps            | IfcPumpType     | 10            | 10           | 10
     [Component]
     Name   | TypeName | Space | Description
     W1     | win a    | 101   | n/a
     D1     | Door B   | n/a   | to the yard
     D2     | Door C   | 101   |
     P1     | Pump     | 101   |
     X1     | Winn     | 101   |";

#[test]
fn a_cobie_handover_gives_doors_and_windows_with_the_sizes_of_their_types() {
    check(
        COBIE,
        &["W1, Level 1, window, 40 in x 60 in, 1", "D1, , door, 36 in x 84 in, 1", "D2, held"],
        &[
            "check Component!B6: a component is ignored because its type is not on the sheet Type; \
             it may be a door or a window",
            "note Component!A5: rows are ignored: their category is neither door nor window \
             (1 of 4 rows)",
            "stop Component!A4: no width is given",
        ],
    );
    // The facility's unit is that of every size.
    let meters = COBIE.replace("inches", "meters").replace("| 40           | 60", "| 1.016 | 1.524");
    assert_eq!(read(&meters).0[0], "W1, Level 1, window, 40 in x 60 in, 1");
}

#[test]
fn a_sheet_component_without_the_headings_of_a_handover_is_a_sheet_like_any_other() {
    let run = surveys(&[(
        "survey.xlsx",
        "[Component]\nName | Color\nW1 | white\n[Type]\nName | NominalWidth\nA | 1",
    )]);
    assert!(matches!(survey::lay_out(&run.grids), Err(SurveyError::NoOpenings { .. })));
}

// ---- Several surveys ---------------------------------------------------------------------------

fn rules_of(first: &str, second: &str) -> Vec<String> {
    let run = surveys(&[("a.xlsx", first), ("b.xlsx", second)]);
    let checked = rules::build(&run.grids, Unit::Inch).expect("rules");
    told(&checked.queries, &run.sheets)
}

#[test]
fn an_item_blank_in_one_survey_and_filled_in_another_is_a_check_at_both() {
    assert_eq!(
        rules_of("[Project]\nCurrency | EUR\nClient | A\nUnits | in", "[Project]\nTax % |\nCost basis | buy"),
        [
            "check a.xlsx Project!B1: only one survey fills in an item of Project; \
             its value is used for the others too (Currency: EUR)",
            "check b.xlsx Project!B2: only one survey fills in an item of Project; \
             its value is used for the others too (no Currency)",
            "check b.xlsx Project!B2: only one survey fills in an item of Project; \
             its value is used for the others too (Cost basis: buy)",
            "check a.xlsx Project!B1: only one survey fills in an item of Project; \
             its value is used for the others too (no Cost basis)",
        ]
    );
    assert_eq!(rules_of("[Project]\nCurrency | EUR", "[Project]\nCurrency | eur"), [] as [&str; 0]);
}

#[test]
fn a_survey_without_a_project_takes_the_others_with_one_note() {
    assert_eq!(
        rules_of("[Project]\nCurrency | EUR", "[Openings]\nOpening | Width | Height\nW1 | 40 | 60"),
        ["note b.xlsx Openings!A1: a survey has no sheet Project; the one in another survey is used for it \
          (b.xlsx)"]
    );
    let openings = "[Openings]\nOpening | Width | Height\nW1 | 40 | 60";
    assert_eq!(rules_of(openings, openings), [] as [&str; 0]);
}
