//! `Options compared`: what each choice comes to beside the survey as it stands, and why.

use rust_decimal::Decimal;

use super::cost::amount;
use crate::angle::Angle;
use crate::cost::Section;
use crate::date::Date;
use crate::length::Length;
use crate::report::figure::{Money, Rows, row};
use crate::report::{Choice, Figures, Report, SectionCost};
use crate::rules::AS_IT_STANDS;

/// What a choice comes to.
#[derive(Clone, Copy)]
pub struct ChoiceRow<'r> {
    report: &'r Report<'r>,
    choice: &'r Choice,
    /// The survey as it stands.
    base: &'r Figures,
}

row! {
    /// What a choice comes to, or the survey as it stands.
    ChoiceRow<'r>: row {
        /// Its name; null for the survey as it stands.
        option: Option<&'r str> = row.choice.name.as_deref();
        /// What is said of it; empty if nothing is.
        note: &'r str = &row.choice.note;
        /// What it has in place of the survey's own.
        says: Vec<&'r str> = row.choice.says.iter().map(String::as_str).collect();
        /// Its figures.
        figures: FiguresRow<'r> = FiguresRow(&row.choice.figures);
        /// What it costs.
        cost: ChoiceCostRow<'r> = ChoiceCostRow(row);
        /// Its figures minus those of the survey as it stands; null for that itself.
        difference: Option<DifferenceRow<'r>> = row.choice.name.is_some().then_some(DifferenceRow {
            report: row.report, is: &row.choice.figures, was: row.base,
        });
        /// Why it is not as the survey as it stands.
        why: Vec<&'r str> = row.choice.causes.iter().map(String::as_str).collect();
    }
}

impl<'r> ChoiceRow<'r> {
    /// The survey as it stands, then every choice.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = ChoiceRow<'r>> + Clone {
        let base = report.options.first().map(|base| &base.figures);
        report.options.iter().filter_map(move |choice| Some(ChoiceRow { report, choice, base: base? }))
    }

    /// What each section of the cost comes to with each choice.
    pub fn sections(report: &'r Report<'r>) -> impl Iterator<Item = (OptionNameRow<'r>, SectionRow<'r>)> {
        ChoiceRow::all(report)
            .flat_map(|row| row.by_section().map(move |section| (OptionNameRow(row), section)))
    }

    /// Every section that any choice has.
    pub fn sections_of_any(report: &Report<'_>) -> Vec<Section> {
        let mut sections: Vec<Section> = report
            .options
            .iter()
            .flat_map(|choice| &choice.figures.sections)
            .map(|cost| cost.section)
            .collect();
        sections.sort_unstable();
        sections.dedup();
        sections
    }

    /// A section with this choice.
    pub fn section_row(self, section: Section) -> SectionRow<'r> {
        let cost = SectionCost { section, amount: self.choice.figures.section(section) };
        SectionRow { report: self.report, cost, base: self.base }
    }

    /// What it is called on a sheet.
    pub fn shown_name(self) -> &'r str {
        self.option().unwrap_or(AS_IT_STANDS)
    }

    fn by_section(self) -> impl Iterator<Item = SectionRow<'r>> {
        ChoiceRow::sections_of_any(self.report).into_iter().map(move |section| self.section_row(section))
    }
}

/// The name of a choice.
#[derive(Clone, Copy)]
pub struct OptionNameRow<'r>(ChoiceRow<'r>);

row! {
    /// The name of a choice.
    OptionNameRow<'r>: row {
        /// Its name; null for the survey as it stands.
        option: Option<&'r str> = row.0.option();
    }
}

/// What a choice comes to, in figures.
#[derive(Clone, Copy)]
pub struct FiguresRow<'r>(&'r Figures);

row! {
    /// What a choice comes to, in figures.
    FiguresRow<'r>: row {
        /// Openings that are held.
        held: u64 = row.0.held => headed("Openings held");
        /// Blinds that are provisional.
        provisional: u64 = row.0.provisional => headed("Blinds provisional");
        /// Blinds inside.
        inside: u64 = row.0.by_mount[0] => headed("Blinds inside");
        /// Blinds outside, on the wall.
        outside: u64 = row.0.by_mount[1] => headed("Blinds outside");
        /// Blinds hung from a ceiling.
        ceiling: u64 = row.0.by_mount[2] => headed("Blinds from the ceiling");
        /// Different combinations of product, width and drop.
        sizes: u64 = row.0.sizes => headed("Different sizes");
        /// Lines of the order.
        lines: u64 = row.0.lines => headed("Order lines");
        /// Blinds that come from stock.
        from_stock: u64 = row.0.from_stock => headed("Blinds from stock");
        /// Bars, rolls and lengths to cut.
        bars: u64 = row.0.bars => headed("Bars, rolls and lengths");
        /// The smallest overlap of a blind in front of its opening; below 0 for a gap, null without such a blind.
        least_overlap_mm: Option<Length> = row.0.least_overlap => headed("Smallest overlap");
        /// The smallest angle at which one sees past a blind, from square-on; null where no blind has one.
        see_past_deg: Option<Angle> = row.0.see_past => headed("Smallest see-past angle (deg)");
        /// Days from the order until the last blind is on site; null where those of any are unknown.
        lead_days: Option<u32> = row.0.lead_days => headed("Days to the last blind"), or_unknown;
        /// When the last blind is on site; null without an order date, or where that of any is unknown.
        arrives: Option<Date> = row.0.arrives => headed("Last blind on site"), or_unknown;
        /// Days of fitting.
        fitting_days: u64 = row.0.fitting_days => headed("Days of fitting");
    }
}

