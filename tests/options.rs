//! Options: each comes to just what a survey of its own comes to, `--option` runs it, and the sheet shows
//! every figure of each in its place.

use std::collections::BTreeSet;
use std::io::Cursor;

use rust_decimal::Decimal;
use serde_json::{Value, json};
use sillbook::exchange::json as document;
use sillbook::pipeline::{self, RunError, Silent, Wanted};
use sillbook::query::Wording;
use sillbook::workbook::{Limits, write};

use crate::support::files::Folder;
use crate::support::package::{Package, Sheet};

/// Items of the project and cells of each opening, to be replaced by name.
struct Job {
    items: &'static [(&'static str, &'static str)],
    headings: &'static [&'static str],
    openings: &'static [&'static [&'static str]],
    more: &'static str,
}

/// Patio doors that stock sizes nearly cover, and windows inside and outside.
const FLATS: Job = Job {
    items: &[
        ("Project", "Quay House"),
        ("Units", "in"),
        ("Floors finished", "yes"),
        ("Order date", "2026-03-02"),
        ("Overhead %", "8"),
        ("Tax %", "8.25"),
        ("Stock sizes", "no"),
    ],
    headings: &[
        "Opening",
        "Unit",
        "Kind",
        "Quantity",
        "Width",
        "Height",
        "Sill height",
        "Recess depth",
        "Handle",
        "Substrate",
        "Product",
        "Color",
        "Mount",
        "Control",
    ],
    openings: &[
        &["D1", "1", "patio door", "3", "100", "78", "0", "0", "1", "wood", "", "", "", ""],
        &["D2", "1", "patio door", "1", "62", "78", "0", "0", "1", "wood", "", "", "outside", ""],
        &["W1", "2", "window", "2", "48", "50", "30", "6", "0", "wood", "", "cream", "", ""],
        &[
            "W2",
            "2",
            "window",
            "1",
            "48 1/4",
            "50",
            "30",
            "6",
            "0",
            "wood",
            "louver-127",
            "",
            "inside",
            "cord",
        ],
        &["W3", "3", "window", "1", "40", "x", "30", "6", "0", "wood", "", "", "", ""],
        &["W4", "3", "window", "5", "36", "48", "30", "3 1/4", "0", "", "", "", "", ""],
    ],
    more: "",
};

/// The same with a blind that is ordered.
const ORDERED: Job = Job {
    more: "
        [Blinds]
        What  | Line | Blind  | Unit | Opening | Id | Kind   | Source | Release | Product   | Color | Width | Drop   | Mount  | Draw | Control | State
        blind | 1    | 1 of 1 | 2    | W1      | W1 | window | made   | make    | louver-89 | cream | 47.5  | 49.5   | inside | left | wand    | ordered
",
    ..FLATS
};

/// What each choice has of its own.
const CHOICES: [&[(&str, &str)]; 10] = [
    &[("Cost basis", "make")],
    &[("Stock sizes", "yes"), ("Accept less cover", "1 1/2 in")],
    &[("Merge sizes", "1/2")],
    &[("Color", "cream"), ("Labor rate", "60")],
    &[("Mount", "outside")],
    &[("Product", "louver-127"), ("Control", "wand")],
    &[("Overhead %", "0"), ("Profit %", "12.5"), ("Tax on", "materials")],
    &[("Stock sizes", "yes"), ("Need by", "2026-03-05"), ("Order date", "2026-03-04")],
    &[],
    // A motor has no price.
    &[("Control", "motor")],
];

