//! What a run takes of the machine's memory, by what it works on, and the most that it may. A run that
//! would take more is refused before it does: where memory ends, the system ends the program without a word.
//!
//! The figures are the greatest that were measured, of a whole run with its workbook.

use std::collections::HashSet;

use super::{Input, RunError};
use crate::grid::{Grid, Value};
use crate::order::{Order, OrderLine};
use crate::rules::columns::products::PRODUCTS;
use crate::survey::Survey;
use crate::tables;

/// Most memory that a run takes, in KiB: 2.5 GiB.
pub const MOST_MEMORY: u64 = 2_560 * 1_024;

/// What every run takes, in KiB, with a sheet for each of a thousand units.
const ALWAYS: u64 = 170 * 1_024;
/// What is taken for each row of the surveys, and for five of their cells, as long as they are read, in KiB:
/// of cells that say nothing.
const A_ROW: u64 = 3;
const FIVE_CELLS: u64 = 2;
/// What is taken for each opening with one blind, further blind, label with its code, unit, phase, line of the
/// order, and query of the survey, in KiB.
const AN_OPENING: u64 = 10;
const A_BLIND: u64 = 1;
const A_LABEL: u64 = 3;
const A_UNIT: u64 = 4;
const A_PHASE: u64 = 20;
const A_LINE: u64 = 10;
const A_QUERY: u64 = 2;
/// Labels that there are at the most.
const MOST_LABELS: u64 = 200_000;
/// Louvers in the plan of a roll, of which a KiB holds so many.
const LOUVERS_IN_A_KIB: u64 = 20;
/// Openings beside stock sizes that each may be weighed for them, of which a KiB holds so many.
const WEIGHED_IN_A_KIB: u64 = 5;
/// What an opening takes that is worked out and not written.
const A_WORKED_OPENING: u64 = 10;
/// What a row of `Products` takes beside that: it has a cell for every rule.
const A_PRODUCT: u64 = 45;
/// What is taken for each row that is read of an earlier fit-out, and for each blind that it remembers
/// as long as the run lasts.
const AN_EARLIER_ROW: u64 = 3;
const A_KEPT_BLIND: u64 = 4;
/// How often a text is held, as it is read and in all lists that show it; and one of an earlier fit-out.
const TEXT_TIMES: u64 = 13;
const EARLIER_TEXT_TIMES: u64 = 3;

/// Whether there is memory to read all rows of the surveys, and of the fit-out that they go on from.
///
/// # Errors
/// [`RunError::TooLarge`].
pub(super) fn for_rows(grids: &[Grid], earlier: Option<&Grid>) -> Result<(), RunError> {
    let ([rows, cells, text], [earlier_rows, _, earlier_text]) = (size_of(grids), size_of(earlier));
    let products = grids.iter().flat_map(|grid| &grid.sheets);
    let products = products.filter(|sheet| tables::is_named(sheet, PRODUCTS.sheet));
    let products = products.map(|sheet| sheet.rows.len() as u64).sum::<u64>();
    let [for_rows, for_products, for_earlier, for_text] = [
        A_ROW * rows + FIVE_CELLS * cells / 5,
        A_PRODUCT * products,
        AN_EARLIER_ROW * earlier_rows,
        (TEXT_TIMES * text + EARLIER_TEXT_TIMES * earlier_text) / 1_024,
    ];
    let most = for_rows.max(for_products).max(for_earlier).max(for_text);
    within(for_rows + for_products + for_earlier + for_text, || match most {
        most if most == for_products => format!("it has {products} rows on {}", PRODUCTS.sheet),
        most if most == for_rows => format!("it has {rows} rows of {cells} cells"),
        most if most == for_earlier => format!("the earlier fit-out has {earlier_rows} rows"),
        _ => format!("its texts have {} million letters", (text + earlier_text) / 1_000_000),
    })
}

/// How many rows and cells files have, and how many bytes of text.
fn size_of<'g>(grids: impl IntoIterator<Item = &'g Grid>) -> [u64; 3] {
    let rows = grids.into_iter().flat_map(|grid| &grid.sheets).flat_map(|sheet| &sheet.rows);
    rows.fold([0, 0, 0], |[rows, cells, text], row| {
        let of_row: usize = row.cells.iter().map(|(_, value)| length_of(value)).sum();
        [rows + 1, cells + row.cells.len() as u64, text + of_row as u64]
    })
}

/// How many there are of what takes memory.
pub(super) struct Counts {
    openings: usize,
    blinds: u64,
    units: usize,
    phases: usize,
    stock_sizes: usize,
    kept: usize,
    queries: usize,
}

