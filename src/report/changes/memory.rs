//! What is known of a job at one time: of a run that was just worked out, or of a fit-out that was read
//! back. Both give the same, so that any two can be compared.

use rust_decimal::Decimal;

use super::homes::Homes;
use super::place::{Place, PlaceIndex};
use crate::cost::price_each;
use crate::earlier::{BlindNumber, Earlier, KeptBlind};
use crate::frozen::{BoundFor, FrozenQuery};
use crate::length::{Length, Units};
use crate::money::Currency;
use crate::order::{OrderLine, Seat};
use crate::query::Asks;
use crate::report::Report;
use crate::report::rows::SpareRow;
use crate::schema::blinds::BlindState;
use crate::schema::choices::{Control, Draw, Mount, Origin, Release};
use crate::schema::cost_summary::COST_SUMMARY;

/// What is known of a job at one time.
pub struct Memory<'m> {
    /// How lengths are shown.
    pub units: Units,
    /// The currency of every price; `None` where nothing names it.
    pub currency: Option<Currency>,
    /// The openings, in survey order.
    pub openings: Vec<Place<'m>>,
    /// How the ordered blinds of each opening stand to it; empty where that is not known.
    pub stands: Vec<Stands>,
    /// The blinds, by line and number.
    pub blinds: Vec<Blinds<'m>>,
    /// Spare louvers, by line.
    pub spares: Vec<SpareLine>,
    /// The rules, in the order in which they are listed.
    pub rules: Vec<RuleThen<'m>>,
}

/// How a blind that is ordered stands to what its opening would get now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// It is what the opening would get.
    Fits,
    /// It is not, and hangs already.
    Hangs,
    /// It is not, and somebody said that it is used.
    UsedAsItIs,
    /// Nobody said what is to become of it: a stop.
    Stop,
    /// Another stop holds the opening, so that nobody knows.
    Held,
}

/// Blinds of a line whose numbers follow one another, all for one opening and equally far.
#[derive(Clone, Copy)]
pub struct Blinds<'m> {
    /// Their line.
    pub line: usize,
    /// Number of the first, from 1.
    pub first: u64,
    /// Number of the last.
    pub last: u64,
    /// Up to which number their line counts.
    pub of: u64,
    /// The opening that they were meant for.
    pub home: Option<PlaceIndex>,
    /// The opening that they hang at, or will; `None` if they are given up, in the store, or for none.
    pub at: Option<PlaceIndex>,
    /// Building, unit and name of the opening that they were meant for.
    pub meant_for: [&'m str; 3],
    /// What they are.
    pub sort: Sort<'m>,
    /// Whether they may be made now.
    pub release: Release,
    /// Price of each; `None` if not known.
    pub price: Option<Decimal>,
    /// The blind in whose place they are.
    pub remake_of: Option<BlindNumber>,
    /// The row of what is ordered, or was.
    pub ordered: Option<&'m KeptBlind>,
    /// Whether its row is one of what was ordered, of which somebody took the State back.
    pub taken_back: bool,
}

/// What a blind is, as far as whoever reads of a change would see it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sort<'m> {
    pub width: Length,
    pub drop: Length,
    pub mount: Mount,
    pub product: &'m str,
    pub color: &'m str,
    pub draw: Option<Draw>,
    pub control: Control,
    pub source: Origin,
    /// Nominal size of its box.
    pub stock: Option<(Length, Length)>,
}

/// Spare louvers of one line.
#[derive(Clone, Copy)]
pub struct SpareLine {
    pub line: usize,
    pub count: u64,
    pub state: Option<BlindState>,
}

/// A rule as it was used.
#[derive(Clone, Copy)]
pub struct RuleThen<'m> {
    pub table: &'m str,
    pub item: &'m str,
    pub rule: &'m str,
    pub value: &'m str,
    pub given_by: GivenBy,
}

/// Who gave a rule its value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GivenBy {
    /// Nobody: it is built in.
    Nobody,
    /// A survey.
    Survey,
    /// Somebody who typed it on `Cost summary`.
    Typed,
}

