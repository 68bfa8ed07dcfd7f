//! `Order`: what the maker makes, totals by color, and which opening each blind is for.
//!
//! Print titles are the headings of the lines; the table of openings below has the same first seven
//! columns and begins a page.

use rust_xlsxwriter::Workbook;

use super::ahead::Ahead;
use super::cell::Cell;
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, columns_of, in_use, span};
use super::sheet::{Keeping, Lie};
use super::{LEFT_AND_RIGHT, Press, WorkbookError};
use crate::order::OrderLine;
use crate::report::Report;
use crate::report::expr::Address;
use crate::report::figure::Lead;
use crate::report::rows::{ColorRow, LabelRow, LineRow};
use crate::sizing::Release;

const TITLE: &str = "FINISHED SIZES - MAKE AS WRITTEN, NO FURTHER DEDUCTION";

/// Writes the sheet; gives where each line stands.
pub(super) fn write(workbook: &mut Workbook, press: &Press<'_>) -> Result<Vec<Address>, WorkbookError> {
    let form = Form {
        name: fixed::ORDER,
        title: TITLE,
        remarks: vec![
            format!("{LEFT_AND_RIGHT} Do not make a provisional line until its query is answered.").into(),
        ],
        keeping: Keeping::Disk,
        lie: Lie::Wide,
        frozen: Frozen::Headings,
    };
    let report = press.report;
    let mut pages = Pages::open(workbook, press, form)?;
    pages.way_back()?;
    let Places { lines: places, labels: firsts } = Places::ahead(report, pages.ahead());
    let address = |lead| match lead {
        Lead::Labels(line) => firsts.get(line - 1).cloned(),
        lead => press.address(lead),
    };
    let lines = in_use(columns_of::<LineRow<'_>>(press, address), LineRow::all(report));
    pages.table(&lines, LineRow::all(report), |line| tone(line.release()))?;

    pages.section("Totals by color", span(&lines))?;
    // Under the lines' quantity stand the blinds.
    let mut totals = columns_of::<ColorRow<'_>>(press, address);
    totals.insert(0, Column::new("", |_| Cell::Blank));
    pages.table(&totals, ColorRow::all(report), |_| Tone::Body)?;
    pages.rows(&totals, [ColorRow::of_all(report)], |_| Tone::Total)?;

    // The first columns stand under the same headings as the lines above them, so that what stays
    // in sight while scrolling is true of both.
    let labels = in_use(columns_of::<LabelRow<'_>>(press, address), LabelRow::all(report));
    pages.section_on_new_page("Where each blind goes (same as its label)", span(&labels))?;
    pages.table(&labels, LabelRow::all(report), |row| tone(row.release()))?;
    pages.finish()?;
    Ok(places)
}

/// Where rows of the sheet will stand, before any is written.
struct Places {
    /// The row of each line.
    lines: Vec<Address>,
    /// The row of each line's first label.
    labels: Vec<Address>,
}

impl Places {
    /// Walks the lines and their labels from where the headings of the lines will stand.
    fn ahead(report: &Report<'_>, mut ahead: Ahead) -> Places {
        let lines = &report.order.lines;
        ahead.headings();
        let rows = lines.iter().map(|_| ahead.row()).collect();
        // The totals, with that of all.
        ahead.section();
        ahead.headings();
        (0..=report.color_totals().len()).for_each(|_| {
            ahead.row();
        });
        ahead.section();
        ahead.headings();
        let first_of = |line: &OrderLine| {
            let first = ahead.row();
            line.openings.iter().skip(1).for_each(|_| {
                ahead.row();
            });
            first
        };
        Places { lines: rows, labels: lines.iter().map(first_of).collect() }
    }
}

fn tone(release: Release) -> Tone {
    match release {
        Release::Make => Tone::Body,
        Release::Provisional => Tone::Provisional,
    }
}
