//! The pieces that an order needs, by material and color.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::{CutFault, Piece};
use crate::blinds::{CutPart, Part, Spares};
use crate::length::Length;
use crate::order::{Order, OrderLine};
use crate::rounding::percent_up;
use crate::rules::{Rules, Saw, Stocked};
use crate::sizing::Release;

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

/// The pieces of every line that is made and may be made now, with the spares; in order of material
/// and color.
///
/// # Errors
/// [`CutFault::NoBar`] where a line names a material that the rules do not hold.
pub fn demand(order: &Order, rules: &Rules) -> Result<Vec<Demand>, CutFault> {
    let mut list = PieceList { rules, demands: BTreeMap::new(), alike: BTreeMap::new() };
    let made = order.lines.iter().filter(|line| line.key.stock.is_none());
    for line in made.filter(|line| line.key.release == Release::Make) {
        list.add_line(line)?;
    }
    list.add_spares()?;
    Ok(list.demands.into_values().filter(|demand| !demand.pieces.is_empty()).collect())
}

/// The demands as they grow, line by line.
struct PieceList<'r> {
    rules: &'r Rules,
    demands: BTreeMap<(Arc<str>, Arc<str>), Demand>,
    alike: BTreeMap<Kind, Alike>,
}

/// Pieces of one kind can stand in for one another: part, material, color and width.
type Kind = (Part, Arc<str>, Arc<str>, Length);

/// The pieces of one kind of which spares are cut.
#[derive(Default)]
struct Alike {
    count: u64,
    longest: Length,
    least_spare: u64,
}

impl PieceList<'_> {
    fn add_line(&mut self, line: &OrderLine) -> Result<(), CutFault> {
        for CutPart { part, material, length, each, spares } in &*line.key.parts {
            let count = line.quantity * u64::from(*each);
            let piece = Piece { length: *length, line: Some(line.line), part: *part };
            let color = self.add(material, &line.key.color, piece, count)?;
            if let Some(Spares { width, least }) = spares {
                let alike = self.alike.entry((*part, material.clone(), color, *width)).or_default();
                alike.count += count;
                alike.longest = alike.longest.max(*length);
                alike.least_spare = alike.least_spare.max(u64::from(*least));
            }
        }
        Ok(())
    }

    /// The share is rounded up once for each kind, never line by line.
    fn add_spares(&mut self) -> Result<(), CutFault> {
        for ((part, material, color, _), alike) in std::mem::take(&mut self.alike) {
            let share = percent_up(alike.count, self.rules.project.spare_louvers);
            let spare = share.max(alike.least_spare);
            self.add(&material, &color, Piece { length: alike.longest, line: None, part }, spare)?;
        }
        Ok(())
    }

    /// Adds pieces of one kind and hands back the color they are cut in.
    fn add(
        &mut self,
        material: &Arc<str>,
        color: &Arc<str>,
        piece: Piece,
        count: u64,
    ) -> Result<Arc<str>, CutFault> {
        let Some(stocked) = self.rules.stocked(material) else {
            return Err(CutFault::NoBar { material: material.clone() });
        };
        let color = if stocked.material.colored { color.clone() } else { Arc::from("") };
        let demand = self
            .demands
            .entry((stocked.material.name.clone(), color.clone()))
            .or_insert_with(|| nothing_yet(&stocked, color.clone(), self.rules));
        if count > 0 {
            *demand.pieces.entry(piece).or_default() += count;
        }
        Ok(color)
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
