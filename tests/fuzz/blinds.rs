//! An earlier fit-out whose sheets were typed over anywhere, taken up with the survey that it is of.

use sillbook::grid;
use sillbook::place::Sheets;

use super::cells::{odd_cells, spoil};
use super::hold;
use super::surveys::Job;
use crate::stories::{run, type_in};
use crate::support::chance::Chance;
use crate::support::files::Folder;

const ROUNDS: u64 = 20;

/// What is typed before anything is spoilt.
const TYPED: &str = "D1 | State | ordered
D1 | Ordered on | 2026-03-02
W2 | State | fitted
line 1 | Note | third box
";

#[test]
fn any_earlier_fit_out_is_taken_up_or_refused() {
    let text = include_str!("rules.txt");
    let folder = Folder::new();
    let file = folder.path().join("fit-out.xlsx");
    run(text, None, &file).unwrap();
    let mut earlier = grid::read_earlier(&file, &mut Sheets::default(), &sillbook::earlier::is_read).unwrap();
    type_in(&mut earlier, TYPED);
    let sound = Job { earlier: Some(earlier), ..Job::of(text) };
    assert_eq!(sound.fault_or_refusal(), None);
    let odd = odd_cells();
    let made = move |chance: &mut Chance| {
        let mut job = sound.clone();
        if let Some(earlier) = &mut job.earlier {
            // Of its sheets people write on two.
            let all = chance.of(3) == 0;
            spoil(earlier, |name| all || ["Blinds", "Cost summary"].contains(&name), &odd, chance);
        }
        if chance.of(3) == 0 {
            spoil(&mut job.grids[0], |name| name == "Openings", &odd, chance);
        }
        job
    };
    hold(ROUNDS, made, |job| job.fault());
}
