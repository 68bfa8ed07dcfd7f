//! A blind that is ordered already: its size and where it comes from stand. A size that would not be
//! taken any more is a stop until someone says what is to be done with it, and of a blind that hangs a
//! check.
//!
//! What was ordered from stock comes off the number on hand, for nobody says whether that was counted
//! before or after; a check names it once for each stock size.

use std::collections::BTreeMap;

use super::calendar::Calendar;
use super::candidate::lead_days;
use super::offer::less_cover;
use super::{Sourced, Supply};
use crate::earlier::KeptBlind;
use crate::frozen::{Frozen, FrozenQuery, stand};
use crate::query::{Held, OpeningIndex, Query};
use crate::rules::{Rules, StockId, StockSize};
use crate::schema::choices::Origin;
use crate::sizing::{Size, Sizing};
use crate::worked::Record;

/// What an opening gets of which a blind is ordered: all of its row is of the first one's size, and each
/// ordered one is looked at.
///
/// # Errors
/// [`Held`] once a stop is on the record.
pub(super) fn take<'r>(
    opening: OpeningIndex,
    frozen: &Frozen<'_>,
    sizing: &Sizing<'r>,
    rules: &'r Rules,
    calendar: &Calendar,
    record: &mut Record<'r>,
) -> Result<Option<Sourced<'r>>, Held> {
    let Some(first) = frozen.as_ordered(opening) else { return Ok(None) };
    for blind in frozen.serving(opening).iter().map(|&kept| &frozen.blinds()[kept]) {
        if !would_be_taken(blind, sizing, rules) {
            let detail = compared(blind.size(), sizing, record);
            stand(blind, &FrozenQuery::SizeNoLongerFits, detail, record)?;
        }
    }
    let supply = supply(first, rules, record);
    let lead_days = lead_days(supply, sizing, rules);
    let arrives = calendar.arrives(lead_days);
    Ok(Some(Sourced { size: first.size(), supply, arrives, lead_days, passed_over: Vec::new() }))
}

/// Whether the opening would take the size today: within its window, or as little less as is accepted.
fn would_be_taken(blind: &KeptBlind, sizing: &Sizing<'_>, rules: &Rules) -> bool {
    let window = &sizing.window;
    let long_enough = (window.least().drop..=window.most().drop).contains(&blind.drop);
    let less_is_accepted =
        || blind.source == Origin::Stock && less_cover(blind.width, sizing, rules).is_some();
    window.takes(blind.size()) || long_enough && less_is_accepted()
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
    match listed(blind, rules) {
        Some(listed) if (listed.width, listed.drop) == (blind.width, blind.drop) => Supply::Stock(listed),
        Some(listed) => Supply::CutFromStock(listed),
        None => {
            record.ask(&FrozenQuery::StockNoLongerListed, Some(blind.at), "");
            Supply::Unlisted
        }
    }
}

/// The stock size that an ordered blind came from, if the rules list it.
fn listed<'r>(blind: &KeptBlind, rules: &'r Rules) -> Option<&'r StockSize> {
    let nominal = blind.stock.filter(|_| blind.source == Origin::Stock)?;
    rules.stock_of(&blind.product, nominal)
}

/// How many ordered blinds come from each stock size.
pub(super) fn from_stock(frozen: &Frozen<'_>, rules: &Rules) -> BTreeMap<StockId, u32> {
    let mut counts = BTreeMap::new();
    for blind in frozen.blinds().iter().filter(|blind| blind.is_ordered()) {
        if let Some(listed) = listed(blind, rules) {
            *counts.entry(listed.id).or_default() += 1;
        }
    }
    counts
}

/// A check for each stock size of which some are ordered already.
pub(super) fn off_the_shelf(frozen: &Frozen<'_>, rules: &Rules) -> Vec<Query> {
    let units = rules.project.units;
    let counts = from_stock(frozen, rules);
    let sizes = rules.stock_sizes.iter().filter(|_| rules.project.stock_sizes);
    let ordered = sizes.filter_map(|listed| Some((listed, *counts.get(&listed.id)?)));
    let asked = ordered.map(|(listed, count)| {
        let (width, drop) = (listed.nominal_width.show(units), listed.nominal_drop.show(units));
        let detail = format!("{width} x {drop}: {count} ordered, {} on hand", listed.on_hand);
        Query::new(&FrozenQuery::StockOrdered, listed.at).with_detail(detail)
    });
    asked.collect()
}
