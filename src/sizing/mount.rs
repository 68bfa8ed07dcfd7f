//! Which mount an opening gets, and whether its blind may be made now.
//!
//! Finished sizes: the mount must be given. Inside, a recess known to be too shallow and a leaf that
//! comes in still stop the opening; a wanted drop must be the given one; a floor not yet laid still
//! makes it provisional.
//!
//! Quantity over 1 with one measurement means one width or one height.

use rust_decimal::Decimal;

use super::lean::{self, Lean};
use super::limits::{self, Ends};
use super::queries::SizingQuery;
use super::{
    Covered, Hung, InRecess, Mount, OnWall, OutsideAllowance, Release, UnderCeiling, floor, inside, outside,
};
use crate::query::Held;
use crate::rules::{CoverRules, Rules};
use crate::survey::{Facts, MountWanted, SizeSource};
use crate::worked::{Number, Record, Source};

/// Square nanometers in a square foot (0.09290304 m2 exactly; NIST SP 811).
const NM2_PER_SQ_FT: i128 = 92_903_040_000_000_000;

/// Covers a measured opening: inside if asked for or if it fits, else outside; from the ceiling only if
/// asked for.
pub(super) fn cover<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    rules: &Rules,
    record: &mut Record<'r>,
) -> Result<Covered<'r>, Held> {
    let wanted = facts.mount.map_or(MountWanted::Either, |mount| mount.value);
    let lean = lean::of(facts, cover, record);
    let covered = match wanted {
        MountWanted::Outside => cover_outside(facts, lean, cover, rules, record)?,
        MountWanted::Inside => cover_inside(facts, lean, cover, rules, record)?,
        MountWanted::Ceiling => cover_from_ceiling(facts, lean, cover, rules, record)?,
        MountWanted::Either if fits_inside(facts, lean, cover, record) => {
            cover_inside(facts, lean, cover, rules, record)?
        }
        MountWanted::Either => cover_outside(facts, lean, cover, rules, record)?,
    };
    check_spread(facts, covered.hung.mount(), cover, record);
    Ok(covered)
}

/// Whether the recess takes the blind, so far as a silent trial of the same rules can tell.
fn fits_inside<'r>(facts: &Facts, lean: Option<Lean>, cover: &'r CoverRules, record: &Record<'r>) -> bool {
    let Some(depth) = facts.recess_depth else {
        return false;
    };
    let mut trial = record.trial();
    let sized = inside::size(facts, lean, cover, &mut trial);
    depth.value >= inside::depth_needed(facts, cover, &mut trial)
        && inside::obstacle(facts, lean, cover, record).is_none()
        && limits::window(sized.width, sized.drop, cover, &mut trial).is_ok()
}

fn cover_inside<'r>(
    facts: &Facts,
    lean: Option<Lean>,
    cover: &'r CoverRules,
    rules: &Rules,
    record: &mut Record<'r>,
) -> Result<Covered<'r>, Held> {
    let asked_at = facts.mount.map(|mount| mount.at);
    let needed = inside::depth_needed(facts, cover, record);
    let sized = inside::size(facts, lean, cover, record);
    match facts.recess_depth {
        Some(depth) if depth.value < needed => {
            return Err(record.hold(
                &SizingQuery::InsideTooShallow { needed: record.shown(needed) },
                Some(depth.at),
                "",
            ));
        }
        Some(depth) => {
            record.step(Number::Mount, "recess deep enough", depth.at, Mount::Inside.word());
        }
        None => {
            let query = SizingQuery::DepthUnknown { needed: record.shown(needed) };
            record.ask(&query, asked_at, "");
        }
    }
    if let Some(obstacle) = inside::obstacle(facts, lean, cover, record) {
        return Err(record.hold(&obstacle, asked_at, ""));
    }
    let window = limits::window(sized.width, sized.drop, cover, record)
        .map_err(|limit| record.hold(&limit, asked_at, ""))?;
    if let Some(wanted) = facts.drop_wanted.filter(|wanted| wanted.value > sized.most_drop) {
        let query = SizingQuery::DropOverRecess { most: record.shown(sized.most_drop) };
        return Err(record.hold(&query, Some(wanted.at), ""));
    }
    let hung = InRecess { allowance: Some(sized.allowance), ..inside::hang(facts, cover, rules, record) };
    Ok(Covered { hung: Hung::Inside(hung), lean, window })
}

fn cover_outside<'r>(
    facts: &Facts,
    lean: Option<Lean>,
    cover: &'r CoverRules,
    rules: &Rules,
    record: &mut Record<'r>,
) -> Result<Covered<'r>, Held> {
    note_mount(facts, "on the wall face", Mount::Outside, record);
    let (hung, down, drops) = outside::on_wall(facts, cover, rules, record)?;
    let (widths, sides) = outside::across(facts, cover, record);
    let window = limits::window(widths, drops, cover, record)
        .map_err(|limit| record.hold(&limit, Some(facts.width.most().at), ""))?;
    outside::check_casing(facts, hung.face, cover, record);
    let allowance = Some(OutsideAllowance::of(facts, sides, down));
    Ok(Covered { hung: Hung::Outside(OnWall { allowance, ..hung }), lean, window })
}

