//! What is asked about phases.

use crate::query::{Entry, did_you_mean_or, queries};
use crate::rules::columns::phases::{COLUMNS, PHASES};

/// Every query of this room.
pub(crate) const QUERIES: &[&[Entry]] = &[PhaseQuery::ENTRIES];

queries! {
    /// A doubt about a phase of the job.
    pub(super) enum PhaseQuery for Office {
        OverBudget: Check, "phase-over-budget",
            "a phase costs more than its budget"
            => "see {} for what it bears; agree on a higher {}, or on less", PHASES.sheet, COLUMNS.budget.name;
        WithoutOpenings { nearest: Option<String> }: Check, "phase-without-openings",
            "a row of {} names a phase that no opening has; it is not used", PHASES.sheet
            => "{}", did_you_mean_or(nearest.as_deref(), "use the name as in Openings, or delete the row");
        WithoutRow: Note, "phase-without-row",
            "a phase of the openings has no row on {}; what Project says is used", PHASES.sheet
            => "add a row for it if it has dates, fitters or a budget of its own";
    }
}
