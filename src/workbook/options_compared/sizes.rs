//! Sizes against money: what fewer sizes cost and save, with a chart of the sizes and one of the money.

use crate::report::rows::SizesAtRow;
use crate::rules::columns::project;
use crate::rules::rate;
use crate::workbook::charts::{self, Bars};
use crate::workbook::look::Tone;
use crate::workbook::pages::{Pages, columns_of, in_use};
use crate::workbook::{Press, WorkbookError};

/// Columns of sizes, cost and minimum cost, counted from 0.
const SIZES: u16 = 1;
const COST: u16 = 5;
const MINIMUM_COST: u16 = 8;

/// Whether there is anything to compare.
pub(super) fn is_there(press: &Press<'_>) -> bool {
    !press.report.sizes_curve.is_empty()
}

pub(super) fn write(pages: &mut Pages<'_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    if !is_there(press) {
        return Ok(());
    }
    let rows = || SizesAtRow::all(press.report);
    let columns = in_use(columns_of::<SizesAtRow<'_>>(press, |lead| press.address(lead)), rows());
    let count = press.report.sizes_curve.len();
    charts::keep_below(pages, count, count)?;
    pages.section("Sizes against money", u16::try_from(columns.len()).unwrap_or(u16::MAX))?;
    let remarks = [
        format!(
            "Different sizes of made blinds, by phase, if {} allowed each blind to be adjusted so far. Proven: there are no fewer sizes, nor so few with less adjusted.",
            project::COLUMNS.merge_sizes.name
        ),
        format!(
            "Cost ({}): made blinds by the price list, and {} from Rates for each different product, width and drop; without discount, overhead and tax.",
            press.report.rules.project.currency,
            rate::SIZE_SET_UP
        ),
    ];
    for remark in remarks {
        pages.remark(&remark)?;
    }
    let has_minimum = press.report.sizes_curve.iter().any(|at| at.cheapest.is_some());
    if has_minimum {
        pages.remark(
            "Minimum cost: the sizes within the windows at which blinds and set-ups cost the least together; smaller blinds cost less.",
        )?;
    }
    let top = pages.sheet().row();
    pages.table(&columns, rows(), |_| Tone::Body)?;
    let bars = |title: String, values: String, series| Bars {
        title,
        names: "Adjusted by up to",
        values,
        rows: count,
        series,
        shares: false,
    };
    charts::below(pages, top, &bars("Different sizes".to_owned(), "Sizes".to_owned(), &[(SIZES, "Sizes")]))?;
    if press.report.sizes_curve.iter().any(|at| at.cost.is_none()) {
        return Ok(());
    }
    let series: &[(u16, &str)] = match has_minimum {
        true => &[(COST, "Cost at the fewest sizes"), (MINIMUM_COST, "Minimum cost")],
        false => &[(COST, "Cost")],
    };
    charts::below(pages, top, &bars(press.money("Made blinds and set-ups"), press.money("Cost"), series))
}
