//! The figures by which choices are compared.

use rust_decimal::Decimal;

use crate::angle::Angle;
use crate::cost::{CostLine, Section};
use crate::date::Date;
use crate::fitting::Blind;
use crate::length::Length;
use crate::report::Report;
use crate::sizing::Mount;

/// What a run comes to, in figures.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Openings that are held, by quantity.
    pub held: u64,
    /// Provisional blinds.
    pub provisional: u64,
    /// Blinds: inside, outside, and hung from a ceiling.
    pub by_mount: [u64; 3],
    /// Different products, widths and drops.
    pub sizes: u64,
    /// Lines of the order.
    pub lines: u64,
    /// Blinds from stock.
    pub from_stock: u64,
    /// Stock lengths to cut: bars, rolls, lengths.
    pub bars: u64,
    /// The least that a blind in front of its opening overlaps it on either side; `None` without such a
    /// blind. Below zero for a gap.
    pub least_overlap: Option<Length>,
    /// The smallest angle at which one sees past a blind; `None` where no blind has one.
    pub see_past: Option<Angle>,
    /// When the last blind is on site; `None` where that of any is unknown.
    pub arrives: Option<Date>,
    /// The most days from order to delivery; `None` where those of any are unknown.
    pub lead_days: Option<u32>,
    /// Days of fitting.
    pub fitting_days: u64,
    /// What each section costs; those that have a line.
    pub sections: Vec<SectionCost>,
    /// The tax; `None` where it is not all known.
    pub tax: Option<Decimal>,
    /// The total; `None` while anything is unknown.
    pub total: Option<Decimal>,
    /// What is known of it.
    pub known_total: Decimal,
}

/// What a section costs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SectionCost {
    /// The section.
    pub section: Section,
    /// The sum of its lines; `None` where any is unknown.
    pub amount: Option<Decimal>,
}

/// The mounts, in the order in which blinds are counted by them.
pub(super) const MOUNTS: [Mount; 3] = [Mount::Inside, Mount::Outside, Mount::Ceiling];

impl Figures {
    /// The figures of a run.
    pub fn of(report: &Report<'_>) -> Figures {
        let blinds = || report.blinds.iter().flatten();
        let in_front = blinds().filter(|blind| blind.sizing.hung.mount() != Mount::Inside);
        let overlaps = in_front.flat_map(|blind| [blind.fitted.overlap_left(), blind.fitted.overlap_right()]);
        let mut by_mount = [0; 3];
        for (opening, blind) in report.survey.openings.iter().zip(&report.blinds) {
            let Some(blind) = blind else { continue };
            let place = MOUNTS.iter().position(|mount| *mount == blind.sizing.hung.mount());
            place.into_iter().for_each(|place| by_mount[place] += u64::from(opening.who.quantity));
        }
        Figures {
            held: report.counts.held,
            provisional: report.counts.provisional,
            by_mount,
            sizes: report.counts.sizes,
            lines: report.order.lines.len() as u64,
            from_stock: report.from_stock(),
            bars: report.cuts.plans.iter().map(|plan| plan.bars).sum(),
            least_overlap: overlaps.flatten().min(),
            see_past: blinds().filter_map(|blind| blind.fitted.see_past()).min(),
            arrives: last(blinds(), |blind| blind.sourced.arrives),
            lead_days: last(blinds(), |blind| blind.sourced.lead_days),
            fitting_days: report.days.count as u64,
            sections: sections(&report.cost.lines),
            tax: report.cost.tax,
            total: report.cost.total,
            known_total: report.cost.known_total(),
        }
    }

    /// What a section costs; 0 where nothing is charged under it, `None` where that is unknown.
    pub fn section(&self, section: Section) -> Option<Decimal> {
        let own = self.sections.iter().find(|own| own.section == section);
        own.map_or(Some(Decimal::ZERO), |own| own.amount)
    }
}

/// The greatest of what each blind has; `None` without a blind, or if one has none.
fn last<'b, 'r: 'b, T: Ord>(
    blinds: impl Iterator<Item = &'b Blind<'r>>,
    of: impl Fn(&Blind<'r>) -> Option<T>,
) -> Option<T> {
    let all: Option<Vec<T>> = blinds.map(of).collect();
    all?.into_iter().max()
}

/// The lines of each section together, in the order of the sheet.
fn sections(lines: &[CostLine]) -> Vec<SectionCost> {
    let mut sections: Vec<SectionCost> = Vec::new();
    for line in lines.iter().filter(|line| !line.is_share_of_nothing()) {
        let known = sections.iter_mut().find(|own| own.section == line.section);
        match known {
            Some(own) => own.amount = own.amount.zip(line.amount).map(|(sum, amount)| sum + amount),
            None => sections.push(SectionCost { section: line.section, amount: line.amount }),
        }
    }
    sections.sort_by_key(|own| own.section);
    sections
}
