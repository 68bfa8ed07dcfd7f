//! Between which heights, on the wall or on the casing: above the head as far as screws and bracket
//! need, and down to where the blind ends.
//!
//! The bracket's foot stands on the wall or on the casing, never over the opening or half over the
//! casing's edge: both set the least height. A casing that is wider than the wall above it contradicts
//! that, and is asked about before (`plausible`).

use super::bottom::bottom;
use super::{Down, Face};
use crate::length::Length;
use crate::query::Held;
use crate::rules::{CoverRules, Project, Rules};
use crate::sizing::limits::{self, Ends};
use crate::sizing::queries::SizingQuery;
use crate::sizing::{Mount, ground, header};
use crate::survey::{Facts, Given, Kind};
use crate::worked::{Number, Record, Source};

/// Rail tops above the head that are allowed, both ends included.
#[derive(Clone, Copy)]
struct Band {
    least: Length,
    most: Length,
}

/// The heights, and the range of drops.
pub(super) fn size<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    rules: &Rules,
    (face, reach): (Face, Length),
    record: &mut Record<'r>,
) -> Result<(Down, Ends), Held> {
    let counted = if facts.kind == Kind::Window { facts.height.most() } else { facts.height.least() };
    let head = record.step(Number::Drop, "height of the opening", counted.at, counted.value);
    let bottom = bottom(facts, cover, reach + face.stands_out(), record);
    let wall = wall_above(facts, head, &rules.project);
    let heights = Heights { facts, cover, face, head, bottom, wall };
    let band = heights.band(rules);
    match facts.drop_wanted {
        Some(wanted) => heights.for_wanted(wanted, band, record),
        None => heights.preferred(band, record),
    }
}

/// Free wall above the head, measured or up to the project's ceiling.
pub(super) fn wall_above(facts: &Facts, head: Length, project: &Project) -> Option<Given<Length>> {
    facts.wall_above.or_else(|| {
        let (ceiling, sill) = (project.ceiling_height?, facts.sill_height()?);
        Some(Given { value: ceiling.value - sill - head, at: ceiling.at })
    })
}

struct Heights<'f, 'r> {
    facts: &'f Facts,
    cover: &'r CoverRules,
    face: Face,
    head: Length,
    bottom: Length,
    wall: Option<Given<Length>>,
}

