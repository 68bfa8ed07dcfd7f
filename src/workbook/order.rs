//! `Order`: what the maker makes, and totals by color.

use rust_xlsxwriter::Workbook;

use super::cell::Cell;
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, columns_of, in_use, span};
use super::sheet::{Keeping, Lie};
use super::{LEFT_AND_RIGHT, Press, WorkbookError, order_openings};
use crate::report::expr::Address;
use crate::report::figure::Lead;
use crate::report::rows::{ColorRow, LineRow, SpareRow};
use crate::sizing::Release;

const TITLE: &str = "FINISHED SIZES - MAKE AS WRITTEN, NO FURTHER DEDUCTION";

/// Writes the sheet; gives where each line stands.
pub(super) fn write(workbook: &mut Workbook, press: &Press<'_>) -> Result<Vec<Address>, WorkbookError> {
    let form = Form {
        name: fixed::ORDER,
        title: TITLE,
        remarks: vec![
            format!("{LEFT_AND_RIGHT} Do not make provisional lines until their queries are answered. Look at every check on Queries before you order.").into(),
        ],
        keeping: Keeping::Disk,
        lie: Lie::Wide,
        frozen: Frozen::Headings,
    };
    let report = press.report;
    let mut pages = Pages::open(workbook, press, form)?;
    pages.way_back()?;
    let mut ahead = pages.ahead();
    ahead.headings();
    let places = report.order.lines.iter().map(|_| ahead.row()).collect();
    let firsts = order_openings::first_labels(press);
    let address = |lead| match lead {
        Lead::Labels(line) => firsts.get(line - 1).cloned(),
        lead => press.address(lead),
    };
    let lines = in_use(columns_of::<LineRow<'_>>(press, address), LineRow::all(report));
    pages.table(&lines, LineRow::all(report), |line| tone(line.release()))?;

    let mut spares = SpareRow::all(report).peekable();
    if spares.peek().is_some() {
        pages.section("Spare louvers to order as well", span(&lines))?;
        // Under the lines' quantity stand the louvers.
        let mut columns = columns_of::<SpareRow<'_>>(press, address);
        columns.insert(0, Column::new("", |_| Cell::Blank));
        pages.table(&columns, spares, |_| Tone::Body)?;
    }

    pages.section("Totals by color", span(&lines))?;
    // Under the lines' quantity stand the blinds.
    let mut totals = columns_of::<ColorRow<'_>>(press, address);
    totals.insert(0, Column::new("", |_| Cell::Blank));
    pages.table(&totals, ColorRow::all(report), |_| Tone::Body)?;
    pages.rows(&totals, [ColorRow::of_all(report)], |_| Tone::Total)?;
    pages.finish()?;
    Ok(places)
}

/// The look of a row by whether its blinds may be made.
pub(super) fn tone(release: Release) -> Tone {
    match release {
        Release::Make => Tone::Body,
        Release::Provisional => Tone::Provisional,
    }
}
