//! One row of `Blinds`, as it is read back: what was ordered, and what people typed beside it.

use std::fmt;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::error::EarlierError;
use crate::date::Date;
use crate::length::Length;
use crate::name::folded;
use crate::place::CellRef;
use crate::rounding::half_away;
use crate::schema::Column;
use crate::schema::blinds::*;
use crate::schema::choices::{Control, ControlSide, CordDevice, Draw, Kind, Mount, Origin, Release};
use crate::tables::{Datum, Entry, FromDatum, TableRow};

/// Kilograms in a pound (NIST SP 811; exact).
const KG_PER_LB: Decimal = Decimal::from_parts(45_359_237, 0, 0, false, 8);

/// Most blinds that a line may have: more than a survey may hold.
const MOST_BLINDS: u64 = 1_000_000_000;

/// Decimals of a kilogram on `Blinds`: a milligram, which pounds keep as well.
pub const WEIGHT_DECIMALS: u32 = 6;

/// Which blind of the whole project: its line, and its number within the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BlindNumber {
    /// The line.
    pub line: usize,
    /// Which of the line's blinds, from 1.
    pub number: u64,
}

/// `7, 2`: line 7, blind 2.
impl fmt::Display for BlindNumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}, {}", self.line, self.number)
    }
}

/// A blind of an earlier fit-out. Texts are empty where a cell is blank.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptBlind {
    /// Its row.
    pub at: CellRef,
    /// Line, and number within it.
    pub number: BlindNumber,
    /// Up to which number its line's labels count.
    pub of: u64,
    /// The building.
    pub building: Arc<str>,
    /// The floor.
    pub floor: Arc<str>,
    /// The unit.
    pub unit: Arc<str>,
    /// The room.
    pub room: Arc<str>,
    /// The opening as it was shown.
    pub opening: Arc<str>,
    /// Its id as written.
    pub id: Arc<str>,
    /// What it is.
    pub kind: Option<Kind>,
    /// The phase.
    pub phase: Arc<str>,
    /// Made, or from stock.
    pub source: Origin,
    /// Nominal width and drop of its stock size.
    pub stock: Option<(Length, Length)>,
    /// Whether it might be made.
    pub release: Release,
    /// The product.
    pub product: Arc<str>,
    /// The color.
    pub color: Arc<str>,
    /// Finished width.
    pub width: Length,
    /// Finished drop.
    pub drop: Length,
    /// How it hangs.
    pub mount: Mount,
    /// Where it stacks.
    pub draw: Option<Draw>,
    /// How it is operated.
    pub control: Control,
    /// From which side.
    pub control_side: Option<ControlSide>,
    /// Length of each wand.
    pub wand: Option<Length>,
    /// What keeps a cord from children.
    pub cord_device: Option<CordDevice>,
    /// Lowest point of the cord.
    pub cord_height: Option<Length>,
    /// Louvers of it.
    pub louvers: Option<u32>,
    /// Finished length of each.
    pub louver_length: Option<Length>,
    /// Width of each.
    pub louver_width: Option<Length>,
    /// From one to the next.
    pub pitch: Option<Length>,
    /// What they are of.
    pub louver_material: Arc<str>,
    /// Cut length of the headrail.
    pub headrail: Option<Length>,
    /// Cut length of the tilt rod.
    pub rod: Option<Length>,
    /// The bracket.
    pub bracket: Arc<str>,
    /// Its reach.
    pub reach: Option<Length>,
    /// Brackets of it.
    pub brackets: u32,
    /// Clips of its valance.
    pub clips: u32,
    /// Links between its louvers.
    pub spacer_links: u32,
    /// Front of its valance.
    pub valance: Option<Length>,
    /// Return on the left.
    pub return_left: Length,
    /// Return on the right.
    pub return_right: Length,
    /// Kilograms.
    pub weight: Option<Decimal>,
    /// What differed when it was first used as it is.
    pub used_for: Arc<str>,
    /// People to lift it.
    pub people: u32,
    /// Revision of the survey from which it was ordered.
    pub revision: Arc<str>,
    /// Fingerprint of that survey.
    pub survey: Arc<str>,
    /// Its price.
    pub price: Option<Decimal>,
    /// The blind in whose place it is.
    pub remake_of: Option<BlindNumber>,
    /// What people typed.
    pub typed: Typed,
}

