//! The sheet `Phases`: how it is read, and what follows from it phase by phase.

use std::io::Cursor;

use rust_decimal::Decimal;
use serde_json::{Value, json};
use sillbook::date::{Date, Weekday};
use sillbook::exchange::json;
use sillbook::length::{Length, Unit};
use sillbook::pipeline::{self, Input, Silent};
use sillbook::query::Checked;
use sillbook::report::Selection;
use sillbook::rules::{self, Phase, Rules, RulesError};
use sillbook::workbook::{Limits, write_order};

use crate::support::package::Package;
use crate::support::{Surveys, remembered, surveys, told};

const OPENINGS: &str = "[Openings]\nOpening | Width | Height | Phase\nW1 | 36 | 48 | North\n";

fn date(text: &str) -> Date {
    Date::from_iso(text).expect("a day")
}

/// The rules of surveys, and all that is asked about them.
fn built(files: &[(&str, &str)]) -> (Option<Rules>, Vec<String>) {
    let Surveys { grids, sheets } = surveys(files);
    match rules::build(&grids, Unit::Inch) {
        Ok(Checked { value, queries }) => (Some(value), told(&queries, &sheets)),
        Err(RulesError::Sheets(queries)) => (None, told(&queries, &sheets)),
        Err(error) => panic!("{error}"),
    }
}

fn rules_of(text: &str) -> Rules {
    let (rules, told) = built(&[("survey.xlsx", text)]);
    assert_eq!(told, [""; 0]);
    rules.expect("nothing stops the run")
}

#[test]
fn a_row_says_what_holds_for_its_phase() {
    let rules = rules_of(&format!(
        "{OPENINGS}[Phases]
Phase | Order number | Deliver to | Order date | Need by | Starts | Fitters | Hours a day | Days off | Budget
North | PO 7 | Dock 2 | 2026-03-01 | 2026-04-01 | 2026-04-06 | 3 | 7.5 | 2026-04-10, 2026-04-07 | 12,500.50
 | | | | 2026-05-01 | | | | 2026-04-06 |
"
    ));
    let [north, blank] = &rules.phases[..] else { panic!("two phases: {:?}", rules.phases) };
    let expected = Phase {
        order_number: "PO 7".into(),
        deliver_to: "Dock 2".into(),
        order_date: Some(date("2026-03-01")),
        need_by: Some(date("2026-04-01")),
        starts: Some(date("2026-04-06")),
        budget: Some(Decimal::new(1_250_050, 2)),
        name: "North".into(),
        fitters: 3,
        hours_a_day: Decimal::new(75, 1),
        days_off: vec![date("2026-04-07"), date("2026-04-10")],
        at: north.at,
    };
    assert_eq!(*north, expected);
    // A blank name is the phase of those that name none; blanks are those of `Project`, or stated.
    let blanks = (blank.order_date, blank.need_by, blank.starts, blank.budget);
    assert_eq!((blank.name.as_str(), blanks), ("", (None, Some(date("2026-05-01")), None, None)));
    assert_eq!((blank.fitters, blank.hours_a_day), (1, Decimal::from(8)));
    assert_eq!(blank.days_off, [date("2026-04-06")]);
    // Names are compared as people write them.
    assert_eq!(rules.phase("north").map(|phase| &phase.name), Some(&"North".to_owned()));
    assert_eq!(rules.phase("").map(|phase| phase.need_by), Some(Some(date("2026-05-01"))));
    assert!(rules.phase("South").is_none());
    let used = rules.source("Phases", "North", "Days off").expect("it is in Rules used");
    assert_eq!((used.value.as_str(), used.at.is_some()), ("2026-04-10, 2026-04-07", true));
}