impl<'m> Memory<'m> {
    /// What a fit-out remembers that was read back.
    pub fn of_earlier(earlier: &'m Earlier) -> Memory<'m> {
        let openings: Vec<Place<'m>> = earlier.surveyed.iter().map(Place::Kept).collect();
        let homes = Homes::of(&openings);
        // New lines go on from the highest, so that the last row of what is not ordered is the youngest.
        let open = earlier.blinds.iter().rev().find(|kept| !kept.is_frozen());
        let youngest = open.map(|kept| (&kept.revision, &kept.survey));
        let blinds = earlier.blinds.iter().map(|kept| {
            let home = if kept.is_frozen() { homes.home(kept) } else { homes.printed(kept) };
            let number = kept.number.number;
            Blinds {
                line: kept.number.line,
                first: number,
                last: number,
                of: kept.of,
                home,
                at: if kept.is_frozen() { homes.at(kept) } else { home },
                meant_for: [&kept.building, &kept.unit, &kept.opening],
                sort: Sort::of_kept(kept),
                release: kept.release,
                price: to_pay(kept.price, kept.remake_of.and_then(|first| earlier.blind(first))),
                remake_of: kept.remake_of,
                ordered: Some(kept).filter(|kept| kept.is_frozen()),
                taken_back: !kept.is_frozen()
                    && (kept.typed.is_of_an_order() || youngest != Some((&kept.revision, &kept.survey))),
            }
        });
        let spares = earlier.spares.iter().map(|kept| SpareLine {
            line: kept.line,
            count: u64::from(kept.count),
            state: kept.typed.state,
        });
        let rules = earlier.rules.iter().map(|kept| RuleThen {
            table: kept.table.trim(),
            item: kept.item.trim(),
            rule: kept.rule.trim(),
            value: kept.value.trim(),
            given_by: GivenBy::of_kept(&kept.source),
        });
        let (blinds, spares) = (blinds.collect(), spares.collect());
        Memory {
            units: earlier.units.unwrap_or(Units::Millimeters),
            stands: Vec::new(),
            currency: Currency::from_code(earlier.currency()),
            blinds,
            spares,
            openings,
            rules: rules.collect(),
        }
    }

    /// What a run has worked out: the same that its fit-out will remember.
    pub fn of_report(report: &'m Report<'m>) -> Memory<'m> {
        let openings: Vec<Place<'m>> = report.survey.openings.iter().map(Place::Now).collect();
        let homes = Homes::of(&openings);
        let mut lines: Vec<&OrderLine> = report.order.lines.iter().chain(&report.order.ended).collect();
        lines.sort_by_key(|line| line.line);
        let seats = lines.into_iter().flat_map(|line| line.seats.iter().map(move |seat| (line, seat)));
        let blinds = seats.map(|(line, seat)| of_seat(report, &homes, line, seat)).collect();
        let spares = SpareRow::all(report).map(|SpareRow(spare)| {
            let ordered = spare.before.and_then(|place| report.order.spares_before.get(place));
            SpareLine {
                line: spare.line,
                count: spare.count,
                state: ordered.and_then(|kept| kept.typed.state),
            }
        });
        let rules = report.rules.used.iter().map(|used| RuleThen {
            table: used.table,
            item: used.item.trim(),
            rule: used.rule,
            value: used.value.trim(),
            given_by: match used.at {
                None => GivenBy::Nobody,
                Some(at) => GivenBy::of_sheet(report.sheets.sheet(at.sheet)),
            },
        });
        Memory {
            units: report.rules.project.units,
            stands: Stands::all(report),
            currency: Some(report.rules.project.currency),
            spares: spares.collect(),
            rules: rules.collect(),
            openings,
            blinds,
        }
    }

    /// A price in words, in whole minor units.
    pub fn in_words(&self, price: Decimal) -> String {
        self.currency.map_or_else(|| price.to_string(), |currency| currency.in_words(price))
    }

    /// A price in whole minor units.
    pub fn rounded(&self, price: Decimal) -> Decimal {
        self.currency.map_or(price, |currency| currency.round(price))
    }
}

fn of_seat<'m>(report: &'m Report<'m>, homes: &Homes, line: &'m OrderLine, seat: &Seat) -> Blinds<'m> {
    let ordered = seat.kept.map(|kept| &report.frozen.blinds()[kept]).filter(|kept| kept.is_frozen());
    let stock = line.key.stock.and_then(|id| report.rules.stock_size(id));
    let who = seat.opening.map(|opening| &report.survey.openings[opening].who);
    Blinds {
        line: line.line,
        first: seat.first,
        last: seat.last,
        of: line.of,
        home: ordered.map_or(seat.opening, |kept| homes.home(kept)),
        at: seat.opening,
        meant_for: match (ordered, who) {
            (Some(kept), _) => [&kept.building, &kept.unit, &kept.opening],
            (None, Some(who)) => [&who.building, &who.unit, &who.name],
            (None, None) => [""; 3],
        },
        sort: ordered.map_or_else(
            || Sort {
                width: line.key.size.width,
                drop: line.key.size.drop,
                mount: line.key.mount(),
                product: &line.key.product,
                color: &line.key.color,
                draw: line.key.draw,
                control: line.key.control,
                source: line.key.origin,
                stock: stock.map(|size| (size.nominal_width, size.nominal_drop)),
            },
            Sort::of_kept,
        ),
        release: line.key.release,
        price: to_pay(
            match ordered {
                Some(kept) => kept.price,
                None => {
                    price_each(line, report.rules).map(|price| report.rules.project.currency.round(price))
                }
            },
            line.key.remake_of.and_then(|first| report.frozen.blind(first)),
        ),
        remake_of: line.key.remake_of,
        ordered,
        taken_back: false,
    }
}

