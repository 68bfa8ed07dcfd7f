//! The counts that every output agrees on.

use std::collections::BTreeSet;

use crate::fitting::Blind;
use crate::sizing::Release;
use crate::survey::Survey;

/// Counts of quantities; `rows` alone counts rows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Opening rows read.
    pub rows: u64,
    /// Openings, by quantity.
    pub openings: u64,
    /// Sized and released.
    pub sized: u64,
    /// Sized, but not to be made until measured with a tape.
    pub provisional: u64,
    /// Held back by a stop.
    pub held: u64,
    /// Blinds: sized + provisional.
    pub blinds: u64,
    /// Distinct product, width and drop of those.
    pub sizes: u64,
}

impl Counts {
    /// Counts openings and blinds, by the quantity of each row.
    pub fn of(survey: &Survey, blinds: &[Option<Blind<'_>>]) -> Counts {
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
}