#[test]
fn what_cannot_be_read_is_named_with_its_cell() {
    let text = format!(
        "{OPENINGS}[Phases]
Phase | Need by | Days off | Fitters | Budget | Starts
North | 1 April | 2026-12-24, the 25th | 1.5 | much | soon
South | 2026-04-01 | 2026-12-24 | 2 | 900 | 2026-04-02
south | 2026-04-02 | | | |
"
    );
    let (rules, told) = built(&[("survey.xlsx", &text)]);
    assert!(rules.is_none());
    assert_eq!(
        told,
        [
            "stop Phases!A4: a row of Phases repeats a row above it (south)",
            "stop Phases!B2: Need by cannot be read as a date (Phases) (\"1 April\")",
            "check Phases!F2: Starts cannot be read as a date (Phases); it is treated as unknown (\"soon\")",
            "stop Phases!D2: Fitters cannot be read as a whole number (Phases) (\"1.5\")",
            "stop Phases!C2: Days off cannot be read as dates (Phases) (\"2026-12-24, the 25th\")",
            "check Phases!E2: Budget cannot be read as an amount of money (Phases); it is treated as unknown (\"much\")",
        ]
    );
    // What may be unknown does not stop the run.
    let text = format!("{OPENINGS}[Phases]\nPhase | Budget | Foreman\nNorth | much | Ann\n");
    let (rules, told) = built(&[("survey.xlsx", &text)]);
    assert_eq!(rules.map(|rules| rules.phases[0].budget), Some(None));
    assert_eq!(
        told,
        [
            "check Phases!C1: unknown heading on Phases; its column is ignored (Foreman)",
            "check Phases!B2: Budget cannot be read as an amount of money (Phases); it is treated as unknown (\"much\")",
        ]
    );
}

#[test]
fn several_surveys_bring_their_own_phases_and_agree_on_those_that_they_share() {
    let north = format!("{OPENINGS}[Phases]\nPhase | Need by\nNorth | 2026-04-01\n");
    let south = north.replace("North", "South");
    let (rules, told) = built(&[("a.xlsx", &north), ("b.xlsx", &south)]);
    assert_eq!(told, [""; 0]);
    let names: Vec<String> = rules.expect("they agree").phases.into_iter().map(|phase| phase.name).collect();
    assert_eq!(names, ["North", "South"]);
    // A survey without the sheet has none of its own to say.
    let (rules, told) = built(&[("a.xlsx", OPENINGS), ("b.xlsx", &north)]);
    assert_eq!((rules.map(|rules| rules.phases.len()), told), (Some(1), vec![]));
    let later = north.replace("04-01", "04-02");
    let (rules, told) = built(&[("a.xlsx", &north), ("b.xlsx", &later)]);
    assert!(rules.is_none());
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(told.iter().all(|told| told.contains("Need by (Phases) differs between the surveys")));
    let silent = north.replace("2026-04-01", "");
    let (rules, told) = built(&[("a.xlsx", &north), ("b.xlsx", &silent)]);
    assert!(
        rules.is_none() && told.iter().all(|told| told.contains("leaves out what another has on Phases"))
    );
}

#[test]
fn a_workbook_of_phases_alone_speaks_for_all_surveys() {
    let phases = "[Phases]\nPhase | Need by\nNorth | 2026-04-01\n";
    let Surveys { grids, sheets } = surveys(&[("openings.csv", OPENINGS), ("phases.xlsx", phases)]);
    let input = pipeline::understand(&grids, sheets, Some(Unit::Inch)).expect("it is read");
    assert_eq!((input.survey.openings.len(), input.rules.phases.len()), (1, 1));
}

#[test]
fn work_days_and_the_lift_are_on_the_project() {
    let rules = rules_of(&format!(
        "[Project]
Work days | Mon, Tue, Thu
Lift door width | 36
Lift height | 84
Lift depth | 54 1/2
{OPENINGS}"
    ));
    let project = &rules.project;
    let works: Vec<bool> = Weekday::ALL.iter().map(|day| project.work_days.has(*day)).collect();
    assert_eq!(works, [true, true, false, true, false, false, false]);
    let lift = (project.lift_door_width, project.lift_height, project.lift_depth);
    let inches = |halves: i64| Some(Length::sixty_fourths(32 * halves));
    assert_eq!(lift, (inches(72), inches(168), inches(109)));
    let blank = rules_of(OPENINGS);
    assert_eq!(blank.project.lift_depth, None);
    assert!(blank.project.work_days.has(Weekday::Friday) && !blank.project.work_days.has(Weekday::Saturday));
    assert!(blank.assumptions.iter().any(|assumed| assumed.column.name == "Work days"));
    let (rules, told) = built(&[("survey.xlsx", "[Project]\nWork days | weekdays\n")]);
    assert!(rules.is_none());
    assert_eq!(told, ["stop Project!B1: the work days cannot be read (weekdays)"]);
}