impl Job {
    /// The survey as text, with what one choice has in place of its own, and these choices listed.
    fn text(&self, own: &[(&str, &str)], choices: &[&[(&str, &str)]]) -> String {
        let mut text = "[Project]\n".to_owned();
        let item = |name: &str| own.iter().find(|(own, _)| *own == name).map(|(_, value)| *value);
        for (name, value) in self.items {
            text += &format!("{name} | {}\n", item(name).unwrap_or(value));
        }
        let is_here =
            |name: &str| self.items.iter().any(|(own, _)| *own == name) || self.headings.contains(&name);
        for (name, value) in own.iter().filter(|(name, _)| !is_here(name)) {
            text += &format!("{name} | {value}\n");
        }
        text += &format!("[Openings]\n{}\n", self.headings.join(" | "));
        for row in self.openings {
            // What is ordered stays what it is in every choice.
            let is_ordered = !self.more.is_empty() && row[..2] == ["W1", "2"];
            let own = |heading: &str| if is_ordered { None } else { item(heading) };
            let cells = self.headings.iter().zip(*row);
            let cells: Vec<&str> = cells.map(|(heading, cell)| own(heading).unwrap_or(cell)).collect();
            text += &format!("{}\n", cells.join(" | "));
        }
        text += self.more;
        if choices.is_empty() {
            return text;
        }
        let mut names: Vec<&str> = choices.iter().flat_map(|own| own.iter().map(|(name, _)| *name)).collect();
        names.sort_unstable();
        names.dedup();
        text += &format!("\n[Options]\nOption | Note | {}\n", names.join(" | "));
        for (place, own) in choices.iter().enumerate() {
            let cell = |name: &&str| own.iter().find(|(own, _)| own == name).map_or("", |(_, value)| *value);
            let cells: Vec<&str> = names.iter().map(cell).collect();
            text += &format!("Choice {place} | | {}\n", cells.join(" | "));
        }
        text
    }
}

fn run(survey: &str, option: Option<&str>) -> Result<Value, RunError> {
    let folder = Folder::new();
    let path = folder.survey("survey.xlsx", survey);
    let input = pipeline::read_as(&[path], Wanted { option, ..Wanted::default() }, &Silent)?;
    let report = pipeline::work(&input, &Silent)?;
    let mut out = Vec::new();
    document::write(&report, &mut out).unwrap();
    Ok(serde_json::from_slice(&out).unwrap())
}

fn money(value: &Value) -> Option<Decimal> {
    value.as_str().map(|text| text.parse().unwrap())
}

/// The figures of a run, counted anew from its own lists.
fn figures(document: &Value) -> Value {
    let rows = |key: &str| document[key].as_array().unwrap().clone();
    let whole = |value: &Value| value.as_u64().unwrap();
    let openings = rows("openings");
    let with_blind = || openings.iter().filter(|row| row["state"] != "held");
    let on = |mount: &str| -> u64 {
        with_blind().filter(|row| row["mount"] == mount).map(|row| whole(&row["quantity"])).sum()
    };
    let least = |values: Vec<f64>| {
        values.into_iter().min_by(f64::total_cmp).map_or(Value::Null, |least| json!(least))
    };
    let numbers = |keys: &[&str], in_front: bool| -> Vec<f64> {
        let rows = with_blind().filter(|row| !in_front || row["mount"] != "inside");
        rows.flat_map(|row| keys.iter().filter_map(|key| row[*key].as_f64()).collect::<Vec<_>>()).collect()
    };
    // Of the way to get it that was taken; nobody knows the last where that of one is not known.
    let taken = |row: &Value| {
        row["candidates"].as_array().unwrap().iter().find(|way| way["taken"] == true).unwrap().clone()
    };
    let last = |key: &str| {
        let mut all: Vec<Value> = with_blind().map(|row| taken(row)[key].clone()).collect();
        all.sort_by_key(|value| (value.is_null(), value.to_string().len(), value.to_string()));
        all.pop().unwrap()
    };
    // Each phase has days of its own.
    let visits = rows("fitting_days");
    let days: BTreeSet<(String, u64)> = visits
        .iter()
        .filter_map(|visit| {
            Some((visit["phase"].to_string(), visit["day"].as_u64()?, visit["days"].as_u64()?))
        })
        .flat_map(|(phase, first, days)| (first..first + days).map(move |day| (phase.clone(), day)))
        .collect();
    let days = days.len();
    let stock = rows("order")
        .iter()
        .filter(|line| line["source"] == "stock")
        .map(|line| whole(&line["quantity"]))
        .sum::<u64>();
    json!({
        "held": document["counts"]["held"],
        "provisional": document["counts"]["provisional"],
        "inside": on("inside"),
        "outside": on("outside"),
        "ceiling": on("ceiling"),
        "sizes": document["counts"]["sizes"],
        "lines": rows("order").len(),
        "from_stock": stock,
        "bars": rows("cuts").iter().map(|plan| whole(&plan["bars"])).sum::<u64>(),
        "least_overlap_mm": least(numbers(&["overlap_left_mm", "overlap_right_mm"], true)),
        "see_past_deg": least(numbers(&["see_past_deg"], false)),
        "lead_days": last("lead_days"),
        "arrives": last("arrives"),
        "fitting_days": days,
    })
}

