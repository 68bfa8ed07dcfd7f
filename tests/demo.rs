//! The demonstration surveys are what their generator writes, and show what they say they show.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use crate::surveys;
use sillbook::pipeline::{self, Input, Silent};
use sillbook::query::{QueryPlace, Severity};
use sillbook::report::Report;
use sillbook::sizing::Mount;

const HARRIER: &str = "harrier-wharf.xlsx";
const LARCH: &str = "larch-terrace.xlsx";

fn demo(file: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("demo").join(file)
}

fn read(file: &str) -> Input {
    pipeline::read(&[demo(file)], None, &Silent).expect("the survey can be read")
}

fn work(input: &Input) -> Report<'_> {
    pipeline::work(input, &Silent).expect("the survey can be worked out")
}

fn units(input: &Input) -> usize {
    input.survey.openings.iter().map(|opening| &opening.who.unit).collect::<BTreeSet<_>>().len()
}

#[test]
fn the_files_are_what_the_generator_writes() {
    for (file, survey) in [(HARRIER, surveys::harrier::survey()), (LARCH, surveys::larch::survey())] {
        let written = survey.to_bytes().expect("a small workbook");
        let kept = fs::read(demo(file)).expect("the file is in demo/");
        assert!(kept == written, "{file} is not the generator's: cargo run --example demo-surveys");
    }
}

#[test]
fn harrier_wharf_is_a_block_of_84_flats() {
    let input = read(HARRIER);
    // Ground floor 7 + 5 + 5 + 4 = 21; each of eight upper floors 2 x 7 + 4 x 5 + 2 x 4 + 2 x 6 = 54.
    assert_eq!(work(&input).counts.openings, 21 + 8 * 54);
    assert_eq!(units(&input), 4 + 8 * 10);
}

#[test]
fn larch_terrace_is_30_flats_and_only_a_tensioned_lintel_holds_in_it() {
    let input = read(LARCH);
    let counts = work(&input).counts;
    // Ten of each sort of flat: 3, 4 and 3 rows; in the first sort one row stands for two openings.
    assert_eq!(counts.rows, 10 * (3 + 4 + 3));
    assert_eq!(counts.openings, 10 * (4 + 4 + 3));
    assert_eq!(units(&input), 30);
    // The lintel of a kitchen in flat 23 is prestressed; the kitchen of flat 17 was not measured.
    assert_eq!((counts.held, counts.provisional), (1, 1));
}

/// What each demonstration shows of a real wall, by the query or the figure that it becomes.
#[test]
fn both_demonstrations_show_what_a_wall_and_a_code_ask() {
    let (harrier, larch) = (read(HARRIER), read(LARCH));
    for (input, asked) in [
        (
            &harrier,
            &[
                ("casing-width-unknown", 0),
                ("slab-unknown", 0),
                ("escape-sash-unknown", 0),
                ("escape-too-narrow", 1),
                ("board-alone", 2),
                ("fixing-pulled-out", 1),
                ("wand-twists", 4),
                ("out-of-square", 2),
                ("capacity-unknown", 75),
            ][..],
        ),
        (
            &larch,
            &[
                ("capacity-unknown", 0),
                ("on-casing", 1),
                ("slab-tensioned", 1),
                ("slab-unknown", 0),
                ("motor-supply", 1),
                ("motor-side-unknown", 0),
            ],
        ),
    ] {
        let report = work(input);
        for (code, places) in asked {
            let found = report.queries.iter().filter(|query| query.code == *code);
            assert_eq!(found.map(|query| query.places.len()).sum::<usize>(), *places, "{code}");
        }
    }
    let larch = work(&larch);
    let hangs_up = larch.blinds.iter().flatten().filter(|blind| blind.sizing.hung.mount() == Mount::Ceiling);
    assert_eq!(hangs_up.count(), 1);
}

#[test]
fn every_deliberate_mistake_is_explained_in_the_readme_by_its_cell() {
    let readme = fs::read_to_string(demo("README.md")).expect("demo/README.md");
    let (_, made) = surveys::harrier::openings();
    assert_eq!(
        made.len(),
        surveys::mistakes::mistakes().len(),
        "a mistake names an opening that is not there"
    );
    let missing: Vec<String> = made
        .iter()
        .map(|(mistake, cell)| format!("| `{cell}` | {}/{} |", mistake.unit, mistake.mark))
        .filter(|row| !readme.contains(row.as_str()))
        .collect();
    assert!(missing.is_empty(), "not in demo/README.md:\n{}", missing.join("\n"));
}

#[test]
fn every_deliberate_mistake_becomes_its_query_and_nothing_else_is_held() {
    let input = read(HARRIER);
    let report = work(&input);
    let (_, made) = surveys::harrier::openings();
    for (mistake, cell) in &made {
        let (row, start) = (row_of(cell), format!("{}: ", mistake.severity));
        let about_it = |place: &QueryPlace| place.at.is_some_and(|at| at.row + 1 == row);
        let said: Vec<String> = report
            .queries
            .iter()
            .filter(|query| query.places.iter().any(about_it))
            .map(|query| format!("{}: {}", query.severity, query.message))
            .collect();
        assert!(
            said.iter().any(|said| said.starts_with(&start) && said.contains(mistake.says)),
            "{cell}: no {} that says `{}` among {said:#?}",
            mistake.severity,
            mistake.says
        );
    }
    // Each stop holds one opening, but for the doubled mark, which holds both.
    let stops = made.iter().filter(|(mistake, _)| mistake.severity == Severity::Stop).count() as u64;
    assert_eq!(report.counts.held, stops + 1);
    // A drawing's size and a typical one inside a recess, and a floor that is not laid.
    assert_eq!(report.counts.provisional, 3);
}

/// The row of a cell: 331 for `J331`.
fn row_of(cell: &str) -> u32 {
    cell.trim_start_matches(|letter: char| letter.is_ascii_uppercase()).parse().expect("a row")
}
