//! What is left to be cut and to cut from: it is the same size however many sorts of blinds a floor has, for
//! a search holds a hundred thousand of them.

use super::job::{Floor, MOST_KINDS};

/// Sorts of blinds of a floor that are tried next: of more, the first in order.
const SORTS: usize = 8;

/// Rolls of each kind on hand that are begun.
pub(super) type Begun = [u32; MOST_KINDS];

/// The blinds of a floor that are left: of the first sorts of which any are, and all of those behind them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Left {
    /// The place of each sort on the floor, and how many of its blinds are left; past the last of them 0.
    first: [(u32, u32); SORTS],
    /// The place of the first sort behind them.
    behind: u32,
}

impl Left {
    /// Every blind of a floor.
    pub(super) fn all(floor: &Floor) -> Left {
        let mut left = Left { first: [(0, 0); SORTS], behind: 0 };
        for at in 0..SORTS {
            left.first[at] = left.take_behind(floor);
        }
        left
    }

    /// The places on the floor of the sorts that may be next, in order.
    pub(super) fn sorts(&self) -> impl Iterator<Item = usize> {
        let some_left = self.first.iter().take_while(|(_, count)| *count > 0);
        some_left.filter_map(|(place, _)| usize::try_from(*place).ok())
    }

    /// The same without one blind of the sort that is so many after the first.
    pub(super) fn without(mut self, at: usize, floor: &Floor) -> Left {
        self.first[at].1 -= 1;
        if self.first[at].1 == 0 {
            self.first[at..].rotate_left(1);
            self.first[SORTS - 1] = self.take_behind(floor);
        }
        self
    }

    fn take_behind(&mut self, floor: &Floor) -> (u32, u32) {
        let next = usize::try_from(self.behind).ok().and_then(|next| floor.get(next));
        next.map_or((0, 0), |(_, places)| {
            self.behind += 1;
            (self.behind - 1, u32::try_from(places.len()).unwrap_or(u32::MAX))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::{Left, SORTS};

    #[test]
    fn the_first_sorts_left_may_be_next_until_none_is() {
        // Twenty sorts of one to four blinds, of which every third that may be next is cut.
        let floor: Vec<(usize, Vec<usize>)> = (0..20).map(|sort| (sort, vec![0; 1 + sort * 7 % 4])).collect();
        let mut counts: Vec<usize> = floor.iter().map(|(_, places)| places.len()).collect();
        let mut left = Left::all(&floor);
        for turn in 0.. {
            let some_left = (0..counts.len()).filter(|place| counts[*place] > 0);
            let wanted: Vec<usize> = some_left.take(SORTS).collect();
            assert_eq!(left.sorts().collect::<Vec<_>>(), wanted, "in turn {turn}");
            if wanted.is_empty() {
                assert_eq!(counts.iter().sum::<usize>(), 0);
                break;
            }
            let at = turn * 3 % wanted.len();
            counts[wanted[at]] -= 1;
            left = left.without(at, &floor);
        }
    }

    #[test]
    fn the_same_blinds_left_are_the_same_whatever_was_cut_first() {
        let floor: Vec<(usize, Vec<usize>)> = (0..12).map(|sort| (sort, vec![0])).collect();
        let all = Left::all(&floor);
        // The third and then the first; the first and then what was the third.
        assert_eq!(all.without(2, &floor).without(0, &floor), all.without(0, &floor).without(1, &floor));
        assert_ne!(all.without(2, &floor), all.without(1, &floor));
    }
}
