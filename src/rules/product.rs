//! Products: each a family with its own rules.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::louver;
use super::queries::{Findings, RuleQuery};
use super::raw::{Missing, RawRow, Words};
use crate::length::{Length, Units};
use crate::name::{self, same_name};
use crate::schema::rules::products as p;
use crate::survey::Kind;
use crate::worked::Rule;

/// A product that can be ordered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Product {
    /// Its name, such as `louver-89`.
    pub name: Arc<str>,
    /// Its colours; the first is the one a blank means. Never empty.
    pub colours: Vec<Arc<str>>,
    /// The kinds of opening it suits.
    pub suits: Vec<Kind>,
    /// Its family's rules.
    pub family: Family,
}

/// The product families.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Family {
    /// Vertical louvers.
    Louver(Box<LouverRules>),
}

/// The rules of a vertical-louver product. Lengths are finished sizes unless said otherwise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LouverRules {
    /// Width of a louver.
    pub louver_width: Rule<Length>,
    /// Distance from one carrier to the next.
    pub pitch: Rule<Length>,
    /// Least finished width, allowed.
    pub least_width: Rule<Length>,
    /// Most finished width, allowed.
    pub most_width: Rule<Length>,
    /// Least finished drop, allowed.
    pub least_drop: Rule<Length>,
    /// Most finished drop, allowed.
    pub most_drop: Rule<Length>,
    /// Step to which a finished size is rounded; settled for the survey's units where blank.
    pub rounding_step: Rule<Length>,

    /// Most recess depth that is believed; over it the unit is likely wrong.
    pub most_depth: Rule<Length>,
    /// The same for a handle.
    pub most_handle: Rule<Length>,
    /// The same for a casing.
    pub most_trim: Rule<Length>,
    /// The same for a floor still to be laid.
    pub most_floor_to_come: Rule<Length>,

    /// Inside: clearance, each side.
    pub side_clearance: Rule<Length>,
    /// Inside: what comes off the height.
    pub inside_drop_clearance: Rule<Length>,
    /// Least air between a louver's edge and a handle, casing or glass.
    pub louver_clearance: Rule<Length>,
    /// Half the headrail, wall face to the rail's centre at the least.
    pub half_headrail: Rule<Length>,
    /// Spread of three measurements over which to look (inclusive limit: allowed up to this).
    pub spread_limit: Rule<Length>,
    /// The same for an inside mount in an opening under `small_opening`.
    pub small_spread_limit: Rule<Length>,
    /// Area in square feet under which the small limit holds.
    pub small_opening_sq_ft: Rule<Decimal>,
    /// Inside: the window of sizes: most and least that may come off width and drop.
    pub window_most_off: Rule<Length>,
    /// See `window_most_off`.
    pub window_least_off: Rule<Length>,

    /// Outside: overlap wanted, each side.
    pub overlap_wanted: Rule<Length>,
    /// Outside: least overlap, each side.
    pub overlap_least: Rule<Length>,
    /// Valance past the end of the rail, each end.
    pub valance_past_rail: Rule<Length>,
    /// Room for a hand between the valance and a side wall.
    pub hand_room: Rule<Length>,
    /// Outside: rail top above the head: wanted.
    pub above_wanted: Rule<Length>,
    /// The least.
    pub above_least: Rule<Length>,
    /// The most.
    pub above_most: Rule<Length>,
    /// The least with a wanted drop: below this the bracket has no wall at all.
    pub above_floor: Rule<Length>,
    /// Room above the rail's top for the bracket and to tip the rail into its clips.
    pub room_above: Rule<Length>,
    /// Bracket top above the rail's top (outside).
    pub bracket_above_rail: Rule<Length>,
    /// Gap between the louvers and a hard floor.
    pub floor_gap: Rule<Length>,
    /// Gap between the louvers and a carpet.
    pub floor_gap_carpet: Rule<Length>,
    /// Window, outside: how far below the opening: wanted.
    pub below_wanted: Rule<Length>,
    /// The least.
    pub below_least: Rule<Length>,
    /// Clear of whatever the wall below ends at.
    pub room_below: Rule<Length>,
    /// Where it cannot pass the sill: how far above it ends.
    pub above_sill: Rule<Length>,

    /// Bracket's upper screw below the bracket top.
    pub upper_screw: Rule<Length>,
    /// Bracket's lower screw below the bracket top.
    pub lower_screw: Rule<Length>,
    /// Least timber beyond a screw.
    pub screw_edge: Rule<Length>,
    /// Wall brackets: reach of each, shortest first; the item is named in `bracket_items`.
    pub reaches: Rule<Vec<Length>>,
    /// Item of the bracket of each reach, in the same order.
    pub bracket_items: Vec<Arc<str>>,
    /// Item of the bracket of an inside mount.
    pub inside_bracket_item: Arc<str>,
    /// Most distance of an end bracket's centre from the rail's end.
    pub bracket_inset: Rule<Length>,
    /// Most distance between bracket centres.
    pub bracket_spacing: Rule<Length>,
    /// Screws in each bracket.
    pub fixings_per_bracket: Rule<u32>,

    /// Outside: louver length is the drop less this.
    pub louver_off_outside: Rule<Length>,
    /// Inside: louver length is the drop less this.
    pub louver_off_inside: Rule<Length>,
    /// Length of an end cap; the headrail's cut is the width less two.
    pub end_cap: Rule<Length>,
    /// The tilt rod's cut is the width less this.
    pub rod_off: Rule<Length>,
    /// Wand lengths come in steps of this, one step at the least.
    pub wand_step: Rule<Length>,
    /// Height above the floor over which a wand ends.
    pub wand_end_height: Rule<Length>,
    /// Stack for each louver.
    pub stack_per_louver: Rule<Length>,
    /// Stack besides.
    pub stack_base: Rule<Length>,
    /// What a valance's return adds to reach and half a louver.
    pub return_beyond: Rule<Length>,
    /// How far a valance clip is moved from its bracket.
    pub clip_offset: Rule<Length>,

    /// Louver fabric, kg/m2.
    pub fabric_mass: Rule<Decimal>,
    /// Bottom weight, kg each.
    pub weight_mass: Rule<Decimal>,
    /// Carrier, kg each.
    pub carrier_mass: Rule<Decimal>,
    /// Headrail with what is in it, kg/m.
    pub rail_mass: Rule<Decimal>,
    /// Valance, kg/m.
    pub valance_mass: Rule<Decimal>,
    /// Rail length from which two people lift (this length included).
    pub two_people_length: Rule<Length>,
    /// Mass in kg over which two people lift.
    pub two_people_mass: Rule<Decimal>,

    /// Least spare louvers for each colour and louver width.
    pub least_spare_louvers: Rule<u32>,
    /// Hems: what a louver's cut adds to its length (0 for PVC).
    pub hem: Rule<Length>,
    /// Material of the headrail.
    pub rail_material: Arc<str>,
    /// Material of the tilt rod.
    pub rod_material: Arc<str>,
    /// Material of the valance.
    pub valance_material: Arc<str>,
    /// Material of the louvers.
    pub louver_material: Arc<str>,
    /// Making tolerance of width and drop, stated to the maker: plus or minus.
    pub tolerance: Rule<Length>,
}

