//! The items of `Project`.

use super::{Form, Kind, LENGTH, MOST_LENGTH, YES_NO, columns};

columns! { PROJECT, "Project", Form::ItemAndValue, "What holds for the whole survey.";
    NAME "project" "Project" ["Project name"] Kind::Text, "none", "The project's name, on every sheet.";
    SITE "site" "Site" ["Address"] Kind::Text, "none", "Where the building is.";
    CLIENT "client" "Client" [] Kind::Text, "none", "Who the work is for.";
    SURVEYED_BY "surveyed_by" "Surveyed by" [] Kind::Text, "none", "Who measured.";
    SURVEY_DATE "survey_date" "Survey date" [] Kind::Date, "unknown", "The day the openings were measured.";
    REVISION "revision" "Revision" [] Kind::Text, "1", "Printed on every sheet, so that last month's page is seen for what it is.";
    UNITS "units" "Units" [] Kind::Choice(&["in", "mm"]), "what headings and cells name; else the run stops", "What a bare number is in: in or mm.";
    CURRENCY "currency" "Currency" [] Kind::Text, "USD", "ISO 4217 code of every price.";
    JURISDICTION "jurisdiction" "Jurisdiction" [] Kind::Choice(&["US", "CA", "EU", "UK", "AU", "none"]), "the strictest of all", "Whose safety rules hold.";
    SIZES_GIVEN_ARE "sizes_given_are" "Sizes given are" [] Kind::Choice(&["opening", "finished"]), "opening", "Whether widths and heights are of the openings or of finished blinds.";
    FLOORS_FINISHED "floors_finished" "Floors finished" [] Kind::Choice(&["yes", "no", "mixed"]), "mixed: a blank surface counts as hard", "Whether the floors were laid when the openings were measured.";
    CEILING_HEIGHT "ceiling_height" "Ceiling height" [] LENGTH, "unknown", "From the floor as it is to the ceiling.";
    BUILT "built" "Built" ["Year built"] Kind::Whole { least: 1000, most: 9999 }, "unknown", "The year; old paint and boards may hold lead or asbestos.";
    TAX "tax_percent" "Tax %" ["Tax"] Kind::Percent { most: 100 }, "0 %", "Tax on the base that `Tax on` names.";
    OVERHEAD "overhead_percent" "Overhead %" ["Overhead"] Kind::Percent { most: 1_000 }, "0 %", "Overhead, on direct cost.";
    PROFIT "profit_percent" "Profit %" ["Profit"] Kind::Percent { most: 1_000 }, "0 %", "Profit, on direct cost and overhead.";
    CONTINGENCY "contingency_percent" "Contingency %" ["Contingency"] Kind::Percent { most: 1_000 }, "0 %", "Contingency, on everything before tax.";
    LABOUR_RATE "labour_rate" "Labour rate" ["Labor rate"] Kind::Money, "45.00", "Price of an hour's work.";
    SPARE_LOUVERS "spare_louvers_percent" "Spare louvers %" ["Spare louvers"] Kind::Percent { most: 100 }, "2 %", "Louvers to cut beyond those needed.";
    SPARE_FIXINGS "spare_fixings_percent" "Spare fixings %" ["Spare fixings"] Kind::Percent { most: 1_000 }, "10 %", "Fixings to buy beyond those needed, of each item.";
    NEED_BY "need_by" "Need by" [] Kind::Date, "unknown", "The day the blinds must be on site.";
    COST_BASIS "cost_basis" "Cost basis" [] Kind::Choice(&["buy", "make"]), "buy", "Whether blinds are bought whole or made from bars and parts.";
    STOCK_SIZES "stock_sizes" "Stock sizes" [] YES_NO, "no", "Whether sizes held in shops may be used.";
    ACCEPT_LESS_COVER "accept_less_cover" "Accept less cover" [] LENGTH, "0", "How far under the least overlap, on a side, a stock size may fall.";
    MERGE_SIZES "merge_sizes" "Merge sizes" [] Kind::LengthOr { word: "no", most: MOST_LENGTH }, "no", "How far a made size may move so that more blinds share one; or no.";
    ORDER_DATE "order_date" "Order date" [] Kind::Date, "the survey date", "The day from which lead days count.";
    CUT_BY_PHASE "cut_by_phase" "Cut by phase" [] YES_NO, "no", "Whether each phase is sawn by itself, from bars of its own.";
    TAX_ON "tax_on" "Tax on" [] Kind::Choice(&["all", "materials"]), "all", "What the tax is taken on.";
}
