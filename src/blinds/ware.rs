//! What a blind needs beside what it is cut from: small parts, brackets and what holds them.

use std::sync::Arc;

use crate::length::Length;
use crate::rules::{Fixing, FixingId, PartPrice, Rules, SmallPart};

/// The item under which fixings stand whose substrate is unknown.
pub const NOT_CHOSEN: &str = "not chosen";

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
    /// A small part; a wand has a length besides.
    Small(SmallPart),
    /// A wand of this length.
    Wand(Length),
    /// A screw with its anchor.
    Fixing(FixingId),
    /// Fixings still to be chosen: what the brackets go into is unknown.
    NotChosen,
}

/// What the spares of a ware are counted by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SparesBy {
    /// The project's share of fixings.
    Fixings,
    /// Its share of parts.
    Parts,
    /// The same, and one at least for each spare louver, which could not be hung without.
    PartsAndLouvers,
    /// It has none.
    Nothing,
}

impl Ware {
    /// Whether it holds a bracket to what it goes into, chosen or not.
    pub fn is_fixing(&self) -> bool {
        matches!(self, Ware::Fixing(_) | Ware::NotChosen)
    }

    /// Whether it never comes with a blind, in a box or in its price: fixings, packers, and a motor.
    pub fn is_bought_apart(&self) -> bool {
        self.is_fixing() || [SmallPart::Packer, SmallPart::Motor].map(Ware::Small).contains(self)
    }

    /// What its spares are counted by.
    pub fn spares(&self) -> SparesBy {
        match self {
            Ware::Fixing(_) | Ware::NotChosen => SparesBy::Fixings,
            Ware::WallBracket { .. } | Ware::InsideBracket { .. } => SparesBy::Parts,
            Ware::Small(part) => match part {
                SmallPart::Carrier | SmallPart::Hanger | SmallPart::BottomWeight => SparesBy::PartsAndLouvers,
                SmallPart::ValanceClip | SmallPart::Packer => SparesBy::Parts,
                SmallPart::SpacerLink
                | SmallPart::EndCap
                | SmallPart::CornerPiece
                | SmallPart::Wand
                | SmallPart::Motor => SparesBy::Nothing,
            },
            Ware::Wand(_) => SparesBy::Nothing,
        }
    }

    /// The item as every list names it. A wand's length is part of its name: `wand 36 in`.
    pub fn item(&self, rules: &Rules) -> Arc<str> {
        match self {
            Ware::Wand(length) => format!("wand {}", length.show(rules.project.units)).into(),
            _ => self.price_item(rules),
        }
    }

    /// The item under which `Prices` or `Fixings` lists it: one for wands of every length.
    pub fn price_item(&self, rules: &Rules) -> Arc<str> {
        match self {
            Ware::WallBracket { item, .. } | Ware::InsideBracket { item } => item.clone(),
            Ware::Small(part) => part.word().into(),
            Ware::Wand(_) => SmallPart::Wand.word().into(),
            Ware::Fixing(_) => {
                self.fixing(rules).map_or_else(|| NOT_CHOSEN.into(), |fixing| fixing.item.clone())
            }
            Ware::NotChosen => NOT_CHOSEN.into(),
        }
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

    /// How many are in a pack; `None` if no list says. A motor that no list has is sold singly.
    pub fn pack_of(&self, rules: &Rules) -> Option<u32> {
        let singly = (*self == Ware::Small(SmallPart::Motor)).then_some(1);
        let pack = match self.fixing(rules) {
            Some(fixing) => Some(fixing.pack_of),
            None => self.part_price(rules).map(|part| part.pack_of).or(singly),
        };
        pack.filter(|&count| count > 0)
    }

    /// Reach of a wall bracket, length of a wand or a screw; else empty.
    pub fn size(&self, rules: &Rules) -> String {
        let length = match self {
            Ware::WallBracket { reach, .. } => Some(*reach),
            Ware::Wand(length) => Some(*length),
            _ => self.fixing(rules).and_then(|fixing| fixing.length),
        };
        length.map_or_else(String::new, |length| length.show(rules.project.units))
    }

    /// What it goes into; empty for parts.
    pub fn substrate(&self, rules: &Rules) -> &'static str {
        match self {
            Ware::NotChosen => "unknown",
            _ => self.fixing(rules).map_or("", |fixing| fixing.substrate.word()),
        }
    }
}
