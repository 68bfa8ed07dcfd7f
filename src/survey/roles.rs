//! What each table of a survey is: openings, types, or neither. Decided from the columns that the
//! tables have, the sheets they stand on and what they say of themselves; nothing here reads a cell.
//!
//! What a table is, is decided once for a file, from its columns and the sheets, before a cell is
//! read. Lists of types are used where the openings name types; alone they are openings only if
//! they have counts, the type being the id. The counts of a list that is used as types are never
//! quantities: the openings are listed one by one.
//!
//! Without a sheet `Types`, a list of types on any sheet is used, also beside a sheet `Openings`. A
//! type that nothing lists is a label where the row has sizes.
//!
//! A table that says that it lists other things (`subject`) lists neither openings nor types. One
//! whose name may also be a place is passed over only beside a table that is named after openings.
//!
//! A list with a third size (`Length`, `Volume`) and neither kind, category nor sill is of rooms or
//! goods. One with an `Area` is not: window schedules have areas too.

use std::fmt;

use crate::schema::Column;
use crate::schema::openings::{OPENING, OPENINGS, PAIRS, QUANTITY, ROOM, TYPE, TYPES, UNIT};

use super::joined::{HEIGHTS, Size, WIDTHS};
use super::subject::Subject;

/// The sheet that a table stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum On {
    /// The sheet `Openings`: if a survey has it, no other is searched for openings.
    Openings,
    /// The sheet `Types`: if a survey has it, no other is searched for types.
    Types,
    /// Any other.
    Another,
}

/// A table as its headings show it.
pub(super) struct Candidate<'t> {
    /// Where it stands.
    pub on: On,
    /// The schema's columns that it has.
    pub columns: Vec<&'static Column>,
    /// A heading that a list of rooms or goods has and a list of openings has not.
    pub foreign: Option<&'t str>,
    /// What it says that it lists.
    pub subject: Subject,
}

/// What a table is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Role {
    /// A row for each opening.
    Openings,
    /// A row for each type with a count, where nothing lists the openings one by one: each row is
    /// so many openings, known by their type.
    CountedTypes,
    /// A row for each type, from which rows of openings fill their blanks.
    Types,
    /// None of these.
    PassedOver(Why),
}

/// Why a table, or a sheet without one, holds no openings; reads on after its name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
    /// The sheet is empty.
    Blank,
    /// The sheet's name says what it is read for.
    Reserved,
    /// No row of the sheet looks like headings.
    NoHeadings,
    /// Nothing says how wide or how high.
    NoSize,
    /// Nothing says how wide.
    NoWidth,
    /// Nothing says how high.
    NoHeight,
    /// Nothing says which opening a row is.
    NoName,
    /// It has this column, which openings have not.
    Foreign(String),
    /// Its sheet or its title has this name, which says that it lists other things.
    NamedAfter(String),
    /// Its rows name other things, such as this.
    Things(String),
    /// It looks like openings, and a sheet `Openings` has them.
    OpeningsElsewhere,
    /// It lists types, and nothing says how many of each.
    UncountedTypes,
    /// It lists types, and no table of openings names any.
    UnusedTypes,
    /// It lists types, and so does the sheet `Types`.
    TypesElsewhere,
}

impl fmt::Display for Why {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Why::Blank => f.write_str("is empty"),
            Why::Reserved => f.write_str("has a name that is reserved for something else"),
            Why::NoHeadings => f.write_str("does not have the headings of a table of openings"),
            Why::NoSize => f.write_str("has no column for width or height"),
            Why::NoWidth => f.write_str("has no column for width"),
            Why::NoHeight => f.write_str("has no column for height"),
            Why::NoName => f.write_str("has no column that identifies an opening: id, unit or room"),
            Why::Foreign(heading) => {
                write!(f, "has a column {heading}, so it looks like a list of other things")
            }
            Why::NamedAfter(name) => write!(f, "lists other things, by its name: {name}"),
            Why::Things(thing) => write!(f, "lists other things, such as {thing}"),
            Why::OpeningsElsewhere => {
                write!(f, "looks like openings, but openings are read from the sheet {}", OPENINGS.sheet)
            }
            Why::UncountedTypes => f.write_str("lists types only, without counts or openings"),
            Why::UnusedTypes => {
                write!(f, "lists types, but no table of openings has a column {}", TYPE.name)
            }
            Why::TypesElsewhere => write!(f, "lists types, but types are read from the sheet {TYPES}"),
        }
    }
}

