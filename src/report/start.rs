//! Where a fitter starts to measure, and what to expect at the other end.
//!
//! Heights are compared with each other and not with a level: a floor is taken to be highest where the
//! height up to the head is least, which is so if the head is level, and the words say that. A raised
//! threshold hides the floor: then nothing is said of its slope.

use crate::fitting::Blind;
use crate::length::{Length, Units};
use crate::query::OpeningIndex;
use crate::rules::SizesGiven;
use crate::sizing::{Mount, still_to_come};
use crate::survey::{Facts, Kind, Spot};

use super::Report;

/// Where to start measuring, and what to keep level.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Start {
    /// The lowest point of the head.
    Head,
    /// The lowest point of the ceiling.
    Ceiling,
    /// The highest point of the floor.
    Floor {
        /// Where that is by the heights; empty if they do not say.
        at: Vec<Spot>,
        /// The gap to expect under the blind at each place that was measured; empty if not known.
        gaps: Vec<(Spot, Length)>,
    },
    /// Where the height is most, for the heights count from there.
    Tallest {
        /// Where that is; empty if the heights do not say.
        at: Vec<Spot>,
        /// That height; `None` if the heights do not say where it is.
        height: Option<Length>,
    },
}

/// Heights above the floor that is still to come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Finished {
    /// Bracket top above it; `None` if it, or how thick that floor is, is not known.
    pub bracket_top: Option<Length>,
    /// Gap under the blind.
    pub gap_below: Option<Length>,
    /// Lowest point of the cord.
    pub cord: Option<Length>,
}

impl Start {
    pub(super) fn of(blind: &Blind<'_>, facts: &Facts, sizes: SizesGiven) -> Start {
        let is_opening = sizes == SizesGiven::Opening;
        let placed: Vec<(Spot, Length)> = facts
            .height
            .readings()
            .filter_map(|reading| Some((reading.spot.filter(|_| is_opening)?, reading.given.value)))
            .collect();
        let is_level = placed.windows(2).all(|pair| pair[0].1 == pair[1].1);
        let at = |height: Length| -> Vec<Spot> {
            let there = placed.iter().filter(|(_, placed)| *placed == height && !is_level);
            there.map(|(spot, _)| *spot).collect()
        };
        match (blind.sizing.hung.mount(), facts.kind) {
            (Mount::Inside, _) => Start::Head,
            (Mount::Ceiling, _) => Start::Ceiling,
            (Mount::Outside, Kind::PatioDoor | Kind::Door) => {
                let stands_on_floor = facts.sill_height() == Some(Length::ZERO);
                let gap = blind.fitted.gap_below.filter(|_| stands_on_floor && placed.len() > 1);
                let Some(gap) = gap else { return Start::Floor { at: Vec::new(), gaps: Vec::new() } };
                // The blind was sized for the least height: elsewhere the floor is lower.
                let least = facts.height.least().value;
                let gaps = placed.iter().map(|(spot, height)| (*spot, gap + *height - least)).collect();
                Start::Floor { at: at(least), gaps }
            }
            (Mount::Outside, Kind::Window) => {
                let most = facts.height.most().value;
                let at = at(most);
                let height = (!at.is_empty()).then_some(most);
                Start::Tallest { at, height }
            }
        }
    }

    /// What it starts from.
    pub const fn from(&self) -> &'static str {
        match self {
            Start::Head => "head",
            Start::Ceiling => "ceiling",
            Start::Floor { .. } => "floor",
            Start::Tallest { .. } => "opening height",
        }
    }

    /// Where along the opening, if the heights say so.
    pub fn at(&self) -> &[Spot] {
        match self {
            Start::Head | Start::Ceiling => &[],
            Start::Floor { at, .. } | Start::Tallest { at, .. } => at,
        }
    }

    /// The gap to expect under the blind at one place.
    pub fn gap(&self, at: Spot) -> Option<Length> {
        let Start::Floor { gaps, .. } = self else { return None };
        gaps.iter().find(|(spot, _)| *spot == at).map(|(_, gap)| *gap)
    }

    /// What a fitter does.
    pub fn words(&self, units: Units) -> String {
        let spots = |at: &[Spot]| at.iter().map(|spot| spot.word()).collect::<Vec<_>>().join(" and ");
        match self {
            Start::Head => "lowest point of the head; pack the other brackets level".to_owned(),
            Start::Ceiling => "lowest point of the ceiling; pack the other brackets level".to_owned(),
            Start::Floor { at, gaps } => {
                let there = match at.as_slice() {
                    [] => String::new(),
                    at => format!(" ({}, if the head is level)", spots(at)),
                };
                let gap = |(spot, gap): &(Spot, Length)| format!("{} {}", spot.word(), gap.shown(units));
                let below = match gaps.as_slice() {
                    [] => String::new(),
                    gaps => {
                        format!("; gap to floor: {}", gaps.iter().map(gap).collect::<Vec<_>>().join(", "))
                    }
                };
                format!("highest point of the floor{there}: measure up, then level across{below}")
            }
            Start::Tallest { at, height: Some(height) } => {
                format!(
                    "{}, where the opening height is greatest ({}); then level across",
                    spots(at),
                    height.shown(units)
                )
            }
            Start::Tallest { height: None, .. } => {
                "where the opening height is greatest; then level across".to_owned()
            }
        }
    }
}

impl Report<'_> {
    /// Where to start at an opening; `None` where it is held.
    pub fn start(&self, opening: OpeningIndex) -> Option<Start> {
        let facts = self.survey.openings[opening].facts.as_ref()?;
        Some(Start::of(self.blinds[opening].as_ref()?, facts, self.rules.project.sizes_given))
    }

    /// The same heights above a floor that is still to come; `None` where none is, or the opening is
    /// held.
    pub fn above_finished_floor(&self, opening: OpeningIndex) -> Option<Finished> {
        let facts = self.survey.openings[opening].facts.as_ref()?;
        let fitted = &self.blinds[opening].as_ref()?.fitted;
        let to_come = still_to_come(facts, &self.rules.project);
        if to_come == Some(Length::ZERO) {
            return None;
        }
        let above = |height: Option<Length>| Some(height? - to_come?);
        Some(Finished {
            bracket_top: above(fitted.brackets.top_above_floor),
            gap_below: above(fitted.gap_below),
            cord: above(fitted.cord.and_then(|cord| cord.height)),
        })
    }
}