/// What people typed beside a blind, or beside spare louvers.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Typed {
    /// How far it has come; `None` before it is ordered.
    pub state: Option<BlindState>,
    /// Number of the order.
    pub order_number: Arc<str>,
    /// When it was ordered.
    pub ordered_on: Option<Date>,
    /// When it came.
    pub delivered_on: Option<Date>,
    /// When it was fitted.
    pub fitted_on: Option<Date>,
    /// Why it is made again.
    pub reason: Option<Reason>,
    /// Who pays for that.
    pub paid_by: Option<PaidBy>,
    /// What is to be done with it.
    pub to_do: Option<Do>,
    /// Where it goes.
    pub goes_to: Arc<str>,
    /// Spares that are left.
    pub left: Option<u32>,
    /// Anything else.
    pub note: Arc<str>,
}

impl Typed {
    /// Whether something is typed that only a blind has which is ordered: a note is for any.
    pub fn is_of_an_order(&self) -> bool {
        *self != Typed { note: Arc::clone(&self.note), ..Typed::default() }
    }

    /// Whether anything is typed.
    pub fn is_any(&self) -> bool {
        *self != Typed::default()
    }
}

/// Spare louvers of an earlier fit-out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptSpares {
    /// Their row.
    pub at: CellRef,
    /// Their line.
    pub line: usize,
    /// How many.
    pub count: u32,
    /// Their color.
    pub color: Arc<str>,
    /// Their material.
    pub material: Arc<str>,
    /// Width of each.
    pub width: Length,
    /// Finished length of each.
    pub length: Length,
    /// Price of each.
    pub price: Option<Decimal>,
    /// Revision and fingerprint of the survey from which they were ordered.
    pub from: [Arc<str>; 2],
    /// What people typed.
    pub typed: Typed,
}

impl KeptBlind {
    /// Whether the maker has an order for it, or had: then nothing that was printed of it changes.
    pub fn is_frozen(&self) -> bool {
        self.typed.state.is_some()
    }

    /// Whether it may still hang: neither given up nor cancelled.
    pub fn is_wanted(&self) -> bool {
        !matches!(self.typed.state, Some(BlindState::Remake | BlindState::Cancelled))
            && self.typed.to_do != Some(Do::MakeAgain)
    }

    /// Whether another is to be made in its place.
    pub fn is_made_again(&self) -> bool {
        self.typed.state == Some(BlindState::Remake)
            || self.is_frozen()
                && self.typed.state != Some(BlindState::Cancelled)
                && self.typed.to_do == Some(Do::MakeAgain)
    }

    /// Who else pays for the one that is made in its place.
    pub fn paid_by_another(&self) -> Option<PaidBy> {
        self.typed.paid_by.filter(|by| *by != PaidBy::Us)
    }

    /// Building, unit and id as keys are compared; `None` without an id.
    pub fn key(&self) -> Option<String> {
        (!self.id.is_empty()).then(|| opening_key(&self.building, &self.unit, &self.id))
    }

    /// Whether another row says the same of the same blind.
    pub(super) fn says_the_same(&self, other: &KeptBlind) -> bool {
        *self == KeptBlind { at: self.at, ..other.clone() }
    }

    /// `2 of 3`.
    pub fn words(&self) -> String {
        format!("{} of {}", self.number.number, self.of)
    }

