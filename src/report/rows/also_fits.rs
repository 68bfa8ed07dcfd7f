//! `Also fits`: where else blinds that do not hang yet would fit, best first.

use super::LineRow;
use crate::fitting::Blind;
use crate::length::Length;
use crate::order::OrderLine;
use crate::report::also_fits::needs;
use crate::report::figure::{Lead, Said, row};
use crate::report::{AlsoFits, Fit, Report};
use crate::schema::blinds::BlindState;
use crate::survey::{Identity, shown_unit};

/// Openings that the sheet shows of an entry, the best ones.
pub const MOST_SHOWN: usize = 5;

/// One opening that would take a blind in place of its own.
#[derive(Clone, Copy)]
pub struct AlsoFitsRow<'r> {
    report: &'r Report<'r>,
    entry: &'r AlsoFits,
    fit: &'r Fit,
    rank: usize,
}

row! {
    /// An opening that would take a blind as it is. Openings of the blind's own line are left out, unless the blind
    /// is for no opening.
    AlsoFitsRow<'r>: row {
        /// Line of the order.
        line: usize = row.order_line().line => at_least(1), shown, strong;
        /// Which blinds of the line, as on their labels.
        blind: String = row.entry.words(row.order_line()) => shown, strong;
        /// How many blinds those are.
        blinds: u64 = row.entry.blinds() => at_least(1);
        /// The product.
        product: &'r str = row.line_row().product() => shown;
        /// The color.
        color: &'r str = row.line_row().color() => shown;
        /// Finished width.
        width_mm: Length = row.line_row().width_mm() => above_zero, shown, strong;
        /// Finished drop.
        drop_mm: Length = row.line_row().drop_mm() => above_zero, shown, strong;
        /// How far they have come; null before they are ordered.
        state: Option<BlindState> = row.entry.state => shown, unless_blank;
        /// Place of this opening among those that would take one of them, the best one first.
        rank: u64 = row.rank as u64 => at_least(1);
        /// The opening that would take one.
        opening: &'r str = &row.who().name
            => headed("Also fits"), strong, worded(|row, name| Said::Leading(Lead::Opening(row.fit.opening), name.into()));
        /// Its building; empty if blank.
        building: &'r str = &row.who().building => shown, unless_blank;
        /// Its unit; empty if blank.
        unit: &'r str = &row.who().unit
            => shown, worded(|row, unit| Said::Leading(Lead::Page(row.fit.opening), shown_unit(unit).into()));
        /// Its room; empty if blank.
        room: &'r str = &row.who().room => shown, unless_blank;
        /// Its floor; empty if blank.
        floor: &'r str = &row.who().floor => shown, unless_blank;
        /// Whether all its blinds are ordered already.
        has_ordered: bool = row.fit.has_ordered => headed("Has its own ordered");
        /// Width of the blind minus the width that the opening prefers; below zero for one that is narrower.
        wider_mm: Length = row.fit.wider => headed("Wider than wanted");
        /// Drop of the blind minus the drop that the opening prefers; below zero for one that is shorter.
        longer_mm: Length = row.fit.longer => headed("Longer than wanted");
        /// What the blind would need there besides.
        needs: Vec<String> = row.needs_there() => headed("Also needs"), unless_blank, worded(|_, needs| needs.join(", "));
        /// How many openings would take one of the blinds, those that are not listed among them.
        fits: u64 = row.entry.count => at_least(1), headed("Fits in all"), worded(|row, count| match row.entry.is_all {
            true => Said::of(count),
            false => Said::of(format!("{count} or more")),
        });
        /// Whether all openings were compared; otherwise there may be more that would take one, and better ones.
        compared_all: bool = row.entry.is_all;
    }
}

impl<'r> AlsoFitsRow<'r> {
    /// Every opening that is listed, line by line, best first.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = AlsoFitsRow<'r>> + Clone {
        report.also_fits.iter().flat_map(move |entry| {
            (1..).zip(&entry.fits).map(move |(rank, fit)| AlsoFitsRow { report, entry, fit, rank })
        })
    }

    /// The best of each entry: those that the sheet shows.
    pub fn best(report: &'r Report<'r>) -> impl Iterator<Item = AlsoFitsRow<'r>> + Clone {
        AlsoFitsRow::all(report).filter(|row| row.rank <= MOST_SHOWN)
    }

    fn order_line(self) -> &'r OrderLine {
        &self.report.order.lines[self.entry.place]
    }

    fn line_row(self) -> LineRow<'r> {
        LineRow::of(self.report, self.order_line())
    }

    fn who(self) -> &'r Identity {
        &self.report.survey.openings[self.fit.opening].who
    }

    fn needs_there(self) -> Vec<String> {
        let there: Option<&Blind<'_>> = self.report.blinds[self.fit.opening].as_ref();
        let units = self.report.rules.project.units;
        there.map_or_else(Vec::new, |there| needs(&self.order_line().key, there, units))
    }
}
