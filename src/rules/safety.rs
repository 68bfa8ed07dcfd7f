//! What the law and its standards say of cords, of openings that serve for escape, and of what a
//! person in a wheelchair can reach: built in, each rule with its source, its date and how sure its
//! values are. No sheet of a survey overrides them, so that none loosens them unseen.
//!
//! A limit is kept in the unit of its source and compared exactly, never in a rounded conversion.

mod access;
mod cords;
mod escape;

pub use access::{Access, Door, Reach};
pub use cords::{Cord, CordFault, CordRule, Force, HeldBy, Products};
pub use escape::EscapeRule;

use std::fmt;
use std::str::FromStr;

use rust_decimal::Decimal;
use serde::Deserialize;
use serde::de::{DeserializeOwned, Error};

use super::RuleUsed;
use super::columns::project::Jurisdiction;
use super::queries::RulesError;
use crate::grid::Value;
use crate::length::{Length, Unit};
use crate::schema::{Column, LENGTH};
use crate::tables::{self, Datum};

/// The safety rules.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Safety {
    cords: Vec<CordRule>,
    escape: Vec<EscapeRule>,
    /// What can be reached and passed in an accessible unit.
    pub access: Access,
}

/// Where a rule stands written.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Written {
    /// Its title.
    pub title: String,
    /// Its number, by which it is cited.
    pub number: String,
    /// From when on it holds, or which edition it is.
    pub dated: String,
    /// How sure its values are.
    pub certainty: Certainty,
}

/// How sure a value is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum Certainty {
    /// Read in the text of whoever issued it.
    #[serde(rename = "read")]
    Read,
    /// Read in the words of one who quotes it.
    #[serde(rename = "second-hand")]
    SecondHand,
    /// From memory.
    #[serde(rename = "from memory")]
    FromMemory,
}

/// A length as its source has it, with its unit.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(try_from = "String")]
pub struct Exact {
    /// The length.
    pub length: Length,
    written: String,
}

/// A limit from above, as its source words it.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Most {
    /// The limit itself is allowed.
    AtMost(Exact),
    /// It is not.
    Under(Exact),
}

/// A limit from below.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Least {
    /// The limit itself is allowed.
    AtLeast(Exact),
    /// It is not.
    Over(Exact),
}

impl Safety {
    /// Reads the built-in files.
    ///
    /// # Errors
    /// If a file holds a key that is not known, or a value that cannot be read.
    pub(super) fn read() -> Result<Safety, RulesError> {
        Ok(Safety {
            cords: parse::<Listed<CordRule>>("cords", include_str!("../../templates/safety/cords.toml"))?
                .rule,
            escape: parse::<Listed<EscapeRule>>(
                "escape",
                include_str!("../../templates/safety/escape.toml"),
            )?
            .rule,
            access: parse("access", include_str!("../../templates/safety/access.toml"))?,
        })
    }

    /// The rules that the cord of a product must meet: those of the jurisdiction; of all of them, for
    /// the strictest decides, where none is named; none where none is known.
    pub fn cords(&self, of: Option<Jurisdiction>, products: Products) -> impl Iterator<Item = &CordRule> {
        self.cords.iter().filter(move |rule| {
            of.is_none_or(|of| rule.jurisdiction == of) && rule.products.include(products)
        })
    }

    /// What an escape opening must leave clear: by the jurisdiction's code, or the only one known
    /// where none is named; `None` where no figures are known.
    pub fn escape(&self, of: Option<Jurisdiction>) -> Option<&EscapeRule> {
        self.escape.iter().find(|rule| of.is_none_or(|of| rule.jurisdiction == of))
    }
}

