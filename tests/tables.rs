//! Tables found on sheets as other people lay them out: where each stands, which heading gives each
//! column, and how many rows are its own.

use std::collections::BTreeMap;

use crate::support::{grid, surveys, told};
use sillbook::grid::{Block, Grid, Hidden, Sheet};
use sillbook::length::{Unit, Units};
use sillbook::schema::Column;
use sillbook::schema::openings::{HEIGHT, OPENINGS, WIDTH};
use sillbook::tables::{self, Datum, Found, Meanings};

/// A sheet named `Survey` from its rows.
fn sheet_of(rows: &str) -> Grid {
    grid(&format!("[Survey]\n{rows}"))
}

fn merge(grid: &mut Grid, rows: (u32, u32), columns: (u16, u16)) {
    grid.sheets[0].merged.push(Block { rows, columns });
}

/// `A3, 2 rows to 7: A Opening, C Width`, and behind `|` what is carried through.
fn shown(found: &Found) -> String {
    let letter = |column: u16| char::from(b'A' + u8::try_from(column).expect("a narrow sheet"));
    let read = found.read(Unit::Inch);
    let columns = found.columns().map(|column| {
        let entry = read.rows.iter().find_map(|row| row.entry(column));
        let letter = entry.map(|entry| format!("{} ", letter(entry.at.column)));
        format!("{}{}", letter.unwrap_or_default(), column.name)
    });
    let carried = read.carried.iter().map(|(heading, at)| format!("{} {heading}", letter(at.column)));
    let listed = |names: Vec<String>| names.join(", ");
    let (columns, carried) = (listed(columns.collect()), listed(carried.collect()));
    let last = read.rows.last().map_or(String::new(), |row| format!(" to {}", row.at.row + 1));
    let carried = if carried.is_empty() { carried } else { format!(" | {carried}") };
    format!("{}, {} rows{last}: {columns}{carried}", found.at().address(), read.rows.len())
}

fn tables_on(sheet: &Sheet) -> Vec<String> {
    tables::found_on(sheet, &OPENINGS, &Meanings::default()).iter().map(shown).collect()
}

/// The tables on a sheet of these rows.
fn found(rows: &str) -> Vec<String> {
    tables_on(&sheet_of(rows).sheets[0])
}

/// A table-driven test: a sheet, and the tables that it holds.
fn check(cases: &[(&str, &[&str])]) {
    for (rows, expected) in cases {
        assert_eq!(found(rows), *expected, "{rows}");
    }
}

// ---- Tables above one another and side by side --------------------------------------------------

#[test]
fn a_new_band_of_headings_ends_the_table_above() {
    check(&[
        (
            "Mark | Width | Height
             W1   | 40    | 60
             W2   | 41    | 61

             Doors on the ground floor
             Door no. | Width | Height | Handle
             D1       | 36    | 84     | 2",
            &[
                "A1, 2 rows to 3: A Opening, B Width, C Height",
                "A6, 1 rows to 7: A Opening, B Width, C Height, D Handle",
            ],
        ),
        // Without a blank row between, and with fewer columns.
        (
            "Mark | Room    | Width | Height
             W1   | Kitchen | 40    | 60
             Mark | W       | H
             W2   | 41      | 61",
            &[
                "A1, 1 rows to 2: A Opening, B Room, C Width, D Height",
                "A3, 1 rows to 4: A Opening, B Width, C Height",
            ],
        ),
        // A table of rooms is found as one, so that its rows are no openings.
        (
            "Mark | Width | Height
             W1   | 40    | 60

             Room    | Area | Finish
             Kitchen | 12.5 | tiles
             Hall    | 7    | oak",
            &["A1, 1 rows to 2: A Opening, B Width, C Height", "A4, 2 rows to 6: A Room | B Area, C Finish"],
        ),
        // So is one of which no heading is known.
        (
            "Mark | Width | Height
             W1   | 40    | 60

             Article | Price | Supplier
             Screw 8 | 12.5  | any
             Screw 9 | 13    | any",
            &[
                "A1, 1 rows to 2: A Opening, B Width, C Height",
                "A4, 2 rows to 6:  | A Article, B Price, C Supplier",
            ],
        ),
        // The near miss: rows after a blank one, whose sizes are still to come.
        (
            "Mark | Room | Width | Height
             W1   | Hall | 40    | 60

             W2   | Hall | tbc   | tbc
             W3   | Hall | 41    | 61",
            &["A1, 3 rows to 5: A Opening, B Room, C Width, D Height"],
        ),
    ]);
}

