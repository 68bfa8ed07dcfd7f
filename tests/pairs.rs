//! A width and a height in one cell, shorthand, dates for sizes, and sizes that names say.

use crate::support::{surveys, told};
use sillbook::length::Unit;
use sillbook::query::{Query, gather};
use sillbook::survey::{self, Opening};

/// What the only opening of a survey becomes, `900 mm x 2100 mm` or `held`, and its queries as lines.
fn sized(bare: Unit, text: &str) -> (String, Vec<String>) {
    let run = surveys(&[("survey.xlsx", text)]);
    let checked = survey::lay_out(&run.grids)
        .and_then(|layouts| survey::read(&layouts, &run.sheets, bare))
        .expect("the survey holds openings");
    let [opening] = <[Opening; 1]>::try_from(checked.value.openings).expect("one opening");
    let size = opening.facts.map_or("held".to_owned(), |facts| {
        let [width, height] =
            [&facts.width, &facts.height].map(|size| size.least().value.show(bare.shown_in()));
        format!("{width} x {height}")
    });
    let mut lines = told(&checked.queries, &run.sheets);
    // A cell that gives neither a width nor a height is asked about for both, and gathered as one.
    lines.dedup();
    (size, lines)
}

/// The same of one row: `headings` over `cells`, after a good id.
fn row(bare: Unit, headings: &str, cells: &str) -> (String, Vec<String>) {
    sized(bare, &format!("[Openings]\nOpening | {headings}\nW1 | {cells}"))
}

#[test]
fn a_size_in_one_cell_is_a_width_and_a_height() {
    use Unit::{Inch, Millimeter};
    let cases = [
        (Inch, "W x H", "30\" x 75\"", "30 in x 75 in"),
        (Inch, "H x W", "30\" x 75\"", "75 in x 30 in"),
        (Millimeter, "Size (W x H)", "0762 x 2032mm", "762 mm x 2032 mm"),
        (Millimeter, "Size (W × H) mm", "810 x 2100", "810 mm x 2100 mm"),
        (Millimeter, "Breite x Höhe (cm)", "90*190", "900 mm x 1900 mm"),
        (Millimeter, "Dimensions (H x W)", "92 CM X 65 CM", "650 mm x 920 mm"),
        (Millimeter, "Width x Height", "1 450×2 800", "1450 mm x 2800 mm"),
        (Millimeter, "Size [m] (W x H)", "0.9 x 2.1", "900 mm x 2100 mm"),
        (Inch, "W x H", "3'-0\" x 6'-8\"", "36 in x 80 in"), // 3 x 12; 6 x 12 + 8
        // The cell's own letters say more than its heading.
        (Millimeter, "Size", "W 900 x H 2100", "900 mm x 2100 mm"),
        (Millimeter, "Size", "2100h x 900w", "900 mm x 2100 mm"),
        (Millimeter, "W x H", "H2100 x W900", "900 mm x 2100 mm"),
        // A square has no need of an order.
        (Millimeter, "Size", "900 x 900", "900 mm x 900 mm"),
    ];
    for (units, heading, cell, expected) in cases {
        let (size, lines) = row(units, heading, cell);
        assert_eq!((size.as_str(), lines.len()), (expected, 0), "{cell} under {heading}: {lines:?}");
    }
}

#[test]
fn a_size_whose_order_nobody_says_is_one_query_for_the_column() {
    let run = surveys(&[(
        "survey.xlsx",
        "[Openings]
         Opening | Size
         W1      | 900 x 2100
         W2      | 800 x 2000",
    )]);
    let checked = survey::lay_out(&run.grids)
        .and_then(|layouts| survey::read(&layouts, &run.sheets, Unit::Millimeter))
        .expect("the survey holds openings");
    assert!(checked.value.openings.iter().all(|opening| opening.facts.is_none()));
    let gathered = gather(checked.queries, |_| 1);
    let [query] = gathered.as_slice() else { panic!("one query: {gathered:?}") };
    assert_eq!(query.message, "Size does not say which of its two lengths is the width");
    assert_eq!(query.hint, "change the heading to W x H or H x W");
    let details: Vec<&str> = query.places.iter().map(|place| place.detail.as_str()).collect();
    assert_eq!(
        details,
        [
            "\"900 x 2100\": 900 mm wide and 2100 mm high, or 2100 mm wide and 900 mm high",
            "\"800 x 2000\": 800 mm wide and 2000 mm high, or 2000 mm wide and 800 mm high",
        ]
    );
}

