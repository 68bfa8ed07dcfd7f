//! Pieces of ordered blinds that no stock length gives. What is ordered is cut as it was ordered; the stock
//! lengths may have changed since, or its row was typed over.

use super::demand::is_cut_now;
use crate::blinds::CutPart;
use crate::length::Length;
use crate::order::{Order, OrderLine};
use crate::rules::{CutIn, Rules};

/// The first line of which blinds are ordered and a piece cannot be cut, with that piece.
pub fn ordered_too_long<'o>(order: &'o Order, rules: &Rules) -> Option<(&'o OrderLine, &'o CutPart)> {
    let ordered = order.lines.iter().filter(|line| line.seats.iter().any(|seat| seat.state.is_some()));
    let to_cut = ordered.filter(|line| is_cut_now(line, rules));
    to_cut.flat_map(|line| line.key.parts.iter().map(move |part| (line, part))).find(|(line, part)| {
        let longest = longest(&part.material, &line.key.color, rules);
        part.length <= Length::ZERO || longest.is_none_or(|longest| part.length > longest)
    })
}

/// The longest piece that there is of a material: of a new bar, or of an offcut that may be used for it.
fn longest(material: &str, color: &str, rules: &Rules) -> Option<Length> {
    let known = rules.material(material)?;
    let new = rules.longest_piece(material);
    let offcuts = rules.offcuts.iter().filter(|offcut| {
        *offcut.material == *material
            && known.cut_in == CutIn::Pieces
            && (!known.colored || *offcut.color == *color)
    });
    offcuts.map(|offcut| offcut.length - known.trim * 2).chain(new).max().filter(|_| new.is_some())
}
