//! Identical blinds grouped into lines, and the parts of each line. Two blinds that need a different
//! number of brackets are not identical: their brackets and clips are in their boxes.

mod grouping;
mod kept;

use std::collections::BTreeSet;
use std::sync::Arc;

use rust_decimal::Decimal;

use crate::blinds::{CutPart, Louvers, Part, Returns};
use crate::earlier::{BlindNumber, Earlier, KeptIndex, KeptSpares};
use crate::fitting::{Blind, ControlSide, Cord};
use crate::frozen::{Frozen, FrozenQuery};
use crate::length::Length;
use crate::query::{OpeningIndex, Query};
use crate::rules::{CostBasis, Rules, StockId};
use crate::schema::blinds::BlindState;
use crate::sizing::{Hung, Mount, Release, Size};
use crate::sourcing::Origin;
use crate::survey::{Control, Draw, Survey};
use grouping::Grouping;

/// The whole order, lines by their numbers; those of a first run in the survey order of their first
/// opening.
#[derive(Clone, Debug, Default)]
pub struct Order {
    /// The lines.
    pub lines: Vec<OrderLine>,
    /// Lines of which every blind was cancelled.
    pub ended: Vec<OrderLine>,
    /// The spare louvers that an earlier fit-out remembers.
    pub spares_before: Vec<KeptSpares>,
    /// The highest line number that was ever used, in this run or before.
    pub highest_line: usize,
    /// The lines of each opening of the survey, by their numbers.
    pub of_openings: Vec<Box<[usize]>>,
}

/// What makes two blinds identical.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LineKey {
    /// The product.
    pub product: Arc<str>,
    /// The color.
    pub color: Arc<str>,
    /// Finished size.
    pub size: Size,
    /// What each is cut from.
    pub parts: Arc<[CutPart]>,
    /// Where it stacks; `None` for a blind that is not drawn aside.
    pub draw: Option<Draw>,
    /// How it is worked.
    pub control: Control,
    /// Where the wand or the cord hangs, or the motor is.
    pub control_side: Option<ControlSide>,
    /// Length of each wand.
    pub wand: Option<Length>,
    /// The cord; `None` without one.
    pub cord: Option<Cord>,
    /// How it hangs.
    pub hung: HungAs,
    /// The bracket's item.
    pub bracket: Arc<str>,
    /// Brackets of each.
    pub brackets: u32,
    /// Front of the valance; `None` for a blind without.
    pub valance: Option<Length>,
    /// The phase.
    pub phase: Arc<str>,
    /// Made, or from stock.
    pub origin: Origin,
    /// The stock size it comes from; `None` if made, or if the rules list it no more.
    pub stock: Option<StockId>,
    /// Whether it may be made now.
    pub release: Release,
    /// The blind in whose place it is made again.
    pub remake_of: Option<BlindNumber>,
}

/// What a mount adds to what makes two blinds identical.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum HungAs {
    /// Within the recess.
    Inside,
    /// On the wall face, or on the casing.
    Outside {
        /// Reach of the bracket.
        reach: Length,
        /// Returns of the valance.
        returns: Returns,
    },
    /// From the ceiling.
    Ceiling {
        /// Returns of the valance.
        returns: Returns,
    },
}

/// Identical blinds.
#[derive(Clone, Debug)]
pub struct OrderLine {
    /// Line number, from 1. It is never another line's, whatever becomes of this one.
    pub line: usize,
    /// What each blind is.
    pub key: LineKey,
    /// How many blinds, those that were cancelled left out.
    pub quantity: u64,
    /// Up to which number its labels count.
    pub of: u64,
    /// Its blinds, by their numbers.
    pub seats: Vec<Seat>,
    /// Louvers of each; `None` for a blind without.
    pub louvers: Option<Louvers>,
    /// Clips of each valance.
    pub clips: u32,
    /// Links between the louvers of each.
    pub spacer_links: u32,
    /// Kilograms each.
    pub weight: Decimal,
    /// People to lift one.
    pub people: u32,
}

/// Blinds of a line whose numbers follow one another, all for one opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Seat {
    /// The opening that they are for; `None` if the survey has it no more, or they are in the store.
    pub opening: Option<OpeningIndex>,
    /// Number of the first, from 1.
    pub first: u64,
    /// Number of the last.
    pub last: u64,
    /// The row that an earlier fit-out has of it: then it is one blind.
    pub kept: Option<KeptIndex>,
    /// How far it has come; `None` before it is ordered.
    pub state: Option<BlindState>,
}

impl Seat {
    /// How many blinds.
    pub const fn count(&self) -> u64 {
        self.last - self.first + 1
    }

    /// Whether their parts are cut already: those of a blind that is given up as well.
    pub const fn is_cut(&self) -> bool {
        matches!(
            self.state,
            Some(BlindState::Made | BlindState::Delivered | BlindState::Fitted | BlindState::Remake)
        )
    }

