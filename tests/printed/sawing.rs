//! The printed cut list is cut: it begins with whole bars and rolls, does what each row says in its order,
//! and must end with the pieces of the order and the offcuts that are listed, and nothing else. It knows
//! only what is on the paper; lengths are taken as they stand in the cells, with all their digits.

use std::collections::BTreeMap;

use super::{RUNS, Run, length};
use crate::support::package::Sheet;
use sillbook::cutting::{Demand, demand};
use sillbook::length::{Length, Units, readings};

/// Length and order line of a piece; none for a spare.
type Kind = (Length, Option<usize>);

/// What comes of one material in one color and phase.
#[derive(Default)]
struct Bench {
    trim: Length,
    kerf: Length,
    pieces: BTreeMap<Kind, u64>,
    /// Pieces of each blind, and of how many rolls they are.
    blinds: BTreeMap<(String, String), (u64, Vec<usize>)>,
    /// Where the next piece of a torn blind must come from, and how many there are before.
    on_to: Option<((String, String), usize)>,
    kept: BTreeMap<Length, u64>,
    /// Bars of one pattern, and what each still is.
    bar: Option<(u64, Length)>,
    /// Rolls, and what each still is.
    rolls: BTreeMap<usize, Length>,
    roll: Option<usize>,
}

impl Bench {
    /// Takes a piece off: the far end stays raw, and the blade takes its part if there is any left.
    fn take(&self, left: &mut Length, piece: Length, who: &str) {
        assert!(*left >= piece + self.trim, "{who}: {piece:?} does not come out of {left:?}");
        *left = (*left - piece - self.kerf).max(Length::ZERO);
    }

    /// A roll's row: unit, opening, line, pieces, length and what is then.
    fn cut_roll(&mut self, row: &[String], length: Length, who: &str) {
        let roll = self.roll.unwrap_or_else(|| panic!("{who}: no roll is taken up"));
        let pieces: u64 = row[3].parse().unwrap();
        let mut left = self.rolls[&roll];
        for _ in 0..pieces {
            self.take(&mut left, length, who);
        }
        self.rolls.insert(roll, left);
        let line = row[2].parse().ok();
        *self.pieces.entry((length, line)).or_default() += pieces;
        if row[1] == "spare" {
            assert_eq!((line, self.on_to.take()), (None, None), "{who}");
            return;
        }
        let blind = (row[0].clone(), row[1].clone());
        if let Some(on_to) = self.on_to.take() {
            assert_eq!(on_to, (blind.clone(), roll), "{who}: it goes on with another");
        }
        let (done, rolls) = self.blinds.entry(blind.clone()).or_default();
        *done += pieces;
        if rolls.last() != Some(&roll) {
            rolls.push(roll);
        }
        if let Some((_, then)) = row[5].split_once("on to roll ") {
            let (roll, then) = then.split_once(" after ").unwrap();
            let (after, _) = then.split_once(" of ").unwrap();
            assert_eq!(after.parse::<u64>().unwrap(), *done, "{who}");
            self.on_to = Some((blind, roll.parse().unwrap()));
        } else if let Some((_, last)) = row[5].split_once("the last ") {
            let (last, of) = last.split_once(" of ").unwrap();
            assert_eq!((last.parse(), of.parse()), (Ok(pieces), Ok(*done)), "{who}");
        }
    }

    /// Row under a roll or the bars of a pattern: what is left of each.
    fn put_down(&mut self, text: &str, run: &Run, who: &str) {
        let (many, left) = match (self.bar.take(), self.roll.take()) {
            (Some(bar), None) => bar,
            (None, Some(roll)) => (1, self.rolls[&roll]),
            _ => panic!("{who}: nothing to put down"),
        };
        let said = left.shown(run.units()).to_string();
        match text {
            "Nothing is left over." => assert_eq!(left, Length::ZERO, "{who}"),
            _ => assert!(
                text.contains(&format!("{said}.")) || text.contains(&format!("{said}:")),
                "{who}: {said}"
            ),
        }
        if text.ends_with("Keep it.") {
            *self.kept.entry(left).or_default() += many;
        }
    }
}

/// The one length that a text says.
fn one(text: &str) -> Length {
    // What is exact in millimeters stands in inches behind it.
    let text = text.split(" (").next().unwrap();
    let reading = readings(text).into_iter().next().unwrap_or_else(|| panic!("{text}"));
    Length::of(reading.value, reading.unit.unwrap()).unwrap()
}

