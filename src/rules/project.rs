//! The project's items, checked.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::queries::{Findings, RuleQuery};
use super::raw::{Missing, RawRow, Word};
use crate::date::Date;
use crate::length::{Length, Units};
use crate::money::Currency;
use crate::schema::Column;
use crate::schema::project as p;
use crate::survey::{Assumption, Given};

/// What `Project` says, blanks filled.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Project {
    /// The project's name; empty if blank.
    pub name: String,
    /// Where it is; empty if blank.
    pub site: String,
    /// Who it is for; empty if blank.
    pub client: String,
    /// Who measured; empty if blank.
    pub surveyed_by: String,
    /// When.
    pub survey_date: Option<Date>,
    /// The survey's revision.
    pub revision: String,
    /// How sizes are written and shown.
    pub units: Units,
    /// Currency of every price.
    pub currency: Currency,
    /// Whose safety rules hold.
    pub jurisdiction: Jurisdiction,
    /// What the sizes in the survey are.
    pub sizes_given: SizesGiven,
    /// Whether floors were laid when measured.
    pub floors_finished: FloorsFinished,
    /// Floor as it is to ceiling.
    pub ceiling_height: Option<Given<Length>>,
    /// Year built.
    pub built: Option<u32>,
    /// Tax, in per cent.
    pub tax: Decimal,
    /// Overhead, in per cent of direct cost.
    pub overhead: Decimal,
    /// Profit, in per cent of direct cost and overhead.
    pub profit: Decimal,
    /// Contingency, in per cent of all before tax.
    pub contingency: Decimal,
    /// Price of an hour.
    pub labour_rate: Decimal,
    /// Louvers to cut beyond those needed, in per cent.
    pub spare_louvers: Decimal,
    /// Fixings to buy beyond those needed, in per cent.
    pub spare_fixings: Decimal,
    /// When the blinds must be on site.
    pub need_by: Option<Date>,
    /// Bought whole or made.
    pub cost_basis: CostBasis,
    /// Whether stock sizes may be used.
    pub stock_sizes: bool,
    /// How far under the least overlap a stock size may fall, on a side.
    pub accept_less_cover: Length,
    /// How far a made size may move to share another; `None` for `no`.
    pub merge_sizes: Option<Length>,
    /// The day from which lead days count, if the project gives one.
    pub order_date: Option<Date>,
    /// Which blinds are sawn together.
    pub sawn_together: SawnTogether,
    /// What the tax is taken on.
    pub tax_on: TaxOn,
}

/// Whose safety rules hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Jurisdiction {
    /// United States.
    UnitedStates,
    /// Canada.
    Canada,
    /// European Union.
    EuropeanUnion,
    /// United Kingdom.
    UnitedKingdom,
    /// Australia.
    Australia,
    /// `none`.
    Unregulated,
    /// Blank: the strictest of all.
    Strictest,
}

impl Jurisdiction {
    /// As a survey writes it; a blank in words.
    pub const fn word(self) -> &'static str {
        match self {
            Jurisdiction::UnitedStates => "US",
            Jurisdiction::Canada => "CA",
            Jurisdiction::EuropeanUnion => "EU",
            Jurisdiction::UnitedKingdom => "UK",
            Jurisdiction::Australia => "AU",
            Jurisdiction::Unregulated => "none",
            Jurisdiction::Strictest => "not given: the strictest of all",
        }
    }
}

/// What the widths and heights of a survey are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SizesGiven {
    /// Of the openings.
    Opening,
    /// Of finished blinds: nothing comes off.
    Finished,
}

/// Whether floors were laid when the openings were measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FloorsFinished {
    /// All of them.
    Yes,
    /// None: a blank surface is an unfinished one.
    No,
    /// Some: a blank surface counts as hard.
    Mixed,
}

/// How blinds are costed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CostBasis {
    /// At a price each.
    Buy,
    /// From bars, parts and making time.
    Make,
}

impl CostBasis {
    /// `buy` or `make`.
    pub const fn word(self) -> &'static str {
        match self {
            CostBasis::Buy => "buy",
            CostBasis::Make => "make",
        }
    }
}

/// Which blinds share bars.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SawnTogether {
    /// Those of one phase: each phase is sawn by itself.
    EachPhase,
    /// All of the project.
    WholeProject,
}

/// What the tax is taken on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TaxOn {
    /// Everything.
    All,
    /// Materials only.
    Materials,
}

impl TaxOn {
    /// `all` or `materials`.
    pub const fn word(self) -> &'static str {
        match self {
            TaxOn::All => "all",
            TaxOn::Materials => "materials",
        }
    }
}