impl Safety {
    /// What holds in a project of this jurisdiction, with its source in place of a reason.
    pub(super) fn used(&self, of: Option<Jurisdiction>) -> Vec<RuleUsed> {
        let rule = |item: String, rule, value: String, source: &Written| RuleUsed {
            table: TABLE,
            item,
            rule,
            value,
            at: None,
            why: source.in_full(),
            example: false,
        };
        let cords = self.cords.iter().filter(|cord| of.is_none_or(|of| cord.jurisdiction == of));
        let cords = cords.map(|cord| rule(cord.name(), "Cord", cord.in_words(), &cord.source));
        let escape = self.escape(of).into_iter();
        let escape =
            escape.map(|code| rule(code.jurisdiction.to_string(), "Escape", code.in_words(), &code.source));
        let Access { reach, operation, door } = &self.access;
        let access = [
            ("Control", reach.in_words(), &reach.source),
            ("Operation", "one hand, no twist".to_owned(), &operation.source),
            ("Door", format!("{} clear", door.clear), &door.source),
        ];
        let access =
            access.map(|(name, value, source)| rule("accessible unit".to_owned(), name, value, source));
        cords.chain(escape).chain(access).collect()
    }
}

/// The name of these rules where a sheet's would stand.
const TABLE: &str = "Safety";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Listed<T> {
    rule: Vec<T>,
}

fn parse<T: DeserializeOwned>(file: &'static str, text: &str) -> Result<T, RulesError> {
    toml::from_str(text).map_err(|error| RulesError::BuiltIn { file, message: error.to_string() })
}

/// A jurisdiction by its word in the files.
fn jurisdiction<'de, D: serde::Deserializer<'de>>(from: D) -> Result<Jurisdiction, D::Error> {
    choice(from)
}

/// What a word of a survey's column stands for.
fn choice<'de, D: serde::Deserializer<'de>, C: crate::schema::choices::Choice>(
    from: D,
) -> Result<C, D::Error> {
    let word = String::deserialize(from)?;
    C::of(&word).ok_or_else(|| D::Error::custom(format!("{word} is no word of the survey")))
}

fn decimal<'de, D: serde::Deserializer<'de>>(from: D) -> Result<Decimal, D::Error> {
    Decimal::from_str(&String::deserialize(from)?).map_err(D::Error::custom)
}

impl Certainty {
    /// The word of the files.
    pub const fn word(self) -> &'static str {
        match self {
            Certainty::Read => "read",
            Certainty::SecondHand => "second-hand",
            Certainty::FromMemory => "from memory",
        }
    }
}

impl Written {
    /// Its title, number and date, and how sure its values are.
    pub fn in_full(&self) -> String {
        format!("{}, {}, {}; {}", self.title, self.number, self.dated, self.certainty.word())
    }
}

/// `IRC R310 (second-hand)`: what was read in its own text is cited alone.
impl fmt::Display for Written {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.certainty {
            Certainty::Read => f.write_str(&self.number),
            sure => write!(f, "{} ({})", self.number, sure.word()),
        }
    }
}

/// One of the lengths; each is read as a survey's cell is, and names its unit.
static LIMIT: Column = Column::new((0, "limit", "Limit"), &[], LENGTH, ("", ""));

impl TryFrom<String> for Exact {
    type Error = String;
    fn try_from(written: String) -> Result<Exact, String> {
        if !written.contains(char::is_alphabetic) {
            return Err(format!("{written} names no unit"));
        }
        match tables::read_value(&Value::Text(written.as_str().into()), &LIMIT, None, Unit::Millimeter) {
            Ok(Datum::Length(length)) => Ok(Exact { length, written }),
            Ok(_) => Err(format!("{written} is no length")),
            Err(unread) => Err(unread.message),
        }
    }
}

impl fmt::Display for Exact {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.written)
    }
}

impl Most {
    /// Whether a length is within it.
    pub fn allows(&self, length: Length) -> bool {
        match self {
            Most::AtMost(most) => length <= most.length,
            Most::Under(limit) => length < limit.length,
        }
    }
}

impl Least {
    /// Whether a length is within it.
    pub fn allows(&self, length: Length) -> bool {
        match self {
            Least::AtLeast(least) => length >= least.length,
            Least::Over(limit) => length > limit.length,
        }
    }
}

impl fmt::Display for Most {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Most::AtMost(most) => write!(f, "at most {most}"),
            Most::Under(limit) => write!(f, "less than {limit}"),
        }
    }
}

impl fmt::Display for Least {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Least::AtLeast(least) => write!(f, "at least {least}"),
            Least::Over(limit) => write!(f, "more than {limit}"),
        }
    }
}
