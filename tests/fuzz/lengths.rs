//! Texts of lengths. What is read is shown, and what is shown is read as the same.

use sillbook::grid::Value;
use sillbook::length::{
    Length, Unit, Units, doubtful_readings, modules, order_named, pair_of_leaves, pairs_within, readings,
    run_together, written_pair,
};
use sillbook::schema::openings::WIDTH;
use sillbook::tables::{self, Datum};

use super::{hold, texts};

const ROUNDS: u64 = 3_000;

/// Forms that the printed list does not have.
const FORMS: [&str; 24] = [
    "8' 10 1/2\"",
    "5 ft. 10 in.",
    "2.692,5",
    "1 450",
    "１，４５０ｍｍ",
    "\"876\"",
    "876.0000000000001",
    "-2,692",
    "105 ⅞ in.",
    "30\" x 75\"",
    "0762 x 2032mm",
    "W 900 x H 2100",
    "900mmW x 2100mmH",
    "D150 x W900 x H2100",
    "宽900×高2100",
    "2/8 x 6/8",
    "4080",
    "M9x21",
    "1+1 900/300",
    "Leaf 3 900 x 2100 oak",
    "Breite x Höhe",
    "36 in by 80 in",
    "",
    "0",
];

fn read(text: &str, unit: Unit) -> Option<Length> {
    match tables::read_value(&Value::Text(text.into()), &WIDTH, None, unit) {
        Ok(Datum::Length(length)) => Some(length),
        _ => None,
    }
}

/// All that can be made of a text.
fn all_of(text: &str) -> String {
    let mut all = format!("{:?} {:?}", readings(text), doubtful_readings(text));
    all += &format!("{:?} {:?} {:?}", written_pair(text), pairs_within(text), order_named(text));
    all += &format!("{:?}", run_together(text));
    for unit in [Unit::Inch, Unit::Millimeter, Unit::Meter] {
        all += &format!("{:?} {:?} {:?}", modules(text, unit), pair_of_leaves(text, unit), read(text, unit));
    }
    all
}

#[test]
fn a_text_is_a_length_or_none() {
    let printed = include_str!("../data/lengths.csv").as_bytes();
    let lines = csv::Reader::from_reader(printed).into_records().map(|line| line.unwrap()[2].to_owned());
    let sound: Vec<String> = lines.chain(FORMS.map(str::to_owned)).collect();
    let made = move |chance: &mut _| {
        texts::spoilt(&sound[crate::support::chance::Chance::of(chance, sound.len())], chance)
    };
    hold(ROUNDS, made, |text| {
        if all_of(text) != all_of(text) {
            return Some("is read another way the second time".to_owned());
        }
        let length = read(text, Unit::Millimeter)?;
        for units in [Units::Millimeters, Units::Inches] {
            let shown = length.in_full(units);
            if read(&shown, Unit::Millimeter) != Some(length) {
                return Some(format!("is {} nm, shown as {shown} and read as something else", length.nm()));
            }
        }
        None
    });
}
