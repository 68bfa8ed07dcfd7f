//! What an earlier fit-out remembers: its blinds with what people typed beside them, and the figures that
//! they typed on `Cost summary`. A fit-out is the memory of its project; a run that takes one up reads
//! these sheets of it and no others.
//!
//! A cell that cannot be read refuses the whole file: to go on without it would forget an order.

mod blind;
mod error;
mod inputs;
mod one_line;
mod rules;
mod same_project;
mod surveyed;
mod typed_in;
mod visit;

pub use blind::{BlindNumber, KeptBlind, KeptSpares, Typed, WEIGHT_DECIMALS, opening_key};
pub use error::EarlierError;
pub use rules::KeptRule;
pub use same_project::check as check_same_project;
pub use surveyed::{KeptOpening, answered_in_words, least, meant};
pub use typed_in::typed_in;
pub use visit::{KeptVisit, VisitKey};

use std::collections::BTreeMap;

use crate::grid::{Grid, Sheet};
use crate::length::{Unit, Units};
use crate::name::squeezed;
use crate::place::{CellRef, Sheets};
use crate::query::{Checked, Query};
use crate::rules::TypedFigure;
use crate::rules::columns::project::COLUMNS;
use crate::schema::Column;
use crate::schema::answers::ANSWERS;
use crate::schema::blinds::{BLINDS, LINE, What, is_always_there};
use crate::schema::cost_summary::COST_SUMMARY;
use crate::schema::fitting_days::FITTING_DAYS;
use crate::schema::rules_used::RULES_USED;
use crate::schema::surveyed::AS_SURVEYED;
use crate::tables;
use blind::Row;

/// Position of a blind among those that an earlier fit-out remembers.
pub type KeptIndex = usize;

/// What an earlier fit-out, or a sheet `Blinds` beside the survey, remembers.
#[derive(Clone, Debug, Default)]
pub struct Earlier {
    /// The file's name; empty where a survey itself brings `Blinds`.
    pub file: String,
    /// How it shows lengths; `None` where it shows none.
    pub units: Option<Units>,
    /// The rules that it was worked out with.
    pub rules: Vec<KeptRule>,
    /// Its openings as they were taken, in survey order.
    pub surveyed: Vec<KeptOpening>,
    /// Its blinds, by line and number.
    pub blinds: Vec<KeptBlind>,
    /// Its spare louvers, by line.
    pub spares: Vec<KeptSpares>,
    /// Lines that nothing is on any more.
    pub lines_gone: Vec<usize>,
    /// The visits of its `Fitting days` beside which something is typed.
    pub visits: Vec<KeptVisit>,
    /// The figures that were typed on its `Cost summary`.
    pub inputs: Vec<TypedFigure>,
}

impl Earlier {
    /// The project that it is of; empty if it does not say.
    pub fn project(&self) -> &str {
        rules::item_of_project(&self.rules, &COLUMNS.name)
    }

    /// The code of the currency that its prices are in; empty if it does not say.
    pub fn currency(&self) -> &str {
        rules::item_of_project(&self.rules, &COLUMNS.currency)
    }

    /// A blind by line and number.
    pub fn blind(&self, number: BlindNumber) -> Option<&KeptBlind> {
        let place = self.blinds.binary_search_by_key(&number, |blind| blind.number).ok()?;
        Some(&self.blinds[place])
    }

    /// The highest line number that was ever used.
    pub fn highest_line(&self) -> usize {
        let blinds = self.blinds.iter().map(|blind| blind.number.line);
        let spares = self.spares.iter().map(|spares| spares.line);
        blinds.chain(spares).chain(self.lines_gone.iter().copied()).max().unwrap_or(0)
    }
}

/// Whether a name is that of a sheet, of one that goes on from it, or of a copy of it: `Blinds`, `Blinds 2`,
/// `Blinds (2)`.
fn is_or_continues(found: &str, name: &str) -> bool {
    let (found, name) = (squeezed(found), squeezed(name));
    let of_copy = |rest: &str| rest.trim_matches(['(', ')']).bytes().all(|digit| digit.is_ascii_digit());
    found.strip_prefix(&name).is_some_and(of_copy)
}

/// Whether a sheet of an earlier fit-out is read at all: the others are large, and only printed.
pub fn is_read(sheet: &str) -> bool {
    let names = [
        BLINDS.sheet,
        FITTING_DAYS.sheet,
        COST_SUMMARY.sheet,
        AS_SURVEYED.sheet,
        RULES_USED.sheet,
        ANSWERS.sheet,
        typed_in::QUERIES,
        typed_in::CHANGES,
    ];
    names.into_iter().any(|name| is_or_continues(sheet, name))
}

/// Reads what an earlier fit-out and the surveys' own sheets `Blinds` remember; `None` where there is
/// neither. `unit` is that of lengths that name none.
///
/// # Errors
/// [`EarlierError`] for a file that is no fit-out, for what cannot be read in it, and where two sheets
/// say different things of one blind.
pub fn read(
    earlier: Option<&Grid>,
    surveys: &[Grid],
    sheets: &Sheets,
    unit: Unit,
) -> Result<Option<Checked<Earlier>>, EarlierError> {
    let mut reading = Reading::default();
    if let Some(earlier) = earlier {
        reading.fit_out(earlier, sheets, unit)?;
    }
    for grid in surveys {
        reading.blinds(grid, sheets, unit)?;
    }
    reading.check_lines(sheets)?;
    Ok((reading.found || reading.found_visits).then(|| reading.finish()))
}