#[test]
fn headings_on_each_page_and_words_that_are_also_headings_stay_in_one_table() {
    check(&[
        (
            "Mark | Width | Height | Depth to | Note
             W1   | 40    | 60     | handle   | trim
             Mark | Width | Height | Depth to | Note
             W2   | 41    | 61     | handle   | no
             Mark | Width | Height | Depth to | Note
             W3   | 41    | 61     | handle   | Room",
            &["A1, 3 rows to 6: A Opening, B Width, C Height, D Depth to, E Note"],
        ),
        // A band of two rows repeats as a whole.
        (
            "Mark | Opening |        | Note
                  | Width   | Height |
             W1   | 40      | 60     |
             Mark | Opening |        | Note
                  | Width   | Height |
             W2   | 41      | 61     | x",
            &["A2, 2 rows to 6: A Opening, B Width, C Height, D Note"],
        ),
    ]);
}

#[test]
fn tables_side_by_side_keep_their_own_columns_and_rows() {
    check(&[
        (
            "Mark | Width | Height | | Mark | Width | Height
             W1   | 40    | 60     | | W5   | 44    | 64
             W2   | 41    | 61     | |      |       |
             W3   | 42    | 62     | |      |       |",
            &[
                "A1, 3 rows to 4: A Opening, B Width, C Height",
                "E1, 1 rows to 2: E Opening, F Width, G Height",
            ],
        ),
        // Another kind of table, longer than the openings.
        (
            "Mark | Width | Height | | Room    | Area
             W1   | 40    | 60     | | Kitchen | 12
             W2   | 41    | 61     | | Hall    | 7
                  |       |        | | Bath    | 6
                  |       |        | | Bedroom | 14
                  |       |        | | Store   | 2",
            &["A1, 2 rows to 3: A Opening, B Width, C Height", "E1, 5 rows to 6: E Room | F Area"],
        ),
        // Headings at another height.
        (
            "Mark | Width | Height | |      |   |
             W1   | 40    | 60     | |      |   |
             W2   | 41    | 61     | | Unit | W  | H
             W3   | 42    | 62     | | 101  | 50 | 70",
            &["A1, 3 rows to 4: A Opening, B Width, C Height", "E3, 1 rows to 4: E Unit, F Width, G Height"],
        ),
        // The near miss: one table with a blank column in it, and a total below.
        (
            "Mark | Room | | Width | Height | | Note | Lift
             W1   | Hall | | 40    | 60     | |      |
             W2   | Hall | | 41    | 61     | | x    | A
                  |      | | Total | 2      | |      |",
            &["A1, 3 rows to 4: A Opening, B Room, D Width, E Height, G Note | H Lift"],
        ),
    ]);
}

// ---- Headings of several rows -------------------------------------------------------------------

#[test]
fn groups_names_and_units_make_one_heading() {
    check(&[
        (
            "Window schedule
             Block A, third floor

             Mark | Rough opening |        | Frame |        | Comments
                  | Width         | Height | Width | Height |
                  | mm            | mm     | mm    | mm     |
             W1   | 900           | 1200   | 880   | 1180   | x",
            &["A5, 1 rows to 7: A Opening, B Width, C Height, F Note | D Frame Width, E Frame Height"],
        ),
        // The unit in the group, and a group that is only a unit.
        (
            "Mark | Size (mm) |        | mm
                  | Width     | Height | Depth
             W1   | 900       | 1200   | 70",
            &["A1, 1 rows to 3: A Opening, B Width, C Height, D Recess depth"],
        ),
        // A group over parts of one name.
        (
            "     | Width |        |        | Height |       | Diagonal |   | Wall |
             Mark | Top   | Middle | Bottom | Left   | Right | 1        | 2 | Left | Right
             W1   | 40    | 40     | 40     | 60     | 60    | 72       | 72| 5    | 5",
            &[
                "A1, 1 rows to 3: A Opening, B Width top, C Width middle, D Width bottom, E Height left, F Height right, G Diagonal 1, H Diagonal 2, I Wall left, J Wall right",
            ],
        ),
        // What a part has is not the opening's; a room and a remark under it are.
        (
            "Mark | Room | Leaf  |        |           |          | Details |      |      |
                  |      | Width | Height | Thickness | Type     | Head    | Jamb | Sill | Remarks
             D1   | Hall | 36    | 80     | 1.75      | flush    | 3/A5    | 4/A5 | 5/A5 | x",
            &[
                "A1, 1 rows to 3: A Opening, B Room, J Note | C Leaf Width, D Leaf Height, E Leaf Thickness, F Leaf Type, G Details Head, H Details Jamb, I Details Sill",
            ],
        ),
        // Without a group, a head and a jamb beside it make the sill a drawing; alone it is a height.
        (
            "Mark | Width | Height | Head | Jamb | Sill
             D1   | 36    | 80     | 3/A5 | 4/A5 | 5/A5",
            &["A1, 1 rows to 2: A Opening, B Width, C Height | D Head, E Jamb, F Sill"],
        ),
        (
            "Mark | Width | Height | Elevation | Sill
             D1   | 36    | 80     | North     | 30",
            &["A1, 1 rows to 2: A Opening, B Width, C Height, E Sill height | D Elevation"],
        ),
        // A title over the whole table is no group; nor are a client and a date above it.
        (
            "Frames
             Mark | Width | Height
             W1   | 40    | 60",
            &["A2, 1 rows to 3: A Opening, B Width, C Height"],
        ),
        (
            "Client | Harbour Homes | Date  | March
             Mark   | Width         | Height | Lift
             W1     | 40            | 60     | A",
            &["A2, 1 rows to 3: A Opening, B Width, C Height | D Lift"],
        ),
        // Text below headings that names nothing is data.
        (
            "Mark | Room | Width | Height
             A    | Hall | tbc   | tbc
             B    | Hall | 41    | 61",
            &["A1, 2 rows to 3: A Opening, B Room, C Width, D Height"],
        ),
    ]);
}

