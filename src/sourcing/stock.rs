//! A size from stock or made to measure, opening by opening.

use rust_decimal::Decimal;

use super::calendar::{Calendar, Calendars, Standing};
use super::candidate::{PassedOver, WhyNot, besides, lead_days, price};
use super::queries::SourcingQuery;
use super::{Origin, Sourced, Supply, ordered};
use crate::angle::Angle;
use crate::date::Date;
use crate::frozen::{Frozen, FrozenQuery};
use crate::length::Length;
use crate::query::{Held, OpeningIndex};
use crate::rules::{Rules, StockSize};
use crate::sizing::{Operation, Size, Sizing};
use crate::survey::{Control, Draw, Survey};
use crate::worked::Record;

/// Chooses for every opening, in survey order, as a stock size on hand goes to who comes first.
pub(super) fn choose<'r>(
    survey: &Survey,
    sizings: &[Option<Sizing<'r>>],
    frozen: &Frozen<'_>,
    rules: &'r Rules,
    calendars: &Calendars,
    records: &mut [Record<'r>],
) -> Vec<Option<Sourced<'r>>> {
    let mut shelf = Shelf::of(rules, frozen);
    let openings = survey.openings.iter().zip(sizings).zip(records).enumerate();
    let chosen = openings.map(|(index, ((opening, sizing), record))| {
        let sizing = sizing.as_ref()?;
        let calendar = calendars.of_opening(index);
        if let Some(sourced) = ordered::take(index, frozen, sizing, rules, calendar, record).transpose() {
            let others = opening.who.quantity.saturating_sub(of_row(frozen, index));
            return sourced.and_then(|sourced| shelf.take_more(sourced, others, record)).ok();
        }
        let made = made(sizing, rules, calendar);
        let (offer, passed_over) =
            shelf.take_best(opening.who.quantity, sizing, &made, rules, calendar, record);
        ask(&offer, &made, rules, calendar, record);
        Some(Sourced {
            size: offer.size,
            supply: offer.supply,
            arrives: offer.arrives,
            lead_days: offer.lead_days,
            passed_over,
        })
    });
    chosen.collect()
}

/// How many blinds of a row are ordered.
fn of_row(frozen: &Frozen<'_>, opening: OpeningIndex) -> u32 {
    u32::try_from(frozen.serving(opening).len()).unwrap_or(u32::MAX)
}

/// One way to get an opening's blinds.
#[derive(Clone, Debug)]
struct Offer<'r> {
    supply: Supply<'r>,
    size: Size,
    cover: Cover,
    price: Option<Decimal>,
    lead_days: Option<u32>,
    arrives: Option<Date>,
}

/// Whether a blind keeps the least overlap.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Cover {
    Full,
    /// One of the overlaps at least is under the least.
    Less(LessCover),
}

/// The overlaps of a blind that covers less, and the angle at which one can look past the smaller
/// of those that no wall closes; `None` where walls close both.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct LessCover {
    left: Length,
    right: Length,
    see_past: Option<Angle>,
}

fn made<'r>(sizing: &Sizing<'r>, rules: &Rules, calendar: &Calendar) -> Offer<'r> {
    let size = sizing.window.preferred();
    Offer::of(Supply::Made, size, Cover::Full, sizing, rules, calendar)
}

impl<'r> Offer<'r> {
    fn of(
        supply: Supply<'r>,
        size: Size,
        cover: Cover,
        sizing: &Sizing<'r>,
        rules: &Rules,
        calendar: &Calendar,
    ) -> Offer<'r> {
        let lead_days = lead_days(supply, sizing, rules);
        let price = price(supply, size, sizing, rules);
        Offer { supply, size, cover, price, lead_days, arrives: calendar.arrives(lead_days) }
    }

    fn passed_over(&self, why_not: WhyNot) -> PassedOver<'r> {
        PassedOver { supply: self.supply, size: self.size, why_not }
    }
}

/// The stock sizes on hand, and how many of each are left; empty if the project does not want them.
struct Shelf<'r> {
    sizes: Vec<(&'r StockSize, u32)>,
}

