//! The cells of one opening: what is wrong with them is asked first, then they are read.

use crate::length::{Length, PLAUSIBLE, Unit};
use crate::place::CellRef;
use crate::query::{Asks, Held, Query, Severity, did_you_mean};
use crate::schema::openings::*;
use crate::schema::{Column, WhenUnread};
use crate::tables::{Datum, Entry, Fault, Unread, UnreadCell};
use crate::worked::Record;

use super::category::Category;
use super::facts::given;
use super::inward::opens_inward;
use super::joined::{HEIGHTS, Joined, Size, WIDTHS};
use super::measured::Reading;
use super::named_sizes::{self, is_near, named_sizes};
use super::queries::SurveyQuery;
use super::several;
use super::table::Table;
use super::texts::Texts;
use super::types::Lookup;
use super::unwanted::may_be_unwanted;
use super::{Facts, Given, Identity, Kind, Measured, other_unit};

/// A blank kind is a patio door from this least height, included (common practice, no source).
const PATIO_DOOR_HEIGHT: Length = Length::inches(72);
/// …if its sill is blank or at most this high, included (common practice, no source).
const PATIO_DOOR_SILL: Length = Length::inches(6);

/// The cells of one opening, and what is asked about them.
pub(super) struct Cells<'c, 'r> {
    joined: Joined<'c>,
    /// What a bare number is in.
    bare: Unit,
    /// The table that it stands in.
    table: &'c Table,
    record: &'c mut Record<'r>,
    /// Set once a stop is raised.
    held: Option<Held>,
    /// The last size cell that was asked about.
    asked: Option<CellRef>,
    /// Whether its type leads nowhere, which is raised by itself.
    lost: bool,
}

impl<'c, 'r> Cells<'c, 'r> {
    /// Queries go to `record`.
    pub fn new(
        joined: Joined<'c>,
        bare: Unit,
        table: &'c Table,
        record: &'c mut Record<'r>,
    ) -> Cells<'c, 'r> {
        Cells { joined, bare, table, record, held: None, asked: None, lost: false }
    }

    /// Holds the opening because another row has the same key; `place` is where that stands.
    pub fn same_key_as(&mut self, other: Joined<'_>, place: &str) {
        let same_sizes = self.joined.has_size() && self.joined.same_sizes(other);
        let query = if same_sizes { SurveyQuery::Repeated } else { SurveyQuery::SameKey };
        self.hold(&query, None, place);
    }

