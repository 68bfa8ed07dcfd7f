//! Who gets the boxes of stock sizes of which there are not enough for all.
//!
//! The boxes are shared out so that the whole project has the least rank (the module `rank` says in which
//! order what counts): first the fewest blinds that are not there in time, then the fewest without a price,
//! then days late, then the least money, and so on; what is equal in all of that goes to those who come
//! first in the survey, by the sum of their rungs, each weighed by how many rows come after it.
//! A row takes a box for each of its blinds or none, and no more of a size is used than is on hand.
//!
//! Where enough of a size is on hand for all that could come to want it, each row has its best. The others
//! fall apart into jobs that share no size. A job of single blinds is a transportation problem, solved
//! exactly at any size by `flow`; one with rows of several blinds is searched by `search`, as far as
//! the work allows, which is counted. Where it does not suffice, the best that was found is taken, and
//! said not to be proven.
//!
//! What one box more or less would change is the difference of two such best uses. Of single blinds it
//! follows from the flow; of rows of several it is worked out anew.

mod flow;
mod job;
mod search;

use rust_decimal::Decimal;

use self::flow::{Detours, Flow};
use self::job::{Job, Line, Rung, Work};
use super::rank::Rank;

/// Looks that all jobs may spend on sharing out, and as many again on what a box more or less would change:
/// together some 0.2 s.
const MOST_WORK: u64 = 4_000_000;

/// One row of the survey that stock may be used for.
#[derive(Clone, Debug)]
pub(super) struct Wishes {
    /// How many blinds.
    pub(super) quantity: u64,
    /// What it would take rather than have it made, the best first.
    pub(super) wants: Vec<Want>,
    /// Whether the price of the made blind is known.
    pub(super) is_made_priced: bool,
}

/// A stock size that is better than the made one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Want {
    /// Its place on the shelf.
    pub(super) place: usize,
    /// The rank of one blind, less that of the made one.
    pub(super) rank: Rank,
    /// Whether its price is known.
    pub(super) is_priced: bool,
}

/// How the shelf is shared out.
#[derive(Clone, Debug)]
pub(super) struct Shared {
    /// Which of its wants each row gets; `None` to have it made.
    pub(super) given: Vec<Option<usize>>,
    /// Of each row that does not get what it wants most, although there are enough for it alone: what the
    /// others save with it, over all; `None` where that is not known.
    pub(super) elsewhere: Vec<Option<Decimal>>,
    /// Of each place on the shelf, what its boxes are worth.
    pub(super) worth: Vec<Worth>,
}

/// What the boxes of a stock size are worth to the project.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Worth {
    /// Boxes that are used.
    pub used: u64,
    /// Boxes that would be if there were enough of every size.
    pub wanted: u64,
    /// Money that one box more would save; below zero where it serves something that counts more. `None`
    /// where a price that it depends on is not known, or where it could not be worked out.
    pub one_more_saves: Option<Decimal>,
    /// Money that the last box saves; likewise, and `None` without any.
    pub last_saves: Option<Decimal>,
    /// Whether no better use of the boxes is possible.
    pub is_proven: bool,
    /// Money that a better use of these boxes, and of those that the same rows compete for, could still save at
    /// the most; zero where this one is proven, and `None` where that is not known.
    pub could_save: Option<Decimal>,
}

impl Worth {
    /// Of a size of which there are enough: more would save nothing, nor does the last one.
    fn of_plenty(left: u64) -> Worth {
        let nothing = Some(Decimal::ZERO);
        let last_saves = nothing.filter(|_| left > 0);
        Worth {
            used: 0,
            wanted: 0,
            one_more_saves: nothing,
            last_saves,
            is_proven: true,
            could_save: nothing,
        }
    }
}

/// Shares out the shelf, so many of each place.
pub(super) fn share(rows: &[Wishes], shelf: &[u64]) -> Shared {
    let scarce = scarce(rows, shelf);
    let mut shared = Shared {
        given: rows.iter().map(|row| (!row.wants.is_empty()).then_some(0)).collect(),
        elsewhere: vec![None; rows.len()],
        worth: shelf.iter().map(|&left| Worth::of_plenty(left)).collect(),
    };
    let parts = parts(rows, &scarce);
    let each = Work(MOST_WORK / (parts.len() as u64).max(1));
    for part in parts {
        part.settle(rows, shelf, &mut shared, each);
    }
    for (row, given) in rows.iter().zip(&shared.given) {
        if let Some(first) = row.wants.first() {
            shared.worth[first.place].wanted += row.quantity;
        }
        if let Some(given) = given {
            shared.worth[row.wants[*given].place].used += row.quantity;
        }
    }
    shared
}

/// The wants of a row up to the first one of which there is enough: no row goes past that.
fn in_reach<'w>(row: &'w Wishes, scarce: &[bool]) -> &'w [Want] {
    let enough = row.wants.iter().position(|want| !scarce[want.place]);
    &row.wants[..enough.map_or(row.wants.len(), |enough| enough + 1)]
}

