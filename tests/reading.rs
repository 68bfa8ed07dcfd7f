//! Cells of each kind, and tables from small sheets.

use sillbook::grid::{Block, Grid, Hidden, Row, Sheet, Value};
use sillbook::length::{Length, Unit, Units};
use sillbook::place::Sheets;
use sillbook::query::Query;
use sillbook::rules::columns::project;
use sillbook::schema::{Column, Kind, LENGTH, SIZE, YES_NO, choices, openings};
use sillbook::tables::{self, Datum, Fault, ReadTable};

/// A column that holds values of one kind.
const fn column(kind: Kind) -> Column {
    Column::new((0, "x", "X"), &[], kind, ("", ""))
}

fn text(text: &str) -> Value {
    Value::Text(text.into())
}

fn number(number: &str) -> Value {
    Value::Number(number.parse().expect("a decimal"))
}

fn percent(percent: &str) -> Value {
    Value::Percent(percent.parse().expect("a decimal"))
}

/// What a cell gives, or its fault: `2692 mm`, `Negative`.
fn cell(value: &Value, kind: Kind, heading: Option<Unit>, bare: Unit) -> String {
    match tables::read_value(value, &column(kind), heading, bare) {
        Ok(Datum::Length(length)) => length.show(Units::Millimeters),
        Ok(Datum::Text(text)) => text.to_string(),
        Ok(Datum::Number(number)) => number.to_string(),
        Ok(Datum::Date(date)) => date.to_string(),
        Ok(dates @ Datum::Dates(_)) => dates.in_full(Units::Millimeters).into_owned(),
        Ok(Datum::Whole(whole)) => whole.to_string(),
        Ok(other) => format!("{other:?}"),
        Err(unread) => format!("{:?}", unread.fault),
    }
}

#[test]
fn a_length_is_taken_if_one_reading_is_left() {
    use Unit::{Inch, Millimeter};
    let cases: &[(Value, Kind, Option<Unit>, Unit, &str)] = &[
        (number("105.5"), SIZE, None, Inch, "2679.7 mm"), // 105.5 x 25.4
        (number("2692"), SIZE, None, Millimeter, "2692 mm"),
        (number("269.2"), SIZE, Some(Unit::Centimeter), Inch, "2692 mm"),
        (text("106 in"), SIZE, Some(Unit::Centimeter), Millimeter, "2692.4 mm"),
        (text("8' 10\""), SIZE, Some(Unit::Millimeter), Millimeter, "2692.4 mm"),
        // Of 2.692 and 2692 only one lies between 10 mm and 30 m.
        (text("2,692"), SIZE, None, Millimeter, "2692 mm"),
        (text("2.692"), SIZE, None, Millimeter, "2692 mm"),
        (text("2,692 m"), SIZE, None, Inch, "2692 mm"),
        (text("2,692 mm"), SIZE, None, Inch, "2692 mm"),
        (text("2,692"), SIZE, Some(Unit::Meter), Millimeter, "2692 mm"),
        (text("2,692"), SIZE, Some(Unit::Millimeter), Inch, "2692 mm"),
        (text("2.692,5"), SIZE, None, Millimeter, "2692.5 mm"),
        // A depth of either size is possible, so neither is taken.
        (text("2,692"), LENGTH, None, Millimeter, "Ambiguous"),
        (text("2,692 mm"), LENGTH, None, Millimeter, "Ambiguous"),
        // A bare grouped number is in millimeters, or it is asked about.
        (text("2,692"), SIZE, None, Inch, "Ambiguous"),
        (text("105,125"), SIZE, None, Inch, "Ambiguous"),
        (text("105,5"), SIZE, None, Inch, "2679.7 mm"),
        (text("105.125"), SIZE, None, Inch, "2670.175 mm"), // 105.125 x 25.4
        // A point never groups inches, though 1125 in is under 30 m.
        (text("1.125"), LENGTH, None, Inch, "28.575 mm"),
        (text("1.125 in"), LENGTH, None, Millimeter, "28.575 mm"),
        (text("1 450"), SIZE, None, Millimeter, "1450 mm"),
        (number("10"), SIZE, None, Millimeter, "10 mm"),
        (number("9.999"), SIZE, None, Millimeter, "OutOfBounds"),
        (number("30000"), SIZE, None, Millimeter, "30000 mm"),
        (number("30000.000001"), SIZE, None, Millimeter, "OutOfBounds"),
        (number("79228162514264337593543950335"), SIZE, None, Inch, "OutOfBounds"),
        (number("0"), SIZE, None, Inch, "Zero"),
        (text("0 mm"), SIZE, None, Inch, "Zero"),
        (number("0"), LENGTH, None, Inch, "0 mm"),
        (number("-3"), SIZE, None, Inch, "Negative"),
        (text("−3 mm"), LENGTH, None, Inch, "Negative"),
        (text("abc"), SIZE, None, Inch, "Unreadable"),
        (text("30\" x 75\""), SIZE, None, Inch, "Unreadable"),
        (percent("8"), SIZE, None, Inch, "Unreadable"),
        (Value::Truth(true), SIZE, None, Inch, "Unreadable"),
        (Value::Date("2026-08-10".into()), SIZE, None, Inch, "Date"),
        (Value::Error("#SPILL!".into()), SIZE, None, Inch, "NoResult"),
        (Value::NoResult, SIZE, None, Inch, "NoResult"),
    ];
    for (value, kind, heading, units, expected) in cases {
        assert_eq!(
            cell(value, *kind, *heading, *units),
            *expected,
            "{value:?} {kind:?} {heading:?} {units:?}"
        );
    }
}

