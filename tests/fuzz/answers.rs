//! Answers, in every form that is read: what is typed beside a query, and where it points.

use super::cells::{odd_cells, spoil};
use super::hold;
use super::surveys::{Job, of_messes, of_queries};
use crate::support::chance::Chance;

const ROUNDS: u64 = 100;

/// Whether answers are on a sheet of this name.
fn has_answers(name: &str) -> bool {
    ["Answers", "Queries"].contains(&name)
}

#[test]
fn any_answer_is_taken_or_asked_about() {
    let mut sound: Vec<Job> = of_messes().into_iter().chain(of_queries(&["survey", "tables"])).collect();
    let answered =
        |job: &Job| job.grids.iter().any(|grid| grid.sheets.iter().any(|sheet| has_answers(&sheet.name)));
    sound.retain(answered);
    assert!(sound.len() > 5, "only {} surveys have answers", sound.len());
    let odd = odd_cells();
    let made = move |chance: &mut Chance| {
        let mut job = sound[chance.of(sound.len())].clone();
        for grid in &mut job.grids {
            if grid.sheets.iter().any(|sheet| has_answers(&sheet.name)) {
                spoil(grid, has_answers, &odd, chance);
            }
            if chance.of(4) == 0 {
                spoil(grid, |name| name == "Openings", &odd, chance);
            }
        }
        job
    };
    hold(ROUNDS, made, |job| job.fault());
}