    /// Whether they count: not those that were cancelled.
    pub const fn counts(&self) -> bool {
        !matches!(self.state, Some(BlindState::Cancelled))
    }

    /// Whether their parts are still to be cut: where blinds are bought, until they are ordered, and
    /// where they are made, until they are made. What is for no opening of the survey waits.
    pub const fn is_to_cut(&self, basis: CostBasis) -> bool {
        self.opening.is_some()
            && matches!((basis, self.state), (_, None) | (CostBasis::Make, Some(BlindState::Ordered)))
    }
}

impl Order {
    /// The line of that number.
    pub fn line(&self, number: usize) -> Option<&OrderLine> {
        Some(&self.lines[self.place(number)?])
    }

    /// The numbers of an opening's lines: of several where blinds of it were ordered before.
    pub fn lines_of(&self, opening: OpeningIndex) -> &[usize] {
        self.of_openings.get(opening).map_or(&[], |lines| lines)
    }

    /// Where the line of that number stands among the lines.
    pub fn place(&self, number: usize) -> Option<usize> {
        self.lines.binary_search_by_key(&number, |line| line.line).ok()
    }
}

impl Order {
    /// The same order with some of its blinds alone, those in their own lines and numbers.
    pub fn narrowed(&self, wanted: impl Fn(&OrderLine, &Seat) -> bool) -> Order {
        let narrow = |line: &OrderLine| {
            let seats: Vec<Seat> = line.seats.iter().filter(|seat| wanted(line, seat)).copied().collect();
            let quantity = seats.iter().filter(|seat| seat.counts()).map(Seat::count).sum();
            (quantity > 0).then(|| OrderLine { seats, quantity, ..line.clone() })
        };
        let lines: Vec<OrderLine> = self.lines.iter().filter_map(narrow).collect();
        Order {
            of_openings: of_openings(&lines, self.of_openings.len()),
            lines,
            ended: Vec::new(),
            spares_before: self.spares_before.clone(),
            highest_line: self.highest_line,
        }
    }
}

impl OrderLine {
    /// Cut length of a part; `None` for a blind without it.
    pub fn cut(&self, part: Part) -> Option<Length> {
        self.key.parts.iter().find(|needed| needed.part == part).map(|needed| needed.length)
    }

    /// The openings of its blinds, in order, each once after another.
    pub fn openings(&self) -> Vec<OpeningIndex> {
        let mut openings: Vec<OpeningIndex> =
            self.of_openings(|_| true).map(|(opening, _)| opening).collect();
        openings.dedup();
        openings
    }

    /// For openings how many blinds they have of some of its seats.
    pub fn of_openings(&self, wanted: impl Fn(&Seat) -> bool) -> impl Iterator<Item = (OpeningIndex, u64)> {
        let seats = self.seats.iter().filter(move |seat| seat.counts() && wanted(seat));
        seats.filter_map(|seat| Some((seat.opening?, seat.count())))
    }

    /// How many blinds some of its seats are.
    pub fn count(&self, wanted: impl Fn(&Seat) -> bool) -> u64 {
        self.seats.iter().filter(|seat| seat.counts() && wanted(seat)).map(Seat::count).sum()
    }

    /// Rail, louvers or valance, whichever is the longest: a box is that long at the least.
    pub fn longest_piece(&self) -> Length {
        let louver = self.louvers.map(|louvers| louvers.length);
        [Some(self.key.size.width), self.key.valance, louver].into_iter().flatten().max().unwrap_or_default()
    }

    /// Blinds whose parts are still to be cut.
    pub fn to_cut(&self, basis: CostBasis) -> u64 {
        self.count(|seat| seat.is_to_cut(basis))
    }
}

