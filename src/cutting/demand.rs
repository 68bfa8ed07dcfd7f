//! The pieces that an order needs, by material and color.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::{CutFault, Piece};
use crate::blinds::CutPart;
use crate::length::Length;
use crate::order::{Order, OrderLine};
use crate::rules::{CostBasis, Rules, Saw, Stocked};
use crate::sizing::Release;
use crate::spares::{self, Spare};

/// What must be cut from one material in one color, and what it can be cut from.
#[derive(Clone, Debug)]
pub struct Demand {
    /// The material.
    pub material: Arc<str>,
    /// Its color; empty for a material without.
    pub color: Arc<str>,
    /// How it is cut.
    pub saw: Saw,
    /// Stock lengths on offer.
    pub bars: Vec<Offered>,
    /// Offcuts on hand: raw length, and how many.
    pub offcuts: BTreeMap<Length, u64>,
    /// The pieces, and how many of each.
    pub pieces: BTreeMap<Piece, u64>,
}

/// A stock length on offer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Offered {
    /// Raw length.
    pub length: Length,
    /// Price of one; `None` if not known.
    pub price: Option<Decimal>,
}

/// The pieces of every line that is made and may be made now, with the spares where blinds are not
/// bought; in order of material and color.
///
/// # Errors
/// [`CutFault::NoBar`] where a line names a material that the rules do not hold.
pub fn demand(order: &Order, rules: &Rules) -> Result<Vec<Demand>, CutFault> {
    let mut list = PieceList { rules, demands: BTreeMap::new() };
    let made = order.lines.iter().filter(|line| line.key.stock.is_none());
    for line in made.filter(|line| line.key.release == Release::Make) {
        list.add_line(line)?;
    }
    if rules.project.cost_basis == CostBasis::Make {
        for Spare { part, material, color, cut, count, .. } in spares::of(order, rules) {
            list.add(&material, &color, Piece { length: cut, line: None, part }, count)?;
        }
    }
    Ok(list.demands.into_values().filter(|demand| !demand.pieces.is_empty()).collect())
}

/// The demands as they grow, line by line.
struct PieceList<'r> {
    rules: &'r Rules,
    demands: BTreeMap<(Arc<str>, Arc<str>), Demand>,
}

impl PieceList<'_> {
    fn add_line(&mut self, line: &OrderLine) -> Result<(), CutFault> {
        for CutPart { part, material, length, each, .. } in &*line.key.parts {
            let count = line.quantity * u64::from(*each);
            let piece = Piece { length: *length, line: Some(line.line), part: *part };
            self.add(material, &line.key.color, piece, count)?;
        }
        Ok(())
    }

    /// Adds pieces of one kind, in the color if their material comes in it.
    fn add(
        &mut self,
        material: &Arc<str>,
        color: &Arc<str>,
        piece: Piece,
        count: u64,
    ) -> Result<(), CutFault> {
        let Some(stocked) = self.rules.stocked(material) else {
            return Err(CutFault::NoBar { material: material.clone() });
        };
        let color = if stocked.material.colored { color.clone() } else { Arc::from("") };
        let demand = self
            .demands
            .entry((stocked.material.name.clone(), color.clone()))
            .or_insert_with(|| nothing_yet(&stocked, color, self.rules));
        if count > 0 {
            *demand.pieces.entry(piece).or_default() += count;
        }
        Ok(())
    }
}

fn nothing_yet(stocked: &Stocked<'_>, color: Arc<str>, rules: &Rules) -> Demand {
    let material = stocked.material;
    let mut offcuts = BTreeMap::new();
    for offcut in
        rules.offcuts.iter().filter(|offcut| offcut.material == material.name && offcut.quantity > 0)
    {
        if !material.colored || offcut.color == color {
            *offcuts.entry(offcut.length).or_default() += u64::from(offcut.quantity);
        }
    }
    Demand {
        material: material.name.clone(),
        color,
        saw: material.saw(),
        bars: stocked.bars.iter().map(|bar| Offered { length: bar.length, price: bar.price }).collect(),
        offcuts,
        pieces: BTreeMap::new(),
    }
}