#[test]
fn a_merged_group_stands_over_its_own_columns_alone() {
    let rows = "Mark | Frame |        | Width | Height
                     | Width | Height |       |
                W1   | 38    | 58     | 40    | 60";
    let mut merged = sheet_of(rows);
    merge(&mut merged, (0, 0), (1, 2));
    let expected = "A1, 1 rows to 3: A Opening, D Width, E Height | B Frame Width, C Frame Height";
    assert_eq!(tables_on(&merged.sheets[0]), [expected]);

    let rows = "Mark | Frame |       |        |
                     | Width | Width | Height | Sill
                W1   | 38    | 40    | 60     | 30";
    let mut merged = sheet_of(rows);
    merge(&mut merged, (0, 0), (1, 1));
    // Unmerged, `Frame` stands over all that is blank to its right.
    assert_eq!(
        tables_on(&merged.sheets[0]),
        ["A2, 1 rows to 3: A Opening | B Frame Width, C Frame Width, D Frame Height, E Frame Sill"]
    );
    merge(&mut merged, (0, 0), (1, 2));
    assert_eq!(
        tables_on(&merged.sheets[0]),
        ["A2, 1 rows to 3: A Opening, D Height, E Sill height | B Frame Width, C Frame Width"]
    );
}

#[test]
fn a_unit_counts_wherever_the_headings_name_it() {
    // The last row's width and height, the survey being in inches.
    let cases = [
        ("Mark | Width (mm) | Height [in]\nW1 | 900 | 40", ["900 mm", "1016 mm"]), // 40 x 25.4
        ("Mark | Width | Height\n | mm | (in)\nW1 | 900 | 40", ["900 mm", "1016 mm"]),
        ("Mark | Size (cm) |\n | Width | Height\nW1 | 90 | 120", ["900 mm", "1200 mm"]),
        // The column's own unit comes before its group's.
        ("Mark | Size (cm) |\n | Width (mm) | Height\nW1 | 900 | 120", ["900 mm", "1200 mm"]),
        ("Mark | mm |\n | Width | Height\nW1 | 900 | 1200", ["900 mm", "1200 mm"]),
        ("Mark | Width | Height\nno. | text | mm\nW1 | 40 | 1200", ["1016 mm", "1200 mm"]),
        // A row of units that names something besides is data, and so names no unit for the others.
        ("Mark | Width | Height\nW1 | mm | mm\nW2 | 40 | 50", ["1016 mm", "1270 mm"]), // 50 x 25.4
    ];
    for (rows, expected) in cases {
        let grid = sheet_of(rows);
        let found = tables::found_on(&grid.sheets[0], &OPENINGS, &Meanings::default());
        let [found] = found.as_slice() else { panic!("one table: {rows}") };
        let read = found.read(Unit::Inch);
        let last = read.rows.last().expect("a row");
        let length = |column: &Column| match last.entry(column).map(|entry| &entry.datum) {
            Some(Ok(Datum::Length(length))) => length.show(Units::Millimeters),
            other => panic!("{rows}: {} is {other:?}", column.name),
        };
        assert_eq!([length(&WIDTH), length(&HEIGHT)], expected, "{rows}");
    }
}

