//! One opening's block: its drawing at the left, and at its side the figures to hang it by.
//!
//! What stands in cells and what in the drawing alone: everything that is measured or chosen stands
//! in cells, so that it is read from afar, searched for and there without drawings; walls, header,
//! ceiling and floor are in the drawing alone.

use super::super::cell::Cell;
use super::super::look::Tone;
use super::fixing;
use super::line::Line;
use super::source::Source;
use crate::blinds::{Louvers, Returns};
use crate::fitting::{Blind, ControlSide, Escape, Fitted};
use crate::length::{Length, Units};
use crate::query::OpeningIndex;
use crate::report::{Finished, Hanging, State};
use crate::sizing::{Hung, Mount};
use crate::survey::{Control, Identity, Kind};

/// Centers that fit on one line.
const CENTERS_A_LINE: usize = 4;
/// Points that a drawing takes.
pub(super) const DRAWING_HEIGHT: u32 = 174;

/// The lines of an opening; `of` is its number among the unit's openings.
pub(super) fn lines<'p>(source: &Source<'p>, opening: OpeningIndex, of: (usize, usize)) -> Vec<Line<'p>> {
    let report = source.report;
    let who = &report.survey.openings[opening].who;
    let Some(hanging) = report.hanging(source.doubts, opening) else {
        let stops: Vec<String> = source.doubts.stops(opening).map(|stop| stop.words()).collect();
        return vec![
            Line::Band(format!("{} - HELD", name(who, of)), Tone::Held),
            Line::Words(format!("Reason held: {}", stops.join("; ")).into(), Tone::PageWords),
            Line::Gap(6),
        ];
    };
    let mut lines = vec![band(source, opening, who, of, &hanging)];
    let beside = figures(source, opening, &hanging);
    let short = match source.is_drawn(opening) {
        true => DRAWING_HEIGHT.saturating_sub(beside.iter().map(|line| line.height(source.room)).sum()),
        false => 0,
    };
    lines.extend(beside);
    if short > 0 {
        lines.push(Line::Gap(short));
    }
    let (blind, units) = (hanging.blind, report.rules.project.units);
    let mut across = vec![format!("Start at: {}", hanging.start.words(units))];
    across.extend(blind.fitted.valance.map(|front| valance(front, &blind.fitted, units)));
    across.push(fixing::load(blind, units));
    lines.extend(across.into_iter().map(|words| Line::Words(words.into(), Tone::PageWords)));
    lines.extend(
        hanging
            .cautions
            .into_iter()
            .map(|words| Line::Words(format!("Caution: {words}").into(), Tone::PageCaution)),
    );
    if !who.note.is_empty() {
        lines.push(Line::Words(format!("Note: {}", who.note).into(), Tone::PageWords));
    }
    lines.push(Line::Boxes);
    lines.push(Line::Gap(3));
    lines
}

/// `1 of 4: D1, Lounge x 2`.
fn name(who: &Identity, of: (usize, usize)) -> String {
    let room = if who.room.is_empty() { String::new() } else { format!(", {}", who.room) };
    let several = if who.quantity > 1 { format!(" x {}", who.quantity) } else { String::new() };
    format!("{} of {}: {}{room}{several}", of.0, of.1, who.name)
}

fn band<'p>(
    source: &Source<'p>,
    opening: OpeningIndex,
    who: &Identity,
    of: (usize, usize),
    hanging: &Hanging<'_>,
) -> Line<'p> {
    let line = order_lines(source.report.order.lines_of(opening));
    let provisional = if source.report.state(opening) == State::Provisional { " - PROVISIONAL" } else { "" };
    let mount = hanging.blind.sizing.hung.mount().word();
    Line::Band(
        format!("{} - {mount} mount{line} - seen from inside the room{provisional}", name(who, of)),
        Tone::PageBand,
    )
}

fn figures<'p>(source: &Source<'p>, opening: OpeningIndex, hanging: &Hanging<'p>) -> Vec<Line<'p>> {
    let units = source.report.rules.project.units;
    let blind = hanging.blind;
    let (fitted, size) = (&blind.fitted, blind.sourced.size);
    let mut lines =
        vec![Line::Size(opening, &source.report.survey.openings[opening].who.name, [size.width, size.drop])];
    lines.extend(centers(fitted));
    lines.push(Line::Pair(Box::new([
        ("Bracket top above floor", Cell::known(fitted.brackets.top_above_floor)),
        ("Bracket top above head", Cell::known(fitted.brackets.top_above_head)),
    ])));
    lines.extend(hanging.finished.map(above_finished_floor));
    let (depth, left, right) = match &blind.sizing.hung {
        Hung::Outside(wall) => (
            ("Reach to louver center", wall.reach.into()),
            ("Overlap left", Cell::known(fitted.overlap_left())),
            ("Overlap right", Cell::known(fitted.overlap_right())),
        ),
        Hung::Ceiling(ceiling) => (
            ("Setback to rail's center", ceiling.from_wall.into()),
            ("Overlap left", Cell::known(fitted.overlap_left())),
            ("Overlap right", Cell::known(fitted.overlap_right())),
        ),
        Hung::Inside(recess) => (
            ("Setback to rail's center", recess.rail.map_or("measure".into(), |rail| rail.setback.into())),
            ("End gaps", Cell::known(hanging.rail_from_edge)),
            ("Past wall by", Cell::known(recess.rail.map(|rail| rail.stands_proud))),
        ),
    };
    lines.push(Line::Pair(Box::new([rail_end(hanging.rail_from_edge), depth])));
    lines.push(Line::Figures(Box::new([left, right, below(source, opening, blind)])));
    let [side, by] = control(blind);
    let draw = fitted.panel.stack.map(|stack| stack.draw.word());
    lines.push(Line::Figures(Box::new([("Draw", draw.into()), side, by])));
    if let Some(finished) = hanging.finished.filter(|_| fitted.cord.is_some()) {
        let cord = finished.cord.map_or("unknown".to_owned(), |cord| cord.show(units));
        lines.push(Line::Beside("Cord", format!("{cord} above the finished floor")));
    }
    lines.extend(fitted.escape.map(|escape| Line::Beside("Escape", way_out(escape, units))));
    lines.push(Line::Beside("Fixing", fixing::screws(blind, units)));
    if let Some(Louvers { count, length, .. }) = fitted.panel.louvers {
        let open = fitted.clear_open.map_or("unknown".to_owned(), |clear| clear.on_tape(units));
        let words = format!("{count}, each {}; clear when open {open}", length.on_tape(units));
        lines.push(Line::Beside("Louvers", words));
    }
    lines
}

