//! `Cut list`: its head, and of each material its patterns and its cuts.

use serde_json::{Value, json};

use super::{RUNS, Run, in_units, length};
use crate::support::package::Sheet;
use sillbook::length::{Length, Units};

/// Columns of a row of cuts; above a cut's figures stand its pattern's.
const STOPS: std::ops::Range<u32> = 4..10;
const LAST: u32 = 11;

/// A row's texts, blank where there is none.
fn texts(sheet: &Sheet, row: u32) -> Vec<String> {
    (0..=LAST)
        .map(|column| sheet.cells.get(&(row, column)).map_or_else(String::new, |cell| cell.text.clone()))
        .collect()
}

/// The row whose first cell says that.
fn row_of(run: &Run, text: &str) -> u32 {
    let cells = &run.package.sheets["Cut list"].cells;
    let found = cells.iter().find(|(at, cell)| at.1 == 0 && cell.text == text);
    found.unwrap_or_else(|| panic!("{}: no {text:?}", run.name)).0.0
}

/// Material, color and phase.
fn name(plan: &Value) -> String {
    let parts = ["material", "color", "phase"].map(|key| plan[key].as_str().unwrap_or_default());
    let named = |(place, part): (usize, &&str)| match (place, *part) {
        (_, "") => None,
        (2, phase) => Some(format!("phase {phase}")),
        (_, part) => Some(part.to_owned()),
    };
    parts.iter().enumerate().filter_map(named).collect::<Vec<_>>().join(", ")
}

/// A length in a sentence, in the run's units.
fn words(run: &Run, value: Length) -> String {
    value.shown(run.units()).to_string()
}

/// The same as a figure, its unit left out.
fn figure(run: &Run, value: &Value) -> String {
    let words = words(run, length(value));
    words.strip_suffix(run.units().symbol()).unwrap().trim_end().to_owned()
}

/// Whether what is left of a pattern's bars is kept.
fn is_kept(run: &Run, place: usize, pattern: &Value) -> bool {
    let plan = &run.report.cuts.plans[place];
    let offcut = length(&pattern["offcut_mm"]);
    offcut > plan.trim * 2 && offcut >= plan.least_useful
}

#[test]
fn the_head_of_the_cut_list_shows_each_plan() {
    for run in RUNS.iter() {
        let sheet = &run.package.sheets["Cut list"];
        let mut row = row_of(run, "Material");
        let headings = texts(sheet, row);
        assert_eq!(
            [0, 3, 4, 6, 7, 9, 10].map(|column| headings[column].as_str()),
            ["Material", "Pieces", "Bars to buy", "Used", "At least", "Proven", "Offcuts kept"]
        );
        for (place, plan) in run.list("cuts").iter().enumerate() {
            row += 1;
            let found = texts(sheet, row);
            let patterns = || plan["patterns"].as_array().unwrap().iter();
            let bars = |pattern: &Value| pattern["bars"].as_i64().unwrap();
            let kept = || patterns().filter(|pattern| is_kept(run, place, pattern));
            let kept_count: i64 = kept().map(bars).sum();
            let kept_length =
                kept().fold(Length::ZERO, |sum, pattern| sum + length(&pattern["offcut_mm"]) * bars(pattern));
            let kept = match kept_count {
                0 => "none".to_owned(),
                count => format!("{count}, {}", words(run, kept_length)),
            };
            let currency = run.document["project"]["currency"].as_str().unwrap();
            let at_least = match (plan["at_least"].as_u64(), plan["cost_at_least"].as_str()) {
                (Some(1), _) => "1 bar".to_owned(),
                (Some(bars), _) => format!("{bars} bars"),
                (None, Some(cost)) => format!("{cost} {currency}"),
                (None, None) => "unknown".to_owned(),
            };
            let proven = if plan["proven"] == true { "yes" } else { "no" };
            assert_eq!(found[0], name(plan), "{}", run.name);
            assert_eq!(found[3], plan["pieces"].to_string(), "{}: {}", run.name, found[0]);
            let used = (found[6].parse::<f64>().unwrap() - plan["used_share"].as_f64().unwrap()).abs();
            assert!(used < 0.000_051, "{}: {}", run.name, found[0]);
            assert_eq!(
                [&found[7], &found[9], &found[10]],
                [&at_least, proven, &kept],
                "{}: {}",
                run.name,
                found[0]
            );
            // `14 of 5800 mm, 2 of 2900 mm`: new bars of each length.
            let of_length = |stock: &Value| -> i64 {
                let new =
                    patterns().filter(|pattern| pattern["from"] == "bar" && pattern["stock_mm"] == *stock);
                new.map(bars).sum()
            };
            let bought: i64 =
                found[4].split(", ").filter_map(|part| part.split(' ').next()?.parse::<i64>().ok()).sum();
            assert_eq!(bought, plan["bars"].as_i64().unwrap(), "{}: {}", run.name, found[0]);
            for part in patterns().filter(|pattern| pattern["from"] == "bar") {
                let count = format!("{} of ", of_length(&part["stock_mm"]));
                assert!(found[4].contains(&count), "{}: {} for {count}", run.name, found[4]);
            }
        }
        assert_eq!(texts(sheet, row + 1)[3], "", "{}: a plan more than there are", run.name);
    }
}