fn text(sheet: &Sheet, row: u32, column: u32) -> String {
    sheet.cells.get(&(row, column)).map_or_else(String::new, |cell| cell.text.clone())
}

/// The number of a cell, in the run's unit, to the nanometer.
fn number(sheet: &Sheet, row: u32, column: u32, units: Units) -> Length {
    let mm = text(sheet, row, column).parse::<f64>().unwrap() * super::in_units(1.0, units).recip();
    Length::from_nm((mm * 1e6).round() as i64)
}

/// Cuts what a sheet says: what comes of it, by the name of each block.
fn cut(run: &Run) -> BTreeMap<String, Bench> {
    let (sheet, units) = (&run.package.sheets["Cut list"], run.units());
    let last = sheet.cells.keys().map(|at| at.0).max().unwrap();
    let mut benches: BTreeMap<String, Bench> = BTreeMap::new();
    let mut bench: Option<(String, Bench)> = None;
    let mut of_rolls = false;
    for row in 0..=last {
        let cells: Vec<String> = (0..7).map(|column| text(sheet, row, column)).collect();
        let first = &*cells[0];
        let who = format!("{}, row {}: {cells:?}", run.name, row + 1);
        if let Some((name, _)) = first.strip_suffix(" pieces").and_then(|title| title.rsplit_once(": ")) {
            benches.extend(bench.replace((name.to_owned(), Bench::default())));
            of_rolls = false;
            continue;
        }
        let Some((_, bench)) = &mut bench else { continue };
        if let Some((_, kerf)) = first.split_once("Kerf: ") {
            let (kerf, rest) = kerf.split_once(". End trim: ").unwrap();
            (bench.kerf, bench.trim) = (one(kerf), one(rest.split_once(". ").unwrap().0));
        } else if first == "Unit" || first == "Pieces per bar" {
            of_rolls = first == "Unit";
        } else if let Some((_, pattern)) =
            first.strip_prefix("Pattern ").and_then(|text| text.split_once(": "))
        {
            let (bars, rest) = pattern.split_once(' ').unwrap();
            let rest = rest.split_once(" of ").map_or(rest, |(_, rest)| rest);
            let stock = one(rest.trim_start_matches("x ").split_once(", ").unwrap().0);
            assert!(bench.bar.is_none(), "{who}");
            bench.bar = Some((bars.parse().unwrap(), stock - trimmed(rest, bench.trim, &who)));
        } else if let Some((roll, rest)) =
            first.split_once(" of ").filter(|(_, rest)| of_rolls && rest.contains(": "))
        {
            let roll = roll.rsplit_once(' ').unwrap().1.parse().unwrap();
            let stock = rest.split_once(": ").unwrap().1;
            let left = one(stock.split_once(", ").unwrap().0) - trimmed(stock, bench.trim, &who);
            assert_eq!((bench.rolls.insert(roll, left), bench.roll.replace(roll)), (None, None), "{who}");
        } else if let Some(rest) = first.strip_prefix("Rest of roll ") {
            let (roll, left) = rest.split_once(", ").unwrap();
            let roll = roll.parse().unwrap();
            assert_eq!(format!("{}.", bench.rolls[&roll].shown(units)), left, "{who}");
            assert_eq!(bench.roll.replace(roll), None, "{who}");
        } else if ["Left over", "Nothing is left", "Set the rest"]
            .iter()
            .any(|begins| first.starts_with(begins))
        {
            bench.put_down(first, run, &who);
        } else if of_rolls && !cells[3].is_empty() {
            bench.cut_roll(&cells, number(sheet, row, 4, units), &who);
        } else if let Some((bars, mut left)) = bench.bar {
            // A name that is printed again on the next page is no cut.
            let Ok(pieces) = first.parse::<u64>() else { continue };
            let stop = number(sheet, row, 1, units);
            for _ in 0..pieces {
                bench.take(&mut left, stop, &who);
            }
            bench.bar = Some((bars, left));
            let lines = if units == Units::Inches { &cells[4] } else { &cells[3] };
            let mut all = 0;
            for of_line in lines.split(", ") {
                let (count, line) = of_line.split_once(" x ").unwrap();
                let (count, line) = (count.parse::<u64>().unwrap(), line.strip_prefix("line "));
                let line = line.map(|line| line.parse().unwrap());
                *bench.pieces.entry((stop, line)).or_default() += count;
                all += count;
            }
            assert_eq!(all, pieces * bars, "{who}");
        }
    }
    benches.extend(bench);
    benches
}

