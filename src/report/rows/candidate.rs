//! Every way to get an opening's blinds that was looked at.

use super::NameRow;
use super::cost::amount;
use crate::angle::Angle;
use crate::date::Date;
use crate::length::Length;
use crate::query::OpeningIndex;
use crate::report::Report;
use crate::report::figure::{Money, row};
use crate::sourcing::{Candidate, Origin};

/// One way to get an opening's blinds.
#[derive(Clone, Copy)]
pub struct CandidateRow<'r> {
    report: &'r Report<'r>,
    candidate: Candidate<'r>,
}

row! {
    /// One way to get an opening's blinds, taken or not.
    CandidateRow<'r>: row {
        /// Made or from stock, with its size.
        what: String = row.candidate.what(row.report.rules.project.units);
        /// Made to measure, or from a stock size.
        source: Origin = row.candidate.supply.origin();
        /// Finished width; of a stock size that does not fit, its actual width.
        width_mm: Length = row.candidate.size.width => above_zero;
        /// Finished drop; of a stock size that does not fit, its actual drop.
        drop_mm: Length = row.candidate.size.drop => above_zero;
        /// Price of one blind, with the brackets that its box lacks; null if not known.
        price: Option<Money> = row.candidate.price.map(|price| amount(price, row.report));
        /// The bracket that its box lacks, which is bought besides; null if there is none.
        besides: Option<&'r str> = row.candidate.besides.map(|bracket| &**bracket);
        /// Days from order to delivery; null if not known.
        lead_days: Option<u32> = row.candidate.lead_days;
        /// Date on which it could be on site; null without an order date or lead days.
        arrives: Option<Date> = row.candidate.arrives;
        /// Overlap on the left of a stock size that overlaps less than the minimum; null for any other.
        overlap_left_mm: Option<Length> = row.candidate.less.map(|less| less.left);
        /// The same on the right.
        overlap_right_mm: Option<Length> = row.candidate.less.map(|less| less.right);
        /// Angle at which one can look past the smaller of these; null for any other, and where walls close both.
        see_past_deg: Option<Angle> = row.candidate.less.and_then(|less| less.see_past);
        /// Whether it is the one that was taken.
        taken: bool = row.candidate.why_not.is_none();
        /// Why it was not taken; null for the one that was.
        why: Option<String> = row.candidate.why_not.map(|why| why.to_string());
    }
}

impl<'r> CandidateRow<'r> {
    /// Those of one opening, the one taken first; none where it is held.
    pub fn all(report: &'r Report<'r>, index: OpeningIndex) -> impl Iterator<Item = CandidateRow<'r>> {
        report.candidates(index).into_iter().map(move |candidate| CandidateRow { report, candidate })
    }

    /// Those of every opening, each beside its opening.
    pub fn by_opening(report: &'r Report<'r>) -> impl Iterator<Item = (NameRow<'r>, CandidateRow<'r>)> {
        report.survey.openings.iter().enumerate().flat_map(move |(index, opening)| {
            CandidateRow::all(report, index).map(move |candidate| (NameRow::of(&opening.who), candidate))
        })
    }
}
