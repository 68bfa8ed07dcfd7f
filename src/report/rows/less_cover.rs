//! Stock sizes that overlap less than the minimum, as far as the project accepts it, opening by opening.

use rust_decimal::Decimal;

use super::cost::amount;
use crate::angle::Angle;
use crate::length::Length;
use crate::query::OpeningIndex;
use crate::report::Report;
use crate::report::figure::{Lead, Money, Said, row};
use crate::sourcing::{Candidate, LessCover, Supply};
use crate::survey::{Identity, shown_unit};

/// One stock size for one opening.
#[derive(Clone, Copy)]
pub struct LessCoverRow<'r> {
    report: &'r Report<'r>,
    opening: OpeningIndex,
    stock: Candidate<'r>,
    less: LessCover,
    made: Candidate<'r>,
}

row! {
    /// A stock size that would hang in front of an opening with less overlap than the minimum, compared with the
    /// blind made to measure.
    LessCoverRow<'r>: row {
        /// The opening.
        opening: &'r str = &row.who().name
            => headed("Opening"), strong, worded(|row, name| Said::Leading(Lead::Opening(row.opening), name.into()));
        /// Its building; empty if blank.
        building: &'r str = &row.who().building => shown, unless_blank;
        /// Its unit; empty if blank.
        unit: &'r str = &row.who().unit
            => shown, worded(|row, unit| Said::Leading(Lead::Page(row.opening), shown_unit(unit).into()));
        /// Its room; empty if blank.
        room: &'r str = &row.who().room => shown, unless_blank;
        /// How many openings the row stands for.
        quantity: u64 = u64::from(row.who().quantity) => at_least(1), shown;
        /// The stock size.
        what: String = row.stock.what(row.report.rules.project.units) => headed("Stock size");
        /// Overlap on the left; below zero for a gap.
        overlap_left_mm: Length = row.less.left => shown;
        /// Overlap on the right; below zero for a gap.
        overlap_right_mm: Length = row.less.right => shown;
        /// Angle at which one can look past the smaller one, below zero for a gap; null where walls close both.
        see_past_deg: Option<Angle> = row.less.see_past
            => headed("See-past angle (deg)"), worded(|_, angle| match angle {
                None => Said::from("closed by walls"),
                angle => Said::of(angle),
            });
        /// Price of one, with the brackets that its box lacks; null if not known.
        price: Option<Money> = row.stock.price.map(|price| amount(price, row.report)) => headed("Price each"), or_unknown;
        /// Price of one made to measure; null if not known.
        made_price: Option<Money> = row.made.price.map(|price| amount(price, row.report))
            => headed("Made, each"), or_unknown;
        /// By how much all of the row cost less than made to measure, or would; below zero if they cost more. Null if a
        /// price is not known.
        saves: Option<Money> = row.saved().map(|saved| amount(saved, row.report)) => shown, strong, or_unknown;
        /// By how many days it is there sooner than made to measure; below zero if later. Null if not known.
        days_sooner: Option<i64> = row.days() => shown, or_unknown;
        /// Whether it is taken.
        taken: bool = row.stock.why_not.is_none() => shown, strong;
        /// Why it is not taken; null if it is.
        why: Option<String> = row.stock.why_not.map(|why| why.to_string()) => headed("Why not"), unless_blank;
    }
}

impl<'r> LessCoverRow<'r> {
    /// Every such stock size of every opening, in survey order and in that of the list.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = LessCoverRow<'r>> {
        let is_accepted =
            report.rules.project.stock_sizes && report.rules.project.accept_less_cover > Length::ZERO;
        let openings = 0..if is_accepted { report.survey.openings.len() } else { 0 };
        openings.flat_map(move |opening| {
            let candidates = report.candidates(opening);
            let made = candidates.iter().find(|other| matches!(other.supply, Supply::Made)).copied();
            let rows = candidates.into_iter().filter_map(move |stock| {
                Some(LessCoverRow { report, opening, stock, less: stock.less?, made: made? })
            });
            let mut rows: Vec<LessCoverRow<'r>> = rows.collect();
            rows.sort_by_key(|row| row.stock.supply.stock().map(|stock| stock.id));
            rows
        })
    }

    fn who(self) -> &'r Identity {
        &self.report.survey.openings[self.opening].who
    }

    fn saved(self) -> Option<Decimal> {
        let each = self.made.price?.checked_sub(self.stock.price?)?;
        each.checked_mul(Decimal::from(self.who().quantity))
    }

    fn days(self) -> Option<i64> {
        Some(i64::from(self.made.lead_days?) - i64::from(self.stock.lead_days?))
    }
}
