//! The pieces that an order needs, by material and colour.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::{CutFault, Part, Piece};
use crate::length::Length;
use crate::order::{Order, OrderLine};
use crate::rounding::percent_up;
use crate::rules::{Family, LouverRules, Material, Rules, Saw};
use crate::sizing::Release;

/// What must be cut from one material in one colour, and what it can be cut from.
#[derive(Clone, Debug)]
pub struct Demand {
    /// The material.
    pub material: Arc<str>,
    /// Its colour; empty for a material without.
    pub colour: Arc<str>,
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

/// The pieces of every line that is made and may be made now, with the spare louvers; in order of
/// material and colour.
///
/// # Errors
/// [`CutFault::UnknownProduct`] and [`CutFault::NoBar`] where a line names what the rules do not hold.
pub fn demand(order: &Order, rules: &Rules) -> Result<Vec<Demand>, CutFault> {
    let mut list = PieceList { rules, demands: BTreeMap::new(), louvers: BTreeMap::new() };
    let made = order.lines.iter().filter(|line| line.key.stock.is_none());
    for line in made.filter(|line| line.key.release == Release::Make) {
        list.add_line(line)?;
    }
    list.add_spare_louvers()?;
    Ok(list.demands.into_values().filter(|demand| !demand.pieces.is_empty()).collect())
}

/// The demands as they grow, line by line.
struct PieceList<'r> {
    rules: &'r Rules,
    demands: BTreeMap<(Arc<str>, Arc<str>), Demand>,
    louvers: BTreeMap<(Arc<str>, Arc<str>, Length), LouverCount>,
}

/// The louvers of one material, colour and width.
struct LouverCount {
    count: u64,
    longest: Length,
    least_spare: u64,
}

/// One kind of piece that a blind is cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BlindPiece<'r> {
    /// The part it is.
    pub part: Part,
    /// Its material.
    pub material: &'r Arc<str>,
    /// Cut length.
    pub length: Length,
    /// How many each blind needs.
    pub each: u64,
}

/// What each blind of a line is cut from.
pub fn pieces_of_each<'r>(line: &OrderLine, louver: &'r LouverRules) -> Vec<BlindPiece<'r>> {
    let key = &line.key;
    let piece = |part, material, length| BlindPiece { part, material, length, each: 1 };
    let mut pieces = vec![
        piece(Part::Headrail, &louver.rail_material, line.rail_cut),
        piece(Part::TiltRod, &louver.rod_material, line.rod_cut),
        piece(Part::ValanceFront, &louver.valance_material, key.valance),
        piece(Part::ValanceReturn, &louver.valance_material, key.returns().left),
        piece(Part::ValanceReturn, &louver.valance_material, key.returns().right),
        BlindPiece {
            each: u64::from(key.louver_count),
            ..piece(Part::Louver, &louver.louver_material, key.louver_length + *louver.hem)
        },
    ];
    // A side without a return needs no piece; any other part always does.
    pieces.retain(|piece| piece.part != Part::ValanceReturn || piece.length != Length::ZERO);
    pieces
}

impl PieceList<'_> {
    fn add_line(&mut self, line: &OrderLine) -> Result<(), CutFault> {
        let Some(product) = self.rules.product(&line.key.product) else {
            return Err(CutFault::UnknownProduct { product: line.key.product.clone() });
        };
        let Family::Louver(louver) = &product.family;
        for BlindPiece { part, material, length, each } in pieces_of_each(line, louver) {
            let count = line.quantity * each;
            let piece = Piece { length, line: Some(line.line), part };
            let colour = self.add(material, &line.key.colour, piece, count)?;
            if part == Part::Louver {
                self.count_louvers(louver, colour, length, count);
            }
        }
        Ok(())
    }

    fn count_louvers(&mut self, louver: &LouverRules, colour: Arc<str>, length: Length, count: u64) {
        let group = (louver.louver_material.clone(), colour, *louver.louver_width);
        let least_spare = u64::from(*louver.least_spare_louvers);
        let so_far =
            self.louvers.entry(group).or_insert(LouverCount { count: 0, longest: length, least_spare });
        so_far.count += count;
        so_far.longest = so_far.longest.max(length);
        so_far.least_spare = so_far.least_spare.max(least_spare);
    }

    /// The share is rounded up once for each colour and louver width, never line by line.
    fn add_spare_louvers(&mut self) -> Result<(), CutFault> {
        for ((material, colour, _), louvers) in std::mem::take(&mut self.louvers) {
            let share = percent_up(louvers.count, self.rules.project.spare_louvers);
            let spare = share.max(louvers.least_spare);
            let piece = Piece { length: louvers.longest, line: None, part: Part::Louver };
            self.add(&material, &colour, piece, spare)?;
        }
        Ok(())
    }

    /// Adds pieces of one kind and hands back the colour they are cut in.
    fn add(
        &mut self,
        material: &Arc<str>,
        colour: &Arc<str>,
        piece: Piece,
        count: u64,
    ) -> Result<Arc<str>, CutFault> {
        let Some(material) = self.rules.material(material) else {
            return Err(CutFault::NoBar { material: material.clone() });
        };
        let colour = if material.coloured { colour.clone() } else { Arc::from("") };
        let demand = self
            .demands
            .entry((material.name.clone(), colour.clone()))
            .or_insert_with(|| nothing_yet(&material, colour.clone(), self.rules));
        if count > 0 {
            *demand.pieces.entry(piece).or_default() += count;
        }
        Ok(colour)
    }
}

fn nothing_yet(material: &Material<'_>, colour: Arc<str>, rules: &Rules) -> Demand {
    let mut offcuts = BTreeMap::new();
    for offcut in
        rules.offcuts.iter().filter(|offcut| offcut.material == *material.name && offcut.quantity > 0)
    {
        if !material.coloured || offcut.colour == colour {
            *offcuts.entry(offcut.length).or_default() += u64::from(offcut.quantity);
        }
    }
    Demand {
        material: material.name.clone(),
        colour,
        saw: material.saw,
        bars: material.bars.iter().map(|bar| Offered { length: bar.length, price: bar.price }).collect(),
        offcuts,
        pieces: BTreeMap::new(),
    }
}
