//! The elevation as marks: what is drawn of it to scale.
//!
//! Rail, bracket and valance are drawn where they hang; their outlines are symbols, for no rule
//! says how high they are.

use super::canvas::{Area, BLACK, DARK, Ink, LIGHT, PAPER, Turn, dot};
use super::elevation::{Elevation, Hole, Limit, Span};
use super::letters::{Letters, Style};
use super::marks::{Mark, Marks, THIN, Text};
use super::scale::{Scale, View};
use crate::blinds::{Louvers, Panel, Stack};
use crate::fitting::ControlSide;
use crate::length::Length;
use crate::sizing::Mount;
use crate::survey::{Draw, EndsAt, Leaf};

/// A wall that ends further than this past the blind and the opening is out of the picture.
const BESIDE: Length = Length::inches(12);
/// A ceiling, or wood, further than this above the bracket is out of the picture.
const ABOVE: Length = Length::inches(18);
/// Dots of the strip in which floor, ceiling and walls are hatched.
pub(super) const STRIP: i32 = 8;
/// Louvers nearer than this are a tone.
const LEAST_PITCH: i32 = 3;
/// Tones.
const STACKED: Ink = LIGHT;
const WOOD: Ink = LIGHT;
const LOUVERS: Ink = DARK;
/// A small blind is not drawn larger than 16 dots to the inch.
const LEAST_NM_A_DOT: i64 = 1_587_500;

/// The drawn elevation: its view, and the dots that it takes with the walls around it.
pub(super) struct Front {
    pub(super) view: View,
    pub(super) area: Area,
}

/// What is shown of the elevation, across and down.
fn extent(elevation: &Elevation) -> (Span, Span) {
    let hole = elevation.opening;
    let widest = elevation.valance.unwrap_or(Span { from: Length::ZERO, to: elevation.width });
    let left = hole.map_or(widest.from, |hole| widest.from.min(hole.across.from));
    let right = hole.map_or(widest.to, |hole| widest.to.max(hole.across.to));
    let [wall_left, wall_right] = shown_walls(elevation);
    let top = elevation.bracket_top.min(hole.map_or(Length::ZERO, |hole| hole.down.from));
    let wand = elevation.wand.map(|(_, length)| length);
    let lowest = [Some(elevation.drop), wand, hole.map(|hole| hole.down.to), elevation.floor];
    let highest = [
        Some(top),
        shown_above(elevation, elevation.ceiling),
        shown_above(elevation, elevation.wall_above),
        wood(elevation).map(|wood| wood.from),
    ];
    (
        Span {
            from: wall_left.map_or(left, |wall| wall.at.min(left)),
            to: wall_right.map_or(right, |wall| wall.at.max(right)),
        },
        Span {
            from: highest.into_iter().flatten().min().unwrap_or(top),
            to: lowest.into_iter().flatten().max().unwrap_or(elevation.drop),
        },
    )
}

/// Ends of the free wall that are near enough to be shown.
fn shown_walls(elevation: &Elevation) -> [Option<Limit>; 2] {
    let Some(hole) = elevation.opening else { return [None, None] };
    let [left, right] = elevation.walls;
    let (first, last) = (hole.across.from.min(Length::ZERO), hole.across.to.max(elevation.width));
    [left.filter(|wall| wall.at >= first - BESIDE), right.filter(|wall| wall.at <= last + BESIDE)]
}

fn shown_above(elevation: &Elevation, height: Option<Length>) -> Option<Length> {
    height.filter(|&height| height >= elevation.bracket_top - ABOVE)
}

/// The wood above the head, as far up as the picture goes.
fn wood(elevation: &Elevation) -> Option<Span> {
    let wood = elevation.header?;
    let highest = elevation.bracket_top - ABOVE;
    (wood.to > highest).then_some(Span { from: wood.from.max(highest), to: wood.to })
}

/// Draws the elevation into an area, in the middle of its width and at its top.
pub(super) fn draw(marks: &mut Marks, elevation: &Elevation, room: Area, letters: &Letters) -> Front {
    let (across, down) = extent(elevation);
    let scale = Scale::to_fit(
        (across.length(), room.width() - 2 * STRIP),
        (down.length(), room.height() - 2 * STRIP),
        LEAST_NM_A_DOT,
    );
    let taken = scale.dots(across.to) - scale.dots(across.from) + 2 * STRIP;
    let left = room.left + (room.width() - taken) / 2;
    let origin = dot(left + STRIP - scale.dots(across.from), room.top + STRIP - scale.dots(down.from));
    let view = View { scale, origin };
    let drawn = view.area(across, down);
    let front = Front { view, area: Area { left: drawn.left - STRIP, right: drawn.right + STRIP, ..drawn } };

    if let Some((wood, hole)) = wood(elevation).zip(elevation.opening) {
        let area = view.area(hole.across, wood);
        marks.add(Mark::Fill(area, WOOD));
        marks.add(Mark::Frame(area, 1, THIN));
    }
    surroundings(marks, elevation, &front);
    panel(marks, elevation, view);
    if let Some(hole) = elevation.opening {
        outline(marks, elevation.mount, hole, view);
    }
    rail(marks, elevation, view);
    words(marks, elevation, view, letters);
    front
}

