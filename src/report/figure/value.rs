//! A figure as data, of which every output makes its own.

use std::borrow::Cow;
use std::rc::Rc;

use rust_decimal::Decimal;

use super::heading::Heading;
use super::kind::Kind;
use super::{Key, Row};
use crate::angle::Angle;
use crate::cost::{Commitment, Section};
use crate::cutting::{From, LeftFrom};
use crate::date::Date;
use crate::fitting::ControlSide;
use crate::length::Length;
use crate::query::Severity;
use crate::report::{About, ChangeCause, State};
use crate::rounding::half_away;
use crate::rules::{CutIn, StockName};
use crate::schema::blinds::{BlindState, Do, PaidBy, Reason, What};
use crate::schema::fitting_days::{FitsLift, Visit};
use crate::sizing::{Mount, MountOn, Release};
use crate::sourcing::Origin;
use crate::survey::{Control, CordDevice, Draw, Kind as OpeningKind};

/// The value of a figure.
pub enum Value<'r> {
    /// None: it is not known, does not apply, or its opening is held.
    Null,
    /// Text.
    Text(Cow<'r, str>),
    /// Yes or no.
    Truth(bool),
    /// A count.
    Whole(u64),
    /// A count that may be below zero.
    Difference(i64),
    /// A length.
    Length(Length),
    /// An angle.
    Angle(Angle),
    /// A calendar date.
    Date(Date),
    /// Kilograms, exact.
    Mass(Decimal),
    /// A part of a whole, exact.
    Share(Decimal),
    /// A number that need not be whole, exact.
    Number(Decimal),
    /// Money, with the decimals that it is written with.
    Money(Decimal),
    /// Several values.
    List(Vec<Value<'r>>),
    /// Rows of their own, each made when it is asked for.
    Rows(Box<dyn Fn() -> Box<dyn Iterator<Item = Value<'r>> + 'r> + 'r>),
    /// A row, key by key.
    Object(Vec<(&'static str, Value<'r>)>),
}

/// What can stand under a key.
pub trait Figure<'r>: Sized + 'r {
    /// Of what kind it is.
    fn kind() -> Kind;

    /// Its value.
    fn value(self) -> Value<'r>;

    /// The headings of a row within a row `T`; any other figure has none but its own.
    fn headings<T: Copy + 'r>(_of: Rc<dyn Fn(T) -> Option<Self> + 'r>) -> Vec<Heading<'r, T>> {
        Vec::new()
    }
}

/// Kilograms, exact.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kilograms(pub Decimal);

/// Newtons, to three decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Newtons(pub Decimal);

/// A part of a whole, such as a load over a capacity: 0.08 for 8 %.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Share(pub Decimal);

/// A quantity that need not be whole, such as square meters or minutes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Quantity(pub Decimal);

/// Money with the decimals that it is written with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Money(pub Decimal);

/// Rows under a key, in any number: none is made before it is written.
pub struct Rows<'r, R>(Box<dyn Fn() -> Box<dyn Iterator<Item = R> + 'r> + 'r>);

impl<'r, R> Rows<'r, R> {
    /// The rows that `all` gives.
    pub fn new<I: Iterator<Item = R> + 'r>(all: impl Fn() -> I + 'r) -> Rows<'r, R> {
        Rows(Box::new(move || Box::new(all())))
    }
}

/// Figures of one value: type, kind and value.
macro_rules! figures {
    ($($type:ty: $kind:expr, |$figure:ident| $value:expr;)+) => {
        $(impl<'r> Figure<'r> for $type {
            fn kind() -> Kind {
                $kind
            }
            fn value(self) -> Value<'r> {
                let $figure = self;
                $value
            }
        })+
    };
}

figures! {
    &'r str: Kind::of("string"), |text| Value::Text(text.into());
    String: Kind::of("string"), |text| Value::Text(text.into());
    Cow<'r, str>: Kind::of("string"), |text| Value::Text(text);
    bool: Kind::of("boolean"), |truth| Value::Truth(truth);
    u32: Kind::count(), |count| Value::Whole(count.into());
    u64: Kind::count(), |count| Value::Whole(count);
    usize: Kind::count(), |count| Value::Whole(count as u64);
    i64: Kind::of("integer"), |count| Value::Difference(count);
    Length: Kind::of("number"), |length| Value::Length(length);
    Angle: Kind::of("number"), |angle| Value::Angle(angle);
    Date: Kind::like("^[0-9]{4}-[0-9]{2}-[0-9]{2}$"), |date| Value::Date(date);
    Kilograms: Kind::of("number"), |mass| Value::Mass(mass.0);
    Newtons: Kind::of("number"), |force| Value::Number(half_away(force.0, 3).normalize());
    Share: Kind { least: Some(0), ..Kind::of("number") }, |share| Value::Share(share.0);
    Quantity: Kind { least: Some(0), ..Kind::of("number") }, |number| Value::Number(number.0);
    Money: Kind::like("^-?[0-9]+(\\.[0-9]+)?$"), |money| Value::Money(money.0);
}

