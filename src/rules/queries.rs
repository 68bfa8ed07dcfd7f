//! What may be wrong with a rule. Where a rule may be unknown, a cell that cannot be read is an
//! unknown with a check; where it may not, the run stops: a rule that someone wrote never turns
//! into the default in silence.

use thiserror::Error;

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
pub(crate) const QUERIES: &[&[Entry]] = &[RuleQuery::ENTRIES];

queries! {
    /// What is asked about a rule sheet.
    pub(super) enum RuleQuery {
        Heading { sheet: &'static str }: Check, "rule-heading-unknown",
            "a heading of {sheet} is not known; nothing is taken from its column"
            => "name it as a blank survey does, or delete the column";
        Item { sheet: &'static str, nearest: Option<String> }: Check, "rule-item-unknown",
            "an item of {sheet} is not known" => "{}", spelling(nearest);
        Incomplete { sheet: &'static str, rule: &'static str }: Check, "rule-row-incomplete",
            "a row of {sheet} has no {rule} and is left out" => "fill in {rule}, or delete the row";
        Twice { sheet: &'static str }: Stop, "rule-row-twice",
            "a row of {sheet} repeats one above it" => "keep one of them";
        Product { sheet: &'static str, nearest: Option<String> }: Check, "rule-for-unknown-product",
            "a row of {sheet} names a product that is not known and is left out" => "{}", spelling(nearest);
        NoLike { nearest: Option<String> }: Check, "product-without-like",
            "a product is not built in and does not say which one it is like; its row is left out"
            => "{}; for a new product fill in Like", spelling(nearest);
        Differs { sheet: &'static str, rule: &'static str }: Stop, "rules-differ",
            "{rule} ({sheet}) differs between the surveys"
            => "write the same in every survey of the run, or leave it out of all but one";
        ListDiffers { sheet: &'static str }: Stop, "lists-differ",
            "the list {sheet} differs between the surveys"
            => "write the same in every survey of the run, or leave it out of all but one";
        FirstUsed { rule: &'static str }: Check, "project-differs",
            "{rule} (Project) differs between the surveys; the first is used"
            => "write the same in every survey of the run";
        Borrowed: Check, "project-filled-in-one",
            "an item of Project is blank in one survey and filled in another; what is filled in holds for both"
            => "write the item in every survey of the run";
        NoProject: Note, "survey-without-project",
            "a survey has no sheet Project; that of another survey of the run holds for it"
            => "nothing to do, if the surveys are of one project";
        Currency: Stop, "currency-unknown",
            "the currency is not a code of three letters" => "write its ISO 4217 code, such as USD or EUR";
        Over { less: &'static str, more: &'static str }: Stop, "rule-over-another",
            "{less} is over {more}" => "lower {less}, or raise {more}";
        NotUnder { less: &'static str, more: &'static str }: Stop, "rule-not-under-another",
            "{less} is not under {more}" => "lower {less}, or raise {more}";
        EndCaps: Stop, "end-caps-take-all",
            "two end caps take off the whole of the least width" => "lower End cap, or raise Least width";
        ReachesDoNotRise: Stop, "reaches-do-not-rise",
            "the reaches do not rise" => "write the reaches from the shortest to the longest";
        BracketItems: Stop, "reaches-without-items",
            "there is not one bracket item for each reach"
            => "name as many bracket items as there are reaches";
        BarWithinTrims: Stop, "bar-within-trims",
            "a bar is no longer than its two end trims" => "look at Length and End trim";
        PricedInPart: Check, "bars-priced-in-part",
            "a bar has no price while another of its material has one; fewest bars are planned and their cost is unknown"
            => "fill in its price, or delete the row";
        OffcutWithinTrims: Check, "offcut-within-trims",
            "an offcut is no longer than its two end trims and is left out"
            => "look at its length, or throw it away";
        BarsDiffer { rule: &'static str }: Stop, "bars-differ",
            "bars of one material differ in {rule}" => "write one {rule} for all bars of the material";
        Material { nearest: Option<String> }: Check, "material-unknown",
            "a material is not in Bars" => "{}", spelling(nearest);
        UnusedMaterial { nearest: Option<String> }: Check, "material-unused",
            "no product is cut from a material in Bars" => "{}", spelling(nearest);
        OffcutColor: Check, "offcut-without-color",
            "an offcut of a colored material has no color and is left out"
            => "fill in Color, as the product lists it";
        Capacity: Check, "capacity-unreadable",
            "a capacity cannot be read and is taken as unknown"
            => "write NDS, AISI with the stud's thickness (`AISI, 33 mil`), or a load with its unit (`30 lbf`, `133 N`)";
        CapacityNeeds { rule: &'static str }: Check, "capacity-incomplete",
            "a capacity needs the screw's {rule} and is taken as unknown" => "fill in {rule}";
        OnHand: Check, "on-hand-unknown",
            "how many of a stock size are on hand is not known; none is used" => "fill in On hand";
        StockColor { nearest: Option<String> }: Check, "stock-color-unknown",
            "a product does not come in a color of its stock size" => "{}", spelling(nearest);
        Per { expected: &'static str }: Check, "price-in-other-unit",
            "a price is for another unit than its item is counted in and is taken as unknown"
            => "write the price per {expected}";
        RateUnit { expected: String }: Check, "rate-in-other-unit",
            "a rate is for another unit than its item and is taken as unknown"
            => "write the rate in {expected}";
        LeadDays: Check, "two-lead-times",
            "a made blind has two lead times; the longer is used"
            => "write Lead days in one row of the product, or the same in both";
    }
}

fn spelling(nearest: &Option<String>) -> String {
    did_you_mean_or(nearest.as_deref(), "look at its spelling")
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
        self.raise_unread(Severity::Check, unread, &format!(" ({sheet}); it is taken as unknown"), at);
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
