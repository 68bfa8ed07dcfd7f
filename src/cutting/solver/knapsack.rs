//! One bar: the choice of pieces that is worth most.
//!
//! Depth first, what is worth most for its size first (Gilmore and Gomory, Operations Research 11,
//! 1963; Martello and Toth, Knapsack Problems, 1990, chapter 3), and no further than a value that
//! must be beaten could still be beaten. All of it in whole numbers: what is proved here carries
//! the bound on a plan.

use super::work::Work;

/// Pieces on one bar: position of each item and how many of it, by position; none is 0.
pub type Counts = Vec<(usize, u64)>;

/// What a search came to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Filling {
    /// The best choice of pieces that beats what had to be beaten; empty if there is none.
    pub(super) counts: Counts,
    /// Its value, or what had to be beaten.
    pub(super) value: u64,
    /// No choice of pieces is worth more than this; `value` itself if the search came to its end.
    pub(super) at_most: u64,
}

impl Filling {
    /// Whether nothing is worth more.
    pub(super) fn is_proven(&self) -> bool {
        self.at_most == self.value
    }
}

/// Items with their values, in the order in which bars are filled.
pub(super) struct Knapsack {
    entries: Vec<Entry>,
    /// Level and count of what is on the bar.
    stack: Vec<(usize, u64)>,
}

#[derive(Clone, Copy)]
struct Entry {
    size: u64,
    value: u64,
    most: u64,
    /// Value for a unit of size, rounded up, in steps of 2^-[`FRACTION`].
    density: u64,
    /// Least size of this entry and all after it.
    least: u64,
    item: usize,
}

/// A state of the list search: the pieces so far come to this size and value.
#[derive(Clone, Copy)]
struct State {
    size: u64,
    value: u64,
    /// The piece put on last, in the order of discovery; [`EMPTY`] for an empty bar.
    trail: u32,
}

/// A piece that was put on a bar, and the one before it.
#[derive(Clone, Copy)]
struct Step {
    before: u32,
    level: u32,
}

/// The trail of an empty bar.
const EMPTY: u32 = u32::MAX;
/// Pieces put on, at most, in a list search: some hundred million bytes.
const MOST_STEPS: usize = 12_000_000;

/// Bits of a density after the point. With values under 2^38 a density fits 64 bits.
const FRACTION: u32 = 26;
/// Work for one step of the search, in numbers visited.
const STEP: u64 = 8;

impl Entry {
    /// No pieces of this density in `room` are worth more.
    fn hope(&self, room: u64) -> u64 {
        u64::try_from((u128::from(room) * u128::from(self.density)) >> FRACTION).unwrap_or(u64::MAX)
    }
}

impl Knapsack {
    /// At most `most[i]` pieces of `sizes[i]`, each worth `values[i]`.
    pub(super) fn new(sizes: impl IntoIterator<Item = u64>, values: &[u64], most: &[u64]) -> Knapsack {
        let mut entries: Vec<Entry> = sizes
            .into_iter()
            .enumerate()
            .filter(|&(item, _)| most[item] > 0 && values[item] > 0)
            .map(|(item, size)| {
                let value = values[item];
                let density = (u128::from(value) << FRACTION).div_ceil(u128::from(size));
                let density = u64::try_from(density).unwrap_or(u64::MAX);
                Entry { size, value, most: most[item], density, least: 0, item }
            })
            .collect();
        entries.sort_unstable_by(|a, b| b.density.cmp(&a.density).then(a.item.cmp(&b.item)));
        let mut least = u64::MAX;
        for entry in entries.iter_mut().rev() {
            least = least.min(entry.size);
            entry.least = least;
        }
        Knapsack { entries, stack: Vec::new() }
    }

    /// Leaves these items out from now on.
    pub(super) fn leave_out(&mut self, counts: &[(usize, u64)]) {
        self.entries.retain(|entry| counts.iter().all(|(item, _)| *item != entry.item));
    }