impl Candidate<'_> {
    fn has(&self, wanted: &Column) -> bool {
        self.columns.iter().any(|column| column.slot == wanted.slot)
    }

    fn measures(&self, size: &Size) -> bool {
        let in_one = PAIRS.iter().any(|pair| self.has(pair));
        in_one || self.columns.iter().any(|column| size.has(column))
    }

    fn is_sized(&self) -> bool {
        self.measures(&WIDTHS) && self.measures(&HEIGHTS)
    }

    /// Whether a column says which opening, or whose, a row is.
    fn is_named(&self) -> bool {
        [&OPENING, &UNIT, &ROOM].into_iter().any(|name| self.has(name))
    }

    fn lists_types(&self) -> bool {
        self.has(&TYPE) && self.is_sized() && !self.is_named() && !matches!(self.subject, Subject::Another(_))
    }

    /// Whether it lists openings one by one. On the sheet `Openings` a part of what that takes is
    /// enough: what is missing is asked about row by row.
    fn lists_openings(&self, types_known: bool) -> bool {
        let typed = self.has(&TYPE);
        match self.on {
            On::Openings => {
                let sized = self.measures(&WIDTHS) || self.measures(&HEIGHTS);
                (typed || self.is_named() && sized) && !self.lists_types()
            }
            On::Another => {
                let is_of_openings = self.foreign.is_none() && !matches!(self.subject, Subject::Another(_));
                self.is_named() && (self.is_sized() || typed && types_known) && is_of_openings
            }
            On::Types => false,
        }
    }

    /// Whether nothing but its columns says that it lists openings.
    pub fn is_doubtful(&self) -> bool {
        !matches!(self.subject, Subject::Openings { .. })
    }

    fn why_not(&self) -> Why {
        match (self.measures(&WIDTHS), self.measures(&HEIGHTS), self.foreign, &self.subject) {
            (false, false, ..) => Why::NoSize,
            (false, true, ..) => Why::NoWidth,
            (true, false, ..) => Why::NoHeight,
            (true, true, Some(heading), _) => Why::Foreign(heading.to_owned()),
            (true, true, None, Subject::Another(why) | Subject::Places(why)) => why.clone(),
            (true, true, None, Subject::Openings { .. } | Subject::Unsaid) => Why::NoName,
        }
    }
}

/// The role of each table of one survey, in their order.
pub(super) fn roles(tables: &mut [Candidate<'_>]) -> Vec<Role> {
    settle_places(tables);
    let tables = &*tables;
    let any = |on| tables.iter().any(|table| table.on == on);
    let searched = if any(On::Openings) { On::Openings } else { On::Another };
    let types_known = any(On::Types) || tables.iter().any(Candidate::lists_types);

    let mut lists: Vec<bool> =
        tables.iter().map(|table| table.on == searched && table.lists_openings(types_known)).collect();
    if searched == On::Openings && !lists.contains(&true) {
        // The sheet says what it holds, whatever its headings are.
        lists = tables.iter().map(|table| table.on == On::Openings).collect();
    }
    let listed = || tables.iter().zip(&lists).filter(|(_, lists)| **lists).map(|(table, _)| table);
    let any_listed = listed().next().is_some();
    let types_named = listed().any(|table| table.has(&TYPE));

    let role = |(table, lists): (&Candidate<'_>, &bool)| match table.on {
        On::Types => Role::Types,
        _ if *lists => Role::Openings,
        On::Another if searched == On::Openings && table.lists_openings(types_known) => {
            Role::PassedOver(Why::OpeningsElsewhere)
        }
        _ if !table.lists_types() => Role::PassedOver(table.why_not()),
        _ if any_listed && any(On::Types) => Role::PassedOver(Why::TypesElsewhere),
        _ if any_listed && types_named => Role::Types,
        _ if any_listed => Role::PassedOver(Why::UnusedTypes),
        _ if table.has(&QUANTITY) => Role::CountedTypes,
        _ => Role::PassedOver(Why::UncountedTypes),
    };
    tables.iter().zip(&lists).map(role).collect()
}

/// Where a table is named after openings, one that is named after rooms or stairs is of those.
fn settle_places(tables: &mut [Candidate<'_>]) {
    let types_known = tables.iter().any(Candidate::lists_types);
    let is_named_after = |table: &&Candidate<'_>| table.subject == Subject::Openings { by_name: true };
    if tables.iter().filter(is_named_after).any(|table| table.lists_openings(types_known)) {
        for Candidate { subject, .. } in tables {
            if let Subject::Places(why) = subject {
                *subject = Subject::Another(why.clone());
            }
        }
    }
}
