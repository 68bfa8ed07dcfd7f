//! Tables: a heading over each figure, a row for each row.

use std::collections::BTreeMap;

use serde_json::Value;

use super::{Figure, Run, Shown};
use crate::support::package::Sheet;

/// A table that must stand on a sheet.
pub(super) struct Table<'r> {
    pub(super) run: &'r Run,
    pub(super) sheet: &'r Sheet,
    /// The row of its headings.
    pub(super) top: u32,
    pub(super) rows: Vec<Value>,
}

impl<'r> Table<'r> {
    /// The table with that heading in that column.
    pub(super) fn under(run: &'r Run, sheet: &str, (column, heading): (u32, &str), rows: Vec<Value>) -> Self {
        let sheet = &run.package.sheets[sheet];
        let found = sheet.cells.iter().find(|(at, cell)| at.1 == column && cell.text == heading);
        let top = found.unwrap_or_else(|| panic!("{}: no heading {heading}", run.name)).0.0;
        Table { run, sheet, top, rows }
    }

    /// The column of each figure that the table shows.
    fn columns(&self, figures: &[Figure]) -> BTreeMap<usize, u32> {
        let headings = self.sheet.cells.range((self.top, 0)..(self.top + 1, 0));
        let named = headings.filter(|(_, cell)| !cell.text.is_empty()).map(|(at, cell)| {
            let is_it = |figure: &Figure| figure.heading(self.run.units()) == cell.text;
            let figure = figures.iter().position(is_it);
            (figure.unwrap_or_else(|| panic!("{}: no figure is named {:?}", self.run.name, cell.text)), at.1)
        });
        named.collect()
    }
}

/// Figures that the rules make equal: a blind has as many clips as brackets, and a box of its own; sizes that
/// are proven are as few as possible.
const EQUAL: [(&str, &str); 4] = [
    ("Brackets per blind", "Valance clips"),
    ("Brackets each", "Clips"),
    ("Sizes", "Fewest possible"),
    ("Blinds", "Boxes"),
];

/// Holds the tables of all runs to their rows, figure by figure.
pub(super) fn check(figures: &[Figure], tables: &[Table<'_>]) {
    let mut wrong = Vec::new();
    let mut shown: Vec<Vec<Shown>> = vec![Vec::new(); figures.len()];
    let mut is_shown = vec![false; figures.len()];
    for table in tables {
        let units = table.run.units();
        let columns = table.columns(figures);
        columns.keys().for_each(|&figure| is_shown[figure] = true);
        for (row, below) in table.rows.iter().zip(table.top + 1..) {
            for (place, figure) in figures.iter().enumerate() {
                let wanted = figure.of(row, units);
                let cell = columns.get(&place).and_then(|&column| table.sheet.cells.get(&(below, column)));
                if !wanted.is_in(cell) {
                    let found = cell.map(|cell| &cell.text);
                    wrong.push(format!(
                        "{}, row {}, {}: {found:?} for {wanted:?}",
                        table.run.name,
                        below + 1,
                        figure.name
                    ));
                }
                shown[place].push(wanted);
            }
        }
        let after = table.top + 1 + table.rows.len() as u32;
        let more = table.sheet.cells.range((after, 1)..(after + 1, 0)).count();
        assert_eq!(more, 0, "{}: a row more than there are", table.run.name);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let unshown: Vec<&str> = figures
        .iter()
        .zip(is_shown)
        .filter(|(_, is_shown)| !is_shown)
        .map(|(figure, _)| figure.name)
        .collect();
    assert!(unshown.is_empty(), "no sheet shows {unshown:?}");
    let mut alike = alike(figures, &shown);
    alike.retain(|pair| !EQUAL.contains(pair));
    assert!(alike.is_empty(), "could change places unseen: {alike:?}");
}

/// Figures that are the same in every row.
pub(super) fn alike(figures: &[Figure], shown: &[Vec<Shown>]) -> Vec<(&'static str, &'static str)> {
    let mut alike = Vec::new();
    for (place, figure) in figures.iter().enumerate() {
        for (other, another) in figures.iter().enumerate().skip(place + 1) {
            if shown[place] == shown[other] {
                alike.push((figure.name, another.name));
            }
        }
    }
    alike
}
