//! Every query that a run may raise fires where it should, and is silent a step before that:
//! `tests/queries/` holds a file for each room, and in it a case for each code.
//!
//! ```text
//! == over-ceiling
//! [Project]
//! Ceiling height | 96
//! [Openings]
//! Opening | Width | Height | Sill
//! - W1 | 36 | 60 1/16 | 36
//! + W1 | 36 | 60 | 36
//! ```
//!
//! A case is a survey as `tests/support` writes one; `--- block-b.xlsx` begins another file, and
//! `--- earlier.xlsx` the fit-out that the run takes up. Lines that
//! begin with `- ` are in the survey that raises the query, those with `+ ` in the one that comes near,
//! all others in both. The first must raise the code and no other that the second does not raise; the
//! second must not raise it. A code that never comes alone names the others: `== no-fixing-listed with
//! fixings-without-price`. Bare numbers are in inches unless `Units` says otherwise. Lines that begin with `# `
//! say what is not plain. What the first raises is said in a line, and so is what to do about it.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use crate::support::{Surveys, files_of, surveys};
use sillbook::length::Unit;
use sillbook::pipeline::{self, RunError, Silent};
use sillbook::query::GatheredQuery;

/// Letters of a line, on the sheet `Queries` and in a terminal.
const LINE: usize = 110;

#[test]
fn codes_are_unique_and_short_words_between_hyphens() {
    let mut seen = BTreeSet::new();
    for entry in pipeline::catalog() {
        let code = entry.code;
        let is_word = |word: &str| !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_lowercase());
        assert!(code.split('-').all(is_word), "{code} is not words in lower case between hyphens");
        assert!(seen.insert(code), "two queries have the code {code}");
    }
}

#[test]
fn every_query_fires_and_is_silent_a_step_before() {
    let texts = texts();
    let cases: Vec<Case> = texts.iter().flat_map(|text| cases(text)).collect();
    let mut faults = String::new();
    for case in &cases {
        faults += &case.faults();
    }
    let mut counted: BTreeMap<&str, usize> =
        pipeline::catalog().into_iter().map(|entry| (entry.code, 0)).collect();
    for Case { code, .. } in &cases {
        match counted.get_mut(code) {
            Some(count) => *count += 1,
            None => writeln!(faults, "{code}: no query has this code").expect("a text takes it"),
        }
    }
    let missing: Vec<&str> =
        counted.iter().filter(|(_, count)| **count == 0).map(|(code, _)| *code).collect();
    for (code, _) in counted.iter().filter(|(_, count)| **count > 1) {
        writeln!(faults, "{code}: it has more than one case").expect("a text takes it");
    }
    assert!(faults.is_empty(), "\n{faults}");
    assert!(missing.is_empty(), "without a case: {missing:#?}");
}

/// One code, with the survey that raises it and the one that comes near.
struct Case<'t> {
    code: &'t str,
    /// Others that always come with it.
    with: Vec<&'t str>,
    lines: Vec<&'t str>,
}

fn texts() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/queries");
    let entries = fs::read_dir(folder).expect("the folder is there");
    let mut paths: Vec<_> = entries.map(|entry| entry.expect("a readable folder").path()).collect();
    paths.sort();
    paths.iter().map(|path| fs::read_to_string(path).expect("a file of cases is a text")).collect()
}

fn cases(text: &str) -> impl Iterator<Item = Case<'_>> {
    text.split("\n== ").skip(1).map(|case| {
        let (title, survey) = case.split_once('\n').expect("a survey stands under its code");
        let (code, with) = title.split_once(" with ").unwrap_or((title, ""));
        let with = with.split(", ").filter(|with| !with.is_empty()).collect();
        let lines = survey.lines().filter(|line| !line.is_empty() && !line.starts_with("# "));
        Case { code, with, lines: lines.collect() }
    })
}

impl Case<'_> {
    /// What is not as it should be, as lines.
    fn faults(&self) -> String {
        let (there, near) = (raised(&self.survey("- ", "+ ")), raised(&self.survey("+ ", "- ")));
        let mut faults = String::new();
        for text in there.iter().flat_map(|query| [&query.message, &query.hint]) {
            let letters = text.chars().count();
            if letters > LINE {
                writeln!(faults, "{}: {letters} letters: {text}", self.code).expect("a text takes it");
            }
        }
        let [there, near] = [&there, &near].map(|raised| codes(raised));
        let new: BTreeSet<&str> = there.difference(&near).copied().collect();
        let wanted: BTreeSet<&str> = self.with.iter().copied().chain([self.code]).collect();
        if new != wanted {
            let (code, new) = (self.code, format!("new is {new:?} of {there:?}"));
            writeln!(faults, "{code}: {new}, near it are {near:?}").expect("a text takes it");
        }
        faults
    }

    /// The survey of which the lines under one mark are a part, and those under the other are not.
    fn survey(&self, with: &str, without: &str) -> String {
        let lines = self.lines.iter().filter(|line| !line.starts_with(without));
        lines.map(|line| line.strip_prefix(with).unwrap_or(line)).collect::<Vec<_>>().join("\n")
    }
}

fn codes(queries: &[GatheredQuery]) -> BTreeSet<&'static str> {
    queries.iter().map(|query| query.code).collect()
}

/// All queries that a whole run raises.
fn raised(text: &str) -> Vec<GatheredQuery> {
    let Surveys { mut grids, sheets } = surveys(&files_of(text));
    let earlier =
        grids.iter().position(|grid| grid.survey == "earlier.xlsx").map(|place| grids.remove(place));
    let named = text.lines().any(|line| line.starts_with("Units |"));
    let units = (!named).then_some(Unit::Inch);
    match pipeline::understand_after(earlier.as_ref(), &grids, sheets, units) {
        Ok(input) => pipeline::work(&input, &Silent).expect("what is read can be worked").queries,
        Err(RunError::RuleSheets { queries, .. }) => queries,
        Err(error) => panic!("{error} in\n{text}"),
    }
}
