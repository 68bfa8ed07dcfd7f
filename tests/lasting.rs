//! What lasts from run to run, whatever is done to the survey in between: surveys by chance, states by
//! chance, then a survey that was changed by chance.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use rust_decimal::Decimal;
use serde_json::Value as Json;

use crate::stories::{PROJECT, array, run};
use crate::support::files::Folder;

/// Jobs by chance that are held to what lasts; `FUZZ_ROUNDS` asks for another number of them.
fn jobs() -> u64 {
    std::env::var("FUZZ_ROUNDS").map_or(60, |rounds| rounds.parse().expect("a whole number"))
}

/// Numbers by chance, the same in every run (xorshift; G. Marsaglia, Xorshift RNGs, Journal of
/// Statistical Software 8, 2003).
struct Chance(u64);

impl Chance {
    fn below(&mut self, many: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % many as u64).unwrap()
    }

    fn of<T: Copy>(&mut self, choices: &[T]) -> T {
        choices[self.below(choices.len())]
    }

    fn once_in(&mut self, many: usize) -> bool {
        self.below(many) == 0
    }
}

/// A row of a survey.
#[derive(Clone)]
struct Row {
    unit: &'static str,
    id: String,
    room: &'static str,
    phase: &'static str,
    quantity: usize,
    sixteenths: usize,
    height: usize,
    mount: &'static str,
    draw: &'static str,
    color: &'static str,
}

impl Row {
    fn by_chance(chance: &mut Chance, number: usize) -> Row {
        Row {
            unit: chance.of(&["1", "2", "3"]),
            id: format!("W{number}"),
            room: chance.of(&["Kitchen", "Bath"]),
            phase: chance.of(&["", "A", "B"]),
            quantity: chance.of(&[1, 1, 1, 2, 3]),
            sixteenths: 16 * chance.of(&[36, 40, 48]) + chance.below(3),
            height: chance.of(&[48, 60]),
            mount: chance.of(&["inside", "inside", "outside"]),
            draw: chance.of(&["left", "right", "split"]),
            color: chance.of(&["white", "white", "cream"]),
        }
    }

    fn text(&self) -> String {
        let Row { unit, id, room, phase, quantity, sixteenths, height, mount, draw, color } = self;
        let (whole, part) = (sixteenths / 16, sixteenths % 16);
        let width = if part == 0 { format!("{whole}") } else { format!("{whole} {part}/16") };
        format!(
            "{unit} | {id} | {room} | {phase} | {quantity} | window | {width} | {height} | {mount} | 6 | 0 | 30 | {draw} | {color} | wood\n"
        )
    }
}

/// Changes a survey as people do.
fn change(rows: &mut Vec<Row>, chance: &mut Chance) {
    for _ in 0..=chance.below(4) {
        let at = chance.below(rows.len());
        match chance.below(9) {
            0 => rows[at].sixteenths = 16 * chance.of(&[36, 40, 48]) + chance.below(3),
            1 => rows[at].height = chance.of(&[48, 60]),
            2 => rows[at].mount = chance.of(&["inside", "outside"]),
            3 => rows[at].draw = chance.of(&["left", "right", "split"]),
            4 => rows[at].color = chance.of(&["white", "cream"]),
            5 => rows[at].quantity = chance.of(&[1, 2, 3]),
            6 if rows.len() > 6 => drop(rows.remove(at)),
            7 => {
                let number = 100 + chance.below(100);
                let new = Row::by_chance(chance, number);
                if rows.iter().all(|row| row.id != new.id) {
                    rows.insert(at, new);
                }
            }
            _ => rows[at].room = chance.of(&["Kitchen", "Bath"]),
        }
    }
}

fn survey(rows: &[Row], project: &str) -> String {
    let head = "Unit | Opening | Room | Phase | Quantity | Kind | Width | Height | Mount | Recess depth | Handle | Sill height | Draw | Color | Substrate\n";
    let rows: String = rows.iter().map(Row::text).collect();
    format!("{project}[Openings]\n{head}{rows}")
}

/// What is typed beside blinds by chance: each line of the story's form.
fn typed(document: &Json, chance: &mut Chance) -> String {
    let mut typed = String::new();
    for row in array(&document["blinds"]).iter().filter(|row| row["what"] == "blind") {
        if chance.once_in(3) {
            let number = row["blind"].as_str().unwrap().split(" of ").next().unwrap();
            let state =
                chance.of(&["ordered", "ordered", "made", "delivered", "fitted", "remake", "cancelled"]);
            typed.push_str(&format!("line {}, {number} | State | {state}\n", row["line"]));
            if chance.once_in(6) {
                let to_do = chance.of(&["use as it is", "make again"]);
                typed.push_str(&format!("line {}, {number} | Do | {to_do}\n", row["line"]));
            }
        }
    }
    typed
}

