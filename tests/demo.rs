//! The demonstration surveys are what their generator writes, and show what they say they show.

#[path = "../demo/generate/surveys/mod.rs"]
mod surveys;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use calamine::{Data, Reader, Xlsx, open_workbook};

fn demo(file: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("demo").join(file)
}

#[test]
fn the_files_are_what_the_generator_writes() {
    for (file, survey) in
        [("harrier-wharf.xlsx", surveys::harrier::survey()), ("larch-terrace.xlsx", surveys::larch::survey())]
    {
        let written = survey.to_bytes().expect("a small workbook");
        assert_eq!(written, survey.to_bytes().expect("a small workbook"), "{file}: two writings differ");
        let kept = fs::read(demo(file)).expect("the file is in demo/");
        assert!(kept == written, "{file} is not the generator's: cargo run --example demo-surveys");
    }
}

/// The texts and numbers under one heading of `Openings`, rows without a size left out.
fn column(file: &str, heading: &str) -> Vec<String> {
    let mut workbook: Xlsx<_> = open_workbook(demo(file)).expect("the file is in demo/");
    let mut cells = workbook.worksheet_cells_reader("Openings").expect("a sheet Openings");
    let (mut wanted, mut sizes, mut found) = (None, BTreeSet::new(), Vec::new());
    let mut with_size = BTreeSet::new();
    while let Some(cell) = cells.next_cell().expect("a cell") {
        let (row, column) = cell.get_position();
        let value = Data::from(cell.get_value().clone()).to_string();
        if row == 0 {
            wanted = if value == heading { Some(column) } else { wanted };
            if value.starts_with("Width") || value.starts_with("Height") {
                sizes.insert(column);
            }
        } else if !value.is_empty() {
            if sizes.contains(&column) {
                with_size.insert(row);
            }
            if wanted == Some(column) {
                found.push((row, value));
            }
        }
    }
    found.retain(|(row, _)| with_size.contains(row));
    found.into_iter().map(|(_, value)| value).collect()
}

#[test]
fn harrier_wharf_is_a_block_of_84_flats() {
    let units = column("harrier-wharf.xlsx", "Unit");
    // Ground floor 7 + 5 + 5 + 4 = 21; each of eight upper floors 2 x 7 + 4 x 5 + 2 x 4 + 2 x 6 = 54.
    assert_eq!(units.len(), 21 + 8 * 54);
    assert_eq!(units.iter().collect::<BTreeSet<_>>().len(), 4 + 8 * 10);
}

#[test]
fn larch_terrace_is_30_flats_with_some_rows_for_two_openings() {
    let units = column("larch-terrace.xlsx", "Unit");
    // Ten of each sort of flat: 3, 4 and 3 rows; in the first sort one row stands for two openings.
    assert_eq!(units.len(), 10 * (3 + 4 + 3));
    assert_eq!(units.iter().collect::<BTreeSet<_>>().len(), 30);
    assert_eq!(column("larch-terrace.xlsx", "Quantity"), vec!["2"; 10]);
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
