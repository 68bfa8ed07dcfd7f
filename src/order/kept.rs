//! What was ordered, as its row on `Blinds` says it: a line is the same where all of that is.
//!
//! A row has the lengths of rail, rod and louvers; what else a blind is cut from is made anew from its
//! size, and a louver's hem is today's.

use std::sync::Arc;

use super::{HungAs, LineKey};
use rust_decimal::Decimal;

use crate::blinds::{CutPart, HEADRAIL, LOUVER, Louvers, Made, Returns, TILT_ROD, Valance, Wanted};
use crate::earlier::KeptBlind;
use crate::fitting::Cord;
use crate::length::{Length, Units};
use crate::rules::{Product, Rules};
use crate::schema::choices::{Control, Draw, Mount, Origin};
use crate::worked::Record;

impl LineKey {
    /// What a blind was ordered as.
    pub(super) fn of_kept(blind: &KeptBlind, rules: &Rules) -> LineKey {
        let returns = Returns { left: blind.return_left, right: blind.return_right };
        let product = rules.product(&blind.product);
        let nominal = blind.stock.filter(|_| blind.source == Origin::Stock);
        let stock = nominal.and_then(|nominal| rules.stock_of(&blind.product, nominal));
        LineKey {
            product: Arc::clone(&blind.product),
            color: Arc::clone(&blind.color),
            size: blind.size(),
            parts: product.map_or_else(Vec::new, |product| parts(blind, product, returns)).into(),
            draw: blind.draw,
            control: blind.control,
            control_side: blind.control_side,
            wand: blind.wand,
            cord: (blind.control == Control::Cord)
                .then_some(Cord { device: blind.cord_device, height: blind.cord_height }),
            hung: match blind.mount {
                Mount::Inside => HungAs::Inside,
                Mount::Outside => HungAs::Outside { reach: blind.reach.unwrap_or_default(), returns },
                Mount::Ceiling => HungAs::Ceiling { returns },
            },
            bracket: Arc::clone(&blind.bracket),
            brackets: blind.brackets,
            valance: blind.valance,
            phase: Arc::clone(&blind.phase),
            origin: blind.source,
            stock: stock.map(|listed| listed.id),
            release: blind.release,
            remake_of: blind.remake_of,
        }
    }
}

/// The louvers of a blind that was ordered.
pub(super) fn louvers(blind: &KeptBlind) -> Option<Louvers> {
    let (count, length) = blind.louvers.zip(blind.louver_length)?;
    Some(Louvers { count, length, pitch: blind.pitch.unwrap_or_default() })
}

/// Kilograms of a blind whose row does not say, as its product makes it; `None` if the rules have no such
/// product.
pub(super) fn weight(blind: &KeptBlind, rules: &Rules) -> Option<Decimal> {
    let returns = Returns { left: blind.return_left, right: blind.return_right };
    Some(made(blind, rules.product(&blind.product)?, returns).mass)
}

/// What its product makes of its size.
fn made(blind: &KeptBlind, product: &Product, returns: Returns) -> Made {
    let valance = blind.valance.map(|front| Valance { front, returns });
    let mut record = Record::silent(0, blind.at, Units::Millimeters);
    product.family.make(wanted(blind), valance, &mut record)
}

fn wanted(blind: &KeptBlind) -> Wanted {
    Wanted { size: blind.size(), mount: blind.mount, draw: blind.draw.unwrap_or(Draw::Left) }
}

/// What it is cut from, as its product makes it, in the lengths in which it was ordered.
fn parts(blind: &KeptBlind, product: &Product, returns: Returns) -> Vec<CutPart> {
    let mut record = Record::silent(0, blind.at, Units::Millimeters);
    let hung = product.family.hang(wanted(blind), &mut record).louvers;
    let louver_off = hung.zip(louvers(blind)).map_or(Length::ZERO, |(now, then)| then.length - now.length);
    let as_ordered = |cut: CutPart| match cut.part {
        HEADRAIL => CutPart { length: blind.headrail.unwrap_or(cut.length), ..cut },
        TILT_ROD => CutPart { length: blind.rod.unwrap_or(cut.length), ..cut },
        LOUVER => CutPart {
            length: cut.length + louver_off,
            each: blind.louvers.unwrap_or(cut.each),
            material: match &*blind.louver_material {
                "" => cut.material,
                _ => Arc::clone(&blind.louver_material),
            },
            ..cut
        },
        _ => cut,
    };
    made(blind, product, returns).parts.into_iter().map(as_ordered).collect()
}