/// Reads what one fit-out remembers, which is taken up by no run.
///
/// # Errors
/// As [`read`].
pub fn read_alone(fit_out: &Grid, sheets: &Sheets) -> Result<Earlier, EarlierError> {
    let mut reading = Reading::default();
    // Every length of a fit-out has its unit beside it, or in its heading.
    reading.fit_out(fit_out, sheets, Unit::Millimeter)?;
    reading.check_lines(sheets)?;
    Ok(reading.finish().value)
}

/// What has been read so far.
#[derive(Default)]
struct Reading {
    rows: BTreeMap<BlindNumber, KeptBlind>,
    lines: one_line::Lines,
    kept: Earlier,
    queries: Vec<Query>,
    /// Whether there was a sheet `Blinds`.
    found: bool,
    /// Whether there was a sheet `Fitting days`.
    found_visits: bool,
}

impl Reading {
    fn fit_out(&mut self, grid: &Grid, sheets: &Sheets, unit: Unit) -> Result<(), EarlierError> {
        if let Some((sheet, column)) = lacking(grid) {
            return Err(EarlierError::NoColumn { sheet: sheet.name.clone(), column: column.name });
        }
        self.blinds(grid, sheets, unit)?;
        if !self.found {
            return Err(EarlierError::NoFitOut { file: grid.survey.clone(), sheet: BLINDS.sheet });
        }
        self.kept.file.clone_from(&grid.survey);
        self.kept.rules = rules::read(grid);
        self.kept.inputs = inputs::read(grid, sheets)?;
        self.kept.surveyed = surveyed::read(grid, &|at| sheets.show(at))?;
        Ok(())
    }

    fn blinds(&mut self, grid: &Grid, sheets: &Sheets, unit: Unit) -> Result<(), EarlierError> {
        for sheet in grid.sheets.iter().filter(|sheet| is_or_continues(&sheet.name, BLINDS.sheet)) {
            self.found = true;
            read_sheet(sheet, sheets, unit, self)?;
        }
        for sheet in grid.sheets.iter().filter(|sheet| is_or_continues(&sheet.name, FITTING_DAYS.sheet)) {
            self.found_visits = true;
            let read = visit::read(sheet, &|at| sheets.show(at), unit)?.into_value(&mut self.queries);
            visit::add(&mut self.kept.visits, read, &|at| sheets.show(at))?;
        }
        Ok(())
    }

    /// Refuses a line that is of blinds and of spare louvers: nobody can tell what was ordered on it.
    fn check_lines(&self, sheets: &Sheets) -> Result<(), EarlierError> {
        let blind_of = |line| {
            let numbers = BlindNumber { line, number: 0 }..BlindNumber { line: line + 1, number: 0 };
            self.rows.range(numbers).next()
        };
        let mut spares =
            self.kept.spares.iter().filter_map(|spares| Some((blind_of(spares.line)?.1, spares)));
        match spares.next() {
            Some((blind, spares)) => {
                let (first, second) = (sheets.show(blind.at), sheets.show(spares.at));
                Err(EarlierError::TwoOfALine { first, second, line: spares.line })
            }
            None => Ok(()),
        }
    }

    fn finish(mut self) -> Checked<Earlier> {
        self.kept.blinds = self.rows.into_values().collect();
        self.kept.spares.sort_by_key(|spares| spares.line);
        self.kept.lines_gone.sort_unstable();
        self.kept.lines_gone.dedup();
        Checked { value: self.kept, queries: self.queries }
    }
}

fn read_sheet(
    sheet: &Sheet,
    sheets: &Sheets,
    unit: Unit,
    Reading { rows, lines, kept, queries, .. }: &mut Reading,
) -> Result<(), EarlierError> {
    let show = |at: CellRef| sheets.show(at);
    let table = tables::read(sheet, &BLINDS, unit);
    queries.extend(table.queries);
    let unit_of_headings = table.columns.iter().find_map(|read| read.unit).map(|(unit, _)| unit.shown_in());
    kept.units = kept.units.or(unit_of_headings);
    for row in &table.rows {
        let row = Row { row, show: &show };
        if row.entry(&LINE).is_none() && row.is_remark() {
            continue;
        }
        match row.or(&crate::schema::blinds::WHAT, What::Blind)? {
            What::Blind => {
                let blind = KeptBlind::read(row)?;
                if let Some(first) = rows.get(&blind.number) {
                    if !first.says_the_same(&blind) {
                        let (first, second) = (show(first.at), show(blind.at));
                        return Err(EarlierError::Differ { first, second });
                    }
                } else {
                    lines.hold(&blind, row)?;
                    rows.insert(blind.number, blind);
                }
            }
            What::Spares => {
                let spares = KeptSpares::read(row)?;
                match kept.spares.iter().find(|known| known.line == spares.line) {
                    None => kept.spares.push(spares),
                    Some(first) if first.says_the_same(&spares) => {}
                    Some(first) => {
                        let (first, second) = (show(first.at), show(spares.at));
                        return Err(EarlierError::Differ { first, second });
                    }
                }
            }
            What::LineGone => kept.lines_gone.push(row.line()?),
        }
    }
    Ok(())
}

/// The first column that every sheet `Blinds` of a fit-out has, and one of these has not.
fn lacking(grid: &Grid) -> Option<(&Sheet, &'static Column)> {
    let blinds = grid.sheets.iter().filter(|sheet| is_or_continues(&sheet.name, BLINDS.sheet));
    blinds.into_iter().find_map(|sheet| {
        let columns = tables::read(sheet, &BLINDS, Unit::Millimeter).columns;
        let taken = |column: &Column| {
            columns.iter().filter_map(|read| read.taken).any(|taken| taken.slot == column.slot)
        };
        let lacking =
            BLINDS.columns.iter().copied().find(|column| is_always_there(column) && !taken(column))?;
        Some((sheet, lacking))
    })
}