/// Pieces in runs of equal ones for one line: how many, how long, for which line.
fn runs(
    pattern: &Value,
    part_of: impl Fn(usize) -> &'static str,
) -> Vec<(usize, &Value, &Value, &'static str)> {
    let (pieces, lines) = (pattern["pieces_mm"].as_array().unwrap(), pattern["lines"].as_array().unwrap());
    let all: Vec<_> = pieces
        .iter()
        .zip(lines)
        .enumerate()
        .map(|(place, (piece, line))| (piece, line, part_of(place)))
        .collect();
    all.chunk_by(|one, other| one == other).map(|run| (run.len(), run[0].0, run[0].1, run[0].2)).collect()
}

/// Whether a row shows a length in that column, as a number.
fn shows(sheet: &Sheet, at: (u32, u32), wanted: Length, units: Units) -> bool {
    let wanted = in_units(wanted.nm() as f64 / 1e6, units);
    let cell = sheet.cells.get(&at).filter(|cell| !cell.is_text);
    cell.and_then(|cell| cell.text.parse::<f64>().ok()).is_some_and(|found| (found - wanted).abs() < 1e-6)
}

#[test]
fn every_pattern_and_every_cut_stands_under_its_heading() {
    for run in RUNS.iter() {
        for (place, plan) in run.list("cuts").iter().enumerate() {
            block(run, place, plan);
        }
    }
}

/// One material: its headings, its patterns, and the cuts of each.
fn block(run: &Run, place: usize, plan: &Value) {
    let (sheet, units) = (&run.package.sheets["Cut list"], run.units());
    let title = sheet.cells.iter().find(|(at, cell)| {
        at.1 == 0 && cell.text.starts_with(&format!("{}: {} pieces; ", name(plan), plan["pieces"]))
    });
    let (&(mut row, _), title) = title.unwrap_or_else(|| panic!("{}: no block of {}", run.name, name(plan)));
    let says = |key: &str| {
        title.text.split([';', ',', ':']).any(|part| {
            let value = length(&plan[key]);
            let shown = [words(run, value), value.show(Units::Millimeters), value.show(units)];
            let begins = if key == "kerf_mm" { " a cut takes " } else { " end trim " };
            part.strip_prefix(begins).is_some_and(|rest| {
                shown.iter().any(|shown| rest == shown) || (value == Length::ZERO && rest == "nothing")
            })
        })
    };
    assert!(says("kerf_mm") && says("trim_mm"), "{}: {}", run.name, title.text);
    row += 1;
    headings(run, row);
    row += 2;
    for (at, pattern) in plan["patterns"].as_array().unwrap().iter().enumerate() {
        // A block that goes on comes with its name and headings again.
        let mut skip = |row: &mut u32| {
            if sheet.cells.get(&(*row, 0)).is_some_and(|cell| cell.text.ends_with("(goes on)")) {
                headings(run, *row + 1);
                *row += 3;
            }
        };
        skip(&mut row);
        let known = &run.report.cuts.plans[place].patterns[at];
        let found = texts(sheet, row);
        let lengths = runs(pattern, |_| "");
        let mut merged: Vec<(usize, &Value)> = Vec::new();
        for (count, piece, _, _) in &lengths {
            match merged.last_mut().filter(|last| last.1 == *piece) {
                Some(last) => last.0 += count,
                None => merged.push((*count, piece)),
            }
        }
        let pieces = merged.iter().map(|(count, piece)| match count {
            1 => figure(run, piece),
            _ => format!("{count} x {}", figure(run, piece)),
        });
        let from = if pattern["from"] == "bar" { "new" } else { "offcut" };
        let end = match pattern["offcut_mm"].as_f64().unwrap() {
            0.0 => "none",
            _ if is_kept(run, place, pattern) => "keep",
            _ => "scrap",
        };
        let who = format!("{}, {}, pattern {}, row {}", run.name, name(plan), known.number, row + 1);
        assert_eq!(found[0], known.number.to_string(), "{who}");
        assert_eq!(found[1], pattern["bars"].to_string(), "{who}");
        assert!(shows(sheet, (row, 2), length(&pattern["stock_mm"]), units), "{who}");
        assert_eq!(found[3], from, "{who}");
        assert_eq!(found[4], pieces.collect::<Vec<_>>().join(" + "), "{who}");
        assert!(shows(sheet, (row, 10), length(&pattern["offcut_mm"]), units), "{who}");
        assert_eq!(found[11], end, "{who}");
        row += 1;
        // A row of its own holds the bar to scale.
        if sheet.pictures.iter().any(|hung| hung.at == (row, 0)) {
            row += 1;
        }
        row = cuts(run, plan, pattern, |piece| known.pieces[piece].part.word(), row, &mut skip);
    }
    let foot = &sheet.cells[&(row, 0)].text;
    assert!(foot.starts_with("Bars to buy: "), "{}, {}: {foot}", run.name, name(plan));
}