impl<'r> Heights<'_, 'r> {
    /// From what screws and foot need to what the wall, or the casing, leaves.
    fn band(&self, rules: &Rules) -> Band {
        let cover = self.cover;
        let edge = match self.face {
            Face::Wall => ground::greatest_edge(self.facts, Mount::Outside, (cover, rules)),
            Face::Casing { .. } => *cover.screw_edge,
        };
        // The lower screw stands its distance below the bracket's top, which is above the rail's.
        let for_screws = edge + *cover.lower_screw - *cover.bracket_above_rail;
        let least = for_screws.max(*cover.above_least);
        let casing = self.facts.casing_width_or_zero();
        let (least, most) = match self.face {
            Face::Wall if casing > Length::ZERO => {
                (least.max(casing + *cover.above_least), *cover.above_most)
            }
            Face::Wall => (least, *cover.above_most),
            Face::Casing { .. } => (least, casing - *cover.casing_edge),
        };
        let room = self.wall.map(|wall| wall.value - *cover.room_above);
        Band { least, most: room.map_or(most, |room| most.min(room)) }
    }

    /// As high as is preferred, within the band and on the wood.
    fn preferred(&self, band: Band, record: &mut Record<'r>) -> Result<(Down, Ends), Held> {
        let (cover, of) = (self.cover, Number::AboveHead);
        let mut above = record.step(of, "preferred height", &cover.above_wanted, *cover.above_wanted);
        if let Some(wall) = self.wall {
            let step = "no more than the free wall minus clearance above the rail";
            above = record.step(of, step, wall.at, above.min(band.most));
        }
        if band.most < band.least {
            return Err(self.no_room(band, record));
        }
        above = above.min(band.most);
        if let Face::Casing { .. } = self.face {
            above = record.step(of, "just below the edge of the casing", &cover.casing_edge, band.most);
        } else if above < band.least {
            let source = self.facts.casing_width.map_or(Source::Above, |casing| casing.at.into());
            above =
                record.step(of, "bracket's foot and screws clear of opening and casing", source, band.least);
        }
        let mut allowed = band;
        if let (Face::Wall, Some(wood), Some(given)) =
            (self.face, header::rail_tops(self.facts, cover), self.facts.header_height)
        {
            match self.on_wood(band, wood, above) {
                Some(both) => {
                    allowed = both;
                    let step = "height at which both screws are well inside the header";
                    above = record.step(of, step, given.at, above.clamp(both.least, both.most));
                }
                None => header::check(self.facts, above, cover, record),
            }
        }
        let (head, bottom, step) = (self.head, self.bottom, *cover.rounding_step);
        let rail_top = record.step(Number::Drop, "plus rail top above head", Source::Above, head + above);
        let whole = record.step(Number::Drop, "rail top to blind bottom", Source::Above, rail_top - bottom);
        let down = whole.rounded_down_to(step);
        let preferred = record.step(Number::Drop, "rounded down to the step", &cover.rounding_step, down);
        let drops = Ends {
            preferred,
            least: (head + allowed.least - bottom).rounded_up_to(step),
            most: (head + allowed.most - bottom).rounded_down_to(step),
        };
        let drops = self.within_limits(drops, record)?;
        Ok((Down { head, bottom, above, preferred_drop: preferred }, drops))
    }

    /// What of the band has both screws in the header, the drop's limits counted. A rail top whose drop
    /// is rounded down to the longest is within them.
    fn on_wood(&self, band: Band, wood: (Length, Length), above: Length) -> Option<Band> {
        let step = *self.cover.rounding_step;
        let at = |drop: Length| drop + self.bottom - self.head;
        let longest = self.cover.most_drop.rounded_down_to(step);
        let is_within = (self.head + above - self.bottom).rounded_down_to(step) <= longest;
        let highest = if is_within { at(longest).max(above) } else { at(longest) };
        let least = band.least.max(wood.0).max(at(self.cover.least_drop.rounded_up_to(step)));
        let most = band.most.min(wood.1).min(highest);
        (least <= most).then_some(Band { least, most })
    }

    /// A wanted drop moves the rail's top: refused where the wall, the casing or the bracket forbids it.
    fn for_wanted(
        &self,
        wanted: Given<Length>,
        band: Band,
        record: &mut Record<'r>,
    ) -> Result<(Down, Ends), Held> {
        let (cover, head, bottom) = (self.cover, self.head, self.bottom);
        let preferred = record.step(Number::Drop, "drop wanted, taken as given", wanted.at, wanted.value);
        let above = bottom + preferred - head;
        let above = record.step(Number::AboveHead, "bottom plus drop, minus height", Source::Above, above);
        let at = Some(wanted.at);
        let lowest = (*cover.above_floor).max(*cover.bracket_foot - *cover.bracket_above_rail);
        let casing = self.facts.casing_width_or_zero();
        let on_foot = casing > Length::ZERO && above < casing + *cover.above_least;
        let refused = if above < lowest {
            Some(SizingQuery::DropTooShort { least: record.shown(lowest) })
        } else if self.face == Face::Wall && on_foot {
            Some(SizingQuery::DropOnCasing { least: record.shown(casing + *cover.above_least) })
        } else if self.face != Face::Wall && !(band.least..=band.most).contains(&above) {
            let (least, most) = (record.shown(band.least), record.shown(band.most));
            Some(SizingQuery::DropOffCasing { least, most })
        } else if self.wall.is_some_and(|wall| above > wall.value - *cover.room_above) {
            Some(SizingQuery::DropOverWall { room: record.shown(*cover.room_above) })
        } else {
            None
        };
        if let Some(refused) = refused {
            return Err(record.hold(&refused, at, record.shown(above).to_string()));
        }
        let (least, most) = (band.least, *cover.above_most);
        if self.face == Face::Wall && !(least..=most).contains(&above) {
            let query = SizingQuery::DropMovesRail { least: record.shown(least), most: record.shown(most) };
            record.ask(&query, at, record.shown(above).to_string());
        }
        if self.face == Face::Wall {
            header::check(self.facts, above, cover, record);
        }
        let drops = self.within_limits(Ends::only(preferred), record)?;
        Ok((Down { head, bottom, above, preferred_drop: preferred }, drops))
    }

    fn within_limits(&self, drops: Ends, record: &mut Record<'r>) -> Result<Ends, Held> {
        let at = self.facts.drop_wanted.unwrap_or(self.facts.height.most()).at;
        limits::drops(drops, self.cover, record).map_err(|limit| record.hold(&limit, Some(at), ""))
    }

    fn no_room(&self, band: Band, record: &mut Record<'_>) -> Held {
        let needed = record.shown(band.least + *self.cover.room_above);
        record.hold(&SizingQuery::NoRoomAbove { least: needed }, self.wall.map(|wall| wall.at), "")
    }
}
