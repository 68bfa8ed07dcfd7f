//! The one description of a sheet that a survey may hold: each column's name, other names, kind of
//! value, what a blank means and help for the person who fills it in. The readers, the blank
//! workbook, the messages and the README's tables are all made from it. Here are the sheets of the
//! openings; the rules list the columns of their own.

pub mod choices;
pub mod answers;
pub mod blinds;
pub mod cobie;
pub mod cost_summary;
pub mod headings;
pub mod openings;
pub mod rules_used;
pub mod surveyed;
pub mod fitting_days;
pub mod groups;
pub mod synonyms;

use crate::length::{Length, PairOrder};
use choices::Words;

/// A sheet that a survey may hold.
#[derive(Debug)]
pub struct Table {
    /// The sheet's name; case and spaces are ignored when it is looked for.
    pub sheet: &'static str,
    /// How it is laid out.
    pub form: Form,
    /// Its columns (or items), in the order in which they are listed. A blank survey has them so
    /// too, but for its openings, which lie as they are measured.
    pub columns: &'static [&'static Column],
    /// One sentence for the person who fills it in.
    pub about: &'static str,
}

/// How a sheet is laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Headings over columns, a row for each thing.
    Rows,
    /// An item and its value on each row.
    ItemAndValue,
}

/// One column of a table, or one item of an item-and-value sheet: there is one of each, so two are the same
/// only if they stand in the same place.
#[derive(Debug, Eq)]
pub struct Column {
    /// Position in its table.
    pub slot: usize,
    /// The name in the built-in rule files and in explanations: `side_clearance`.
    pub key: &'static str,
    /// The heading.
    pub name: &'static str,
    /// Other headings that mean the same, the better ones first.
    pub synonyms: &'static [&'static str],
    /// What its cells hold.
    pub kind: Kind,
    /// What a blank means.
    pub blank: &'static str,
    /// Whether a merged block speaks for every row it covers.
    pub merged: Merged,
    /// Whether a blank survey has it.
    pub offered: Offered,
    /// What a cell does that is written but cannot be read.
    pub unread: WhenUnread,
    /// Whether it decides a size, a mount or a count.
    pub decides: bool,
    /// Help for the person who fills it in.
    pub help: &'static str,
}

impl PartialEq for Column {
    fn eq(&self, other: &Column) -> bool {
        std::ptr::eq(self, other)
    }
}

impl Table {
    /// The columns that a blank survey has, in order.
    pub fn offered(&self) -> impl Iterator<Item = &'static Column> {
        self.columns.iter().copied().filter(|column| column.offered == Offered::InBlank)
    }
}

impl Column {
    /// A column that a blank survey has, whose merged blocks stand for their first row and whose
    /// unreadable cells hold what they are about.
    pub const fn new(
        (slot, key, name): (usize, &'static str, &'static str),
        synonyms: &'static [&'static str],
        kind: Kind,
        (blank, help): (&'static str, &'static str),
    ) -> Column {
        let (merged, offered, unread) = (Merged::FirstRow, Offered::InBlank, WhenUnread::Holds);
        let decides = matches!(kind, Kind::Length { .. } | Kind::Pair(_) | Kind::Whole { .. });
        Column { slot, key, name, synonyms, kind, blank, merged, offered, unread, decides, help }
    }

    /// One of words that decide a size or a mount, as every length and count does.
    pub const fn decides(self) -> Column {
        Column { decides: true, ..self }
    }

    /// One whose merged blocks speak for every row they cover.
    pub const fn merged(self) -> Column {
        Column { merged: Merged::EveryRow, ..self }
    }

    /// One of a rule sheet: but for what a row is about, a merged block speaks for every row.
    pub const fn of_rules(self) -> Column {
        if self.slot == 0 { self } else { self.merged() }
    }

    /// One that a blank survey has not.
    pub const fn only_read(self) -> Column {
        Column { offered: Offered::OnlyRead, ..self }
    }

    /// One of which a cell that cannot be read is unknown.
    pub const fn unknown(self) -> Column {
        // A length that may be unknown is compared with others and decides nothing.
        let decides = self.decides && !matches!(self.kind, Kind::Length { .. });
        Column { unread: WhenUnread::Unknown, decides, ..self }
    }

    /// One of which a cell that says nothing is unknown.
    pub const fn holds_if_it_says(self) -> Column {
        Column { unread: WhenUnread::HoldsIfItSays, ..self }
    }

    /// Whether its cells are lengths, in whatever unit.
    pub fn holds_lengths(&self) -> bool {
        matches!(self.kind, Kind::Length { .. } | Kind::LengthOr { .. } | Kind::Pair(_))
    }

    /// The heading and every other that means the same.
    pub fn names(&self) -> impl Iterator<Item = &'static str> {
        std::iter::once(self.name).chain(self.synonyms.iter().copied())
    }
}

