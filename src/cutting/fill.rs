//! One bar: the choice of pieces that is worth most.

/// Pieces on one bar: position of each item and how many of it, by position; none is 0.
pub type Counts = Vec<(usize, u64)>;

/// The most valuable choice of pieces that was found for one bar.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Filling {
    pub(super) counts: Counts,
    pub(super) value: u128,
    /// No choice is worth more; unproved where the allowance ran out.
    pub(super) proven: bool,
}

/// Steps that a search may still take. Work is counted, never timed, so that every machine finds
/// the same plan.
#[derive(Clone, Copy, Debug)]
pub(super) struct Allowance(pub(super) u64);

impl Allowance {
    /// Takes up to `steps` out of this allowance.
    pub(super) fn portion(&mut self, steps: u64) -> Allowance {
        let portion = steps.min(self.0);
        self.0 -= portion;
        Allowance(portion)
    }

    /// Puts back what was not used.
    pub(super) fn give_back(&mut self, rest: Allowance) {
        self.0 += rest.0;
    }

    fn spend_one(&mut self) -> bool {
        let left = self.0 > 0;
        self.0 = self.0.saturating_sub(1);
        left
    }
}

/// An item that a bar can hold.
#[derive(Clone, Copy)]
struct Candidate {
    item: usize,
    size: u64,
    value: u64,
    most: u64,
    /// Least size of this candidate and all after it.
    least_from_here: u64,
}

/// Fills a bar of `capacity` with at most `most[i]` pieces of `sizes[i]`, each worth `values[i]`:
/// depth first, what is worth most for its size first, and no further than the best so far could
/// still be beaten. At least one descent is made, whatever is left of the allowance.
pub(super) fn fill(
    sizes: &[u64],
    values: &[u64],
    most: &[u64],
    capacity: u64,
    allowance: &mut Allowance,
) -> Filling {
    let candidates = candidates(sizes, values, most, capacity);
    let mut taken = vec![0_u64; candidates.len()];
    let mut best = (0_u128, taken.clone());
    let (mut room, mut value, mut next) = (capacity, 0_u128, 0);
    let proven = loop {
        while let Some(candidate) = candidates.get(next).filter(|candidate| candidate.least_from_here <= room)
        {
            let count = candidate.most.min(room / candidate.size);
            taken[next] = count;
            room -= count * candidate.size;
            value += u128::from(count) * u128::from(candidate.value);
            next += 1;
            allowance.spend_one();
        }
        if value > best.0 {
            best = (value, taken.clone());
        }
        // Back to the last piece without which something better may still follow.
        let resumed = loop {
            let Some(last) = taken[..next].iter().rposition(|count| *count > 0) else {
                break false;
            };
            let candidate = candidates[last];
            taken[last] -= 1;
            room += candidate.size;
            value -= u128::from(candidate.value);
            let hope = candidates.get(last + 1).map_or(0, |following| {
                u128::from(room) * u128::from(following.value) / u128::from(following.size)
            });
            next = last + 1;
            if value + hope > best.0 {
                break true;
            }
            // With fewer of this piece there is no more hope either, as what follows is worth less for its size.
            room += taken[last] * candidate.size;
            value -= u128::from(taken[last]) * u128::from(candidate.value);
            taken[last] = 0;
        };
        if !resumed {
            break true;
        }
        if !allowance.spend_one() {
            break false;
        }
    };
    let mut counts: Counts = candidates
        .iter()
        .zip(best.1)
        .filter(|(_, count)| *count > 0)
        .map(|(candidate, count)| (candidate.item, count))
        .collect();
    counts.sort_unstable();
    Filling { counts, value: best.0, proven }
}

/// The items that fit at all, what is worth most for its size first, then the largest.
fn candidates(sizes: &[u64], values: &[u64], most: &[u64], capacity: u64) -> Vec<Candidate> {
    let mut candidates: Vec<Candidate> = (0..sizes.len())
        .filter(|&item| most[item] > 0 && values[item] > 0 && sizes[item] <= capacity)
        .map(|item| Candidate {
            item,
            size: sizes[item],
            value: values[item],
            most: most[item],
            least_from_here: 0,
        })
        .collect();
    candidates.sort_by(|a, b| {
        let a_for_size = u128::from(a.value) * u128::from(b.size);
        let b_for_size = u128::from(b.value) * u128::from(a.size);
        b_for_size.cmp(&a_for_size).then(b.size.cmp(&a.size)).then(a.item.cmp(&b.item))
    });
    let mut least = u64::MAX;
    for candidate in candidates.iter_mut().rev() {
        least = least.min(candidate.size);
        candidate.least_from_here = least;
    }
    candidates
}

#[cfg(test)]
mod tests {
    use super::{Allowance, fill};

    #[test]
    fn the_best_choice_is_found_and_proved() {
        // 7 + 3 fill 10 and are worth 10; a 6 is worth most for its size, but leaves room for one 3 alone.
        let cases = [([1, 1, 1], 10, 10), ([1, 1, 3], 9, 10), ([1, 1, 3], 2, 0)];
        for (most, capacity, value) in cases {
            let filling = fill(&[7, 6, 3], &[7, 7, 3], &most, capacity, &mut Allowance(1_000));
            assert_eq!((filling.value, filling.proven), (value, true), "{most:?} in {capacity}");
        }
    }

    #[test]
    fn a_spent_allowance_still_gives_a_filling_but_no_proof() {
        let filling = fill(&[6, 5, 4], &[7, 5, 4], &[9, 9, 9], 10, &mut Allowance(0));
        assert_eq!((filling.counts, filling.proven), (vec![(0, 1), (2, 1)], true));
        let filling = fill(&[6, 5], &[7, 5], &[9, 9], 10, &mut Allowance(0));
        assert_eq!((filling.counts, filling.proven), (vec![(0, 1)], false));
    }
}