/// What is frozen of a blind: all that is printed of it but what people type.
fn frozen(row: &Json) -> BTreeMap<String, Json> {
    let typed = [
        "state",
        "order_number",
        "ordered_on",
        "delivered_on",
        "fitted_on",
        "reason",
        "paid_by",
        "do",
        "goes_to",
        "left",
        "note",
        // It is written when the blind is first used as it is.
        "used_for",
    ];
    let object = row.as_object().unwrap();
    let kept = object.iter().filter(|(key, _)| !typed.contains(&key.as_str()));
    kept.map(|(key, value)| (key.clone(), value.clone())).collect()
}

type Number = (u64, String);

fn blinds(document: &Json) -> Vec<(Number, &Json)> {
    let rows = array(&document["blinds"]).iter().filter(|row| row["what"] == "blind");
    rows.map(|row| ((row["line"].as_u64().unwrap(), row["blind"].as_str().unwrap().to_owned()), row))
        .collect()
}

/// What an order line is, but for how many.
fn line_is(line: &Json) -> BTreeMap<String, Json> {
    let object = line.as_object().unwrap();
    let kept = object.iter().filter(|(key, _)| !["quantity", "openings"].contains(&key.as_str()));
    kept.map(|(key, value)| (key.clone(), value.clone())).collect()
}

fn money(value: &Json) -> Decimal {
    value.as_str().unwrap().parse().unwrap()
}

/// What does not last from one document to the next, whose states were typed as `marks` says.
fn faults(before: &Json, marks: &str, after: &Json) -> Vec<String> {
    let mut faults = Vec::new();
    let marked: BTreeSet<(u64, String)> = marks
        .lines()
        .filter(|line| line.contains("| State |"))
        .map(|line| {
            let (which, _) = line.split_once(" | ").unwrap();
            let (line, number) = which.strip_prefix("line ").unwrap().split_once(", ").unwrap();
            (line.parse().unwrap(), number.to_owned())
        })
        .collect();
    let now: Vec<(Number, &Json)> = blinds(after);
    let mut seen = BTreeSet::new();
    for (number, _) in &now {
        if !seen.insert(number.clone()) {
            faults.push(format!("{number:?} stands twice"));
        }
    }
    for (number, row) in blinds(before) {
        let short = (number.0, number.1.split(" of ").next().unwrap().to_owned());
        if row["state"].is_null() && !marked.contains(&short) {
            continue;
        }
        match now.iter().find(|(other, _)| *other == number) {
            None => faults.push(format!("{number:?} was ordered and is gone")),
            Some((_, other)) if frozen(row) != frozen(other) => {
                faults.push(format!("{number:?} was ordered and has changed"));
            }
            Some(_) => {}
        }
    }
    let lines = |document: &Json| -> BTreeMap<u64, BTreeMap<String, Json>> {
        let lines = array(&document["order"]).iter();
        lines.map(|line| (line["line"].as_u64().unwrap(), line_is(line))).collect()
    };
    let (then, lines_now) = (lines(before), lines(after));
    for (number, line) in &then {
        if lines_now.get(number).is_some_and(|other| other != line) {
            faults.push(format!("line {number} is another line now"));
        }
    }
    let highest = then.keys().max().copied().unwrap_or(0);
    let spares = array(&before["spare_louvers"]).iter().map(|spare| spare["line"].as_u64().unwrap()).max();
    let highest = highest.max(spares.unwrap_or(0));
    for number in lines_now.keys().filter(|number| !then.contains_key(number)) {
        let was_all_cancelled = blinds(before).iter().any(|((line, _), _)| line == number);
        if *number <= highest && !was_all_cancelled {
            faults.push(format!("the new line {number} has a number that was used before"));
        }
    }
    let cost = &after["cost"];
    if money(&cost["committed"]) + money(&cost["open"]) + money(&cost["remade"])
        != money(&cost["known_total"])
    {
        faults.push("committed, open and made again are not the known total".to_owned());
    }
    for line in array(&after["order"]) {
        let of_line = blinds(after);
        let count = of_line.iter().filter(|((number, _), row)| {
            *number == line["line"].as_u64().unwrap() && row["state"] != "cancelled"
        });
        if count.count() as u64 != line["quantity"].as_u64().unwrap() {
            faults.push(format!("line {} has not as many blinds as it says", line["line"]));
        }
    }
    faults
}

/// Takes the cell from each place that is in the earlier fit-out: `earlier Blinds!A9` becomes `earlier Blinds`.
/// Two fit-outs have a row at two places where rows above it are gone.
fn without_rows(value: &mut Json) {
    match value {
        Json::String(text) if text.starts_with("earlier ") => {
            text.truncate(text.find('!').unwrap_or(text.len()));
        }
        Json::Array(values) => values.iter_mut().for_each(without_rows),
        Json::Object(values) => values.values_mut().for_each(without_rows),
        _ => {}
    }
}

/// What two documents of one survey, the second after the first, differ in. That something typed has no
/// blind any more is told once: then it is gone.
fn differences(one: &Json, other: &Json) -> Vec<String> {
    let without = |document: &Json| {
        let mut document = document.clone();
        let queries = document["queries"].as_array_mut().unwrap();
        queries.retain(|query| query["code"] != "typed-without-blind");
        without_rows(&mut document);
        document
    };
    let (one, other) = (&without(one), &without(other));
    let keys = one.as_object().unwrap().keys().filter(|key| !["changes", "answers"].contains(&key.as_str()));
    keys.filter(|key| one[key.as_str()] != other[key.as_str()]).cloned().collect()
}

