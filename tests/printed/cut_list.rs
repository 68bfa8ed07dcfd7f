//! `Cut list`: its head, and of each material its patterns and its cuts.

use std::collections::BTreeMap;

use serde_json::Value;

use super::{RUNS, Run, in_units, length};
use crate::support::package::Sheet;
use sillbook::length::{Length, Units};
use sillbook::rules::CostBasis;

/// Texts of a row, blank where there is none.
fn texts(sheet: &Sheet, row: u32) -> Vec<String> {
    (0..7)
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

/// The ways in which a length that is not of the tape may be said: stock, kerf and trim.
fn exactly(run: &Run, value: &Value) -> Vec<String> {
    let value = length(value);
    let meters = format!("{} m", value.nm() as f64 / 1e9);
    let feet = format!("{} ft ({meters})", (value.nm() as f64 / 304_800_000.0).floor());
    let both = format!("{} ({})", value.show(Units::Millimeters), value.shown(run.units()));
    vec![
        value.show(Units::Millimeters),
        value.show(run.units()),
        value.on_tape(run.units()),
        meters,
        feet,
        both,
    ]
}

/// Whether what is left of a pattern's bars is kept.
fn is_kept(run: &Run, place: usize, pattern: &Value) -> bool {
    let plan = &run.report.cuts.plans[place];
    let offcut = length(&pattern["offcut_mm"]);
    offcut > plan.trim * 2 && offcut >= plan.least_useful
}

fn patterns(plan: &Value) -> &[Value] {
    plan["patterns"].as_array().unwrap()
}

fn bars(pattern: &Value) -> i64 {
    pattern["bars"].as_i64().unwrap()
}

/// So many stock lengths of a plan's material.
fn many(plan: &Value, count: &str) -> String {
    format!("{count} {}{}", plan["stock_name"].as_str().unwrap(), if count == "1" { "" } else { "s" })
}

/// Whether a text says what is bought: a count for each length of new bar, and nothing else.
fn buys(run: &Run, plan: &Value, text: &str) -> bool {
    let new = || patterns(plan).iter().filter(|pattern| pattern["from"] == "bar");
    let mut bought: Vec<(&str, &str)> = text
        .split(", ")
        .filter(|part| *part != "none")
        .map(|part| part.split_once(" of ").unwrap())
        .collect();
    for pattern in new() {
        let alike = new().filter(|other| other["stock_mm"] == pattern["stock_mm"]);
        let (count, stock) = (alike.map(bars).sum::<i64>().to_string(), exactly(run, &pattern["stock_mm"]));
        let count = many(plan, &count);
        if !text.split(", ").any(|part| stock.iter().any(|stock| part == format!("{count} of {stock}"))) {
            return false;
        }
        bought.retain(|(_, length)| !stock.iter().any(|stock| stock == length));
    }
    bought.is_empty()
}

fn at_least(run: &Run, plan: &Value) -> String {
    let currency = run.document["project"]["currency"].as_str().unwrap();
    let proven = if plan["proven"] == true { "proven" } else { "not proven" };
    match (plan["at_least"].as_u64(), plan["cost_at_least"].as_str()) {
        (Some(bars), _) => format!("{bars} ({proven})"),
        (None, Some(cost)) => format!("{cost} {currency} ({proven})"),
        (None, None) => "unknown".to_owned(),
    }
}

#[test]
fn the_head_of_the_cut_list_shows_each_plan() {
    for run in RUNS.iter() {
        let sheet = &run.package.sheets["Cut list"];
        let mut row = row_of(run, "Material");
        // The names stand over the narrow columns of the cuts.
        let shown = |row: u32| [0, 3, 4, 5].map(|column| texts(sheet, row)[column].clone());
        assert_eq!(shown(row), ["Material", "Pieces", "New stock", "At least"]);
        for plan in run.list("cuts") {
            row += 1;
            let found = shown(row);
            assert_eq!(found[0], name(plan), "{}", run.name);
            assert_eq!(found[1], plan["pieces"].to_string(), "{}: {}", run.name, found[0]);
            assert!(buys(run, plan, &found[2]), "{}: {found:?}", run.name);
            assert_eq!(found[3], at_least(run, plan), "{}: {}", run.name, found[0]);
        }
        assert_eq!(shown(row + 1)[1], "", "{}: a plan more than there are", run.name);
    }
}

#[test]
fn every_pattern_and_every_cut_stands_under_its_heading() {
    for run in RUNS.iter() {
        for (place, plan) in run.list("cuts").iter().enumerate() {
            block(run, place, plan);
        }
    }
}

/// What a sentence says between two of its words.
fn between<'t>(text: &'t str, before: &str, after: &str) -> &'t str {
    let from = text.find(before).unwrap_or_else(|| panic!("no {before:?} in {text}")) + before.len();
    text[from..].split_once(after).unwrap_or_else(|| panic!("no {after:?} in {text}")).0
}