/// Choices: each is its word, and there are no other words.
macro_rules! words {
    ($($type:ty: $all:expr;)+) => {
        $(impl<'r> Figure<'r> for $type {
            fn kind() -> Kind {
                Kind::words(&$all.map(|choice: $type| choice.word()))
            }
            fn value(self) -> Value<'r> {
                Value::Text(self.word().into())
            }
        })+
    };
}

words! {
    State: [State::Sized, State::Provisional, State::Held];
    OpeningKind: [OpeningKind::PatioDoor, OpeningKind::Door, OpeningKind::Window];
    Mount: [Mount::Inside, Mount::Outside, Mount::Ceiling];
    MountOn: [MountOn::Wall, MountOn::Casing, MountOn::Recess, MountOn::Ceiling];
    Draw: [Draw::Left, Draw::Right, Draw::Split];
    Control: [Control::Wand, Control::Cord, Control::Motor];
    ControlSide: [ControlSide::Left, ControlSide::Right, ControlSide::Middle];
    CordDevice: [
        CordDevice::TensionDevice, CordDevice::Cleat, CordDevice::CordGuide, CordDevice::Breakaway, CordDevice::None
    ];
    Release: [Release::Make, Release::Provisional];
    What: [What::Blind, What::Spares, What::LineGone];
    BlindState: [
        BlindState::Ordered, BlindState::Made, BlindState::Delivered, BlindState::Fitted, BlindState::Remake,
        BlindState::Cancelled
    ];
    Reason: [
        Reason::Damaged, Reason::WrongSize, Reason::WrongHand, Reason::WrongColor, Reason::MeasuredWrong,
        Reason::ClientChanged, Reason::Lost
    ];
    PaidBy: [PaidBy::Us, PaidBy::Maker, PaidBy::Carrier, PaidBy::Client];
    Visit: [Visit::First, Visit::Return];
    FitsLift: [FitsLift::Yes, FitsLift::No, FitsLift::Unknown];
    Do: [Do::UseAsItIs, Do::MakeAgain, Do::Move];
    About: About::ALL;
    ChangeCause: [
        ChangeCause::Survey, ChangeCause::Answer, ChangeCause::Rules, ChangeCause::Merging, ChangeCause::Stock,
        ChangeCause::Program
    ];
    Commitment: [Commitment::Committed, Commitment::Open, Commitment::Remade];
    Origin: [Origin::Made, Origin::Stock];
    From: [From::Bar, From::Offcut];
    StockName: [StockName::Bar, StockName::Roll, StockName::Length];
    CutIn: [CutIn::Pieces, CutIn::Blinds];
    LeftFrom: [LeftFrom::Kept, LeftFrom::OnHand];
    Section: [
        Section::Blinds, Section::Discount, Section::Parts, Section::Making, Section::Fitting, Section::Survey,
        Section::Removal, Section::Delivery, Section::Overhead, Section::Profit, Section::Contingency
    ];
    Severity: [Severity::Stop, Severity::Check, Severity::Note];
}

impl<'r, V: Figure<'r>> Figure<'r> for Option<V> {
    fn kind() -> Kind {
        V::kind().or_null()
    }
    fn value(self) -> Value<'r> {
        self.map_or(Value::Null, V::value)
    }
    fn headings<T: Copy + 'r>(of: Rc<dyn Fn(T) -> Option<Self> + 'r>) -> Vec<Heading<'r, T>> {
        V::headings(Rc::new(move |row| of(row).flatten()))
    }
}

impl<'r, V: Figure<'r>> Figure<'r> for Vec<V> {
    fn kind() -> Kind {
        Kind::list(V::kind())
    }
    fn value(self) -> Value<'r> {
        Value::List(self.into_iter().map(V::value).collect())
    }
}

impl<'r, R: Row<'r>> Figure<'r> for Rows<'r, R> {
    fn kind() -> Kind {
        Kind::list(R::kind())
    }
    fn value(self) -> Value<'r> {
        Value::Rows(Box::new(move || Box::new((self.0)().map(R::object))))
    }
}

/// A row within a row.
impl<'r, R: Row<'r>> Figure<'r> for R {
    fn kind() -> Kind {
        let keys: Vec<Key> = R::fields().into_iter().map(|field| field.key).collect();
        Kind { note: R::NOTE.trim(), keys, ..Kind::of("object") }
    }
    fn value(self) -> Value<'r> {
        self.object()
    }
    fn headings<T: Copy + 'r>(of: Rc<dyn Fn(T) -> Option<Self> + 'r>) -> Vec<Heading<'r, T>> {
        let headings = R::fields().into_iter().flat_map(|field| field.headings);
        headings.map(|heading| heading.within(of.clone())).collect()
    }
}
