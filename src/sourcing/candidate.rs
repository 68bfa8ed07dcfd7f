//! Every way to get an opening's blinds that was looked at: its price, its arrival, and why it was not
//! taken.
//!
//! A box that lacks the bracket of its opening is compared at the price that is paid in the end, with
//! those brackets: as many as its width needs.

use std::fmt;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::calendar::Calendar;
use super::offer::{LessCover, less_cover};
use super::{Origin, Sourced, Supply};
use crate::date::Date;
use crate::length::{Length, Units};
use crate::rules::{Rules, StockSize};
use crate::sizing::{Size, Sizing};

/// One way to get an opening's blinds.
#[derive(Clone, Copy, Debug)]
pub struct Candidate<'r> {
    /// Made, or which stock size.
    pub supply: Supply<'r>,
    /// The finished size; of a stock size that does not fit its actual one.
    pub size: Size,
    /// Price of one blind with the brackets that its box lacks; `None` if a part of it is not known.
    pub price: Option<Decimal>,
    /// The bracket that its box lacks, if it does.
    pub besides: Option<&'r Arc<str>>,
    /// Days from order to delivery, if known.
    pub lead_days: Option<u32>,
    /// When it would be on site; `None` without an order date or lead days.
    pub arrives: Option<Date>,
    /// Its overlaps, if it covers less than is wanted at the least.
    pub less: Option<LessCover>,
    /// Why it was not taken; `None` for the one that was.
    pub why_not: Option<WhyNot>,
}

/// A candidate that was not taken.
#[derive(Clone, Copy, Debug)]
pub struct PassedOver<'r> {
    /// Made, or which stock size.
    pub supply: Supply<'r>,
    /// As of [`Candidate`].
    pub size: Size,
    /// Why it was not taken.
    pub why_not: WhyNot,
}

/// Why a candidate was not taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhyNot {
    /// A blind with a motor is always made.
    Motor,
    /// It does not come in the color.
    Color,
    /// It is drawn another way.
    Draw,
    /// It is worked another way.
    Control,
    /// Its width lies outside the window and cannot be cut into it.
    Width,
    /// Its drop does.
    Drop,
    /// There are not as many as are needed, even if no other opening took any.
    TooFew {
        /// How many there are, without those that are ordered.
        left: u32,
    },
    /// There are enough, and the whole project gains as much or more where they are used.
    UsedElsewhere,
    /// Its price is not known.
    Unpriced,
    /// It is not known whether it would arrive in time.
    ArrivalUnknown,
    /// It would arrive too late, or later than the one taken.
    Late,
    /// It costs more.
    Dearer,
    /// It costs the same and takes longer.
    Slower,
    /// It costs the same, takes as long, and is made.
    NotStock,
    /// It is as good, and covers less.
    CoversLess,
    /// It is as good, and further from the preferred size.
    FurtherOff,
    /// It is as good, and listed later.
    ListedLater,
}

impl WhyNot {
    /// Whether the opening could hang it, and has something else.
    fn is_of_a_choice(self) -> bool {
        use WhyNot::{Color, Control, Draw, Drop, Motor, Width};
        !matches!(self, Motor | Color | Draw | Control | Width | Drop)
    }
}

impl fmt::Display for WhyNot {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            WhyNot::Motor => "blinds with a motor are made to measure",
            WhyNot::Color => "not stocked in this color",
            WhyNot::Draw => "drawn another way",
            WhyNot::Control => "operated another way",
            WhyNot::Width => "the width does not fit",
            WhyNot::Drop => "the drop does not fit",
            WhyNot::TooFew { left: 0 } => "none are left",
            WhyNot::TooFew { left } => return write!(f, "only {left} left"),
            WhyNot::UsedElsewhere => "used for other openings",
            WhyNot::Unpriced => "the price is unknown",
            WhyNot::ArrivalUnknown => "may not arrive in time",
            WhyNot::Late => "would arrive too late",
            WhyNot::Dearer => "costs more",
            WhyNot::Slower => "costs the same and takes longer",
            WhyNot::NotStock => "costs the same and takes as long: stock is used",
            WhyNot::CoversLess => "as good, but covers less",
            WhyNot::FurtherOff => "as good, but further from the preferred size",
            WhyNot::ListedLater => "as good, but listed later",
        })
    }
}

impl Candidate<'_> {
    /// `made 66 in x 83 1/2 in`, `stock 66 in x 84 in, cut down to 64 in x 84 in`.
    pub fn what(&self, units: Units) -> String {
        let shown = |width: Length, drop: Length| format!("{} x {}", width.show(units), drop.show(units));
        let finished = shown(self.size.width, self.size.drop);
        let word = self.supply.origin().word();
        match self.supply {
            Supply::Made | Supply::Unlisted => format!("{word} {finished}"),
            Supply::Stock(stock) => format!("{word} {}", shown(stock.nominal_width, stock.nominal_drop)),
            Supply::CutFromStock(stock) => {
                let nominal = shown(stock.nominal_width, stock.nominal_drop);
                format!("{word} {nominal}, cut down to {finished}")
            }
        }
    }
}

impl<'r> Sourced<'r> {
    /// Every candidate of an opening of this phase: the one taken, then the others.
    pub fn candidates(&self, sizing: &Sizing<'r>, rules: &'r Rules, phase: &str) -> Vec<Candidate<'r>> {
        let calendar = Calendar::of(rules.terms_of(phase));
        let taken = (self.supply, self.size, None);
        let others = self.passed_over.iter();
        let all = others.map(|other| (other.supply, other.size, Some(other.why_not)));
        std::iter::once(taken)
            .chain(all)
            .map(|(supply, size, why_not)| {
                let lead_days = lead_days(supply, sizing, rules);
                Candidate {
                    supply,
                    size,
                    price: price(supply, size, sizing, rules),
                    besides: supply.stock().and_then(|stock| besides(stock, sizing)),
                    lead_days,
                    arrives: calendar.arrives(lead_days),
                    less: less_cover(size.width, sizing, rules).filter(|_| {
                        why_not.is_none_or(WhyNot::is_of_a_choice) && supply.origin() == Origin::Stock
                    }),
                    why_not,
                }
            })
            .collect()
    }
}

/// The bracket that an opening needs and a box lacks.
pub(super) fn besides<'r>(stock: &StockSize, sizing: &Sizing<'r>) -> Option<&'r Arc<str>> {
    let bracket = sizing.hung.bracket();
    (!stock.brackets.contains(bracket)).then_some(bracket)
}

/// Price of one blind, with the brackets that its box lacks.
pub(super) fn price(supply: Supply<'_>, size: Size, sizing: &Sizing<'_>, rules: &Rules) -> Option<Decimal> {
    let currency = rules.project.currency;
    let Some(stock) = supply.stock() else {
        if supply.origin() == Origin::Stock {
            return None;
        }
        return rules.prices.made_blind(&sizing.product.name)?.of(size.width, size.drop, currency);
    };
    let Some(bracket) = besides(stock, sizing) else { return stock.price };
    let each = rules.prices.parts.iter().find(|part| part.item == *bracket)?.each?;
    let count = Decimal::from(sizing.product.cover.brackets_across(size.width));
    Some(currency.round(stock.price?.checked_add(each.checked_mul(count)?)?))
}

/// Days from order to delivery.
pub(super) fn lead_days(supply: Supply<'_>, sizing: &Sizing<'_>, rules: &Rules) -> Option<u32> {
    match supply.stock() {
        Some(stock) => stock.lead_days,
        None if supply.origin() == Origin::Stock => None,
        None => rules.prices.made_blind(&sizing.product.name)?.lead_days,
    }
}
