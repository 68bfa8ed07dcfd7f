//! Lengths from a tape's text, and tables from small sheets.

use proptest::prelude::*;
use rust_decimal::Decimal;
use sillbook::length::{Length, Unit, fraction_of_inch, readings};

/// Value, unit and grouping mark of every reading, as `105.5 in`, `2692 grouped by ,`.
fn read_as(text: &str) -> Vec<String> {
    readings(text)
        .iter()
        .map(|reading| {
            let unit = reading.unit.map_or(String::new(), |unit| format!(" {unit:?}"));
            let grouped = reading.grouped.map_or(String::new(), |mark| format!(" grouped by {mark}"));
            format!("{}{unit}{grouped}", reading.value)
        })
        .collect()
}

#[test]
fn every_written_form_has_its_readings() {
    let cases: &[(&str, &[&str])] = &[
        ("105", &["105"]),
        ("105.5", &["105.5"]),
        (".5", &["0.5"]),
        ("105,5", &["105.5"]),
        ("105 1/2", &["105.5"]),
        ("105-1/2\"", &["105.5 Inch"]),
        ("105 - 1/2", &["105.5"]),
        ("105½”", &["105.5 Inch"]),
        ("105 ⅞ in.", &["105.875 Inch"]),
        ("½", &["0.5"]),
        ("3⁄4 in", &["0.75 Inch"]),
        // 8 x 12 + 10 = 106; + 1/2.
        ("8' 10\"", &["106 Inch"]),
        ("8'10''", &["106 Inch"]),
        ("8’-10 1/2”", &["106.5 Inch"]),
        ("8′ 10½″", &["106.5 Inch"]),
        ("8' 10", &["106 Inch"]),
        ("3 ft 6 in", &["42 Inch"]),
        ("3ft6in", &["42 Inch"]),
        ("3 Feet 6.25 Inches", &["42.25 Inch"]),
        ("8'", &["8 Foot"]),
        ("8.5 ft", &["8.5 Foot"]),
        ("2692 mm", &["2692 Millimetre"]),
        ("2692MM", &["2692 Millimetre"]),
        ("269.2 cm", &["269.2 Centimetre"]),
        ("2,692 m", &["2692 Metre grouped by ,", "2.692 Metre"]),
        ("2.692 m", &["2692 Metre grouped by .", "2.692 Metre"]),
        ("1 450", &["1450"]),
        ("1\u{a0}450", &["1450"]),
        ("1\u{2009}450,5", &["1450.5"]),
        ("1\u{202f}450 mm", &["1450 Millimetre"]),
        ("1 450 1/2", &["1450.5"]),
        ("2,692", &["2692 grouped by ,", "2.692"]),
        ("2.692,5", &["2692.5 grouped by ."]),
        ("2,692.5", &["2692.5 grouped by ,"]),
        ("1,234,567", &["1234567 grouped by ,"]),
        ("0,692", &["0.692"]),
        ("2,69", &["2.69"]),
        ("-3 mm", &["-3 Millimetre"]),
        ("−105 1/2", &["-105.5"]),
        ("- ½\"", &["-0.5 Inch"]),
        ("-2,692", &["-2692 grouped by ,", "-2.692"]),
        ("-8' 10\"", &["-106 Inch"]),
        ("  105.5  ", &["105.5"]),
        ("0", &["0"]),
        ("-0", &["0"]),
    ];
    for (text, expected) in cases {
        assert_eq!(read_as(text), *expected, "{text:?}");
    }
}

#[test]
fn nothing_else_is_a_length() {
    let texts = [
        "",
        " ",
        "abc",
        "30\" x 75\"",
        "12 34",
        "1 45",
        "1  450",
        "0 450",
        "1051/2",
        "105 3/2",
        "3/4/26",
        "03/04",
        "105 1/12",
        "105.5 1/2",
        "105.",
        "1.2.3",
        "2,69,2",
        "1e3",
        "12 34 mm",
        "8' 14\"",
        "8.5' 6\"",
        "8' -",
        "8' 6 mm",
        "105 yards",
        "--5",
        "5-",
        "5 - 6",
        "+5",
        "(5)",
        "10%",
        "NaN",
        "½½",
        "1½½",
        "½ 3",
        "mm",
        "'",
        "\"",
        "99999999999999999999999999999999",
    ];
    for text in texts {
        assert_eq!(read_as(text), [""; 0], "{text:?}");
    }
}

