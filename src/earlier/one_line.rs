//! What all ordered blinds of a line have alike: they are one line of one order, and the maker has it once. Where
//! their rows say different things, nobody can tell which of them was ordered.
//!
//! A row that is not ordered yet is made as the survey asks, whatever is typed over it.

use std::collections::BTreeMap;

use super::EarlierError;
use super::blind::{KeptBlind, Row};
use crate::name::same_name;
use crate::place::CellRef;
use crate::schema::Column;
use crate::schema::blinds::{
    BLIND, BRACKET, BRACKETS, COLOR, CONTROL, CONTROL_SIDE, CORD_DEVICE, CORD_HEIGHT, DRAW, DROP, HEADRAIL,
    LOUVER_LENGTH, LOUVERS, MOUNT, PHASE, PRODUCT, REACH, RELEASE, REMAKE_OF, RETURN_LEFT, RETURN_RIGHT, ROD,
    SOURCE, STOCK_DROP, STOCK_WIDTH, VALANCE, WAND, WIDTH,
};

/// What a line has once: its column, and whether two blinds have it alike.
type OfALine = (&'static Column, fn(&KeptBlind, &KeptBlind) -> bool);

const OF_A_LINE: &[OfALine] = &[
    (&BLIND, |one, other| one.of == other.of),
    (&PHASE, |one, other| same_name(&one.phase, &other.phase)),
    (&SOURCE, |one, other| one.source == other.source),
    (&STOCK_WIDTH, |one, other| one.stock.map(|(width, _)| width) == other.stock.map(|(width, _)| width)),
    (&STOCK_DROP, |one, other| one.stock == other.stock),
    (&RELEASE, |one, other| one.release == other.release),
    (&PRODUCT, |one, other| same_name(&one.product, &other.product)),
    (&COLOR, |one, other| same_name(&one.color, &other.color)),
    (&WIDTH, |one, other| one.width == other.width),
    (&DROP, |one, other| one.drop == other.drop),
    (&MOUNT, |one, other| one.mount == other.mount),
    (&DRAW, |one, other| one.draw == other.draw),
    (&CONTROL, |one, other| one.control == other.control),
    (&CONTROL_SIDE, |one, other| one.control_side == other.control_side),
    (&WAND, |one, other| one.wand == other.wand),
    (&CORD_DEVICE, |one, other| one.cord_device == other.cord_device),
    (&CORD_HEIGHT, |one, other| one.cord_height == other.cord_height),
    (&LOUVERS, |one, other| one.louvers == other.louvers),
    (&LOUVER_LENGTH, |one, other| one.louver_length == other.louver_length),
    (&HEADRAIL, |one, other| one.headrail == other.headrail),
    (&ROD, |one, other| one.rod == other.rod),
    (&BRACKET, |one, other| same_name(&one.bracket, &other.bracket)),
    (&REACH, |one, other| one.reach == other.reach),
    (&BRACKETS, |one, other| one.brackets == other.brackets),
    (&VALANCE, |one, other| one.valance == other.valance),
    (&RETURN_LEFT, |one, other| one.return_left == other.return_left),
    (&RETURN_RIGHT, |one, other| one.return_right == other.return_right),
    (&REMAKE_OF, |one, other| one.remake_of == other.remake_of),
];

/// The first ordered blind of each line, and its cells of what the line has once.
#[derive(Default)]
pub(super) struct Lines(BTreeMap<usize, (KeptBlind, Vec<Option<CellRef>>)>);

impl Lines {
    /// Holds a blind to the first of its line.
    ///
    /// # Errors
    /// [`EarlierError::DifferOnLine`], with both cells.
    pub(super) fn hold(&mut self, blind: &KeptBlind, row: Row<'_>) -> Result<(), EarlierError> {
        if !blind.is_frozen() {
            return Ok(());
        }
        let cell = |column: &Column| row.entry(column).map(|entry| entry.at);
        let Some((first, cells)) = self.0.get(&blind.number.line) else {
            let cells = OF_A_LINE.iter().map(|(column, _)| cell(column)).collect();
            self.0.insert(blind.number.line, (blind.clone(), cells));
            return Ok(());
        };
        let differs = OF_A_LINE.iter().zip(cells).find(|((_, alike), _)| !alike(first, blind));
        let Some(((column, _), first_cell)) = differs else { return Ok(()) };
        let second_cell = cell(column);
        // A blank cell stands under the same heading as the other.
        let show = |own: Option<CellRef>, other: Option<CellRef>, at: CellRef| {
            let column = other.map_or(at.column, |other| other.column);
            (row.show)(own.unwrap_or(CellRef { column, ..at }))
        };
        Err(EarlierError::DifferOnLine {
            first: show(*first_cell, second_cell, first.at),
            second: show(second_cell, *first_cell, blind.at),
            line: blind.number.line,
        })
    }
}
