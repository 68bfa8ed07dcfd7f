//! What holds of every run, whatever the survey: named checks over the JSON of a run beside what
//! the run read. They share nothing with the stages between. For every check there are planted
//! faults that it must report. What a run is held to before it is written is tried in [`worked`].

mod blinds;
mod check;
mod cost;
mod cuts;
mod days;
mod document;
mod doubts;
mod order;
mod stock;
pub mod surveys;
mod worked;

use std::path::{Path, PathBuf};

use serde_json::Value;
use sillbook::exchange::json;
use sillbook::pipeline::{self, Input, Silent};

use crate::support::files::Folder;
use check::Check;
use document::Run;

/// The checks of each room, with the survey in which their faults are planted.
const ROOMS: [(&str, &[Check]); 7] = [
    (surveys::MIXED, order::CHECKS),
    (surveys::MIXED, cuts::CHECKS),
    (surveys::MIXED, blinds::CHECKS),
    (surveys::MIXED, cost::CHECKS),
    (surveys::MIXED, doubts::CHECKS),
    (surveys::MIXED, days::CHECKS),
    (surveys::SCARCE, stock::CHECKS),
];

fn checks() -> impl Iterator<Item = &'static Check> {
    ROOMS.iter().flat_map(|(_, checks)| *checks)
}

fn document(input: &Input) -> Value {
    let report = pipeline::verified(pipeline::work(input, &Silent).unwrap(), &Silent).unwrap();
    let mut out = Vec::new();
    json::write(&report, &mut out).unwrap();
    serde_json::from_slice(&out).unwrap()
}

fn read(path: PathBuf) -> Input {
    pipeline::read(&[path], None, &Silent).unwrap()
}

fn read_text(text: &str) -> Input {
    read(Folder::new().survey("survey.xlsx", text))
}

/// All that is wrong with a run, check by check.
pub fn faults(document: &Value, input: &Input) -> Vec<String> {
    let run = Run { document, input };
    let mut faults = Vec::new();
    for check in checks() {
        let found = (check.faults)(&run);
        let more = found.len().saturating_sub(5);
        faults.extend(found.iter().take(5).map(|fault| format!("{}\n    {fault}", check.name)));
        if more > 0 {
            faults.push(format!("    and {more} more"));
        }
    }
    faults
}

/// Holds a run to every check.
#[track_caller]
fn holds(survey: &str, input: &Input) {
    let faults = faults(&document(input), input);
    assert!(faults.is_empty(), "{survey}:\n{}", faults.join("\n"));
}

#[test]
fn every_invariant_holds_of_the_demonstration() {
    for file in ["harrier-wharf.xlsx", "larch-terrace.xlsx"] {
        holds(file, &read(Path::new(env!("CARGO_MANIFEST_DIR")).join("demo").join(file)));
    }
}

#[test]
fn every_invariant_holds_of_awkward_surveys() {
    let (bought, at_once) = (surveys::bought(), surveys::at_once());
    for (name, text) in [
        ("mixed", surveys::MIXED),
        ("bought", &bought),
        ("at once", &at_once),
        ("finished", surveys::FINISHED),
        ("awkward", surveys::AWKWARD),
        ("scarce", surveys::SCARCE),
    ] {
        holds(name, &read_text(text));
    }
}

#[test]
fn every_invariant_holds_of_surveys_by_chance() {
    for (seed, project) in [
        (1, ""),
        (2, "Cost basis | make\nTax % | 20\nTax on | materials\nOverhead % | 12.5\n"),
        (3, "Stock sizes | yes\nAccept less cover | 1\nOrder date | 2026-03-02\nNeed by | 2026-03-10\n"),
        (4, "Merge sizes | 1\nStock sizes | yes\nCost basis | make\nCurrency | JPY\nFloors finished | no\n"),
        (5, "Sizes given are | finished\nCost basis | make\n"),
        (6, "Stock sizes | yes\nAccept less cover | 4\nCost basis | buy\n"),
    ] {
        holds(&format!("seed {seed}"), &read_text(&surveys::by_chance(seed, 120, project)));
    }
}

#[test]
fn every_check_reports_its_planted_faults() {
    let mut missed = Vec::new();
    let surveys = [surveys::MIXED, surveys::SCARCE].map(|survey| {
        let input = read_text(survey);
        (survey, document(&input), input)
    });
    let planted = ROOMS.iter().flat_map(|(survey, checks)| checks.iter().map(move |check| (*survey, check)));
    for (survey, check) in planted {
        let (_, sound, input) = surveys.iter().find(|(text, ..)| *text == survey).unwrap();
        assert!(!check.plants.is_empty(), "{}: no fault is planted for it", check.name);
        let before = (check.faults)(&Run { document: sound, input });
        assert!(before.is_empty(), "{}: {before:#?}", check.name);
        for (fault, plant) in check.plants {
            let mut planted = sound.clone();
            plant(&mut planted);
            assert!(planted != *sound, "{fault}: nothing was spoilt");
            if (check.faults)(&Run { document: &planted, input }).is_empty() {
                missed.push(format!("{}: {fault}", check.name));
            }
        }
    }
    assert!(missed.is_empty(), "not reported:\n{}", missed.join("\n"));
}

#[test]
fn no_two_checks_have_one_name() {
    let mut names: Vec<&str> = checks().map(|check| check.name).collect();
    names.sort_unstable();
    assert!(names.windows(2).all(|pair| pair[0] != pair[1]), "{names:#?}");
}
