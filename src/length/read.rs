//! Reading a length from a tape's text.

use rust_decimal::Decimal;

use super::Unit;

/// One way in which a text can be read as a length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reading {
    /// The number; of the unit below if there is one, else of the heading's or the project's.
    pub value: Decimal,
    /// The unit that the text names.
    pub unit: Option<Unit>,
    /// A bare number grouped by a comma or a point, such as `2,692`: taken so only in millimetres.
    pub grouped: bool,
}

/// Every way in which `text` can be read as a length; empty if there is none.
pub fn readings(_text: &str) -> Vec<Reading> {
    Vec::new()
}

/// Reads a unit's usual spellings.
pub(super) fn unit_named(_text: &str) -> Option<Unit> {
    None
}
