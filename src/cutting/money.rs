//! Prices as the whole numbers that plans are compared by, and back.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use super::{CutFault, Demand};
use crate::length::Length;

/// The lengths on offer, each with its lowest price.
pub(super) type OnOffer = BTreeMap<Length, Option<Decimal>>;

/// What the costs of a plan stand for.
#[derive(Clone, Copy)]
pub(super) enum Money {
    /// Some bar has no price: every bar counts one.
    Unknown,
    /// No bar costs anything: every bar counts one, and a sum of them nothing.
    Free,
    /// Prices times ten to this power.
    Scaled(u32),
}

/// The cheapest of each length. A length with an unpriced bar stays unpriced.
pub(super) fn cheapest_of_each_length(demand: &Demand) -> OnOffer {
    let mut bars = OnOffer::new();
    for bar in &demand.bars {
        // `None` is less than any price.
        bars.entry(bar.length).and_modify(|price| *price = bar.price.min(*price)).or_insert(bar.price);
    }
    bars
}

impl Money {
    pub(super) fn of(bars: &OnOffer) -> Money {
        let scales: Option<Vec<u32>> =
            bars.values().map(|price| Some((*price)?.normalize().scale())).collect();
        match scales {
            None => Money::Unknown,
            Some(_) if bars.values().all(|price| *price == Some(Decimal::ZERO)) => Money::Free,
            Some(scales) => Money::Scaled(scales.into_iter().fold(0, u32::max)),
        }
    }

    /// What a bar of that price counts.
    pub(super) fn counted(self, price: Option<Decimal>, demand: &Demand) -> Result<u64, CutFault> {
        match (self, price) {
            (Money::Scaled(scale), Some(price)) => {
                scaled(price, scale).ok_or_else(|| too_many_digits(demand))
            }
            _ => Ok(1),
        }
    }

    /// What counts so much in money; `None` if a bar has no price.
    pub(super) fn of_count(self, cost: u128, demand: &Demand) -> Result<Option<Decimal>, CutFault> {
        match self {
            Money::Unknown => Ok(None),
            Money::Free => Ok(Some(Decimal::ZERO)),
            Money::Scaled(scale) => in_money(cost, scale).map(Some).ok_or_else(|| too_many_digits(demand)),
        }
    }
}

/// A price times ten to the power of `scale`: a whole number.
fn scaled(price: Decimal, scale: u32) -> Option<u64> {
    price.checked_mul(Decimal::from(10_u64.checked_pow(scale)?))?.to_u64()
}

fn in_money(cost: u128, scale: u32) -> Option<Decimal> {
    Decimal::try_from_i128_with_scale(i128::try_from(cost).ok()?, scale).ok()
}

pub(super) fn too_many_digits(demand: &Demand) -> CutFault {
    CutFault::TooManyDigits { material: demand.material.clone() }
}