    pub(super) fn read(row: Row<'_>) -> Result<KeptBlind, EarlierError> {
        let (number, of) = row.blind_number()?;
        let stock = row.opt(&STOCK_WIDTH)?.zip(row.opt(&STOCK_DROP)?);
        let pounds: Option<Decimal> = row.opt(&WEIGHT_LB)?;
        let kilograms: Option<Decimal> = row.opt(&WEIGHT_KG)?;
        Ok(KeptBlind {
            at: row.row.at,
            number,
            of,
            building: row.text(&BUILDING)?,
            floor: row.text(&FLOOR)?,
            unit: row.text(&UNIT)?,
            room: row.text(&ROOM)?,
            opening: row.text(&OPENING)?,
            id: row.text(&ID)?,
            kind: row.opt(&KIND)?,
            phase: row.text(&PHASE)?,
            source: row.or(&SOURCE, Origin::Made)?,
            stock,
            release: row.or(&RELEASE, Release::Make)?,
            product: row.needed(&PRODUCT)?,
            color: row.text(&COLOR)?,
            width: row.needed(&WIDTH)?,
            drop: row.needed(&DROP)?,
            mount: row.needed(&MOUNT)?,
            draw: row.opt(&DRAW)?,
            control: row.or(&CONTROL, Control::Wand)?,
            control_side: row.opt(&CONTROL_SIDE)?,
            wand: row.opt(&WAND)?,
            cord_device: row.opt(&CORD_DEVICE)?,
            cord_height: row.opt(&CORD_HEIGHT)?,
            louvers: row.opt(&LOUVERS)?,
            louver_length: row.opt(&LOUVER_LENGTH)?,
            louver_width: row.opt(&LOUVER_WIDTH)?,
            pitch: row.opt(&PITCH)?,
            louver_material: row.text(&MATERIAL)?,
            headrail: row.opt(&HEADRAIL)?,
            rod: row.opt(&ROD)?,
            bracket: row.text(&BRACKET)?,
            reach: row.opt(&REACH)?,
            brackets: row.or(&BRACKETS, 0)?,
            clips: row.or(&CLIPS, 0)?,
            spacer_links: row.or(&LINKS, 0)?,
            valance: row.opt(&VALANCE)?,
            return_left: row.or(&RETURN_LEFT, Length::ZERO)?,
            return_right: row.or(&RETURN_RIGHT, Length::ZERO)?,
            weight: kilograms
                .or(pounds.map(|pounds| pounds * KG_PER_LB))
                .map(|weight| half_away(weight, WEIGHT_DECIMALS)),
            used_for: row.text(&USED_FOR)?,
            people: row.or(&PEOPLE, 1)?,
            revision: row.text(&REVISION)?,
            survey: row.text(&SURVEY)?,
            price: row.opt(&PRICE)?,
            remake_of: row.remake_of()?,
            typed: row.typed()?,
        })
    }
}

/// Building, unit and id as keys are compared: case and the width of spaces make no difference.
pub fn opening_key(building: &str, unit: &str, id: &str) -> String {
    [building, unit, id].map(folded).join("\u{1f}")
}

impl KeptSpares {
    /// Whether the maker has an order for them, and they are good: not cancelled, nor to be made again.
    pub fn is_ordered(&self) -> bool {
        matches!(self.typed.state, Some(state) if !matches!(state, BlindState::Cancelled | BlindState::Remake))
    }

    /// Whether another row says the same of the same spare louvers.
    pub(super) fn says_the_same(&self, other: &KeptSpares) -> bool {
        *self == KeptSpares { at: self.at, ..other.clone() }
    }

    pub(super) fn read(row: Row<'_>) -> Result<KeptSpares, EarlierError> {
        Ok(KeptSpares {
            at: row.row.at,
            line: row.line()?,
            count: row.needed(&LOUVERS)?,
            color: row.text(&COLOR)?,
            material: row.text(&MATERIAL)?,
            width: row.needed(&LOUVER_WIDTH)?,
            length: row.needed(&LOUVER_LENGTH)?,
            price: row.opt(&PRICE)?,
            from: [row.text(&REVISION)?, row.text(&SURVEY)?],
            typed: row.typed()?,
        })
    }
}

/// A row that is being read: what it says that cannot be read is an error.
#[derive(Clone, Copy)]
pub(super) struct Row<'t> {
    pub row: &'t TableRow,
    pub show: &'t dyn Fn(CellRef) -> String,
}

