//! Lengths from a tape's text: every written form, alone, in pairs and as an outside calculation prints it.
//! `data/lengths.csv` is of `tests/reference/lengths.py`, which sums with Python's `fractions`.

use proptest::prelude::*;
use rust_decimal::Decimal;
use sillbook::grid::Value;
use sillbook::length::{
    Length, PairOrder, Reading, Unit, doubtful_readings, fraction_of_inch, modules, order_named,
    pairs_within, readings, run_together, written_pair,
};
use sillbook::schema::openings::WIDTH;
use sillbook::tables::{self, Datum};

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
        ("5' - 10 3/4\"", &["70.75 Inch"]), // 5 x 12 + 10 + 3/4
        ("7'-0\"", &["84 Inch"]),
        ("5'-10 3/4", &["70.75 Inch"]),
        ("8' 10½", &["106.5 Inch"]),
        ("5 ft. 10 in.", &["70 Inch"]),
        ("0'-6\"", &["6 Inch"]),
        ("8'", &["8 Foot"]),
        ("6'", &["6 Foot"]),
        ("3 ft", &["3 Foot"]),
        ("8.5 ft", &["8.5 Foot"]),
        ("2692 mm", &["2692 Millimeter"]),
        ("2692MM", &["2692 Millimeter"]),
        ("269.2 cm", &["269.2 Centimeter"]),
        ("2,692 m", &["2692 Meter grouped by ,", "2.692 Meter"]),
        ("2.692 m", &["2692 Meter grouped by .", "2.692 Meter"]),
        ("1 450", &["1450"]),
        ("1\u{a0}450", &["1450"]),
        ("1\u{2009}450,5", &["1450.5"]),
        ("1\u{202f}450 mm", &["1450 Millimeter"]),
        ("1 450 1/2", &["1450.5"]),
        ("2,692", &["2692 grouped by ,", "2.692"]),
        ("2.692,5", &["2692.5 grouped by ."]),
        ("2,692.5", &["2692.5 grouped by ,"]),
        ("1,234,567", &["1234567 grouped by ,"]),
        ("0,692", &["0.692"]),
        ("2,69", &["2.69"]),
        ("-3 mm", &["-3 Millimeter"]),
        ("−105 1/2", &["-105.5"]),
        ("- ½\"", &["-0.5 Inch"]),
        ("-2,692", &["-2692 grouped by ,", "-2.692"]),
        ("-8' 10\"", &["-106 Inch"]),
        ("  105.5  ", &["105.5"]),
        ("0", &["0"]),
        ("-0", &["0"]),
        ("0762", &["762"]),
        ("810 mm", &["810 Millimeter"]),
        ("810 mm.", &["810 Millimeter"]),
        ("810. mm", &["810 Millimeter"]),
        ("105.", &["105"]),
        ("1\u{3000}450", &["1450"]),
        ("\u{feff}1\u{2060}450\u{200b}", &["1450"]),
        ("１，４５０ｍｍ", &["1450 Millimeter grouped by ,", "1.45 Millimeter"]),
        ("１ ４５０．５", &["1450.5"]),
        ("8＇−10 1／2＂", &["106.5 Inch"]),
        ("900㎜", &["900 Millimeter"]),
        ("90 厘米", &["90 Centimeter"]),
        // A mark at both ends quotes; an apostrophe before a number keeps it as text.
        ("\"876\"", &["876"]),
        ("“876”", &["876"]),
        ("'876", &["876"]),
        ("'30\"", &["30 Inch"]),
        ("\"30\"\"", &["30 Inch"]),
        ("876\"", &["876 Inch"]),
        // The residue of binary sums lies beyond 15 digits.
        ("876.0000000000001", &["876"]),
        ("875.9999999999999 mm", &["876 Millimeter"]),
        ("876.00000000001", &["876.00000000001"]),
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
        "~900",
        "approx 900",
        "900?",
        "\"876",
        "1'450",
        "宽/5",
        "1 45",
        "1  450",
        "0 450",
        "1051/2",
        "105 3/2",
        "3/4/26",
        "03/04",
        "105 1/12",
        "105.5 1/2",
        "1.2.3",
        "105..",
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
        ("mm", Some(Unit::Millimeter)),
        ("cm", Some(Unit::Centimeter)),
        ("meters", Some(Unit::Meter)),
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

/// The text in full-width characters.
fn wide(text: &str) -> String {
    let wider = |character: char| match character {
        '!'..='~' => char::from_u32(u32::from(character) + 0xfee0).expect("a full-width form"),
        other => other,
    };
    text.chars().map(wider).collect()
}

