//! The counts that every output agrees on.

use std::collections::BTreeSet;

use crate::fitting::Blind;
use crate::report::Counts;
use crate::sizing::Release;
use crate::survey::Survey;

/// Counts openings and blinds, by the quantity of each row.
pub(super) fn count(survey: &Survey, blinds: &[Option<Blind<'_>>]) -> Counts {
    let mut counts = Counts { rows: survey.rows as u64, ..Counts::default() };
    let mut sizes = BTreeSet::new();
    for (opening, blind) in survey.openings.iter().zip(blinds) {
        let quantity = u64::from(opening.who.quantity);
        counts.openings += quantity;
        match blind {
            None => counts.held += quantity,
            Some(blind) => {
                sizes.insert((&*blind.sizing.product.name, blind.sourced.size));
                match blind.sizing.release {
                    Release::Make => counts.sized += quantity,
                    Release::Provisional => counts.provisional += quantity,
                }
            }
        }
    }
    counts.blinds = counts.sized + counts.provisional;
    counts.sizes = sizes.len() as u64;
    counts
}
