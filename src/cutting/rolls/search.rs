//! The search: blind by blind through the floors, keeping the states that look best.

use foldhash::HashSet;

use super::job::{Floor, Job, MOST_KINDS};
use super::left::{Begun, Left};
use super::state::{MOST_WAITING, Onto, Shape, Step, choices};
use super::weights::Weights;

/// States kept after each blind in a first, quick search.
const FEW: usize = 8;
/// States kept after each blind at the most.
const MANY: usize = 256;
/// States kept in all, about: of a long job fewer are kept after each blind, but never one alone.
const IN_ALL: usize = 100_000;
/// The part of them that a search keeps whose order is told and not cut.
const TOLD: usize = 4;

/// A blind and where it comes from.
pub(super) struct Move {
    pub(super) sort: usize,
    pub(super) onto: Onto,
}

/// An order of rolls that the search has found.
pub(super) struct Found {
    pub(super) bought: u64,
    pub(super) torn: u64,
    pub(super) begun: u64,
    /// Each blind in turn.
    pub(super) moves: Vec<Move>,
}

/// Where the cutting stands.
#[derive(Clone, Copy)]
struct State {
    shape: Shape,
    /// Blinds that the floor still has.
    left: Left,
    begun: Begun,
}

/// A move, and the one before it.
struct Node {
    before: usize,
    sort: usize,
    onto: Onto,
}

/// A step that could come next.
struct Child {
    parent: usize,
    /// Its sort, so many after the first that may be next.
    at: usize,
    /// The sort's place on the floor.
    place: usize,
    step: Step,
}

/// How a child stands among the others, the least first; of equals the first.
type Rank = (i128, u64, u64, usize);

/// The orders found to be cut, the best first; `enough` says of one whether it cannot be bettered.
pub(super) fn search(job: &Job, weights: Weights, enough: impl Fn(&Found) -> bool) -> Vec<Found> {
    search_within(job, weights, (IN_ALL, MANY), enough)
}

/// The orders found that are told beside the one that is cut, the best first.
pub(super) fn search_to_tell(job: &Job, weights: Weights) -> Vec<Found> {
    search_within(job, weights, (IN_ALL / TOLD, MANY / TOLD), |_| false)
}

fn search_within(
    job: &Job,
    weights: Weights,
    (in_all, many): (usize, usize),
    enough: impl Fn(&Found) -> bool,
) -> Vec<Found> {
    let blinds: usize = job.floors.iter().flatten().map(|(_, places)| places.len()).sum();
    let width = (in_all / blinds.max(1)).clamp(2, many);
    let quick = search_with(job, weights, width.min(FEW));
    if width <= FEW || quick.first().is_some_and(enough) {
        return quick;
    }
    let mut found = search_with(job, weights, width);
    found.extend(quick);
    found.sort_by_key(|found| (weights.cost(found.bought, found.torn), found.begun, found.torn));
    found
}

fn search_with(job: &Job, weights: Weights, width: usize) -> Vec<Found> {
    let mut nodes: Vec<Node> = Vec::new();
    let first = State { shape: Shape::at_first(job), left: Left::all(&[]), begun: [0; MOST_KINDS] };
    // Each with its last move.
    let mut states = vec![(first, usize::MAX)];
    let mut next = Next::default();
    for (floor, &shortest) in job.floors.iter().zip(&job.shortest) {
        states.iter_mut().for_each(|(state, _)| state.left = Left::all(floor));
        let blinds: usize = floor.iter().map(|(_, places)| places.len()).sum();
        for _ in 0..blinds {
            next.children(job, weights, floor, &states);
            let after = |child: &Child| {
                let State { shape, left, mut begun } = states[child.parent].0;
                let shape = shape.after(&job.sorts[floor[child.place].0], &child.step, shortest);
                job.begin(&mut begun, child.step.onto.begins());
                State { shape, left: left.without(child.at, floor), begun }
            };
            let kept = next.best(after, width).into_iter().map(|(child, state)| {
                let before = states[child.parent].1;
                nodes.push(Node { before, sort: floor[child.place].0, onto: child.step.onto.clone() });
                (state, nodes.len() - 1)
            });
            states = kept.collect();
        }
    }
    let key = |(state, _): &(State, usize)| {
        let Shape { bought, begun, torn, .. } = state.shape;
        (weights.cost(bought, torn), begun, torn)
    };
    states.sort_by_key(key);
    states.iter().map(|(state, node)| found(&state.shape, *node, &nodes)).collect()
}

/// What all that can follow depends on: blinds left, rolls on hand begun, the roll in use, the rests that
/// wait, and whether a roll was bought.
type Follows = (Left, Begun, i64, [i64; MOST_WAITING], bool);

/// Every step that could come next, and how each stands; their lists are kept from blind to blind.
#[derive(Default)]
struct Next {
    children: Vec<Child>,
    ranks: Vec<Rank>,
    /// What follows from those that are kept. Looked up only, never walked.
    known: HashSet<Follows>,
}

impl Next {
    fn children(&mut self, job: &Job, weights: Weights, floor: &Floor, states: &[(State, usize)]) {
        self.children.clear();
        self.ranks.clear();
        for (parent, (state, _)) in states.iter().enumerate() {
            for (at, place) in state.left.sorts().enumerate() {
                let sort = &job.sorts[floor[place].0];
                choices(job, &state.shape, &state.begun, sort, &mut |step: Step| {
                    let estimate = state.shape.estimate(job, weights, sort, &step);
                    let begun = state.shape.begun + step.begins.rolls;
                    let torn = state.shape.torn + u64::from(step.tears);
                    self.ranks.push((estimate, begun, torn, self.children.len()));
                    self.children.push(Child { parent, at, place, step });
                });
            }
        }
    }

    /// The best of them with what comes of each and what it leaves; those with the same to follow once.
    fn best(&mut self, after: impl Fn(&Child) -> State, width: usize) -> Vec<(&Child, State)> {
        let Next { children, ranks, known, .. } = self;
        known.clear();
        let mut in_order = 0;
        let mut kept = Vec::with_capacity(width);
        for taken in 0..ranks.len() {
            // Few of them are wanted, so they are put in order only as far as they are taken.
            if taken == in_order {
                in_order = put_in_order(ranks, taken, width);
            }
            let (_, _, _, place) = ranks[taken];
            let child = &children[place];
            let state = after(child);
            let State { shape, left, begun } = state;
            if known.insert((left, begun, shape.room, shape.waiting, shape.bought > 0)) {
                kept.push((child, state));
                if kept.len() == width {
                    break;
                }
            }
        }
        kept
    }
}

/// Puts so many more of the ranks in order, the least first, behind those that are; gives how many are now.
fn put_in_order(ranks: &mut [Rank], from: usize, more: usize) -> usize {
    let rest = &mut ranks[from..];
    let more = more.min(rest.len());
    if more < rest.len() {
        rest.select_nth_unstable(more);
    }
    rest[..more].sort_unstable();
    from + more
}

fn found(shape: &Shape, mut at: usize, nodes: &[Node]) -> Found {
    let mut moves = Vec::new();
    while let Some(Node { before, sort, onto }) = nodes.get(at) {
        moves.push(Move { sort: *sort, onto: onto.clone() });
        at = *before;
    }
    moves.reverse();
    let Shape { bought, torn, begun, .. } = *shape;
    Found { bought, torn, begun, moves }
}
