//! The sheet `Phases`: how it is read, and what follows from it phase by phase.

use rust_decimal::Decimal;
use sillbook::date::{Date, Weekday};
use sillbook::length::{Length, Unit};
use sillbook::query::Checked;
use sillbook::rules::{self, Phase, Rules, RulesError};

use crate::support::{Surveys, surveys, told};

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
    let input = sillbook::pipeline::understand(&grids, sheets, Some(Unit::Inch)).expect("it is read");
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