impl Row<'_> {
    pub fn entry(&self, column: &Column) -> Option<&Entry> {
        self.row.entry(column)
    }

    /// Whether nothing says that it is about a blind: a remark, or a row of signs.
    pub fn is_remark(&self) -> bool {
        [&WHAT, &BLIND, &PRODUCT, &WIDTH, &STATE, &DO].into_iter().all(|column| self.entry(column).is_none())
    }

    fn unread(&self, at: CellRef, message: String, hint: String) -> EarlierError {
        EarlierError::Unread { at: (self.show)(at), message, hint }
    }

    fn datum(&self, column: &Column) -> Result<Option<&Datum>, EarlierError> {
        match self.entry(column).map(|entry| (entry.at, &entry.datum)) {
            None => Ok(None),
            Some((_, Ok(datum))) => Ok(Some(datum)),
            Some((at, Err(unread))) => Err(self.unread(at, unread.in_words(), unread.hint.clone())),
        }
    }

    pub fn opt<T: FromDatum>(&self, column: &Column) -> Result<Option<T>, EarlierError> {
        Ok(self.datum(column)?.and_then(T::from_datum))
    }

    pub fn or<T: FromDatum>(&self, column: &Column, blank: T) -> Result<T, EarlierError> {
        Ok(self.opt(column)?.unwrap_or(blank))
    }

    fn needed<T: FromDatum>(&self, column: &'static Column) -> Result<T, EarlierError> {
        let blank = || EarlierError::Blank { at: (self.show)(self.row.at), column: column.name };
        self.opt(column)?.ok_or_else(blank)
    }

    pub fn text(&self, column: &Column) -> Result<Arc<str>, EarlierError> {
        self.or(column, Arc::from(""))
    }

    pub fn line(&self) -> Result<usize, EarlierError> {
        self.needed::<u32>(&LINE).map(|line| line as usize)
    }

    fn blind_number(&self) -> Result<(BlindNumber, u64), EarlierError> {
        let text: Arc<str> = self.needed(&BLIND)?;
        let parts = text.split_once(" of ").map(|(number, of)| (number.trim().parse(), of.trim().parse()));
        match parts {
            Some((Ok(number), Ok(of))) if (1..=of).contains(&number) && of <= MOST_BLINDS => {
                Ok((BlindNumber { line: self.line()?, number }, of))
            }
            _ => Err(self.unread(
                self.entry(&BLIND).map_or(self.row.at, |entry| entry.at),
                format!("\"{text}\" does not say which blind of its line it is"),
                "write it as on its label, such as 2 of 3".into(),
            )),
        }
    }

    fn remake_of(&self) -> Result<Option<BlindNumber>, EarlierError> {
        let text = self.text(&REMAKE_OF)?;
        if text.is_empty() {
            return Ok(None);
        }
        let number = text.split(" of ").next().and_then(|first| first.split_once(','));
        match number.map(|(line, number)| (line.trim().parse(), number.trim().parse())) {
            Some((Ok(line), Ok(number))) => Ok(Some(BlindNumber { line, number })),
            _ => Err(self.unread(
                self.entry(&REMAKE_OF).map_or(self.row.at, |entry| entry.at),
                format!("\"{text}\" does not say in whose place it is made"),
                "write line and blind, such as 7, 2 of 3".into(),
            )),
        }
    }

    fn typed(&self) -> Result<Typed, EarlierError> {
        Ok(Typed {
            state: self.opt(&STATE)?,
            order_number: self.text(&ORDER_NUMBER)?,
            ordered_on: self.opt(&ORDERED_ON)?,
            delivered_on: self.opt(&DELIVERED_ON)?,
            fitted_on: self.opt(&FITTED_ON)?,
            reason: self.opt(&REASON)?,
            paid_by: self.opt(&PAID_BY)?,
            to_do: self.opt(&DO)?,
            goes_to: self.text(&GOES_TO)?,
            left: self.opt(&LEFT)?,
            note: self.text(&NOTE)?,
        })
    }
}