/// Two phases of one window each, in which stock is cheaper and takes longer than what is made.
const TWO: &str = "[Project]
Project | Quay House
Order number | Q-1
Deliver to | Site gate
Stock sizes | yes
Order date | 2026-03-01
Overhead % | 10
Profit % | 5
Tax % | 8.25
[Openings]
Opening | Kind | Width | Height | Phase | Mount | Substrate
W1 | window | 62 | 76 | North | outside | wood
W2 | window | 62 | 76 | South | outside | wood
[Stock sizes]
Product | Nominal width | Nominal drop | Price | Lead days | On hand
louver-89 | 66 | 84 | 36 | 40 | 9
";

fn worked(text: &str) -> Value {
    let Surveys { grids, sheets } = surveys(&[("survey.xlsx", text)]);
    let input = pipeline::understand(&grids, sheets, Some(Unit::Inch)).expect("it is read");
    document(&input)
}

fn document(input: &Input) -> Value {
    let report = pipeline::work(input, &Silent).expect("it is worked");
    let mut out = Vec::new();
    json::write(&report, &mut out).expect("it is written");
    serde_json::from_slice(&out).expect("it is JSON")
}

fn of_each<'d>(document: &'d Value, list: &str, key: &str) -> Vec<&'d Value> {
    document[list].as_array().expect("a list").iter().map(|row| &row[key]).collect()
}

fn codes(document: &Value) -> Vec<&str> {
    of_each(document, "queries", "code").into_iter().filter_map(Value::as_str).collect()
}

#[test]
fn the_dates_of_a_phase_decide_stock_against_made() {
    // Made takes 15 days, stock 40: by 30 March only what is made is there, by 30 April both are.
    let sources = |north: &str, south: &str, head: &str| {
        let text = format!("{TWO}[Phases]\nPhase | {head}\nNorth | {north}\nSouth | {south}\n");
        let document = worked(&text);
        let sources: Vec<String> =
            of_each(&document, "openings", "source").iter().map(|source| source.to_string()).collect();
        (sources.join(" "), codes(&document).contains(&"arrives-late"))
    };
    let (early, late) = ("2026-03-30", "2026-04-30");
    assert_eq!(sources(early, late, "Need by"), ("\"made\" \"stock\"".into(), false));
    assert_eq!(sources(late, early, "Need by"), ("\"stock\" \"made\"".into(), false));
    // An order that goes out earlier does as much.
    let both = |order: &str| format!("{order} | 2026-04-15");
    let dates = "Order date | Need by";
    assert_eq!(sources(&both("2026-03-01"), &both("2026-03-20"), dates).0, "\"stock\" \"made\"");
    // Without dates of their own both take the project's, and stock is cheaper.
    assert_eq!(sources("", "", "Need by"), ("\"stock\" \"stock\"".into(), false));
    // Too early for either: the earlier one, and late.
    assert_eq!(sources("2026-03-10", late, "Need by"), ("\"made\" \"stock\"".into(), true));
}

#[test]
fn an_order_date_is_assumed_only_where_a_phase_has_none() {
    let text = TWO.replace("Order date", "Survey date");
    let assumed = |rows: &str| {
        let document = worked(&format!("{text}[Phases]\nPhase | Order date\n{rows}"));
        let columns = of_each(&document, "assumptions", "column");
        columns.iter().filter(|column| **column == "Order date").count()
    };
    assert_eq!(assumed("North | 2026-03-05\n"), 1);
    assert_eq!(assumed("North | 2026-03-05\nSouth | 2026-03-05\n"), 0);
    // Nothing to count from is asked once, whichever phase wants it.
    let text = TWO.replace("Order date | 2026-03-01\n", "");
    let document = worked(&format!("{text}[Phases]\nPhase | Need by\nNorth | 2026-03-05\n"));
    assert_eq!(codes(&document).iter().filter(|code| **code == "no-order-date").count(), 1);
    let document =
        worked(&format!("{text}[Phases]\nPhase | Order date | Need by\nNorth | 2026-03-01 | 2026-03-20\n"));
    assert!(!codes(&document).contains(&"no-order-date"));
}

fn money(value: &Value) -> Decimal {
    value.as_str().expect("money is text").parse().expect("a number")
}