fn cover_from_ceiling<'r>(
    facts: &Facts,
    lean: Option<Lean>,
    cover: &'r CoverRules,
    rules: &Rules,
    record: &mut Record<'r>,
) -> Result<Covered<'r>, Held> {
    note_mount(facts, "from the ceiling", Mount::Ceiling, record);
    let hung = outside::hang_from_ceiling(facts, cover, rules, record);
    let (down, drops) = outside::down_from_ceiling(facts, cover, rules, &hung, record)?;
    let (widths, sides) = outside::across(facts, cover, record);
    let window = limits::window(widths, drops, cover, record)
        .map_err(|limit| record.hold(&limit, Some(facts.width.most().at), ""))?;
    let allowance = Some(OutsideAllowance::of(facts, sides, down));
    Ok(Covered { hung: Hung::Ceiling(UnderCeiling { allowance, ..hung }), lean, window })
}

fn note_mount(facts: &Facts, step: &'static str, mount: Mount, record: &mut Record<'_>) {
    let source = facts.mount.map_or(Source::Above, |mount| mount.at.into());
    record.step(Number::Mount, step, source, mount.word());
}

/// A finished size is taken as it is: nothing comes off, and what needs the opening stays unknown.
pub(super) fn take_finished<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    rules: &Rules,
    record: &mut Record<'r>,
) -> Result<Covered<'r>, Held> {
    let mount = match facts.mount.map(|mount| mount.value) {
        Some(MountWanted::Inside) => Mount::Inside,
        Some(MountWanted::Outside) => Mount::Outside,
        Some(MountWanted::Ceiling) => Mount::Ceiling,
        Some(MountWanted::Either) | None => {
            return Err(record.hold(
                &SizingQuery::FinishedWithoutMount,
                facts.mount.map(|mount| mount.at),
                "",
            ));
        }
    };
    note_mount(facts, "as given", mount, record);
    let (width, drop) = (facts.width.least(), facts.height.least());
    if let Some(wanted) = facts.drop_wanted.filter(|wanted| wanted.value != drop.value) {
        let query = SizingQuery::DropNotFinished { drop: record.shown(drop.value) };
        return Err(record.hold(&query, Some(wanted.at), record.shown(wanted.value).to_string()));
    }
    let given = [
        record.step(Number::Width, "finished width as given", width.at, width.value),
        record.step(Number::Drop, "finished drop as given", drop.at, drop.value),
    ];
    let [widths, drops] = given.map(Ends::only);
    let window = limits::window(widths, drops, cover, record)
        .map_err(|limit| record.hold(&limit, Some(width.at), ""))?;
    let hung = match mount {
        Mount::Outside => Hung::Outside(outside::hang_finished(facts, cover, record)?),
        Mount::Ceiling => Hung::Ceiling(outside::hang_from_ceiling(facts, cover, rules, record)),
        Mount::Inside => {
            check_finished_inside(facts, cover, record)?;
            Hung::Inside(inside::hang(facts, cover, rules, record))
        }
    };
    Ok(Covered { hung, lean: None, window })
}

/// What stops an inside mount also where its size is finished: a recess known to be too shallow, and
/// a leaf that comes in.
fn check_finished_inside<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> Result<(), Held> {
    let needed = inside::depth_needed(facts, cover, record);
    if let Some(depth) = facts.recess_depth.filter(|depth| depth.value < needed) {
        let query = SizingQuery::InsideTooShallow { needed: record.shown(needed) };
        return Err(record.hold(&query, Some(depth.at), ""));
    }
    match inside::leaf_in_the_way(facts) {
        Some(query) => Err(record.hold(&query, facts.opens.map(|opens| opens.at), "")),
        None => Ok(()),
    }
}

/// Whether the blind may be made now, with a check for every reason to measure again.
pub(super) fn release(
    facts: &Facts,
    mount: Mount,
    quantity: u32,
    rules: &Rules,
    record: &mut Record<'_>,
) -> Release {
    let mut release = Release::Make;
    if facts.source != SizeSource::Tape {
        let query = SizingQuery::NotFromTape { measured: facts.source, mount };
        record.ask(&query, facts.source_at, "");
        if mount == Mount::Inside {
            release = Release::Provisional;
        }
    }
    if floor::is_open_question(facts, &rules.project) {
        record.ask(&SizingQuery::FloorToCome, facts.floor.map(|floor| floor.at), "");
        release = Release::Provisional;
    }
    let measured_once = facts.width.count() == 1 || facts.height.count() == 1;
    if quantity > 1 && mount == Mount::Inside && measured_once {
        record.ask(&SizingQuery::MeasureEach, Some(facts.width.least().at), format!("{quantity} openings"));
    }
    release
}

/// Spread of the measurements of one opening over which someone should look again.
fn check_spread(facts: &Facts, mount: Mount, cover: &CoverRules, record: &mut Record<'_>) {
    let area = i128::from(facts.width.least().value.nm()) * i128::from(facts.height.least().value.nm());
    let small_area = *cover.small_opening_sq_ft * Decimal::from(NM2_PER_SQ_FT);
    let small = mount == Mount::Inside && Decimal::from(area) < small_area;
    let limit = if small { *cover.small_spread_limit } else { *cover.spread_limit };
    let shown = record.shown(limit);
    let sides = [
        (SizingQuery::WidthSpread { limit: shown }, &facts.width),
        (SizingQuery::HeightSpread { limit: shown }, &facts.height),
    ];
    for (query, measured) in sides {
        let spread = measured.most().value - measured.least().value;
        if spread > limit {
            let at = Some(measured.most().at);
            record.ask(&query, at, record.shown(spread).to_string());
        }
    }
}