/// A check for each ordered blind whose box has other brackets, or fewer, than its opening needs now.
pub fn boxes_that_lack(blinds: &[Option<Blind<'_>>], frozen: &Frozen<'_>) -> Vec<Query> {
    let fitted = blinds.iter().enumerate().filter_map(|(opening, blind)| Some((opening, blind.as_ref()?)));
    let lack = fitted.flat_map(|(opening, blind)| {
        let needed = &blind.fitted.brackets;
        let boxes = frozen.serving(opening).iter().map(|&kept| &frozen.blinds()[kept]);
        // A row that was written by hand may not say.
        let boxes = boxes.filter(|kept| !kept.is_fitted() && !kept.bracket.is_empty());
        let short = boxes.filter(|kept| kept.bracket != needed.item || kept.brackets < needed.count());
        short.map(move |kept| {
            let detail = format!(
                "{} x {} ordered, {} x {} needed",
                kept.brackets,
                kept.bracket,
                needed.count(),
                needed.item
            );
            Query::new(&FrozenQuery::BoxLacks, Some(kept.at)).about(opening).with_detail(detail)
        })
    });
    lack.collect()
}

/// For each of so many openings the numbers of its lines, which rise.
fn of_openings(lines: &[OrderLine], openings: usize) -> Vec<Box<[usize]>> {
    let mut of_openings = vec![Vec::new(); openings];
    for line in lines {
        line.openings().into_iter().for_each(|opening| of_openings[opening].push(line.line));
    }
    let distinct = |mut lines: Vec<usize>| {
        lines.dedup();
        lines.into()
    };
    of_openings.into_iter().map(distinct).collect()
}

/// A check for each row of an earlier fit-out beside which something is typed, and whose blind is not
/// there any more.
pub fn typed_in_vain(order: &Order, frozen: &Frozen<'_>) -> Vec<Query> {
    let lines = order.lines.iter().chain(&order.ended);
    let seated: BTreeSet<KeptIndex> =
        lines.flat_map(|line| &line.seats).filter_map(|seat| seat.kept).collect();
    let rows = frozen.blinds().iter().enumerate();
    let lost = rows.filter(|(index, blind)| blind.typed.is_any() && !seated.contains(index));
    let asked = lost.map(|(_, blind)| {
        let detail = format!("line {}, {}: {}", blind.number.line, blind.words(), blind.opening);
        Query::new(&FrozenQuery::TypedWithoutBlind, Some(blind.at)).with_detail(detail)
    });
    asked.collect()
}

/// Groups identical blinds into lines, in the survey order of their first opening; the numbers of new
/// lines go on from the highest that was ever used. `blinds` has one place for each opening of the
/// survey; one that is held is in no line, unless its blind is ordered already.
pub fn group_identical(
    survey: &Survey,
    blinds: &[Option<Blind<'_>>],
    frozen: &Frozen<'_>,
    rules: &Rules,
) -> Order {
    let mut grouping = Grouping::begun(frozen, rules);
    for (index, (opening, blind)) in survey.openings.iter().zip(blinds).enumerate() {
        let Some(blind) = blind else { continue };
        let ordered = frozen.serving(index).len() as u64;
        let wanted = u64::from(opening.who.quantity).saturating_sub(ordered);
        grouping.add(index, blind, &opening.who.phase, wanted);
    }
    let lines = grouping.finish();
    let before = frozen.earlier.map_or(0, Earlier::highest_line);
    let highest_line = lines.last().map_or(0, |line| line.line).max(before);
    let (lines, ended): (Vec<OrderLine>, _) = lines.into_iter().partition(|line| line.quantity > 0);
    let of_openings = of_openings(&lines, survey.openings.len());
    let spares_before = frozen.earlier.map_or_else(Vec::new, |earlier| earlier.spares.clone());
    Order { lines, ended, spares_before, highest_line, of_openings }
}

impl LineKey {
    /// The mount.
    pub const fn mount(&self) -> Mount {
        match self.hung {
            HungAs::Inside => Mount::Inside,
            HungAs::Outside { .. } => Mount::Outside,
            HungAs::Ceiling { .. } => Mount::Ceiling,
        }
    }

    /// Reach of the bracket, of a mount that has it.
    pub const fn reach(&self) -> Option<Length> {
        match self.hung {
            HungAs::Inside | HungAs::Ceiling { .. } => None,
            HungAs::Outside { reach, .. } => Some(reach),
        }
    }

    /// Returns of the valance.
    pub const fn returns(&self) -> Returns {
        match self.hung {
            HungAs::Inside => Returns::NONE,
            HungAs::Outside { returns, .. } | HungAs::Ceiling { returns } => returns,
        }
    }

    fn of(blind: &Blind<'_>, phase: &Arc<str>) -> LineKey {
        let Blind { sizing, sourced, fitted } = blind;
        LineKey {
            product: sizing.product.name.clone(),
            color: sizing.color.clone(),
            size: sourced.size,
            parts: fitted.parts.clone(),
            draw: fitted.panel.stack.map(|stack| stack.draw),
            control: sizing.operation.control,
            control_side: fitted.control_side,
            wand: fitted.wand,
            cord: fitted.cord,
            hung: match &sizing.hung {
                Hung::Inside(_) => HungAs::Inside,
                Hung::Outside(wall) => HungAs::Outside { reach: wall.reach, returns: fitted.returns() },
                Hung::Ceiling(_) => HungAs::Ceiling { returns: fitted.returns() },
            },
            bracket: fitted.brackets.item.clone(),
            brackets: fitted.brackets.count(),
            valance: fitted.valance,
            phase: phase.clone(),
            origin: sourced.supply.origin(),
            stock: sourced.supply.stock().map(|size| size.id),
            release: sizing.release,
            remake_of: None,
        }
    }
}