#[test]
fn each_kind_of_cell_gives_its_own_value() {
    const KINDS: Kind = Kind::Choice(choices::Kind::WORDS);
    const UNITS: Kind = Kind::Choice(choices::UNITS);
    const QUANTITY: Kind = Kind::Whole { least: 1, most: 10_000 };
    const PERCENT: Kind = Kind::Percent { most: 100 };
    const NUMBER: Kind = Kind::Number { most: 100 };
    const MERGE: Kind = Kind::LengthOr { word: "no", most: Length::from_mm(30_000) };
    let cases: &[(Value, Kind, &str)] = &[
        (text(" 0304 "), Kind::Text, "0304"),
        (number("12.0"), Kind::Text, "12"),
        (number("1200"), Kind::Text, "1200"),
        (percent("8.25"), Kind::Text, "8.25 %"),
        (Value::Truth(true), Kind::Text, "TRUE"),
        (Value::Date("2026-03-04".into()), Kind::Text, "Date"),
        (text("Patio-Door"), KINDS, "Choice(\"patio door\")"),
        (text("patiodoor"), KINDS, "Choice(\"patio door\")"),
        (text(" WINDOW"), KINDS, "Choice(\"window\")"),
        (text("windw"), KINDS, "UnknownWord"),
        (number("1"), KINDS, "UnknownWord"),
        (text("Y"), YES_NO, "Choice(\"yes\")"),
        (text("false"), YES_NO, "Choice(\"no\")"),
        (Value::Truth(true), YES_NO, "Choice(\"yes\")"),
        (Value::Truth(false), YES_NO, "Choice(\"no\")"),
        (text("inches"), UNITS, "Choice(\"in\")"),
        (text("Millimeters"), UNITS, "Choice(\"mm\")"),
        (text("door, window"), Kind::Choices(choices::Kind::WORDS), "Choices([\"door\", \"window\"])"),
        (text("door, gate"), Kind::Choices(choices::Kind::WORDS), "UnknownWord"),
        (text("white, pale gray,"), Kind::List, "List([\"white\", \"pale gray\"])"),
        (text(","), Kind::List, "Unreadable"),
        (number("3.0"), QUANTITY, "3"),
        (text("3"), QUANTITY, "3"),
        (number("3.5"), QUANTITY, "Unreadable"),
        (number("0"), QUANTITY, "OutOfBounds"),
        (number("10000"), QUANTITY, "10000"),
        (number("10001"), QUANTITY, "OutOfBounds"),
        (number("-1"), QUANTITY, "Negative"),
        (text("1,000"), QUANTITY, "Ambiguous"),
        (text("8.25 %"), PERCENT, "8.25"),
        (text("8,25%"), PERCENT, "8.25"),
        (number("8.25"), PERCENT, "8.25"),
        (percent("8.25"), PERCENT, "8.25"),
        (number("0.0825"), PERCENT, "0.0825"),
        (text("8.250"), PERCENT, "8.25"),
        (number("101"), PERCENT, "OutOfBounds"),
        (percent("50"), NUMBER, "0.50"),
        (text("1.5"), NUMBER, "1.5"),
        (text("1.5 mm"), NUMBER, "Unreadable"),
        (text("1,250.00"), Kind::Money, "1250"),
        (text("1,250"), Kind::Money, "Ambiguous"),
        (number("-45"), Kind::Money, "Negative"),
        (text("No"), MERGE, "NoLength"),
        (Value::Truth(false), MERGE, "NoLength"),
        (text("10 mm"), MERGE, "10 mm"),
        (text("none"), MERGE, "Unreadable"),
        (text("2026-03-04"), Kind::Date, "2026-03-04"),
        (Value::Date("2026-03-04".into()), Kind::Date, "2026-03-04"),
        (Value::Date("10:30:00".into()), Kind::Date, "Unreadable"),
        (text("03/04/2026"), Kind::Date, "Unreadable"),
        (text("2026-12-26; 2026-12-24, 2026-12-26"), Kind::Dates, "2026-12-24, 2026-12-26"),
        (Value::Date("2026-03-04".into()), Kind::Dates, "2026-03-04"),
        (text("2026-12-24, the 25th"), Kind::Dates, "Unreadable"),
        (text(","), Kind::Dates, "Unreadable"),
        (number("46085"), Kind::Dates, "Unreadable"),
        (number("46085"), Kind::Date, "Unreadable"),
    ];
    for (value, kind, expected) in cases {
        assert_eq!(cell(value, *kind, None, Unit::Millimeter), *expected, "{value:?} as {kind:?}");
    }
}

