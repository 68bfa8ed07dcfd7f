//! Prices: `None` is a price that is not known, never 0.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::length::Length;
use crate::place::CellRef;

/// Prices of blinds and parts.
#[derive(Clone, Debug, Default)]
pub struct PriceList {
    /// Price of a made blind, by product; the first that fits.
    pub blinds: Vec<BlindPrice>,
    /// Prices of parts, by item.
    pub parts: Vec<PartPrice>,
}

/// The price of a blind made to measure.
#[derive(Clone, Debug)]
pub struct BlindPrice {
    /// The product it is for; `None` for every product.
    pub product: Option<Arc<str>>,
    /// Price of each blind, whatever its size.
    pub each: Option<Decimal>,
    /// Price of a square metre of width x drop.
    pub per_m2: Option<Decimal>,
    /// Least area charged, m2.
    pub least_m2: Decimal,
    /// Days from order to delivery.
    pub lead_days: Option<u32>,
    /// Whether it is the built-in example price.
    pub example: bool,
    /// Its cell, if the survey gives it.
    pub at: Option<CellRef>,
}

/// The price of a part.
#[derive(Clone, Debug)]
pub struct PartPrice {
    /// The part's item name, as hardware counts it.
    pub item: Arc<str>,
    /// Price of one (of each 12 in, for a wand).
    pub each: Option<Decimal>,
    /// How many are in a pack.
    pub pack_of: u32,
    /// Whether it is the built-in example price.
    pub example: bool,
    /// Its cell, if the survey gives it.
    pub at: Option<CellRef>,
}

/// A size held in shops.
#[derive(Clone, Debug)]
pub struct StockSize {
    /// The product.
    pub product: Arc<str>,
    /// Colours it comes in; empty for every colour.
    pub colours: Vec<Arc<str>>,
    /// Nominal width.
    pub nominal_width: Length,
    /// Nominal drop.
    pub nominal_drop: Length,
    /// Actual width.
    pub width: Length,
    /// Actual drop.
    pub drop: Length,
    /// Price of one; `None` if not known.
    pub price: Option<Decimal>,
    /// Days from order to delivery.
    pub lead_days: Option<u32>,
    /// How many are on hand.
    pub on_hand: u32,
    /// Least width it may be cut down to; `None` if it may not.
    pub cut_width_to: Option<Length>,
    /// Least drop it may be cut down to; `None` if it may not.
    pub cut_drop_to: Option<Length>,
    /// Its cell, if the survey gives it.
    pub at: Option<CellRef>,
}
