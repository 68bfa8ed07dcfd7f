//! What each rule sheet says, a list for each. An entry is a column of the sheet and, where the rule
//! is taken straight from its cell, a field of that type, which the entry's help documents. In
//! `Products`, `Materials` and `Rates` a blank means the built-in value; the other lists are replaced as a whole.
//! `Phases` has nothing built in: it says when, by whom and for how much, phase by phase.

/// Declares a sheet, `Columns` with a column under each key, and those of the sheet as `COLUMNS`.
/// An entry is `key: Type, "Heading" ["synonym"] kind, "what a blank means", "help";`, without a
/// type if no field is read straight from it; marks before the semicolon are methods of [`Column`].
///
/// [`Column`]: crate::schema::Column
macro_rules! sheet {
    ($table:ident, $sheet:literal, $form:expr, $about:literal;
     $(#[$doc:meta])* pub struct $name:ident, read($($args:tt)*) { $($entries:tt)* } $($and:tt)*) => {
        sheet! { $table, $sheet, $form, $about; $($entries)* }
        typed! { $(#[$doc])* pub struct $name, read($($args)*) { $($entries)* } $($and)* }
    };
    ($table:ident, $sheet:literal, $form:expr, $about:literal;
     $($key:ident $(: $type:ty)?, $heading:literal [$($synonym:literal),*] $kind:expr, $blank:literal, $help:literal $(, $mark:ident)*;)*) => {
        #[allow(non_camel_case_types)]
        enum Slot { $($key),* }
        /// The columns of the sheet, each under its key.
        #[derive(Debug)]
        pub struct Columns { $(#[doc = $help] pub $key: $crate::schema::Column),* }
        /// The columns of the sheet.
        pub static COLUMNS: Columns = Columns {
            $($key: $crate::schema::Column::new(
                (Slot::$key as usize, stringify!($key), $heading), &[$($synonym),*], $kind, ($blank, $help),
            ).of_rules()$(.$mark())*),*
        };
        #[doc = $about]
        pub static $table: $crate::schema::Table = $crate::schema::Table {
            sheet: $sheet, form: $form, columns: &[$(&COLUMNS.$key),*], about: $about,
        };
    };
}

/// Declares what a row is read as: a field for each of the same entries that has a type, then those
/// that are worked out: `and { /// What it is. at: Option<CellRef> = row.at; }`. `read` takes the
/// row, and what else these need.
macro_rules! typed {
    ($(#[$doc:meta])* pub struct $name:ident, read($row:ident $(, $arg:ident: $arg_type:ty)*) {
        $($key:ident $(: $type:ty)?, $heading:literal [$($synonym:literal),*] $kind:expr, $blank:literal, $help:literal $(, $mark:ident)*;)*
    } $(and { $($(#[$field_doc:meta])* $field:ident: $field_type:ty = $value:expr;)* })?) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, Eq)]
        pub struct $name {
            $($(#[doc = concat!($help, " Blank: ", $blank, ".")] pub $key: $type,)?)*
            $($($(#[$field_doc])* pub $field: $field_type,)*)?
        }
        impl $name {
            /// The row's own, as they are written.
            pub(in crate::rules) fn read(
                $row: &$crate::rules::raw::RawRow $(, $arg: $arg_type)*
            ) -> Result<$name, $crate::rules::raw::Missing> {
                Ok($name {
                    $($($key: <$type as $crate::rules::raw::FromCell>::from_cell($row, &COLUMNS.$key)?,)?)*
                    $($($field: $value,)*)?
                })
            }
        }
    };
}

pub mod bars;
pub mod fixings;
pub mod materials;
pub mod offcuts;
pub mod options;
pub mod phases;
pub mod prices;
pub mod products;
pub mod project;
pub mod rates;
pub mod stock_sizes;

use crate::length::Length;
use crate::schema::{Kind, MOST_LENGTH, Table};

/// The sheets of rules, an item a row, in the order in which they are read.
pub const RULE_SHEETS: [&Table; 8] = [
    &products::PRODUCTS,
    &stock_sizes::STOCK_SIZES,
    &materials::MATERIALS,
    &bars::BARS,
    &offcuts::OFFCUTS,
    &fixings::FIXINGS,
    &prices::PRICES,
    &rates::RATES,
];

/// What an item's mark in the built-in files and the blank workbook says of an invented price.
/// A price counts as an example only while this stands beside it and it is still the built-in one.
pub const EXAMPLE_PRICE: &str = "example price, not a quote";

/// From one bracket to the next: far more than a bracket is wide, so that a rail has no more than hundreds.
const SPACING: Kind = Kind::Length { least: Length::from_mm(100), most: MOST_LENGTH };
/// A step that a size is rounded to: never 0, for sizes are divided by it.
const STEP: Kind = Kind::Length { least: Length::from_nm(100_000), most: Length::from_mm(100) };
/// A bar or a roll: up to a kilometer.
const BAR: Kind = Kind::Length { least: Length::from_mm(100), most: Length::from_mm(1_000_000) };
/// An offcut: what a saw leaves may be shorter than any bar that is sold.
const OFFCUT: Kind = Kind::Length { least: Length::from_nm(1), most: Length::from_mm(1_000_000) };
/// How many offcuts there are: a large project may leave one of each bar.
const OFFCUTS_ON_HAND: Kind = Kind::Whole { least: 1, most: 1_000_000_000 };
/// A screw's dimension: never 0, so that a blank alone means unknown.
const SCREW: Kind = Kind::Length { least: Length::from_nm(100_000), most: MOST_LENGTH };
/// A count that may be none.
const COUNT: Kind = Kind::Whole { least: 0, most: 1_000_000 };
/// How many people fit a phase.
const FITTERS: Kind = Kind::Whole { least: 1, most: 1_000 };
/// Hours of a day.
const HOURS: Kind = Kind::Number { most: 24 };
/// How many are in a pack.
const PACK: Kind = Kind::Whole { least: 1, most: 1_000_000 };
/// Days from order to delivery, up to ten years.
const DAYS: Kind = Kind::Whole { least: 0, most: 3_650 };
/// A mass in kilograms, each or for a meter or a square meter.
const MASS: Kind = Kind::Number { most: 1_000 };
