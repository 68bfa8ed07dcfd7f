//! The days of the job: how visits are laid, by brute force, and what a survey's own plan says.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use serde_json::Value;
use sillbook::days::{Crew, Filled};
use sillbook::exchange::json;
use sillbook::grid::{self, Grid};
use sillbook::pipeline::{self, Input, Silent};
use sillbook::workbook::{Limits, write};

use crate::support::files::Folder;
use crate::support::{Surveys, surveys};

/// Numbers by chance, the same in every run.
struct Chance(u64);

impl Chance {
    fn below(&mut self, most: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % most
    }
}

/// Every order of so many.
fn orders(count: usize) -> Vec<Vec<usize>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    let shorter = orders(count - 1);
    let put = |order: &Vec<usize>, at: usize| {
        let mut order = order.clone();
        order.insert(at, count - 1);
        order
    };
    (0..count).flat_map(|at| shorter.iter().map(move |order| put(order, at))).collect()
}

fn lay_all(crew: Crew<'_>, from: Filled, minutes: &[Decimal], order: &[usize]) -> Filled {
    order.iter().fold(from, |from, &visit| crew.lay(from, minutes[visit]).unwrap().1)
}

/// The earliest end of all floors, over every order of the visits of each of them.
fn best(crew: Crew<'_>, from: Filled, floors: &[Vec<Decimal>]) -> Filled {
    let Some((floor, later)) = floors.split_first() else { return from };
    let ends = orders(floor.len());
    let ends = ends.iter().map(|order| best(crew, lay_all(crew, from, floor, order), later));
    ends.min().unwrap()
}

#[test]
fn no_order_of_the_units_of_each_floor_takes_fewer_days() {
    let mut chance = Chance(7);
    let (mut saved, mut long, mut around) = (0, 0, 0);
    for _ in 0..1_500 {
        let floors: Vec<Vec<Decimal>> = (0..1 + chance.below(2))
            .map(|_| (0..1 + chance.below(5)).map(|_| Decimal::from(20 + chance.below(100))).collect())
            .collect();
        let taken: BTreeMap<usize, Decimal> = (0..chance.below(3))
            .map(|_| (chance.below(4) as usize, Decimal::from(chance.below(120))))
            .collect();
        let crew = Crew { minutes: Decimal::from(110), taken: &taken };
        let start = crew.begin(0);
        let (mut at, mut as_surveyed) = (start, start);
        for floor in &floors {
            let order = crew.arrange(at, floor);
            let mut sorted = order.clone();
            sorted.sort_unstable();
            assert_eq!(sorted, (0..floor.len()).collect::<Vec<_>>(), "each visit once");
            at = lay_all(crew, at, floor, &order);
            as_surveyed = lay_all(crew, as_surveyed, floor, &(0..floor.len()).collect::<Vec<_>>());
        }
        assert_eq!(at, best(crew, start, &floors), "{floors:?} around {taken:?}");
        saved += u32::from(at.day < as_surveyed.day);
        long += u32::from(floors.iter().flatten().any(|minutes| *minutes > crew.minutes));
        around += u32::from(!taken.is_empty());
    }
    assert!(saved > 100 && long > 100 && around > 100, "{saved}, {long}, {around}");
}

fn understood(text: &str) -> Input {
    let Surveys { grids, sheets } = surveys(&[("survey.xlsx", text)]);
    pipeline::understand(&grids, sheets, None).unwrap()
}

fn document(input: &Input) -> Value {
    let mut out = Vec::new();
    json::write(&pipeline::work(input, &Silent).unwrap(), &mut out).unwrap();
    serde_json::from_slice(&out).unwrap()
}

/// A line for each visit: day, date, unit, visit, minutes, fitters and openings.
fn visits(document: &Value) -> Vec<String> {
    let line = |row: &Value| {
        let text = |key: &str| row[key].as_str().unwrap_or("-").to_owned();
        let number = |key: &str| if row[key].is_null() { "-".to_owned() } else { row[key].to_string() };
        let names: Vec<&str> = row["names"].as_array().unwrap().iter().filter_map(Value::as_str).collect();
        format!(
            "{} {} {} {} {} x{}: {}",
            number("day"),
            text("date"),
            text("unit"),
            text("visit"),
            number("minutes"),
            number("fitters"),
            names.join(", "),
        )
    };
    document["fitting_days"].as_array().unwrap().iter().map(line).collect()
}

