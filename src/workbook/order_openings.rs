//! `Order's openings`: which opening each blind of the order is for, line by line, as its label says.
//! A sheet of its own, so that every printed page has this table's headings and no others: under
//! those of the order an opening's size could be taken for a blind's.

use super::ahead::Ahead;
use super::layout::fixed;
use super::pages::{Form, Frozen, Pages, columns_of, in_use};
use super::paper::Lie;
use super::{LEFT_AND_RIGHT, Press, Written, order};
use crate::order::OrderLine;
use crate::report::expr::Address;
use crate::report::rows::LabelRow;

/// Rows of title and remark, which come again where the sheet is continued.
const HEAD: u32 = 2;
/// The way back to the summary, in a workbook of links.
fn way_back(press: &Press<'_>) -> u32 {
    u32::from(press.limits.links > 0)
}

/// Writes the sheet.
pub(super) fn write(press: &Press<'_>) -> Written {
    let form = Form {
        name: fixed::ORDER_OPENINGS,
        title: "Where each blind goes",
        remarks: vec![format!("In the order of the labels. {LEFT_AND_RIGHT}").into()],
        lie: Lie::Portrait,
        frozen: Frozen::Headings,
    };
    let mut pages = Pages::open(press, form)?;
    pages.way_back()?;
    debug_assert_eq!((pages.ahead().head, pages.ahead().row), (HEAD, HEAD + way_back(press)));
    let rows = || LabelRow::all(press.report);
    let columns = in_use(columns_of::<LabelRow<'_>>(press, |lead| press.address(lead)), rows());
    pages.table(&columns, rows(), |row| order::tone(row.release()))?;
    pages.finish()
}

/// Where the row of each line's first label will stand.
pub(super) fn first_labels(press: &Press<'_>) -> Vec<Address> {
    let (name, limit) = (fixed::ORDER_OPENINGS, press.limits.rows);
    let mut ahead = Ahead { name, number: 1, row: HEAD + way_back(press), head: HEAD, limit };
    ahead.headings();
    let lines = press.report.order.lines.iter();
    let first_of = |line: &OrderLine| {
        let first = ahead.row();
        press.report.labels(line).skip(1).for_each(|_| {
            ahead.row();
        });
        first
    };
    lines.map(first_of).collect()
}