#[test]
fn an_unread_cell_says_what_was_written_and_what_it_could_mean() {
    let unread = |value: &Value, column: &Column, units| {
        tables::read_value(value, column, None, units).expect_err("no single reading")
    };
    let depth = unread(&text("2,692"), &openings::RECESS_DEPTH, Unit::Millimeter);
    assert_eq!(depth.message, "Recess depth can be read in more than one way");
    assert_eq!(depth.written, "\"2,692\": 2692 mm or 2.692 mm");
    let width = unread(&number("5"), &openings::WIDTH, Unit::Millimeter);
    assert_eq!(
        (width.message.as_str(), width.written.as_str()),
        ("Width must be from 10 mm to 30000 mm", "\"5\": probably 5 m")
    );
    let kind = unread(&text("windwo"), &openings::KIND, Unit::Millimeter);
    assert_eq!(kind.message, "Kind must be one of patio door, door, window");
    assert_eq!(kind.hint, "did you mean \"window\"?");
    let date = unread(&Value::Date("2026-10-08".into()), &openings::UNIT, Unit::Millimeter);
    assert_eq!(
        (date.fault, date.hint.as_str()),
        (Fault::Date, "format the column as text and type the value again")
    );
}

/// A sheet of texts; an empty text is no cell. Row 0 is the first.
fn sheet(sheets: &mut Sheets, name: &str, rows: &[&[&str]], merged: &[Block]) -> Sheet {
    let row = |(row, texts): (usize, &&[&str])| {
        let cells = texts.iter().enumerate().filter(|(_, text)| !text.is_empty());
        let cells = cells.map(|(column, written)| (u16::try_from(column).expect("a column"), text(written)));
        Row { row: u32::try_from(row).expect("a row"), cells: cells.collect() }
    };
    let rows = rows.iter().enumerate().map(row).filter(|row| !row.cells.is_empty());
    let id = sheets.enter("survey.xlsx", name).expect("room for a sheet");
    Sheet { id, name: name.into(), rows: rows.collect(), merged: merged.to_vec(), hidden: Hidden::default() }
}

/// Each row's values of some columns, `-` where blank.
fn values(read: &ReadTable, columns: &[&Column]) -> Vec<String> {
    let value = |datum: &Datum| match datum {
        Datum::Text(text) => text.to_string(),
        Datum::Length(length) => length.show(Units::Millimeters),
        other => format!("{other:?}"),
    };
    let row = |row: &tables::TableRow| {
        let entry = |column: &&Column| match row.entry(column) {
            None => "-".to_owned(),
            Some(entry) => entry.datum.as_ref().map_or_else(|unread| format!("{:?}", unread.fault), value),
        };
        columns.iter().map(entry).collect::<Vec<_>>().join(" | ")
    };
    read.rows.iter().map(row).collect()
}

/// Each query with its place and hint.
fn raised(sheets: &Sheets, queries: &[Query]) -> Vec<String> {
    let at = |query: &Query| query.at.map_or_else(String::new, |at| sheets.show(at));
    queries
        .iter()
        .map(|query| format!("{}: {} at {} ({})", query.severity, query.message, at(query), query.hint))
        .collect()
}

