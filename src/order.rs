//! Identical blinds grouped into lines, and the parts of each line. Two blinds that need a different
//! number of brackets are not identical: their brackets and clips are in their boxes.

use std::collections::HashMap;
use std::collections::hash_map::Entry;
use std::sync::Arc;

use rust_decimal::Decimal;

use crate::blinds::{CutPart, Louvers, Part, Returns};
use crate::fitting::{Blind, ControlSide, Cord};
use crate::length::Length;
use crate::query::OpeningIndex;
use crate::rules::StockId;
use crate::sizing::{Hung, Mount, Release, Size};
use crate::sourcing::Origin;
use crate::survey::{Control, Draw, Survey};

/// The whole order, lines in the survey order of their first opening.
#[derive(Clone, Debug, Default)]
pub struct Order {
    /// The lines.
    pub lines: Vec<OrderLine>,
}

/// What makes two blinds identical.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LineKey {
    /// The product.
    pub product: Arc<str>,
    /// The color.
    pub color: Arc<str>,
    /// Finished size.
    pub size: Size,
    /// What each is cut from.
    pub parts: Arc<[CutPart]>,
    /// Where it stacks; `None` for a blind that is not drawn aside.
    pub draw: Option<Draw>,
    /// How it is worked.
    pub control: Control,
    /// Where the wand or the cord hangs, or the motor is.
    pub control_side: Option<ControlSide>,
    /// Length of each wand.
    pub wand: Option<Length>,
    /// The cord; `None` without one.
    pub cord: Option<Cord>,
    /// How it hangs.
    pub hung: HungAs,
    /// The bracket's item.
    pub bracket: Arc<str>,
    /// Brackets of each.
    pub brackets: u32,
    /// Front of the valance; `None` for a blind without.
    pub valance: Option<Length>,
    /// The phase.
    pub phase: Arc<str>,
    /// The stock size it comes from; `None` if made.
    pub stock: Option<StockId>,
    /// Whether it may be made now.
    pub release: Release,
}

/// What a mount adds to what makes two blinds identical.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum HungAs {
    /// Within the recess.
    Inside,
    /// On the wall face, or on the casing.
    Outside {
        /// Reach of the bracket.
        reach: Length,
        /// Returns of the valance.
        returns: Returns,
    },
    /// From the ceiling.
    Ceiling {
        /// Returns of the valance.
        returns: Returns,
    },
}

/// Identical blinds.
#[derive(Clone, Debug)]
pub struct OrderLine {
    /// Line number, from 1.
    pub line: usize,
    /// What each blind is.
    pub key: LineKey,
    /// How many blinds.
    pub quantity: u64,
    /// Their openings, in survey order, each once a row.
    pub openings: Vec<OpeningIndex>,
    /// Louvers of each; `None` for a blind without.
    pub louvers: Option<Louvers>,
    /// Kilograms each.
    pub weight: Decimal,
}

impl Order {
    /// The line of that number, from 1.
    pub fn line(&self, number: usize) -> Option<&OrderLine> {
        self.lines.get(number.checked_sub(1)?)
    }
}

impl OrderLine {
    /// Cut length of a part; `None` for a blind without it.
    pub fn cut(&self, part: Part) -> Option<Length> {
        self.key.parts.iter().find(|needed| needed.part == part).map(|needed| needed.length)
    }
}

/// Groups identical blinds into lines, numbered from 1 in the survey order of their first opening.
/// `blinds` has one place for each opening of the survey; one that is held is in no line.
pub fn group_identical(survey: &Survey, blinds: &[Option<Blind<'_>>]) -> Order {
    let mut lines: Vec<OrderLine> = Vec::new();
    // Looked up only, never walked: the lines themselves keep the survey's order.
    let mut known: HashMap<LineKey, usize> = HashMap::new();
    for (index, (opening, blind)) in survey.openings.iter().zip(blinds).enumerate() {
        let Some(blind) = blind else { continue };
        let place = match known.entry(LineKey::of(blind, &opening.who.phase)) {
            Entry::Occupied(found) => *found.get(),
            Entry::Vacant(new) => {
                lines.push(OrderLine::first(lines.len() + 1, new.key().clone(), blind));
                *new.insert(lines.len() - 1)
            }
        };
        let quantity = u64::from(opening.who.quantity);
        let line = &mut lines[place];
        line.quantity += quantity;
        line.openings.push(index);
    }
    Order { lines }
}

impl LineKey {
    /// The mount.
    pub const fn mount(&self) -> Mount {
        match self.hung {
            HungAs::Inside => Mount::Inside,
            HungAs::Outside { .. } => Mount::Outside,
            HungAs::Ceiling { .. } => Mount::Ceiling,
        }
    }

    /// Reach of the bracket, of a mount that has it.
    pub const fn reach(&self) -> Option<Length> {
        match self.hung {
            HungAs::Inside | HungAs::Ceiling { .. } => None,
            HungAs::Outside { reach, .. } => Some(reach),
        }
    }

    /// Returns of the valance.
    pub const fn returns(&self) -> Returns {
        match self.hung {
            HungAs::Inside => Returns::NONE,
            HungAs::Outside { returns, .. } | HungAs::Ceiling { returns } => returns,
        }
    }

    /// Made, or from stock.
    pub const fn origin(&self) -> Origin {
        match self.stock {
            Some(_) => Origin::Stock,
            None => Origin::Made,
        }
    }

    fn of(blind: &Blind<'_>, phase: &Arc<str>) -> LineKey {
        let Blind { sizing, sourced, fitted } = blind;
        LineKey {
            product: sizing.product.name.clone(),
            color: sizing.color.clone(),
            size: sourced.size,
            parts: fitted.parts.clone(),
            draw: fitted.panel.stack.map(|stack| stack.draw),
            control: sizing.operation.control,
            control_side: fitted.control_side,
            wand: fitted.wand,
            cord: fitted.cord,
            hung: match &sizing.hung {
                Hung::Inside(_) => HungAs::Inside,
                Hung::Outside(wall) => HungAs::Outside { reach: wall.reach, returns: fitted.returns() },
                Hung::Ceiling(_) => HungAs::Ceiling { returns: fitted.returns() },
            },
            bracket: fitted.brackets.item.clone(),
            brackets: fitted.brackets.count(),
            valance: fitted.valance,
            phase: phase.clone(),
            stock: sourced.supply.stock().map(|size| size.id),
            release: sizing.release,
        }
    }
}

impl OrderLine {
    fn first(line: usize, key: LineKey, blind: &Blind<'_>) -> OrderLine {
        OrderLine {
            line,
            key,
            quantity: 0,
            openings: Vec::new(),
            louvers: blind.fitted.panel.louvers,
            weight: blind.fitted.weight,
        }
    }
}