#[test]
fn shorthand_holds_its_opening_and_offers_the_likely_reading() {
    use Unit::{Inch, Millimeter};
    let cases = [
        // Common practice, no source. 4 x 12 = 48; 8 x 12 = 96; 6 x 12 + 8 = 80.
        (Inch, "Size", "4080", "Size is written in shorthand (\"4080\": probably 48 in x 96 in)"),
        (Inch, "W x H", "6068", "W x H is written in shorthand (\"6068\": probably 72 in x 80 in)"),
        (Inch, "Size", "2/8 x 6/8", "Size is written in shorthand (\"2/8 x 6/8\": probably 32 in x 80 in)"),
        (Millimeter, "Size", "M9x21", "Size is written in shorthand (\"M9x21\": probably 900 mm x 2100 mm)"),
        (
            Millimeter,
            "W x H",
            "12x21",
            "W x H is written in shorthand (\"12x21\": probably 1200 mm x 2100 mm)",
        ),
        (
            Millimeter,
            "W x H (m)",
            "9 x 21",
            "W x H is written in shorthand (\"9 x 21\": probably 900 mm x 2100 mm)",
        ),
    ];
    for (units, heading, cell, expected) in cases {
        let (size, lines) = row(units, heading, cell);
        assert_eq!((size.as_str(), lines), ("held", vec![format!("stop Openings!B2: {expected}")]), "{cell}");
    }
    // In a column of widths the same digits are so many inches, too many.
    let (_, lines) = row(Inch, "Width | Height", "4080 | 80");
    assert_eq!(
        lines,
        ["stop Openings!B2: Width must be from 10 mm to 30000 mm (\"4080\": probably 48 in x 96 in)"]
    );
    // Under a heading in inches, and as meters of a door, they are what they say.
    assert_eq!(row(Inch, "W x H (in)", "9 x 21").0, "9 in x 21 in");
    assert_eq!(row(Millimeter, "W x H (m)", "1 x 2").0, "1000 mm x 2000 mm");
}

#[test]
fn columns_of_their_own_win_over_a_size_in_one_cell() {
    let mm = Unit::Millimeter;
    // 913 - 900 = 13 mm is still the same size, 914 is not.
    assert_eq!(
        row(mm, "W x H | Width | Height", "913 x 2100 | 900 | 2100"),
        ("900 mm x 2100 mm".into(), vec![])
    );
    let (size, lines) = row(mm, "W x H | Width | Height", "914 x 2100 | 900 | 2100");
    assert_eq!(size, "900 mm x 2100 mm");
    assert_eq!(
        lines,
        [
            "check Openings!B2: W x H gives a different size from the width and height columns (914 mm x 2100 mm)"
        ]
    );
    // Only what has no column of its own is taken from the one cell.
    assert_eq!(row(mm, "W x H | Height left", "900 x 2100 | 2105").0, "900 mm x 2105 mm");
    // Of no use, it is a check that it cannot be read; of use, a stop.
    let (size, lines) = row(mm, "Size | Width | Height", "900 by two | 900 | 2100");
    assert_eq!(size, "900 mm x 2100 mm");
    assert_eq!(lines, ["check Openings!B2: Size cannot be read as a width and a height (\"900 by two\")"]);
    let (size, lines) = row(mm, "Size | Height", "900 by two | 2100");
    assert_eq!(size, "held");
    assert_eq!(lines, ["stop Openings!B2: Size cannot be read as a width and a height (\"900 by two\")"]);
}

#[test]
fn a_third_length_is_not_taken() {
    let (size, lines) = row(Unit::Millimeter, "W x H x D", "900 x 2100 x 150");
    assert_eq!(size, "900 mm x 2100 mm");
    assert_eq!(lines, ["check Openings!B2: W x H has a third dimension, which is ignored"]);
}

#[test]
fn a_length_that_was_not_measured_holds_its_opening() {
    let (size, lines) = row(Unit::Millimeter, "Width | Height", "~900 | 2100");
    assert_eq!(size, "held");
    assert_eq!(lines, ["stop Openings!B2: Width is only approximate (\"~900\": probably 900 mm)"]);
}