#[test]
fn units_are_known_by_their_usual_spellings() {
    let cases = [
        ("in", Some(Unit::Inch)),
        ("IN.", Some(Unit::Inch)),
        ("inches", Some(Unit::Inch)),
        ("”", Some(Unit::Inch)),
        ("''", Some(Unit::Inch)),
        ("Ft", Some(Unit::Foot)),
        ("’", Some(Unit::Foot)),
        ("mm", Some(Unit::Millimetre)),
        ("cm", Some(Unit::Centimetre)),
        ("meters", Some(Unit::Metre)),
        ("", None),
        ("i", None),
        ("yd", None),
    ];
    for (text, unit) in cases {
        assert_eq!(Unit::named(text), unit, "{text:?}");
    }
}

/// The lengths of a text's readings, a bare number being in `unit`.
fn lengths(text: &str, unit: Unit) -> Vec<Length> {
    let length = |value: Decimal, unit| Length::of(value, unit).expect("a length that fits");
    readings(text).iter().map(|reading| length(reading.value, reading.unit.unwrap_or(unit))).collect()
}

/// Whole thousands with a mark between them: `2 692`.
fn grouped(whole: i64, mark: &str) -> String {
    match whole / 1_000 {
        0 => whole.to_string(),
        thousands => format!("{}{mark}{:03}", grouped(thousands, mark), whole % 1_000),
    }
}

proptest! {
    #[test]
    fn a_metric_length_reads_back_in_every_form(nm in 0_i64..30_000_000_000, mark in "[  \u{a0}\u{2009}\u{202f}]") {
        let length = Length::from_nm(nm);
        for (unit, names) in [
            (Unit::Millimetre, ["mm", " mm", " millimetres"]),
            (Unit::Centimetre, ["cm", " CM", " centimeters"]),
            (Unit::Metre, ["m", " m", " metres"]),
        ] {
            let point = length.in_unit(unit).normalize().to_string();
            for name in names {
                for text in [format!("{point}{name}"), format!("{}{name}", point.replace('.', ","))] {
                    prop_assert!(lengths(&text, Unit::Inch).contains(&length), "{}", text);
                }
                let negative = format!("-{point}{name}");
                prop_assert!(lengths(&negative, Unit::Inch).contains(&-length), "{}", negative);
            }
            prop_assert!(lengths(&point, unit).contains(&length));
        }
        let (whole, decimals) = (nm / 1_000_000, format!("{:06}", nm % 1_000_000));
        for text in [
            format!("{},{decimals}", grouped(whole, &mark)),
            format!("{}.{decimals} mm", grouped(whole, &mark)),
            format!("{}.{decimals}", grouped(whole, ",")),
            format!("{},{decimals}", grouped(whole, ".")),
        ] {
            prop_assert!(lengths(&text, Unit::Millimetre).contains(&length), "{}", text);
        }
    }

    #[test]
    fn a_tapes_inches_read_back_in_every_form(sixty_fourths in 0_i64..75_000) {
        let length = Length::sixty_fourths(sixty_fourths);
        let inches = fraction_of_inch(length, 64).expect("whole sixty-fourths");
        let rest = fraction_of_inch(length - Length::inches(sixty_fourths / 64 / 12 * 12), 64).expect("as above");
        let feet = sixty_fourths / 64 / 12;
        for text in [
            inches.clone(),
            format!("{inches}\""),
            format!("{inches}”"),
            format!("{inches} in"),
            format!("{}''", inches.replace(' ', "-")),
            format!("{feet}' {rest}\""),
            format!("{feet}’-{rest}”"),
            format!("{feet} ft {rest} in"),
            format!("{feet}ft{}", rest.replace(' ', "-")),
        ] {
            prop_assert_eq!(lengths(&text, Unit::Inch), vec![length], "{}", text);
        }
        // 631.125 may also be 631125 grouped by a point.
        let decimal = format!("{} in", length.in_unit(Unit::Inch).normalize());
        prop_assert!(lengths(&decimal, Unit::Millimetre).contains(&length), "{}", decimal);
    }

    #[test]
    fn no_text_breaks_the_reading(text in "[-0-9 ,.'\"/½⅓a-z\u{a0}−]{0,20}") {
        readings(&text);
    }
}