const HEAD: &str = "[Project]
Project | Quay House
Units | mm
Jurisdiction | none
Order date | 2026-03-02
Lift door width | 800
Lift height | 2000
Lift depth | 1200
";
const OPENINGS: &str = "[Openings]
Floor | Unit | Opening | Room | Phase | Quantity | Width | Height | Mount | Recess depth | Substrate
1 | A | W1 | Hall | one | 4 | 1000 | 1500 | inside | 100 | wood
1 | B | W2 | Hall | one | 1 | 2600 | 2400 | inside | 100 | wood
2 | C | W3 | Hall | one | 4 | 1000 | 1500 | inside | 100 | wood
2 | C | W4 | Bath | one | 1 | 1000 |      | inside | 100 | wood
3 | D | W5 | Hall | two | 1 | 1000 | 1500 | inside | 100 | concrete
";
/// 2026-04-02 is a Thursday.
const PHASES: &str = "[Phases]
Phase | Starts | Fitters | Hours a day | Days off
one | 2026-04-02 | 1 | 6 | 2026-04-03
two | | 2 | |
";

#[test]
fn units_are_planned_by_phase_and_floor_on_working_days() {
    let document = document(&understood(&format!("{HEAD}{OPENINGS}{PHASES}")));
    // A: 4 x 30 and 8, twice as long. C has one held opening. B needs two people, who come on a day of their
    // own, the Tuesday after a day off, a weekend and A's and C's day is not over.
    assert_eq!(
        visits(&document),
        [
            "1 2026-04-02 A first 256 x1: W1",
            "2 2026-04-06 C first 128 x1: W3",
            "3 2026-04-07 B first 68 x2: W2",
            "- - C return - x-: ",
            "4 - D first 54 x2: W5",
        ]
    );
    let rows = document["fitting_days"].as_array().unwrap();
    assert_eq!(rows[0]["not_charged"], 128);
    assert_eq!((&rows[2]["for_two"], &rows[2]["must_have_arrived"]), (&60.into(), &"2026-04-06".into()));
    assert_eq!((&rows[3]["held"], &rows[3]["held_names"][0]), (&1.into(), &"W4".into()));
    // The louvers and the rail of A are shorter than the diagonal of height and depth; those of B are not.
    assert_eq!((&rows[0]["fits_lift"], &rows[2]["fits_lift"]), (&"yes".into(), &"no".into()));
    let loads = document["loads"].as_array().unwrap();
    assert_eq!((loads.len(), &loads[0]["boxes"]), (3, &5.into()));
    // Residents are told of what has a date.
    let told: Vec<String> = document["notices"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| format!("{} {} {}", row["unit"], row["date"], row["how_long"]))
        .collect();
    assert_eq!(
        told,
        [
            r#""A" "2026-04-02" "about 4.5 hours""#,
            r#""C" "2026-04-06" "about 2.5 hours""#,
            r#""B" "2026-04-07" "about 1 hour""#,
        ]
    );
}

#[test]
fn a_box_that_just_leans_fits_the_lift_and_one_longer_does_not() {
    // 2000 and 1500 across: a box of 2500 leans exactly.
    for (depth, width, fits) in [(1500, 2513, "yes"), (1499, 2513, "no"), (1500, 2514, "no")] {
        let text = format!(
            "{}[Openings]\nUnit | Opening | Width | Height | Mount | Recess depth\nA | W1 | {width} | 1000 | inside | 100\n",
            HEAD.replace("Lift depth | 1200", &format!("Lift depth | {depth}"))
        );
        let document = document(&understood(&text));
        let row = &document["fitting_days"][0];
        let longest = row["longest_mm"].as_f64().unwrap();
        let diagonal = f64::from(2000 * 2000 + depth * depth).sqrt();
        assert_eq!(longest <= diagonal, fits == "yes", "{longest} in {diagonal}");
        assert_eq!(row["fits_lift"], fits, "{longest} in {diagonal}");
        let unknown = text.replace("Lift height | 2000\n", "");
        assert_eq!(self::document(&understood(&unknown))["fitting_days"][0]["fits_lift"], "unknown");
    }
}

