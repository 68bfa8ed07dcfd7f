//! What may be wrong with a rule. Where a rule may be unknown, a cell that cannot be read is an
//! unknown with a check; where it may not, the run stops: a rule that someone wrote never turns
//! into the default in silence.

use thiserror::Error;

use super::columns::{bars, materials, offcuts, prices, products, stock_sizes};
use super::options::MOST_OPTIONS;
use super::typed;
use crate::place::CellRef;
use crate::query::{Entry, Query, Severity, did_you_mean_or, queries};
use crate::tables::{Fault, Unread, UnreadCell};

/// Why there are no rules to work by.
#[derive(Debug, Error)]
pub enum RulesError {
    /// A built-in file is wrong; the tests keep this from happening.
    #[error("the built-in rules in {file} cannot be used: {message}")]
    BuiltIn {
        /// The file, or the folder of all of them.
        file: &'static str,
        /// What is wrong with it.
        message: String,
    },
    /// What the surveys' rule sheets say cannot be used; each stop names its cell.
    #[error("the rule sheets cannot be used")]
    Sheets(
        /// The stops, and whatever checks were raised beside them, in the order of the sheets.
        Vec<Query>,
    ),
}

/// Every query of this room.
pub(crate) const QUERIES: &[&[Entry]] = &[RuleQuery::ENTRIES, typed::QUERIES];