/// Floor, ceiling and the ends of the wall, each hatched where it is cut through.
fn surroundings(marks: &mut Marks, elevation: &Elevation, front: &Front) {
    let (view, area) = (front.view, front.area);
    let row = |down: Length| view.y(down);
    if let Some(floor) = elevation.floor {
        let y = row(floor);
        marks.add(Mark::Line(dot(area.left, y), dot(area.right, y), 2, BLACK));
        marks.add(Mark::Hatch(Area { top: y + 1, bottom: y + STRIP, ..area }));
    }
    if let Some(top) = elevation.floor_to_come {
        let y = row(top);
        marks.add(Mark::Dashed(dot(area.left, y), dot(area.right, y), 1, BLACK));
    }
    let ceiling = shown_above(elevation, elevation.ceiling);
    if let Some(ceiling) = ceiling {
        let y = row(ceiling);
        marks.add(Mark::Hatch(Area { top: y - STRIP, bottom: y, ..area }));
        marks.add(Mark::Line(dot(area.left, y), dot(area.right, y), 2, BLACK));
    }
    if let Some(end) = shown_above(elevation, elevation.wall_above)
        && ceiling.is_none_or(|ceiling| row(ceiling) != row(end))
    {
        marks.add(Mark::Dashed(dot(area.left, row(end)), dot(area.right, row(end)), 2, BLACK));
    }
    let bottom = elevation.floor.map_or(area.bottom, row);
    for (wall, outward) in shown_walls(elevation).into_iter().zip([-1, 1]) {
        let Some(wall) = wall else { continue };
        let x = view.x(wall.at);
        let (left, right) = if outward < 0 { (x - STRIP, x) } else { (x, x + STRIP) };
        let strip = Area { left, top: area.top, right, bottom };
        match wall.ends_at {
            EndsAt::Wall => {
                marks.add(Mark::Hatch(strip));
                marks.add(Mark::Line(dot(x, strip.top), dot(x, bottom), 2, BLACK));
            }
            EndsAt::Cupboard => marks.add(Mark::Frame(strip, 2, BLACK)),
            EndsAt::Free => marks.add(Mark::Dashed(dot(x, strip.top), dot(x, bottom), 2, BLACK)),
        }
    }
}

/// What hangs in front of the opening, and the wand.
fn panel(marks: &mut Marks, elevation: &Elevation, view: View) {
    if let Panel { louvers: Some(hung), stack: Some(stack), .. } = elevation.panel {
        louvers(marks, hung, stack, elevation, view);
    }
    let across = Span { from: Length::ZERO, to: elevation.width };
    let blind = view.area(across, Span { from: elevation.rail.to, to: elevation.drop });
    marks.add(Mark::Frame(blind, 1, BLACK));
    if let Some((side, length)) = elevation.wand {
        let end = view.y(length);
        let columns: &[i32] = match side {
            ControlSide::Left => &[blind.left + 3],
            ControlSide::Right => &[blind.right - 4],
            ControlSide::Middle => {
                &[view.x(elevation.width.half_down()) - 3, view.x(elevation.width.half_down()) + 3]
            }
        };
        for &x in columns {
            marks.add(Mark::Line(dot(x, blind.top), dot(x, end), 2, BLACK));
        }
    }
}

/// The louvers at their pitch from the side where they stack, or a tone where they are too near,
/// and the stack.
fn louvers(marks: &mut Marks, louvers: Louvers, stack: Stack, elevation: &Elevation, view: View) {
    let down = Span { from: elevation.rail.to, to: elevation.drop };
    for across in stacks(stack, elevation.width) {
        marks.add(Mark::Fill(view.area(across, down), STACKED));
    }
    let blind = view.area(Span { from: Length::ZERO, to: elevation.width }, down);
    let line = |marks: &mut Marks, x: i32| {
        marks.add(Mark::Line(dot(x, blind.top), dot(x, blind.bottom), 1, LOUVERS));
    };
    if view.scale.dots(louvers.pitch) < LEAST_PITCH {
        marks.add(Mark::Fill(blind, STACKED));
    } else {
        let count = i64::from(louvers.count);
        let (from_left, from_right) = match stack.draw {
            Draw::Left => (count, 0),
            Draw::Right => (0, count),
            Draw::Split => (count / 2, count - count / 2),
        };
        for place in 1..from_left {
            line(marks, view.x(louvers.pitch * place));
        }
        for place in 1..from_right {
            line(marks, view.x(elevation.width - louvers.pitch * place));
        }
        if stack.draw == Draw::Split {
            line(marks, view.x(elevation.width.half_down()));
        }
    }
}