#[test]
fn a_budget_is_compared_with_the_whole_share() {
    let said = |budget: Decimal, openings: &str| {
        let text = TWO.replace("[Stock", &format!("{openings}[Stock"));
        let document = worked(&format!("{text}[Phases]\nPhase | Budget\nNorth | {budget}\n"));
        let row = document["phases"][0].clone();
        assert_eq!(row["name"], "North");
        (row, codes(&document).contains(&"phase-over-budget"))
    };
    let (row, over) = said(Decimal::from(5_000), "");
    let whole = money(&row["whole"]);
    assert!(whole > Decimal::ZERO && !over);
    assert_eq!(row["budget_in_words"], format!("under budget by {} USD", Decimal::new(500_000, 2) - whole));
    assert_eq!(money(&row["over_budget"]), whole - Decimal::from(5_000));
    let cent = Decimal::new(1, 2);
    assert_eq!(
        (said(whole, "").0["budget_in_words"].as_str(), said(whole, "").1),
        (Some("on budget"), false)
    );
    let (row, over) = said(whole - cent, "");
    assert_eq!((row["budget_in_words"].as_str(), over), (Some("over budget by 0.01 USD"), true));
    // With an opening held, what is known is a part: over it is over it, under it may not be.
    let held = "W3 | window | | 76 | north | outside | wood\n";
    // It was measured, and that costs something.
    let whole = money(&said(whole, held).0["whole"]);
    let (row, over) = said(whole - cent, held);
    assert_eq!(
        (row["budget_in_words"].as_str(), over, &row["known_in_full"]),
        (Some("over budget by 0.01 USD, KNOWN SO FAR"), true, &Value::Bool(false))
    );
    let (row, over) = said(whole + cent, held);
    assert_eq!((row["budget_in_words"].as_str(), over), (Some("0.01 USD left for 1 held"), false));
    assert_eq!((&row["openings"], &row["held"], &row["blinds"]), (&json!(2), &json!(1), &json!(1)));
}

#[test]
fn phases_and_the_whole_project_are_the_known_total_also_of_what_is_ordered() {
    let phases = "[Phases]\nPhase | Budget\nNorth | 100\n";
    let first = worked(&format!("{TWO}{phases}"));
    let ordered = remembered::blinds(&first, |row| match row["opening"] == "W1" {
        true => vec![("state", "ordered".to_owned())],
        false => Vec::new(),
    });
    for (text, committed) in [(String::new(), false), (ordered, true)] {
        let document = worked(&format!("{TWO}{phases}{text}"));
        let sum = |key: &str| -> Decimal { of_each(&document, "phases", key).into_iter().map(money).sum() };
        let cost = &document["cost"];
        assert_eq!(sum("whole"), money(&cost["known_total"]));
        for key in ["committed", "open", "remade"] {
            assert_eq!(sum(key), money(&cost[key]), "{key}");
        }
        let north = &document["phases"][0];
        assert_eq!(money(&north["committed"]) > Decimal::ZERO, committed);
        assert_eq!(money(&document["phases"][1]["committed"]), Decimal::ZERO);
        let [open, committed, whole] = ["open", "committed", "whole"].map(|key| money(&north[key]));
        assert_eq!(open + committed, whole);
    }
}

#[test]
fn what_has_come_arrives_no_more_and_what_is_late_says_so() {
    let phases = "[Phases]\nPhase | Need by\nNorth | 2026-04-08\nSouth | 2026-04-30\n";
    // Stock ordered on 1 March comes on 10 April: too late for North, whose blind is made by 16 March.
    let text = format!("{TWO}{phases}");
    let first = worked(&text);
    let said = |document: &Value| {
        let keys = ["lead_days", "arrives", "need_by", "days_late", "arrival_in_words"];
        let row = |row: &Value| keys.map(|key| row[key].to_string().replace('"', "")).join(" ");
        document["phases"].as_array().expect("a list").iter().map(row).collect::<Vec<_>>()
    };
    let whole_project = "null null null null ";
    assert_eq!(
        said(&first),
        ["15 2026-03-16 2026-04-08 0 in time", "40 2026-04-10 2026-04-30 0 in time", whole_project]
    );
    let late = worked(&text.replace("2026-04-08", "2026-03-15"));
    assert_eq!(said(&late)[0], "15 2026-03-16 2026-03-15 1 1 day late");
    let delivered = remembered::blinds(&first, |row| match row["opening"] == "W1" {
        true => vec![("state", "delivered".to_owned())],
        false => Vec::new(),
    });
    let document = worked(&format!("{text}{delivered}"));
    assert_eq!(said(&document)[0], "null null 2026-04-08 null all have come");
}

