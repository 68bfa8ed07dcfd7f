//! What a stock size is for an opening, or why it is nothing for it; and the made blind beside it.

use rust_decimal::Decimal;

use super::Supply;
use super::calendar::Calendar;
use super::candidate::{PassedOver, WhyNot, lead_days, price};
use super::rank::Rank;
use crate::angle::Angle;
use crate::date::Date;
use crate::length::Length;
use crate::rules::{Rules, StockSize};
use crate::sizing::{Operation, Size, Sizing};
use crate::survey::{Control, Draw};

/// One way to get an opening's blinds.
#[derive(Clone, Debug)]
pub(super) struct Offer<'r> {
    pub(super) supply: Supply<'r>,
    pub(super) size: Size,
    /// The overlaps, if one of them is under the least.
    pub(super) less: Option<LessCover>,
    /// Width that it lacks to the least width of the window; zero if none.
    pub(super) uncovered: Length,
    pub(super) price: Option<Decimal>,
    pub(super) lead_days: Option<u32>,
    pub(super) arrives: Option<Date>,
}

/// The overlaps of a blind that covers less than is wanted at the least.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LessCover {
    /// On the left; under zero for a gap.
    pub left: Length,
    /// On the right.
    pub right: Length,
    /// Angle at which one can look past the smaller of those that no wall closes; `None` where walls close
    /// both.
    pub see_past: Option<Angle>,
}

impl<'r> Offer<'r> {
    /// The blind made to measure.
    pub(super) fn made(sizing: &Sizing<'r>, rules: &Rules, calendar: &Calendar) -> Offer<'r> {
        Offer::of(Supply::Made, sizing.window.preferred(), None, sizing, rules, calendar)
    }

    fn of(
        supply: Supply<'r>,
        size: Size,
        less: Option<LessCover>,
        sizing: &Sizing<'r>,
        rules: &Rules,
        calendar: &Calendar,
    ) -> Offer<'r> {
        let lead_days = lead_days(supply, sizing, rules);
        let price = price(supply, size, sizing, rules);
        let uncovered = less.map_or(Length::ZERO, |_| sizing.window.least().width - size.width);
        Offer { supply, size, less, uncovered, price, lead_days, arrives: calendar.arrives(lead_days) }
    }

    /// What it counts for in the order of `rank`.
    pub(super) fn rank(&self, sizing: &Sizing<'_>, calendar: &Calendar) -> Rank {
        Rank::of(self, sizing.window.preferred(), calendar)
    }

    pub(super) fn passed_over(&self, why_not: WhyNot) -> PassedOver<'r> {
        PassedOver { supply: self.supply, size: self.size, why_not }
    }
}

/// What a stock size is for an opening of its product, or why it is nothing: an offer of its own size, or
/// the actual size that was passed over.
///
/// # Errors
/// What it is, or what of its size does not do; a size of which none is on hand does not either.
pub(super) fn of_stock<'r>(
    stock: &'r StockSize,
    sizing: &Sizing<'r>,
    rules: &Rules,
    calendar: &Calendar,
) -> Result<Offer<'r>, PassedOver<'r>> {
    let found = offer(stock, sizing, rules, calendar).and_then(|offer| match stock.on_hand {
        0 => Err(WhyNot::TooFew { left: 0 }),
        _ => Ok(offer),
    });
    let actual = Size { width: stock.width, drop: stock.drop };
    found.map_err(|why_not| PassedOver { supply: Supply::Stock(stock), size: actual, why_not })
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
    let (width, less) = match across.settle() {
        Some(width) => (width, None),
        None => (stock.width, Some(less_cover(stock.width, sizing, rules).ok_or(WhyNot::Width)?)),
    };
    let size = Size { width, drop };
    let whole = size == Size { width: stock.width, drop: stock.drop };
    let supply = if whole { Supply::Stock(stock) } else { Supply::CutFromStock(stock) };
    Ok(Offer::of(supply, size, less, sizing, rules, calendar))
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
pub(super) fn less_cover(width: Length, sizing: &Sizing<'_>, rules: &Rules) -> Option<LessCover> {
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
    enough.then_some(LessCover { left, right, see_past })
}