/// Items that may be unknown: an unreadable one is left out with a check. An unknown jurisdiction
/// is taken as the strictest of all.
const MAY_BE_UNKNOWN: [&Column; 9] = [
    &p::NAME,
    &p::SITE,
    &p::CLIENT,
    &p::SURVEYED_BY,
    &p::SURVEY_DATE,
    &p::JURISDICTION,
    &p::CEILING_HEIGHT,
    &p::BUILT,
    &p::NEED_BY,
];

/// The project's items with their blanks filled; `None` if something in them stops the run.
pub(super) fn project(row: &RawRow, units: Units, findings: &mut Findings) -> Option<Project> {
    if !row.sift(&MAY_BE_UNKNOWN, findings) {
        return None;
    }
    let Some(currency) = Currency::from_code(row.written(&p::CURRENCY)) else {
        findings.stop(RuleQuery::Currency, row.at(&p::CURRENCY), row.written(&p::CURRENCY));
        return None;
    };
    read(row, units, currency)
        .inspect_err(|Missing(column)| {
            let query = RuleQuery::NoValue { sheet: row.table.sheet, rule: column.name };
            findings.stop(query, row.at(column), row.written(column));
        })
        .ok()
}

fn read(row: &RawRow, units: Units, currency: Currency) -> Result<Project, Missing> {
    let text = |column| row.value::<Arc<str>>(column).map_or(String::new(), |text| text.to_string());
    let ceiling = row.value(&p::CEILING_HEIGHT).zip(row.at(&p::CEILING_HEIGHT));
    Ok(Project {
        name: text(&p::NAME),
        site: text(&p::SITE),
        client: text(&p::CLIENT),
        surveyed_by: text(&p::SURVEYED_BY),
        survey_date: row.value::<Date>(&p::SURVEY_DATE),
        revision: text(&p::REVISION),
        units,
        currency,
        jurisdiction: jurisdiction(row),
        sizes_given: word(row, &p::SIZES_GIVEN_ARE, &[SizesGiven::Opening, SizesGiven::Finished])?,
        floors_finished: word(
            row,
            &p::FLOORS_FINISHED,
            &[FloorsFinished::Yes, FloorsFinished::No, FloorsFinished::Mixed],
        )?,
        ceiling_height: ceiling.map(|(value, at)| Given { value, at }),
        built: row.value(&p::BUILT),
        tax: row.needed(&p::TAX)?,
        overhead: row.needed(&p::OVERHEAD)?,
        profit: row.needed(&p::PROFIT)?,
        contingency: row.needed(&p::CONTINGENCY)?,
        labour_rate: row.needed(&p::LABOUR_RATE)?,
        spare_louvers: row.needed(&p::SPARE_LOUVERS)?,
        spare_fixings: row.needed(&p::SPARE_FIXINGS)?,
        need_by: row.value(&p::NEED_BY),
        cost_basis: word(row, &p::COST_BASIS, &[CostBasis::Buy, CostBasis::Make])?,
        stock_sizes: word(row, &p::STOCK_SIZES, &[true, false])?,
        accept_less_cover: row.needed(&p::ACCEPT_LESS_COVER)?,
        merge_sizes: row.value(&p::MERGE_SIZES),
        order_date: row.value(&p::ORDER_DATE),
        sawn_together: word(row, &p::CUT_BY_PHASE, &[SawnTogether::EachPhase, SawnTogether::WholeProject])?,
        tax_on: word(row, &p::TAX_ON, &[TaxOn::All, TaxOn::Materials])?,
    })
}

/// What a choice means, `meanings` being in the order of the schema's words.
fn word<T: Copy>(row: &RawRow, column: &'static Column, meanings: &[T]) -> Result<T, Missing> {
    let Word(position) = row.needed(column)?;
    meanings.get(position).copied().ok_or(Missing(column))
}

/// Whose rules hold; where nobody says, the strictest of all.
fn jurisdiction(row: &RawRow) -> Jurisdiction {
    let meanings = [
        Jurisdiction::UnitedStates,
        Jurisdiction::Canada,
        Jurisdiction::EuropeanUnion,
        Jurisdiction::UnitedKingdom,
        Jurisdiction::Australia,
        Jurisdiction::Unregulated,
    ];
    word(row, &p::JURISDICTION, &meanings).unwrap_or(Jurisdiction::Strictest)
}

/// Every item that the survey left blank and that was taken to mean something.
pub(super) fn assumptions(row: &RawRow) -> Vec<Assumption> {
    let assumed = row.table.columns.iter().filter_map(|column| {
        let value = match row.cell(column) {
            Some(cell) if cell.at().is_none() => cell.written.clone(),
            None if column.slot == p::JURISDICTION.slot => p::JURISDICTION.blank.to_owned(),
            _ => return None,
        };
        Some(Assumption { column, value, openings: 0 })
    });
    assumed.collect()
}
