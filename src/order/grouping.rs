//! Lines that last from run to run.
//!
//! A line of which a blind is ordered is closed: its blinds keep their numbers, so that `1 of 3` on a
//! box stays true, and identical blinds that come later begin a new line. A blind of it that was not
//! ordered keeps its place as long as it is what it was. Any other line keeps its number as long as
//! there is a blind that is all that it was; new numbers go on from the highest ever used.

use std::collections::hash_map::Entry;
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::Arc;

use super::kept::{louvers, weight};
use super::{LineKey, OrderLine, Seat};
use crate::blinds::Ware;
use crate::earlier::{KeptBlind, KeptIndex};
use crate::fitting::Blind;
use crate::frozen::Frozen;
use crate::query::OpeningIndex;
use crate::rules::{Rules, SmallPart};

/// The lines as they grow.
pub(super) struct Grouping<'a> {
    frozen: &'a Frozen<'a>,
    rules: &'a Rules,
    /// Lines of which a blind is ordered, by number.
    closed: BTreeMap<usize, OrderLine>,
    /// The others, in the order in which they are begun.
    open: Vec<OrderLine>,
    /// Where the open line of a key stands. Looked up only, never walked.
    known: HashMap<LineKey, usize>,
}

impl<'a> Grouping<'a> {
    /// The lines of what is ordered.
    pub(super) fn begun(frozen: &'a Frozen<'a>, rules: &'a Rules) -> Grouping<'a> {
        let mut closed: BTreeMap<usize, OrderLine> = BTreeMap::new();
        for (index, blind) in frozen.blinds().iter().enumerate().filter(|(_, blind)| blind.is_frozen()) {
            let line = closed.entry(blind.number.line).or_insert_with(|| of_kept(blind, rules));
            line.seats.push(seat_of(index, blind, frozen.goes_to(index)));
        }
        Grouping { frozen, rules, closed, open: Vec::new(), known: HashMap::new() }
    }

    /// Adds the blinds of an opening that are not ordered: those in the place of others first.
    pub(super) fn add(&mut self, opening: OpeningIndex, blind: &Blind<'_>, phase: &Arc<str>, wanted: u64) {
        let kept = self.frozen.blinds();
        let again = self.frozen.again(opening).iter().map(|&kept_index| Some(kept[kept_index].number));
        let remakes: Vec<_> = again.take(usize::try_from(wanted).unwrap_or(usize::MAX)).collect();
        let plain = wanted - remakes.len() as u64;
        let mut before: Vec<KeptIndex> = self.frozen.open(opening).to_vec();
        for remake_of in remakes {
            let key = LineKey { remake_of, ..LineKey::of(blind, phase) };
            self.seat(opening, blind, key, 1, &mut before);
        }
        if plain > 0 {
            self.seat(opening, blind, LineKey::of(blind, phase), plain, &mut before);
        }
    }

    /// Seats blinds of one key; `before` are the rows that an earlier fit-out has of the opening.
    fn seat(
        &mut self,
        opening: OpeningIndex,
        blind: &Blind<'_>,
        key: LineKey,
        mut count: u64,
        before: &mut Vec<KeptIndex>,
    ) {
        let kept = self.frozen.blinds();
        // A blind whose line is closed, and that is what it was, stays in its place.
        before.retain(|&index| {
            let row = &kept[index];
            let line = self.closed.get_mut(&row.number.line).filter(|_| count > 0);
            match line.filter(|line| line.key == key && LineKey::of_kept(row, self.rules) == key) {
                Some(line) => {
                    line.seats.push(seat_of(index, row, Some(opening)));
                    count -= 1;
                    false
                }
                None => true,
            }
        });
        // What is typed beside the others goes on.
        let mut continued = Vec::new();
        before.retain(|&index| {
            let row = &kept[index];
            let goes_on =
                row.typed.is_any() && row.remake_of == key.remake_of && (continued.len() as u64) < count;
            if goes_on {
                continued.push(index);
            }
            !goes_on
        });
        if count == 0 {
            return;
        }
        let place = match self.known.entry(key) {
            Entry::Occupied(found) => *found.get(),
            Entry::Vacant(new) => {
                self.open.push(of_blind(new.key().clone(), blind));
                *new.insert(self.open.len() - 1)
            }
        };
        let line = &mut self.open[place];
        let mut next = line.seats.last().map_or(1, |seat| seat.last + 1);
        // A row for each blind beside which something is typed, and one for all the rest.
        let rest = count - continued.len() as u64;
        for index in continued {
            line.seats.push(Seat {
                opening: Some(opening),
                first: next,
                last: next,
                kept: Some(index),
                state: None,
            });
            next += 1;
        }
        if rest > 0 {
            let last = next + rest - 1;
            line.seats.push(Seat { opening: Some(opening), first: next, last, kept: None, state: None });
        }
    }

    /// All lines, numbered and in order.
    pub(super) fn finish(self) -> Vec<OrderLine> {
        let Grouping { frozen, rules, closed, open, .. } = self;
        let mut numbers: HashMap<LineKey, BTreeSet<usize>> = HashMap::new();
        // The blinds of a line are alike, and stand together.
        let firsts = frozen.blinds().chunk_by(|one, next| one.number.line == next.number.line);
        for blind in firsts.filter_map(|line| line.first()) {
            if !closed.contains_key(&blind.number.line) {
                numbers.entry(LineKey::of_kept(blind, rules)).or_default().insert(blind.number.line);
            }
        }
        let mut next = frozen.earlier.map_or(0, |earlier| earlier.highest_line()) + 1;
        let mut lines: Vec<OrderLine> = closed.into_values().collect();
        for mut line in open {
            line.line = numbers.get_mut(&line.key).and_then(BTreeSet::pop_first).unwrap_or_else(|| {
                next += 1;
                next - 1
            });
            line.of = line.seats.last().map_or(0, |seat| seat.last);
            lines.push(line);
        }
        for line in &mut lines {
            line.seats.sort_by_key(|seat| seat.first);
            line.quantity = line.count(|_| true);
        }
        lines.sort_by_key(|line| line.line);
        lines
    }
}

fn seat_of(kept: KeptIndex, blind: &KeptBlind, opening: Option<OpeningIndex>) -> Seat {
    let number = blind.number.number;
    Seat { opening, first: number, last: number, kept: Some(kept), state: blind.typed.state }
}

/// The line of a blind that is ordered, without seats.
fn of_kept(blind: &KeptBlind, rules: &Rules) -> OrderLine {
    OrderLine {
        line: blind.number.line,
        key: LineKey::of_kept(blind, rules),
        quantity: 0,
        of: blind.of,
        seats: Vec::new(),
        louvers: louvers(blind),
        clips: blind.clips,
        spacer_links: blind.spacer_links,
        weight: blind.weight.or_else(|| weight(blind, rules)).unwrap_or_default(),
        people: blind.people,
    }
}

/// A new line without seats.
fn of_blind(key: LineKey, blind: &Blind<'_>) -> OrderLine {
    let links = blind.wares().into_iter().find(|(ware, _)| *ware == Ware::Small(SmallPart::SpacerLink));
    OrderLine {
        line: 0,
        key,
        quantity: 0,
        of: 0,
        seats: Vec::new(),
        louvers: blind.fitted.panel.louvers,
        clips: u32::try_from(blind.fitted.clips.len()).unwrap_or(u32::MAX),
        spacer_links: links.map_or(0, |(_, count)| count),
        weight: blind.fitted.weight,
        people: blind.fitted.people,
    }
}
