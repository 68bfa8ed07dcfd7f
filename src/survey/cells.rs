//! A row's cells to what was measured: which are used, which hold the opening back, and what is
//! taken for a blank.

use std::sync::Arc;

use crate::length::Length;
use crate::place::CellRef;
use crate::query::{Held, Severity};
use crate::schema::Column;
use crate::schema::openings::*;
use crate::tables::{Datum, Entry, Fault, Unread};
use crate::worked::Record;

use super::joined::{HEIGHTS, Joined, Size, WIDTHS};
use super::queries::SurveyQuery;
use super::texts::Texts;
use super::types::Lookup;
use super::{
    Control, DepthTo, Draw, EndsAt, Facts, Floor, Given, Kind, Leaf, Measured, MountWanted, NO_UNIT, Opens,
    Source, Substrate,
};

/// A blank kind is a patio door from this least height, included (common practice, no source).
const PATIO_DOOR_HEIGHT: Length = Length::inches(72);
/// …if its sill is blank or at most this high.
const PATIO_DOOR_SILL: Length = Length::inches(6);

/// What a cell that is written but cannot be read does to its opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum WhenUnread {
    /// It holds the opening: a blank would be taken for a value that decides what is made or how
    /// it hangs, and that is not what was written.
    Holds,
    /// It holds the opening unless there is nothing to read, an error or a formula without a
    /// result: then the value is unknown, with a check, and a blank means unknown too.
    HoldsIfWritten,
    /// A check: a blank is unknown, or the text is only a name.
    Unknown,
}

/// What `yes` and `no` mean, in the order of the schema's words.
const YES_OR_NO: [bool; 2] = [true, false];
/// How a blank is listed whose value nobody takes for known.
const UNKNOWN: &str = "unknown";

/// Columns that say who and where an opening is.
static NAMES: [&Column; 7] = [&OPENING, &BUILDING, &FLOOR, &UNIT, &ROOM, &PHASE, &NOTE];

/// The one table of what unreadable cells do. Widths and heights are not in it: as long as one of
/// each is good, the others are checks. A negative number always holds, and so does a date where
/// an id or a unit belongs.
fn when_unread(column: &Column) -> WhenUnread {
    let among = |columns: &[&Column]| columns.iter().any(|known| std::ptr::eq(*known, column));
    if among(&NAMES) || among(&[&OPENING_LEAF, &SUBSTRATE]) {
        WhenUnread::Unknown
    } else if among(&[&RECESS_DEPTH, &DIAGONAL_1, &DIAGONAL_2, &HEADER_HEIGHT, &OPENS]) {
        WhenUnread::HoldsIfWritten
    } else {
        WhenUnread::Holds
    }
}

fn severity(column: &Column, fault: Fault) -> Severity {
    let is_key = std::ptr::eq(column, &OPENING) || std::ptr::eq(column, &UNIT);
    match (when_unread(column), fault) {
        (_, Fault::Negative) | (WhenUnread::Holds, _) => Severity::Stop,
        (WhenUnread::HoldsIfWritten, Fault::NoResult) => Severity::Check,
        (WhenUnread::HoldsIfWritten, _) => Severity::Stop,
        (WhenUnread::Unknown, Fault::Date) if is_key => Severity::Stop,
        (WhenUnread::Unknown, _) => Severity::Check,
    }
}

/// A value taken for a blank, by its column.
pub(super) type Taken = (&'static Column, &'static str);

/// The cells of one opening, read into its record.
pub(super) struct Cells<'c, 'r> {
    joined: Joined<'c>,
    record: &'c mut Record<'r>,
    texts: &'c mut Texts,
    taken: &'c mut Vec<Taken>,
    /// Set once a stop is raised.
    held: Option<Held>,
}

impl<'c, 'r> Cells<'c, 'r> {
    /// Reads `joined`, raising queries in `record` and adding what is taken for blanks to `taken`.
    pub fn new(
        joined: Joined<'c>,
        record: &'c mut Record<'r>,
        texts: &'c mut Texts,
        taken: &'c mut Vec<Taken>,
    ) -> Cells<'c, 'r> {
        Cells { joined, record, texts, taken, held: None }
    }

    /// Holds the opening because `other`, a row, has the same key.
    pub fn same_key_as(&mut self, other: &str) {
        self.stop(&SurveyQuery::SameKey, None, other);
    }

    /// Raises what is wrong with the opening's type.
    pub fn look_up(&mut self, lookup: &Lookup<'_>) {
        let at = self.joined.row.entry(&TYPE).map(|entry| entry.at);
        match lookup {
            // A cell that cannot be read is raised with the names.
            Lookup::None | Lookup::Row(_) | Lookup::Unreadable => {}
            Lookup::Several => self.stop(&SurveyQuery::SeveralTypes, at, ""),
            Lookup::Unknown { nearest } => {
                let detail =
                    nearest.map_or_else(String::new, |nearest| format!("did you mean \"{nearest}\"?"));
                if self.joined.has_size() {
                    self.record.check(&SurveyQuery::UnknownType, at, detail);
                } else {
                    self.stop(&SurveyQuery::UnknownTypeWithoutSize, at, &detail);
                }
            }
        }
    }

