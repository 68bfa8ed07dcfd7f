//! What hardware counts: every part that is not cut, and what holds it to the wall.

use std::sync::Arc;

use super::NOT_CHOSEN;
use crate::fitting::{Blind, Fitted};
use crate::length::Length;
use crate::rules::{Fixing, FixingId, PartPrice, Rules, part};
use crate::sizing::Hung;

/// Caps that close the two ends of a headrail.
const END_CAPS: u64 = 2;

/// One kind of part or fixing. The order of the variants is the order of the sheet.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ware {
    /// A bracket on the wall's face; each reach is an item of its own.
    WallBracket {
        /// Wall to the line of the louvers.
        reach: Length,
        /// Its item.
        item: Arc<str>,
    },
    /// A bracket in the head of a recess.
    InsideBracket {
        /// Its item.
        item: Arc<str>,
    },
    /// Holds the valance to the rail.
    ValanceClip,
    /// Carries a louver along the rail.
    Carrier,
    /// Clips a louver to its carrier.
    Hanger,
    /// Keeps a louver straight.
    BottomWeight,
    /// Links two louvers, at the top or at the bottom.
    SpacerLink,
    /// Closes an end of the headrail.
    EndCap,
    /// Joins a valance's return to its front.
    CornerPiece,
    /// A wand of this length.
    Wand(Length),
    /// A screw with its anchor.
    Fixing(FixingId),
    /// Fixings still to be chosen: what the brackets go into is unknown.
    NotChosen,
}

/// What one blind needs beside its cut parts, and how many of each; nothing is listed that it does
/// not need.
pub fn parts_of(blind: &Blind<'_>) -> Vec<(Ware, u64)> {
    let fitted = &blind.fitted;
    let louvers = u64::from(fitted.louvers.count);
    let mut parts = vec![
        (bracket(blind), u64::from(fitted.brackets.count())),
        (Ware::ValanceClip, fitted.clips.len() as u64),
        (Ware::Carrier, louvers),
        (Ware::Hanger, louvers),
        (Ware::BottomWeight, louvers),
        (Ware::SpacerLink, 2 * u64::from(fitted.louvers.links)),
        (Ware::EndCap, END_CAPS),
        (Ware::CornerPiece, fitted.returns().count()),
        (fixing(fitted), u64::from(fitted.fixings.count)),
    ];
    if let (Some(length), Some(side)) = (fitted.wand, fitted.control_side) {
        parts.push((Ware::Wand(length), u64::from(side.wands())));
    }
    parts.retain(|&(_, count)| count > 0);
    parts
}

fn bracket(blind: &Blind<'_>) -> Ware {
    let item = blind.fitted.brackets.item.clone();
    match &blind.sizing.hung {
        Hung::Inside(_) => Ware::InsideBracket { item },
        Hung::Outside(wall) => Ware::WallBracket { reach: wall.reach, item },
    }
}

fn fixing(fitted: &Fitted<'_>) -> Ware {
    fitted.fixings.fixing.map_or(Ware::NotChosen, |chosen| Ware::Fixing(chosen.id))
}

impl Ware {
    /// Whether it holds a bracket to what it goes into, chosen or not. A blind's price never
    /// holds these.
    pub fn is_fixing(&self) -> bool {
        matches!(self, Ware::Fixing(_) | Ware::NotChosen)
    }

    /// The item as every list names it. A wand's length is part of its name: `wand 36 in`.
    pub fn item(&self, rules: &Rules) -> Arc<str> {
        match self {
            Ware::Wand(length) => format!("wand {}", length.show(rules.project.units)).into(),
            _ => self.price_item(rules),
        }
    }

    /// The item under which `Prices` or `Fixings` lists it: one for wands of every length.
    fn price_item(&self, rules: &Rules) -> Arc<str> {
        let item = match self {
            Ware::WallBracket { item, .. } | Ware::InsideBracket { item } => return item.clone(),
            Ware::Fixing(_) => {
                return self.fixing(rules).map_or_else(|| NOT_CHOSEN.into(), |fixing| fixing.item.clone());
            }
            Ware::ValanceClip => part::VALANCE_CLIP,
            Ware::Carrier => part::CARRIER,
            Ware::Hanger => part::HANGER,
            Ware::BottomWeight => part::BOTTOM_WEIGHT,
            Ware::SpacerLink => part::SPACER_LINK,
            Ware::EndCap => part::END_CAP,
            Ware::CornerPiece => part::CORNER_PIECE,
            Ware::Wand(_) => part::WAND,
            Ware::NotChosen => NOT_CHOSEN,
        };
        item.into()
    }

    /// The fixing, if it is one that was chosen.
    pub fn fixing<'r>(&self, rules: &'r Rules) -> Option<&'r Fixing> {
        match self {
            Ware::Fixing(id) => rules.fixing(*id),
            _ => None,
        }
    }

    /// The part's price, if it is a part and the prices list it.
    pub fn part_price<'r>(&self, rules: &'r Rules) -> Option<&'r PartPrice> {
        if self.is_fixing() {
            return None;
        }
        let item = self.price_item(rules);
        rules.prices.parts.iter().find(|part| part.item == item)
    }

    /// How many are in a pack; `None` if no list says.
    pub(super) fn pack_of(&self, rules: &Rules) -> Option<u32> {
        let pack = match self.fixing(rules) {
            Some(fixing) => Some(fixing.pack_of),
            None => self.part_price(rules).map(|part| part.pack_of),
        };
        pack.filter(|&count| count > 0)
    }

    /// Reach of a wall bracket, length of a wand or a screw; else empty.
    pub(super) fn size(&self, rules: &Rules) -> String {
        let length = match self {
            Ware::WallBracket { reach, .. } => Some(*reach),
            Ware::Wand(length) => Some(*length),
            _ => self.fixing(rules).and_then(|fixing| fixing.length),
        };
        length.map_or_else(String::new, |length| length.show(rules.project.units))
    }

    /// What it goes into; empty for parts.
    pub(super) fn substrate(&self, rules: &Rules) -> &'static str {
        match self {
            Ware::NotChosen => "unknown",
            _ => self.fixing(rules).map_or("", |fixing| fixing.substrate.word()),
        }
    }
}
