//! The best use of boxes where a row of the survey may be split: a transportation problem, solved exactly
//! by shortest augmenting paths (R. K. Ahuja, T. L. Magnanti, J. B. Orlin, Network Flows, 1993, chapter 9).
//!
//! All begin without a box. One after another the change is made that gains the most: a blind takes a box,
//! or takes it from one that takes another, and so on to a box that is free. Only stock sizes are
//! nodes, for of all blinds that could go from one size to another the one for which that costs the
//! least is enough; a heap for each pair of sizes finds it. The costs are ranks, which are ordered and add
//! up, and the method asks for no more.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::job::{Job, Work};
use crate::sourcing::rank::Rank;

/// The best use of a shelf by the rows of a job.
pub(super) struct Flow<'j> {
    job: &'j Job,
    /// The rungs that each line may take; nothing for one that takes no part.
    allowed: &'j [Vec<usize>],
    /// Boxes that nobody takes, by place.
    free: Vec<u64>,
    /// Blinds of each line on each of its rungs.
    held: Vec<Vec<u64>>,
    /// Lines that could go from one node to another, by what that costs; some of them have left since.
    movers: Vec<BinaryHeap<Reverse<(Rank, usize)>>>,
    /// The first of each.
    cheapest: Vec<Option<(Rank, usize)>>,
}

/// What it costs to bring a box from one node to another, over others where that costs less.
pub(super) struct Detours {
    nodes: usize,
    cost: Vec<Option<Rank>>,
    /// The first node after the one that the way leaves.
    next: Vec<usize>,
}

