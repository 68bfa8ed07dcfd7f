//! An opening with its blind as seen from inside the room: every position that the drawing shows,
//! as an exact length. What the survey does not say is left out, never guessed.
//!
//! Positions across are from the rail's left end to the right, positions down from the top of the
//! finished drop; what is past the left end or above the top is negative.

use crate::blinds::Panel;
use crate::fitting::{Blind, ControlSide};
use crate::length::Length;
use crate::rules::{Product, Project};
use crate::sizing::{Hung, Mount};
use crate::survey::{EndsAt, Facts, Kind, Leaf};

/// An opening with its blind. Two that are equal look the same.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Elevation {
    /// Within the recess, on the wall face, or from the ceiling.
    pub mount: Mount,
    /// Finished width: the rail from 0 to here.
    pub width: Length,
    /// Finished drop: the blind from 0 to here.
    pub drop: Length,
    /// The headrail, from its top to where the louvers begin.
    pub rail: Span,
    /// Front of the valance, from end to end; `None` for a blind without.
    pub valance: Option<Span>,
    /// What hangs in front of the opening.
    pub panel: Panel,
    /// The wand with the blind closed: its side, and its length from the top of the drop.
    pub wand: Option<(ControlSide, Length)>,
    /// Top of the brackets.
    pub bracket_top: Length,
    /// Bracket centers from the rail's left end.
    pub brackets: Vec<Length>,
    /// The same from the opening's left edge; `None` if the opening is unknown.
    pub brackets_from_opening: Option<Vec<Length>>,
    /// The opening; `None` if it is unknown.
    pub opening: Option<Hole>,
    /// Which leaf opens; `None` if nothing says so, and for a window.
    pub leaf: Option<Leaf>,
    /// Where the free wall ends on the left and on the right.
    pub walls: [Option<Limit>; 2],
    /// Where the free wall above ends.
    pub wall_above: Option<Length>,
    /// The ceiling; `None` also if the floor is unknown.
    pub ceiling: Option<Length>,
    /// Solid wood above the opening.
    pub header: Option<Span>,
    /// The floor as it is on the day.
    pub floor: Option<Length>,
    /// Top of the floor still to be laid.
    pub floor_to_come: Option<Length>,
    /// How the blind stands to the wall; `None` if neither reach nor setback is known.
    pub section: Option<Section>,
}

/// From one position to another, the first not past the second.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// Left end, or top.
    pub from: Length,
    /// Right end, or bottom.
    pub to: Length,
}

/// The opening in the wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Hole {
    /// Left and right edge.
    pub across: Span,
    /// Head and bottom.
    pub down: Span,
}

/// Where a free wall ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Limit {
    /// Position across.
    pub at: Length,
    /// What is there.
    pub ends_at: EndsAt,
}

/// The blind from the side, at a bracket. Distances are from the wall's face, into the room above
/// zero; those down are as in the elevation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Section {
    /// Center of the rail and line of the louvers; negative within the recess.
    pub rail: Length,
    /// Half the rail's depth.
    pub half_rail: Length,
    /// How far what hangs reaches to each side: a turned louver, half of its width.
    pub half_depth: Length,
    /// Depth of the recess.
    pub recess: Option<Length>,
    /// What holds it.
    pub held: HeldBy,
}

/// What holds a blind, as its mount has it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum HeldBy {
    /// A bracket in the head of the recess.
    Head,
    /// A bracket on the face of the wall, or of its casing.
    Wall {
        /// How far that face stands out from the wall.
        face: Length,
        /// Its screws, the upper first.
        screws: [Length; 2],
        /// Back of the valance's front; `None` for a blind without.
        valance: Option<Length>,
    },
    /// A bracket up into the ceiling.
    Ceiling {
        /// Back of the valance's front; `None` for a blind without.
        valance: Option<Length>,
    },
}

