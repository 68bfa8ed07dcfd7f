//! A blind that is ordered already: its size and where it comes from stand. A size that would not be
//! taken any more is a stop until someone says what is to be done with it, and of a blind that hangs a
//! check.
//!
//! What was ordered from stock comes off the number on hand, for nobody says whether that was counted
//! before or after; a check names it once for each stock size.

use super::calendar::Calendar;
use super::candidate::lead_days;
use super::stock::less_cover;
use super::{Sourced, Supply};
use crate::earlier::KeptBlind;
use crate::frozen::{Frozen, FrozenQuery};
use crate::query::{Held, Query};
use crate::rules::{Rules, StockSize};
use crate::schema::choices::Origin;
use crate::sizing::{Size, Sizing};
use crate::worked::Record;

/// What an opening gets whose blind is ordered.
///
/// # Errors
/// [`Held`] once a stop is on the record.
pub(super) fn take<'r>(
    blind: &KeptBlind,
    sizing: &Sizing<'r>,
    rules: &'r Rules,
    calendar: &Calendar,
    record: &mut Record<'r>,
) -> Result<Sourced<'r>, Held> {
    let size = Size { width: blind.width, drop: blind.drop };
    if !would_be_taken(blind, sizing, rules) {
        let detail = compared(size, sizing, record);
        if blind.is_used_as_it_is() {
            record.ask(&FrozenQuery::UsedAsItIs, Some(blind.at), detail);
        } else if blind.is_fitted() {
            record.ask(&FrozenQuery::FittedDiffers, Some(blind.at), detail);
        } else {
            return Err(record.hold(&FrozenQuery::SizeNoLongerFits, Some(blind.at), detail));
        }
    }
    let supply = supply(blind, rules, record);
    let lead_days = lead_days(supply, sizing, rules);
    Ok(Sourced { size, supply, arrives: calendar.arrives(lead_days), lead_days, passed_over: Vec::new() })
}

/// Whether the opening would take the size today: within its window, or as little less as is accepted.
fn would_be_taken(blind: &KeptBlind, sizing: &Sizing<'_>, rules: &Rules) -> bool {
    let (least, most) = (sizing.window.least(), sizing.window.most());
    let from_stock = blind.source == Origin::Stock;
    (least.drop..=most.drop).contains(&blind.drop)
        && ((least.width..=most.width).contains(&blind.width)
            || from_stock && less_cover(blind.width, sizing, rules).is_some())
}

/// `ordered 48 in x 60 in; 47 1/4 in to 47 3/4 in x 59 in to 60 in now; overlap 1 in left, -1/4 in right`.
fn compared(size: Size, sizing: &Sizing<'_>, record: &Record<'_>) -> String {
    let (least, most) = (sizing.window.least(), sizing.window.most());
    let span = |least, most| match least == most {
        true => record.shown(least).to_string(),
        false => format!("{} to {}", record.shown(least), record.shown(most)),
    };
    let mut text = format!(
        "ordered {} x {}; {} x {} now",
        record.shown(size.width),
        record.shown(size.drop),
        span(least.width, most.width),
        span(least.drop, most.drop),
    );
    if let Some(wall) = sizing.hung.before_wall() {
        let (left, right) = wall.overlaps(size.width, *sizing.product.cover.overlap_least);
        text += &format!("; overlap {} left, {} right", record.shown(left), record.shown(right));
    }
    text
}

/// Where it comes from; its stock size by nominal width and drop.
fn supply<'r>(blind: &KeptBlind, rules: &'r Rules, record: &mut Record<'r>) -> Supply<'r> {
    if blind.source == Origin::Made {
        return Supply::Made;
    }
    match rules.stock_sizes.iter().find(|listed| is_from(blind, listed)) {
        Some(listed) if (listed.width, listed.drop) == (blind.width, blind.drop) => Supply::Stock(listed),
        Some(listed) => Supply::CutFromStock(listed),
        None => {
            record.ask(&FrozenQuery::StockNoLongerListed, Some(blind.at), "");
            Supply::Made
        }
    }
}

/// Whether a blind came from a stock size.
pub(crate) fn is_from(blind: &KeptBlind, listed: &StockSize) -> bool {
    blind.source == Origin::Stock
        && blind.stock == Some((listed.nominal_width, listed.nominal_drop))
        && *blind.product == *listed.product
}

/// How many ordered blinds come from a stock size.
pub(super) fn from_size(listed: &StockSize, frozen: &Frozen<'_>) -> u32 {
    let taken = frozen.blinds().iter().filter(|blind| blind.is_frozen() && blind.is_ordered());
    u32::try_from(taken.filter(|blind| is_from(blind, listed)).count()).unwrap_or(u32::MAX)
}

/// A check for each stock size of which some are ordered already.
pub(super) fn off_the_shelf(frozen: &Frozen<'_>, rules: &Rules) -> Vec<Query> {
    let units = rules.project.units;
    let sizes = rules.stock_sizes.iter().filter(|_| rules.project.stock_sizes);
    let ordered = sizes.map(|listed| (listed, from_size(listed, frozen))).filter(|(_, count)| *count > 0);
    let asked = ordered.map(|(listed, count)| {
        let (width, drop) = (listed.nominal_width.show(units), listed.nominal_drop.show(units));
        let detail = format!("{width} x {drop}: {count} ordered, {} on hand", listed.on_hand);
        Query::new(&FrozenQuery::StockOrdered, listed.at).with_detail(detail)
    });
    asked.collect()
}
