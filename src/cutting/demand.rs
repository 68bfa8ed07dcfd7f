//! The pieces that an order needs, by material and color.

use std::cmp::Reverse;
use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

use rust_decimal::Decimal;

use super::blind::{self, BlindToCut};
use super::{CutFault, Piece};
use crate::blinds::CutPart;
use crate::length::Length;
use crate::order::{Order, OrderLine};
use crate::rules::{CostBasis, CutIn, Rules, Saw, StockName, Stocked};
use crate::schema::choices::Origin;
use crate::sizing::Release;
use crate::spares::Spare;
use crate::survey::Survey;

/// What must be cut from one material in one color, and what it can be cut from.
#[derive(Clone, Debug, PartialEq, Eq)]
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
    /// How its pieces are put on its stock lengths.
    pub cut_in: CutIn,
    /// How many rolls one torn blind is worth.
    pub torn_costs: Decimal,
    /// The blinds that the pieces are for, in the order of cutting; none where no blind can be torn apart,
    /// as of a bar.
    pub blinds: Vec<BlindToCut>,
}

impl Demand {
    /// The same without pieces.
    pub(super) fn emptied(&self) -> Demand {
        Demand {
            material: self.material.clone(),
            color: self.color.clone(),
            saw: self.saw,
            bars: self.bars.clone(),
            offcuts: self.offcuts.clone(),
            pieces: BTreeMap::new(),
            cut_in: self.cut_in,
            torn_costs: self.torn_costs,
            blinds: Vec::new(),
        }
    }
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
pub fn demand(
    order: &Order,
    spares: &[Spare],
    survey: &Survey,
    rules: &Rules,
) -> Result<Vec<Demand>, CutFault> {
    let mut list = PieceList { rules, demands: BTreeMap::new(), of_blind: HashMap::new() };
    let basis = rules.project.cost_basis;
    let cut_now = || order.lines.iter().filter(|line| is_cut_now(line, rules));
    for line in cut_now() {
        list.add_line(line)?;
    }
    for turn in blind::one_by_one(cut_now(), survey, basis) {
        list.add_blind(&turn);
    }
    if rules.project.cost_basis == CostBasis::Make {
        for spare in spares.iter().filter(|spare| spare.before.is_none()) {
            let piece = Piece { length: spare.cut, line: None, part: spare.part };
            list.add(&spare.material, &spare.color, piece, spare.count)?;
        }
    }
    Ok(list.demands.into_values().filter(|demand| !demand.pieces.is_empty()).collect())
}

/// Whether blinds of a line are made, may be made now, and are still to be cut.
pub(super) fn is_cut_now(line: &OrderLine, rules: &Rules) -> bool {
    let is_made_now = line.key.origin == Origin::Made && line.key.release == Release::Make;
    is_made_now && line.to_cut(rules.project.cost_basis) > 0
}

/// A material in a color.
type Stuff = (Arc<str>, Arc<str>);
/// The pieces of one blind, and how many of each.
type OfBlind = Arc<[(Piece, u64)]>;

/// The demands as they grow, line by line.
struct PieceList<'r> {
    rules: &'r Rules,
    demands: BTreeMap<Stuff, Demand>,
    /// What one blind of a line takes of each material that is counted blind by blind. Looked up only,
    /// never walked.
    of_blind: HashMap<usize, Vec<(Stuff, OfBlind)>>,
}

impl PieceList<'_> {
    fn add_line(&mut self, line: &OrderLine) -> Result<(), CutFault> {
        let mut of_blind: BTreeMap<Stuff, Vec<(Piece, u64)>> = BTreeMap::new();
        for CutPart { part, material, length, each, .. } in &*line.key.parts {
            let each = u64::from(*each);
            let piece = Piece { length: *length, line: Some(line.line), part: *part };
            let stuff = self.add(
                material,
                &line.key.color,
                piece,
                line.to_cut(self.rules.project.cost_basis) * each,
            )?;
            if each > 0 && self.is_by_blind(&stuff) {
                of_blind.entry(stuff).or_default().push((piece, each));
            }
        }
        let longest_first = |(stuff, mut pieces): (Stuff, Vec<(Piece, u64)>)| {
            pieces.sort_by_key(|(piece, _)| (Reverse(piece.length), *piece));
            (stuff, pieces.into())
        };
        self.of_blind.insert(line.line, of_blind.into_iter().map(longest_first).collect());
        Ok(())
    }

    /// Whether it matters which blind each piece is for: where blinds are cut one by one, and where a roll
    /// is cut otherwise, to say what that tears apart.
    fn is_by_blind(&self, (material, _): &Stuff) -> bool {
        let known = self.rules.material(material);
        known.is_some_and(|known| known.cut_in == CutIn::Blinds || known.stock_name == StockName::Roll)
    }

    fn add_blind(&mut self, turn: &blind::Turn) {
        for (stuff, pieces) in self.of_blind.get(&turn.line).into_iter().flatten() {
            if let Some(demand) = self.demands.get_mut(stuff) {
                let (blind, floor) = (turn.blind, turn.floor);
                demand.blinds.push(BlindToCut { blind, floor, pieces: pieces.clone() });
            }
        }
    }

    /// Adds pieces of one kind, in the color if their material comes in it; says to what.
    fn add(
        &mut self,
        material: &Arc<str>,
        color: &Arc<str>,
        piece: Piece,
        count: u64,
    ) -> Result<Stuff, CutFault> {
        let Some(stocked) = self.rules.stocked(material) else {
            return Err(CutFault::NoBar { material: material.clone() });
        };
        let color = if stocked.material.colored { color.clone() } else { Arc::from("") };
        let stuff = (stocked.material.name.clone(), color.clone());
        let demand =
            self.demands.entry(stuff.clone()).or_insert_with(|| nothing_yet(&stocked, color, self.rules));
        if count > 0 {
            *demand.pieces.entry(piece).or_default() += count;
        }
        Ok(stuff)
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
        cut_in: material.cut_in,
        torn_costs: material.torn_costs,
        blinds: Vec::new(),
    }
}