queries! {
    /// What is asked about a rule sheet.
    pub(super) enum RuleQuery {
        Heading { sheet: &'static str, nearest: Option<String> }: Check, "rule-heading-unknown",
            "unknown heading on {sheet}; its column is ignored"
            => "{}", did_you_mean_or(nearest.as_deref(), "use the heading from a blank survey, or delete the column");
        Item { sheet: &'static str, nearest: Option<String> }: Check, "rule-item-unknown",
            "unknown item on {sheet}" => "{}", spelling(nearest);
        Incomplete { sheet: &'static str, rule: &'static str }: Check, "rule-row-incomplete",
            "a row of {sheet} has no {rule}, so it is ignored" => "fill in {rule}, or delete the row";
        Twice { sheet: &'static str }: Stop, "rule-row-twice",
            "a row of {sheet} repeats a row above it" => "keep one of them";
        OptionHeading { nearest: Option<String> }: Stop, "option-heading-unknown",
            "unknown heading on Options: what stands below it would change nothing"
            => "{}", did_you_mean_or(nearest.as_deref(), "use an item of Project, Product, Color, Mount or Control; remarks go under Note");
        OptionProduct { nearest: Option<String> }: Stop, "option-product-unknown",
            "an option names a product that there is not" => "{}", spelling(nearest);
        OptionColor { nearest: Option<String> }: Check, "option-color-unlisted",
            "an option names a color that no product lists" => "{}", spelling(nearest);
        OptionNameTaken: Stop, "option-name-taken",
            "an option is called as the survey itself is where they are compared" => "give it another name";
        SheetTwice { sheet: &'static str }: Stop, "rule-sheet-twice",
            "a survey has a second sheet {sheet}, which is not read" => "keep one, or rename the other";
        TooManyOptions: Stop, "too-many-options",
            "there are more than {MOST_OPTIONS} options, and each is a run of its own"
            => "keep those that are still to be decided on; move the others to another sheet";
        Product { sheet: &'static str, nearest: Option<String> }: Check, "rule-for-unknown-product",
            "a row of {sheet} names an unknown product; the row is ignored" => "{}", spelling(nearest);
        NoLike { nearest: Option<String> }: Check, "product-without-like",
            "a product is not built in and has nothing under {}; its row is ignored", products::COLUMNS.like.name
            => "for a new product fill in {}; or {}", products::COLUMNS.like.name, spelling(nearest);
        Differs { sheet: &'static str, rule: &'static str }: Stop, "rules-differ",
            "{rule} ({sheet}) differs between the surveys"
            => "use the same value in every survey; or keep all rule sheets in one survey alone";
        LeftOut { sheet: &'static str }: Stop, "rules-left-out",
            "a survey leaves out what another has on {sheet}"
            => "use the same rule sheets in every survey, or keep all of them in one survey alone";
        ListDiffers { sheet: &'static str }: Stop, "lists-differ",
            "the list {sheet} differs between the surveys"
            => "use the same list in every survey; or keep all rule sheets in one survey alone";
        FirstUsed { rule: &'static str }: Check, "project-differs",
            "{rule} (Project) differs between the surveys; the first is used"
            => "use the same value in every survey";
        Borrowed: Check, "project-filled-in-one",
            "only one survey fills in an item of Project; its value is used for the others too"
            => "fill in the item in every survey";
        NoProject: Note, "survey-without-project",
            "a survey has no sheet Project; the one in another survey is used for it"
            => "nothing to do if the surveys belong to one project";
        NoRules: Note, "survey-without-rules",
            "a survey has no rule sheets; those in another survey are used for it"
            => "nothing to do if the same rules are meant for both";
        Share { sheet: &'static str, rule: &'static str }: Check, "percentage-under-one",
            "{rule} ({sheet}) is less than 1 percent" => "enter it with a percent sign, as in 8.25 %";
        Currency: Stop, "currency-unknown",
            "the currency is not a three-letter code" => "enter its ISO 4217 code, such as USD or EUR";
        WorkDays: Stop, "work-days",
            "the work days cannot be read" => "enter Mon-Fri, Mon-Sat, or days with commas, as in Mon, Tue, Thu";
        NoHours: Stop, "phase-without-hours",
            "a phase has 0 hours a day" => "enter more than 0 and at most 24, or leave it blank for 8";
        Over { less: &'static str, more: &'static str }: Stop, "rule-over-another",
            "{less} must not be more than {more}" => "lower {less}, or raise {more}";
        NotUnder { less: &'static str, more: &'static str }: Stop, "rule-not-under-another",
            "{less} must be less than {more}" => "lower {less}, or raise {more}";
        EndCaps: Stop, "end-caps-take-all",
            "two end caps are at least as wide as the minimum width"
            => "lower {}, or raise {}", products::COLUMNS.end_cap.name, products::COLUMNS.least_width.name;
        ReachesDoNotRise: Stop, "reaches-do-not-rise",
            "the reaches are not in rising order" => "list the reaches from the shortest to the longest";
        BracketItems: Stop, "reaches-without-items",
            "the number of bracket items does not match the number of reaches"
            => "name one bracket item for each reach";
        BarWithinTrims: Stop, "bar-within-trims",
            "a bar is no longer than its two end trims together"
            => "check {} in Bars, and {} in Materials", bars::COLUMNS.length.name, materials::COLUMNS.trim.name;
        OffcutWithinTrims: Check, "offcut-within-trims",
            "an offcut is no longer than its two end trims together; it is ignored"
            => "check its length, or delete the row";
        BarsDiffer { rule: &'static str }: Stop, "bars-differ",
            "bars of one material differ in {rule}" => "use one {rule} for all bars of the material";
        Material { nearest: Option<String> }: Check, "material-unknown",
            "a material is not listed in Bars" => "{}", spelling(nearest);
        UnusedMaterial { sheet: &'static str, nearest: Option<String> }: Check, "material-unused",
            "no product uses a material listed in {sheet}" => "{}", spelling(nearest);
        LikeUnknown { nearest: Option<String> }: Check, "material-like-unknown",
            "a material names an unknown one under {}, which is ignored", materials::COLUMNS.like.name
            => "{}", spelling(nearest);
        Assumed: Check, "material-facts-assumed",
            "Materials says too little of a new material; cautious values are used"
            => "fill in its row in Materials, or name under {} the material it is like", materials::COLUMNS.like.name;
        SaidTwice { rule: &'static str }: Stop, "material-said-twice",
            "{rule} of one material is written in two places, and they differ"
            => "keep it in Materials alone; products that need another value need another material";
        NotTaken { rule: &'static str, fact: &'static str }: Check, "product-value-not-used",
            "{rule} (Products) is not used: it is the material that decides it now"
            => "delete it there; if the material has another value, fill in {fact} in Materials";
        OffcutColor: Check, "offcut-without-color",
            "an offcut of a colored material has no color; it is ignored"
            => "fill in {}, as the product lists it", offcuts::COLUMNS.color.name;
        Capacity: Check, "capacity-unreadable",
            "a capacity cannot be read; it is treated as unknown"
            => "enter NDS, AISI with the stud's thickness (AISI, 33 mil), or a load with its unit (30 lbf, 133 N)";
        CapacityNeeds { rule: &'static str }: Check, "capacity-incomplete",
            "a capacity needs the screw's {rule}; it is treated as unknown" => "fill in {rule}";
        CapacityElsewhere: Check, "capacity-of-another",
            "NDS is for screws in wood, AISI for screws in steel; this capacity is treated as unknown"
            => "enter the anchor's own working load with its unit (30 lbf, 133 N)";
        ScrewCannotBe: Check, "screw-cannot-be",
            "the screw's diameter, length, thread and hole contradict each other; its capacity is treated as unknown"
            => "enter each with its unit, or correct it";
        OnHand: Check, "on-hand-unknown",
            "the quantity on hand of a stock size is unknown; none is used"
            => "fill in {}", stock_sizes::COLUMNS.on_hand.name;
        StockColor { nearest: Option<String> }: Check, "stock-color-unknown",
            "a stock size has a color that its product does not come in" => "{}", spelling(nearest);
        StockBracket { nearest: Option<String> }: Check, "stock-bracket-unknown",
            "a stock size has a bracket in its box that its product does not use" => "{}", spelling(nearest);
        StockMotor: Check, "stock-motor",
            "a stock size has a motor; it is never used, as blinds with a motor are made to measure"
            => "correct {} in Stock sizes, or delete the row", stock_sizes::COLUMNS.control.name;
        Per { expected: &'static str }: Check, "price-in-other-unit",
            "the unit of a price does not match its item; the price is treated as unknown"
            => "enter {expected} under {}, and the price to match", prices::COLUMNS.per.name;
        RateUnit { expected: String }: Check, "rate-in-other-unit",
            "the unit of a rate does not match its item; the rate is treated as unknown"
            => "enter the rate in {expected}";
        LeadDays: Check, "two-lead-times",
            "a made-to-measure blind has two lead times; the longer is used"
            => "enter {} in one row of the product, or the same in both", prices::COLUMNS.lead_days.name;
    }
}

fn spelling(nearest: &Option<String>) -> String {
    did_you_mean_or(nearest.as_deref(), "check its spelling")
}

/// What was found while the rules were checked: any stop among it stops the run.
#[derive(Debug, Default)]
pub(super) struct Findings {
    pub(super) queries: Vec<Query>,
}

impl Findings {
    pub(super) fn raise(&mut self, asked: RuleQuery, at: Option<CellRef>, detail: impl Into<String>) {
        self.queries.push(Query::new(&asked, at).with_detail(detail));
    }

    /// A cell of a rule that may not be unknown.
    pub(super) fn unreadable(&mut self, sheet: &'static str, at: Option<CellRef>, unread: &Unread) {
        self.raise_unread(Severity::Stop, unread, &format!(" ({sheet})"), at);
    }

    /// A cell of a rule that may be unknown; a negative number or a misplaced date is a stop all the same.
    pub(super) fn unknown(&mut self, sheet: &'static str, at: Option<CellRef>, unread: &Unread) {
        if matches!(unread.fault, Fault::Negative | Fault::Date) {
            return self.unreadable(sheet, at, unread);
        }
        self.raise_unread(Severity::Check, unread, &format!(" ({sheet}); it is treated as unknown"), at);
    }

    fn raise_unread(&mut self, severity: Severity, unread: &Unread, end: &str, at: Option<CellRef>) {
        let mut query = Query::new(&UnreadCell { unread, severity, column: None }, at);
        query.message.push_str(end);
        self.queries.push(query.with_detail(unread.written.clone()));
    }

    pub(super) fn any_stop(&self) -> bool {
        self.queries.iter().any(|query| query.severity == Severity::Stop)
    }
}