    /// What was measured and asked for; `None` if a stop holds the opening.
    pub fn facts(mut self) -> Option<Facts> {
        self.names();
        let width = self.size(&WIDTHS);
        let height = self.size(&HEIGHTS);
        let sill = self.length(&SILL_HEIGHT);
        let kind = self.choice(&KIND, Kind::ALL);
        let recess_depth = self.length(&RECESS_DEPTH);
        let depth_to = self.choice(&DEPTH_TO, DepthTo::ALL);
        let header_height = self.length(&HEADER_HEIGHT);
        let header_offset = self.length(&HEADER_OFFSET);
        let floor = self.choice(&FLOOR_SURFACE, Floor::ALL);
        let floor_to_come = self.length(&FLOOR_TO_COME);
        let measured = self.choice(&MEASURED, Source::ALL);

        let diagonals = self.diagonals();
        let handle = self.length_or(&HANDLE, "0");
        let trim = self.length_or(&TRIM, "0");
        let wall_left = self.length_or(&WALL_LEFT, "enough");
        let wall_right = self.length_or(&WALL_RIGHT, "enough");
        let wall_above = self.length_or(&WALL_ABOVE, "enough, or up to the project's ceiling");
        let wall_below = self.length_or(&WALL_BELOW, "enough");
        let left_ends_at = self.choice_or(&LEFT_ENDS_AT, EndsAt::ALL, EndsAt::Free.word());
        let right_ends_at = self.choice_or(&RIGHT_ENDS_AT, EndsAt::ALL, EndsAt::Free.word());
        let mount = self.choice_or(&MOUNT, MountWanted::ALL, MountWanted::Either.word());
        let drop_wanted = self.length(&DROP_WANTED);
        let product = self.text(&PRODUCT);
        let colour = self.text(&COLOUR);
        let leaf = self.choice_or(&OPENING_LEAF, Leaf::ALL, UNKNOWN);
        let opens = self.choice_or(&OPENS, Opens::ALL, UNKNOWN);
        let draw = self.choice_or(&DRAW, Draw::ALL, "over the fixed leaf, else left");
        let control = self.choice_or(&CONTROL, Control::ALL, Control::Wand.word());
        let substrate = self.choice_or(&SUBSTRATE, Substrate::ALL, UNKNOWN);
        let accessible = self.choice_or(&ACCESSIBLE, &YES_OR_NO, "no");
        let escape = self.choice_or(&ESCAPE, &YES_OR_NO, "no");

        let (Some(width), Some(height), None) = (width, height, self.held) else { return None };
        let kind = kind.map_or_else(|| self.settled_kind(&height, sill), |kind| kind.value);
        if kind == Kind::Window {
            self.taken_if_blank(&SILL_HEIGHT, UNKNOWN);
        } else {
            self.taken_if_blank(&SILL_HEIGHT, "0");
        }
        self.taken_if_blank(&MEASURED, Source::Tape.word());
        self.taken_if_blank(&RECESS_DEPTH, UNKNOWN);
        if recess_depth.is_some_and(|depth| depth.value > Length::ZERO) {
            self.taken_if_blank(&DEPTH_TO, DepthTo::Glass.word());
        }
        self.taken_if_blank(&FLOOR_SURFACE, "hard, or unfinished if the project's floors are");
        if floor.is_some_and(|floor| floor.value != Floor::Unfinished) {
            self.taken_if_blank(&FLOOR_TO_COME, "0");
        }
        self.taken_if_blank(&HEADER_HEIGHT, UNKNOWN);
        if header_height.is_some_and(|header| header.value > Length::ZERO) {
            self.taken_if_blank(&HEADER_OFFSET, "0");
        }
        Some(Facts {
            kind,
            width,
            height,
            diagonals,
            source: measured.map_or(Source::Tape, |measured| measured.value),
            source_at: measured.map(|measured| measured.at),
            recess_depth,
            depth_to,
            handle,
            trim,
            wall_left,
            wall_right,
            wall_above,
            wall_below,
            left_ends_at: left_ends_at.map_or(EndsAt::Free, |ends| ends.value),
            right_ends_at: right_ends_at.map_or(EndsAt::Free, |ends| ends.value),
            sill,
            floor,
            floor_to_come,
            header_height,
            header_offset,
            mount,
            drop_wanted,
            product,
            colour,
            leaf,
            opens,
            draw,
            control,
            substrate,
            accessible: accessible.is_some_and(|yes| yes.value),
            escape: escape.is_some_and(|yes| yes.value),
        })
    }

