//! The fit-out workbook. Each sheet is one file here, made of columns that are declared as data;
//! `look` holds every format, `layout` every address and `cell` the one way from an exact
//! number to the one that a spreadsheet stores. Nothing is computed here but where things stand.
//!
//! Sheets are filled beside each other. So that threads change no byte, every format has its number
//! before, and every text is in its cell.

mod ahead;
mod also_fits;
mod answers;
mod as_surveyed;
mod beneath;
mod blank;
mod blinds;
mod bound;
mod cell;
mod changes;
mod charts;
mod column;
mod columns_read;
mod cost_places;
mod cost_printed;
mod cost_rows;
mod cost_shares;
mod cost_summary;
mod cut_list;
mod escape;
mod fitting_days;
mod handover;
mod hardware;
mod install_index;
mod labels;
mod layout;
mod look;
mod measure;
mod names;
mod notices;
mod offcuts;
mod openings;
mod options_compared;
mod order;
mod order_openings;
mod pages;
mod paper;
mod pilot;
mod phases;
mod queries;
mod rows;
mod rules_used;
mod sheet;
mod shown;
mod strips;
mod summary;
mod unit_pages;
mod widths;
mod working;

use std::io::{Seek, Write};

use rayon::prelude::*;
use rust_decimal::Decimal;
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Workbook, XlsxError};
use thiserror::Error;
use zip::result::ZipError;

pub use self::blank::{BlankError, blank};
use self::bound::Filled;
use self::cost_rows::CostRows;
use self::cost_shares::CostShares;
pub use self::layout::Limits;
use self::layout::{Layout, fixed};
use self::look::Look;
use self::unit_pages::Source;
use crate::breaking::TemporaryFault;
use crate::drawing::DrawingError;
use crate::grid::plainly;
use crate::length::Units;
use crate::place::CellRef;
use crate::query::OpeningIndex;
use crate::report::expr::Address;
use crate::report::figure::Lead;
use crate::report::{Doubts, Report, Unit};
use crate::weight;

