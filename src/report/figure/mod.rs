//! What a printed figure is, said once: its value, its key in JSON and CSV, what it means, and how
//! a sheet shows it. A row is a list of such figures, made with `row!`; a writer lays out the
//! list and knows no figure by name.

mod heading;
mod kind;
mod value;

pub use heading::{Entry, Heading, Lead, Said};
pub use kind::{Key, Kind};
pub use value::{Figure, Kilograms, Money, Newtons, Quantity, Rows, Share, Value};

/// A row that any output shows: a handle on what lends its figures, each worked out when asked for.
pub trait Row<'r>: Copy + 'r {
    /// What a row is.
    const NOTE: &'static str;

    /// Its figures, key by key.
    fn object(self) -> Value<'r>;

    /// Its figures, in order.
    fn fields() -> Vec<Field<'r, Self>>;
}

/// One figure of a row: its key, and the headings that it stands under on a sheet.
pub struct Field<'r, T> {
    /// Its key.
    pub key: Key,
    /// None for a figure that no sheet shows; several for a row within the row.
    pub headings: Vec<Heading<'r, T>>,
}

/// Declares the figures of a row. Each has a note, a key that is also a method, a type, and how it
/// is worked out from the row; a key ends with the unit of its figure (`_mm`, `_kg`, `_deg`). What
/// follows `=>` are methods of [`Entry`]: within which bounds it lies, and how a sheet shows it.
///
/// ```text
/// row! {
///     /// Identical blinds.
///     LineRow<'r>: row {
///         /// Finished width.
///         width_mm: Length = row.line.key.size.width => above_zero, shown, strong;
///         /// Their openings.
///         openings: Vec<&'r str> = row.report.names(&row.line.openings);
///     }
/// }
/// ```
macro_rules! row {
    ($(#[doc = $note:literal])+ $name:ident<$life:lifetime>: $row:ident { $(
        $(#[doc = $doc:literal])+
        $key:ident: $kind:ty = $value:expr $(=> $($how:ident $(($($with:expr),*))?),+)?;
    )+ }) => {
        impl<$life> $name<$life> { $(
            $(#[doc = $doc])+
            pub fn $key(self) -> $kind {
                let $row = self;
                $value
            }
        )+ }
        impl<$life> $crate::report::figure::Row<$life> for $name<$life> {
            const NOTE: &'static str = concat!($($note),+);
            fn object(self) -> $crate::report::figure::Value<$life> {
                use $crate::report::figure::{Figure, Value, plain};
                Value::Object(vec![$((plain(stringify!($key)), Figure::value(self.$key()))),+])
            }
            fn fields() -> Vec<$crate::report::figure::Field<$life, Self>> {
                use $crate::report::figure::{Entry, plain};
                vec![$(
                    Entry::new(plain(stringify!($key)), concat!($($doc),+), Self::$key)
                        $($(.$how($($($with),*)?))+)?
                        .finish()
                ),+]
            }
        }
    };
}
pub(crate) use row;

/// The name of a key that may be a word of the language.
pub(crate) fn plain(key: &'static str) -> &'static str {
    key.trim_start_matches("r#")
}
