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
const FACE: &str = "patterned or convex face to the room";

/// From this year on a building has no lead paint (40 CFR 745, target housing: before 1978).
const LAST_LEAD_PAINT: u32 = 1978;
/// From this year on a building has no asbestos in any of the jurisdictions. 29 CFR 1926.1101 presumes
/// it up to 1980; the last of the bans are of 1999 (UK), 2003 (AU), 2005 (EU) and 2018 (CA; all from
/// memory).
const LAST_ASBESTOS: u32 = 2019;

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
            "Check box, label and revision; measure the opening. If a size differs, ask: do not cut the blind to fit.",
            "Check for cables and pipes before every hole, above all near ceilings, corners, switches and power outlets.",
            "Use two people where the page says so. Set the ladder firm and level, face it, keep off its top step.",
            "Masonry and concrete dust contains silica: drill with a shroud and vacuum, never sweep dust dry.",
        ];
        if may_be_from_before(LAST_LEAD_PAINT) {
            cautions
                .push("Paint from before 1978 may contain lead: do not sand it dry, contain the dust, clean up wet.");
        }
        if may_be_from_before(LAST_ASBESTOS) {
            cautions.push("Old boards, textured ceilings and tile glue may contain asbestos: do not drill until an expert clears them.");
        }
        cautions.extend([
            "Never block an escape opening. Keep the blind's control within reach. Accessible units have their own rules.",
            "Local codes and licensed trades decide what may be fixed, drilled or covered.",
        ]);
        cautions
    }

    /// Cautions of one opening: what the survey says of it, then its checks and notes.
    fn cautions(&self, doubts: &Doubts<'_>, opening: OpeningIndex, survey: &Opening) -> Vec<String> {
        let mut cautions = Vec::new();
        if self.state(opening) == State::Provisional {
            cautions
                .push("provisional: do not make or fit this blind until its query is answered".to_owned());
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
                    "accessible unit: keep the control within reach and easy to use with one hand".to_owned(),
                );
            }
            let floor = facts.floor.map(|given| given.value);
            match facts.floor_to_come.map(|given| given.value).filter(|&thickness| thickness > Length::ZERO) {
                Some(thickness) => cautions.push(format!(
                    "{0} of floor was still to come when measured; from the finished floor, heights are {0} less",
                    thickness.show(self.rules.project.units)
                )),
                None if floor == Some(Floor::Unfinished) => {
                    cautions.push(
                        "the floor was not finished when measured; heights are from the floor as it was then".to_owned(),
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
        (Mount::Inside, _) => "lowest point of the head; pack the other brackets level",
        (Mount::Ceiling, _) => "lowest point of the ceiling; pack the other brackets level",
        (Mount::Outside, Some(Kind::PatioDoor | Kind::Door)) => {
            "highest point of the floor: measure up, then level across"
        }
        (Mount::Outside, _) => "where the opening height is greatest; then level across",
    }
}
