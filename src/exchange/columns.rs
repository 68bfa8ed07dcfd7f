//! A row as the columns of a CSV file. A row is declared once, with `row!`; its JSON keys and
//! its columns are the same names, so the two formats cannot drift apart.

use std::borrow::Cow;

use serde::Serialize;

use super::amounts::{Kilograms, Money, Quantity, Share};
use crate::angle::Angle;
use crate::length::Length;
use crate::query::Severity;

/// What stands between the values of a list in one cell.
const BETWEEN_VALUES: &str = "; ";

/// Characters at the start of a text that a spreadsheet may take for a formula.
const STARTS_A_FORMULA: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

/// A value that fills one or more columns.
pub trait Columns {
    /// Appends the names of its columns; `key` is the JSON key that it stands under.
    fn names(key: &str, names: &mut Vec<String>);
    /// Appends one cell for each of those names.
    fn cells(&self, cells: &mut Vec<String>);
}

/// Declares a row: a struct that is an object in JSON and columns in CSV, under the same names.
macro_rules! row {
    ($(#[$doc:meta])* $name:ident $(<$life:lifetime>)? {
        $($(#[$field_doc:meta])* $field:ident: $kind:ty),* $(,)?
    }) => {
        $(#[$doc])*
        #[derive(Debug, serde::Serialize)]
        pub struct $name $(<$life>)? {
            $($(#[$field_doc])* pub $field: $kind),*
        }
        impl $(<$life>)? $crate::exchange::columns::Columns for $name $(<$life>)? {
            fn names(key: &str, names: &mut Vec<String>) {
                $(<$kind>::names(&$crate::exchange::columns::nested(key, stringify!($field)), names);)*
            }
            fn cells(&self, cells: &mut Vec<String>) {
                $(self.$field.cells(cells);)*
            }
        }
    };
}
pub(crate) use row;

/// The column of `field` within the object `key`: `louvers_count`.
pub(crate) fn nested(key: &str, field: &str) -> String {
    let field = field.trim_start_matches("r#");
    if key.is_empty() { field.to_owned() } else { format!("{key}_{field}") }
}

/// Rows within a row: a list in JSON, a file of its own in CSV.
#[derive(Debug, Serialize)]
#[serde(transparent)]
pub struct OwnFile<T>(pub Vec<T>);

impl<T> Columns for OwnFile<T> {
    fn names(_key: &str, _names: &mut Vec<String>) {}
    fn cells(&self, _cells: &mut Vec<String>) {}
}

/// Two rows side by side, such as a pattern beside the material that it belongs to.
impl<A: Columns, B: Columns> Columns for (A, B) {
    fn names(key: &str, names: &mut Vec<String>) {
        A::names(key, names);
        B::names(key, names);
    }
    fn cells(&self, cells: &mut Vec<String>) {
        self.0.cells(cells);
        self.1.cells(cells);
    }
}

/// Unknown is blank, in every column that the value would have filled.
impl<T: Columns> Columns for Option<T> {
    fn names(key: &str, names: &mut Vec<String>) {
        T::names(key, names);
    }
    fn cells(&self, cells: &mut Vec<String>) {
        match self {
            Some(value) => value.cells(cells),
            None => {
                let mut names = Vec::new();
                T::names("", &mut names);
                cells.resize(cells.len() + names.len(), String::new());
            }
        }
    }
}

/// A list of values shares one cell.
impl<T: Columns> Columns for Vec<T> {
    fn names(key: &str, names: &mut Vec<String>) {
        names.push(key.to_owned());
    }
    fn cells(&self, cells: &mut Vec<String>) {
        let mut values = Vec::with_capacity(self.len());
        for value in self {
            value.cells(&mut values);
        }
        cells.push(values.join(BETWEEN_VALUES));
    }
}

/// A value that fills one cell; text of any origin gets an apostrophe where it could be taken
/// for a formula, numbers of ours never do.
macro_rules! one_cell {
    ($($kind:ty, |$value:ident| $cell:expr;)*) => {
        $(impl Columns for $kind {
            fn names(key: &str, names: &mut Vec<String>) {
                names.push(key.to_owned());
            }
            fn cells(&self, cells: &mut Vec<String>) {
                let $value = self;
                cells.push($cell);
            }
        })*
    };
}

one_cell! {
    &str, |text| harmless(text);
    String, |text| harmless(text);
    Cow<'_, str>, |text| harmless(text);
    bool, |truth| truth.to_string();
    u32, |count| count.to_string();
    u64, |count| count.to_string();
    i64, |count| count.to_string();
    usize, |count| count.to_string();
    Length, |length| length.in_unit(crate::length::Unit::Millimetre).normalize().to_string();
    Angle, |angle| angle.to_string();
    Money, |money| money.decimal().to_string();
    Kilograms, |number| number.decimal().to_string();
    Share, |number| number.decimal().to_string();
    Quantity, |number| number.decimal().to_string();
    Severity, |severity| severity.to_string();
}

fn harmless(text: &str) -> String {
    if text.starts_with(STARTS_A_FORMULA) { format!("'{text}") } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::{Columns, OwnFile};
    use crate::length::Length;

    row! { /// Inner.
    Inner { /// A count.
        count: u64, /// Sizes.
        sizes_mm: Vec<Length> } }
    row! { /// Outer.
    Outer<'a> { /// A text.
        name: &'a str, /// An object.
        inner: Option<Inner>, /// Rows.
        steps: OwnFile<Inner>, /// A word of the language.
        r#use: Option<u32> } }

    fn cells(row: &impl Columns) -> Vec<String> {
        let mut cells = Vec::new();
        row.cells(&mut cells);
        cells
    }

    #[test]
    fn objects_spread_over_columns_and_an_unknown_one_leaves_them_blank() {
        let mut names = Vec::new();
        Outer::names("", &mut names);
        assert_eq!(names, ["name", "inner_count", "inner_sizes_mm", "use"]);

        let sizes_mm = vec![Length::from_nm(-500_000), Length::from_mm(1200)];
        let known = Outer {
            name: "W1",
            inner: Some(Inner { count: 2, sizes_mm }),
            steps: OwnFile(vec![Inner { count: 9, sizes_mm: vec![] }]),
            r#use: Some(3),
        };
        assert_eq!(cells(&known), ["W1", "2", "-0.5; 1200", "3"]);
        let unknown = Outer { name: "W2", inner: None, steps: OwnFile(vec![]), r#use: None };
        assert_eq!(cells(&unknown), ["W2", "", "", ""]);
    }

    #[test]
    fn text_that_could_be_a_formula_gets_an_apostrophe_and_a_number_does_not() {
        for (text, cell) in [
            ("=1+1", "'=1+1"),
            ("+1", "'+1"),
            ("-W", "'-W"),
            ("@SUM", "'@SUM"),
            ("\tx", "'\tx"),
            ("\rx", "'\rx"),
            ("W=1", "W=1"),
            ("", ""),
        ] {
            assert_eq!(cells(&text), [cell]);
        }
        assert_eq!(cells(&Length::from_mm(-5)), ["-5"]);
    }
}