impl<'r> Shelf<'r> {
    fn of(rules: &'r Rules, frozen: &Frozen<'_>) -> Shelf<'r> {
        let listed = if rules.project.stock_sizes { &rules.stock_sizes[..] } else { &[] };
        let ordered = ordered::from_stock(frozen, rules);
        let left = |size: &StockSize| {
            size.on_hand.saturating_sub(ordered.get(&size.id).copied().unwrap_or_default())
        };
        Shelf { sizes: listed.iter().map(|size| (size, left(size))).collect() }
    }

    /// Takes the others of a row of which some are ordered, where those came from stock.
    ///
    /// # Errors
    /// [`Held`] where not enough are left: a row is never split between sources.
    fn take_more(
        &mut self,
        sourced: Sourced<'r>,
        others: u32,
        record: &mut Record<'r>,
    ) -> Result<Sourced<'r>, Held> {
        let from = sourced.supply.stock().map(|stock| stock.id);
        let place = self.sizes.iter_mut().find(|(size, _)| Some(size.id) == from);
        match place {
            Some((_, left)) if *left >= others => *left -= others,
            None if sourced.supply.origin() == Origin::Made || others == 0 => {}
            short => {
                let left = short.map_or(0, |(_, left)| *left);
                let detail = format!("{others} more wanted, {left} left");
                return Err(record.hold(&FrozenQuery::StockShort, None, detail));
            }
        }
        Ok(sourced)
    }

    /// Takes the best stock size that is better than the made one, and of which there are enough;
    /// else the made one. Hands back what was passed over as well, where stock may be used.
    fn take_best(
        &mut self,
        quantity: u32,
        sizing: &Sizing<'r>,
        made: &Offer<'r>,
        rules: &Rules,
        calendar: &Calendar,
        record: &mut Record<'r>,
    ) -> (Offer<'r>, Vec<PassedOver<'r>>) {
        let rank = |offer: &Offer<'_>| rank(offer, sizing.window.preferred(), calendar);
        let looked_at = self.look(sizing, rules, calendar);
        let mut better: Vec<(usize, &Offer<'r>)> = looked_at
            .iter()
            .filter_map(|(place, offer)| Some((*place, offer.as_ref().ok()?)))
            .filter(|(_, offer)| rank(offer) < rank(made))
            .collect();
        better.sort_by_key(|(place, offer)| (rank(offer), *place));

        let best = better.iter().position(|(place, _)| self.sizes[*place].1 >= quantity);
        if best != Some(0)
            && let Some((wished, _)) = better.first()
        {
            let (stock, left) = self.sizes[*wished];
            let detail =
                format!("{}: {quantity} needed, {left} of {} left", nominal(stock, record), stock.on_hand);
            record.ask(&SourcingQuery::UsedUp, stock.at, detail);
        }
        let taken = best.map(|best| better[best]);
        let offer = taken.map_or(made, |(_, offer)| offer).clone();
        let to_beat = rank(&offer);
        let others = looked_at.iter().filter(|(place, _)| taken.is_none_or(|(taken, _)| taken != *place));
        if made.price.is_some() {
            let unpriced = others.clone().filter_map(|(_, found)| found.as_ref().ok());
            let unpriced = unpriced.filter(|other| other.price.is_none());
            unpriced.for_each(|other| ask_its_price(other.supply, sizing, record));
        }
        let mut passed_over: Vec<PassedOver<'r>> = others
            .map(|(place, looked_at)| match looked_at {
                Ok(other) if rank(other) < to_beat => {
                    other.passed_over(WhyNot::TooFew { left: self.sizes[*place].1 })
                }
                Ok(other) => other.passed_over(behind(&rank(other), &to_beat)),
                Err(passed_over) => *passed_over,
            })
            .collect();
        if let Some((place, _)) = taken {
            self.sizes[place].1 -= quantity;
            passed_over.push(made.passed_over(behind(&rank(made), &to_beat)));
        }
        (offer, passed_over)
    }

    /// The stock sizes of the opening's product, each with its place on the shelf: what it is for the
    /// opening, or why it is nothing.
    fn look(
        &self,
        sizing: &Sizing<'r>,
        rules: &Rules,
        calendar: &Calendar,
    ) -> Vec<(usize, Result<Offer<'r>, PassedOver<'r>>)> {
        let mut looked_at = Vec::new();
        for (place, &(stock, _)) in self.sizes.iter().enumerate() {
            if stock.product != sizing.product.name {
                continue;
            }
            let found = offer(stock, sizing, rules, calendar).and_then(|offer| match stock.on_hand {
                0 => Err(WhyNot::TooFew { left: 0 }),
                _ => Ok(offer),
            });
            let actual = Size { width: stock.width, drop: stock.drop };
            let passed_over = |why_not| PassedOver { supply: Supply::Stock(stock), size: actual, why_not };
            looked_at.push((place, found.map_err(passed_over)));
        }
        looked_at
    }
}

