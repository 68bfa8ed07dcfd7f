//! In which order a fitter works: for each mount of a unit one list of steps, from the first mark
//! to the valance, in which the step that depends on the wall names its openings.

use std::collections::BTreeMap;

use super::{Report, Unit};
use crate::fitting::Blind;
use crate::query::OpeningIndex;
use crate::sizing::Mount;
use crate::survey::Substrate;

/// What a fixing goes into, as far as it changes the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ground {
    /// Solid timber that shows.
    Timber,
    /// Timber behind board: a known header.
    TimberBehindBoard,
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
    /// Every ground, in the order in which a list names them.
    pub const ALL: [Ground; 7] = [
        Ground::Timber,
        Ground::TimberBehindBoard,
        Ground::HollowWall,
        Ground::Masonry,
        Ground::Concrete,
        Ground::SteelStud,
        Ground::Unknown,
    ];

    /// What an opening's fixings go into: what the survey says the wall is, and what the fixing
    /// that was chosen for it is made for.
    pub fn of(wall: Option<Substrate>, chosen_for: Option<Substrate>) -> Ground {
        match (wall, chosen_for) {
            (Some(Substrate::StudWall), Some(Substrate::Timber)) => Ground::TimberBehindBoard,
            (Some(Substrate::StudWall | Substrate::Plasterboard), _) => Ground::HollowWall,
            (Some(Substrate::Timber), _) => Ground::Timber,
            (Some(Substrate::Masonry), _) => Ground::Masonry,
            (Some(Substrate::Concrete), _) => Ground::Concrete,
            (Some(Substrate::Steel), _) => Ground::SteelStud,
            (None, _) => Ground::Unknown,
        }
    }

    /// The words that a list names it by.
    pub const fn words(self) -> &'static str {
        match self {
            Ground::Timber => "timber",
            Ground::TimberBehindBoard => "timber behind board",
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
            Ground::Timber => {
                "Probe for the timber's edges: both screws stay well inside them. Drill the pilot, drive the last turns by hand."
            }
            Ground::TimberBehindBoard => {
                "Probe through the board for the timber's edges: both screws stay well inside them. Drill the pilot through both."
            }
            Ground::HollowWall => {
                "Probe for a stud or header first: if there is one, tell the office. Else an anchor in every hole; a screw in board alone does not hold."
            }
            Ground::Masonry => {
                "Hammer drill with shroud and vacuum, in the brick or block and not in a joint. Clean the hole, plug it flush, then screw."
            }
            Ground::Concrete => {
                "Hammer drill with shroud and vacuum, deeper than the screw; stop at steel, and where the slab may be post-tensioned do not drill. Clean the hole, then fix."
            }
            Ground::SteelStud => {
                "Find the stud's middle with a magnet. Self-drilling screw through the board into the steel, slowly; stop when it is snug, or it strips."
            }
            Ground::Unknown => {
                "Nothing is chosen to hold this: find out what is behind the surface, and get the fixing decided, before anything is drilled."
            }
        }
    }
}

/// One step of a list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// Its number, from 1; steps that stand for each other on different grounds share one.
    pub number: usize,
    /// The ground that it is for; `None` for a step at every opening.
    pub ground: Option<Ground>,
    /// What to do.
    pub words: &'static str,
}

/// The steps of one mount, with a step for each ground that its openings have.
pub fn steps(mount: Mount, grounds: &[Ground]) -> Vec<Step> {
    let (before, after) = match mount {
        Mount::Outside => (
            [
                "Begin where the block says Start: mark the bracket top's height there, and the first centre from the opening's left edge.",
                "Draw a level line across at that height, by level and not by the head or the ceiling.",
                "Mark every other centre on the line, each from the opening's left edge and never from the last mark.",
            ],
            [
                "Fix the first bracket, check the line against it, then fix the rest: tops in line, all square to the wall.",
                "Click the rail into every bracket, and pull down on it at each. Compare the overlaps with the block.",
                "Hang the louvers, faces to the room as the block says. Draw them, turn them both ways, look for what they touch.",
                "Valance last: clips on the rail, then the front with its returns.",
            ],
        ),
        Mount::Inside => (
            [
                "Find the lowest point of the head with a level: the blind starts there, and the rest is packed down to it.",
                "Mark the setback from the wall face at both ends, and join the marks with a straight line.",
                "Mark every centre on the line, each from the opening's left edge and never from the last mark.",
            ],
            [
                "Fix the bracket nearest the lowest point, level across from it, then fix the rest on packers.",
                "Click the rail into every bracket, and pull down on it at each. Compare the gaps at its ends with the block.",
                "Hang the louvers, faces to the room as the block says. Draw them, turn them both ways, look for what they touch.",
                "Valance last: clips on the rail, then the front.",
            ],
        ),
    };
    let first = before.into_iter().map(|words| (None, words));
    let step = |(place, (ground, words))| Step { number: place + 1, ground, words };
    let mut steps: Vec<Step> = first.enumerate().map(step).collect();
    let number = steps.len() + 1;
    steps.extend(grounds.iter().map(|&ground| Step { number, ground: Some(ground), words: ground.drill() }));
    steps.extend((number + 1..).zip(after).map(|(number, words)| Step { number, ground: None, words }));
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
    pub steps: Vec<Step>,
}

impl Report<'_> {
    /// The order of work in a unit: a list for each mount that it has. Held openings are in none.
    pub fn fixing_orders(&self, unit: &Unit<'_>) -> Vec<FixingOrder> {
        let mut mounts: BTreeMap<Mount, BTreeMap<Ground, Vec<OpeningIndex>>> = BTreeMap::new();
        for &opening in &unit.openings {
            if let Some(blind) = &self.blinds[opening] {
                let grounds = mounts.entry(blind.sizing.mount).or_default();
                grounds.entry(self.ground(opening, blind)).or_default().push(opening);
            }
        }
        let order = |(mount, grounds): (Mount, BTreeMap<Ground, Vec<OpeningIndex>>)| {
            let kinds: Vec<Ground> = grounds.keys().copied().collect();
            FixingOrder { mount, steps: steps(mount, &kinds), grounds }
        };
        mounts.into_iter().map(order).collect()
    }

    fn ground(&self, opening: OpeningIndex, blind: &Blind<'_>) -> Ground {
        let facts = self.survey.openings[opening].facts.as_ref();
        let wall = facts.and_then(|facts| facts.substrate).map(|given| given.value);
        Ground::of(wall, blind.fitted.fixings.fixing.map(|fixing| fixing.substrate))
    }
}
