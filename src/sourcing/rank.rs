//! What makes one way to get blinds better than another, for one opening and for the whole project alike.
//!
//! A rank is a row of amounts, the first that differs decides, and less is better: blinds that are not
//! there in time, blinds without a price, blinds that are late for certain, days late, money, blinds of
//! unknown lead days, lead days, blinds made, width under that of the least overlaps, movement, and turn.
//! All of these add up over blinds, so that the rank of a project is the sum of its blinds' ranks, and
//! where nothing is scarce the best for each opening is the best for all.

use std::ops::{Add, Sub};

use rust_decimal::Decimal;

use super::calendar::{Calendar, Standing};
use super::candidate::WhyNot;
use super::offer::Offer;
use crate::rounding::half_away;
use crate::sizing::Size;

/// The amounts, what counts first first; that of money is in units of `MONEY_DECIMALS` decimals, lengths
/// are in nanometers.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Rank([i128; 11]);

const NOT_IN_TIME: usize = 0;
const UNPRICED: usize = 1;
const LATE: usize = 2;
const DAYS_LATE: usize = 3;
const MONEY: usize = 4;
const LEAD_UNKNOWN: usize = 5;
const LEAD_DAYS: usize = 6;
const MADE: usize = 7;
const UNCOVERED: usize = 8;
const MOVED: usize = 9;
const TURN: usize = 10;

/// Decimals of an amount of money in a rank: far finer than any currency, and still exact in sums over
/// a million blinds.
const MONEY_DECIMALS: u32 = 12;

impl Rank {
    /// What one blind adds, without its turn.
    pub(super) fn of(offer: &Offer<'_>, preferred: Size, calendar: &Calendar) -> Rank {
        let standing = calendar.standing(offer.arrives);
        let (late, days_late) = match standing {
            Standing::Late(days) => (1, i128::from(days)),
            Standing::InTime | Standing::Unknown => (0, 0),
        };
        let moved = (offer.size.width - preferred.width).abs() + (offer.size.drop - preferred.drop).abs();
        let mut rank = Rank::default();
        rank.0[NOT_IN_TIME] = i128::from(standing != Standing::InTime);
        rank.0[UNPRICED] = i128::from(offer.price.is_none());
        rank.0[LATE] = late;
        rank.0[DAYS_LATE] = days_late;
        rank.0[MONEY] = offer.price.map_or(0, fine);
        rank.0[LEAD_UNKNOWN] = i128::from(offer.lead_days.is_none());
        rank.0[LEAD_DAYS] = offer.lead_days.map_or(0, i128::from);
        rank.0[MADE] = i128::from(offer.supply.stock().is_none());
        rank.0[UNCOVERED] = i128::from(offer.uncovered.nm());
        rank.0[MOVED] = i128::from(moved.nm());
        rank
    }

    /// The same with its turn: what comes last between ways that are equal in all else.
    pub(super) fn with_turn(mut self, turn: i128) -> Rank {
        self.0[TURN] = turn;
        self
    }

    /// Of so many blinds.
    pub(super) fn times(mut self, blinds: u64) -> Rank {
        self.0.iter_mut().for_each(|amount| *amount = amount.saturating_mul(i128::from(blinds)));
        self
    }

    /// Whether nothing that counts more than money is in it.
    pub(super) fn is_of_money(&self) -> bool {
        self.0[..MONEY].iter().all(|amount| *amount == 0)
    }

    /// The amount of money, which is that of known prices alone.
    pub(super) fn money(&self) -> Decimal {
        let amount = self.0[MONEY];
        let exact = Decimal::try_from_i128_with_scale(amount, MONEY_DECIMALS);
        let whole = || Decimal::try_from_i128_with_scale(amount / 10_i128.pow(MONEY_DECIMALS), 0);
        exact.or_else(|_| whole()).unwrap_or(Decimal::MAX).normalize()
    }

    /// In what an offer is behind the one taken: the first in which they differ.
    pub(super) fn behind(&self, taken: &Rank) -> WhyNot {
        match (0..self.0.len()).find(|&place| self.0[place] != taken.0[place]) {
            Some(NOT_IN_TIME) if self.0[LATE] == 0 => WhyNot::ArrivalUnknown,
            Some(NOT_IN_TIME | LATE | DAYS_LATE) => WhyNot::Late,
            Some(UNPRICED) => WhyNot::Unpriced,
            Some(MONEY) => WhyNot::Dearer,
            Some(LEAD_UNKNOWN | LEAD_DAYS) => WhyNot::Slower,
            Some(MADE) => WhyNot::NotStock,
            Some(UNCOVERED) => WhyNot::CoversLess,
            Some(MOVED) => WhyNot::FurtherOff,
            _ => WhyNot::ListedLater,
        }
    }
}

/// A price in the units of a rank.
fn fine(price: Decimal) -> i128 {
    let price = half_away(price, MONEY_DECIMALS);
    let more = MONEY_DECIMALS.saturating_sub(price.scale());
    price.mantissa().saturating_mul(10_i128.pow(more))
}

impl Add for Rank {
    type Output = Rank;

    fn add(mut self, other: Rank) -> Rank {
        self.0.iter_mut().zip(other.0).for_each(|(amount, more)| *amount = amount.saturating_add(more));
        self
    }
}

impl Sub for Rank {
    type Output = Rank;

    fn sub(mut self, other: Rank) -> Rank {
        self.0.iter_mut().zip(other.0).for_each(|(amount, less)| *amount = amount.saturating_sub(less));
        self
    }
}