#[test]
fn a_unit_is_named_where_it_stands() {
    let run = surveys(&[(
        "survey.xlsx",
        "[Survey]\nMark | Size (cm) |\n | Width | Height\n | | mm\nW1 | 90 | 900",
    )]);
    let found = tables::found_on(&run.grids[0].sheets[0], &OPENINGS, &Meanings::default());
    let named = found[0].units_named();
    let named: Vec<String> =
        named.iter().map(|(at, unit)| format!("{unit:?} {}", run.sheets.show(*at))).collect();
    assert_eq!(named, ["Centimeter Survey!B1", "Millimeter Survey!C3"]);
}

// ---- Synonyms -----------------------------------------------------------------------------------

/// The column that a heading of its own names, with the unit.
fn named(heading: &str) -> String {
    let grid = sheet_of(&format!("Phase | Escape | {heading}\nA | no | 1"));
    let found = tables::found_on(&grid.sheets[0], &OPENINGS, &Meanings::default());
    let [found] = found.as_slice() else { return format!("{} tables", found.len()) };
    let column = found.columns().find(|column| !["Phase", "Escape"].contains(&column.name));
    let unit = found.units_named().first().map_or(String::new(), |(_, unit)| format!(" {unit:?}"));
    column.map_or("-".to_owned(), |column| format!("{}{unit}", column.name))
}

#[test]
fn headings_are_known_in_every_usual_spelling() {
    let cases = [
        ("Width (mm)", "Width Millimeter"),
        ("W [in]", "Width Inch"),
        ("Width_mm", "Width Millimeter"),
        ("WIDTH:", "Width"),
        ("Width - mm", "Width Millimeter"),
        ("Width in inches", "Width Inch"),
        ("widthMM", "Width Millimeter"),
        ("Width \"", "Width Inch"),
        ("OpeningWidth", "Width"),
        ("overall_width", "Width"),
        ("Width, overall", "Width"),
        ("Top width", "Width top"),
        ("Comments (text)", "Note"),
        ("Accessible (yes/no)", "Accessible"),
        ("Ｗｉｄｔｈ（ｍｍ）", "Width Millimeter"),
        ("No.", "Opening"),
        ("Window no.", "Opening"),
        ("Family and Type", "Type"),
        ("Reference level", "Floor"),
        ("Suite", "Unit"),
        ("Plot", "Unit"),
        ("Room number", "Room"),
        ("Nos.", "Quantity"),
        ("Cill", "Sill height"),
        ("Reveal (mm)", "Recess depth Millimeter"),
        ("Breite in mm", "Width Millimeter"),
        ("Höhe (Zoll)", "Height Inch"),
        ("HOEHE", "Height"),
        ("Hohe", "Height"),
        ("Brüstungshöhe [cm]", "Sill height Centimeter"),
        ("Geschoß", "Floor"),
        ("Stk.", "Quantity"),
        ("Largeur en mm", "Width Millimeter"),
        ("Hauteur (pouces)", "Height Inch"),
        ("Allège", "Sill height"),
        ("Ancho", "Width"),
        ("Alto (pulgadas)", "Height Inch"),
        ("Habitación", "Room"),
        ("Larghezza", "Width"),
        ("Quantità", "Quantity"),
        ("Breedte", "Width"),
        ("Verdieping", "Floor"),
        ("Bredd", "Width"),
        ("Bröstning", "Sill height"),
        ("Szerokość", "Width"),
        ("wysokosc", "Height"),
        ("宽（毫米）", "Width Millimeter"),
        ("高度", "Height"),
        ("数量", "Quantity"),
        ("幅(mm)", "Width Millimeter"),
        ("高さ", "Height"),
        ("備考", "Note"),
        // Exact names keep their own meaning.
        ("Type", "Type"),
        ("Depth to", "Depth to"),
        ("Trim", "Trim"),
        // The same word with another meaning is not taken.
        ("Thickness", "-"),
        ("Elevation", "-"),
        ("Leaf width", "-"),
        ("Frame width", "-"),
        ("Trim width", "-"),
        ("Casement width", "-"),
        ("Clear width", "-"),
        ("Head", "-"),
        ("Jamb", "-"),
        ("Unit type", "-"),
        ("Width (kg)", "-"),
        ("Room (mm)", "-"),
        ("Frame depth", "-"),
        ("Weight (kg)", "-"),
    ];
    for (heading, column) in cases {
        assert_eq!(named(heading), column, "{heading}");
    }
}

#[test]
fn no_heading_stands_under_two_columns() {
    let letters = |name: &str| -> String {
        name.chars().filter(|letter| letter.is_alphanumeric()).flat_map(char::to_lowercase).collect()
    };
    let mut known: BTreeMap<String, &str> = BTreeMap::new();
    for column in OPENINGS.columns {
        for name in column.names() {
            let other = known.insert(letters(name), column.name);
            assert_eq!(other, None, "{name} of {}", column.name);
        }
    }
}