impl Counts {
    pub(super) fn of(Input { survey, rules, earlier, queries, .. }: &Input) -> Counts {
        let who = || survey.openings.iter().map(|opening| &opening.who);
        Counts {
            openings: survey.openings.len(),
            blinds: who().map(|who| u64::from(who.quantity)).sum(),
            units: who().map(|who| (&who.building, &who.unit)).collect::<HashSet<_>>().len(),
            phases: who().map(|who| &who.phase).collect::<HashSet<_>>().len(),
            stock_sizes: if rules.project.stock_sizes { rules.stock_sizes.len() } else { 0 },
            kept: earlier.as_ref().map_or(0, |earlier| earlier.blinds.len()),
            queries: queries.len(),
        }
    }

    /// Whether there is memory to work out the openings, and to write what comes of them if they are alike.
    ///
    /// # Errors
    /// [`RunError::TooLarge`].
    pub(super) fn hold(&self) -> Result<(), RunError> {
        within(self.needed(), || self.in_words())
    }

    /// The same as their order is.
    ///
    /// # Errors
    /// [`RunError::TooLarge`].
    pub(super) fn hold_with(&self, order: &Order) -> Result<(), RunError> {
        let lines = order.lines.len();
        let of_line =
            |line: &OrderLine| line.louvers.map_or(0, |louvers| u64::from(louvers.count) * line.quantity);
        let louvers: u64 = order.lines.iter().map(of_line).sum();
        within(self.needed() + A_LINE * lines as u64 + louvers / LOUVERS_IN_A_KIB, || {
            let different = if lines > 1 { format!(", {lines} different blinds") } else { String::new() };
            format!("{}{different}, {louvers} louvers", self.in_words())
        })
    }

    fn needed(&self) -> u64 {
        AN_OPENING * self.openings as u64
            + A_BLIND * self.blinds.saturating_sub(self.openings as u64)
            + A_LABEL * self.blinds.min(MOST_LABELS)
            + A_UNIT * self.units as u64
            + A_PHASE * self.phases as u64
            + A_KEPT_BLIND * self.kept as u64
            + A_QUERY * self.queries as u64
            + self.openings as u64 * self.stock_sizes as u64 / WEIGHED_IN_A_KIB
    }

    /// Those of which there may be too many; what there is one of is not named.
    fn in_words(&self) -> String {
        let named = [
            (self.units, "units"),
            (self.phases, "phases"),
            (self.stock_sizes, "stock sizes"),
            (self.kept, "blinds of the earlier fit-out"),
            (self.queries, "queries"),
        ];
        let named = named.into_iter().filter(|(count, _)| *count > 1);
        let named: Vec<String> = named.map(|(count, of)| format!(", {count} {of}")).collect();
        format!("it has {} openings, {} blinds{}", self.openings, self.blinds, named.concat())
    }
}

/// How many choices may be worked out at once beside the survey as it stands; one at the least.
pub(super) fn choices_at_once(survey: &Survey) -> usize {
    let each = A_WORKED_OPENING * survey.openings.len() as u64;
    usize::try_from(MOST_MEMORY / 2 / each.max(1)).map_or(usize::MAX, |choices| choices.max(1))
}

fn within(needed: u64, what: impl FnOnce() -> String) -> Result<(), RunError> {
    match ALWAYS + needed > MOST_MEMORY {
        true => Err(RunError::TooLarge { what: what() }),
        false => Ok(()),
    }
}

/// Bytes of a cell's text.
fn length_of(value: &Value) -> usize {
    match value {
        Value::Text(text) | Value::Date(text) | Value::Error(text) => text.len(),
        Value::Number(_) | Value::Percent(_) | Value::Truth(_) | Value::NoResult => 0,
    }
}

#[cfg(test)]
mod tests {
    use super::{Counts, MOST_LABELS};
    use crate::workbook::Limits;

    /// A project that there is memory for, but for a change.
    fn with(change: impl FnOnce(&mut Counts)) -> Counts {
        let (openings, blinds) = (100_000, 100_000);
        let mut counts =
            Counts { openings, blinds, units: 1, phases: 1, stock_sizes: 0, kept: 0, queries: 0 };
        change(&mut counts);
        counts
    }

    #[test]
    fn labels_end_where_their_sheet_does() {
        assert_eq!(Limits::SPREADSHEET.labels, MOST_LABELS);
    }

    #[test]
    fn what_there_is_too_much_of_is_named() {
        assert!(with(|_| {}).hold().is_ok());
        let too_many: [(&str, Counts); 6] = [
            (
                "it has 200000 openings, 200000 blinds",
                with(|of| (of.openings, of.blinds) = (200_000, 200_000)),
            ),
            ("1000000 blinds", with(|of| of.blinds = 1_000_000)),
            ("300000 units", with(|of| of.units = 300_000)),
            ("90000 phases", with(|of| of.phases = 90_000)),
            ("500000 blinds of the earlier fit-out", with(|of| of.kept = 500_000)),
            ("900000 queries", with(|of| of.queries = 900_000)),
        ];
        for (named, counts) in too_many {
            let told = counts.hold().unwrap_err().to_string();
            assert!(told.contains(named), "{told}");
        }
    }
}
