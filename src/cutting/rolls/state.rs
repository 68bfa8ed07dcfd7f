//! Where the cutting stands after some blinds, and what can be done next.

use super::job::{Job, Sort};
use super::weights::Weights;

/// Rests that may wait for a later blind, at the most.
pub const MOST_WAITING: usize = 4;

/// Where the next blind comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Onto {
    /// The roll in use, whole.
    InUse,
    /// A rest that waits, by its place from the longest, whole.
    Waiting(usize),
    /// The next roll, of that kind; torn if it begins on the end of the one in use.
    Next { torn: bool, kind: usize },
    /// Several rolls in turn, for a blind that is longer than one.
    Several { torn: bool, kinds: Vec<usize> },
}

/// What the worth of a state follows from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Shape {
    /// What is left of the roll in use.
    pub(super) room: i64,
    /// The rests that wait, the longest first; 0 for none.
    pub(super) waiting: [i64; MOST_WAITING],
    /// Rolls bought, rolls begun, blinds torn.
    pub(super) bought: u64,
    pub(super) begun: u64,
    pub(super) torn: u64,
    /// Length of the blinds to come.
    to_come: i128,
    /// What the rolls on hand still give.
    on_hand: i128,
}

impl Shape {
    pub(super) fn at_first(job: &Job) -> Shape {
        let (to_come, on_hand) = (job.total, job.all_on_hand());
        Shape { room: 0, waiting: [0; MOST_WAITING], bought: 0, begun: 0, torn: 0, to_come, on_hand }
    }

    /// How good it looks, the least first: the cost so far, and what the length to come takes of new rolls.
    /// What is left of the roll in use counts in full, a rest that waits not at all, for it has yet to find
    /// its blind; where it counted in part, rests were hoarded.
    pub(super) fn estimate(&self, job: &Job, weights: Weights) -> i128 {
        let roll = i128::from(job.roll.1);
        let on_hand = if self.bought == 0 { self.on_hand } else { 0 };
        let length = i128::from(self.bought) * roll + self.to_come - i128::from(self.room) - on_hand;
        weights.roll * length + weights.torn * i128::from(self.torn) * roll
    }

    /// After a blind of that sort; `least` is the shortest blind that may still come.
    pub(super) fn after(&self, job: &Job, sort: &Sort, onto: &Onto, least: i64) -> Shape {
        let mut next = Shape { to_come: self.to_come - i128::from(sort.total), ..*self };
        match onto {
            Onto::InUse => next.room -= sort.total,
            Onto::Waiting(place) => {
                next.waiting[*place] -= sort.total;
                next.waiting.sort_unstable_by(|one, other| other.cmp(one));
            }
            Onto::Next { torn, kind } => next.begin(job, sort, *torn, std::slice::from_ref(kind)),
            Onto::Several { torn, kinds } => next.begin(job, sort, *torn, kinds),
        }
        for rest in &mut next.waiting {
            *rest = if *rest < least { 0 } else { *rest };
        }
        next
    }

    /// Begins rolls of these kinds for a blind. What is left of the one in use waits unless the blind
    /// takes its end.
    fn begin(&mut self, job: &Job, sort: &Sort, torn: bool, kinds: &[usize]) {
        let mut cut = 0;
        if torn {
            cut = sort.fill(0, self.room).0;
        } else if let [.., last] = &mut self.waiting
            && *last < self.room
        {
            // Of more than may wait the shortest goes.
            *last = self.room;
            self.waiting.sort_unstable_by(|one, other| other.cmp(one));
        }
        for &kind in kinds {
            let given = job.given_by(kind);
            let (pieces, taken) = sort.fill(cut, given);
            cut += pieces;
            self.room = given - taken;
            self.begun += 1;
            match job.on_hand.get(kind) {
                Some(_) => self.on_hand -= i128::from(given),
                None => self.bought += 1,
            }
        }
        self.torn += u64::from(torn || kinds.len() > 1);
    }
}

/// Where a blind can come from: `used` is how many of each kind on hand are begun.
pub(super) fn choices(job: &Job, shape: &Shape, used: &[u32], sort: &Sort, all: &mut Vec<Onto>) {
    if sort.total <= shape.room {
        all.push(Onto::InUse);
    }
    let mut before = 0;
    for (place, &rest) in shape.waiting.iter().enumerate() {
        if rest >= sort.total && rest != before {
            all.push(Onto::Waiting(place));
            before = rest;
        }
    }
    // On the end of the roll in use, as many of its pieces as it gives.
    let (on_end, _) = sort.fill(0, shape.room);
    let bought = shape.bought > 0;
    next_rolls(job, bought, used, sort, 0, false, all);
    if on_end > 0 && !sort.is_whole(on_end) {
        next_rolls(job, bought, used, sort, on_end, true, all);
    }
}

/// The rolls that a blind can go on with from one of its pieces on. The first may be of any kind; of the
/// further ones, which only a blind longer than a roll has, the longest on hand and a new one are tried.
fn next_rolls(job: &Job, bought: bool, used: &[u32], sort: &Sort, cut: u64, torn: bool, all: &mut Vec<Onto>) {
    for kind in kinds(job, bought, used) {
        let (pieces, _) = sort.fill(cut, job.given_by(kind));
        if pieces == 0 {
            continue;
        }
        if sort.is_whole(cut + pieces) {
            all.push(Onto::Next { torn, kind });
        } else if sort.is_long {
            let mut used = used.to_vec();
            begin(&mut used, kind);
            let new = job.on_hand.len();
            go_on(job, bought || kind == new, used, sort, cut + pieces, &mut vec![kind], &mut |kinds| {
                all.push(Onto::Several { torn, kinds: kinds.to_vec() });
            });
        }
    }
}

fn go_on(
    job: &Job,
    bought: bool,
    used: Vec<u32>,
    sort: &Sort,
    cut: u64,
    so_far: &mut Vec<usize>,
    found: &mut impl FnMut(&[usize]),
) {
    let new = job.on_hand.len();
    let longest = kinds(job, bought, &used).find(|kind| *kind != new);
    for kind in longest.into_iter().chain([new]) {
        let (pieces, _) = sort.fill(cut, job.given_by(kind));
        if pieces == 0 {
            continue;
        }
        so_far.push(kind);
        if sort.is_whole(cut + pieces) {
            found(so_far);
        } else {
            let mut used = used.clone();
            begin(&mut used, kind);
            go_on(job, bought || kind == new, used, sort, cut + pieces, so_far, found);
        }
        so_far.pop();
    }
}

/// The kinds of roll that may be begun: those on hand until one is bought, and a new one.
fn kinds<'a>(job: &'a Job, bought: bool, used: &'a [u32]) -> impl Iterator<Item = usize> + 'a {
    let on_hand = job.on_hand.iter().zip(used).enumerate();
    let left = on_hand.filter(move |(_, ((_, _, count), used))| !bought && *used < count);
    left.map(|(kind, _)| kind).chain([job.on_hand.len()])
}

/// Counts a roll as begun, if it was on hand.
fn begin(used: &mut [u32], kind: usize) {
    if let Some(used) = used.get_mut(kind) {
        *used += 1;
    }
}