/// The text with a character for its fraction, where there is one: `105½`.
fn with_fraction_character(text: &str) -> String {
    let characters =
        [("1/2", "½"), ("1/4", "¼"), ("3/4", "¾"), ("1/8", "⅛"), ("3/8", "⅜"), ("5/8", "⅝"), ("7/8", "⅞")];
    let whole = |at: usize| !text[..at].ends_with(|before: char| before.is_ascii_digit());
    let ends = |end: usize| !text[end..].starts_with(|after: char| after.is_ascii_digit());
    for (fraction, character) in characters {
        if let Some(at) = text.find(fraction).filter(|at| whole(*at) && ends(at + fraction.len())) {
            return format!("{}{character}{}", text[..at].trim_end(), &text[at + fraction.len()..]);
        }
    }
    text.to_owned()
}

proptest! {
    #[test]
    fn a_metric_length_reads_back_in_every_form(nm in 0_i64..30_000_000_000, mark in "[  \u{a0}\u{2009}\u{202f}]") {
        let length = Length::from_nm(nm);
        for (unit, names) in [
            (Unit::Millimeter, ["mm", " mm", " millimeters"]),
            (Unit::Centimeter, ["cm", " CM", " centimeters"]),
            (Unit::Meter, ["m", " m", " meters"]),
        ] {
            let point = length.in_unit(unit).normalize().to_string();
            let quoted = [format!("\"{point}\""), format!("'{point}"), format!("{point}."), wide(&point)];
            for text in quoted {
                prop_assert!(lengths(&text, unit).contains(&length), "{}", text);
            }
            for name in names {
                let dotted = format!("{}.", wide(&format!("{point}{name}")));
                prop_assert!(lengths(&dotted, Unit::Inch).contains(&length), "{}", dotted);
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
            prop_assert!(lengths(&text, Unit::Millimeter).contains(&length), "{}", text);
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
            format!("{feet}' - {rest}\""),
            format!("{feet}′ {rest}″"),
            format!("{feet} feet {rest} inches"),
            format!("{inches} ins."),
            format!("\"{inches}\""),
            format!("'{inches}"),
            inches.replace('/', "⁄"),
            wide(&format!("{feet}'-{rest}\"")),
            with_fraction_character(&inches),
            with_fraction_character(&format!("{feet}'-{rest}\"")),
        ] {
            prop_assert_eq!(lengths(&text, Unit::Inch), vec![length], "{}", text);
        }
        // 631.125 may also be 631125 grouped by a point.
        let decimal = format!("{} in", length.in_unit(Unit::Inch).normalize());
        prop_assert!(lengths(&decimal, Unit::Millimeter).contains(&length), "{}", decimal);
    }

    #[test]
    fn no_text_breaks_the_reading(text in "[-0-9 ,.'\"/½⅓a-zx×*()㎜宽９，~\u{a0}−]{0,24}") {
        readings(&text);
        doubtful_readings(&text);
        written_pair(&text);
        pairs_within(&text);
        order_named(&text);
        run_together(&text);
        modules(&text, Unit::Millimeter);
    }
}

#[test]
fn a_length_that_was_not_measured_is_known_as_such() {
    let cases = [
        ("~900", "900"),
        ("≈ 900 mm", "900"),
        ("approx 900", "900"),
        ("Approx. 900", "900"),
        ("ca. 900mm", "900"),
        ("about 35 1/2\"", "35.5"),
        ("900?", "900"),
        ("900 approx.", "900"),
        ("900 tbc", "900"),
    ];
    for (text, value) in cases {
        let values: Vec<String> =
            doubtful_readings(text).iter().map(|reading| reading.value.to_string()).collect();
        assert_eq!(values, [value], "{text}");
        assert_eq!(readings(text), [], "{text}");
    }
    for text in ["900", "cabin", "ask", "?", "caution 900", ""] {
        assert_eq!(doubtful_readings(text), [], "{text}");
    }
}

/// A pair as `900 Millimeter x 2100`, with which comes first and whether a third length follows.
fn pair_as(text: &str) -> Option<String> {
    let pair = written_pair(text)?;
    let part = |readings: &Vec<Reading>| {
        let part = |reading: &Reading| {
            format!("{}{}", reading.value, reading.unit.map_or(String::new(), |unit| format!(" {unit:?}")))
        };
        readings.iter().map(part).collect::<Vec<_>>().join(" or ")
    };
    let order = match pair.order {
        Some(PairOrder::WidthFirst) => ", width first",
        Some(PairOrder::HeightFirst) => ", height first",
        None => "",
    };
    let third = if pair.with_third { ", and a third" } else { "" };
    Some(format!("{} x {}{order}{third}", part(&pair.readings[0]), part(&pair.readings[1])))
}

#[test]
fn lengths_written_together_are_read_one_by_one() {
    let cases = [
        ("30\" x 75\"", "30 Inch x 75 Inch"),
        ("0762 x 2032mm", "762 Millimeter x 2032 Millimeter"),
        ("810 x 2100 mm", "810 Millimeter x 2100 Millimeter"),
        ("810mm x 2100", "810 Millimeter x 2100 Millimeter"),
        ("92 CM X 65 CM", "92 Centimeter x 65 Centimeter"),
        ("90*190", "90 x 190"),
        ("1 450×2 800", "1450 x 2800"),
        ("1\u{a0}450 ✕ 2\u{a0}800", "1450 x 2800"),
        ("９００ｘ２１００", "900 x 2100"),
        ("900 х 2100", "900 x 2100"),
        ("3'-0\" x 6'-8\"", "36 Inch x 80 Inch"),
        ("36 in by 80 in", "36 Inch x 80 Inch"),
        ("35 1/2 x 79 3/4\"", "35.5 Inch x 79.75 Inch"),
        // A length without a unit may be in feet as the other is, or not.
        ("3' x 80", "3 Foot x 80 Foot or 80"),
        ("3' x 80\"", "3 Foot x 80 Inch"),
        ("W 900 x H 2100", "900 x 2100, width first"),
        ("W=900 x H=2100 mm", "900 Millimeter x 2100 Millimeter, width first"),
        ("900w x 2100h", "900 x 2100, width first"),
        ("2100h x 900", "2100 x 900, height first"),
        ("30\"w x 75\"h", "30 Inch x 75 Inch, width first"),
        ("H2100 x W900", "2100 x 900, height first"),
        ("900mmW x 2100mmH", "900 Millimeter x 2100 Millimeter, width first"),
        ("900 mm wide x 2100 mm high", "900 Millimeter x 2100 Millimeter, width first"),
        ("宽900×高2100", "900 x 2100, width first"),
        ("B 900 x H 2100", "900 x 2100, width first"),
        ("W 900 x W 2100", "900 x 2100"),
        ("900 x 2100 x 150 mm", "900 Millimeter x 2100 Millimeter, and a third"),
        ("D150 x W900 x H2100", "900 x 2100, width first, and a third"),
        ("\"900 x 2100\"", "900 x 2100"),
    ];
    for (text, expected) in cases {
        assert_eq!(pair_as(text).as_deref(), Some(expected), "{text}");
    }
    for text in [
        "",
        "x",
        "900",
        "900 x",
        "x 2100",
        "900 x abc",
        "900 x 2100 x 3 x 4",
        "Leaf 900 x 2100",
        "900 / 2100",
    ] {
        assert_eq!(pair_as(text), None, "{text}");
    }
}

#[test]
fn a_heading_says_which_length_comes_first() {
    let cases = [
        ("W x H", Some((PairOrder::WidthFirst, ""))),
        ("WxH", Some((PairOrder::WidthFirst, ""))),
        ("Size (W × H) mm", Some((PairOrder::WidthFirst, "size ( ) mm"))),
        ("Width x Height in inches", Some((PairOrder::WidthFirst, "in inches"))),
        ("H x W", Some((PairOrder::HeightFirst, ""))),
        ("Height by width", Some((PairOrder::HeightFirst, ""))),
        ("B x H", Some((PairOrder::WidthFirst, ""))),
        ("L x H", Some((PairOrder::WidthFirst, ""))),
        ("Breite x Höhe", Some((PairOrder::WidthFirst, ""))),
        ("hauteur x largeur", Some((PairOrder::HeightFirst, ""))),
        ("szer. x wys.", Some((PairOrder::WidthFirst, ""))),
        ("宽x高", Some((PairOrder::WidthFirst, ""))),
        ("W x H x D", Some((PairOrder::WidthFirst, ""))),
        ("Size", None),
        ("W x W", None),
        ("Exterior", None),
        ("Box height", None),
        ("Max width", None),
        ("H x", None),
    ];
    for (heading, expected) in cases {
        let named = order_named(heading).map(|(order, rest)| (order, rest.trim().to_owned()));
        let expected = expected.map(|(order, rest)| (order, rest.to_owned()));
        assert_eq!(named, expected, "{heading}");
    }
}

/// Feet and inches run together are common practice, no source; modules of 100 mm are those of
/// ISO 1006 and ISO 2848 (from memory).
#[test]
fn shorthand_is_known_and_told_from_lengths() {
    let inches = |width, height| Some([Length::inches(width), Length::inches(height)]);
    let modules_of = |width, height| Some([Length::from_mm(width), Length::from_mm(height)]);
    let feet = [
        ("4080", inches(48, 96)), // 4 x 12; 8 x 12
        ("6068", inches(72, 80)), // 6 x 12; 6 x 12 + 8
        ("2/8 x 6/8", inches(32, 80)),
        ("3-0 x 6-8", inches(36, 80)),
        ("3/0x6/8", inches(36, 80)),
        ("406", None),
        ("0080", None),
        ("2032", inches(24, 38)), // 2 x 12; 3 x 12 + 2
        ("2692 mm", None),
        ("36 x 80", None),
        ("½ab", None),
    ];
    for (text, expected) in feet {
        assert_eq!(run_together(text), expected, "{text}");
    }
    let metric = [
        ("M9x21", modules_of(900, 2_100)),
        ("9x21", modules_of(900, 2_100)),
        ("9M x 21M", modules_of(900, 2_100)),
        ("12 × 21", modules_of(1_200, 2_100)),
        ("0921", modules_of(900, 2_100)),
        ("1m x 2m", None), // 1 m wide and 2 m high
        ("900 x 2100", None),
        ("90x190", None),
        ("2x21", None),
        ("2100", None),
    ];
    for (text, expected) in metric {
        assert_eq!(modules(text, Unit::Millimeter), expected, "{text}");
    }
    // 36 in and 80 in are a door's; 9 in is no width of one.
    assert_eq!(modules("36x80", Unit::Inch), None);
    assert_eq!(modules("9x21", Unit::Inch), modules_of(900, 2_100));
}

#[test]
fn a_name_holds_a_pair_only_beside_a_sign() {
    let pairs = |text: &str| -> Vec<String> {
        let one = |readings: &[Reading]| {
            readings.first().map_or(String::new(), |reading| reading.value.to_string())
        };
        pairs_within(text)
            .iter()
            .map(|pair| format!("{} x {}", one(&pair.readings[0]), one(&pair.readings[1])))
            .collect()
    };
    let cases: [(&str, &[&str]); 15] = [
        ("Single leaf 0762 x 2032mm", &["762 x 2032"]),
        ("Leaf 3 900 x 2100 oak", &["900 x 2100", "3900 x 2100"]),
        ("W1 900x2100", &["900 x 2100"]),
        ("SD900x2100-L", &["900 x 2100"]),
        ("Door (36\" x 80\") oak", &["36 x 80"]),
        ("5' 10\" x 6' 8\"", &["10 x 80", "70 x 80"]),
        ("Box 900x2100", &["900 x 2100"]),
        ("Leaf W900 x H2100", &["900 x 2100", "900 x 2100"]),
        ("Flat 12x4", &["12 x 4"]),
        ("101x", &[]),
        ("Exterior door", &[]),
        ("900x2100x450", &["900 x 2100"]),
        ("900 x 2100, 800 x 2000", &["900 x 2100", "800 x 2000"]),
        ("Box 4", &[]),
        ("4 x", &[]),
    ];
    for (text, expected) in cases {
        assert_eq!(pairs(text), expected, "{text}");
    }
}

/// Lengths in every form that is read, printed by `tests/reference/lengths.py`, whose sums are
/// those of Python's `fractions`.
#[test]
fn lengths_that_python_prints_read_back_to_the_nanometer() {
    let mut reader = csv::Reader::from_reader(include_str!("data/lengths.csv").as_bytes());
    let mut count = 0;
    for line in reader.records() {
        let line = line.expect("a line of three cells");
        let unit = Unit::named(&line[0]).expect("a unit");
        let value = Value::Text(line[2].into());
        match tables::read_value(&value, &WIDTH, Some(unit), Unit::Millimeter) {
            Ok(Datum::Length(length)) => assert_eq!(length.nm().to_string(), line[1], "{}", &line[2]),
            other => panic!("{} in {}: {other:?}", &line[2], &line[0]),
        }
        count += 1;
    }
    assert_eq!(count, 440);
}
