//! Headings that the survey's own words do not hold: each is read as what it means, or a check or a
//! stop names it, so that no default stands in for what someone wrote. And what a person says of them.
//!
//! `data/renamings.txt` has plausible other headings for each column (common practice, no source).

use std::collections::BTreeSet;
use std::fmt::Write as _;

use crate::support::surveys;
use proptest::prelude::*;
use serde_json::Value;
use sillbook::exchange::json;
use sillbook::length::Unit;
use sillbook::pipeline::{self, Silent};
use sillbook::query::Severity;
use sillbook::schema::openings::OPENINGS;
use sillbook::tables::By;

/// A column with cells and other headings for it.
struct Renaming {
    column: &'static str,
    cells: Vec<&'static str>,
    headings: Vec<&'static str>,
}

fn renamings() -> Vec<Renaming> {
    let lines = include_str!("data/renamings.txt").lines().filter(|line| !line.starts_with('#'));
    let list = |text: &'static str| text.split(';').map(str::trim).collect();
    lines
        .map(|line| {
            let parts: Vec<&'static str> = line.split('|').map(str::trim).collect();
            let [column, cells, headings] = parts[..] else { panic!("{line}: column | cells | headings") };
            Renaming { column, cells: list(cells), headings: list(headings) }
        })
        .collect()
}

/// Columns without which a row is no opening with a size.
const NEEDED: [&str; 3] = ["Opening", "Width", "Height"];

/// A survey in inches of those columns, each under a heading, with its cells.
fn survey(columns: &[(&str, &[&str])]) -> String {
    let headings: Vec<&str> = columns.iter().map(|(heading, _)| *heading).collect();
    let mut text = format!("[Openings]\n{}\n", headings.join(" | "));
    for row in 0..2 {
        let cells: Vec<&str> = columns.iter().map(|(_, cells)| cells[row]).collect();
        writeln!(text, "{}", cells.join(" | ")).unwrap();
    }
    text
}

/// What comes of a survey in inches: its document, and what its headings were taken as.
struct Read {
    document: Value,
    /// Heading, the column that it was taken as, by what.
    columns: Vec<(String, Option<&'static str>, By)>,
}

impl Read {
    fn of(text: &str) -> Result<Read, String> {
        let surveys = surveys(&[("survey.xlsx", text)]);
        let input = pipeline::understand(&surveys.grids, surveys.sheets, Some(Unit::Inch))
            .map_err(|error| error.to_string())?;
        let report = pipeline::work(&input, &Silent).map_err(|error| error.to_string())?;
        let mut document = Vec::new();
        json::write(&report, &mut document).unwrap();
        let columns = report.survey.columns.iter();
        let columns = columns
            .map(|read| (read.heading.clone(), read.taken.map(|column| column.name), read.by))
            .collect();
        Ok(Read { document: serde_json::from_slice(&document).unwrap(), columns })
    }

    /// Whether a check or a stop names a text.
    fn asks_about(&self, text: &str) -> bool {
        let asked = self.document["queries"].as_array().unwrap().iter();
        let mut asked = asked.filter(|query| query["severity"] != Severity::Note.word());
        asked.any(|query| {
            query.to_string().contains(&Value::from(text).to_string().trim_matches('"').to_owned())
        })
    }

    fn takes(&self, heading: &str) -> Option<&'static str> {
        self.columns.iter().find(|(known, ..)| known == heading).and_then(|(_, taken, _)| *taken)
    }

    fn openings(&self) -> &[Value] {
        self.document["openings"].as_array().unwrap()
    }
}

/// The columns that a survey needs, but for one, which stands under another heading.
fn renamed<'s>(all: &'s [Renaming], renamed: &Renaming, heading: &'s str) -> Vec<(&'s str, &'s [&'s str])> {
    let needed = all.iter().filter(|one| NEEDED.contains(&one.column) && one.column != renamed.column);
    let needed = needed.map(|one| (one.column, one.cells.as_slice()));
    let own = all.iter().find(|one| one.column == renamed.column).unwrap();
    needed.chain([(heading, own.cells.as_slice())]).collect()
}

#[test]
fn every_column_has_renamings() {
    let listed: BTreeSet<&str> = renamings().iter().map(|one| one.column).collect();
    let offered: BTreeSet<&str> = OPENINGS.offered().map(|column| column.name).collect();
    assert_eq!(listed, offered);
    for one in renamings() {
        assert!(one.headings.len() >= 10, "{}: {}", one.column, one.headings.len());
    }
}