/// Why a workbook could not be written.
#[derive(Debug, Error)]
pub enum WorkbookError {
    /// The file could not be put together or written.
    #[error("{}", of_file(.0))]
    File(#[from] XlsxError),
    /// A temporary file failed in which it is put together.
    #[error("{0}")]
    Temporary(#[from] TemporaryFault),
    /// A drawing could not be made.
    #[error("the drawings cannot be made: {0}")]
    Drawing(#[from] DrawingError),
    /// A sheet that cannot go on elsewhere has no room left.
    #[error("the sheet {sheet} is full: a sheet has at most {rows} rows")]
    Full {
        /// The sheet's name.
        sheet: String,
        /// Rows that a sheet holds.
        rows: u32,
    },
}

/// Why the file failed: a fault of the disk as it is, or of the library that puts the file together.
fn of_file(error: &XlsxError) -> String {
    match error {
        XlsxError::IoError(error) | XlsxError::ZipError(ZipError::Io(error)) => plainly(error),
        other => format!("the workbook cannot be put together: {other}"),
    }
}

/// What every sheet is written from.
struct Press<'r> {
    report: &'r Report<'r>,
    /// The building's units, in survey order.
    units: Vec<Unit<'r>>,
    /// Queries by opening.
    doubts: Doubts<'r>,
    look: Look,
    layout: Layout,
    /// Rows and formulas of the cost summary.
    cost: CostRows<'r>,
    /// Where the direct cost lies; `None` where that is not live.
    shares: Option<CostShares<'r>>,
    limits: Limits,
}

/// Sheets that every fit-out has, and no survey all of.
pub const FIT_OUT_SHEETS: [&str; 4] = [fixed::SUMMARY, fixed::QUERIES, fixed::ORDER, fixed::RULES_USED];

/// Sheets that no survey has.
pub const FIT_OUT_ONLY: [&str; 2] = [fixed::AS_SURVEYED, fixed::RULES_USED];

/// Writes the whole workbook within limits, a spreadsheet's own or tighter ones. The same report gives
/// the same bytes.
///
/// # Errors
/// If `out` fails, or a temporary file for the long sheets.
pub fn write(
    report: &Report<'_>,
    limits: Limits,
    out: &mut (impl Write + Seek + Send),
) -> Result<(), WorkbookError> {
    let press = open(report, limits);
    // What several sheets ask for is worked out before any of them waits for another's asking.
    report.pilot();
    report.changes();
    let (order, lines) = order::write(&press)?;
    let before: [&Writer<'_>; 7] = [
        &summary::write,
        &changes::write,
        &queries::write,
        &answers::write,
        &columns_read::write,
        &as_surveyed::write,
        &openings::write,
    ];
    let after: [&Writer<'_>; 18] = [
        &order_openings::write,
        &blinds::write,
        &also_fits::write,
        &labels::write,
        &|press| cut_list::write(press, &lines),
        &offcuts::write,
        &hardware::write,
        &options_compared::write,
        &phases::write,
        &fitting_days::write,
        &notices::write,
        &pilot::write,
        &install_index::write,
        &|press| unit_pages::write(press, &lines),
        &handover::write,
        &cost_summary::write,
        &working::write,
        &rules_used::write,
    ];
    let (before, after) = rayon::join(|| all(&press, &before), || all(&press, &after));
    bind(&press, before?.into_iter().chain(order).chain(after?), out)
}

/// Writes what must be answered, with what has been answered and how the columns were read, and no other
/// sheet: the same report gives the same bytes.
///
/// # Errors
/// As of [`write`].
pub fn write_questions(
    report: &Report<'_>,
    out: &mut (impl Write + Seek + Send),
) -> Result<(), WorkbookError> {
    // Where they would lead to is not in this file.
    let limits = Limits { links: 0, ..Limits::SPREADSHEET.without_drawings() };
    let press = open(report, limits);
    let sheets = all(&press, &[&queries::write, &answers::write, &columns_read::write])?;
    bind(&press, sheets, out)
}

/// Writes the maker's copy of an order: its lines, its openings, labels and cut list, without money and
/// without any other sheet. The same report gives the same bytes.
///
/// # Errors
/// As of [`write`].
pub fn write_order(
    report: &Report<'_>,
    limits: Limits,
    out: &mut (impl Write + Seek + Send),
) -> Result<(), WorkbookError> {
    // Where they would lead to is not in this file.
    let press = open(report, Limits { links: 0, ..limits });
    let (order, lines) = order::write(&press)?;
    let cut_list = |press: &Press<'_>| cut_list::write(press, &lines);
    let sheets = all(&press, &[&order_openings::write, &labels::write, &cut_list])?;
    bind(&press, order.into_iter().chain(sheets), out)
}

/// A sheet, and those on which it goes on; none where it has nothing to say.
type Written = Result<Vec<Filled>, WorkbookError>;

/// Writes one sheet.
type Writer<'w> = dyn Fn(&Press<'_>) -> Written + Sync + 'w;

/// Sheets, written beside each other and in the order of their writers.
fn all(press: &Press<'_>, writers: &[&Writer<'_>]) -> Written {
    let written = writers.par_iter().with_max_len(1).map(|write| write(press));
    Ok(written.collect::<Result<Vec<_>, _>>()?.into_iter().flatten().collect())
}

/// Puts the sheets together in this order.
fn bind(
    press: &Press<'_>,
    sheets: impl IntoIterator<Item = Filled>,
    out: &mut (impl Write + Seek + Send),
) -> Result<(), WorkbookError> {
    let mut workbook = Workbook::new();
    let (format, row, column) = look::usual();
    workbook.set_default_format(&format, row, column)?;
    let title = format!("Fit-out {}", press.report.rules.project.name);
    workbook.set_properties(&properties(title.trim_end())?);
    // Their numbers are those by which the rows name them.
    press.look.formats().for_each(|format| workbook.register_format(format));
    bound::bind(workbook, sheets, out)
}

