//! What a unit's page is made from.

use super::super::cell::Cell;
use super::super::layout::Limits;
use super::super::stamp;
use super::lay::Grid;
use super::line::Room;
use super::paper::Paper;
use crate::query::OpeningIndex;
use crate::report::{Doubts, Report};

/// What every unit's page is made from.
pub(in crate::workbook) struct Source<'p> {
    /// The report.
    pub report: &'p Report<'p>,
    /// Queries by opening.
    pub doubts: &'p Doubts<'p>,
    /// Revision and survey, as every page shows them.
    pub stamp: String,
    /// Why there are no drawings; `None` if there are.
    pub why_not_drawn: Option<String>,
    /// How much text fits where beside a block.
    pub(super) room: Room,
}

impl<'p> Source<'p> {
    /// From a report, with drawings if the limits allow them.
    pub(in crate::workbook) fn new(
        report: &'p Report<'p>,
        doubts: &'p Doubts<'p>,
        limits: Limits,
    ) -> Source<'p> {
        let why_not_drawn = limits.why_not_drawn(report.survey.openings.len());
        let stamp = stamp(report, str::to_owned);
        let room = Grid::of(why_not_drawn.is_none(), Paper::Upright).room();
        Source { report, doubts, stamp, why_not_drawn, room }
    }

    /// The columns of a page.
    pub(super) fn grid(&self, paper: Paper) -> Grid {
        Grid::of(self.why_not_drawn.is_none(), paper)
    }

    /// Whether an opening has a drawing: if it has a blind, and there are drawings at all.
    pub(super) fn is_drawn(&self, opening: OpeningIndex) -> bool {
        self.why_not_drawn.is_none() && self.report.blinds[opening].is_some()
    }
}

/// Where a unit's page leads to; blank where there is nothing.
pub(super) struct Links<'p> {
    /// The list of units.
    pub index: Cell<'p>,
    /// The order, with the unit's lines.
    pub order: Cell<'p>,
    /// The queries about the unit.
    pub queries: Cell<'p>,
}

impl Links<'_> {
    /// No links, for a page that is only measured.
    pub(super) const fn none() -> Links<'static> {
        Links { index: Cell::Blank, order: Cell::Blank, queries: Cell::Blank }
    }
}