/// The places that could run out, or would with one box less, if all took what they could come to want.
fn scarce(rows: &[Wishes], shelf: &[u64]) -> Vec<bool> {
    let mut scarce = vec![false; shelf.len()];
    loop {
        let mut wanted = vec![0_u64; shelf.len()];
        for row in rows {
            in_reach(row, &scarce).iter().for_each(|want| wanted[want.place] += row.quantity);
        }
        let short: Vec<bool> =
            wanted.iter().zip(shelf).map(|(&wanted, &left)| wanted > 0 && wanted >= left).collect();
        if short == scarce {
            return scarce;
        }
        scarce.iter_mut().zip(short).for_each(|(scarce, short)| *scarce |= short);
    }
}

/// Rows that compete, and the scarce places that they compete for, both in their order.
#[derive(Default)]
struct Part {
    rows: Vec<usize>,
    places: Vec<usize>,
}

/// The rows that come to want scarce sizes, in parts that share none.
fn parts(rows: &[Wishes], scarce: &[bool]) -> Vec<Part> {
    // Places are joined into trees, each under its first place.
    let mut under: Vec<usize> = (0..scarce.len()).collect();
    let root = |under: &[usize], mut place: usize| {
        while under[place] != place {
            place = under[place];
        }
        place
    };
    let wants = |row: &'_ Wishes| -> Vec<usize> {
        in_reach(row, scarce).iter().map(|want| want.place).filter(|&place| scarce[place]).collect()
    };
    for row in rows {
        let wanted = wants(row);
        for pair in wanted.windows(2) {
            let (one, other) = (root(&under, pair[0]), root(&under, pair[1]));
            under[one.max(other)] = one.min(other);
        }
    }
    let mut parts: Vec<Part> = scarce.iter().map(|_| Part::default()).collect();
    for place in (0..scarce.len()).filter(|&place| scarce[place]) {
        parts[root(&under, place)].places.push(place);
    }
    for (index, row) in rows.iter().enumerate() {
        if let Some(&first) = wants(row).first() {
            parts[root(&under, first)].rows.push(index);
        }
    }
    parts.retain(|part| !part.rows.is_empty());
    parts
}

impl Part {
    /// Shares out its places, and notes what came of it.
    fn settle(&self, rows: &[Wishes], shelf: &[u64], shared: &mut Shared, each: Work) {
        let (mut to_share, mut to_value) = (each, each);
        let to_value = &mut to_value;
        let job = self.job(rows, shelf);
        let every: Vec<Vec<usize>> = job.lines.iter().map(|line| (0..line.options.len()).collect()).collect();
        let shelf = || job.shelf.clone();
        let flow = job.is_of_single_blinds().then(|| Flow::least(&job, &every, shelf(), &mut to_share));
        let (rungs, is_proven, could_save, values) = match flow.flatten() {
            Some(flow) => {
                let held =
                    |line: usize| flow.held(line).iter().position(|held| *held > 0).unwrap_or_default();
                let rungs: Vec<usize> = (0..job.lines.len()).map(held).collect();
                let detours = flow.detours(to_value);
                (rungs, true, Some(Decimal::ZERO), detours.map(|detours| Values::OfFlow(flow, detours)))
            }
            None => {
                let found = search::best(&job, None, &mut to_share);
                let could_save = found.could_save(&job);
                (
                    found.rungs.clone(),
                    found.is_proven,
                    could_save,
                    found.is_proven.then(|| Values::Anew(Box::new(found))),
                )
            }
        };
        for (line, (&row, &rung)) in self.rows.iter().zip(&rungs).enumerate() {
            let wants = &rows[row].wants;
            shared.given[row] = (rung < wants.len()).then_some(rung);
            let is_enough =
                job.lines[line].options[0].place.is_none_or(|place| job.shelf[place] >= rows[row].quantity);
            if rung > 0 && is_enough {
                let without =
                    values.as_ref().and_then(|values| values.with_first(&job, line, &rungs, to_value));
                shared.elsewhere[row] = without;
            }
        }
        for (place, &at) in self.places.iter().enumerate() {
            let worth = &mut shared.worth[at];
            (worth.is_proven, worth.could_save) = (is_proven, could_save);
            let values = values.as_ref();
            worth.one_more_saves = values.and_then(|values| values.one_more(&job, place, to_value));
            worth.last_saves = values.and_then(|values| values.last(&job, place, to_value));
        }
    }

    /// The rows as lines of a job of its own.
    fn job(&self, rows: &[Wishes], shelf: &[u64]) -> Job {
        let line = |&row: &usize| {
            let wishes = &rows[row];
            let after = (rows.len() - row) as i128;
            let turn = |rung: usize| rung as i128 * after;
            let mut options: Vec<Rung> = Vec::new();
            for (rung, want) in wishes.wants.iter().enumerate() {
                let place = self.places.binary_search(&want.place).ok();
                options.push(Rung {
                    place,
                    rank: want.rank.with_turn(turn(rung)),
                    is_priced: want.is_priced,
                });
                if place.is_none() {
                    break;
                }
            }
            if options.last().is_none_or(|last| last.place.is_some()) {
                let rank = Rank::default().with_turn(turn(options.len()));
                options.push(Rung { place: None, rank, is_priced: wishes.is_made_priced });
            }
            let last = options.last().map_or(Rank::default(), |last| last.rank);
            options.iter_mut().for_each(|rung| rung.rank = rung.rank - last);
            Line { quantity: wishes.quantity, options }
        };
        let shelf = self.places.iter().map(|&place| shelf[place]).collect();
        Job { lines: self.rows.iter().map(line).collect(), shelf }
    }
}