/// The sentences at the head of a block, in as many rows as they take; gives the row below them.
fn head(run: &Run, place: usize, plan: &Value, mut row: u32) -> u32 {
    let sheet = &run.package.sheets["Cut list"];
    let mut text = String::new();
    let first = if plan["cut_in"] == "blinds" { "Unit" } else { "Pieces per bar" };
    while texts(sheet, row)[0] != first {
        text += &format!("{} ", texts(sheet, row)[0]);
        row += 1;
    }
    let who = format!("{}, {}: {text}", run.name, name(plan));
    // Nobody buys bars where blinds are bought.
    let stock = match run.report.rules.project.cost_basis {
        CostBasis::Make => "To buy: ",
        CostBasis::Buy => {
            "FOR THE MAKER - inside the price of the blinds, nothing here is bought. New stock: "
        }
    };
    assert!(text.starts_with(stock), "{who}");
    assert!(buys(run, plan, between(&text, stock, ". ")), "{who}");
    if let Some(torn) = plan["torn"].as_u64() {
        assert!(text.contains(&format!(" {}", in_words_torn(plan, torn))), "{who}");
    } else {
        assert!(!text.contains("torn"), "{who}");
    }
    for (words, key) in [("Kerf: ", "kerf_mm"), ("End trim: ", "trim_mm")] {
        let said = between(&text, words, ". ");
        assert!(exactly(run, &plan[key]).iter().any(|wanted| wanted == said), "{who}");
    }
    let used: f64 = between(&text, "Used: ", " %").parse().unwrap();
    assert!((used - plan["used_share"].as_f64().unwrap() * 100.0).abs() < 0.051, "{who}");
    let ends = |wanted: &dyn Fn(&Value) -> bool| {
        let ends = || patterns(plan).iter().filter(|pattern| wanted(pattern));
        let total = ends().fold(Length::ZERO, |sum, end| sum + length(&end["offcut_mm"]) * bars(end));
        match ends().map(bars).sum::<i64>() {
            0 => "none".to_owned(),
            count => format!("{count}, total {}", words(run, total)),
        }
    };
    let kept = ends(&|pattern| is_kept(run, place, pattern));
    let scrapped = ends(&|pattern| pattern["offcut_mm"] != 0 && !is_kept(run, place, pattern));
    assert_eq!(between(&text, " or longer: ", ". Scrapped"), kept, "{who}");
    assert_eq!(between(&text, "Scrapped: ", ". "), scrapped, "{who}");
    // How good the plan is; a gap is said in bars or in money.
    let bound = text[stock.len()..].split_once(". ").unwrap().1.split_once(" Kerf: ").unwrap().0;
    let wanted = match (&plan["at_least"], &plan["cost_at_least"], plan["proven"] == true) {
        (Value::Number(_), _, true) => "No plan needs fewer (proven).".to_owned(),
        (Value::Null, Value::String(_), true) => "No plan costs less (proven).".to_owned(),
        (Value::Null, Value::Null, _) => {
            "The fewest bars are not known until each length has a price.".to_owned()
        }
        (Value::Number(least), _, false) => {
            format!("At least {least} are needed; this plan may use {} more than that", plan["gap_bars"])
        }
        (_, least, false) => {
            let [least, gap] = [least, &plan["gap_cost"]].map(|value| value.as_str().unwrap());
            let currency = run.document["project"]["currency"].as_str().unwrap();
            format!("At least {least} {currency} is needed; this plan may cost {gap} {currency} more")
        }
        (_, _, true) => unreachable!("a bound that is not known is not proven"),
    };
    assert!(bound.starts_with(&wanted), "{who}: {wanted}");
    row
}