impl Elevation {
    /// The elevation of an opening with its blind.
    pub fn of(blind: &Blind<'_>, facts: &Facts, project: &Project) -> Elevation {
        let product = &blind.sizing.product;
        let (fitted, mount) = (&blind.fitted, blind.sizing.hung.mount());
        let brackets = &fitted.brackets;
        let hang = *product.cover.bracket_above_rail;
        // An outside bracket stands above the drop; inside, the drop begins at the bracket.
        let (bracket_top, rail_top) = match mount {
            Mount::Outside => (-hang, Length::ZERO),
            Mount::Inside | Mount::Ceiling => (Length::ZERO, hang),
        };
        let (width, drop) = (blind.sourced.size.width, blind.sourced.size.drop);
        let past = |front: Length| (front - width).share(1, 2);
        let head = brackets.top_above_head.map(|above| bracket_top + above);
        let floor = brackets.top_above_floor.map(|above| bracket_top + above);
        // Drawn as it is at half height, where an opening that leans is as far left as right.
        let opening = fitted.overlap_left().zip(head).zip(counted(blind));
        let opening = opening.map(|((overlap, head), (opening_width, height))| Hole {
            across: Span { from: overlap, to: opening_width + overlap },
            down: Span { from: head, to: head + height },
        });
        let ceiling = floor.zip(project.ceiling_height).map(|(floor, ceiling)| floor - ceiling.value);
        Elevation {
            mount,
            width,
            drop,
            rail: Span { from: rail_top, to: drop - fitted.panel.length },
            valance: fitted.valance.map(|front| Span { from: -past(front), to: width + past(front) }),
            panel: fitted.panel,
            wand: fitted.control_side.zip(fitted.wand),
            bracket_top,
            brackets: brackets.from_left.clone(),
            brackets_from_opening: brackets.from_opening_left.clone(),
            opening,
            leaf: facts.leaf.map(|leaf| leaf.value).filter(|_| facts.kind != Kind::Window),
            walls: opening.map_or([None, None], |opening| walls(facts, opening)),
            wall_above: head.zip(facts.wall_above).map(|(head, wall)| head - wall.value),
            ceiling,
            header: head.and_then(|head| header(facts, head)),
            floor,
            floor_to_come: floor
                .zip(facts.floor_to_come)
                .map(|(floor, thickness)| floor - thickness.value)
                .filter(|&top| Some(top) != floor),
            section: section(blind, facts, bracket_top),
        }
    }

    /// Overlap on the left and on the right; negative for a gap.
    pub fn overlaps(&self) -> Option<[Length; 2]> {
        self.opening.map(|opening| [opening.across.from, self.width - opening.across.to])
    }

    /// Bracket top above the floor.
    pub fn bracket_above_floor(&self) -> Option<Length> {
        self.floor.map(|floor| floor - self.bracket_top)
    }

    /// Bracket top above the head.
    pub fn bracket_above_head(&self) -> Option<Length> {
        self.opening.map(|opening| opening.down.from - self.bracket_top)
    }

    /// Gap between the blind's bottom and the floor.
    pub fn gap_below(&self) -> Option<Length> {
        self.floor.map(|floor| floor - self.drop)
    }
}

impl Span {
    /// From end to end.
    pub fn length(self) -> Length {
        self.to - self.from
    }
}

/// Width and height of the opening that the blind was sized for.
fn counted(blind: &Blind<'_>) -> Option<(Length, Length)> {
    match &blind.sizing.hung {
        Hung::Inside(recess) => recess.allowance.as_ref().map(|recess| (recess.opening_width, recess.head)),
        hung @ (Hung::Outside(_) | Hung::Ceiling(_)) => {
            hung.before_wall().map(|wall| (wall.opening_width, wall.down.head))
        }
    }
}

fn walls(facts: &Facts, opening: Hole) -> [Option<Limit>; 2] {
    let left = facts.wall_left.map(|wall| opening.across.from - wall.value);
    let right = facts.wall_right.map(|wall| opening.across.to + wall.value);
    [
        left.map(|at| Limit { at, ends_at: facts.left_ends_at }),
        right.map(|at| Limit { at, ends_at: facts.right_ends_at }),
    ]
}

fn header(facts: &Facts, head: Length) -> Option<Span> {
    let height = facts.header_height.map(|height| height.value).filter(|&height| height > Length::ZERO)?;
    let bottom = head - facts.header_offset_or_zero();
    Some(Span { from: bottom - height, to: bottom })
}

fn section(blind: &Blind<'_>, facts: &Facts, bracket_top: Length) -> Option<Section> {
    let Product { cover, family, .. } = blind.sizing.product;
    let half_depth = cover.half_depth();
    let line = blind.sizing.hung.line();
    let valance = || Some(line? + half_depth + **family.valance()?.beyond);
    let (rail, held) = match &blind.sizing.hung {
        Hung::Inside(recess) => (-recess.rail?.setback, HeldBy::Head),
        Hung::Outside(wall) => {
            let screws = [*cover.upper_screw, *cover.lower_screw].map(|below| bracket_top + below);
            let face = wall.face.stands_out();
            (wall.reach + face, HeldBy::Wall { face, screws, valance: valance() })
        }
        Hung::Ceiling(ceiling) => (ceiling.from_wall, HeldBy::Ceiling { valance: valance() }),
    };
    Some(Section {
        rail,
        half_rail: *cover.half_headrail,
        half_depth,
        recess: facts.recess_depth.map(|depth| depth.value).filter(|&depth| depth > Length::ZERO),
        held,
    })
}