/// What the sheets are written from.
fn open<'r>(report: &'r Report<'r>, limits: Limits) -> Press<'r> {
    let doubts = Doubts::of(report);
    let pages = Source::new(report, &doubts, limits);
    let units = unit_pages::parted(&pages, report.units(), limits.rows);
    let layout = Layout::new(report, &units, limits, |unit, title| unit_pages::extent(&pages, unit, title));
    let look = Look::new(report.rules.project.currency);
    let cost = CostRows::of(report);
    let shares = CostShares::of(report, &cost, limits);
    Press { report, units, doubts, look, layout, cost, shares, limits }
}

/// Revision and survey, and the option that the run is of, as every sheet shows them: `Revision B, survey
/// 3f9a2b7c1d0e, option Made`. `shown` is how the sheet shows what a person wrote.
fn stamp(report: &Report<'_>, shown: impl Fn(&str) -> String) -> String {
    let survey = Some(report.survey_fingerprint()).filter(|fingerprint| !fingerprint.is_empty());
    let parts = [
        Some(format!("Revision {}", shown(&report.rules.project.revision))),
        survey.map(|fingerprint| format!("survey {fingerprint}")),
        report.option.map(|option| format!("option {}", shown(option))),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// A file's title, the program that made it, and a date of its own, which is fixed: a clock would make two
/// files of one survey differ. The name of the application is the library's, by which spreadsheet programs
/// know that they may trust the stored results.
fn properties(title: &str) -> Result<DocProperties, XlsxError> {
    let program = concat!(env!("CARGO_PKG_NAME"), " ", env!("CARGO_PKG_VERSION"));
    let properties = DocProperties::new().set_title(title).set_author(program);
    Ok(properties.set_creation_datetime(&ExcelDateTime::from_ymd(2000, 1, 1)?))
}

impl Press<'_> {
    /// The units in which the sheets show lengths.
    fn length_units(&self) -> Units {
        self.report.rules.project.units
    }

    /// A heading over lengths: `Width (in)`.
    fn lengths(&self, heading: &str) -> String {
        format!("{heading} ({})", self.length_units().symbol())
    }

    /// A heading over weights: `Weight (lb)`.
    fn weights(&self, heading: &str) -> String {
        format!("{heading} ({})", weight::symbol(self.length_units()))
    }

    /// A heading over money: `Amount (USD)`.
    fn money(&self, heading: &str) -> String {
        format!("{heading} ({})", self.report.rules.project.currency)
    }

    /// An amount in words, in whole minor units: `26.00 USD`.
    fn amount(&self, amount: Decimal) -> String {
        self.report.rules.project.currency.in_words(amount)
    }

    /// Where a text leads to, as far as the layout knows.
    fn address(&self, lead: Lead) -> Option<Address> {
        match lead {
            Lead::Page(opening) => Some(self.layout.page_of(opening)),
            Lead::Opening(opening) => Some(self.layout.opening_row(opening)),
            Lead::Unit(place) => Some(self.layout.unit_page(place)),
            Lead::Line(_) | Lead::Labels(_) => None,
        }
    }

    /// A survey cell as text: `Openings!F42`.
    fn cell(&self, at: CellRef) -> String {
        self.report.sheets.show(at)
    }

    /// An opening's name, as every list shows it.
    fn name(&self, opening: OpeningIndex) -> &str {
        &self.report.survey.openings[opening].who.name
    }
}

/// Stands on every sheet that says left or right.
const LEFT_AND_RIGHT: &str = "Left and right are as seen from inside the room.";
/// Stands on every sheet that gives heights.
const HEIGHTS: &str = "Heights are from the floor as it was when it was measured.";