/// What each section costs, summed anew from its lines.
fn sections(document: &Value) -> Vec<(String, Option<Decimal>)> {
    let mut sums: Vec<(String, Option<Decimal>)> = Vec::new();
    for line in document["cost"]["lines"].as_array().unwrap() {
        let (section, amount) = (line["section"].as_str().unwrap(), money(&line["amount"]));
        match sums.iter_mut().find(|(known, _)| known == section) {
            Some((_, sum)) => *sum = sum.zip(amount).map(|(sum, amount)| sum + amount),
            None => sums.push((section.to_owned(), amount)),
        }
    }
    sums
}

#[test]
fn an_option_comes_to_what_its_own_survey_comes_to() {
    for job in [FLATS, ORDERED] {
        let compared = run(&job.text(&[], &CHOICES), None).unwrap();
        let options = compared["options"].as_array().unwrap();
        assert_eq!(options.len(), CHOICES.len() + 1);
        for (own, option) in [&[][..]].into_iter().chain(CHOICES).zip(options) {
            let alone = run(&job.text(own, &[]), None).unwrap();
            assert!(alone["options"].as_array().unwrap().is_empty());
            let of_its_own = figures(&alone);
            for (key, value) in of_its_own.as_object().unwrap() {
                let is = &option["figures"][key];
                assert!(
                    value == is || value.is_number() && value.as_f64() == is.as_f64(),
                    "{key} of {own:?}: {value} {is}"
                );
            }
            for key in ["tax", "total", "known_total"] {
                assert_eq!(option["cost"][key], alone["cost"][key], "{key} of {own:?}");
            }
            let listed = option["cost"]["sections"].as_array().unwrap();
            let known = sections(&alone);
            for section in listed {
                let sum = known.iter().find(|(name, _)| section["section"] == **name);
                let sum = sum.map_or(Some(Decimal::ZERO), |(_, sum)| *sum);
                assert_eq!(money(&section["amount"]), sum, "{} of {own:?}", section["section"]);
            }
            assert!(
                known.iter().all(|(name, _)| listed.iter().any(|row| row["section"] == **name)),
                "{own:?}"
            );
        }
    }
}

#[test]
fn running_an_option_is_running_its_own_survey() {
    for job in [FLATS, ORDERED] {
        let as_it_stands = run(&job.text(&[], &CHOICES), None).unwrap();
        assert_eq!(as_it_stands["option"], Value::Null);
        for (place, own) in CHOICES.into_iter().enumerate() {
            let run_as = run(&job.text(&[], &CHOICES), Some(&format!("choice  {place}"))).unwrap();
            let alone = run(&job.text(own, &[]), None).unwrap();
            assert_eq!(run_as["option"], format!("Choice {place}"));
            for key in
                ["counts", "order", "cuts", "hardware", "cost", "spare_louvers", "also_fits", "bits", "units"]
            {
                assert_eq!(run_as[key], alone[key], "{key} of {own:?}");
            }
            // The list is the same, whichever of them is run.
            assert_eq!(run_as["options"], as_it_stands["options"], "{own:?}");
        }
    }
}