/// Asks for what a stock size, or a bracket that its box lacks, costs.
fn ask_its_price<'r>(supply: Supply<'r>, sizing: &Sizing<'r>, record: &mut Record<'r>) {
    let Some(stock) = supply.stock() else { return };
    let query = match besides(stock, sizing).filter(|_| stock.price.is_some()) {
        Some(bracket) => SourcingQuery::UnpricedBesides { bracket: bracket.to_string() },
        None => SourcingQuery::UnpricedStock,
    };
    record.ask(&query, stock.at, nominal(stock, record));
}

/// The size by which a stock size is known.
pub(super) fn nominal(stock: &StockSize, record: &Record<'_>) -> String {
    format!("{} x {}", record.shown(stock.nominal_width), record.shown(stock.nominal_drop))
}

/// Why a box is not the blind that is wanted, whatever its size; `None` if it is.
fn is_another(stock: &StockSize, sizing: &Sizing<'_>) -> Option<WhyNot> {
    let Operation { draw, control, .. } = sizing.operation;
    if control == Control::Motor {
        return Some(WhyNot::Motor);
    }
    if !stock.colors.contains(&sizing.color) {
        return Some(WhyNot::Color);
    }
    // A box drawn one way hangs either way round.
    let drawn = stock.draw.map_or(draw != Draw::Split, |boxed| boxed == draw);
    match (drawn, stock.control == control) {
        (false, _) => Some(WhyNot::Draw),
        (true, false) => Some(WhyNot::Control),
        (true, true) => None,
    }
}

/// What a stock size is for an opening, or why it does not do. One that hangs as it is, is not cut.
///
/// # Errors
/// What it is or what of its size does not do.
fn offer<'r>(
    stock: &'r StockSize,
    sizing: &Sizing<'r>,
    rules: &Rules,
    calendar: &Calendar,
) -> Result<Offer<'r>, WhyNot> {
    if let Some(why_not) = is_another(stock, sizing) {
        return Err(why_not);
    }
    let cover = &sizing.product.cover;
    let (least, most, preferred) = (sizing.window.least(), sizing.window.most(), sizing.window.preferred());
    let step = *cover.rounding_step;
    let down = Cut {
        actual: stock.drop,
        down_to: stock.cut_drop_to,
        least: least.drop,
        most: most.drop,
        preferred: preferred.drop,
        step,
    };
    let drop = down.settle().ok_or(WhyNot::Drop)?;
    let across = Cut {
        actual: stock.width,
        down_to: stock.cut_width_to,
        least: least.width,
        most: most.width,
        preferred: preferred.width,
        step,
    };
    let (width, cover) = match across.settle() {
        Some(width) => (width, Cover::Full),
        None => (stock.width, less_cover(stock.width, sizing, rules).ok_or(WhyNot::Width)?),
    };
    let size = Size { width, drop };
    let whole = size == Size { width: stock.width, drop: stock.drop };
    let supply = if whole { Supply::Stock(stock) } else { Supply::CutFromStock(stock) };
    Ok(Offer::of(supply, size, cover, sizing, rules, calendar))
}

/// One dimension of a stock size against a window.
struct Cut {
    actual: Length,
    /// The least that it may be cut down to; `None` if it may not.
    down_to: Option<Length>,
    least: Length,
    most: Length,
    preferred: Length,
    step: Length,
}

impl Cut {
    /// The actual length if it would do, else what it can be cut down to nearest the preferred one.
    fn settle(&self) -> Option<Length> {
        if (self.least..=self.most).contains(&self.actual) {
            return Some(self.actual);
        }
        let shortest = self.down_to?.max(self.least);
        if self.actual < shortest {
            return None;
        }
        if (shortest..=self.actual).contains(&self.preferred) {
            return Some(self.preferred);
        }
        // The preferred length is out of reach; it is on the short side, or the actual length would do.
        let nearest = shortest.rounded_up_to(self.step);
        (nearest <= self.most.min(self.actual)).then_some(nearest)
    }
}