/// A job by chance, from round to round.
struct Job {
    folder: Folder,
    rounds: usize,
    last: Option<PathBuf>,
}

impl Job {
    fn new() -> Job {
        Job { folder: Folder::new(), rounds: 0, last: None }
    }

    fn round(&mut self, survey: &str, typed: &str) -> Json {
        self.rounds += 1;
        let to = self.folder.path().join(format!("{}.xlsx", self.rounds));
        let after: Option<(&Path, &str)> = self.last.as_deref().map(|path| (path, typed));
        let document = run(survey, after, &to).unwrap();
        self.last = Some(to);
        document
    }
}

#[test]
fn what_is_ordered_lasts_whatever_changes() {
    let mut frozen_seen = 0;
    for seed in 1..=jobs() {
        let mut chance = Chance(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15));
        let extra = chance.of(&["", "Merge sizes | 1/2\n", "Cost basis | make\n"]);
        let project = format!("{PROJECT}{extra}");
        let mut rows: Vec<Row> =
            (0..7 + chance.below(6)).map(|number| Row::by_chance(&mut chance, number)).collect();
        let mut job = Job::new();
        let first = job.round(&survey(&rows, &project), "");
        let unchanged = job.round(&survey(&rows, &project), "");
        assert_eq!(differences(&first, &unchanged), Vec::<String>::new(), "{seed}: nothing was typed");
        let mut before = unchanged;
        for _ in 0..2 {
            let marks = typed(&before, &mut chance);
            frozen_seen += marks.lines().count();
            change(&mut rows, &mut chance);
            let text = survey(&rows, &project);
            let after = job.round(&text, &marks);
            let faults = faults(&before, &marks, &after);
            assert_eq!(faults, Vec::<String>::new(), "{seed}\n{marks}\n{text}");
            let again = job.round(&text, "");
            assert_eq!(
                differences(&after, &again),
                Vec::<String>::new(),
                "{seed}: the same survey again\n{marks}\n{text}"
            );
            before = again;
        }
    }
    assert!(frozen_seen > 300, "only {frozen_seen} states were typed");
}

#[test]
fn fifty_rounds_change_nothing_and_grow_nothing() {
    let mut chance = Chance(42);
    let rows: Vec<Row> = (0..8).map(|number| Row::by_chance(&mut chance, number)).collect();
    let text = survey(&rows, PROJECT);
    let mut job = Job::new();
    let first = job.round(&text, "");
    let marks = typed(&first, &mut chance);
    let second = job.round(&text, &marks);
    let size = |job: &Job| std::fs::metadata(job.last.as_ref().unwrap()).unwrap().len();
    let before = size(&job);
    let mut last = second.clone();
    for _ in 0..50 {
        last = job.round(&text, "");
    }
    assert_eq!(differences(&second, &last), Vec::<String>::new());
    assert!(size(&job) < before + before / 50, "{before} bytes have become {}", size(&job));
}

/// A change of what a run printed that breaks one rule.
type Plant<'p> = &'p dyn Fn(&mut Json);

#[test]
fn a_fault_in_what_lasts_is_told() {
    let mut chance = Chance(7);
    let rows: Vec<Row> = (0..6).map(|number| Row::by_chance(&mut chance, number)).collect();
    let mut job = Job::new();
    let before = job.round(&survey(&rows, PROJECT), "");
    let marks = "line 1, 1 | State | ordered\n";
    let after = job.round(&survey(&rows, PROJECT), marks);
    assert_eq!(faults(&before, marks, &after), Vec::<String>::new());
    let spoilt = |change: &dyn Fn(&mut Json)| {
        let mut spoilt = after.clone();
        change(&mut spoilt);
        faults(&before, marks, &spoilt)
    };
    let first = |document: &Json| {
        let is_first =
            |row: &Json| row["line"] == 1 && row["blind"].as_str().is_some_and(|it| it.starts_with("1 "));
        array(&document["blinds"]).iter().position(is_first).unwrap()
    };
    let place = first(&after);
    let planted: [(&str, Plant<'_>); 6] = [
        ("was ordered and has changed", &|it| it["blinds"][place]["width_mm"] = 1.into()),
        ("was ordered and is gone", &|it| drop(it["blinds"].as_array_mut().unwrap().remove(place))),
        ("stands twice", &|it| {
            let row = it["blinds"][place].clone();
            it["blinds"].as_array_mut().unwrap().push(row);
        }),
        ("is another line now", &|it| it["order"][0]["color"] = "gray".into()),
        ("has a number that was used before", &|it| {
            let mut line = it["order"][0].clone();
            line["line"] = 0.into();
            it["order"].as_array_mut().unwrap().push(line);
        }),
        ("are not the known total", &|it| it["cost"]["open"] = "1.00".into()),
    ];
    for (told, change) in planted {
        assert!(spoilt(change).iter().any(|fault| fault.ends_with(told)), "{told}: {:?}", spoilt(change));
    }
}