/// Types into a column of `Fitting days` beside the first visit to a unit.
fn type_beside(earlier: &mut Grid, unit: &str, column: &str, value: &str) {
    let sheet = earlier.sheets.iter_mut().find(|sheet| sheet.name == "Fitting days").unwrap();
    let is = |cell: &grid::Value, text: &str| matches!(cell, grid::Value::Text(found) if **found == *text);
    let head = sheet.rows.iter().position(|row| row.cells.iter().any(|(_, cell)| is(cell, "Unit"))).unwrap();
    let place = |name: &str| sheet.rows[head].cells.iter().find(|(_, cell)| is(cell, name)).unwrap().0;
    let (of_unit, into) = (place("Unit"), place(column));
    let row = sheet.rows[head..].iter_mut().find(|row| row.value(of_unit).is_some_and(|cell| is(cell, unit)));
    let cells = &mut row.unwrap().cells;
    let cell = match value.len() {
        10 => grid::Value::Date(value.into()),
        _ => grid::Value::Text(value.into()),
    };
    cells.retain(|(column, _)| *column != into);
    cells.push((into, cell));
    cells.sort_by_key(|(column, _)| *column);
}

/// The survey's fit-out, in which this was typed beside units, taken up again.
fn after(text: &str, typed: &[(&str, &str, &str)], blinds: &str) -> Value {
    after_as(text, text, typed, blinds)
}

/// The same with the survey as it is then.
fn after_as(text: &str, then: &str, typed: &[(&str, &str, &str)], blinds: &str) -> Value {
    let folder = Folder::new();
    let path = folder.path().join("first.xlsx");
    let first = understood(text);
    let report = pipeline::work(&first, &Silent).unwrap();
    write(&report, Limits::SPREADSHEET.without_drawings(), &mut std::fs::File::create(&path).unwrap())
        .unwrap();
    let Surveys { grids, mut sheets } = surveys(&[("survey.xlsx", then)]);
    let mut earlier = grid::read_earlier(&path, &mut sheets, &sillbook::earlier::is_read).unwrap();
    crate::stories::type_in(&mut earlier, blinds);
    for (unit, column, value) in typed {
        type_beside(&mut earlier, unit, column, value);
    }
    document(&pipeline::understand_after(Some(&earlier), &grids, sheets, None).unwrap())
}

#[test]
fn after_its_own_fit_out_nothing_changes_and_what_is_typed_stays() {
    let text = format!("{HEAD}{OPENINGS}{PHASES}");
    let first = document(&understood(&text));
    let same = after(&text, &[], "");
    assert_eq!(same["fitting_days"], first["fitting_days"]);
    let kept = [
        ("A", "Keep", "yes"),
        ("A", "Told on", "2026-03-20"),
        ("C", "Keep", "yes"),
        ("D", "Done", "2026-03-21"),
    ];
    let kept = after(&text, &kept, "");
    assert_eq!(visits(&kept), visits(&first));
    let a = &kept["fitting_days"][0];
    assert_eq!((&a["keep"], &a["told_on"]), (&true.into(), &"2026-03-20".into()));
    assert_eq!(kept["fitting_days"][4]["done"], "2026-03-21");
    let codes: Vec<&str> =
        kept["queries"].as_array().unwrap().iter().map(|query| query["code"].as_str().unwrap()).collect();
    assert!(codes.contains(&"done-not-fitted"), "{codes:?}");
}

#[test]
fn a_told_day_is_kept_when_the_phase_moves_and_fitted_units_are_out() {
    let text = format!("{HEAD}{OPENINGS}{PHASES}");
    let later =
        after(&text, &[("C", "Keep", "yes"), ("A", "Told on", "2026-03-20")], "W1 | State | fitted\n");
    // A hangs: its row stays for what was typed, without a day; nobody learns any more.
    assert_eq!(
        visits(&later),
        [
            "1 2026-04-02 B first 68 x2: W2",
            "2 2026-04-06 C first 128 x1: W3",
            "- - C return - x-: ",
            "3 - D first 54 x2: W5",
            "- 2026-04-02 A first - x-: ",
        ]
    );
    assert_eq!(later["fitting_days"][4]["told_on"], "2026-03-20");
}