/// The overlaps of a stock width that falls short of the window, if the project accepts them.
pub(super) fn less_cover(width: Length, sizing: &Sizing<'_>, rules: &Rules) -> Option<Cover> {
    let accepted = rules.project.accept_less_cover;
    let (wall, line) = (sizing.hung.before_wall()?, sizing.hung.reach().or(sizing.hung.setback())?);
    if accepted <= Length::ZERO || width >= sizing.window.least().width {
        return None;
    }
    let cover = &sizing.product.cover;
    let (left, right) = wall.overlaps(width, *cover.overlap_least);
    let enough = left >= wall.left.least(cover) - accepted && right >= wall.right.least(cover) - accepted;
    let open = [(left, &wall.left), (right, &wall.right)].into_iter();
    let open = open.filter(|(overlap, side)| !side.is_closed(*overlap, *cover.overlap_least));
    let smaller = open.map(|(overlap, _)| overlap).min();
    let see_past = smaller.map(|smaller| Angle::from_tangent(smaller, line));
    enough.then_some(Cover::Less(LessCover { left, right, see_past }))
}

/// What makes one offer better than another; less is better, first things first: there in time, a
/// known price, the fewest days late, cheaper, earlier, from stock, moved least.
type Rank = (bool, bool, Standing, Option<Decimal>, (bool, Option<u32>), bool, Cover, Length);

fn rank(offer: &Offer<'_>, preferred: Size, calendar: &Calendar) -> Rank {
    let moved = (offer.size.width - preferred.width).abs() + (offer.size.drop - preferred.drop).abs();
    let standing = calendar.standing(offer.arrives);
    (
        standing != Standing::InTime,
        offer.price.is_none(),
        standing,
        offer.price,
        (offer.lead_days.is_none(), offer.lead_days),
        matches!(offer.supply, Supply::Made),
        offer.cover,
        moved,
    )
}

/// In what an offer is behind the one taken: the first in which they differ.
fn behind(offer: &Rank, taken: &Rank) -> WhyNot {
    let (not_in_time, unpriced, standing, price, lead, is_made, cover, moved) = offer;
    match () {
        () if *not_in_time == taken.0 && *unpriced != taken.1 => WhyNot::Unpriced,
        () if *standing == Standing::Unknown && *standing != taken.2 => WhyNot::ArrivalUnknown,
        () if *standing != taken.2 => WhyNot::Late,
        () if *price != taken.3 => WhyNot::Dearer,
        () if *lead != taken.4 => WhyNot::Slower,
        () if *is_made != taken.5 => WhyNot::NotStock,
        () if *cover != taken.6 => WhyNot::CoversLess,
        () if *moved != taken.7 => WhyNot::FurtherOff,
        () => WhyNot::ListedLater,
    }
}

/// Raises what must be asked about the offer taken.
fn ask<'r>(offer: &Offer<'r>, made: &Offer<'r>, rules: &Rules, calendar: &Calendar, record: &mut Record<'r>) {
    if let Cover::Less(LessCover { left, right, see_past }) = offer.cover {
        let accepted = record.shown(rules.project.accept_less_cover);
        let mut detail = format!("overlap {} left, {} right", record.shown(left), record.shown(right));
        if let Some(angle) = see_past {
            detail += &format!("; see-past angle {angle} deg");
        }
        if let Some(saved) = saved(offer, made, rules) {
            detail += &format!("; {saved} than made to measure");
        }
        record.ask(&SourcingQuery::LessCover { accepted }, None, detail);
    }
    let Some(need_by) = calendar.need_by else {
        return;
    };
    match (calendar.standing(offer.arrives), offer.arrives) {
        (Standing::Late(days), Some(arrives)) => {
            let detail = format!("{arrives}, {days} {} late", if days == 1 { "day" } else { "days" });
            record.ask(&SourcingQuery::Late { need_by }, None, detail);
        }
        (Standing::Unknown, _) if calendar.is_known() => {
            record.ask(&SourcingQuery::LeadDaysUnknown { need_by }, None, "");
        }
        _ => {}
    }
}

/// Money and days that stock saves against made, as far as both are known.
fn saved(offer: &Offer<'_>, made: &Offer<'_>, rules: &Rules) -> Option<String> {
    let currency = rules.project.currency;
    let money = made.price.zip(offer.price).map(|(made, stock)| {
        let word = if stock > made { "more" } else { "less" };
        format!("{} {currency} {word}", currency.round((made - stock).abs()))
    });
    let days = made.lead_days.zip(offer.lead_days).map(|(made, stock)| {
        let word = if stock > made { "later" } else { "sooner" };
        format!("{} days {word}", made.abs_diff(stock))
    });
    let parts: Vec<String> = money.into_iter().chain(days).collect();
    (!parts.is_empty()).then(|| parts.join(" and "))
}
