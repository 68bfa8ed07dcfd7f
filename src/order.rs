//! Identical blinds grouped into lines, and the parts of each line.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::fitting::ControlSide;
use crate::length::Length;
use crate::query::OpeningIndex;
use crate::sizing::{Mount, Release, Size};
use crate::survey::{Control, Draw};

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
    /// The colour.
    pub colour: Arc<str>,
    /// Finished size.
    pub size: Size,
    /// Louvers of one blind.
    pub louver_count: u32,
    /// Length of a louver.
    pub louver_length: Length,
    /// Where they stack.
    pub draw: Draw,
    /// How it is worked.
    pub control: Control,
    /// Where the wand hangs.
    pub control_side: Option<ControlSide>,
    /// Length of each wand.
    pub wand: Option<Length>,
    /// The mount.
    pub mount: Mount,
    /// The bracket's item.
    pub bracket: Arc<str>,
    /// Brackets of one blind.
    pub bracket_count: u32,
    /// Its reach; `None` inside.
    pub reach: Option<Length>,
    /// Front of the valance.
    pub valance: Length,
    /// Return on the left.
    pub return_left: Length,
    /// Return on the right.
    pub return_right: Length,
    /// The phase.
    pub phase: Arc<str>,
    /// The stock size it comes from, as position in the rules' list; `None` if made.
    pub stock: Option<usize>,
    /// Whether it may be made now.
    pub release: Release,
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
    /// Cut length of the headrail.
    pub rail_cut: Length,
    /// Cut length of the tilt rod.
    pub rod_cut: Length,
    /// Kilograms each.
    pub weight: Decimal,
}