#[test]
fn names_that_differ_in_case_are_one_phase_and_blank_is_one() {
    let text = TWO
        .replace("| South |", "| NORTH |")
        .replace("[Stock", "W3 | window | 40 | 50 | | outside | wood\n[Stock");
    let document = worked(&format!("{text}[Phases]\nPhase | Need by\nnorth | 2026-04-30\n | 2026-04-20\n"));
    assert_eq!(of_each(&document, "phases", "name"), ["North", "No phase", "whole project"]);
    assert_eq!(of_each(&document, "phases", "openings"), [&json!(2), &json!(1), &Value::Null]);
    assert_eq!(
        of_each(&document, "phases", "need_by"),
        [&json!("2026-04-30"), &json!("2026-04-20"), &Value::Null]
    );
    assert!(!codes(&document).iter().any(|code| code.starts_with("phase-")));
    // A survey without any phase has nothing to say of them.
    let none = TWO.replace("| North |", "| |").replace("| South |", "| |");
    assert_eq!(worked(&none)["phases"], json!([]));
}

#[test]
fn the_order_says_what_holds_for_its_phases() {
    let text = format!(
        "{TWO}[Phases]\nPhase | Order number | Deliver to | Need by\nNorth | N-7 | Dock 2 | 2026-04-30\nSouth | | | 2026-05-30\n"
    );
    let Surveys { grids, sheets } = surveys(&[("survey.xlsx", &text)]);
    let input = pipeline::understand(&grids, sheets, Some(Unit::Inch)).expect("it is read");
    let head = |phases: &[&str]| {
        let selection = Selection {
            phases: phases.iter().map(|phase| (*phase).to_owned()).collect(),
            states: Vec::new(),
        };
        let report = pipeline::work(&input, &Silent).expect("it is worked");
        let report = report.narrowed(&selection).expect("it is cut");
        let mut file = Cursor::new(Vec::new());
        write_order(&report, Limits::SPREADSHEET.without_drawings(), &mut file).expect("it is written");
        let package = Package::of(file.into_inner());
        assert!(!package.order.contains(&"Phases".to_owned()), "the maker sees no money");
        let texts = |sheet: &str| -> Vec<String> {
            package.sheets[sheet].cells.values().map(|cell| cell.text.clone()).collect()
        };
        let (order, labels) = (texts("Order"), texts("Labels"));
        let of_head: Vec<String> = order
            .iter()
            .filter(|text| text.contains("Order date:") || text.contains("Deliver to:"))
            .cloned()
            .collect();
        (of_head.join(" "), order, labels.join(" "))
    };
    let (north, _, labels) = head(&["North"]);
    assert!(north.contains("Order number: N-7.") && north.contains("Need by: 2026-04-30."), "{north}");
    assert!(north.contains("Deliver to: Dock 2."), "{north}");
    assert!(labels.contains("order N-7") && !labels.contains("order Q-1"));
    let (south, _, labels) = head(&["South"]);
    assert!(south.contains("Order number: Q-1.") && south.contains("Need by: 2026-05-30."), "{south}");
    assert!(south.contains("Deliver to: Site gate.") && labels.contains("order Q-1"), "{south}");
    // The whole order says each where the boxes are listed.
    let (both, order, labels) = head(&[]);
    assert!(both.contains("Order number: by phase, see the deliveries."), "{both}");
    assert!(both.contains("Order date: 2026-03-01."), "they agree: {both}");
    for text in ["N-7", "Dock 2", "Q-1", "Site gate"] {
        assert!(order.iter().any(|cell| cell == text), "{text}");
    }
    assert!(labels.contains("order N-7") && labels.contains("order Q-1"));
}

#[test]
fn the_sheet_of_an_earlier_fit_out_is_never_read_back() {
    let phases = "[Phases]\nPhase | Need by | Budget\nNorth | 2026-03-02 | 1\n";
    let Surveys { mut grids, sheets } = surveys(&[("survey.xlsx", TWO), ("earlier.xlsx", phases)]);
    let earlier = grids.pop().expect("two files");
    assert!(!sillbook::earlier::is_read("Phases"));
    let rules = rules::build(&grids, Unit::Inch).expect("nothing stops the run");
    assert_eq!(rules.value.phases, []);
    // Beside a survey the same sheet speaks for it.
    grids.push(earlier);
    let input = pipeline::understand(&grids, sheets, Some(Unit::Inch)).expect("it is read");
    assert_eq!(input.rules.phases.len(), 1);
}