#[test]
fn a_renamed_heading_is_read_right_or_asked_about_by_its_name() {
    let all = renamings();
    let (mut read, mut asked, mut silent) = (0, 0, String::new());
    for one in &all {
        for heading in &one.headings {
            match Read::of(&survey(&renamed(&all, one, heading))) {
                Ok(run) if run.takes(heading) == Some(one.column) => read += 1,
                Ok(run) if run.asks_about(heading) => asked += 1,
                Ok(run) => writeln!(silent, "{} as {heading}: taken as {:?}", one.column, run.takes(heading))
                    .unwrap(),
                // Without a width, a height or an id there may be no table at all; then it is named.
                Err(error) if error.contains(heading) => asked += 1,
                Err(error) => writeln!(silent, "{} as {heading}: {error}", one.column).unwrap(),
            }
        }
    }
    assert!(silent.is_empty(), "{read} read, {asked} asked about, and in silence:\n{silent}");
    // Most are read, without a question.
    assert!(read > asked, "{read} read, {asked} asked about");
}

/// What is made and hung.
fn blinds(run: &Read) -> Vec<Value> {
    let made = [
        "state",
        "quantity",
        "product",
        "color",
        "mount",
        "width_mm",
        "drop_mm",
        "source",
        "louvers",
        "draw",
        "control",
        "control_side",
        "wand_mm",
        "brackets",
        "fixings",
        "valance_mm",
        "overlap_left_mm",
        "overlap_right_mm",
    ];
    let own = |opening: &Value| {
        let values = made.map(|key| {
            let mut value = opening[key].clone();
            // A height above a floor to come is shown where that is known; the blind is no other for it.
            if let Some(parts) = value.as_object_mut() {
                parts.remove("top_above_finished_floor_mm");
            }
            value
        });
        values.into_iter().collect()
    };
    run.openings().iter().map(own).collect()
}

