//! The best use of boxes by whole rows: branch and bound over the flow that may split them.
//!
//! A row of several blinds takes a box for each or none, so boxes are shared out as knapsacks are filled.
//! Where the flow splits no row it is the best; else one row's rung is settled in every way, and each is
//! bounded by the flow of the others over no more boxes than whole rows can take. Of rows that are alike
//! the earlier one never stands on a worse rung, which loses nothing and saves looking at all their orders.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::flow::Flow;
use super::job::{Job, Rung, Work};
use crate::sourcing::rank::Rank;

/// How the boxes of a job are shared out.
#[derive(Clone, Debug)]
pub(super) struct Found {
    /// The rung of each line.
    pub(super) rungs: Vec<usize>,
    /// Their rank.
    pub(super) total: Rank,
    /// Whether nothing is better.
    pub(super) is_proven: bool,
    /// No use is better than this; `None` where the work did not suffice to find it.
    bound: Option<Rank>,
}

impl Found {
    /// Money that a better use could save at the most; `None` where that is not known.
    pub(super) fn could_save(&self, job: &Job) -> Option<Decimal> {
        if self.is_proven {
            return Some(Decimal::ZERO);
        }
        let is_priced = job.lines.iter().all(|line| line.options.iter().all(|rung| rung.is_priced));
        let gap = self.total - self.bound?;
        (is_priced && gap.is_of_money()).then(|| gap.money())
    }
}

/// The best, with one line on the rung that it must have, if there is one.
pub(super) fn best(job: &Job, must: Option<(usize, usize)>, work: &mut Work) -> Found {
    let mut first = Node { settled: vec![None; job.lines.len()], from: vec![0; job.lines.len()] };
    let mut rungs: Vec<usize> = job.lines.iter().map(|line| line.last()).collect();
    if let Some((line, rung)) = must {
        (first.settled[line], rungs[line]) = (Some(rung), rung);
    }
    polish(job, &first, &mut rungs, work);
    let found = Found { total: job.total(&rungs), rungs, is_proven: true, bound: None };
    let mut search = Search { job, alike: alike(job), found };
    let mut nodes = vec![first];
    while let Some(node) = nodes.pop() {
        if search.visit(&node, &mut nodes, work).is_none() {
            search.found.is_proven = false;
            break;
        }
    }
    search.found
}

/// Lines that differ in nothing have the same number.
fn alike(job: &Job) -> Vec<usize> {
    let mut kinds: BTreeMap<(u64, Vec<Rung>), usize> = BTreeMap::new();
    let kind = |line: &super::job::Line| {
        let rungs = line.options.iter().map(|&rung| Rung { rank: rung.rank.with_turn(0), ..rung });
        (line.quantity, rungs.collect())
    };
    job.lines
        .iter()
        .map(|line| {
            let next = kinds.len();
            *kinds.entry(kind(line)).or_insert(next)
        })
        .collect()
}

/// Some rungs are settled, and the others are no better than some rung.
struct Node {
    settled: Vec<Option<usize>>,
    from: Vec<usize>,
}

struct Search<'j> {
    job: &'j Job,
    alike: Vec<usize>,
    found: Found,
}

impl Search<'_> {
    /// Looks at a node, and adds those below it; `None` if the work does not suffice.
    fn visit(&mut self, node: &Node, nodes: &mut Vec<Node>, work: &mut Work) -> Option<()> {
        let job = self.job;
        work.spend(job.lines.len() as u64)?;
        let room = node.room(job);
        let allowed = node.allowed(job, &room);
        let most = (0..room.len()).map(|place| reachable(job, &allowed, place, room[place], work));
        let flow = Flow::least(job, &allowed, most.collect::<Option<_>>()?, work)?;
        let bound = node.rank(job) + flow.total();
        self.found.bound.get_or_insert(bound);
        if bound >= self.found.total {
            return Some(());
        }
        let most_held = |line: usize| (0..).zip(flow.held(line)).max_by_key(|(_, held)| **held);
        let mut rungs: Vec<usize> = (0..job.lines.len())
            .map(|line| node.settled[line].or(most_held(line).map(|(rung, _)| rung)).unwrap_or_default())
            .collect();
        let is_split = |&line: &usize| flow.held(line).iter().filter(|held| **held > 0).count() > 1;
        let split = (0..job.lines.len()).find(is_split);
        if split.is_some() {
            polish(job, node, &mut rungs, work);
        }
        let total = job.total(&rungs);
        if total < self.found.total {
            (self.found.rungs, self.found.total) = (rungs, total);
        }
        let Some(split) = split else { return Some(()) };
        // The first of its kind that is open, so that the later ones can be kept behind it.
        let line =
            (0..=split).find(|&line| self.alike[line] == self.alike[split] && !allowed[line].is_empty());
        let line = line.unwrap_or(split);
        for &rung in allowed[line].iter().rev() {
            work.spend(job.lines.len() as u64)?;
            let mut below = Node { settled: node.settled.clone(), from: node.from.clone() };
            below.settled[line] = Some(rung);
            for later in line + 1..job.lines.len() {
                if self.alike[later] == self.alike[line] {
                    below.from[later] = below.from[later].max(rung);
                }
            }
            nodes.push(below);
        }
        Some(())
    }
}

