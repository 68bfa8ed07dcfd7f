//! The search: blind by blind through the floors, keeping the states that look best.

use std::collections::HashSet;

use super::job::Job;
use super::state::{MOST_WAITING, Onto, Shape, begin, choices};
use super::weights::Weights;

/// States kept after each blind in a first, quick search.
const FEW: usize = 8;
/// States kept after each blind at the most.
const MANY: usize = 256;
/// States kept in all, about: of a long job fewer are kept after each blind, but never one alone.
const IN_ALL: usize = 100_000;
/// Sorts of blinds of a floor that are tried next: of more, the first in order.
const SORTS: usize = 8;

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
struct State {
    shape: Shape,
    /// Blinds of each sort that the floor still has.
    left: Vec<u32>,
    /// Rolls of each kind on hand that are begun.
    used: Vec<u32>,
    /// The last move.
    node: usize,
}

/// A move, and the one before it.
struct Node {
    before: usize,
    sort: usize,
    onto: Onto,
}

/// A state that could come next.
struct Child {
    estimate: i128,
    shape: Shape,
    parent: usize,
    /// The sort's place on the floor.
    place: usize,
    onto: Onto,
}

/// The orders found, the best first; `enough` says of one whether it cannot be bettered.
pub(super) fn search(job: &Job, weights: Weights, enough: impl Fn(&Found) -> bool) -> Vec<Found> {
    let blinds: usize = job.floors.iter().flatten().map(|(_, places)| places.len()).sum();
    let width = (IN_ALL / blinds.max(1)).clamp(2, MANY);
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
    let mut states = vec![State {
        shape: Shape::at_first(job),
        left: Vec::new(),
        used: vec![0; job.on_hand.len()],
        node: usize::MAX,
    }];
    for (floor, &shortest) in job.floors.iter().zip(&job.shortest) {
        let counts: Vec<u32> =
            floor.iter().map(|(_, places)| u32::try_from(places.len()).unwrap_or(u32::MAX)).collect();
        for state in &mut states {
            state.left.clone_from(&counts);
        }
        let blinds: usize = floor.iter().map(|(_, places)| places.len()).sum();
        for _ in 0..blinds {
            let children = children(job, weights, floor, &states, shortest);
            states = best(children, &states, floor, width, &mut nodes);
        }
    }
    let key = |state: &State| {
        let Shape { bought, begun, torn, .. } = state.shape;
        (weights.cost(bought, torn), begun, torn)
    };
    states.sort_by_key(key);
    states.iter().map(|state| found(state, &nodes)).collect()
}

/// Every state that could come next.
fn children(
    job: &Job,
    weights: Weights,
    floor: &[(usize, Vec<usize>)],
    states: &[State],
    shortest: i64,
) -> Vec<Child> {
    let mut children = Vec::new();
    let mut all = Vec::new();
    for (parent, state) in states.iter().enumerate() {
        let some_left = state.left.iter().enumerate().filter(|(_, left)| **left > 0);
        for (place, _) in some_left.take(SORTS) {
            let sort = &job.sorts[floor[place].0];
            choices(job, &state.shape, &state.used, sort, &mut all);
            for onto in all.drain(..) {
                let shape = state.shape.after(job, sort, &onto, shortest);
                let estimate = shape.estimate(job, weights);
                children.push(Child { estimate, shape, parent, place, onto });
            }
        }
    }
    children
}

/// What all that can follow depends on: blinds left, rolls on hand begun, the roll in use, the rests that
/// wait, and whether a roll was bought.
type Follows = (Vec<u32>, Vec<u32>, i64, [i64; MOST_WAITING], bool);

/// The best of them, each that differs in what can follow once.
fn best(
    mut children: Vec<Child>,
    states: &[State],
    floor: &[(usize, Vec<usize>)],
    width: usize,
    nodes: &mut Vec<Node>,
) -> Vec<State> {
    children.sort_by_key(|child| (child.estimate, child.shape.begun, child.shape.torn));
    // Looked up only, never walked.
    let mut known: HashSet<Follows> = HashSet::new();
    let mut kept = Vec::new();
    for Child { shape, parent, place, onto, .. } in children {
        let parent = &states[parent];
        let (mut left, mut used) = (parent.left.clone(), parent.used.clone());
        left[place] -= 1;
        match &onto {
            Onto::Next { kind, .. } => begin(&mut used, *kind),
            Onto::Several { kinds, .. } => kinds.iter().for_each(|kind| begin(&mut used, *kind)),
            Onto::InUse | Onto::Waiting(_) => {}
        }
        if known.insert((left.clone(), used.clone(), shape.room, shape.waiting, shape.bought > 0)) {
            nodes.push(Node { before: parent.node, sort: floor[place].0, onto });
            kept.push(State { shape, left, used, node: nodes.len() - 1 });
            if kept.len() == width {
                break;
            }
        }
    }
    kept
}

fn found(state: &State, nodes: &[Node]) -> Found {
    let mut moves = Vec::new();
    let mut at = state.node;
    while let Some(Node { before, sort, onto }) = nodes.get(at) {
        moves.push(Move { sort: *sort, onto: onto.clone() });
        at = *before;
    }
    moves.reverse();
    let Shape { bought, torn, begun, .. } = state.shape;
    Found { bought, torn, begun, moves }
}