#[test]
fn headings_are_found_under_titles_with_their_units() {
    let mut sheets = Sheets::default();
    let rows: &[&[&str]] = &[
        &["Survey of the east block", "", "Unit prices on request"],
        &[],
        &[
            "MARK",
            "apartment",
            "Width (in)",
            "Height, mm",
            "wall-left cm",
            "Hight",
            "Lift code",
            "Casing depth in inches",
            "Opening  width",
        ],
        &["W1", "0304", "106", "1981", "5", "x", "A", "1/2", "99"],
        &[],
        &["", "0305", "8' 10\"", "78 in", "", "", "", "", ""],
        &[
            "MARK",
            "apartment",
            "Width (in)",
            "Height, mm",
            "wall-left cm",
            "Hight",
            "Lift code",
            "Casing depth in inches",
            "Opening  width",
        ],
        &["W3", "", "", "", "", "", "", "", "", "stray"],
    ];
    let sheet = sheet(&mut sheets, "Openings", rows, &[]);
    let read = tables::read(&sheet, &openings::OPENINGS, Unit::Millimeter);
    let columns = [
        &openings::OPENING,
        &openings::UNIT,
        &openings::WIDTH,
        &openings::HEIGHT,
        &openings::WALL_LEFT,
        &openings::TRIM,
    ];
    assert_eq!(
        values(&read, &columns),
        [
            "W1 | 0304 | 2692.4 mm | 1981 mm | 50 mm | 12.7 mm", // 106 x 25.4; 5 cm; 25.4 / 2
            "- | 0305 | 2692.4 mm | 1981.2 mm | - | -",          // 8 ft 10 in; 78 x 25.4
            "W3 | - | - | - | - | -",
        ]
    );
    assert_eq!(sheets.show(read.rows[1].at), "Openings!B6");
    let carried: Vec<String> =
        read.carried.iter().map(|(heading, at)| format!("{heading} {}", sheets.show(*at))).collect();
    assert_eq!(carried, ["Hight Openings!F3", "Lift code Openings!G3", "column J Openings!J3"]);
    assert_eq!(*read.rows[0].carried, ["x".into(), "A".into(), "".into()]);
    assert_eq!(*read.rows[2].carried, ["".into(), "".into(), "stray".into()]);
    assert_eq!(
        raised(&sheets, &read.queries),
        [
            "check: \"Width (in)\" and \"Opening  width\" both look like Width at Openings!I3 \
             (\"Width (in)\" is used; delete or rename one of them)",
            "check: \"Hight\" is not read; it looks like Height at Openings!F3 \
             (answer with the column that it is, or with not needed)",
        ]
    );
    let named: Vec<String> = tables::found_on(&sheet, &openings::OPENINGS, &tables::Meanings::default())
        .iter()
        .flat_map(|found| found.units_named())
        .collect::<Vec<_>>()
        .iter()
        .map(|(at, unit)| format!("{unit:?} {}", sheets.show(*at)))
        .collect();
    assert_eq!(named, ["Inch Openings!C3", "Millimeter Openings!D3", "Centimeter Openings!E3"]);
}

#[test]
fn units_are_named_by_cells_as_well() {
    let mut sheets = Sheets::default();
    let rows: &[&[&str]] =
        &[&["Opening", "Width", "Note"], &["1", "106", "5 cm"], &["2", "106 1/2\"", ""], &["3", "3 m", ""]];
    let sheet = sheet(&mut sheets, "Openings", rows, &[]);
    let named: Vec<String> = tables::found_on(&sheet, &openings::OPENINGS, &tables::Meanings::default())
        .iter()
        .flat_map(|found| found.units_named())
        .collect::<Vec<_>>()
        .iter()
        .map(|(at, unit)| format!("{unit:?} {}", sheets.show(*at)))
        .collect();
    assert_eq!(named, ["Inch Openings!B3", "Meter Openings!B4"]);
}

