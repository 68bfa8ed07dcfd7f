//! Offers that another makes needless: it serves all that they serve, and none of it at a higher cost.

use super::choice::Serves;

/// Whether each offer is worth keeping, as far as the `work` lasts: of two alike the first. `needs` is how
/// many needs there are.
pub(super) fn worth_keeping(offers: &[Vec<Serves>], needs: usize, work: &mut u64) -> Vec<bool> {
    let mut takers = vec![Vec::new(); needs];
    for (offer, served) in offers.iter().enumerate() {
        for serves in served {
            takers[serves.need].push(offer);
        }
    }
    let mut keep = vec![true; offers.len()];
    for (offer, served) in offers.iter().enumerate() {
        let Some(rarest) = served.iter().min_by_key(|serves| takers[serves.need].len()) else {
            keep[offer] = false;
            continue;
        };
        for &other in &takers[rarest.need] {
            if other == offer || !keep[other] || offers[other].len() < served.len() {
                continue;
            }
            *work = work.saturating_sub(offers[other].len() as u64);
            if *work == 0 {
                return keep;
            }
            if serves_all(&offers[other], served) && (other < offer || !serves_all(served, &offers[other])) {
                keep[offer] = false;
                break;
            }
        }
    }
    keep
}

/// Whether one offer serves all that another does, and none of it at a higher cost; both are in order of
/// needs.
fn serves_all(one: &[Serves], other: &[Serves]) -> bool {
    let mut own = one.iter();
    other.iter().all(|asked| {
        own.by_ref()
            .find(|serves| serves.need >= asked.need)
            .is_some_and(|serves| serves.need == asked.need && serves.cost <= asked.cost)
    })
}