#[test]
fn what_comes_too_late_is_a_return_visit_after_it_comes() {
    let late = PHASES.replace("2026-04-02", "2026-03-03");
    let text = format!("{HEAD}{OPENINGS}{late}");
    let document = document(&understood(&text));
    let rows = document["fitting_days"].as_array().unwrap();
    let mut seen = 0;
    for row in rows.iter().filter(|row| !row["date"].is_null() && !row["arrives"].is_null()) {
        assert_eq!(row["visit"], "return", "{row}");
        assert!(row["arrives"].as_str() < row["date"].as_str(), "{row}");
        seen += 1;
    }
    assert_eq!(seen, 3);
}

/// Three units whose blinds come after the fitters could start; the third has a blind for two.
const ALL_LATE: &str = "[Project]
Project | Quay House
Units | mm
Jurisdiction | none
Order date | 2026-03-02
[Openings]
Floor | Unit | Opening | Phase | Quantity | Width | Height | Mount | Recess depth | Substrate
1 | A | W1 | one | 3 | 1000 | 1500 | inside | 100 | wood
1 | B | W2 | one | 3 | 1000 | 1500 | inside | 100 | wood
1 | C | W3 | one | 1 | 2600 | 2400 | inside | 100 | wood
1 | D | W4 | two | 1 | 1000 | 1500 | inside | 100 | wood
[Phases]
Phase | Starts | Hours a day
one | 2026-03-03 | 3
two | 2026-03-02 | 8
";

#[test]
fn return_visits_have_the_hours_of_their_own_fitters_and_the_first_of_the_job_takes_longer() {
    let document = document(&understood(ALL_LATE));
    // They come on the 17th. D is the first of the job: twice 38 minutes. A and B together are over the 180 of
    // a day, and C needs a second person, on a day of their own.
    assert_eq!(
        visits(&document),
        [
            "1 2026-03-18 D return 76 x1: W4",
            "2 2026-03-18 A return 98 x1: W1",
            "3 2026-03-19 B return 98 x1: W2",
            "4 2026-03-20 C return 68 x2: W3",
        ]
    );
}

#[test]
fn what_is_left_of_a_unit_keeps_its_day_and_a_day_off_is_no_day_to_keep() {
    let text = format!("{HEAD}{OPENINGS}{PHASES}");
    let codes = |document: &Value| -> Vec<String> {
        let queries = document["queries"].as_array().unwrap().iter();
        queries.map(|query| query["code"].as_str().unwrap().to_owned()).collect()
    };
    // One of the four of unit A hangs.
    let later = after(&text, &[("A", "Keep", "yes")], "line 1,1 | State | fitted\n");
    assert!(visits(&later).contains(&"1 2026-04-02 A return 98 x1: W1".to_owned()), "{:?}", visits(&later));
    assert!(!codes(&later).contains(&"kept-visit-gone".to_owned()), "{:?}", codes(&later));
    let off = text.replace("| 2026-04-03", "| 2026-04-02, 2026-04-03");
    assert!(!codes(&after(&text, &[("A", "Keep", "yes")], "")).contains(&"kept-day-off".to_owned()));
    let kept = after_as(&text, &off, &[("A", "Keep", "yes")], "");
    assert!(codes(&kept).contains(&"kept-day-off".to_owned()), "{:?}", codes(&kept));
}

#[test]
fn a_range_of_days_off_is_no_date() {
    let range = PHASES.replace("2026-04-03", "2026-04-02 - 2026-04-13");
    let Surveys { grids, sheets } = surveys(&[("survey.xlsx", &format!("{HEAD}{OPENINGS}{range}"))]);
    let error = pipeline::understand(&grids, sheets, None).unwrap_err();
    assert!(matches!(error, sillbook::pipeline::RunError::RuleSheets { .. }), "{error}");
}