#[test]
fn a_merged_block_speaks_for_its_rows_in_columns_of_places_alone() {
    let mut sheets = Sheets::default();
    let rows: &[&[&str]] = &[
        &["Floor", "Unit", "Opening", "Width"],
        &["3", "0301", "a", "900"],
        &["", "", "b", ""],
        &["", "0302", "c", ""],
        &["", "", "d", "950"],
        &["4", "", "e", "950"],
    ];
    let block = |rows, column| Block { rows, columns: (column, column) };
    let merged = [block((1, 2), 3), block((1, 4), 0), block((1, 2), 1)];
    let sheet = sheet(&mut sheets, "Openings", rows, &merged);
    let read = tables::read(&sheet, &openings::OPENINGS, Unit::Millimeter);
    let columns = [&openings::OPENING, &openings::FLOOR, &openings::UNIT, &openings::WIDTH];
    assert_eq!(
        values(&read, &columns),
        [
            "a | 3 | 0301 | 900 mm",
            "b | 3 | 0301 | -",
            "c | 3 | 0302 | -",
            "d | 3 | - | 950 mm",
            "e | 4 | - | 950 mm"
        ]
    );
    let floor = read.rows[3].entry(&openings::FLOOR).expect("a floor");
    assert_eq!(sheets.show(floor.at), "Openings!A2");
}

#[test]
fn items_stand_beside_their_values() {
    let mut sheets = Sheets::default();
    let rows: &[&[&str]] = &[
        &["", "Project"],
        &["", "Item", "Value", "Help"],
        &["", "Project", "Quay House", "the name"],
        &["", "units", "MM"],
        &["", "Ceiling height (m)", "2.4"],
        &["", "Tax %", "8.25 %"],
        &["", "Curency", "EUR"],
        &["", "Site", ""],
        &["", "Lift code", "4711"],
        &["", "Tax", "9"],
        &["", "Merge sizes", "25 mm"],
    ];
    let sheet = sheet(&mut sheets, "Project", rows, &[]);
    let read = tables::read(&sheet, &project::PROJECT, Unit::Inch);
    let columns = [
        &project::COLUMNS.name,
        &project::COLUMNS.units,
        &project::COLUMNS.ceiling_height,
        &project::COLUMNS.tax,
        &project::COLUMNS.site,
        &project::COLUMNS.merge_sizes,
    ];
    assert_eq!(values(&read, &columns), ["Quay House | Choice(\"mm\") | 2400 mm | Number(8.25) | - | 25 mm"]);
    assert_eq!(sheets.show(read.rows[0].entry(&project::COLUMNS.tax).expect("a tax").at), "Project!C6");
    assert_eq!(
        raised(&sheets, &read.queries),
        [
            "check: \"Curency\" is not an item of Project at Project!B7 (did you mean \"Currency\"?)",
            "check: \"Lift code\" is not an item of Project at Project!B9 (use the name from a blank survey)",
            "check: \"Tax %\" and \"Tax\" both look like Tax % at Project!B10 (\"Tax %\" is used; delete or rename one of them)",
        ]
    );
}

#[test]
fn a_sheet_is_found_by_its_name_or_known_by_its_headings() {
    let mut sheets = Sheets::default();
    let stock = sheet(&mut sheets, "STOCK  sizes", &[&["Product", "Width", "Height", "Price"]], &[]);
    let notes =
        sheet(&mut sheets, "Openings ", &[&["Call the site office", "about the unit"], &["Unit"]], &[]);
    let known = |sheet| -> Vec<&str> {
        tables::found_on(sheet, &openings::OPENINGS, &tables::Meanings::default())
            .iter()
            .flat_map(|found| found.columns().map(|column| column.name).collect::<Vec<_>>())
            .collect()
    };
    assert_eq!(known(&stock), ["Width", "Height", "Product"]);
    assert_eq!(known(&notes), ["Unit"]);
    let read = tables::read(
        &sheet(&mut sheets, "Types", &[&["nothing here"]], &[]),
        &openings::OPENINGS,
        Unit::Inch,
    );
    assert_eq!(
        raised(&sheets, &read.queries),
        [
            "check: Types has no row of headings in its first 50 rows at Types!A1 (use the headings from a blank survey)"
        ]
    );
    let grid = Grid { survey: "survey.xlsx".into(), sheets: vec![stock, notes] };
    let found = |name| tables::find(&grid, name).map(|sheet| sheet.name.as_str());
    assert_eq!(found("Stock sizes"), Some("STOCK  sizes"));
    assert_eq!(found("openings"), Some("Openings "));
    assert_eq!(found("Bars"), None);
}