/// The cuts of one bar, from their row on; gives the row below them.
fn cuts(
    run: &Run,
    plan: &Value,
    pattern: &Value,
    part_of: impl Fn(usize) -> &'static str,
    mut row: u32,
    skip: &mut impl FnMut(&mut u32),
) -> u32 {
    let (sheet, units) = (&run.package.sheets["Cut list"], run.units());
    let stock = length(&pattern["stock_mm"]);
    let mut end = length(&plan["trim_mm"]);
    let mut cut = 0;
    let columns = if units == Units::Inches { 2 } else { 1 };
    let most = STOPS.len() / columns;
    for (count, piece, line, part) in runs(pattern, part_of) {
        let mut left = count;
        while left > 0 {
            skip(&mut row);
            let together = left.min(most);
            let (first, last) = (cut + 1, cut + together);
            let found = texts(sheet, row);
            let who = format!("{}, {}, row {}", run.name, name(plan), row + 1);
            let numbers = if first == last { first.to_string() } else { format!("{first} to {last}") };
            assert_eq!(found[0], numbers, "{who}");
            assert!(shows(sheet, (row, 1), length(piece), units), "{who}");
            assert_eq!(found[2], part, "{who}");
            assert_eq!(found[3], line.as_u64().map_or("spare".to_owned(), |line| line.to_string()), "{who}");
            for place in 0..most as u32 {
                // The same stop as a decimal number and as a fraction.
                let at =
                    (0..columns as u32).map(|column| (row, STOPS.start + place * columns as u32 + column));
                if (place as usize) < together {
                    end = end + length(piece);
                    at.for_each(|at| assert!(shows(sheet, at, end, units), "{who}, stop {place}: {found:?}"));
                    end = end + length(&plan["kerf_mm"]);
                } else {
                    at.for_each(|at| assert_eq!(found[at.1 as usize], "", "{who}"));
                }
            }
            let remaining = if end > stock { Length::ZERO } else { stock - end };
            assert!(shows(sheet, (row, 10), remaining, units), "{who}: {found:?}");
            assert_eq!(found[11], "", "{who}");
            (cut, left, row) = (last, left - together, row + 1);
        }
    }
    row
}

/// The two rows of headings of a block.
fn headings(run: &Run, row: u32) {
    let sheet = &run.package.sheets["Cut list"];
    let unit = run.units().symbol();
    let of_pattern = json!([
        "Pattern",
        "Bars",
        "Stock*",
        "From",
        "Pieces of one bar, in order*",
        "",
        "",
        "",
        "",
        "",
        "Offcut*",
        "Its end"
    ]);
    let [decimal, fraction] = ["Stop from raw end, decimal*", "Stop from raw end, fraction*"];
    let stops = match run.units() {
        Units::Inches => [decimal, fraction, decimal, fraction, decimal, fraction],
        Units::Millimeters => [decimal, "", "", "", "", ""],
    };
    let mut of_cuts = json!(["Cut", "Piece*", "Part", "Line"]);
    of_cuts.as_array_mut().unwrap().extend(stops.iter().map(|heading| json!(heading)));
    of_cuts.as_array_mut().unwrap().extend([json!("Remaining*"), json!("Done")]);
    for (row, wanted) in [(row, of_pattern), (row + 1, of_cuts)] {
        let wanted: Vec<String> = wanted
            .as_array()
            .unwrap()
            .iter()
            .map(|text| text.as_str().unwrap().replace('*', &format!(" ({unit})")))
            .collect();
        assert_eq!(texts(sheet, row), wanted, "{}, row {}", run.name, row + 1);
    }
}
