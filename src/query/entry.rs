//! What a room may ask, each query said once: its code, how grave it is, the column that an answer
//! fills, its words and what to do about it.

use super::{Reader, Severity, Wording};
use crate::schema::{Column, Table};

/// What is known of a query before it is raised.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Entry {
    /// A short lasting name of the doubt, whatever its words: `width-spread`. No other query has it.
    pub code: &'static str,
    /// What it holds back.
    pub severity: Severity,
}

/// A query before it is raised somewhere: one enum in each room, made by [`queries!`].
pub trait Asks: Wording {
    /// Its code and how grave it is.
    fn entry(&self) -> Entry;

    /// What an answer would fill, if there is just one thing: a column of `Openings`, or `Headings`.
    fn fills(&self) -> Option<&'static str>;

    /// Who can do something about it.
    fn reader(&self) -> Reader {
        Reader::Everyone
    }
}

/// What an answer may fill, by the name that the sheet `Queries` gives it.
pub trait Fills {
    /// The name.
    fn fills(&self) -> &'static str;
}

impl Fills for Column {
    fn fills(&self) -> &'static str {
        self.name
    }
}

/// What a heading means, told on the sheet of that name.
impl Fills for Table {
    fn fills(&self) -> &'static str {
        self.sheet
    }
}

/// Makes the enum of a room's queries. An entry is a variant with what its words need, how grave it
/// is, its code, the column of `Openings` that an answer would fill if there is just one, what is
/// wrong and, after the arrow, what to do. The words begin in lower case and have no full stop; they
/// are those of [`format!`], and may name the variant's fields. Behind the name of the enum may stand
/// the one [`Reader`] that its queries are for.
///
/// ```text
/// queries! {
///     /// A doubt about how an opening is to be covered.
///     pub(super) enum SizingQuery {
///         DepthUnknown { needed: Shown }: Check, "depth-unknown", fills &RECESS_DEPTH,
///             "recess depth is unknown; this inside mount needs {needed}"
///             => "measure the recess depth: the louvers need room to turn";
///     }
/// }
/// ```
macro_rules! queries {
    (
        $(#[$attribute:meta])*
        $visible:vis enum $Room:ident $(for $reader:ident)? {
            $(
                $Variant:ident $({ $($field:ident: $Field:ty),+ })?: $severity:ident, $code:literal,
                $(fills $column:expr,)?
                $words:literal $(, $of_words:expr)* => $hint:literal $(, $of_hint:expr)*;
            )+
        }
    ) => {
        $(#[$attribute])*
        #[derive(Clone, Debug, PartialEq, Eq)]
        $visible enum $Room {
            $($Variant $({ $($field: $Field),+ })?,)+
        }

        impl $Room {
            /// Every query of the room.
            pub(crate) const ENTRIES: &[$crate::query::Entry] =
                &[$($crate::query::Entry { code: $code, severity: $crate::query::Severity::$severity }),+];
        }

        #[allow(unused_variables, reason = "words name the fields that they need")]
        impl std::fmt::Display for $Room {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                match self {
                    $(Self::$Variant $({ $($field),+ })? => write!(f, $words $(, $of_words)*),)+
                }
            }
        }

        #[allow(unused_variables, reason = "a hint names the fields that it needs")]
        impl $crate::query::Wording for $Room {
            fn hint(&self) -> String {
                match self {
                    $(Self::$Variant $({ $($field),+ })? => format!($hint $(, $of_hint)*),)+
                }
            }
        }

        #[allow(unused_variables, unused_imports, reason = "few queries find their column in a field")]
        impl $crate::query::Asks for $Room {
            fn entry(&self) -> $crate::query::Entry {
                match self {
                    $(Self::$Variant $({ $($field: _),+ })? => $crate::query::Entry {
                        code: $code,
                        severity: $crate::query::Severity::$severity,
                    },)+
                }
            }

            fn fills(&self) -> Option<&'static str> {
                use $crate::query::Fills as _;
                match self {
                    $(Self::$Variant $({ $($field),+ })? => None $(.or(Some($column.fills())))?,)+
                }
            }

            fn reader(&self) -> $crate::query::Reader {
                None $(.or(Some($crate::query::Reader::$reader)))?.unwrap_or($crate::query::Reader::Everyone)
            }
        }
    };
}
pub(crate) use queries;
