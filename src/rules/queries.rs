//! What may be wrong with a rule. Where a rule may be unknown, a cell that cannot be read is an
//! unknown with a check; where it may not, the run stops: a rule that someone wrote never turns
//! into the default in silence.

use thiserror::Error;

use crate::place::CellRef;
use crate::query::{Query, Severity, Wording, did_you_mean};
use crate::tables::{Fault, Unread};

/// Why there are no rules to work by.
#[derive(Debug, Error)]
pub enum RulesError {
    /// A built-in file is wrong; the tests keep this from happening.
    #[error("the built-in rules in {file} cannot be used: {message}")]
    BuiltIn {
        /// The file.
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

/// What is asked about a rule sheet.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub(super) enum RuleQuery {
    #[error("{message} ({sheet})")]
    Unreadable { sheet: &'static str, message: String, hint: String },
    #[error("{message} ({sheet}); it is taken as unknown")]
    Unknown { sheet: &'static str, message: String, hint: String },
    #[error("a heading of {sheet} is not known; nothing is taken from its column")]
    Heading { sheet: &'static str },
    #[error("an item of {sheet} is not known")]
    Item { sheet: &'static str, nearest: Option<String> },
    #[error("a row of {sheet} has no {rule} and is left out")]
    Incomplete { sheet: &'static str, rule: &'static str },
    #[error("{rule} ({sheet}) has no value")]
    NoValue { sheet: &'static str, rule: &'static str },
    #[error("a row of {sheet} repeats one above it")]
    Twice { sheet: &'static str },
    #[error("a row of {sheet} names a product that is not known and is left out")]
    Product { sheet: &'static str, nearest: Option<String> },
    #[error("a product is not built in and does not say which one it is like; its row is left out")]
    NoLike { nearest: Option<String> },
    #[error("{rule} ({sheet}) differs between the surveys")]
    Differs { sheet: &'static str, rule: &'static str },
    #[error("the list {sheet} differs between the surveys")]
    ListDiffers { sheet: &'static str },
    #[error("{rule} (Project) differs between the surveys; the first is used")]
    FirstUsed { rule: &'static str },
    #[error(
        "an item of Project is blank in one survey and filled in another; what is filled in holds for both"
    )]
    Borrowed,
    #[error("a survey has no sheet Project; that of another survey of the run holds for it")]
    NoProject,
    #[error("the currency is not a code of three letters")]
    Currency,
    #[error("{less} is over {more}")]
    Over { less: &'static str, more: &'static str },
    #[error("{less} is not under {more}")]
    NotUnder { less: &'static str, more: &'static str },
    #[error("two end caps take off the whole of the least width")]
    EndCaps,
    #[error("the reaches do not rise")]
    ReachesDoNotRise,
    #[error("there is not one bracket item for each reach")]
    BracketItems,
    #[error("a bar is no longer than its two end trims")]
    BarWithinTrims,
    #[error(
        "a bar has no price while another of its material has one; fewest bars are planned and their cost is unknown"
    )]
    PricedInPart,
    #[error("an offcut is no longer than its two end trims and is left out")]
    OffcutWithinTrims,
    #[error("bars of one material differ in {rule}")]
    BarsDiffer { rule: &'static str },
    #[error("a material is not in Bars")]
    Material { nearest: Option<String> },
    #[error("no product is cut from a material in Bars")]
    UnusedMaterial { nearest: Option<String> },
    #[error("an offcut of a coloured material has no colour and is left out")]
    OffcutColour,
    #[error("a capacity cannot be read and is taken as unknown")]
    Capacity,
    #[error("a capacity needs the screw's {rule} and is taken as unknown")]
    CapacityNeeds { rule: &'static str },
    #[error("how many of a stock size are on hand is not known; none is used")]
    OnHand,
    #[error("a product does not come in a colour of its stock size")]
    StockColour { nearest: Option<String> },
    #[error("a price is for another unit than its item is counted in and is taken as unknown")]
    Per { expected: &'static str },
    #[error("a rate is for another unit than its item and is taken as unknown")]
    RateUnit { expected: String },
    #[error("a made blind has two lead times; the longer is used")]
    LeadDays,
}

impl Wording for RuleQuery {
    fn hint(&self) -> String {
        match self {
            RuleQuery::Unreadable { hint, .. } | RuleQuery::Unknown { hint, .. } => hint.clone(),
            RuleQuery::Heading { .. } => "name it as a blank survey does, or delete the column".to_owned(),
            RuleQuery::Item { nearest, .. }
            | RuleQuery::Product { nearest, .. }
            | RuleQuery::Material { nearest }
            | RuleQuery::UnusedMaterial { nearest }
            | RuleQuery::StockColour { nearest } => spelling(nearest.as_deref()),
            RuleQuery::NoLike { nearest } => {
                format!("{}; for a new product fill in Like", spelling(nearest.as_deref()))
            }
            RuleQuery::Incomplete { rule, .. } => format!("fill in {rule}, or delete the row"),
            RuleQuery::NoValue { rule, .. } => format!("fill in {rule}"),
            RuleQuery::Twice { .. } => "keep one of them".to_owned(),
            RuleQuery::Differs { .. } | RuleQuery::ListDiffers { .. } => {
                "write the same in every survey of the run, or leave it out of all but one".to_owned()
            }
            RuleQuery::FirstUsed { .. } => "write the same in every survey of the run".to_owned(),
            RuleQuery::Borrowed => "write the item in every survey of the run".to_owned(),
            RuleQuery::NoProject => "nothing to do, if the surveys are of one project".to_owned(),
            RuleQuery::Currency => "write its ISO 4217 code, such as USD or EUR".to_owned(),
            RuleQuery::Over { less, more } => format!("lower {less}, or raise {more}"),
            RuleQuery::NotUnder { less, more } => format!("lower {less}, or raise {more}"),
            RuleQuery::EndCaps => "lower End cap, or raise Least width".to_owned(),
            RuleQuery::ReachesDoNotRise => "write the reaches from the shortest to the longest".to_owned(),
            RuleQuery::BracketItems => "name as many bracket items as there are reaches".to_owned(),
            RuleQuery::BarWithinTrims => "look at Length and End trim".to_owned(),
            RuleQuery::PricedInPart => "fill in its price, or delete the row".to_owned(),
            RuleQuery::OffcutWithinTrims => "look at its length, or throw it away".to_owned(),
            RuleQuery::BarsDiffer { rule } => format!("write one {rule} for all bars of the material"),
            RuleQuery::OffcutColour => "fill in Colour, as the product lists it".to_owned(),
            RuleQuery::Capacity => {
                "write NDS, AISI with the stud's thickness (`AISI, 33 mil`), or a load with its unit (`30 lbf`, `133 N`)"
                    .to_owned()
            }
            RuleQuery::CapacityNeeds { rule } => format!("fill in {rule}"),
            RuleQuery::OnHand => "fill in On hand".to_owned(),
            RuleQuery::Per { expected } => format!("write the price per {expected}"),
            RuleQuery::RateUnit { expected } => format!("write the rate in {expected}"),
            RuleQuery::LeadDays => "write Lead days in one row of the product, or the same in both".to_owned(),
        }
    }
}

fn spelling(nearest: Option<&str>) -> String {
    nearest.map_or_else(|| "look at its spelling".to_owned(), did_you_mean)
}

/// What was found while the rules were checked: any stop among it stops the run.
#[derive(Debug, Default)]
pub(super) struct Findings {
    pub(super) queries: Vec<Query>,
}

impl Findings {
    pub(super) fn stop(&mut self, query: RuleQuery, at: Option<CellRef>, detail: impl Into<String>) {
        self.queries.push(Query::new(Severity::Stop, &query, at).with_detail(detail));
    }

    pub(super) fn check(&mut self, query: RuleQuery, at: Option<CellRef>, detail: impl Into<String>) {
        self.queries.push(Query::new(Severity::Check, &query, at).with_detail(detail));
    }

    pub(super) fn note(&mut self, query: RuleQuery, at: Option<CellRef>, detail: impl Into<String>) {
        self.queries.push(Query::new(Severity::Note, &query, at).with_detail(detail));
    }

    /// A cell of a rule that may not be unknown.
    pub(super) fn unreadable(&mut self, sheet: &'static str, at: Option<CellRef>, unread: &Unread) {
        let (message, hint) = (unread.message.clone(), unread.hint.clone());
        self.stop(RuleQuery::Unreadable { sheet, message, hint }, at, unread.written.clone());
    }

    /// A cell of a rule that may be unknown; a negative number or a misplaced date is a stop all the same.
    pub(super) fn unknown(&mut self, sheet: &'static str, at: Option<CellRef>, unread: &Unread) {
        if matches!(unread.fault, Fault::Negative | Fault::Date) {
            return self.unreadable(sheet, at, unread);
        }
        let (message, hint) = (unread.message.clone(), unread.hint.clone());
        self.check(RuleQuery::Unknown { sheet, message, hint }, at, unread.written.clone());
    }

    pub(super) fn any_stop(&self) -> bool {
        self.queries.iter().any(|query| query.severity == Severity::Stop)
    }
}