/// Some columns of the table, the needed ones always, each with one of its other headings or none.
fn some_columns() -> impl Strategy<Value = Vec<(usize, Option<usize>)>> {
    let count = renamings().len();
    prop::collection::vec((any::<bool>(), prop::option::weighted(0.3, 0..10_usize)), count).prop_map(
        |chosen| {
            let with_place = chosen.into_iter().enumerate();
            with_place.filter(|(_, (here, _))| *here).map(|(at, (_, heading))| (at, heading)).collect()
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_blind_changes_by_a_renamed_heading_unless_a_query_names_it(chosen in some_columns()) {
        let all = renamings();
        let here = |column: &str| chosen.iter().find(|(at, _)| all[*at].column == column);
        let mut plain = Vec::new();
        let mut other = Vec::new();
        let mut changed = Vec::new();
        for one in &all {
            let needed = NEEDED.contains(&one.column);
            let Some((_, heading)) = here(one.column).copied().or(needed.then_some((0, None))) else { continue };
            let heading = heading.map_or(one.column, |heading| one.headings[heading]);
            if heading != one.column {
                changed.push(heading);
            }
            plain.push((one.column, one.cells.as_slice()));
            other.push((heading, one.cells.as_slice()));
        }
        let (Ok(plain), Ok(other)) = (Read::of(&survey(&plain)), Read::of(&survey(&other))) else { return Ok(()) };
        if blinds(&plain) != blinds(&other) {
            let named = changed.iter().any(|heading| other.asks_about(heading));
            prop_assert!(named, "{changed:?} changed a blind in silence");
        }
    }

    #[test]
    fn no_blind_changes_by_a_missing_column_unless_it_is_told(chosen in some_columns()) {
        let all = renamings();
        let (mut whole, mut part, mut left_out) = (Vec::new(), Vec::new(), Vec::new());
        for (at, one) in all.iter().enumerate() {
            let needed = NEEDED.contains(&one.column);
            let here = chosen.iter().find(|(known, _)| *known == at).map(|(_, heading)| *heading);
            let Some(heading) = here.or(needed.then_some(None)) else { continue };
            whole.push((one.column, one.cells.as_slice()));
            if heading.is_some() && !needed {
                left_out.push(one.column);
            } else {
                part.push((one.column, one.cells.as_slice()));
            }
        }
        let (Ok(whole), Ok(part)) = (Read::of(&survey(&whole)), Read::of(&survey(&part))) else { return Ok(()) };
        let assumed = part.document["assumptions"].to_string();
        let asked = part.document["queries"].to_string().to_lowercase();
        let told =
            |column: &&str| assumed.contains(&format!("\"{column}\"")) || asked.contains(&column.to_lowercase());
        // A value serves blinds alone: an opening that is held is told by the stop that holds it.
        let stops = || part.document["queries"].as_array().unwrap().iter().filter(|query| query["severity"] == "stop");
        let is_stopped = |opening: &Value| {
            let is_named = |stop: &Value| stop["openings"].as_array().unwrap().contains(&opening["name"]);
            opening["state"] == "held" && stops().any(is_named)
        };
        let (before, after) = (blinds(&whole), blinds(&part));
        let changed = before.len() != after.len()
            || before.iter().zip(&after).zip(part.openings()).any(|((before, after), opening)| {
                before != after && !is_stopped(opening)
            });
        prop_assert!(!changed || left_out.iter().any(told), "{left_out:?} left out in silence");
    }
}

#[test]
fn a_sheet_headings_says_what_a_heading_means_and_in_which_unit() {
    let text = "[Openings]\nOpening | Width | Height | Sill elevation | Gasket\nW1 | 36 | 48 | 610 | 3/8\"\n\
                [Headings]\nSheet | Heading | Means | Unit\nOpenings | SILL  Elevation | Sill height | mm\n| Gasket | not needed |";
    let run = Read::of(text).unwrap();
    assert_eq!(run.takes("Sill elevation"), Some("Sill height"));
    assert!(!run.asks_about("Sill elevation") && !run.asks_about("Gasket"));
    let bottom = &run.openings()[0]["brackets"]["top_above_floor_mm"];
    // 610 mm of sill and 54 1/4 in: the window, 6 in above it, and 1/4 in of bracket over the rail.
    assert_eq!(bottom.as_f64(), Some(1987.95));
    let by = |heading: &str| run.columns.iter().find(|(known, ..)| known == heading).unwrap().2;
    assert_eq!((by("Sill elevation"), by("Gasket")), (By::Headings, By::Headings));
}

#[test]
fn an_answer_says_what_a_heading_means() {
    let asked = "[Openings]\nOpening | Width | Height | Sill elevation\nW1 | 36 | 48 | 24\n";
    let run = Read::of(asked).unwrap();
    assert!(run.asks_about("Sill elevation"));
    assert_eq!(run.openings()[0]["state"], "held");
    let answered = |answer: &str| {
        let row = format!("heading-decides | Openings!D1 | Headings | Sill elevation | {answer}");
        Read::of(&format!("{asked}[Queries]\nCode | Opening | Column | As read | Answer\n{row}")).unwrap()
    };
    for (answer, state, taken) in [
        ("Sill height", "sized", Some("Sill height")),
        ("not needed", "sized", None),
        ("sill somewhere", "held", None),
        ("ok", "held", None),
    ] {
        let run = answered(answer);
        assert_eq!(
            (run.openings()[0]["state"].as_str(), run.takes("Sill elevation")),
            (Some(state), taken),
            "{answer}"
        );
    }
}

#[test]
fn one_workbook_of_our_sheets_speaks_for_a_list_without_them() {
    let list = "[list]\nMark | Wd | Ht | Sill elevation\nW1 | 36 | 48 | 24\n";
    let ours = "[Project]\nUnits | in\nProject | Larch Row\n[Headings]\nHeading | Means\nSill elevation | Sill height\n";
    let run = surveys(&[("list.csv", list), ("project.xlsx", ours)]);
    let input = pipeline::understand(&run.grids, run.sheets, None).unwrap();
    let report = pipeline::work(&input, &Silent).unwrap();
    assert_eq!(report.rules.project.name, "Larch Row");
    assert!(report.complete(), "{:#?}", report.queries);
    // So does the blank form, with its project filled in and no opening on it.
    let form = format!("{ours}[Openings]\nOpening | Width | Height\nexample - not read | 36 | 48\n");
    let run = surveys(&[("list.csv", list), ("project.xlsx", &form)]);
    let input = pipeline::understand(&run.grids, run.sheets, None).unwrap();
    assert_eq!((input.rules.project.name.as_str(), input.survey.openings.len()), ("Larch Row", 1));
    let alone = surveys(&[("project.xlsx", ours)]);
    assert!(pipeline::understand(&alone.grids, alone.sheets, None).is_err());
}

#[test]
fn where_no_table_is_found_its_headings_are_named() {
    let headings = [
        "Clear span",
        "Clear rise",
        "Tagging",
        "Storey band",
        "Slat finish",
        "Fixing ground",
        "Sash way",
        "Sill over FFL",
        "Jamb to wall",
        "Reveal inward",
        "Knob out",
        "Way of use",
        "Flat of",
        "Chamber",
        "Batching",
    ];
    let cells = vec!["9"; headings.len()];
    let text = format!("[list]\n{}\n{}\n", headings.join(" | "), cells.join(" | "));
    let error = Read::of(&text).map(|_| ()).expect_err("nothing is known of it");
    for heading in headings {
        assert!(error.contains(heading), "{heading}: {error}");
    }
}