    /// The best filling of a bar that is worth more than `beat`, as far as the work reaches. Every
    /// filling that was the best for a while is handed to `found`.
    pub(super) fn fill(
        &mut self,
        capacity: u64,
        beat: u64,
        work: &mut Work,
        mut found: impl FnMut(&Counts),
    ) -> Filling {
        let entries = self.entries.as_slice();
        let stack = &mut self.stack;
        stack.clear();
        let (mut room, mut value, mut level) = (capacity, 0_u64, 0);
        let mut best = beat;
        let mut counts = Counts::new();
        let mut steps: u64 = 0;
        let most_steps = work.0 / STEP;
        let ended = 'search: loop {
            while let Some(entry) = entries.get(level) {
                if room < entry.least || value + entry.hope(room) <= best {
                    break;
                }
                steps += 1;
                if entry.size <= room {
                    let count = entry.most.min(room / entry.size);
                    room -= count * entry.size;
                    value += count * entry.value;
                    stack.push((level, count));
                }
                level += 1;
            }
            if value > best {
                best = value;
                counts.clear();
                counts.extend(stack.iter().map(|&(level, count)| (entries[level].item, count)));
                counts.sort_unstable();
                found(&counts);
            }
            // Back to the last piece without which something better may still follow.
            loop {
                let Some((last, count)) = stack.pop() else {
                    break 'search true;
                };
                steps += 1;
                let entry = &entries[last];
                room += entry.size;
                value -= entry.value;
                level = last + 1;
                if entries.get(level).is_some_and(|next| value + next.hope(room) > best) {
                    if count > 1 {
                        stack.push((last, count - 1));
                    }
                    break;
                }
                // With fewer of this piece there is no more hope either, as what follows is worth less for its size.
                room += (count - 1) * entry.size;
                value -= (count - 1) * entry.value;
            }
            if steps >= most_steps {
                break 'search false;
            }
        };
        work.spend(steps * STEP);
        let unproved = || entries.first().map_or(0, |first| first.hope(capacity)).max(best);
        Filling { counts, value: best, at_most: if ended { best } else { unproved() } }
    }

    /// The same by lists instead of depth first (Nemhauser and Ullmann, Management Science 15,
    /// 1969): of all that can be on a bar so far, only what no other choice matches in less room,
    /// and what may still beat what must be beaten. Takes far fewer steps where a great many
    /// choices are nearly worth enough, as is the case when prices are nearly right.
    pub(super) fn fill_by_lists(&self, capacity: u64, beat: u64, work: &mut Work) -> Filling {
        let mut best = State { size: 0, value: beat, trail: EMPTY };
        let mut trail: Vec<Step> = Vec::new();
        let mut states = vec![State { size: 0, value: 0, trail: EMPTY }];
        let mut merged: Vec<State> = Vec::new();
        let mut added: Vec<State> = Vec::new();
        for (level, entry) in self.entries.iter().enumerate() {
            let following = self.entries.get(level + 1);
            added.clear();
            added.extend_from_slice(&states);
            for _ in 0..entry.most.min(capacity / entry.size.max(1)) {
                // One more piece on every state of the last round.
                let mut kept = 0;
                for at in 0..added.len() {
                    let before = added[at];
                    let size = before.size + entry.size;
                    if size > capacity {
                        break;
                    }
                    let value = before.value + entry.value;
                    let state = State { size, value, trail: trail.len() as u32 };
                    // One more of this piece, or of any that follow: none is worth more for its size.
                    let hopeful = value + entry.hope(capacity - size) > best.value;
                    if hopeful {
                        trail.push(Step { before: before.trail, level: level as u32 });
                        added[kept] = state;
                        kept += 1;
                        if value > best.value {
                            best = state;
                        }
                    }
                }
                work.spend(added.len() as u64 * 2);
                added.truncate(kept);
                if added.is_empty() {
                    break;
                }
                merge(&states, &added, &mut merged);
                work.spend(merged.len() as u64 * 2);
                std::mem::swap(&mut states, &mut merged);
                if trail.len() > MOST_STEPS || work.is_spent() {
                    let at_most =
                        self.entries.first().map_or(0, |first| first.hope(capacity)).max(best.value);
                    return Filling { counts: self.along(best.trail, &trail), value: best.value, at_most };
                }
            }
            let Some(following) = following else {
                break;
            };
            states.retain(|state| state.value + following.hope(capacity - state.size) > best.value);
        }
        Filling { counts: self.along(best.trail, &trail), value: best.value, at_most: best.value }
    }

    /// The pieces of a trail.
    fn along(&self, mut at: u32, trail: &[Step]) -> Counts {
        let mut items: Vec<usize> = Vec::new();
        while at != EMPTY {
            let Step { before, level } = trail[at as usize];
            items.push(self.entries[level as usize].item);
            at = before;
        }
        items.sort_unstable();
        items.chunk_by(|a, b| a == b).map(|alike| (alike[0], alike.len() as u64)).collect()
    }
}

/// Two lists in one, by size; a state that is worth no more than a smaller one is left out.
fn merge(one: &[State], other: &[State], merged: &mut Vec<State>) {
    merged.clear();
    let (mut one, mut other) = (one.iter().peekable(), other.iter().peekable());
    let mut most: Option<u64> = None;
    loop {
        let first = match (one.peek(), other.peek()) {
            (Some(a), Some(b)) => {
                (a.size, std::cmp::Reverse(a.value)) <= (b.size, std::cmp::Reverse(b.value))
            }
            (Some(_), None) => true,
            (None, Some(_)) => false,
            (None, None) => return,
        };
        let next = if first { one.next() } else { other.next() };
        if let Some(state) = next.filter(|state| most.is_none_or(|most| state.value > most)) {
            most = Some(state.value);
            merged.push(*state);
        }
    }
}
