//! The search: blind by blind through the floors, keeping the states that look best.

use foldhash::{HashMap, HashSet};

use super::job::Job;
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
    /// Blinds of each sort that the floor still has, by the place of their counts.
    left: usize,
    /// Rolls of each kind on hand that are begun, likewise.
    used: usize,
    /// The last move.
    node: usize,
}

/// Lists of counts, each kept once: most states share theirs with others.
#[derive(Default)]
struct Counts {
    lists: Vec<Vec<u32>>,
    /// Looked up only, never walked.
    places: HashMap<Vec<u32>, usize>,
    /// What each list comes to with the count at a place changed.
    changed: Vec<Vec<Option<usize>>>,
}

impl Counts {
    fn of(&self, place: usize) -> &[u32] {
        self.lists.get(place).map_or(&[], Vec::as_slice)
    }

    fn place(&mut self, counts: Vec<u32>) -> usize {
        if let Some(&known) = self.places.get(&counts) {
            return known;
        }
        self.lists.push(counts.clone());
        self.changed.push(vec![None; counts.len()]);
        self.places.insert(counts, self.lists.len() - 1);
        self.lists.len() - 1
    }

    /// A list with the count at a place changed, always in the same way; the same list without that place.
    fn with(&mut self, list: usize, at: usize, change: fn(&mut u32)) -> usize {
        match self.changed[list].get(at) {
            None => return list,
            Some(Some(known)) => return *known,
            Some(None) => {}
        }
        let mut counts = self.of(list).to_vec();
        change(&mut counts[at]);
        let place = self.place(counts);
        self.changed[list][at] = Some(place);
        place
    }
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
    let mut used = Counts::default();
    let none_used = used.place(vec![0; job.on_hand.len()]);
    let first = State { shape: Shape::at_first(job), left: 0, used: none_used, node: usize::MAX };
    let mut states = vec![first];
    let mut next = Next::default();
    for (floor, &shortest) in job.floors.iter().zip(&job.shortest) {
        let counts: Vec<u32> =
            floor.iter().map(|(_, places)| u32::try_from(places.len()).unwrap_or(u32::MAX)).collect();
        let mut left = Counts::default();
        let all_left = left.place(counts);
        states.iter_mut().for_each(|state| state.left = all_left);
        let blinds: usize = floor.iter().map(|(_, places)| places.len()).sum();
        for _ in 0..blinds {
            next.children(job, weights, floor, (&states, &left, &used));
            let by_sort = |place: usize| &job.sorts[floor[place].0];
            let after =
                |child: &Child| states[child.parent].shape.after(by_sort(child.place), &child.step, shortest);
            let kept = next.best(after, (&states, &mut left, &mut used), width);
            states = kept
                .into_iter()
                .map(|(child, shape, left, used)| {
                    let before = states[child.parent].node;
                    nodes.push(Node { before, sort: floor[child.place].0, onto: child.step.onto.clone() });
                    State { shape, left, used, node: nodes.len() - 1 }
                })
                .collect();
        }
    }
    let key = |state: &State| {
        let Shape { bought, begun, torn, .. } = state.shape;
        (weights.cost(bought, torn), begun, torn)
    };
    states.sort_by_key(key);
    states.iter().map(|state| found(state, &nodes)).collect()
}

/// What all that can follow depends on: blinds left, rolls on hand begun, the roll in use, the rests that
/// wait, and whether a roll was bought.
type Follows = (usize, usize, i64, [i64; MOST_WAITING], bool);

/// Every step that could come next, and how each stands; the lists are kept from blind to blind.
#[derive(Default)]
struct Next {
    children: Vec<Child>,
    ranks: Vec<Rank>,
    /// What follows from those that are kept. Looked up only, never walked.
    known: HashSet<Follows>,
}

impl Next {
    fn children(
        &mut self,
        job: &Job,
        weights: Weights,
        floor: &[(usize, Vec<usize>)],
        (states, left, used): (&[State], &Counts, &Counts),
    ) {
        self.children.clear();
        self.ranks.clear();
        for (parent, state) in states.iter().enumerate() {
            let (left, used) = (left.of(state.left), used.of(state.used));
            let some_left = left.iter().enumerate().filter(|(_, left)| **left > 0);
            for (place, _) in some_left.take(SORTS) {
                let sort = &job.sorts[floor[place].0];
                choices(job, &state.shape, used, sort, &mut |step: Step| {
                    let estimate = state.shape.estimate(job, weights, sort, &step);
                    let begun = state.shape.begun + step.begins.rolls;
                    let torn = state.shape.torn + u64::from(step.tears);
                    self.ranks.push((estimate, begun, torn, self.children.len()));
                    self.children.push(Child { parent, place, step });
                });
            }
        }
    }

    /// The best of them with what comes of each and the places of its counts; those with the same to follow
    /// once.
    fn best(
        &mut self,
        after: impl Fn(&Child) -> Shape,
        (states, left, used): (&[State], &mut Counts, &mut Counts),
        width: usize,
    ) -> Vec<(&Child, Shape, usize, usize)> {
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
            let (parent, shape) = (&states[child.parent], after(child));
            let left = left.with(parent.left, child.place, |count| *count -= 1);
            let begun: &[usize] = match &child.step.onto {
                Onto::Next { kind, .. } => std::slice::from_ref(kind),
                Onto::Several { kinds, .. } => kinds,
                Onto::InUse | Onto::Waiting(_) => &[],
            };
            let used =
                begun.iter().fold(parent.used, |list, kind| used.with(list, *kind, |count| *count += 1));
            if known.insert((left, used, shape.room, shape.waiting, shape.bought > 0)) {
                kept.push((child, shape, left, used));
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
