//! The sheet `Project`, an item on each row, and the words that its items choose from.

use rust_decimal::Decimal;

use crate::date::Date;
use crate::length::{Length, Units};
use crate::money::Currency;
use crate::place::Given;
use crate::schema::choices::{self, choice};
use crate::schema::{Column, Form, Kind, LENGTH, MOST_LENGTH, YES_NO};

choice! {
    /// Whose safety rules hold.
    Jurisdiction {
        /// United States.
        UnitedStates = "US",
        /// Canada.
        Canada = "CA",
        /// European Union.
        EuropeanUnion = "EU",
        /// United Kingdom.
        UnitedKingdom = "UK",
        /// Australia.
        Australia = "AU",
        /// None of these.
        Unregulated = "none",
    }
}
choice! {
    /// What the widths and heights of a survey are.
    SizesGiven {
        /// Of the openings.
        Opening = "opening",
        /// Of finished blinds: nothing comes off.
        Finished = "finished",
    }
}
choice! {
    /// Whether floors were laid when the openings were measured.
    FloorsFinished {
        /// All of them.
        Yes = "yes",
        /// None: a blank surface is an unfinished one.
        No = "no",
        /// Some: a blank surface counts as hard.
        Mixed = "mixed",
    }
}
choice! {
    /// How blinds are costed.
    CostBasis {
        /// At a price each.
        Buy = "buy",
        /// From bars, parts and making time.
        Make = "make",
    }
}
choice! {
    /// What the tax is taken on.
    TaxOn {
        /// Everything.
        All = "all",
        /// Materials only.
        Materials = "materials",
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

sheet! { PROJECT, "Project", Form::ItemAndValue, "What holds for the whole survey.";
    /// What `Project` says, blanks filled.
    pub struct Project, read(row, units: Units, currency: Currency) {
        name: String, "Project" ["Project name"] Kind::Text, "none", "The project's name, on every sheet.", unknown;
        site: String, "Site" ["Address"] Kind::Text, "none", "Where the building is.", unknown;
        client: String, "Client" [] Kind::Text, "none", "Who the work is for.", unknown;
        surveyed_by: String, "Surveyed by" [] Kind::Text, "none", "Who measured.", unknown;
        survey_date: Option<Date>, "Survey date" [] Kind::Date, "unknown", "The day the openings were measured.", unknown;
        revision: String, "Revision" [] Kind::Text, "1", "Printed on every sheet, so that last month's page is seen for what it is.";
        units, "Units" [] Kind::Choice(choices::UNITS), "what headings and cells name; else the run stops", "What a bare number is in: in or mm.";
        currency, "Currency" [] Kind::Text, "USD", "ISO 4217 code of every price.";
        jurisdiction: Option<Jurisdiction>, "Jurisdiction" [] Kind::Choice(Jurisdiction::WORDS), "the strictest of all", "Whose safety rules hold.", unknown;
        sizes_given: SizesGiven, "Sizes given are" [] Kind::Choice(SizesGiven::WORDS), "opening", "Whether widths and heights are of the openings or of finished blinds.";
        floors_finished: FloorsFinished, "Floors finished" [] Kind::Choice(FloorsFinished::WORDS), "mixed: a blank surface counts as hard", "Whether the floors were laid when the openings were measured.";
        ceiling_height: Option<Given<Length>>, "Ceiling height" [] LENGTH, "unknown", "From the floor as it is to the ceiling.", unknown;
        built: Option<u32>, "Built" ["Year built"] Kind::Whole { least: 1000, most: 9999 }, "unknown", "The year; old paint and boards may hold lead or asbestos.", unknown;
        tax: Decimal, "Tax %" ["Tax"] Kind::Percent { most: 100 }, "0 %", "Tax on the base that `Tax on` names.";
        overhead: Decimal, "Overhead %" ["Overhead"] Kind::Percent { most: 1_000 }, "0 %", "Overhead, on direct cost.";
        profit: Decimal, "Profit %" ["Profit"] Kind::Percent { most: 1_000 }, "0 %", "Profit, on direct cost and overhead.";
        contingency: Decimal, "Contingency %" ["Contingency"] Kind::Percent { most: 1_000 }, "0 %", "Contingency, on everything before tax.";
        labor_rate: Decimal, "Labor rate" [] Kind::Money, "45.00", "Price of an hour's work.";
        spare_louvers: Decimal, "Spare louvers %" ["Spare louvers"] Kind::Percent { most: 100 }, "2 %", "Louvers to cut beyond those needed.";
        spare_fixings: Decimal, "Spare fixings %" ["Spare fixings"] Kind::Percent { most: 1_000 }, "10 %", "Fixings to buy beyond those needed, of each item.";
        need_by: Option<Date>, "Need by" [] Kind::Date, "unknown", "The day the blinds must be on site.", unknown;
        cost_basis: CostBasis, "Cost basis" [] Kind::Choice(CostBasis::WORDS), "buy", "Whether blinds are bought whole or made from bars and parts.";
        stock_sizes: bool, "Stock sizes" [] YES_NO, "no", "Whether sizes held in shops may be used.";
        accept_less_cover: Length, "Accept less cover" [] LENGTH, "0", "How far under the least overlap, on a side, a stock size may fall.";
        merge_sizes: Option<Length>, "Merge sizes" [] Kind::LengthOr { word: "no", most: MOST_LENGTH }, "no", "How far a made size may move so that more blinds share one; or no.";
        order_date: Option<Date>, "Order date" [] Kind::Date, "the survey date", "The day from which lead days count.";
        cut_by_phase, "Cut by phase" [] YES_NO, "no", "Whether each phase is sawn by itself, from bars of its own.";
        tax_on: TaxOn, "Tax on" [] Kind::Choice(TaxOn::WORDS), "all", "What the tax is taken on.";
    }
    and {
        /// How sizes are written and shown.
        units: Units = units;
        /// Currency of every price.
        currency: Currency = currency;
        /// Which blinds are sawn together.
        sawn_together: SawnTogether = match row.needed(&COLUMNS.cut_by_phase)? {
            true => SawnTogether::EachPhase,
            false => SawnTogether::WholeProject,
        };
    }
}

/// Items that say who and when rather than how: two surveys of one order may differ in them.
pub(in crate::rules) const WHO_AND_WHEN: [&Column; 6] = {
    let c = &COLUMNS;
    [&c.name, &c.site, &c.client, &c.surveyed_by, &c.survey_date, &c.revision]
};