    /// Raises what cannot be read of names, place, type and quantity; their values are already in
    /// the opening's identity.
    fn names(&mut self) {
        for column in NAMES.into_iter().chain([&TYPE, &QUANTITY]) {
            self.datum(column);
        }
        self.taken_if_blank(&OPENING, "the unit and a running number");
        self.taken_if_blank(&UNIT, NO_UNIT);
        self.taken_if_blank(&QUANTITY, "1");
    }

    fn settled_kind(&mut self, height: &Measured, sill: Option<Given<Length>>) -> Kind {
        let low = sill.is_none_or(|sill| sill.value <= PATIO_DOOR_SILL);
        let kind =
            if height.least().value >= PATIO_DOOR_HEIGHT && low { Kind::PatioDoor } else { Kind::Window };
        self.taken_if_blank(&KIND, kind.word());
        kind
    }

    /// The good measurements of a width or a height. A bad one beside a good one is a check.
    fn size(&mut self, size: &Size) -> Option<Measured> {
        let (mut good, mut bad) = (Vec::new(), Vec::new());
        for entry in size.entries(self.joined) {
            match &entry.datum {
                Ok(Datum::Length(value)) => good.push(Given { value: *value, at: entry.at }),
                Ok(_) => {}
                Err(unread) => bad.push((entry.at, unread)),
            }
        }
        // A row without any size is here for a type that leads nowhere, which is raised already.
        if good.is_empty() && bad.is_empty() && self.joined.has_size() {
            self.stop(&SurveyQuery::NoSize(size.name), None, "");
        }
        for (at, unread) in bad {
            match unread.fault {
                Fault::Negative | Fault::Date => self.unread(Severity::Stop, at, unread),
                _ if good.is_empty() => self.unread(Severity::Stop, at, unread),
                _ => self.unread(Severity::Check, at, unread),
            }
        }
        Measured::new(good)
    }

    /// Both diagonals, or none.
    fn diagonals(&mut self) -> Option<[Given<Length>; 2]> {
        match (self.length(&DIAGONAL_1), self.length(&DIAGONAL_2)) {
            (Some(first), Some(second)) => Some([first, second]),
            (Some(one), None) | (None, Some(one)) => {
                self.record.note(&SurveyQuery::OneDiagonal, Some(one.at), "");
                None
            }
            (None, None) => None,
        }
    }

    fn length_or(&mut self, column: &'static Column, blank: &'static str) -> Option<Given<Length>> {
        self.taken_if_blank(column, blank);
        self.length(column)
    }

    fn length(&mut self, column: &'static Column) -> Option<Given<Length>> {
        let (at, datum) = self.datum(column)?;
        match datum {
            Datum::Length(value) => Some(Given { value: *value, at }),
            _ => None,
        }
    }

    fn choice_or<T: Copy>(
        &mut self,
        column: &'static Column,
        choices: &[T],
        blank: &'static str,
    ) -> Option<Given<T>> {
        self.taken_if_blank(column, blank);
        self.choice(column, choices)
    }

    /// `choices` in the order of the column's words.
    fn choice<T: Copy>(&mut self, column: &'static Column, choices: &[T]) -> Option<Given<T>> {
        let (at, datum) = self.datum(column)?;
        match datum {
            Datum::Choice(word) => choices.get(*word).map(|value| Given { value: *value, at }),
            _ => None,
        }
    }

    fn text(&mut self, column: &'static Column) -> Option<Given<Arc<str>>> {
        let (at, datum) = self.datum(column)?;
        match datum {
            Datum::Text(text) => Some(Given { value: self.texts.shared(text), at }),
            _ => None,
        }
    }

    fn taken_if_blank(&mut self, column: &'static Column, value: &'static str) {
        if self.joined.entry(column).is_none() {
            self.taken.push((column, value));
        }
    }

    /// What a cell says; a query is raised if it cannot be read.
    fn datum(&mut self, column: &'static Column) -> Option<(CellRef, &'c Datum)> {
        let Entry { at, datum } = self.joined.entry(column)?;
        match datum {
            Ok(datum) => Some((*at, datum)),
            Err(unread) => {
                self.unread(severity(column, unread.fault), *at, unread);
                None
            }
        }
    }

    fn unread(&mut self, severity: Severity, at: CellRef, unread: &Unread) {
        let query = SurveyQuery::Unread(Box::new(unread.clone()));
        match severity {
            Severity::Stop => self.stop(&query, Some(at), &unread.written),
            Severity::Check | Severity::Note => self.record.check(&query, Some(at), unread.written.as_str()),
        }
    }

    fn stop(&mut self, query: &SurveyQuery, at: Option<CellRef>, detail: &str) {
        self.held = Some(self.record.stop_with(query, at, detail));
    }
}
