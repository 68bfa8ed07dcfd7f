//! Rule sheets: Products, Materials, Fixings, Bars, Offcuts, Stock sizes, Prices, Rates, Phases, Options, Project.

use super::cells::{odd_cells, spoil};
use super::hold;
use super::surveys::{Job, of_queries};
use crate::support::chance::Chance;

const ROUNDS: u64 = 80;

#[test]
fn any_rule_sheets_are_taken_or_refused() {
    // A survey with a row on every sheet, more often than each of the small ones.
    let every = Job::of(include_str!("rules.txt"));
    assert_eq!(every.fault_or_refusal(), None);
    let mut sound = of_queries(&["rules", "sourcing", "cost", "phases", "days", "fitting"]);
    sound.retain(|job| job.earlier.is_none());
    let odd = odd_cells();
    let made = move |chance: &mut Chance| {
        let mut job = if chance.of(2) == 0 { every.clone() } else { sound[chance.of(sound.len())].clone() };
        let at = chance.of(job.grids.len());
        spoil(&mut job.grids[at], |name| name != "Openings", &odd, chance);
        if chance.of(4) == 0 {
            spoil(&mut job.grids[at], |name| name == "Openings", &odd, chance);
        }
        job
    };
    hold(ROUNDS, made, |job| job.fault());
}