/// Where the louvers stand when the blind is open.
fn stacks(stack: Stack, width: Length) -> Vec<Span> {
    let deep = stack.width.min(width);
    let left = Span { from: Length::ZERO, to: deep };
    let right = Span { from: width - deep, to: width };
    match stack.draw {
        Draw::Left => vec![left],
        Draw::Right => vec![right],
        Draw::Split => vec![left, right],
    }
}

/// The opening: behind an outside blind it is hidden, so dashed.
fn outline(marks: &mut Marks, mount: Mount, hole: Hole, view: View) {
    let area = view.area(hole.across, hole.down);
    match mount {
        Mount::Outside | Mount::Ceiling => marks.dashed_frame(area, 2, BLACK),
        Mount::Inside => marks.add(Mark::Frame(area.grown(1), 2, BLACK)),
    }
}

/// Rail, valance and brackets.
fn rail(marks: &mut Marks, elevation: &Elevation, view: View) {
    let area = view.area(Span { from: Length::ZERO, to: elevation.width }, elevation.rail);
    let area = Area { bottom: area.bottom.max(area.top + 4), ..area };
    marks.add(Mark::Fill(area, BLACK));
    if let Some(valance) = elevation.valance {
        let front = view.area(valance, elevation.rail);
        for (x, outward) in [(front.left, -1), (front.right, 1)] {
            marks.add(Mark::Line(dot(x, area.top - 2), dot(x + outward, area.top - 2), 1, BLACK));
            marks.add(Mark::Line(dot(x, area.top - 2), dot(x, area.bottom + 3), 1, BLACK));
        }
    }
    for &center in &elevation.brackets {
        let x = view.x(center);
        let top = view.y(elevation.bracket_top).min(area.top - 2);
        marks.add(Mark::Fill(
            Area { left: x - 4, top: top - 2, right: x + 5, bottom: area.bottom + 4 },
            PAPER,
        ));
        marks.add(Mark::Fill(
            Area { left: x - 2, top: top - 2, right: x + 3, bottom: area.bottom + 4 },
            BLACK,
        ));
    }
}

/// Where the louvers stack and which leaf opens, in words where there is room, and an arrow.
fn words(marks: &mut Marks, elevation: &Elevation, view: View, letters: &Letters) {
    let blind = view.area(
        Span { from: Length::ZERO, to: elevation.width },
        Span { from: elevation.rail.to, to: elevation.drop },
    );
    let middle = (blind.left + blind.right) / 2;
    let say = |marks: &mut Marks, words: &str, middle: i32, baseline: i32| {
        let width = letters.width(words, Style::Side);
        let text = Text::new(letters, words, Style::Side, dot(middle - width / 2, baseline), Turn::Across);
        let clear = text.area.grown(3);
        let fits = clear.left > blind.left + 6
            && clear.right < blind.right - 6
            && clear.top > blind.top
            && clear.bottom < blind.bottom;
        if fits && marks.texts().all(|other| !other.area.meets(clear)) {
            marks.add(Mark::Fill(clear, PAPER));
            marks.text(text);
        }
    };
    if let Some(stack) = elevation.panel.stack {
        let y = blind.top + blind.height() * 2 / 5;
        let (left, right, stacks) = match stack.draw {
            Draw::Left => (true, false, "stacks left"),
            Draw::Right => (false, true, "stacks right"),
            Draw::Split => (true, true, "stacks both sides"),
        };
        if blind.height() > 24 {
            let reach = (blind.width() / 4).clamp(6, 60);
            let clear =
                Area { left: middle - reach - 2, top: y - 7, right: middle + reach + 3, bottom: y + 8 };
            marks.add(Mark::Fill(clear, PAPER));
            marks.add(Mark::Line(dot(middle - reach, y), dot(middle + reach, y), 3, BLACK));
            for (shown, tip, size) in [(left, middle - reach, -12), (right, middle + reach, 12)] {
                if shown {
                    marks.arrow_head(dot(tip + size / 4, y), size);
                }
            }
        }
        say(marks, stacks, middle, y + 14 + Style::Side.height());
    }
    let leaves: &[i32] = match elevation.leaf {
        Some(Leaf::Left) => &[1],
        Some(Leaf::Right) => &[3],
        Some(Leaf::Both) => &[1, 3],
        Some(Leaf::None) | None => &[],
    };
    for quarter in leaves {
        say(
            marks,
            "leaf opens",
            blind.left + blind.width() * quarter / 4,
            blind.top + blind.height() * 4 / 5,
        );
    }
}