#[test]
fn differences_are_from_the_survey_as_it_stands() {
    let compared = run(&FLATS.text(&[], &CHOICES), None).unwrap();
    let options = compared["options"].as_array().unwrap();
    let base = &options[0];
    assert_eq!((&base["option"], &base["difference"]), (&Value::Null, &Value::Null));
    assert!(base["why"].as_array().unwrap().is_empty());
    for option in &options[1..] {
        for (key, difference) in option["difference"].as_object().unwrap() {
            let of = |row: &Value| match row["figures"].get(key) {
                Some(Value::Null) | None => money(&row["cost"][key]),
                Some(figure) => Some(figure.to_string().parse().unwrap()),
            };
            let expected = of(option).zip(of(base)).map(|(is, was)| is - was);
            let shown = difference
                .as_str()
                .map(str::to_owned)
                .or(difference.as_f64().map(|_| difference.to_string()));
            assert_eq!(
                shown.map(|text| text.parse::<Decimal>().unwrap().normalize()),
                expected.map(|d| d.normalize()),
                "{key}"
            );
        }
    }
    let why = |place: usize| options[place + 1]["why"].as_array().unwrap().clone();
    assert_eq!(why(0), ["the same blinds, other costs: blinds, making, overhead"]);
    assert_eq!(why(4), ["7 blinds outside, not before"]);
    assert!(why(8).is_empty());
}

#[test]
fn totals_that_are_both_known_have_a_difference() {
    // No opening is held, and each has its fixing.
    let text = FLATS.text(&[], &[&[("Overhead %", "0")]]);
    let known = text.replace("| x |", "| 50 |").replace("| 3 1/4 | 0 |  |", "| 3 1/4 | 0 | wood |");
    let compared = run(&known, None).unwrap();
    let options = &compared["options"];
    let [was, is] = [0, 1].map(|place| money(&options[place]["cost"]["total"]).expect("a total"));
    assert!(is < was);
    assert_eq!(money(&options[1]["difference"]["total"]), Some(is - was));
}

#[test]
fn a_stock_size_that_nobody_uses_or_wants_is_not_listed() {
    let document = run(&FLATS.text(&[("Stock sizes", "yes")], &[]), None).unwrap();
    let rows = document["stock_use"].as_array().unwrap();
    assert!(!rows.is_empty());
    for row in rows {
        let counted = ["ordered", "used", "wanted"].map(|key| row[key].as_u64().unwrap());
        assert!(counted.iter().sum::<u64>() > 0, "{row}");
    }
}

/// Boxes that are ordered later come later, with as many lead days.
#[test]
fn a_later_order_is_why_the_last_box_comes_later() {
    let choices: [&[(&str, &str)]; 2] = [&[("Order date", "2026-03-09")], &[("Order date", "2026-02-27")]];
    let compared = run(&FLATS.text(&[], &choices), None).unwrap();
    let why = |place: usize| compared["options"][place + 1]["why"].clone();
    assert_eq!(why(0), json!(["arrives 7 days later"]));
    assert_eq!(why(1), json!(["arrives 3 days sooner"]));
}

#[test]
fn the_same_survey_after_its_own_fit_out_compares_the_same() {
    let folder = Folder::new();
    let path = folder.survey("survey.xlsx", &FLATS.text(&[], &CHOICES));
    let earlier = folder.path().join("earlier.xlsx");
    let run = |after: Option<&std::path::Path>| -> Value {
        let input =
            pipeline::read_as(std::slice::from_ref(&path), Wanted { after, ..Wanted::default() }, &Silent)
                .unwrap();
        let report = pipeline::work(&input, &Silent).unwrap();
        if after.is_none() {
            write(&report, Limits::SPREADSHEET, &mut std::fs::File::create(&earlier).unwrap()).unwrap();
        }
        let mut out = Vec::new();
        document::write(&report, &mut out).unwrap();
        serde_json::from_slice(&out).unwrap()
    };
    let (first, second) = (run(None), run(Some(&earlier)));
    assert_eq!(first["options"], second["options"]);
    assert_eq!(first["options"].as_array().unwrap().len(), CHOICES.len() + 1);
}