#[test]
fn a_date_for_a_size_offers_what_was_likely_typed() {
    use Unit::{Inch, Millimeter};
    let cases = [
        // 1902-05-25 is day 876 from 1900 on.
        (Millimeter, "1902-05-25", "876"),
        // 29 February 1900, which was none, is day 60.
        (Inch, "1900-02-28", "59"),
        (Inch, "1900-03-01", "61"),
        (Inch, "2026-03-04", "3/4"),
        (Inch, "2026-04-03", "3/4"),
        (Inch, "2026-05-10", "5'-10\" or 10'-5\""),
        (Inch, "2026-06-30", "30'-6\""),
        (Millimeter, "2026-05-12", "5.12 or 12.5"),
    ];
    for (units, cell, likely) in cases {
        let (size, lines) = row(units, "Width | Height", &format!("{cell} | 80 in"));
        assert_eq!(size, "held");
        assert_eq!(
            lines,
            [format!("stop Openings!B2: Width contains a date (\"{cell}\": probably {likely})")]
        );
    }
    let (_, lines) = row(Inch, "Unit | Width | Height", "2026-12-04 | 40 | 80");
    assert_eq!(lines, ["stop Openings!B2: Unit contains a date (\"2026-12-04\": probably 12-4 or 4-12)"]);
}

#[test]
fn a_name_that_says_another_size_is_a_check() {
    let check = |bare, name: &str, size: &str| {
        let (_, lines) = row(bare, "Note | Width | Height", &format!("{name} | {size}"));
        let (_, by_id) = sized(bare, &format!("[Openings]\nOpening | Width | Height\n{name} | {size}"));
        assert_eq!(lines.len(), by_id.len(), "{name}");
        by_id
    };
    let mm = Unit::Millimeter;
    let silent = [
        ("Single leaf 0762 x 2032mm", "762 | 2032"),
        ("Single leaf 2032 x 0762mm", "762 | 2032"),
        ("W1 900x2100", "913 | 2087"), // 13 mm off each
        ("Flat 3 900x2100", "900 | 2100"),
        ("Flat 12x4", "900 | 2100"),
        ("101x", "900 | 2100"),
        ("36x80", "900 | 2100"),
        ("Exterior 4", "900 | 2100"),
    ];
    for (name, size) in silent {
        assert_eq!(check(mm, name, size), [""; 0], "{name}");
    }
    let asked = [
        (mm, "Single leaf 0762 x 2032mm", "900 | 2032", "762 mm x 2032 mm"),
        (mm, "W1 900x2100", "914 | 2100", "900 mm x 2100 mm"),
        (Unit::Inch, "Oak 36\" x 80\"", "40 | 80", "36 in x 80 in"),
        // Bare numbers in an inch survey, far too large for inches.
        (Unit::Inch, "T 900x2100", "40 | 80", "35.43 in x 82.68 in"), // 900 / 25.4; 2100 / 25.4
    ];
    for (units, name, size, says) in asked {
        assert_eq!(
            check(units, name, size),
            [format!("check Openings!A2: the id gives a different size from the size columns ({says})")]
        );
    }
    let (_, lines) = row(mm, "Note | Width | Height", "glass 800 x 2000 | 900 | 2100");
    assert_eq!(
        lines,
        ["note Openings!B2: the note gives a different size from the size columns (800 mm x 2000 mm)"]
    );
}

#[test]
fn a_row_without_a_size_says_what_its_name_says() {
    let run = surveys(&[(
        "survey.xlsx",
        "[Openings]
         Opening | Note               | Width | Height
         W1      | leaf 762 x 2032 mm |       |
         W2      | leaf 762 x 2032 mm | 762   |
         W3      |                    | 900   | 2100",
    )]);
    let checked = survey::lay_out(&run.grids)
        .and_then(|layouts| survey::read(&layouts, &run.sheets, Unit::Millimeter))
        .expect("the survey holds openings");
    let queries: Vec<Query> = checked.queries;
    assert_eq!(
        told(&queries, &run.sheets),
        [
            "note Openings!A2: the row has no size, so it is not treated as an opening (the note says 762 mm x 2032 mm)",
            "stop Openings!A3: no height is given (the note says 762 mm x 2032 mm)",
        ]
    );
}
