//! What stands above the openings: the unit, what to bring, and what left and right mean.

use super::super::cell::Cell;
use super::super::look::Tone;
use super::super::{HEIGHTS, LEFT_AND_RIGHT};
use super::line::Line;
use super::source::{Links, Source};
use crate::length::Units;
use crate::report::{Bit, LOUVER_FACE, Load, Unit};
use crate::survey::shown_floor;

/// What left and right are of.
const HANDS: &str = "Draw: side where the louvers stack. Control side: where the wand or cord hangs when closed, or the motor is.";

/// The lines above a unit's first opening.
pub(super) fn lines<'p>(
    source: &Source<'p>,
    unit: &Unit<'_>,
    title: &str,
    links: Links<'p>,
) -> Vec<Line<'p>> {
    let project = &source.report.rules.project;
    let load = source.report.load(unit);
    let floor = shown_floor(unit.floor);
    let place = [project.name.as_str(), project.site.as_str(), unit.building, &floor];
    let place: Vec<&str> = place.into_iter().filter(|part| !part.is_empty()).collect();
    let sizes = match project.units {
        Units::Inches => "Sizes in inches.",
        Units::Millimeters => "Sizes in millimeters.",
    };
    let mut legend = vec![LEFT_AND_RIGHT, HANDS, HEIGHTS];
    legend.extend(load.has_louvers.then_some(LOUVER_FACE));
    legend.push(sizes);
    let mut lines = vec![
        Line::Title(named(unit, title)),
        Line::Facts(
            place.join(", ").into(),
            vec![
                ("Openings", load.openings.into()),
                ("Boxes", load.boxes.into()),
                (heaviest(project.units), load.heaviest.map(Cell::Mass).into()),
            ],
        ),
        Line::Facts(
            source.stamp.clone().into(),
            vec![
                ("Held", load.held.into()),
                ("Provisional", load.provisional.into()),
                ("People", (load.people > 0).then_some(load.people).into()),
            ],
        ),
        Line::Links(vec![links.index, links.order, links.queries]),
        Line::Words(tools(&load, project.units).into(), Tone::PageWords),
        Line::Words(legend.join(" ").into(), Tone::PageWords),
    ];
    if let Some(why) = &source.why_not_drawn {
        lines.push(Line::Words(why.clone().into(), Tone::PageWords));
    }
    lines.push(Line::Gap(3));
    lines
}

/// The lines above a page that goes on.
pub(super) fn again<'p>(source: &Source<'p>, unit: &Unit<'_>, title: &str) -> Vec<Line<'p>> {
    vec![
        Line::Title(format!("{}, continued", named(unit, title))),
        Line::Words(source.stamp.clone().into(), Tone::PageWords),
        Line::Gap(3),
    ]
}

const fn heaviest(units: Units) -> &'static str {
    match units {
        Units::Inches => "Heaviest, lb",
        Units::Millimeters => "Heaviest, kg",
    }
}

fn named(unit: &Unit<'_>, title: &str) -> String {
    if unit.unit.is_empty() { title.to_owned() } else { format!("Unit {title}") }
}

fn tools(load: &Load<'_>, units: Units) -> String {
    let mut tools =
        vec!["tape, level, pencil, step ladder, cable and pipe detector, drill and driver".to_owned()];
    if load.substrates.iter().any(|substrate| substrate.is_hard()) {
        tools.push("hammer drill with dust shroud and vacuum".to_owned());
    }
    tools.extend(load.bits.iter().map(|(bit, substrate)| match bit {
        Bit::Drill(hole) => format!("{} bit for {substrate}", hole.on_tape(units)),
        Bit::Driver(head) => format!("{head} driver bit for {substrate}"),
    }));
    format!("Tools and bits: {}.", tools.join(", "))
}