#[test]
fn what_stops_an_option_names_it() {
    let folder = Folder::new();
    let earlier = folder.path().join("earlier.xlsx");
    let first = FLATS.text(&[("Project", "Old Quay")], &[]);
    let input = pipeline::read(&[folder.survey("first.xlsx", &first)], None, &Silent).unwrap();
    let report = pipeline::work(&input, &Silent).unwrap();
    write(&report, Limits::SPREADSHEET, &mut std::fs::File::create(&earlier).unwrap()).unwrap();
    let work = |formerly: &str| {
        let text = FLATS.text(&[("Formerly", "Old Quay")], &[&[("Formerly", formerly)]]);
        let wanted = Wanted { after: Some(&earlier), ..Wanted::default() };
        let input = pipeline::read_as(&[folder.survey("second.xlsx", &text)], wanted, &Silent).unwrap();
        pipeline::work(&input, &Silent).map(|_| ()).map_err(|error| error.to_string())
    };
    assert_eq!(work("Old Quay"), Ok(()));
    let refused = work("New Quay").unwrap_err();
    assert!(refused.starts_with("option Choice 0: "), "{refused}");
}

#[test]
fn what_cannot_be_an_option_is_refused() {
    let refused = |options: &str, option: Option<&str>| {
        let error = run(&format!("{}\n[Options]\n{options}", FLATS.text(&[], &[])), option).unwrap_err();
        let queries = match &error {
            RunError::RuleSheets { queries, .. } => queries.iter().map(|query| query.code).collect(),
            _ => Vec::new(),
        };
        (error.to_string(), error.hint().to_string(), queries)
    };
    let (_, _, queries) = refused("Option | Tax %\nA | much\n", None);
    assert_eq!(queries, ["unreadable"]);
    let (_, _, queries) = refused("Option | Mount\nA | sideways\n", None);
    assert_eq!(queries, ["unknown-word"]);
    let (_, _, queries) = refused("Option | Need by\nA | soon\n", None);
    assert_eq!(queries, ["unreadable"]);
    let (_, _, queries) = refused("Option | Tax %\nA | 1\na | 2\n", None);
    assert_eq!(queries, ["rule-row-twice"]);
    let (message, hint, _) = refused("Option | Tax %\nMade | 1\nBought | 2\n", Some("Mode"));
    assert_eq!((message.as_str(), hint.as_str()), ("there is no option Mode", "did you mean \"Made\"?"));
    let error = run(&FLATS.text(&[], &[]), Some("Made")).unwrap_err();
    assert!(error.hint().contains("sheet Options"), "{}", error.hint());
}

/// The row of a sheet in which the first column says this.
fn row_of(sheet: &Sheet, from: u32, name: &str) -> u32 {
    let found =
        sheet.cells.iter().find(|((row, column), cell)| *row >= from && *column == 0 && cell.text == name);
    found.unwrap_or_else(|| panic!("no row {name}")).0.0
}