/// `10 rolls, none torn; 8 would tear 6.`
fn in_words_torn(plan: &Value, torn: u64) -> String {
    let count = |from: &str| -> i64 {
        patterns(plan).iter().filter(|pattern| pattern["from"] == from).map(bars).sum()
    };
    let on_hand = match count("offcut") {
        0 => String::new(),
        on_hand => format!(" and {on_hand} on hand"),
    };
    let torn = match torn {
        0 => "none torn".to_owned(),
        1 => "1 blind torn".to_owned(),
        torn => format!("{torn} blinds torn"),
    };
    let fewest = match plan["fewest_rolls"].as_u64() {
        Some(rolls) => format!("; {rolls} would tear {}", plan["fewest_torn"]),
        None => String::new(),
    };
    format!("{}{on_hand}, {torn}{fewest}.", many(plan, &count("bar").to_string()))
}

/// Whether a row shows a length in that column, as a number.
fn shows(sheet: &Sheet, at: (u32, u32), wanted: Length, units: Units) -> bool {
    let wanted = in_units(wanted.nm() as f64 / 1e6, units);
    let cell = sheet.cells.get(&at).filter(|cell| !cell.is_text);
    cell.and_then(|cell| cell.text.parse::<f64>().ok()).is_some_and(|found| (found - wanted).abs() < 1e-6)
}

/// One material: its headings, its patterns, and the cuts of each.
fn block(run: &Run, place: usize, plan: &Value) {
    let sheet = &run.package.sheets["Cut list"];
    let mut row = row_of(run, &format!("{}: {} pieces", name(plan), plan["pieces"])) + 1;
    row = head(run, place, plan, row);
    if plan["cut_in"] == "blinds" {
        return rolls(run, plan, row);
    }
    headings(run, row);
    row += 1;
    // Entries of one number, which the sheet shows as one pattern, stand together.
    let known = &run.report.cuts.plans[place].patterns;
    let numbered: Vec<(usize, &Value)> =
        known.iter().map(|pattern| pattern.number).zip(patterns(plan)).collect();
    let mut first = 0;
    for alike in numbered.chunk_by(|one, other| one.0 == other.0) {
        let entries: Vec<&Value> = alike.iter().map(|(_, pattern)| *pattern).collect();
        let parts = &known[first..first + entries.len()];
        first += entries.len();
        // A block that goes on comes with its name and headings again.
        let skip = |row: &mut u32| {
            if texts(sheet, *row)[0].ends_with("(continued)") {
                headings(run, *row + 1);
                *row += 2;
            }
        };
        skip(&mut row);
        let pattern = entries[0];
        let who = format!("{}, {}, pattern {}, row {}", run.name, name(plan), alike[0].0, row + 1);
        assert!(entries.iter().all(|entry| entry["pieces_mm"] == pattern["pieces_mm"]), "{who}");
        let found = texts(sheet, row)[0].clone();
        let count: i64 = entries.iter().map(|entry| bars(entry)).sum();
        let is_new = pattern["from"] == "bar";
        let of = if is_new { format!("{} of", many(plan, &count.to_string())) } else { format!("{count} x") };
        let from = if is_new { "new" } else { "offcut on hand" };
        let begins = exactly(run, &pattern["stock_mm"])
            .into_iter()
            .map(|stock| format!("Pattern {}: {of} {stock}, {from}.", alike[0].0))
            .find(|begins| found.starts_with(begins))
            .unwrap_or_else(|| panic!("{who}: {found}"));
        let trims =
            exactly(run, &plan["trim_mm"]).into_iter().map(|trim| format!(" Trim the raw end {trim}."));
        let rest = &found[begins.len()..];
        let is_trimmed = plan["trim_mm"] != 0;
        assert!(
            if is_trimmed { trims.into_iter().any(|trim| rest == trim) } else { rest.is_empty() },
            "{who}"
        );
        row += 1;
        // A row of its own holds the bar to scale.
        if sheet.pictures.iter().any(|hung| hung.at == (row, 0)) {
            row += 1;
        }
        let pieces = pattern["pieces_mm"].as_array().unwrap();
        let mut at = 0;
        for equal in pieces.chunk_by(|one, other| one == other) {
            skip(&mut row);
            cut(run, &entries, parts, (at, at + equal.len()), row);
            at += equal.len();
            row += 1;
        }
        skip(&mut row);
        let left = words(run, length(&pattern["offcut_mm"]));
        let each = plan["stock_name"].as_str().unwrap();
        let wanted = match pattern["offcut_mm"].as_f64().unwrap() {
            0.0 => "Nothing is left over.".to_owned(),
            _ if is_kept(run, place, pattern) => format!("Left over from each {each}: {left}. Keep it."),
            _ => format!("Left over from each {each}: {left}. Scrap it."),
        };
        assert_eq!(texts(sheet, row)[0], wanted, "{who}");
        row += 1;
    }
    let below = texts(sheet, row)[0].clone();
    assert!(!below.starts_with("Pattern "), "{}, {}: {below}", run.name, name(plan));
}

