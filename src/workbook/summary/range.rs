//! What the total may come to: lowest and highest, the class of the estimate, and what each cause takes
//! off or puts on. Figures of this run, which follow nothing.

use super::SPAN;
use super::charts::keep_rows;
use crate::workbook::cell::Cell;
use crate::workbook::look::Tone;
use crate::workbook::pages::Pages;
use crate::workbook::{Press, WorkbookError};

/// Columns of a cause and of the reason for its figures, from the first to the last; low and high stand
/// between them.
const WHAT: (u16, u16) = (0, 1);
const LOW: u16 = 2;
const HIGH: u16 = 3;
const REASON: (u16, u16) = (4, SPAN - 1);
/// Characters that these hold on a line.
const WHAT_CHARACTERS: usize = 36;
const REASON_CHARACTERS: usize = 48;
/// Rows beside those of the causes: the section's name, the total, its remarks and the headings.
const OTHER_ROWS: u32 = 7;

pub(super) fn total(pages: &mut Pages<'_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    let range = &press.report.cost.range;
    keep_rows(pages, u32::try_from(range.parts.len()).unwrap_or(u32::MAX).saturating_add(OTHER_ROWS))?;
    pages.section("What the total may come to", SPAN)?;
    let money = |amount: Option<_>| Cell::known(amount.map(Cell::Money));
    headings(
        pages,
        [Cell::from(""), press.money("Lowest").into(), press.money("Highest").into(), "".into()],
    )?;
    row(
        pages,
        "Total".into(),
        [Cell::Money(range.low), money(range.high)],
        "what is known, with all of these",
    )?;
    for part in &range.parts {
        let what = format!("{}, {}", part.what, openings(press.report.openings_in_doubt(part)));
        row(pages, what, [Cell::Money(part.low), money(part.high)], part.reason)?;
    }
    pages.remark(&range.class)?;
    pages.remark("Figures of this run: they do not follow changes on Cost summary.")
}

fn headings<'c>(
    pages: &mut Pages<'_>,
    [what, low, high, reason]: [Cell<'c>; 4],
) -> Result<(), WorkbookError> {
    let sheet = pages.sheet();
    sheet.spread(WHAT, what, Tone::Heading)?;
    sheet.put(LOW, low, Tone::Heading)?;
    sheet.put(HIGH, high, Tone::Heading)?;
    sheet.spread(REASON, reason, Tone::Heading)?;
    sheet.next_row()?;
    Ok(())
}

fn row(
    pages: &mut Pages<'_>,
    what: String,
    [low, high]: [Cell<'_>; 2],
    reason: &str,
) -> Result<(), WorkbookError> {
    let (what, reason) = (Cell::from(what), Cell::from(reason));
    let sheet = pages.sheet();
    sheet.lines(what.lines(WHAT_CHARACTERS).max(reason.lines(REASON_CHARACTERS)));
    sheet.spread(WHAT, what, Tone::Label)?;
    sheet.put(LOW, low, Tone::OfThisRun)?;
    sheet.put(HIGH, high, Tone::OfThisRun)?;
    sheet.spread(REASON, reason, Tone::Body)?;
    sheet.next_row()?;
    Ok(())
}

fn openings(count: u64) -> String {
    if count == 1 { "1 opening".to_owned() } else { format!("{count} openings") }
}