/// Looks that setting up a search anew takes for each line.
const ANEW: u64 = 16;

/// How it is found out what another box would change.
enum Values<'j> {
    /// By the cheapest ways from place to place.
    OfFlow(Flow<'j>, Detours),
    /// By sharing out anew, against what was found.
    Anew(Box<search::Found>),
}

impl Values<'_> {
    /// Money that one box more saves.
    fn one_more(&self, job: &Job, place: usize, work: &mut Work) -> Option<Decimal> {
        match self {
            Values::OfFlow(flow, detours) => {
                let from = (0..=job.shelf.len()).min_by_key(|&from| order(detours.cost(from, place)))?;
                match detours.cost(from, place)? {
                    gained if gained < Rank::default() => {
                        is_known(job, flow, detours, from, place).then(|| -gained.money())
                    }
                    _ => Some(Decimal::ZERO),
                }
            }
            Values::Anew(found) => {
                work.spend(ANEW * job.lines.len() as u64)?;
                let mut more = job.clone();
                more.shelf[place] += 1;
                difference(job, found, &search::best(&more, None, work))
            }
        }
    }

    /// Money that the last box saves.
    fn last(&self, job: &Job, place: usize, work: &mut Work) -> Option<Decimal> {
        let fewer = job.shelf[place].checked_sub(1)?;
        match self {
            Values::OfFlow(flow, _) if flow.is_free(place) => Some(Decimal::ZERO),
            Values::OfFlow(flow, detours) => {
                let to = free_ends(job, flow).min_by_key(|&to| order(detours.cost(place, to)))?;
                let costs = detours.cost(place, to)?;
                is_known(job, flow, detours, place, to).then(|| costs.money())
            }
            Values::Anew(found) => {
                work.spend(ANEW * job.lines.len() as u64)?;
                let mut less = job.clone();
                less.shelf[place] = fewer;
                difference(job, &search::best(&less, None, work), found)
            }
        }
    }

    /// Money that is saved by not giving a line its first rung.
    fn with_first(&self, job: &Job, line: usize, rungs: &[usize], work: &mut Work) -> Option<Decimal> {
        let first = job.node(line, 0);
        match self {
            Values::OfFlow(flow, detours) => {
                // Whoever makes room may take what the line leaves.
                let left = job.node(line, rungs[line]);
                let ends = [left].into_iter().chain(free_ends(job, flow));
                let to = ends.min_by_key(|&to| order(detours.cost(first, to)))?;
                let options = &job.lines[line].options;
                let costs = options[0].rank - options[rungs[line]].rank + detours.cost(first, to)?;
                let is_known = job.lines[line].is_money_known([0, rungs[line]])
                    && is_known(job, flow, detours, first, to);
                is_known.then(|| costs.money())
            }
            Values::Anew(found) => {
                work.spend(ANEW * job.lines.len() as u64)?;
                difference(job, &search::best(job, Some((line, 0)), work), found)
            }
        }
    }
}

/// What is nowhere comes last.
fn order(cost: Option<Rank>) -> (bool, Option<Rank>) {
    (cost.is_none(), cost)
}

/// Nodes that a blind can go to without another's leaving.
fn free_ends(job: &Job, flow: &Flow<'_>) -> impl Iterator<Item = usize> {
    let places = job.shelf.len();
    (0..=places).filter(move |&node| node == places || flow.is_free(node))
}

/// Whether all prices along a way are known.
fn is_known(job: &Job, flow: &Flow<'_>, detours: &Detours, from: usize, to: usize) -> bool {
    detours.steps(from, to).all(|(from, to)| {
        flow.mover(from, to).is_some_and(|(_, line)| {
            let rung =
                |node: usize| (0..job.lines[line].options.len()).find(|&rung| job.node(line, rung) == node);
            rung(from).zip(rung(to)).is_some_and(|(from, to)| job.lines[line].is_money_known([from, to]))
        })
    })
}

/// Money by which one use of boxes costs more than another, where both are proven and prices are known.
fn difference(job: &Job, dear: &search::Found, cheap: &search::Found) -> Option<Decimal> {
    let rungs = || dear.rungs.iter().copied().zip(cheap.rungs.iter().copied());
    let is_known =
        job.lines.iter().zip(rungs()).all(|(line, (one, other))| line.is_money_known([one, other]));
    (dear.is_proven && cheap.is_proven && is_known).then(|| (dear.total - cheap.total).money())
}
