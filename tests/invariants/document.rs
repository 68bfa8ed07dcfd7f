//! The JSON of a run as the checks read it: lengths in whole nanometers, money as exact decimals.

use rust_decimal::Decimal;
use serde_json::Value;
use sillbook::pipeline::Input;
use sillbook::rules::{CoverRules, Family, LouverRules};
use sillbook::survey::{Facts, Opening};

/// The document of a run, and what the run read: the checks work from the two alone, never from
/// what the stages between them worked out.
pub struct Run<'a> {
    /// The document.
    pub document: &'a Value,
    /// What was read.
    pub input: &'a Input,
}

/// A row of `openings` that gets a blind, with what was measured and the rules of its product.
pub struct Hung<'a> {
    /// The row.
    pub row: &'a Value,
    /// What was measured.
    pub facts: &'a Facts,
    /// The product's rules.
    pub louver: &'a LouverRules,
    /// The rules of any blind.
    pub cover: &'a CoverRules,
}

impl<'a> Run<'a> {
    /// The rows of one of the document's lists.
    pub fn rows(&self, list: &str) -> &'a [Value] {
        rows(&self.document[list])
    }

    /// The rows of `openings`, each with the opening it shows.
    pub fn openings(&self) -> impl Iterator<Item = (&'a Value, &'a Opening)> {
        self.rows("openings").iter().zip(&self.input.survey.openings)
    }

    /// The openings that get a blind.
    pub fn hung(&self) -> impl Iterator<Item = Hung<'a>> {
        let input = self.input;
        self.openings().filter(|(row, _)| row["state"] != "held").map(|(row, opening)| Hung {
            row,
            facts: opening.facts.as_ref().unwrap(),
            louver: louver(input, text(&row["product"])),
            cover: &input.rules.product(text(&row["product"])).unwrap().cover,
        })
    }

    /// Whether a query whose message has these words names the opening.
    pub fn is_asked(&self, opening: &str, words: &str) -> bool {
        let mut queries = self.rows("queries").iter();
        queries
            .any(|query| text(&query["message"]).contains(words) && names(query).any(|name| name == opening))
    }
}

impl<'a> Hung<'a> {
    /// Its name as shown.
    pub fn name(&self) -> &'a str {
        text(&self.row["name"])
    }

    /// How many openings the row stands for.
    pub fn quantity(&self) -> u64 {
        count(&self.row["quantity"])
    }

    /// One of its lengths that a sized opening always has.
    pub fn nm(&self, key: &str) -> i64 {
        nm(&self.row[key])
    }

    /// A fault of this opening.
    pub fn fault(&self, what: impl std::fmt::Display) -> String {
        format!("{}: {what}", self.name())
    }
}

/// The rules of a product.
pub fn louver<'a>(input: &'a Input, product: &str) -> &'a LouverRules {
    let Family::Louver(louver) = &input.rules.product(product).unwrap().family;
    louver
}

/// The rows of a list.
pub fn rows(list: &Value) -> &[Value] {
    list.as_array().unwrap()
}

/// The names under `openings` of a row of another list.
pub fn names(row: &Value) -> impl Iterator<Item = &str> {
    rows(&row["openings"]).iter().map(text)
}

/// A text.
pub fn text(value: &Value) -> &str {
    value.as_str().unwrap()
}

/// A count.
pub fn count(value: &Value) -> u64 {
    value.as_u64().unwrap()
}

/// A length that is known. Millimeters with six decimals are whole nanometers.
pub fn nm(value: &Value) -> i64 {
    known_nm(value).unwrap()
}

/// A length, unless it is null.
pub fn known_nm(value: &Value) -> Option<i64> {
    value.as_f64().map(|mm| (mm * 1e6).round() as i64)
}

/// Lengths of a list.
pub fn each_nm(list: &Value) -> Vec<i64> {
    rows(list).iter().map(nm).collect()
}

/// Money, a quantity or a share, unless it is null.
pub fn decimal(value: &Value) -> Option<Decimal> {
    match value {
        Value::String(text) => Some(text.parse().unwrap()),
        Value::Number(number) => Some(number.to_string().parse().unwrap()),
        _ => None,
    }
}