/// The row of equal pieces: those from one place on a bar to another.
fn cut(
    run: &Run,
    entries: &[&Value],
    parts: &[sillbook::cutting::Pattern],
    (from, to): (usize, usize),
    row: u32,
) {
    let (sheet, units) = (&run.package.sheets["Cut list"], run.units());
    let found = texts(sheet, row);
    let who = format!("{}, row {}: {found:?}", run.name, row + 1);
    assert_eq!(found[0], (to - from).to_string(), "{who}");
    let stop = length(&entries[0]["pieces_mm"][from]);
    assert!(shows(sheet, (row, 1), stop, units), "{who}");
    // Without the fraction the order lines stand over two columns.
    let (mut column, mut after_lines) = (2, 2);
    if units == Units::Inches {
        assert!(shows(sheet, (row, 2), stop, units), "{who}");
        (column, after_lines) = (3, 1);
    }
    after_lines += column + 1;
    let mut part_words: Vec<&str> = Vec::new();
    for piece in parts.iter().flat_map(|entry| &entry.pieces[from..to]) {
        if !part_words.contains(&piece.part.word()) {
            part_words.push(piece.part.word());
        }
    }
    assert_eq!(found[column], part_words.join(", "), "{who}");
    // Pieces of all bars by order line, spares behind.
    let mut by_line = std::collections::BTreeMap::new();
    for entry in entries {
        for line in &entry["lines"].as_array().unwrap()[from..to] {
            *by_line.entry(line.as_u64().unwrap_or(u64::MAX)).or_insert(0) += bars(entry);
        }
    }
    let wanted: Vec<String> = by_line
        .iter()
        .map(|(line, count)| match *line {
            u64::MAX => format!("{count} x spare"),
            line => format!("{count} x line {line}"),
        })
        .collect();
    assert_eq!(found[column + 1], wanted.join(", "), "{who}");
    let openings: Vec<&str> = by_line
        .keys()
        .filter(|line| **line != u64::MAX)
        .flat_map(|line| run.list("order").iter().filter(move |order| order["line"].as_u64() == Some(*line)))
        .flat_map(|line| line["openings"].as_array().unwrap())
        .map(|name| name.as_str().unwrap())
        .collect();
    let wanted = match openings.len() {
        0..=2 => openings.join(", "),
        all => format!("{} and {} more", openings[..2].join(", "), all - 2),
    };
    assert_eq!(found[after_lines], wanted, "{who}");
    assert_eq!(found.get(after_lines + 1).map_or("", String::as_str), "", "{who}");
}

/// The headings of a block.
fn headings(run: &Run, row: u32) {
    let sheet = &run.package.sheets["Cut list"];
    let wanted: Vec<&str> = match run.units() {
        Units::Inches => vec![
            "Pieces per bar",
            "Stop, decimal (in)",
            "Stop, fraction (in)",
            "Part",
            "All pieces, by order line",
            "For",
            "Done",
        ],
        Units::Millimeters => {
            vec![
                "Pieces per bar",
                "Stop, decimal (mm)",
                "Part",
                "All pieces, by order line",
                "",
                "For",
                "Done",
            ]
        }
    };
    assert_eq!(texts(sheet, row), wanted, "{}, row {}", run.name, row + 1);
}

