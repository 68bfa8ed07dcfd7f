//! What the fitter must know at one opening, in words.

use super::{Doubts, Report, State};
use crate::fitting::Blind;
use crate::length::Length;
use crate::query::{OpeningIndex, Reader, Severity};
use crate::sizing::Mount;
use crate::survey::{Floor, Kind, Opening};

/// How a blind is hung at one opening.
#[derive(Clone, Debug)]
pub struct Hanging<'r> {
    /// The blind.
    pub blind: &'r Blind<'r>,
    /// Rail's left end from the left edge of the opening: into the opening if above zero, past it
    /// if below; `None` if the opening is unknown.
    pub rail_from_edge: Option<Length>,
    /// Where to start measuring, and what to keep level.
    pub start: &'static str,
    /// Which face of the louvers shows to the room.
    pub face: &'static str,
    /// What to watch for here, most pressing first.
    pub cautions: Vec<String>,
}

/// Which face of the louvers shows to the room.
const FACE: &str = "pattern, else crown, to the room";

/// From this year on a building has no lead paint (40 CFR 745, target housing: before 1978).
const LAST_LEAD_PAINT: u32 = 1978;
/// From this year on a building has no asbestos. 29 CFR 1926.1101 presumes it up to 1980; other
/// countries used it for longer (from memory), so the later year stands.
const LAST_ASBESTOS: u32 = 2000;

impl<'r> Report<'r> {
    /// How an opening's blind is hung; `None` where the opening is held.
    pub fn hanging(&'r self, doubts: &Doubts<'_>, opening: OpeningIndex) -> Option<Hanging<'r>> {
        let blind = self.blinds[opening].as_ref()?;
        let survey = &self.survey.openings[opening];
        Some(Hanging {
            blind,
            rail_from_edge: blind.fitted.brackets.rail_from_opening(),
            start: start(blind.sizing.hung.mount(), survey),
            face: FACE,
            cautions: self.cautions(doubts, opening, survey),
        })
    }

    /// What holds at every opening of the job, in the order in which it is met.
    pub fn site_cautions(&self) -> Vec<&'static str> {
        let may_be_from_before = |year| self.rules.project.built.is_none_or(|built| built < year);
        let mut cautions = vec![
            "Compare box, label and revision with the opening; measure it. A size that differs is a query, not a saw job.",
            "Detect cables and pipes before every hole, most of all near a ceiling, a corner, a switch or a socket.",
            "Two people where the page says so. Face the ladder, stand it firm and level, never on its top step.",
            "Dust from masonry and concrete holds silica: drill with shroud and vacuum, never sweep it dry.",
        ];
        if may_be_from_before(LAST_LEAD_PAINT) {
            cautions
                .push("Old paint may hold lead (before 1978): no dry sanding, catch the dust, clean up wet.");
        }
        if may_be_from_before(LAST_ASBESTOS) {
            cautions.push("Old boards, textured ceilings, tile glues may hold asbestos: no drilling until someone competent clears them.");
        }
        cautions.extend([
            "A blind must leave an escape opening free and its control in reach; an accessible unit has rules of its own.",
            "Local codes and licensed trades decide what may be fixed, drilled or covered.",
        ]);
        cautions
    }

    /// Cautions of one opening: what the survey says of it, then its checks and notes.
    fn cautions(&self, doubts: &Doubts<'_>, opening: OpeningIndex, survey: &Opening) -> Vec<String> {
        let mut cautions = Vec::new();
        if self.state(opening) == State::Provisional {
            cautions.push("provisional: do not make or fit until its query below is answered".to_owned());
        }
        if let Some(facts) = &survey.facts {
            if facts.escape {
                cautions.push(
                    "escape opening: the blind must open without a key or tool and leave the way out clear"
                        .to_owned(),
                );
            }
            if facts.accessible {
                cautions.push(
                    "accessible unit: keep the control within reach and easy to work with one hand"
                        .to_owned(),
                );
            }
            let floor = facts.floor.map(|given| given.value);
            match facts.floor_to_come.map(|given| given.value).filter(|&thickness| thickness > Length::ZERO) {
                Some(thickness) => cautions.push(format!(
                    "{} of floor is still to come; heights are above the floor as it was measured",
                    thickness.show(self.rules.project.units)
                )),
                None if floor == Some(Floor::Unfinished) => {
                    cautions.push(
                        "the floor is not laid; heights are above the floor as it was measured".to_owned(),
                    );
                }
                None => {}
            }
        }
        let raised = doubts.about(opening).filter(|doubt| doubt.query.severity != Severity::Stop);
        let raised = raised.filter(|doubt| doubt.query.reader == Reader::Everyone);
        cautions.extend(raised.map(|doubt| doubt.words()));
        cautions
    }
}

fn start(mount: Mount, survey: &Opening) -> &'static str {
    match (mount, survey.facts.as_ref().map(|facts| facts.kind)) {
        (Mount::Inside, _) => "at the lowest point of the head; pack the rest; level across",
        (Mount::Outside, Some(Kind::PatioDoor | Kind::Door)) => {
            "above the highest point of the floor; level across"
        }
        (Mount::Outside, _) => "where the measured height is least; level across",
    }
}