impl<'j> Flow<'j> {
    /// Finds it; `None` if the work does not suffice.
    pub(super) fn least(
        job: &'j Job,
        allowed: &'j [Vec<usize>],
        shelf: Vec<u64>,
        work: &mut Work,
    ) -> Option<Flow<'j>> {
        let nodes = job.shelf.len() + 1;
        let held = job.lines.iter().map(|line| vec![0; line.options.len()]).collect();
        let movers = (0..nodes * nodes).map(|_| BinaryHeap::new()).collect();
        let cheapest = vec![None; nodes * nodes];
        let mut flow = Flow { job, allowed, free: shelf, held, movers, cheapest };
        for (line, rungs) in allowed.iter().enumerate() {
            if let Some(&otherwise) = rungs.last() {
                flow.enter(line, otherwise, job.lines[line].quantity);
                work.spend(rungs.len() as u64)?;
            }
        }
        (0..nodes).for_each(|node| flow.look_again(node));
        while flow.augment(work)? {}
        Some(flow)
    }

    /// Blinds of a line on each of its rungs.
    pub(super) fn held(&self, line: usize) -> &[u64] {
        &self.held[line]
    }

    /// Whether a box of the place is free.
    pub(super) fn is_free(&self, place: usize) -> bool {
        self.free[place] > 0
    }

    /// The rank of all lines together.
    pub(super) fn total(&self) -> Rank {
        let of = |(line, held): (usize, &Vec<u64>)| {
            let options = self.job.lines[line].options.iter().zip(held);
            options.fold(Rank::default(), |sum, (option, &blinds)| sum + option.rank.times(blinds))
        };
        self.held.iter().enumerate().map(of).fold(Rank::default(), |sum, rank| sum + rank)
    }

    /// The line that goes from one node straight to another at the least cost.
    pub(super) fn mover(&self, from: usize, to: usize) -> Option<(Rank, usize)> {
        self.cheapest[from * self.nodes() + to]
    }

    fn nodes(&self) -> usize {
        self.free.len() + 1
    }

    /// The rung on which a line has what a node stands for.
    fn rung(&self, line: usize, node: usize) -> Option<usize> {
        self.allowed[line].iter().copied().find(|&rung| self.job.node(line, rung) == node)
    }

    fn enter(&mut self, line: usize, rung: usize, blinds: u64) {
        let is_new = self.held[line][rung] == 0 && blinds > 0;
        self.held[line][rung] += blinds;
        if !is_new {
            return;
        }
        let (options, nodes) = (&self.job.lines[line].options, self.nodes());
        let from = self.job.node(line, rung) * nodes;
        for &other in self.allowed[line].iter().filter(|&&other| other != rung) {
            let costs = options[other].rank - options[rung].rank;
            self.movers[from + self.job.node(line, other)].push(Reverse((costs, line)));
        }
    }

    /// Brings the cheapest ways out of a node up to date.
    fn look_again(&mut self, from: usize) {
        let nodes = self.nodes();
        for to in 0..nodes {
            let at = from * nodes + to;
            self.cheapest[at] = loop {
                let Some(&Reverse((costs, line))) = self.movers[at].peek() else { break None };
                if self.rung(line, from).is_some_and(|rung| self.held[line][rung] > 0) {
                    break Some((costs, line));
                }
                self.movers[at].pop();
            };
        }
    }

    /// Makes the change that gains the most; false if none gains anything.
    fn augment(&mut self, work: &mut Work) -> Option<bool> {
        let nodes = self.nodes();
        let without = nodes - 1;
        let mut cost: Vec<Option<Rank>> = vec![None; nodes];
        let mut before = vec![without; nodes];
        cost[without] = Some(Rank::default());
        // Bellman and Ford: no way is longer than all nodes, for no round trip gains anything.
        for _ in 0..nodes {
            work.spend((nodes * nodes) as u64)?;
            let mut is_settled = true;
            for from in 0..nodes {
                let Some(so_far) = cost[from] else { continue };
                for to in 0..without {
                    let Some((costs, _)) = self.mover(from, to) else { continue };
                    let through = so_far + costs;
                    if cost[to].is_none_or(|known| through < known) {
                        (cost[to], before[to], is_settled) = (Some(through), from, false);
                    }
                }
            }
            if is_settled {
                break;
            }
        }
        let ends = (0..without).filter(|&place| self.free[place] > 0);
        let ends = ends.filter_map(|place| Some((cost[place]?, place)));
        let Some((gained, end)) = ends.min().filter(|(gained, _)| *gained < Rank::default()) else {
            return Some(false);
        };
        debug_assert!(gained < Rank::default());
        let mut steps = Vec::new();
        let mut to = end;
        while to != without && steps.len() < nodes {
            let from = before[to];
            let (_, line) = self.mover(from, to)?;
            steps.push((line, self.rung(line, from)?, self.rung(line, to)?));
            to = from;
        }
        let most = steps.iter().map(|&(line, from, _)| self.held[line][from]).min().unwrap_or(0);
        let blinds = most.min(self.free[end]);
        self.free[end] -= blinds;
        for &(line, from, to) in &steps {
            self.held[line][from] -= blinds;
            self.enter(line, to, blinds);
        }
        for &(line, from, to) in &steps {
            self.look_again(self.job.node(line, from));
            self.look_again(self.job.node(line, to));
        }
        Some(blinds > 0)
    }

    /// The cheapest ways from every node to every other (R. W. Floyd, Algorithm 97, 1962); `None` if the
    /// work does not suffice.
    pub(super) fn detours(&self, work: &mut Work) -> Option<Detours> {
        let nodes = self.nodes();
        work.spend((nodes * nodes * nodes) as u64)?;
        let mut cost: Vec<Option<Rank>> =
            self.cheapest.iter().map(|mover| mover.map(|(costs, _)| costs)).collect();
        let mut next: Vec<usize> = (0..nodes * nodes).map(|at| at % nodes).collect();
        (0..nodes).for_each(|node| cost[node * nodes + node] = Some(Rank::default()));
        for over in 0..nodes {
            for from in 0..nodes {
                let Some(there) = cost[from * nodes + over] else { continue };
                for to in 0..nodes {
                    let Some(onward) = cost[over * nodes + to] else { continue };
                    let at = from * nodes + to;
                    if cost[at].is_none_or(|known| there + onward < known) {
                        (cost[at], next[at]) = (Some(there + onward), next[from * nodes + over]);
                    }
                }
            }
        }
        Some(Detours { nodes, cost, next })
    }
}

impl Detours {
    /// What the cheapest way costs; `None` if there is none.
    pub(super) fn cost(&self, from: usize, to: usize) -> Option<Rank> {
        self.cost[from * self.nodes + to]
    }

    /// Its steps from node to node.
    pub(super) fn steps(&self, from: usize, to: usize) -> impl Iterator<Item = (usize, usize)> {
        let onward = move |&at: &usize| Some(self.next[at * self.nodes + to]);
        let stops =
            std::iter::successors(Some(from), onward).take(self.nodes).take_while(move |&at| at != to);
        stops.map(move |at| (at, self.next[at * self.nodes + to]))
    }
}