#[test]
fn every_figure_of_every_option_stands_in_its_place() {
    let folder = Folder::new();
    let path = folder.survey("survey.xlsx", &FLATS.text(&[], &CHOICES));
    let input = pipeline::read(&[path], None, &Silent).unwrap();
    let report = pipeline::work(&input, &Silent).unwrap();
    let mut bytes = Cursor::new(Vec::new());
    write(&report, Limits::SPREADSHEET, &mut bytes).unwrap();
    let package = Package::of(bytes.into_inner());
    let sheet = &package.sheets["Options compared"];
    let mut out = Vec::new();
    document::write(&report, &mut out).unwrap();
    let compared: Value = serde_json::from_slice(&out).unwrap();
    let options = compared["options"].as_array().unwrap();

    let text = |row: u32, column: u32| sheet.cells.get(&(row, column)).map_or("", |cell| cell.text.as_str());
    let number = |row: u32, column: u32| text(row, column).parse::<f64>().ok();
    let known = |value: &Value| value.as_str().map_or_else(|| value.as_f64(), |text| text.parse().ok());
    let near = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() < 1e-9,
        (a, b) => a == b,
    };

    // Each on a row: name, total, the difference, what is known of a total that is not, what it changes, why.
    let unknown = options.iter().any(|option| option["cost"]["total"].is_null());
    assert!(unknown, "an option lacks a price");
    let top = row_of(sheet, 0, "Option");
    for (option, row) in options.iter().zip(top + 1..) {
        assert_eq!(text(row, 0), option["option"].as_str().unwrap_or("As surveyed"));
        assert!(near(number(row, 1), known(&option["cost"]["total"])), "{option}");
        assert!(near(number(row, 2), known(&option["difference"]["total"])), "{option}");
        let list = |key: &str| {
            let texts: Vec<&str> =
                option[key].as_array().unwrap().iter().map(|text| text.as_str().unwrap()).collect();
            texts.join("; ")
        };
        // While any total is unknown there is a column of what is known.
        let after = if unknown { 4 } else { 3 };
        let so_far =
            if option["cost"]["total"].is_null() { known(&option["cost"]["known_total"]) } else { None };
        assert!(!unknown || near(number(row, 3), so_far), "{option}");
        assert_eq!((text(row, after), text(row, after + 4)), (list("says").as_str(), list("why").as_str()));
    }

    // Side by side: an option's figures under its name, the differences beside them.
    let head = row_of(sheet, top + 1, "Figure");
    let column_of = |name: &str| {
        let found = sheet.cells.iter().find(|((row, _), cell)| *row == head && cell.text == name);
        found.unwrap_or_else(|| panic!("no column {name}")).0.1
    };
    let figures = [
        ("Openings held", "held"),
        ("Blinds provisional", "provisional"),
        ("Blinds inside", "inside"),
        ("Blinds outside", "outside"),
        ("Blinds from the ceiling", "ceiling"),
        ("Different sizes", "sizes"),
        ("Order lines", "lines"),
        ("Blinds from stock", "from_stock"),
        ("Bars, rolls and lengths", "bars"),
        ("Days to the last blind", "lead_days"),
        ("Days of fitting", "fitting_days"),
        ("Smallest overlap (in)", "least_overlap_mm"),
        ("Smallest see-past angle (deg)", "see_past_deg"),
    ];
    for option in options {
        let column = column_of(option["option"].as_str().unwrap_or("As surveyed"));
        for (words, key) in figures {
            let row = row_of(sheet, head, words);
            let inches = if key.ends_with("_mm") { 25.4 } else { 1.0 };
            let figure = |value: &Value| known(value).map(|value| value / inches);
            assert!(
                near(number(row, column), figure(&option["figures"][key])),
                "{words} of {}",
                option["option"]
            );
            if option["option"].is_string() {
                let beside = figure(&option["difference"][key]);
                assert!(
                    near(number(row, column + 1), beside),
                    "difference of {words} of {}",
                    option["option"]
                );
            }
        }
        for section in option["cost"]["sections"].as_array().unwrap() {
            let word = section["section"].as_str().unwrap();
            let row = row_of(sheet, head, &format!("{}{} (USD)", word[..1].to_uppercase(), &word[1..]));
            assert!(near(number(row, column), known(&section["amount"])), "{word} of {}", option["option"]);
            if option["option"].is_string() {
                assert!(near(number(row, column + 1), known(&section["difference"])), "{word}");
            }
        }
        for (words, key) in
            [("Tax (USD)", "tax"), ("Total (USD)", "total"), ("Known so far (USD)", "known_total")]
        {
            let row = row_of(sheet, head, words);
            assert!(
                near(number(row, column), known(&option["cost"][key])),
                "{words} of {}",
                option["option"]
            );
            if option["option"].is_string() {
                let beside = if key == "known_total" { None } else { known(&option["difference"][key]) };
                assert!(near(number(row, column + 1), beside), "{words}");
            }
        }
    }
}