/// The products of the run: the built-in ones under the survey's rows, then the survey's new ones.
pub(super) fn products(
    built_in: &[RawRow],
    written: &[RawRow],
    units: Units,
    findings: &mut Findings,
) -> (Vec<Product>, Vec<RawRow>) {
    let mut rows: Vec<RawRow> = built_in.to_vec();
    for row in written {
        if let Some(known) = rows.iter_mut().find(|known| same_name(&known.item, &row.item)) {
            *known = RawRow { item: known.item.clone(), ..row.over(known) };
        } else if let Some(base) = starting_point(row, &rows, findings) {
            rows.push(row.over(base));
        }
    }
    let products = rows.iter().filter_map(|row| product(row, units, findings)).collect();
    (products, rows)
}

/// The product whose values fill the blanks of a new one.
fn starting_point<'r>(row: &RawRow, known: &'r [RawRow], findings: &mut Findings) -> Option<&'r RawRow> {
    let names = || known.iter().map(|row| row.item.as_str());
    let Some(like) = row.value::<Arc<str>>(&p::LIKE) else {
        let nearest = name::nearest(&row.item, names()).map(str::to_owned);
        findings.check(RuleQuery::NoLike { nearest }, row.at, row.item.clone());
        return None;
    };
    let base = known.iter().find(|base| same_name(&base.item, &like));
    if base.is_none() {
        let nearest = name::nearest(&like, names()).map(str::to_owned);
        let query = RuleQuery::Product { sheet: row.table.sheet, nearest };
        findings.check(query, row.at(&p::LIKE), &*like);
    }
    base
}

/// A product, unless something in its row stops the run.
fn product(row: &RawRow, units: Units, findings: &mut Findings) -> Option<Product> {
    if !row.sift(&[], findings) {
        return None;
    }
    louver::cross_check(row, findings);
    let reaches = louver::reaches(row, units, findings)?;
    let read = || -> Result<Product, Missing> {
        let Words(suits) = row.needed(&p::SUITS)?;
        Ok(Product {
            name: Arc::from(row.item.as_str()),
            colours: row.needed(&p::COLOURS)?,
            suits: suits.iter().filter_map(|&word| Kind::ALL.get(word).copied()).collect(),
            family: Family::Louver(Box::new(louver::rules(row, reaches)?)),
        })
    };
    read()
        .inspect_err(|Missing(column)| {
            let query = RuleQuery::NoValue { sheet: row.table.sheet, rule: column.name };
            findings.stop(query, row.at, row.item.clone());
        })
        .ok()
}