/// A material that is cut blind by blind: its rolls, and on each a row for each run of equal pieces of a
/// blind. A roll that is taken up again stands further down.
fn rolls(run: &Run, plan: &Value, mut row: u32) {
    let (sheet, units) = (&run.package.sheets["Cut list"], run.units());
    let mut found: BTreeMap<usize, Vec<u32>> = BTreeMap::new();
    let mut roll = 0;
    let named = |text: &str, before: &str| -> Option<usize> {
        text.strip_prefix(before)?.split([' ', ',']).next()?.parse().ok()
    };
    let name = plan["stock_name"].as_str().unwrap();
    let first_of = format!("{}{} ", name[..1].to_uppercase(), &name[1..]);
    let title = format!("{} pieces (continued)", plan["pieces"]);
    loop {
        let shown = texts(sheet, row);
        let text = &*shown[0];
        let pattern = |roll: usize| &patterns(plan)[roll - 1];
        if let Some(next) = named(text, &first_of) {
            assert_eq!(next, found.len() + 1, "{}: {text}", run.name);
            let (stock, is_new) = (exactly(run, &pattern(next)["stock_mm"]), pattern(next)["from"] == "bar");
            let from = if is_new { "new" } else { "on hand" };
            let all = patterns(plan).len();
            let begins = stock.iter().map(|stock| format!("{first_of}{next} of {all}: {stock}, {from}."));
            assert!(begins.into_iter().any(|begins| text.starts_with(&begins)), "{}: {text}", run.name);
            roll = next;
            found.insert(next, Vec::new());
        } else if let Some(again) = named(text, &format!("Rest of {name} ")) {
            assert!(found.contains_key(&again), "{}: {text}", run.name);
            roll = again;
        } else if text == "Unit" {
            let length = format!("Cut length ({})", units.symbol());
            assert_eq!(
                shown,
                ["Unit", "Opening", "Line", "Pieces", &*length, "Then", "Done"],
                "{}, row {}",
                run.name,
                row + 1
            );
        } else if shown[3].is_empty() {
            let is_rest = ["Set the rest aside", "Left over", "Nothing is left over."];
            if !is_rest.iter().any(|begins| text.starts_with(begins)) && !text.ends_with(&title) {
                break;
            }
        } else {
            found.get_mut(&roll).unwrap().push(row);
        }
        row += 1;
    }
    for (roll, rows) in &found {
        let pattern = &patterns(plan)[roll - 1];
        let keys = ["openings", "blinds", "lines", "pieces_mm"].map(|key| pattern[key].as_array().unwrap());
        let place = |at: usize| keys.map(|list| list[at].clone());
        let pieces: Vec<_> = (0..keys[3].len()).map(place).collect();
        let runs: Vec<&[_]> = pieces.chunk_by(|one, other| one == other).collect();
        assert_eq!(runs.len(), rows.len(), "{}, {} {roll}", run.name, plan["material"]);
        for (equal, &row) in runs.iter().zip(rows) {
            let ([opening, number, line, cut], shown) = (&equal[0], texts(sheet, row));
            let who = format!("{}, row {}: {shown:?}", run.name, row + 1);
            let (unit, blind) = match opening.as_str() {
                None => (String::new(), "spare".to_owned()),
                Some(_) => {
                    let known = run.opening(opening);
                    let unit = known["unit"].as_str().unwrap();
                    let id = known["opening"].as_str().unwrap_or_default();
                    let many = known["quantity"].as_u64().unwrap();
                    let blind = match many {
                        1 => id.to_owned(),
                        many => format!("{id}, {number} of {many}"),
                    };
                    (if unit.is_empty() { "No unit".to_owned() } else { unit.to_owned() }, blind)
                }
            };
            assert_eq!((&shown[0], &shown[1]), (&unit, &blind), "{who}");
            assert_eq!(shown[2], line.as_u64().map_or(String::new(), |line| line.to_string()), "{who}");
            assert_eq!(shown[3], equal.len().to_string(), "{who}");
            assert!(shows(sheet, (row, 4), length(cut), units), "{who}");
            assert_eq!(shown[6], "", "{who}");
        }
    }
    assert_eq!(found.len(), patterns(plan).len(), "{}, {}", run.name, plan["material"]);
}
