//! In which order a fitter works: for each mount of a unit one list of steps, from the first mark
//! to the last sweep, in which the step that depends on the wall names its openings.
//!
//! Steps are short enough for half a page, so that both mounts stand side by side.

use std::collections::BTreeMap;

use super::{Report, Unit};
use crate::fitting::Blind;
use crate::query::OpeningIndex;
use crate::sizing::{Mount, MountOn};
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
            (Some(wall), Some(Substrate::Wood)) if wall.has_studs() => Ground::WoodBehindBoard,
            (Some(Substrate::StudWall | Substrate::Drywall), _) => Ground::HollowWall,
            (Some(Substrate::Wood), _) => Ground::Wood,
            (Some(Substrate::Masonry), Some(Substrate::Concrete)) => Ground::Concrete,
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
            Ground::Wood => "Find the edges of the wood; keep screws well inside. Drill pilot holes first.",
            Ground::WoodBehindBoard => {
                "Probe through the drywall for the edges of the wood; keep screws well inside. Drill pilot holes through both."
            }
            Ground::HollowWall => {
                "Probe for a stud or header; report what you find. If none, stop and ask. Drywall alone holds no screw."
            }
            Ground::Masonry => {
                "Hammer drill with shroud and vacuum, into brick or block, never a joint. Clean the hole, set the plug flush, then screw."
            }
            Ground::Concrete => {
                "Never drill a slab that may be post-tensioned. If you hit steel, stop. Hammer drill with shroud and vacuum, deeper than the screw; clean the hole."
            }
            Ground::SteelStud => {
                "Find the stud with a magnet. Drive a self-drilling screw slowly through the drywall; stop when snug, or it strips."
            }
            Ground::Unknown => {
                "Do not drill yet. No fixing is chosen: find out what is behind the surface and have a fixing chosen first."
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
                "At the start point, mark bracket height and first center.",
                "Strike a level line across; do not follow head or ceiling.",
                "Mark the other centers on it, from the opening's left edge.",
            ],
            [
                "Fix the first bracket, check the line, then fix the rest.",
                "Clip the rail into each bracket; check the overlaps.",
                "Hang the louvers, face as listed.",
                "Fit the valance: clips, then front and returns.",
                "Hang the wand, or have the motor connected; test draw and tilt.",
                "Clean up: dust, offcuts and packing. Take off the protective film and take it with you.",
            ],
        ),
        Mount::Ceiling => (
            [
                "Find the lowest point of the ceiling with a level; start there.",
                "Mark the setback from the wall at both ends; strike a line.",
                "Mark the centers on it, from the opening's left edge.",
            ],
            [
                "Fix the bracket nearest that point first; pack the rest level.",
                "Clip the rail into each bracket; check the overlaps.",
                "Hang the louvers, face as listed.",
                "Fit the valance: clips, then front and returns.",
                "Hang the wand, or have the motor connected; test draw and tilt.",
                "Clean up: dust, offcuts and packing. Take off the protective film and take it with you.",
            ],
        ),
        Mount::Inside => (
            [
                "Find the lowest point of the head with a level; start there.",
                "Mark the setback at both ends; strike a line between them.",
                "Mark the centers on it, from the opening's left edge.",
            ],
            [
                "Fix the bracket nearest that point first; pack the rest level.",
                "Clip the rail into each bracket; check the gaps.",
                "Hang the louvers, face as listed.",
                "Fit the valance: clips, then front.",
                "Hang the wand, or have the motor connected; test draw and tilt.",
                "Clean up: dust, offcuts and packing. Take off the protective film and take it with you.",
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
        // A casing is of wood, whatever the wall is.
        if blind.sizing.hung.on() == MountOn::Casing {
            return Ground::Wood;
        }
        let facts = self.survey.openings[opening].facts.as_ref();
        let wall = facts.and_then(|facts| facts.substrate).map(|given| given.value);
        Ground::of(wall, blind.fitted.fixings.most.fixing.map(|fixing| fixing.substrate))
    }
}
