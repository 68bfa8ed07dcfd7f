//! What a fixing was judged by where nobody said what is behind the board.

use crate::assumptions::{Assumption, Assumptions};
use crate::rules::{Capacity, Fixing};
use crate::schema::openings::{BOARD_LAYERS, BOARD_THICKNESS, SPECIES, STEEL_THICKNESS};
use crate::sizing::{Face, Hung};
use crate::survey::{Facts, Species, Substrate, Survey};
use crate::tables::steel;

use super::Blind;

/// What blanks of the wall were taken for, once for each opening whose fixings were judged by it.
/// `blinds` has one place for each opening of the survey.
pub fn assumed(survey: &Survey, blinds: &[Option<Blind<'_>>]) -> Vec<Assumption> {
    let mut assumptions = Assumptions::default();
    for (opening, blind) in survey.openings.iter().zip(blinds) {
        let (Some(facts), Some(blind)) = (&opening.facts, blind) else { continue };
        let openings = u64::from(opening.who.quantity);
        let fixings = || blind.fitted.fixings.kinds().filter_map(|screws| screws.fixing);
        let in_wood =
            |fixing: &Fixing| matches!(fixing.capacity, Capacity::WoodWithdrawal | Capacity::LagWithdrawal);
        let on_casing =
            matches!(&blind.sizing.hung, Hung::Outside(wall) if matches!(wall.face, Face::Casing { .. }));
        if fixings().any(in_wood) && goes_through_board(facts) && !on_casing {
            if facts.board_layers.is_none() {
                assumptions.count(&BOARD_LAYERS, "1", openings);
            }
            if facts.board_thickness.is_none() {
                assumptions.count(&BOARD_THICKNESS, "1/2 in", openings);
            }
        }
        if facts.species.is_none() && fixings().any(in_wood) {
            assumptions.count(&SPECIES, Species::SprucePineFir.word(), openings);
        }
        let steel = fixings().find_map(|fixing| match fixing.capacity {
            Capacity::SteelPullOut(usual) => Some(usual),
            _ => None,
        });
        if let Some(usual) = steel.filter(|_| facts.steel_thickness.is_none()) {
            assumptions.count(&STEEL_THICKNESS, &steel::in_mil(usual), openings);
        }
    }
    assumptions.into_list()
}

/// Whether a wall has board on it that nobody needs to name.
fn goes_through_board(facts: &Facts) -> bool {
    let substrate = facts.substrate.map(|substrate| substrate.value);
    matches!(substrate, Some(Substrate::StudWall | Substrate::Drywall))
}
