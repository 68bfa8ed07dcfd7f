//! The sheet `Project`, an item on each row, and the words that its items choose from.

use rust_decimal::Decimal;

use crate::date::Date;
use crate::length::{Length, Units};
use crate::money::Currency;
use crate::place::Given;
use crate::rules::WorkDays;
use crate::schema::choices::{self, choice};
use crate::schema::{Column, Form, Kind, LENGTH, MOST_LENGTH, YES_NO};

/// A side of an elevator: under 300 mm nobody goes in.
const CABIN: Kind = Kind::Length { least: Length::from_mm(300), most: MOST_LENGTH };

choice! {
    /// Whose safety rules hold.
    Jurisdiction {
        /// United States.
        UnitedStates = "US" | "USA" | "United States",
        /// Canada.
        Canada = "CA" | "Canada",
        /// European Union.
        EuropeanUnion = "EU" | "European Union",
        /// United Kingdom.
        UnitedKingdom = "UK" | "GB" | "United Kingdom" | "Great Britain",
        /// Australia.
        Australia = "AU" | "Australia",
        /// None of these.
        Unregulated = "none",
    }
}
choice! {
    /// What the widths and heights of a survey are.
    SizesGiven {
        /// Of the openings.
        Opening = "opening" | "openings" | "opening size" | "opening sizes",
        /// Of finished blinds: nothing comes off.
        Finished = "finished" | "finished size" | "finished sizes" | "blind size" | "blind sizes",
    }
}
choice! {
    /// Whether floors were laid when the openings were measured.
    FloorsFinished {
        /// All of them.
        Yes = "yes" | "y" | "true",
        /// None: a blank surface is an unfinished one.
        No = "no" | "n" | "false",
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

choice! {
    /// What the workbook is printed on.
    Paper {
        /// 8 1/2 x 11 in.
        Letter = "Letter" | "US Letter",
        /// 210 x 297 mm (ISO 216).
        A4 = "A4",
        /// 11 x 17 in.
        Tabloid = "Tabloid" | "Ledger" | "11 x 17",
        /// 297 x 420 mm (ISO 216).
        A3 = "A3",
    }
}

/// Which blinds share bars.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SawnTogether {
    /// Those of one phase: each phase is cut separately.
    EachPhase,
    /// All of the project.
    WholeProject,
}

sheet! { PROJECT, "Project", Form::ItemAndValue, "Settings for the whole survey.";
    /// What `Project` says, blanks filled.
    pub struct Project, read(row, units: Units, currency: Currency, work_days: WorkDays) {
        name: String, "Project" ["Project name"] Kind::Text, "none", "Name of the project. Printed on every sheet.", unknown;
        site: String, "Site" ["Address"] Kind::Text, "none", "Address of the building.", unknown;
        client: String, "Client" [] Kind::Text, "none", "Who the work is for.", unknown;
        client_address: String, "Client address" [] Kind::Text, "none", "Address of the client.", unknown;
        contact: String, "Contact" ["Contact person"] Kind::Text, "none", "Whom the maker asks, with a telephone number or an address.", unknown;
        order_number: String, "Order number" ["Purchase order", "PO number"] Kind::Text, "none", "Number of the order that goes to the maker. Printed on Order and Labels.", unknown;
        deliver_to: String, "Deliver to" ["Delivery address"] Kind::Text, "none", "Address that the boxes go to.", unknown;
        surveyed_by: String, "Surveyed by" [] Kind::Text, "none", "Who measured.", unknown;
        survey_date: Option<Date>, "Survey date" [] Kind::Date, "unknown", "Date the openings were measured.", unknown;
        formerly: String, "Formerly" ["Former name"] Kind::Text, "none", "What the project was called in the fit-out that --after takes up, if its name has changed.", unknown;
        revision: String, "Revision" [] Kind::Text, "1", "Printed on every sheet, so that an out-of-date page can be spotted.";
        units, "Units" [] Kind::Choice(choices::UNITS), "taken from headings and cells; otherwise the run stops", "Unit of numbers written without one: in, mm, cm or m. Sizes of blinds are shown in in or mm.";
        currency, "Currency" [] Kind::Text, "USD", "Three-letter code (ISO 4217) of the currency of all prices, such as USD or GBP.";
        jurisdiction: Option<Jurisdiction>, "Jurisdiction" [] Kind::Choice(Jurisdiction::WORDS), "the strictest rules", "Which country's safety rules apply.", unknown;
        sizes_given: SizesGiven, "Sizes given are" [] Kind::Choice(SizesGiven::WORDS), "opening", "Whether widths and heights are of the openings or of finished blinds.";
        floors_finished: FloorsFinished, "Floors finished" [] Kind::Choice(FloorsFinished::WORDS), "mixed (a blank Floor surface counts as hard)", "Whether the floors were laid when the openings were measured.";
        ceiling_height: Option<Given<Length>>, "Ceiling height" [] LENGTH, "unknown", "From the floor as it is when you measure, up to the ceiling.", unknown;
        built: Option<u32>, "Built" ["Year built"] Kind::Whole { least: 1000, most: 9999 }, "unknown", "Year built. In old buildings, paint and boards may contain lead or asbestos.", unknown;
        tax: Decimal, "Tax %" ["Tax"] Kind::Percent { most: 100 }, "0 %", "Tax rate in percent, on what `Tax on` says.";
        overhead: Decimal, "Overhead %" ["Overhead"] Kind::Percent { most: 1_000 }, "0 %", "Overhead in percent, on direct cost.";
        profit: Decimal, "Profit %" ["Profit"] Kind::Percent { most: 1_000 }, "0 %", "Profit in percent, on direct cost and overhead.";
        contingency: Decimal, "Contingency %" ["Contingency"] Kind::Percent { most: 1_000 }, "0 %", "Contingency in percent, on everything before tax.";
        labor_rate: Decimal, "Labor rate" [] Kind::Money, "45.00", "Labor cost per hour, in the project currency.";
        spare_louvers: Decimal, "Spare louvers %" ["Spare louvers"] Kind::Percent { most: 100 }, "2 %", "Extra louvers to cut, as a percentage of those needed.";
        spare_fixings: Decimal, "Spare fixings %" ["Spare fixings"] Kind::Percent { most: 1_000 }, "10 %", "Extra fixings to buy, as a percentage of those needed of each item.";
        spare_parts: Decimal, "Spare parts %" ["Spare parts"] Kind::Percent { most: 1_000 }, "2 %", "Extra carriers, hangers, bottom weights, clips, brackets and packers, as a percentage of those needed of each.";
        need_by: Option<Date>, "Need by" [] Kind::Date, "unknown", "Date the blinds must be on site.", unknown;
        cost_basis: CostBasis, "Cost basis" [] Kind::Choice(CostBasis::WORDS), "buy", "Whether blinds are bought whole (buy) or made from bars and parts (make).";
        stock_sizes: bool, "Stock sizes" [] YES_NO, "no", "Whether stock sizes may be used.";
        accept_less_cover: Length, "Accept less cover" [] LENGTH, "0", "How far below the minimum overlap, at each side, a stock size may fall. A length.";
        merge_sizes: Option<Length>, "Merge sizes" [] Kind::LengthOr { word: "no", most: MOST_LENGTH }, "no", "How far a made-to-measure size may be adjusted so that more blinds share one size. A length, or no.";
        order_date: Option<Date>, "Order date" [] Kind::Date, "the survey date", "Date from which lead days are counted.";
        work_days, "Work days" ["Working days"] Kind::Text, "Mon-Fri", "Days of the week on which blinds are fitted: Mon-Fri, Mon-Sat, or days with commas.";
        lift_door_width: Option<Length>, "Lift door width" ["Elevator door width"] CABIN, "unknown", "Clear width of the elevator's door.", unknown;
        lift_height: Option<Length>, "Lift height" ["Elevator height"] CABIN, "unknown", "Lower of the elevator's clear height inside and of its door.", unknown;
        lift_depth: Option<Length>, "Lift depth" ["Elevator depth"] CABIN, "unknown", "Clear depth of the elevator inside, from the door to the back.", unknown;
        cut_by_phase, "Cut by phase" [] YES_NO, "no", "Whether each phase is cut separately, from its own bars.";
        paper: Option<Paper>, "Paper" ["Paper size"] Kind::Choice(Paper::WORDS), "Letter or A4 by unit, and Tabloid or A3 where a sheet needs it", "Paper that the workbook is printed on: Letter, A4, Tabloid or A3.", unknown;
        tax_on: TaxOn, "Tax on" [] Kind::Choice(TaxOn::WORDS), "all", "What tax is charged on: all, or materials only.";
    }
    and {
        /// How sizes are shown, whatever unit the survey is written in.
        units: Units = units;
        /// Currency of every price.
        currency: Currency = currency;
        /// Days of the week on which blinds are fitted.
        work_days: WorkDays = work_days;
        /// Which blinds are sawn together.
        sawn_together: SawnTogether = match row.needed(&COLUMNS.cut_by_phase)? {
            true => SawnTogether::EachPhase,
            false => SawnTogether::WholeProject,
        };
    }
}

/// Items that say who and when rather than how: two surveys of one order may differ in them.
pub(in crate::rules) const WHO_AND_WHEN: [&Column; 8] = {
    let c = &COLUMNS;
    [&c.name, &c.site, &c.client, &c.client_address, &c.contact, &c.surveyed_by, &c.survey_date, &c.revision]
};