impl Node {
    /// Boxes that the settled lines leave.
    fn room(&self, job: &Job) -> Vec<u64> {
        let mut room = job.shelf.clone();
        for (line, rung) in job.lines.iter().zip(&self.settled) {
            if let Some(place) = rung.and_then(|rung| line.options[rung].place) {
                room[place] = room[place].saturating_sub(line.quantity);
            }
        }
        room
    }

    /// The rungs for which there is room, of each line that is not settled.
    fn allowed(&self, job: &Job, room: &[u64]) -> Vec<Vec<usize>> {
        let lines = job.lines.iter().zip(&self.settled).zip(&self.from);
        lines
            .map(|((line, settled), &from)| match settled {
                Some(_) => Vec::new(),
                None => {
                    let fits = |&rung: &usize| {
                        line.options[rung].place.is_none_or(|place| line.quantity <= room[place])
                    };
                    (from..line.options.len()).filter(fits).collect()
                }
            })
            .collect()
    }

    /// The rank of the settled lines.
    fn rank(&self, job: &Job) -> Rank {
        let lines = job.lines.iter().zip(&self.settled);
        let ranks = lines.filter_map(|(line, rung)| Some(line.options[(*rung)?].rank.times(line.quantity)));
        ranks.fold(Rank::default(), |sum, rank| sum + rank)
    }
}

/// Boxes up to which it is worked out what whole rows can take; with more, hardly any would be left over.
const MOST_SUMMED: u64 = 4_096;

/// The most boxes of a place that whole rows can take together; `None` if the work does not suffice.
fn reachable(job: &Job, allowed: &[Vec<usize>], place: usize, room: u64, work: &mut Work) -> Option<u64> {
    if job.is_of_single_blinds() || room > MOST_SUMMED {
        return Some(room);
    }
    let mut sums = vec![0_u64; usize::try_from(room / 64).unwrap_or_default() + 1];
    sums[0] = 1;
    let takes = |line: usize| allowed[line].iter().any(|&rung| job.node(line, rung) == place);
    for line in (0..job.lines.len()).filter(|&line| takes(line)) {
        work.spend(1 + sums.len() as u64 / 8)?;
        let (words, bits) = (job.lines[line].quantity / 64, job.lines[line].quantity % 64);
        let words = usize::try_from(words).unwrap_or(usize::MAX);
        for at in (words..sums.len()).rev() {
            let low = at
                .checked_sub(words + 1)
                .map_or(0, |below| sums[below].checked_shr(64 - bits as u32).unwrap_or(0));
            sums[at] |= sums[at - words] << bits | low;
        }
    }
    (0..=room).rev().find(|sum| sums[(sum / 64) as usize] >> (sum % 64) & 1 == 1)
}

/// Makes rungs keep to the shelf, and then moves up whoever can: what a rung asks too much is left, in
/// survey order, and so is what is free taken.
fn polish(job: &Job, node: &Node, rungs: &mut [usize], work: &mut Work) {
    let mut room = node.room(job);
    let open = |line: &usize| node.settled[*line].is_none();
    let lines: Vec<usize> = (0..job.lines.len()).filter(open).collect();
    for &line in &lines {
        let (quantity, last) = (job.lines[line].quantity, job.lines[line].last());
        match job.lines[line].options[rungs[line]].place {
            Some(place) if room[place] >= quantity => room[place] -= quantity,
            Some(_) => rungs[line] = last,
            None => {}
        }
    }
    loop {
        let mut is_settled = true;
        for &line in &lines {
            let (quantity, options) = (job.lines[line].quantity, &job.lines[line].options);
            let better = (0..rungs[line])
                .find_map(|rung| Some((rung, options[rung].place.filter(|&place| room[place] >= quantity)?)));
            if let Some((rung, place)) = better {
                room[place] -= quantity;
                if let Some(left) = options[rungs[line]].place {
                    room[left] += quantity;
                }
                (rungs[line], is_settled) = (rung, false);
            }
        }
        if is_settled || work.spend(lines.len() as u64).is_none() {
            return;
        }
    }
}
