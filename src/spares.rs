//! Spare louvers: a share of those that are made, rounded up once for each color and width, as long
//! as the longest. Who makes the blinds cuts them; who buys the blinds orders them finished, and cuts
//! nothing.
//!
//! The share is of all that is made so far and now, and what was ordered before comes off; where louvers
//! are cut, what the share of the blinds that are made already comes to. Lines go on from those of the
//! blinds, and last as theirs do.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use rust_decimal::Decimal;

use crate::blinds::{LOUVER, Part, Spares};
use crate::earlier::KeptSpares;
use crate::frozen::FrozenQuery;
use crate::length::Length;
use crate::order::{Order, Seat};
use crate::query::Query;
use crate::rounding::percent_up;
use crate::rules::{CostBasis, Rules};
use crate::schema::blinds::BlindState;
use crate::schema::choices::Origin;
use crate::sizing::Release;

/// Spares that can stand in for any of the pieces that they are spares of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spare {
    /// Line of the order.
    pub line: usize,
    /// The part.
    pub part: Part,
    /// Its material.
    pub material: Arc<str>,
    /// Its color; empty for a material without.
    pub color: Arc<str>,
    /// Width of each.
    pub width: Length,
    /// Cut length of each: the longest.
    pub cut: Length,
    /// Finished length of each.
    pub finished: Length,
    /// How many.
    pub count: u64,
    /// The order lines, by number, that they are spares for.
    pub lines: Vec<usize>,
    /// The row of what was ordered before, by its place among those; `None` for what is ordered now.
    pub before: Option<usize>,
    /// How far they have come; `None` before they are ordered.
    pub state: Option<BlindState>,
}

/// The pieces of one kind as they are found, line by line.
#[derive(Default)]
struct Alike {
    pieces: u64,
    /// Those that are cut already.
    cut_before: u64,
    cut: Length,
    finished: Length,
    least: u64,
    lines: Vec<usize>,
}

/// The spares of every line that is made and may be made now, in order of part, material, color and
/// width.
pub fn of(order: &Order, rules: &Rules) -> Vec<Spare> {
    let mut kinds: BTreeMap<(Part, Arc<str>, Arc<str>, Length), Alike> = BTreeMap::new();
    let made = order.lines.iter().filter(|line| line.key.origin == Origin::Made);
    for line in made.filter(|line| line.key.release == Release::Make) {
        for cut in &*line.key.parts {
            let Some(Spares { width, least }) = cut.spares else { continue };
            let colored = rules.material(&cut.material).is_some_and(|material| material.colored);
            let color = if colored { line.key.color.clone() } else { Arc::from("") };
            let alike = kinds.entry((cut.part, cut.material.clone(), color, width)).or_default();
            alike.pieces += line.quantity * u64::from(cut.each);
            alike.cut_before += line.count(Seat::is_cut) * u64::from(cut.each);
            alike.cut = alike.cut.max(cut.length);
            alike.finished = alike.finished.max(line.louvers.map_or(cut.length, |louvers| louvers.length));
            alike.least = alike.least.max(u64::from(least));
            alike.lines.push(line.line);
        }
    }
    let percent = rules.project.spare_louvers;
    let is_bought = rules.project.cost_basis == CostBasis::Buy;
    let mut next = order.highest_line;
    let mut taken = BTreeSet::new();
    // What was ordered is remembered, whatever is made now.
    let kept = order.spares_before.iter().enumerate().filter(|(_, kept)| kept.typed.state.is_some());
    let mut spares: Vec<Spare> = kept.map(|(place, kept)| Spare::ordered(place, kept)).collect();
    for ((part, material, color, width), alike) in kinds {
        let is_alike =
            |kept: &KeptSpares| (&kept.material, &kept.color, kept.width) == (&material, &color, width);
        let rows = || order.spares_before.iter().filter(|kept| is_alike(kept));
        let before = match is_bought {
            true => rows().filter(|kept| kept.is_ordered()).map(|kept| u64::from(kept.count)).sum(),
            false => share(alike.cut_before, percent, alike.least),
        };
        let count = share(alike.pieces, percent, alike.least).saturating_sub(before);
        if count == 0 {
            continue;
        }
        let open = rows().filter(|kept| is_bought && kept.typed.state.is_none()).map(|kept| kept.line).next();
        let line = open.filter(|line| taken.insert(*line)).unwrap_or_else(|| {
            next += 1;
            next
        });
        let Alike { cut, finished, lines, .. } = alike;
        let state = None;
        spares.push(Spare {
            line,
            part,
            material,
            color,
            width,
            cut,
            finished,
            count,
            lines,
            before: None,
            state,
        });
    }
    spares.sort_by_key(|spare| spare.line);
    spares
}

/// A check for each row of spare louvers beside which something is typed, and which is not there any more.
pub fn typed_in_vain(order: &Order, spares: &[Spare]) -> Vec<Query> {
    let is_there = |kept: &KeptSpares| spares.iter().any(|spare| spare.line == kept.line);
    let lost = order.spares_before.iter().filter(|kept| kept.typed.is_any() && !is_there(kept));
    let asked = lost.map(|kept| {
        let detail = format!("line {}: spare louvers", kept.line);
        Query::new(&FrozenQuery::TypedWithoutBlind, Some(kept.at)).with_detail(detail)
    });
    asked.collect()
}

impl Spare {
    /// Those of a row that was ordered before.
    fn ordered(place: usize, kept: &KeptSpares) -> Spare {
        Spare {
            line: kept.line,
            part: LOUVER,
            material: Arc::clone(&kept.material),
            color: Arc::clone(&kept.color),
            width: kept.width,
            cut: kept.length,
            finished: kept.length,
            count: kept.count.into(),
            lines: Vec::new(),
            before: Some(place),
            state: kept.typed.state,
        }
    }

    /// Whether they count: not those that were cancelled.
    pub const fn counts(&self) -> bool {
        !matches!(self.state, Some(BlindState::Cancelled))
    }
}

/// A share of pieces, rounded up; none of none.
fn share(pieces: u64, percent: Decimal, least: u64) -> u64 {
    if pieces == 0 { 0 } else { percent_up(pieces, percent).max(least) }
}