// ---- Two columns that claim one field -----------------------------------------------------------

/// Which heading gives each column of `Width` and `Opening`, what is carried, and what is asked.
fn claimed(rows: &str) -> (String, Vec<String>) {
    let run = surveys(&[("survey.xlsx", &format!("[Survey]\n{rows}"))]);
    let found = tables::found_on(&run.grids[0].sheets[0], &OPENINGS, &Meanings::default());
    let [found] = found.as_slice() else { panic!("one table: {rows}") };
    (shown(found), told(&found.read(Unit::Inch).queries, &run.sheets))
}

#[test]
fn the_better_of_two_columns_is_used() {
    let cases: &[(&str, &str, &[&str])] = &[
        // The column's own name, before a synonym to its left.
        (
            "Mark | Overall width | Width | Height\nW1 | 41 | 40 | 60",
            "A1, 1 rows to 2: A Opening, C Width, D Height",
            &["check Survey!B1: \"Width\" and \"Overall width\" both look like Width"],
        ),
        // The opening's group, before none.
        (
            "     |       | Rough opening |\nMark | Width | Width | Height\nW1 | 41 | 40 | 60",
            "A2, 1 rows to 3: A Opening, C Width, D Height",
            &["check Survey!B2: \"Rough opening Width\" and \"Width\" both look like Width"],
        ),
        // An earlier synonym before a later one; of texts the other is carried through, unasked.
        (
            "Name | Mark | Width | Height\nbig | W1 | 40 | 60",
            "A1, 1 rows to 2: B Opening, C Width, D Height | A Name",
            &[],
        ),
        // One that has data before an empty one, whatever they are called: nothing to ask.
        (
            "Mark | Width | Opening width | Height\nW1 | | 40 | 60",
            "A1, 1 rows to 2: A Opening, C Width, D Height",
            &[],
        ),
        // Neither is better.
        (
            "Mark | Width | Height | WIDTH\nW1 | 40 | 60 | 41",
            "A1, 1 rows to 2: A Opening, B Width, C Height",
            &["check Survey!D1: \"Width\" and \"WIDTH\" both look like Width"],
        ),
        (
            "Mark | Width | Height | MARK\nW1 | 40 | 60 | W2",
            "A1, 1 rows to 2: A Opening, B Width, C Height | D MARK",
            &["check Survey!D1: \"Mark\" and \"MARK\" both look like Opening"],
        ),
    ];
    for (rows, expected, asked) in cases {
        let (shown, queries) = claimed(rows);
        assert_eq!(shown, *expected, "{rows}");
        assert_eq!(queries, *asked, "{rows}");
    }
}

// ---- Ghosts, and what the sheet does not show ---------------------------------------------------

#[test]
fn columns_without_headings_are_carried_and_headings_without_data_are_known() {
    check(&[
        (
            "Mark | Width |   | Height | Note | | | |
             W1   | 40    | 7 | 60     |      | | | | far",
            &["A1, 1 rows to 2: A Opening, B Width, D Height, Note | C column C, I column I"],
        ),
        ("Mark | Width | Height", &["A1, 0 rows: Opening, Width, Height"]),
        ("Mark\nW1", &["A1, 1 rows to 2: A Opening"]),
        ("Sundries\nscrews", &[]),
    ]);
}

#[test]
fn hidden_rows_and_columns_are_read_with_a_note() {
    let told_with = |hidden: Hidden| {
        let mut run = surveys(&[(
            "survey.xlsx",
            "[Survey]
             Cover
             Mark | Width | Height | Lift
             W1   | 40    | 60     |
             W2   | 41    | 61     |

             W3   | 42    | 62     |",
        )]);
        run.grids[0].sheets[0].hidden = hidden;
        let found = tables::found_on(&run.grids[0].sheets[0], &OPENINGS, &Meanings::default());
        let read = found[0].read(Unit::Inch);
        assert_eq!(read.rows.len(), 3);
        told(&read.queries, &run.sheets)
    };
    let hidden = Hidden { rows: vec![(0, 0), (3, 5), (9, 90)], columns: vec![(1, 1), (3, 7)] };
    assert_eq!(
        told_with(hidden),
        [
            "note Survey!A4: hidden rows are read like any others (rows: 4, 6)",
            "note Survey!B3: hidden columns are read like any others (columns: B)",
        ]
    );
    let beside = Hidden { rows: vec![(0, 0), (4, 4), (9, 90)], columns: vec![(3, 7)] };
    assert_eq!(told_with(beside), [""; 0]);
}