/// A column, words with what they mean there, and words that mean nothing there.
type Words<'w> = (&'w Column, &'w [(&'w str, &'w str)], &'w [&'w str]);

/// A word that people use elsewhere is the column's own; one that could mean two things there is none.
#[test]
fn words_of_the_trade_are_read_in_the_columns_where_they_have_one_meaning() {
    let cases: &[Words] = &[
        (
            &openings::KIND,
            &[
                ("Sliding door", "patio door"),
                ("French door", "door"),
                ("hinged door", "door"),
                ("casement", "window"),
                ("Double-hung", "window"),
                ("Tilt and Turn", "window"),
                ("louvre window", "window"),
            ],
            &["slider", "hinged"],
        ),
        (
            &openings::OPENS,
            &[
                ("sliding", "slide"),
                ("slider", "slide"),
                ("Sliding door", "slide"),
                ("inward", "in"),
                ("outswing", "out"),
                ("awning", "out"),
                ("hopper", "tilt"),
                ("tilt & turn", "tilt"),
                ("single hung", "up"),
                ("sash", "up"),
            ],
            &["casement", "hinged", "French door"],
        ),
        (
            &openings::OPENING_LEAF,
            &[
                ("L", "left"),
                ("RH", "right"),
                ("left hand", "left"),
                ("both leaves", "both"),
                ("fixed", "none"),
            ],
            &["center"],
        ),
        (
            &openings::DRAW,
            &[
                ("LH", "left"),
                ("R", "right"),
                ("split draw", "split"),
                ("Both sides", "split"),
                ("centre open", "split"),
                ("bi-part", "split"),
            ],
            &["center", "centre", "stack"],
        ),
        (
            &openings::MOUNT,
            &[
                ("recess", "inside"),
                ("inside recess", "inside"),
                ("reveal fix", "inside"),
                ("face fix", "outside"),
                ("wall mount", "outside"),
                ("ceiling fix", "ceiling"),
            ],
            &["top fix"],
        ),
        (
            &openings::SUBSTRATE,
            &[
                ("Timber", "wood"),
                ("lumber", "wood"),
                ("studs", "stud wall"),
                ("sheetrock", "drywall"),
                ("gypsum board", "drywall"),
                ("plasterboard", "drywall"),
                ("brick", "masonry"),
                ("block", "masonry"),
                ("stone", "masonry"),
                ("metal stud", "steel"),
                ("steel studs", "steel"),
            ],
            &["tile", "plaster"],
        ),
        (
            &openings::FLOOR_SURFACE,
            &[
                ("tiled", "hard"),
                ("timber", "hard"),
                ("hardwood", "hard"),
                ("laminate", "hard"),
                ("vinyl", "hard"),
                ("concrete", "hard"),
                ("stone", "hard"),
                ("carpeted", "carpet"),
                ("screed", "unfinished"),
                ("bare slab", "unfinished"),
                ("sub-floor", "unfinished"),
            ],
            &["rug"],
        ),
        (
            &openings::LEFT_ENDS_AT,
            &[("cabinet", "cupboard"), ("side wall", "wall"), ("none", "free")],
            &["column"],
        ),
        (&openings::CONTROL, &[("motorised", "motor"), ("pull cord", "cord")], &["chain"]),
        (&openings::MEASURED, &[("rough opening", "rough"), ("laser", "tape"), ("DWG", "drawing")], &["yes"]),
        (&openings::DEPTH_TO, &[("glazing", "glass"), ("lever", "handle")], &["sash"]),
        (&openings::ESCAPE, &[("Y", "yes"), ("false", "no")], &["maybe"]),
    ];
    for (column, words, others) in cases {
        let read = |text: &str| tables::read_value(&Value::Text(text.into()), column, None, Unit::Inch);
        for (written, meant) in *words {
            assert_eq!(read(written), Ok(Datum::Choice(meant)), "{written} under {}", column.name);
        }
        for written in *others {
            assert!(read(written).is_err(), "{written} under {}", column.name);
        }
    }
}

/// No word of a column is read as two of its words.
#[test]
fn each_word_of_a_column_has_one_meaning_there() {
    for column in openings::OPENINGS.columns {
        let Kind::Choice(words) = column.kind else { continue };
        let all = words.own.iter().zip(words.others).flat_map(|(own, others)| {
            std::iter::once(*own).chain(others.iter().copied()).map(move |word| (word, *own))
        });
        for (word, own) in all {
            assert_eq!(words.meant(word), Some(own), "{word} under {}", column.name);
        }
    }
}