/// What whoever runs the job pays for a blind: nothing where another pays for it in the place of the first.
fn to_pay(price: Option<Decimal>, first: Option<&KeptBlind>) -> Option<Decimal> {
    match first.and_then(KeptBlind::paid_by_another) {
        Some(_) => Some(Decimal::ZERO),
        None => price,
    }
}

impl Stands {
    /// Of each opening.
    fn all(report: &Report<'_>) -> Vec<Stands> {
        let blinds = report.blinds.iter();
        let mut all: Vec<Stands> =
            blinds.map(|blind| if blind.is_some() { Stands::Fits } else { Stands::Held }).collect();
        // What is graver comes later, and stays.
        let asked = [
            (FrozenQuery::UsedAsItIs, Stands::UsedAsItIs),
            (FrozenQuery::FittedDiffers, Stands::Hangs),
            (FrozenQuery::OtherOpening, Stands::Stop),
            (FrozenQuery::SizeNoLongerFits, Stands::Stop),
            (FrozenQuery::Differs, Stands::Stop),
        ];
        for (asked, stands) in asked {
            let code = asked.entry().code;
            let queries = report.queries.iter().chain(&report.accepted).filter(|query| query.code == code);
            for opening in queries.flat_map(|query| &query.places).filter_map(|place| place.opening) {
                all[opening] = stands;
            }
        }
        all
    }
}

impl GivenBy {
    /// By the sheet on which it stands.
    fn of_sheet(name: &str) -> GivenBy {
        if name.starts_with(COST_SUMMARY.sheet) { GivenBy::Typed } else { GivenBy::Survey }
    }

    /// By what `Rules used` said of where it comes from: `earlier Cost summary!F12`.
    fn of_kept(source: &str) -> GivenBy {
        match source.strip_prefix(EARLIER) {
            _ if source.is_empty() => GivenBy::Nobody,
            Some(sheet) => GivenBy::of_sheet(sheet),
            None => GivenBy::Survey,
        }
    }
}

/// How a cell of an earlier fit-out is told.
const EARLIER: &str = "earlier ";

impl<'m> Blinds<'m> {
    /// How many they are.
    pub fn count(&self) -> u64 {
        self.last + 1 - self.first
    }

    /// How far they have come; `None` before they are ordered.
    pub fn state(&self) -> Option<BlindState> {
        self.ordered.and_then(|kept| kept.typed.state)
    }

    /// The number of the first.
    pub fn first_number(&self) -> BlindNumber {
        BlindNumber { line: self.line, number: self.first }
    }

    /// Whether somebody moved it to another opening, or to the store.
    pub fn is_moved(&self) -> bool {
        self.ordered.is_some_and(|kept| kept.is_wanted() && kept.bound_for() != BoundFor::Home)
    }

    /// `2 of 3`, `2-3 of 3`.
    pub fn numbers(&self) -> String {
        match self.count() {
            1 => format!("{} of {}", self.first, self.of),
            _ => format!("{}-{} of {}", self.first, self.last, self.of),
        }
    }
}

impl<'m> Sort<'m> {
    fn of_kept(kept: &'m KeptBlind) -> Sort<'m> {
        Sort {
            width: kept.width,
            drop: kept.drop,
            mount: kept.mount,
            product: &kept.product,
            color: &kept.color,
            draw: kept.draw,
            control: kept.control,
            source: kept.source,
            stock: kept.stock,
        }
    }

    /// `1200 mm x 1500 mm`.
    pub fn size(&self, units: Units) -> String {
        format!("{} x {}", self.width.show(units), self.drop.show(units))
    }

    /// `1200 mm x 1500 mm, louver-89 white, outside`.
    pub fn in_words(&self, units: Units) -> String {
        format!("{}, {} {}, {}", self.size(units), self.product, self.color, self.mount)
    }
}