/// What a choice costs.
#[derive(Clone, Copy)]
pub struct ChoiceCostRow<'r>(ChoiceRow<'r>);

row! {
    /// What a choice costs.
    ChoiceCostRow<'r>: row {
        /// Every section that any choice has.
        sections: Rows<'r, SectionRow<'r>> = Rows::new(move || row.0.by_section());
        /// The tax; null if any taxable amount is unknown.
        tax: Option<Money> = row.0.choice.figures.tax.map(|tax| amount(tax, row.0.report)) => shown, or_unknown;
        /// The total; null if any amount is unknown.
        total: Option<Money> = row.0.choice.figures.total.map(|total| amount(total, row.0.report))
            => shown, strong, or_unknown;
        /// What is known of the total.
        known_total: Money = amount(row.0.choice.figures.known_total, row.0.report) => headed("Known so far");
    }
}

/// What a section costs.
#[derive(Clone, Copy)]
pub struct SectionRow<'r> {
    report: &'r Report<'r>,
    cost: SectionCost,
    base: &'r Figures,
}

row! {
    /// What a section costs.
    SectionRow<'r>: row {
        /// The section.
        section: Section = row.cost.section;
        /// Its lines together; null if any is unknown.
        amount: Option<Money> = row.cost.amount.map(|exact| amount(exact, row.report)) => shown, or_unknown;
        /// That minus what the survey as it stands costs; null if either is unknown.
        difference: Option<Money> = money_between(row.cost.amount, row.base.section(row.cost.section), row.report)
            => shown, or_unknown;
    }
}

/// By how much a choice differs from the survey as it stands.
#[derive(Clone, Copy)]
pub struct DifferenceRow<'r> {
    report: &'r Report<'r>,
    is: &'r Figures,
    was: &'r Figures,
}

row! {
    /// By how much a choice differs from the survey as it stands; below 0 for fewer.
    DifferenceRow<'r>: row {
        /// Openings that are held.
        held: i64 = between(row.is.held, row.was.held) => shown;
        /// Blinds that are provisional.
        provisional: i64 = between(row.is.provisional, row.was.provisional) => shown;
        /// Blinds inside.
        inside: i64 = between(row.is.by_mount[0], row.was.by_mount[0]) => shown;
        /// Blinds outside, on the wall.
        outside: i64 = between(row.is.by_mount[1], row.was.by_mount[1]) => shown;
        /// Blinds hung from a ceiling.
        ceiling: i64 = between(row.is.by_mount[2], row.was.by_mount[2]) => shown;
        /// Different combinations of product, width and drop.
        sizes: i64 = between(row.is.sizes, row.was.sizes) => shown;
        /// Lines of the order.
        lines: i64 = between(row.is.lines, row.was.lines) => shown;
        /// Blinds that come from stock.
        from_stock: i64 = between(row.is.from_stock, row.was.from_stock) => shown;
        /// Bars, rolls and lengths to cut.
        bars: i64 = between(row.is.bars, row.was.bars) => shown;
        /// The smallest overlap; null if either has none.
        least_overlap_mm: Option<Length> = row.is.least_overlap.zip(row.was.least_overlap).map(|(is, was)| is - was) => shown;
        /// Days until the last blind is on site; null if either is unknown.
        lead_days: Option<i64> = row.is.lead_days.zip(row.was.lead_days).map(|(is, was)| between(is.into(), was.into()))
            => shown;
        /// Days of fitting.
        fitting_days: i64 = between(row.is.fitting_days, row.was.fitting_days) => shown;
        /// Tax; null if either is unknown.
        tax: Option<Money> = money_between(row.is.tax, row.was.tax, row.report) => shown;
        /// The total; null if either is unknown.
        total: Option<Money> = money_between(row.is.total, row.was.total, row.report) => shown, strong;
    }
}

fn between(is: u64, was: u64) -> i64 {
    i64::try_from(i128::from(is) - i128::from(was)).unwrap_or(i64::MAX)
}

fn money_between(is: Option<Decimal>, was: Option<Decimal>, report: &Report<'_>) -> Option<Money> {
    is.zip(was).map(|(is, was)| amount(is - was, report))
}
