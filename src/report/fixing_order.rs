//! In which order a fitter works: for each mount of a unit one list of steps, from the first mark
//! to the valance, in which the step that depends on the wall names its openings.
//!
//! Steps are short enough for half a page, so that both mounts stand side by side.

use std::collections::BTreeMap;

use super::{Report, Unit};
use crate::fitting::Blind;
use crate::query::OpeningIndex;
use crate::sizing::Mount;
use crate::survey::Substrate;

/// What a fixing goes into, as far as it changes the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ground {
    /// Solid wood that shows.
    Wood,
    /// Wood behind board: a known header.
    WoodBehindBoard,
    /// Board with nothing known behind it.
    HollowWall,
    /// Brick or block.
    Masonry,
    /// Concrete.
    Concrete,
    /// Steel studs behind board.
    SteelStud,
    /// Nobody knows yet.
    Unknown,
}

impl Ground {
    /// What an opening's fixings go into: what the survey says the wall is, and what the fixing
    /// that was chosen for it is made for.
    pub fn of(wall: Option<Substrate>, chosen_for: Option<Substrate>) -> Ground {
        match (wall, chosen_for) {
            (Some(Substrate::StudWall), Some(Substrate::Wood)) => Ground::WoodBehindBoard,
            (Some(Substrate::StudWall | Substrate::Drywall), _) => Ground::HollowWall,
            (Some(Substrate::Wood), _) => Ground::Wood,
            (Some(Substrate::Masonry), _) => Ground::Masonry,
            (Some(Substrate::Concrete), _) => Ground::Concrete,
            (Some(Substrate::Steel), _) => Ground::SteelStud,
            (None, _) => Ground::Unknown,
        }
    }

    /// The words that a list names it by.
    pub const fn words(self) -> &'static str {
        match self {
            Ground::Wood => "wood",
            Ground::WoodBehindBoard => "wood behind board",
            Ground::HollowWall => "hollow wall",
            Ground::Masonry => "brick or block",
            Ground::Concrete => "concrete",
            Ground::SteelStud => "steel stud",
            Ground::Unknown => "unknown wall",
        }
    }

    /// How its holes are made and its brackets fixed.
    const fn drill(self) -> &'static str {
        match self {
            Ground::Wood => "Probe for its edges; screws stay well inside them. Drill the pilot first.",
            Ground::WoodBehindBoard => {
                "Probe through the board for the wood's edges; screws stay well inside them. Drill the pilot through both."
            }
            Ground::HollowWall => {
                "Probe for a stud or a header, and report what you find. Else an anchor in every hole: board alone holds no screw."
            }
            Ground::Masonry => {
                "Hammer drill with shroud and vacuum, into brick or block and never a joint. Clean the hole, plug it flush, then screw."
            }
            Ground::Concrete => {
                "Hammer drill with shroud and vacuum, past the screw's depth; clean the hole. Stop at steel. Never into a slab that may be post-tensioned."
            }
            Ground::SteelStud => {
                "Find the stud with a magnet. Self-drilling screw through the board, slowly; stop when it is snug, or it strips."
            }
            Ground::Unknown => {
                "No fixing is chosen: find out what is behind the surface and have one decided before anything is drilled."
            }
        }
    }
}

/// One step of a list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FixingStep {
    /// Its number, from 1; steps that stand for each other on different grounds share one.
    pub number: usize,
    /// The ground that it is for; `None` for a step at every opening.
    pub ground: Option<Ground>,
    /// What to do.
    pub words: &'static str,
}

/// The steps of one mount, with a step for each ground that its openings have.
pub fn fixing_steps(mount: Mount, grounds: &[Ground]) -> Vec<FixingStep> {
    let (before, after) = match mount {
        Mount::Outside => (
            [
                "At the start point mark bracket height and first center.",
                "Level line across; not by the head or the ceiling.",
                "Other centers on it, each from the opening's left edge.",
            ],
            [
                "First bracket on, check the line, then the rest.",
                "Click the rail into each bracket; compare overlaps.",
                "Hang the louvers, face as said; draw and turn them.",
                "Valance last: clips, then front and returns.",
            ],
        ),
        Mount::Inside => (
            [
                "Find the head's lowest point by level; start there.",
                "Line through the setback, marked at both ends.",
                "Centers on it, each from the opening's left edge.",
            ],
            [
                "Bracket nearest that point first; pack the rest level.",
                "Click the rail into each bracket; compare the gaps.",
                "Hang the louvers, face as said; draw and turn them.",
                "Valance last: clips, then front.",
            ],
        ),
    };
    let first = before.into_iter().map(|words| (None, words));
    let step = |(place, (ground, words))| FixingStep { number: place + 1, ground, words };
    let mut steps: Vec<FixingStep> = first.enumerate().map(step).collect();
    let number = steps.len() + 1;
    steps.extend(grounds.iter().map(|&ground| FixingStep {
        number,
        ground: Some(ground),
        words: ground.drill(),
    }));
    steps.extend((number + 1..).zip(after).map(|(number, words)| FixingStep { number, ground: None, words }));
    steps
}

/// The work at a unit's openings of one mount.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FixingOrder {
    /// The mount.
    pub mount: Mount,
    /// What their fixings go into, and the openings of each, in survey order.
    pub grounds: BTreeMap<Ground, Vec<OpeningIndex>>,
    /// What to do, in order.
    pub steps: Vec<FixingStep>,
}

impl Report<'_> {
    /// The order of work in a unit: a list for each mount that it has. Held openings are in none.
    pub fn fixing_orders(&self, unit: &Unit<'_>) -> Vec<FixingOrder> {
        let mut mounts: BTreeMap<Mount, BTreeMap<Ground, Vec<OpeningIndex>>> = BTreeMap::new();
        for &opening in &unit.openings {
            if let Some(blind) = &self.blinds[opening] {
                let grounds = mounts.entry(blind.sizing.hung.mount()).or_default();
                grounds.entry(self.ground(opening, blind)).or_default().push(opening);
            }
        }
        let order = |(mount, grounds): (Mount, BTreeMap<Ground, Vec<OpeningIndex>>)| {
            let kinds: Vec<Ground> = grounds.keys().copied().collect();
            FixingOrder { mount, steps: fixing_steps(mount, &kinds), grounds }
        };
        mounts.into_iter().map(order).collect()
    }

    fn ground(&self, opening: OpeningIndex, blind: &Blind<'_>) -> Ground {
        let facts = self.survey.openings[opening].facts.as_ref();
        let wall = facts.and_then(|facts| facts.substrate).map(|given| given.value);
        Ground::of(wall, blind.fitted.fixings.fixing.map(|fixing| fixing.substrate))
    }
}
