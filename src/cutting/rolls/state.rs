//! Where the cutting stands after some blinds, and what can be done next.

use super::job::{Job, Sort};
use super::left::Begun;
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

impl Onto {
    /// The kinds of the rolls that are begun.
    pub(super) fn begins(&self) -> &[usize] {
        match self {
            Onto::InUse | Onto::Waiting(_) => &[],
            Onto::Next { kind, .. } => std::slice::from_ref(kind),
            Onto::Several { kinds, .. } => kinds,
        }
    }
}

/// A way to cut the next blind, and what comes of it.
#[derive(Clone, Debug)]
pub(super) struct Step {
    pub(super) onto: Onto,
    pub(super) begins: Begins,
    /// Whether the blind is torn by it.
    pub(super) tears: bool,
}

/// Rolls that a blind begins.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Begins {
    pub(super) rolls: u64,
    bought: u64,
    /// What those on hand among them give.
    on_hand: i128,
    /// What is then left of the roll in use.
    room: i64,
}

impl Begins {
    fn one_more(self, job: &Job, kind: usize, taken: i64) -> Begins {
        let (given, is_bought) = (job.given_by(kind), job.on_hand.get(kind).is_none());
        Begins {
            rolls: self.rolls + 1,
            bought: self.bought + u64::from(is_bought),
            on_hand: self.on_hand + if is_bought { 0 } else { i128::from(given) },
            room: given - taken,
        }
    }
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

    /// How good it looks after a step, the least first: the cost so far, and what the length to come takes of
    /// new rolls. What is left of the roll in use counts in full, a rest that waits not at all, for it has yet
    /// to find its blind; where it counted in part, rests were hoarded.
    pub(super) fn estimate(&self, job: &Job, weights: Weights, sort: &Sort, step: &Step) -> i128 {
        let roll = i128::from(job.roll.1);
        let bought = self.bought + step.begins.bought;
        let on_hand = if bought == 0 { self.on_hand - step.begins.on_hand } else { 0 };
        let to_come = self.to_come - i128::from(sort.total);
        let length = i128::from(bought) * roll + to_come - i128::from(step.begins.room) - on_hand;
        let torn = self.torn + u64::from(step.tears);
        weights.roll * length + weights.torn * i128::from(torn) * roll
    }

    /// After a step with a blind of that sort; `least` is the shortest blind that may still come.
    pub(super) fn after(&self, sort: &Sort, step: &Step, least: i64) -> Shape {
        let mut waiting = self.waiting;
        match step.onto {
            Onto::Waiting(place) => waiting[place] -= sort.total,
            // What is left of the roll in use waits unless the blind takes its end; of more than may wait the
            // shortest goes.
            Onto::Next { torn: false, .. } | Onto::Several { torn: false, .. } => {
                let last = &mut waiting[MOST_WAITING - 1];
                *last = self.room.max(*last);
            }
            Onto::InUse | Onto::Next { .. } | Onto::Several { .. } => {}
        }
        waiting.sort_unstable_by(|one, other| other.cmp(one));
        Shape {
            room: step.begins.room,
            waiting: waiting.map(|rest| if rest < least { 0 } else { rest }),
            bought: self.bought + step.begins.bought,
            begun: self.begun + step.begins.rolls,
            torn: self.torn + u64::from(step.tears),
            to_come: self.to_come - i128::from(sort.total),
            on_hand: self.on_hand - step.begins.on_hand,
        }
    }
}

/// Where a blind can come from: `used` is how many of each kind on hand are begun.
pub(super) fn choices(job: &Job, shape: &Shape, used: &Begun, sort: &Sort, found: &mut impl FnMut(Step)) {
    let mut begin_none = |onto, room| {
        found(Step { onto, begins: Begins { room, ..Begins::default() }, tears: false });
    };
    if sort.total <= shape.room {
        begin_none(Onto::InUse, shape.room - sort.total);
    }
    let mut before = 0;
    for (place, &rest) in shape.waiting.iter().enumerate() {
        if rest >= sort.total && rest != before {
            begin_none(Onto::Waiting(place), shape.room);
            before = rest;
        }
    }
    // On the end of the roll in use, as many of its pieces as it gives.
    let (on_end, _) = sort.fill(0, shape.room);
    let bought = shape.bought > 0;
    next_rolls(job, bought, used, sort, 0, found);
    if on_end > 0 && !sort.is_whole(on_end) {
        next_rolls(job, bought, used, sort, on_end, found);
    }
}

/// The rolls that a blind can go on with from one of its pieces on. The first may be of any kind; of the
/// further ones, which only a blind longer than a roll has, the longest on hand and a new one are tried.
fn next_rolls(job: &Job, bought: bool, used: &Begun, sort: &Sort, cut: u64, found: &mut impl FnMut(Step)) {
    let torn = cut > 0;
    for kind in kinds(job, bought, used) {
        let (pieces, taken) = sort.fill(cut, job.given_by(kind));
        if pieces == 0 {
            continue;
        }
        let begins = Begins::default().one_more(job, kind, taken);
        if sort.is_whole(cut + pieces) {
            found(Step { onto: Onto::Next { torn, kind }, begins, tears: torn });
        } else if sort.is_long {
            let mut used = *used;
            job.begin(&mut used, &[kind]);
            let new = job.on_hand.len();
            let so_far = (begins, cut + pieces);
            go_on(job, bought || kind == new, used, sort, so_far, &mut vec![kind], &mut |kinds, begins| {
                let onto = Onto::Several { torn, kinds: kinds.to_vec() };
                found(Step { onto, begins, tears: true });
            });
        }
    }
}

fn go_on(
    job: &Job,
    bought: bool,
    used: Begun,
    sort: &Sort,
    (begun, cut): (Begins, u64),
    so_far: &mut Vec<usize>,
    found: &mut impl FnMut(&[usize], Begins),
) {
    let new = job.on_hand.len();
    let longest = kinds(job, bought, &used).find(|kind| *kind != new);
    for kind in longest.into_iter().chain([new]) {
        let (pieces, taken) = sort.fill(cut, job.given_by(kind));
        if pieces == 0 {
            continue;
        }
        let begins = begun.one_more(job, kind, taken);
        so_far.push(kind);
        if sort.is_whole(cut + pieces) {
            found(so_far, begins);
        } else {
            let mut used = used;
            job.begin(&mut used, &[kind]);
            go_on(job, bought || kind == new, used, sort, (begins, cut + pieces), so_far, found);
        }
        so_far.pop();
    }
}

/// The kinds of roll that may be begun: those on hand until one is bought, and a new one.
fn kinds<'a>(job: &'a Job, bought: bool, used: &'a Begun) -> impl Iterator<Item = usize> + 'a {
    let on_hand = job.on_hand.iter().zip(used).enumerate();
    let left = on_hand.filter(move |(_, ((_, _, count), used))| !bought && *used < count);
    left.map(|(kind, _)| kind).chain([job.on_hand.len()])
}
