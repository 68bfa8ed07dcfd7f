//! What holds of every result, whatever the survey. Each is counted anew from the openings, the rules and what is
//! remembered of orders, never by what worked it out; so a slip of any stage stops the run before anything is
//! written. All of them together are linear in the size of the job.

mod breach;
mod cost;
mod counts;
mod covered;
mod cuts;
mod days;
mod holding;
mod order;
mod ordered;
mod sizes;
mod stock;

pub use breach::Breach;

use crate::report::Report;
use breach::Fault;
use covered::{Covered, covered, told};

/// One thing that holds of every result.
#[derive(Clone, Copy, Debug)]
pub struct Invariant {
    /// What holds, in words that go on from what was found: `but every blind is ...`.
    pub says: &'static str,
    /// Whether it holds as well of any part of the order that is cut for itself.
    pub of_parts: bool,
    look: Look,
}

/// How an invariant is looked at.
#[derive(Clone, Copy, Debug)]
enum Look {
    /// At one opening that gets a blind: what is wrong with it.
    Opening(fn(&Covered<'_, '_>) -> Option<String>),
    /// At the whole result: the first thing that is wrong.
    Whole(fn(&Report<'_>) -> Result<(), Fault>),
}

/// Every invariant, room by room.
pub fn all() -> impl Iterator<Item = &'static Invariant> {
    let rooms = [
        sizes::INVARIANTS,
        holding::INVARIANTS,
        order::INVARIANTS,
        ordered::INVARIANTS,
        stock::INVARIANTS,
        cuts::INVARIANTS,
        counts::INVARIANTS,
        cost::INVARIANTS,
        days::INVARIANTS,
    ];
    rooms.into_iter().flatten()
}

/// Holds a result to every invariant.
///
/// # Errors
/// [`Breach`] with the first that does not hold, and where.
pub fn hold(report: &Report<'_>) -> Result<(), Breach> {
    let told = told(report);
    all().try_for_each(|invariant| invariant.hold_told(report, &told))
}

/// Holds a part of an order to those that are true of parts.
///
/// # Errors
/// As [`hold`].
pub fn hold_part(report: &Report<'_>) -> Result<(), Breach> {
    all().filter(|invariant| invariant.of_parts).try_for_each(|invariant| invariant.hold(report))
}

impl Invariant {
    const fn of_opening(says: &'static str, look: fn(&Covered<'_, '_>) -> Option<String>) -> Invariant {
        Invariant { says, of_parts: false, look: Look::Opening(look) }
    }

    const fn of_whole(says: &'static str, look: fn(&Report<'_>) -> Result<(), Fault>) -> Invariant {
        Invariant { says, of_parts: false, look: Look::Whole(look) }
    }

    const fn of_parts(says: &'static str, look: fn(&Report<'_>) -> Result<(), Fault>) -> Invariant {
        Invariant { says, of_parts: true, look: Look::Whole(look) }
    }

    /// Holds a result to it.
    ///
    /// # Errors
    /// [`Breach`] with the first place where it does not hold.
    pub fn hold(&self, report: &Report<'_>) -> Result<(), Breach> {
        self.hold_told(report, &told(report))
    }

    fn hold_told(&self, report: &Report<'_>, told: &[Vec<&str>]) -> Result<(), Breach> {
        let held = match self.look {
            Look::Whole(look) => look(report),
            Look::Opening(look) => covered(report, told).try_for_each(|covered| match look(&covered) {
                Some(found) => Err(Fault::opening(report, covered.opening, found)),
                None => Ok(()),
            }),
        };
        held.map_err(|fault| fault.breaks(self.says))
    }
}