    /// Holds the opening because a heading of its table, or of its type's, may decide its size.
    pub fn headings<'q>(&mut self, holding: impl Iterator<Item = &'q Query>) {
        for query in holding {
            self.held = Some(self.record.hold_as(query));
        }
    }

    /// Raises what is wrong with the opening's type.
    pub fn look_up(&mut self, lookup: &Lookup<'_>) {
        let at = self.joined.row.entry(&TYPE).map(|entry| entry.at);
        self.lost = lookup.is_lost();
        match lookup {
            // A cell that cannot be read is raised with the others.
            Lookup::None | Lookup::Row(_) | Lookup::Unreadable => {}
            Lookup::Unlisted if self.joined.has_size() => {}
            Lookup::Unlisted => self.hold(&SurveyQuery::UnknownTypeWithoutSize, at, ""),
            Lookup::Several => self.hold(&SurveyQuery::SeveralTypes, at, ""),
            Lookup::Unknown { nearest } => {
                let hint = nearest.map_or_else(String::new, did_you_mean);
                if self.joined.has_size() {
                    self.record.ask(&SurveyQuery::UnknownType, at, hint);
                } else {
                    self.hold(&SurveyQuery::UnknownTypeWithoutSize, at, &hint);
                }
            }
        }
    }

    /// Asks about a mark that lists other than so many openings, and a note that wants no blind.
    pub fn doubt(&mut self, who: &Identity) {
        if may_be_unwanted(&who.note) {
            let at = self.joined.row.entry(&NOTE).map(|entry| entry.at);
            self.record.ask(&SurveyQuery::Unwanted, at, &*who.note);
        }
        if self.joined.entry(&OPENS).is_none() {
            let says = |column: &'static Column| {
                let entry = self.joined.entry(column)?;
                matches!(&entry.datum, Ok(Datum::Text(text)) if opens_inward(text))
                    .then_some((column, entry.at))
            };
            if let Some((column, at)) = [&TYPE, &CATEGORY, &NOTE].into_iter().find_map(says) {
                self.record.ask(&SurveyQuery::OpensInward { column: column.name }, Some(at), "");
            }
        }
        if let Some(count) = several::named(&who.written).filter(|&count| count != who.quantity) {
            let detail = format!("{} names {count}, quantity {}", who.written, who.quantity);
            self.record.ask(&SurveyQuery::SeveralNamed, Some(who.at), detail);
        }
    }

    /// What was measured and asked for; `None` if a stop holds the opening. Every cell is asked
    /// about, whatever is wrong with the others.
    pub fn facts(mut self, texts: &mut Texts) -> Option<Facts> {
        if !self.joined.has_size() && !self.lost {
            let told = named_sizes::told(self.joined.row, self.bare);
            self.hold(&SurveyQuery::Unsized, None, &told);
        }
        let width = self.size(&WIDTHS);
        let height = self.size(&HEIGHTS);
        self.ask();
        if let (Some(width), Some(height)) = (&width, &height) {
            self.compare(width, height);
            self.doubt_unit(width, height);
        }
        let (Some(width), Some(height), None) = (width, height, self.held) else { return None };
        let kind = given(self.joined, &KIND).map_or_else(|| self.settled_kind(&height), |kind| kind.value);
        Some(Facts::read(self.joined, kind, width, height, texts))
    }

    /// The good measurements of a width or a height. A bad one beside a good one is a check.
    fn size(&mut self, size: &Size) -> Option<Measured> {
        let (mut good, mut bad) = (Vec::new(), Vec::new());
        for (column, entry) in size.entries(self.joined) {
            match &entry.datum {
                Ok(Datum::Length(value)) => {
                    let given = Given { value: *value, at: entry.at };
                    good.push(Reading { given, spot: size.spot(column) });
                }
                Ok(_) => {}
                Err(unread) => bad.push((column, entry.at, unread)),
            }
        }
        // That a row has no size at all is raised already.
        if good.is_empty() && bad.is_empty() && self.joined.has_size() {
            let told = named_sizes::told(self.joined.row, self.bare);
            self.hold(&SurveyQuery::NoSize { size: size.whole }, None, &told);
        }
        for (column, at, unread) in bad {
            // One cell may give both a width and a height; it is asked about once.
            if self.asked.replace(at) == Some(at) {
                continue;
            }
            let severity = match unread.fault {
                Fault::Negative | Fault::Date | Fault::Contradicted => Severity::Stop,
                _ if good.is_empty() => Severity::Stop,
                _ => Severity::Check,
            };
            self.unread(severity, column, at, unread);
        }
        Measured::new(good)
    }

    /// Raises every cell that cannot be read, sizes apart, and a diagonal alone.
    fn ask(&mut self) {
        for (column, entry) in self.joined.entries() {
            if let Err(unread) = &entry.datum
                && !WIDTHS.has(column)
                && !HEIGHTS.has(column)
            {
                self.unread(severity(column, unread.fault), column, entry.at, unread);
            }
        }
        let diagonals = [&DIAGONAL_1, &DIAGONAL_2].map(|column| self.joined.entry(column));
        if let [Some(one), None] | [None, Some(one)] = diagonals {
            self.record.ask(&SurveyQuery::OneDiagonal, Some(one.at), "");
        }
    }

    /// Asks about sizes that are too small for a door or a window, and would do in another unit.
    fn doubt_unit(&mut self, width: &Measured, height: &Measured) {
        let sizes = [width.most(), height.most()];
        if sizes.iter().any(|size| size.value >= *PLAUSIBLE.start()) {
            return;
        }
        let given = self.table.size_units.of(&WIDTH).or(self.table.size_units.of_pair()).unwrap_or(self.bare);
        let numbers = Vec::from(sizes.map(|size| size.value.in_unit(given)));
        if let Some(likely) = other_unit::likely(&[numbers], given).first() {
            let query = SurveyQuery::TooSmall { likely: *likely };
            let [width, height] = sizes.map(|size| self.record.shown(size.value));
            self.record.ask(&query, Some(sizes[0].at), format!("{width} x {height}"));
        }
    }

    /// What a blank kind is: what the row is said to be, else what its height and sill make it. A
    /// patio door of which something says that it is a window is asked about.
    fn settled_kind(&mut self, height: &Measured) -> Kind {
        let sill: Option<Given<Length>> = given(self.joined, &SILL_HEIGHT);
        let low = sill.is_none_or(|sill| sill.value <= PATIO_DOOR_SILL);
        match self.joined.category() {
            Some(Category::Door) => return Kind::Door,
            Some(Category::Window) => return Kind::Window,
            Some(Category::Other) | None if height.least().value < PATIO_DOOR_HEIGHT || !low => {
                return Kind::Window;
            }
            Some(Category::Other) | None => {}
        }
        if let Some((at, said)) = self.window_said().filter(|_| sill.is_none()) {
            self.record.ask(&SurveyQuery::PatioDoorOrWindow, at, said);
        }
        Kind::PatioDoor
    }

    /// Where a row is called a window, and in what words.
    fn window_said(&self) -> Option<(Option<CellRef>, String)> {
        let own = [&OPENING, &TYPE, &PRODUCT, &NOTE].into_iter().filter_map(|column| {
            let entry = self.joined.entry(column)?;
            let Ok(Datum::Text(text)) = &entry.datum else { return None };
            Some((Some(entry.at), column.name, &**text))
        });
        let mut said = own.chain([(None, "the sheet", &*self.table.sheet)]);
        let (at, where_, text) = said.find(|(_, _, text)| Category::says_window(text))?;
        Some((at, format!("{where_}: {text}")))
    }

    /// Raises what the row says of its size elsewhere than in its columns of width and height.
    fn compare(&mut self, width: &Measured, height: &Measured) {
        let row = self.joined.row;
        for column in PAIRS {
            let Some(Entry { at, datum: Ok(Datum::Pair(pair)) }) = row.entry(column) else { continue };
            if pair.with_third {
                self.record.ask(&SurveyQuery::ThirdLength { column: column.name }, Some(*at), "");
            }
            if !is_near(pair.width, width) || !is_near(pair.height, height) {
                let detail =
                    format!("{} x {}", self.record.shown(pair.width), self.record.shown(pair.height));
                self.record.ask(&SurveyQuery::PairDisagrees { column: column.name }, Some(*at), detail);
            }
        }
        for named in named_sizes(row, self.bare) {
            if named.agrees_with(width, height) {
                continue;
            }
            self.record.ask(named.if_not, Some(named.at), named.to_string());
        }
    }

    fn unread(&mut self, severity: Severity, column: &'static Column, at: CellRef, unread: &Unread) {
        let asked = UnreadCell { unread, severity, column: Some(column) };
        match severity {
            Severity::Stop => self.hold(&asked, Some(at), &unread.written),
            Severity::Check | Severity::Note => self.record.ask(&asked, Some(at), unread.written.as_str()),
        }
    }

    fn hold(&mut self, asked: &dyn Asks, at: Option<CellRef>, detail: &str) {
        self.held = Some(self.record.hold(asked, at, detail));
    }
}

/// How grave an unreadable cell is in a column of `Openings` that is no width or height. A
/// negative number and answers that differ always hold, and so does a date where an id or a unit belongs.
fn severity(column: &Column, fault: Fault) -> Severity {
    let is_key = [&OPENING, &UNIT].iter().any(|key| key.slot == column.slot);
    match (column.unread, fault) {
        (_, Fault::Negative | Fault::Contradicted) | (WhenUnread::Holds, _) => Severity::Stop,
        (WhenUnread::HoldsIfItSays, Fault::NoResult) => Severity::Check,
        (WhenUnread::HoldsIfItSays, _) => Severity::Stop,
        (WhenUnread::Unknown, Fault::Date) if is_key => Severity::Stop,
        (WhenUnread::Unknown, _) => Severity::Check,
    }
}