/// Heights that stand above the floor as it was when it was measured, once more above the one to come.
fn above_finished_floor<'p>(finished: Finished) -> Line<'p> {
    Line::Pair(Box::new([
        ("Top above finished floor", Cell::known(finished.bracket_top)),
        ("Gap to finished floor", Cell::known(finished.gap_below)),
    ]))
}

/// What operates the blind, and at which end.
fn control<'p>(blind: &Blind<'_>) -> [(&'static str, Cell<'p>); 2] {
    let fitted = &blind.fitted;
    let side = fitted.control_side.map(ControlSide::word);
    match blind.sizing.operation.control {
        Control::Wand => {
            [("Control side", side.unwrap_or("no wand").into()), ("Wand length", fitted.wand.into())]
        }
        Control::Cord => [
            ("Control side", side.into()),
            ("Cord height", Cell::known(fitted.cord.and_then(|cord| cord.height))),
        ],
        Control::Motor => [("Control side", side.unwrap_or("unknown").into()), ("Control", "motor".into())],
    }
}

/// `19 1/8 in clear, 20 in needed`.
fn way_out(escape: Escape, units: Units) -> String {
    let clear = escape.clear.map_or("width not known".to_owned(), |clear| clear.show(units));
    match escape.least {
        Some(least) => {
            format!("{clear} clear, {} needed; it opens by hand, without key or tool", least.show(units))
        }
        None => {
            format!("{clear} clear: ask your authority what is needed; it opens by hand, without key or tool")
        }
    }
}

/// `Valance: front 79 1/2 in; returns 5 1/8 in left and right; clips 2 in, 31 in from rail's left end`.
fn valance(front: Length, fitted: &Fitted<'_>, units: Units) -> String {
    let shown = |length: Length| length.on_tape(units);
    let Returns { left, right } = fitted.returns();
    let returns = match (left > Length::ZERO, right > Length::ZERO) {
        (false, false) => "no returns".to_owned(),
        (true, true) if left == right => format!("returns {} left and right", shown(left)),
        (true, true) => format!("returns {} left, {} right", shown(left), shown(right)),
        (true, false) => format!("return {} left only", shown(left)),
        (false, true) => format!("return {} right only", shown(right)),
    };
    let clips: Vec<String> = fitted.clips.iter().map(|clip| shown(*clip)).collect();
    format!("Valance: front {}; {returns}; clips {} from rail's left end", shown(front), clips.join(", "))
}

/// The gap under the blind: to the sill where it hangs in a window, else to the floor.
fn below<'p>(source: &Source<'_>, opening: OpeningIndex, blind: &Blind<'_>) -> (&'static str, Cell<'p>) {
    let kind = source.report.survey.openings[opening].facts.as_ref().map(|facts| facts.kind);
    match (blind.sizing.hung.mount(), kind) {
        (Mount::Inside, Some(Kind::Window)) => ("Gap to sill", Cell::known(blind.fitted.gap_to_sill)),
        _ => ("Gap to floor", Cell::known(blind.fitted.gap_below)),
    }
}

fn rail_end<'p>(from_edge: Option<Length>) -> (&'static str, Cell<'p>) {
    match from_edge {
        Some(past) if past < Length::ZERO => ("Rail past left edge by", Cell::Length(past.abs())),
        inside => ("Rail inside left edge by", Cell::known(inside)),
    }
}

/// Centers from the opening's edge, by which they are marked, and from the rail's end, by which
/// they are checked.
fn centers<'p>(fitted: &Fitted<'_>) -> Vec<Line<'p>> {
    let from_rail = fitted.brackets.from_left.chunks(CENTERS_A_LINE);
    let mut from_opening =
        fitted.brackets.from_opening_left.iter().flat_map(|all| all.chunks(CENTERS_A_LINE));
    let mut lines = Vec::new();
    for (place, from_rail) in from_rail.enumerate() {
        lines.push(Line::Numbers(place * CENTERS_A_LINE + 1, from_rail.len()));
        if let Some(from_opening) = from_opening.next() {
            lines.push(Line::Centers("from opening's left edge", from_opening.to_vec()));
        }
        lines.push(Line::Centers("from rail's left end", from_rail.to_vec()));
    }
    lines
}

/// ` - order line 7`, or ` - order lines 7, 15`; nothing for an opening without a blind.
fn order_lines(lines: &[usize]) -> String {
    let words = if lines.len() == 1 { "order line" } else { "order lines" };
    let numbers = lines.iter().map(usize::to_string).collect::<Vec<_>>().join(", ");
    if lines.is_empty() { String::new() } else { format!(" - {words} {numbers}") }
}
