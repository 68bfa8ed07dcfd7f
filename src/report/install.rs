//! What the fitter must know at one opening, in words.

use super::{Doubts, Finished, Report, Start, State, cautions};
use crate::fitting::Blind;
use crate::length::Length;
use crate::query::{OpeningIndex, Reader, Severity};
use crate::survey::{Floor, Opening};

/// How a blind is hung at one opening.
#[derive(Clone, Debug)]
pub struct Hanging<'r> {
    /// The blind.
    pub blind: &'r Blind<'r>,
    /// Rail's left end from the left edge of the opening: into the opening if above zero, past it
    /// if below; `None` if the opening is unknown.
    pub rail_from_edge: Option<Length>,
    /// Where to start measuring, and what to keep level.
    pub start: Start,
    /// Heights above a floor that is still to come; `None` where none is.
    pub finished: Option<Finished>,
    /// What to watch for here, most pressing first.
    pub cautions: Vec<String>,
}

/// Which face of the louvers shows to the room, of every blind.
pub const LOUVER_FACE: &str = "Louvers: patterned or convex face to the room.";

impl<'r> Report<'r> {
    /// How an opening's blind is hung; `None` where the opening is held.
    pub fn hanging(&'r self, doubts: &Doubts<'_>, opening: OpeningIndex) -> Option<Hanging<'r>> {
        let blind = self.blinds[opening].as_ref()?;
        let survey = &self.survey.openings[opening];
        Some(Hanging {
            blind,
            rail_from_edge: blind.fitted.brackets.rail_from_opening(),
            start: self.start(opening)?,
            finished: self.above_finished_floor(opening),
            cautions: self.cautions_at(doubts, opening, survey),
        })
    }

    /// Boxes whose labels name another opening than the one that their blinds go to now.
    fn boxes_labeled_otherwise<'a>(
        &'a self,
        opening: OpeningIndex,
        survey: &'a Opening,
    ) -> impl Iterator<Item = String> + 'a {
        let boxes = self.frozen.serving(opening).iter().map(|&kept| &self.frozen.blinds()[kept]);
        let others = boxes.filter(|kept| *kept.opening != *survey.who.name);
        others.map(|kept| {
            format!("its box is labeled {}: line {}, {}", kept.opening, kept.number.line, kept.words())
        })
    }

    /// Cautions of one opening: what the survey says of it, then its checks and notes. What is told once
    /// for the whole unit, or beside the load, is not among them, unless someone accepted it here.
    fn cautions_at(&self, doubts: &Doubts<'_>, opening: OpeningIndex, survey: &Opening) -> Vec<String> {
        let mut cautions = Vec::new();
        if self.state(opening) == State::Provisional {
            cautions
                .push("provisional: do not make or fit this blind until its query is answered".to_owned());
        }
        cautions.extend(self.boxes_labeled_otherwise(opening, survey));
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
                    "heights are from the floor as it was when it was measured; {} of floor was still to come",
                    thickness.show(self.rules.project.units)
                )),
                None if floor == Some(Floor::Unfinished) => {
                    cautions.push(
                        "the floor was not finished; heights are from the floor as it was when it was measured".to_owned(),
                    );
                }
                None => {}
            }
        }
        let raised = doubts.about(opening).filter(|doubt| doubt.query.severity != Severity::Stop);
        let raised = raised.filter(|doubt| doubt.query.reader == Reader::Everyone);
        let raised = raised.filter(|doubt| doubt.place.accepted.is_some() || !is_told(doubt.query.code));
        cautions.extend(raised.map(|doubt| doubt.words()));
        cautions
    }
}

/// Whether a page says the same in another place: once for the unit, or that nothing is known of what a
/// fixing holds and what it needs, beside the load.
fn is_told(code: &str) -> bool {
    cautions::tells(code) || code == "capacity-unknown"
}