/// What a merged block of cells in a column stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Merged {
    /// Its first row alone; the others are blank.
    FirstRow,
    /// Every row that it covers, as a building's name beside its openings.
    EveryRow,
}

/// Whether a blank survey has a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Offered {
    /// It has.
    InBlank,
    /// It has not: the column is read where someone else's schedule has it.
    OnlyRead,
}

/// What a cell does that is written but cannot be read. A negative number holds in any column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhenUnread {
    /// It holds the opening, and of a rule the run: a blank would be taken for a value that decides
    /// what is made or how it hangs, and that is not what was written.
    Holds,
    /// It holds the opening, unless it is an error or a formula without a result: that says
    /// nothing, so the value is unknown as a blank is, with a check.
    HoldsIfItSays,
    /// A check: a blank is unknown too, or the text is only a name.
    Unknown,
}

/// What a cell holds, with its bounds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Any text; numbers are taken as written.
    Text,
    /// A length from `least` to `most`, both allowed. Readings outside are dropped.
    Length {
        /// The least length allowed.
        least: Length,
        /// The most.
        most: Length,
    },
    /// The thickness of sheet steel: a length, or a designation in mil, thousandths of an inch.
    SteelThickness,
    /// A length as above, or the one word given (`Merge sizes`: `no`).
    LengthOr {
        /// The word that stands for no length.
        word: &'static str,
        /// The most; the least is 0.
        most: Length,
    },
    /// A width and a height in one cell, each within the bounds of [`SIZE`]; the heading may say
    /// which comes first.
    Pair(Option<PairOrder>),
    /// A whole number, both bounds allowed.
    Whole {
        /// The least.
        least: u32,
        /// The most.
        most: u32,
    },
    /// A decimal number of 0 or more, up to `most`.
    Number {
        /// The most.
        most: u32,
    },
    /// A percentage of 0 or more, up to `most`: `8.25`, `8.25 %` and 0.0825 shown as a percentage agree.
    Percent {
        /// The most, in percent.
        most: u32,
    },
    /// An amount of money of 0 or more, up to [`MOST_MONEY`].
    Money,
    /// A calendar date.
    Date,
    /// Calendar dates separated by commas, or one.
    Dates,
    /// One of these words, in any case.
    Choice(&'static Words),
    /// Any of these words, in any case, separated by commas.
    Choices(&'static Words),
    /// Texts separated by commas.
    List,
}

/// Most that a price, a rate or a charge in a survey may be: no sum of a whole survey then comes near
/// what an exact decimal holds.
pub const MOST_MONEY: u32 = 1_000_000_000;

/// Least size of a width, height, diagonal or wanted drop.
pub const LEAST_SIZE: Length = Length::from_mm(10);
/// Most that any length in a survey may be.
pub const MOST_LENGTH: Length = Length::from_mm(30_000);

/// A width, height, diagonal or wanted drop: 10 mm to 30 m.
pub const SIZE: Kind = Kind::Length { least: LEAST_SIZE, most: MOST_LENGTH };
/// Any other length: 0 to 30 m.
pub const LENGTH: Kind = Kind::Length { least: Length::ZERO, most: MOST_LENGTH };
/// A distance to the right of where it begins; to the left with a minus sign: up to 30 m.
pub const OFFSET: Kind = Kind::Length { least: Length::from_nm(-MOST_LENGTH.nm()), most: MOST_LENGTH };
/// `yes` or `no`.
pub const YES_NO: Kind = Kind::Choice(choices::YES_NO);

/// Declares a table and a static [`Column`] for each of its columns, numbered in order:
/// `NAME "key" "Heading" ["synonym"] kind, "what a blank means", "help";`, the synonyms also as
/// `(path)` of a list that stands elsewhere, and before the last semicolon any marks: `, merged`,
/// `, only_read`, `, unknown`, `, holds_if_it_says`, `, decides`, each a method of [`Column`].
macro_rules! columns {
    (@synonyms [$($synonym:literal),*]) => { &[$($synonym),*] };
    (@synonyms ($synonyms:path)) => { $synonyms };
    ($table:ident, $sheet:literal, $form:expr, $about:literal;
     $($id:ident $key:literal $name:literal $synonyms:tt $kind:expr, $blank:literal, $help:literal $(, $mark:ident)*;)*) => {
        #[allow(non_camel_case_types, clippy::upper_case_acronyms)]
        enum Slot { $($id),* }
        $(
            #[doc = $help]
            pub static $id: $crate::schema::Column = $crate::schema::Column::new(
                (Slot::$id as usize, $key, $name), $crate::schema::columns!(@synonyms $synonyms), $kind, ($blank, $help),
            )$(.$mark())*;
        )*
        #[doc = $about]
        pub static $table: $crate::schema::Table = $crate::schema::Table {
            sheet: $sheet, form: $form, columns: &[$(&$id),*], about: $about,
        };
    };
}
pub(crate) use columns;