/// What the raw end loses first, as the row says.
fn trimmed(text: &str, trim: Length, who: &str) -> Length {
    match text.split_once("Trim the raw end ") {
        Some((_, said)) => assert_eq!(one(said.trim_end_matches('.')), trim, "{who}"),
        None => assert_eq!(trim, Length::ZERO, "{who}"),
    }
    trim
}

/// The name of a demand's block.
fn name(demand: &Demand) -> String {
    match &*demand.color {
        "" => demand.material.to_string(),
        color => format!("{}, {color}", demand.material),
    }
}

#[test]
fn who_cuts_what_is_printed_has_the_pieces_of_the_order_and_the_offcuts_listed() {
    for run in RUNS.iter() {
        let mut benches = cut(run);
        let demands =
            demand(&run.report.order, &run.report.spares, run.report.survey, run.report.rules).unwrap();
        let mut kept: BTreeMap<(String, Length), u64> = BTreeMap::new();
        for demand in &demands {
            let name = name(demand);
            let bench = benches.remove(&name).unwrap_or_else(|| panic!("{}: no {name}", run.name));
            let mut needed: BTreeMap<Kind, u64> = BTreeMap::new();
            for (piece, count) in &demand.pieces {
                *needed.entry((piece.length, piece.line)).or_default() += count;
            }
            assert_eq!(bench.pieces, needed, "{}, {name}", run.name);
            assert!(
                bench.bar.is_none() && bench.roll.is_none() && bench.on_to.is_none(),
                "{}, {name}",
                run.name
            );
            blinds(run, demand, &bench);
            for (length, count) in bench.kept {
                *kept.entry((name.clone(), length)).or_default() += count;
            }
        }
        assert!(benches.is_empty(), "{}: {:?}", run.name, benches.keys());
        let mut listed: BTreeMap<(String, Length), u64> = BTreeMap::new();
        for row in run.list("offcuts").iter().filter(|row| row["from"] == "kept") {
            let material = row["material"].as_str().unwrap();
            let name =
                row["color"].as_str().map_or(material.to_owned(), |color| format!("{material}, {color}"));
            *listed.entry((name, length(&row["length_mm"]))).or_default() +=
                row["quantity"].as_u64().unwrap();
        }
        assert_eq!(kept, listed, "{}", run.name);
    }
}

/// Every blind has its pieces, from one roll or two neighbors, and as many are torn as is said.
fn blinds(run: &Run, demand: &Demand, bench: &Bench) {
    if bench.rolls.is_empty() {
        return;
    }
    let mut wanted: BTreeMap<(String, String), u64> = BTreeMap::new();
    let mut longest = BTreeMap::new();
    for blind in &demand.blinds {
        let who = &run.report.survey.openings[blind.blind.opening].who;
        let opening = match who.quantity {
            1 => who.written.to_string(),
            all => format!("{}, {} of {all}", who.written, blind.blind.number),
        };
        let key = (who.shown_unit().to_owned(), opening);
        let taken: Length =
            blind.pieces.iter().map(|(piece, count)| piece.length * count.cast_signed()).sum();
        *wanted.entry(key.clone()).or_default() += blind.pieces.iter().map(|(_, count)| count).sum::<u64>();
        longest.insert(key, taken);
    }
    let done: BTreeMap<_, u64> =
        bench.blinds.iter().map(|(blind, (done, _))| (blind.clone(), *done)).collect();
    assert_eq!(done, wanted, "{}, {}", run.name, name(demand));
    let roll = demand.bars.iter().map(|bar| bar.length).max().unwrap() - demand.saw.trim * 2;
    let mut torn = 0;
    for (blind, (_, rolls)) in &bench.blinds {
        let neighbors = rolls.windows(2).all(|pair| pair[1] == pair[0] + 1);
        let few = rolls.len() <= 2 || longest[blind] > roll;
        assert!(neighbors && few, "{}, {}: {blind:?} {rolls:?}", run.name, name(demand));
        torn += u64::from(rolls.len() > 1);
    }
    let plans = run.report.cuts.plans.iter();
    let plan = plans.filter(|plan| (&plan.material, &plan.color) == (&demand.material, &demand.color));
    assert_eq!(plan.map(|plan| plan.torn).next(), Some(Some(torn)), "{}, {}", run.name, name(demand));
}
