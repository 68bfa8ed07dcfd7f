//! Every caution, in the order in which it is met.
//!
//! Limits without a source are common practice: a rail of 84 in or more does not stand upright in an
//! elevator, and above 72 in nobody drills from the floor. Where the height of a bracket, a sill, a wall
//! or a slab is not known, or whether a heater stands below a window, the caution stands.

use rust_decimal::Decimal;

use super::years::{may_hold_asbestos, may_hold_lead};
use super::{At, Basis, Hangs};
use crate::fitting::Fitted;
use crate::length::{Length, Units};
use crate::rounding::half_away;
use crate::rules::Jurisdiction;
use crate::sizing::Mount;
use crate::survey::{Kind, Leaf, Substrate};
use crate::weight;

/// A caution of the list.
pub(super) struct Entry {
    pub(super) code: &'static str,
    /// Whether it applies at an opening.
    pub(super) applies: fn(&Hangs<'_>) -> bool,
    /// Its words, for the openings at which it applies.
    pub(super) words: fn(&At<'_>) -> String,
    pub(super) basis: Basis,
    /// The query of the openings that it tells once for all of them.
    pub(super) tells: Option<&'static str>,
}

/// A rail as long as this is in the way (common practice, no source).
const LONG_RAIL: Length = Length::inches(84);
/// Brackets above this are drilled from a ladder (common practice, no source).
const FROM_THE_FLOOR: Length = Length::inches(72);
/// An opening whose sill is lower is one to fall out of (29 CFR 1926.501(b)(14), from memory).
const LOW_SILL: Length = Length::inches(39);
/// Blinds of this weight are heavy to hold overhead, in kilograms (from memory).
const HEAVY: Decimal = Decimal::TEN;
/// Openings that a caution names one by one.
const NAMED: usize = 6;

const fn written(title: &'static str, number: &'static str) -> Basis {
    Basis::Written { title, number, from_memory: false }
}

const LEAD: &str = "may contain lead: do not sand it dry, contain the dust, clean up wet.";
const ASBESTOS: &str = "Old boards, textured ceilings and tile glue may contain asbestos: do not drill until an expert clears them.";

pub(super) const LIST: &[Entry] = &[
    Entry {
        code: "measure-first",
        applies: |_| true,
        words: |_| {
            "Check box, label and revision; measure the opening. If a size differs, ask: do not cut the blind to fit."
                .to_owned()
        },
        basis: Basis::Practice,
        tells: None,
    },
    Entry {
        code: "long-rail",
        applies: |hangs| hangs.blind.sourced.size.width >= LONG_RAIL,
        words: |at| {
            let longest = at.hanging.iter().map(|hangs| hangs.blind.sourced.size.width).max();
            let longest = longest.unwrap_or_default().shown(at.units());
            format!("Longest rail {longest}: check stairs and elevator before you carry it; do not bend it.")
        },
        basis: Basis::Practice,
        tells: None,
    },
    Entry {
        code: "lift",
        applies: |hangs| {
            let fitted = &hangs.blind.fitted;
            fitted.weight >= HEAVY || fitted.people > 1 || hangs.lifting_index() > Decimal::ONE
        },
        words: lift,
        basis: written("Revised NIOSH Lifting Equation", "Publication 94-110"),
        tells: None,
    },
    Entry {
        code: "ladder",
        applies: |hangs| hangs.bracket_top().is_none_or(|top| top > FROM_THE_FLOOR),
        words: |_| {
            "Set the ladder firm and level, face it, keep off its top and top step. Against a wall: 1 out for 4 up."
                .to_owned()
        },
        basis: written("Ladders", "29 CFR 1926.1053(b)(5), (13)"),
        tells: None,
    },
    Entry {
        code: "platform",
        applies: |hangs| {
            let high = *hangs.blind.sizing.product.cover.two_people_height;
            hangs.bracket_top().is_none_or(|top| top >= high)
        },
        words: |at| {
            format!(
                "Brackets high up, or nobody knows how high{}: use a platform, with guardrails from 6 ft (1.8 m) up.",
                at.named()
            )
        },
        basis: written("Duty to have fall protection", "29 CFR 1926.501(b)(1)"),
        tells: None,
    },
    Entry {
        code: "open-sash",
        applies: |hangs| {
            let is_low = hangs.facts.sill_height().is_none_or(|sill| sill < LOW_SILL);
            is_low && hangs.facts.leaf.is_none_or(|leaf| leaf.value != Leaf::None)
        },
        words: |at| {
            format!(
                "Keep sash and door shut{}. If one must be open 6 ft (1.8 m) or more up, guard it first: its sill is under 39 in (990 mm).",
                at.named()
            )
        },
        basis: Basis::Written {
            title: "Duty to have fall protection",
            number: "29 CFR 1926.501(b)(14)",
            from_memory: true,
        },
        tells: None,
    },
    Entry {
        code: "glass",
        applies: |hangs| {
            hangs.facts.kind == Kind::PatioDoor || hangs.blind.sizing.hung.mount() == Mount::Inside
        },
        words: |at| {
            format!(
                "No screw into a glass bead, nothing hard near the glass{}: it breaks from its edge.",
                at.named()
            )
        },
        basis: written("Architectural Glazing Materials", "16 CFR 1201"),
        tells: None,
    },
    Entry {
        code: "cables",
        applies: |_| true,
        words: |_| {
            "Check for cables and pipes before every hole, above all near ceilings, corners, switches and power outlets."
                .to_owned()
        },
        basis: Basis::Practice,
        tells: None,
    },
    Entry {
        code: "cable-zones",
        applies: |hangs| {
            let may_be_uk = |jurisdiction| jurisdiction == Jurisdiction::UnitedKingdom;
            hangs.project.jurisdiction.is_none_or(may_be_uk)
                && hangs.blind.sizing.hung.mount() != Mount::Inside
        },
        words: |_| {
            "UK cables run in the top 150 mm of a wall, 150 mm from a corner, and in line with switches and outlets."
                .to_owned()
        },
        basis: written("Requirements for Electrical Installations", "BS 7671, 522.6.202"),
        tells: None,
    },
    Entry {
        code: "cables-in-framing",
        applies: |hangs| hangs.is_asked("cables-behind"),
        words: |at| {
            format!(
                "Screws go over 1 1/4 in (32 mm) into the framing{}, where a cable may be: search first, or use a shorter screw.",
                at.named()
            )
        },
        basis: written("National Electrical Code", "NFPA 70, 300.4(A)(1)"),
        tells: Some("cables-behind"),
    },
    Entry {
        code: "slab",
        applies: |hangs| hangs.is_asked("slab-unknown"),
        words: |at| {
            format!(
                "Screws go up into concrete{}: no hole before the slab is known not to be tensioned, or is searched and cleared. A drawing does not clear it.",
                at.named()
            )
        },
        basis: Basis::Practice,
        tells: Some("slab-unknown"),
    },
    Entry {
        code: "lintel",
        applies: |hangs| hangs.is_asked("lintel"),
        words: |at| {
            format!(
                "The lintel may be prestressed{}: no hole in its lower 2 in (50 mm) without asking.",
                at.named()
            )
        },
        basis: Basis::Practice,
        tells: Some("lintel"),
    },
    Entry {
        code: "silica",
        applies: is_dusty,
        words: silica,
        basis: written("Respirable crystalline silica", "29 CFR 1926.1153, Table 1"),
        tells: None,
    },
    Entry {
        code: "lead",
        applies: |hangs| is_in_the_us(hangs) && may_hold_lead(hangs.project),
        words: |_| format!("Paint from before 1978 {LEAD}"),
        basis: written("Lead Renovation, Repair and Painting", "40 CFR 745.83"),
        tells: None,
    },
    Entry {
        code: "old-paint",
        applies: |hangs| !is_in_the_us(hangs) && may_hold_lead(hangs.project),
        words: |_| format!("Old paint {LEAD}"),
        basis: Basis::Memory,
        tells: None,
    },
    Entry {
        code: "asbestos",
        applies: |hangs| is_in_the_us(hangs) && may_hold_asbestos(hangs.project),
        words: |_| ASBESTOS.to_owned(),
        basis: written("Asbestos", "29 CFR 1926.1101"),
        tells: None,
    },
    Entry {
        code: "old-coatings",
        applies: |hangs| !is_in_the_us(hangs) && may_hold_asbestos(hangs.project),
        words: |_| ASBESTOS.to_owned(),
        basis: Basis::Memory,
        tells: None,
    },
    Entry {
        code: "heater",
        applies: |hangs| {
            let said = hangs.facts.heater_below.map(|heater| heater.value);
            said.unwrap_or(hangs.facts.kind == Kind::Window)
        },
        words: |at| {
            format!(
                "Keep louvers off a heater below{}, as far as its manual asks; let it cool before you work over it.",
                at.named()
            )
        },
        basis: Basis::Practice,
        tells: None,
    },
    Entry {
        code: "ways-out",
        applies: |_| true,
        words: |_| {
            "Never block an escape opening. Keep the blind's control within reach. Accessible units have their own rules."
                .to_owned()
        },
        basis: Basis::Practice,
        tells: None,
    },
];

impl At<'_> {
    /// ` (D1, W2 and 3 more)`; nothing where it applies at every opening of the unit.
    fn named(&self) -> String {
        if self.is_everywhere {
            return String::new();
        }
        format!(" ({})", names(self.hanging.iter()))
    }

    fn units(&self) -> Units {
        self.project.units
    }
}

/// `D1, W2 and 3 more`.
fn names<'h, 'c: 'h>(hanging: impl ExactSizeIterator<Item = &'h Hangs<'c>>) -> String {
    let more = hanging.len().saturating_sub(NAMED);
    let names: Vec<&str> = hanging.take(NAMED).map(|hangs| hangs.name()).collect();
    match more {
        0 => names.join(", "),
        more => format!("{} and {more} more", names.join(", ")),
    }
}

fn is_in_the_us(hangs: &Hangs<'_>) -> bool {
    hangs.project.jurisdiction == Some(Jurisdiction::UnitedStates)
}

/// Who lifts, and how heavy the heaviest lift is.
fn lift(at: &At<'_>) -> String {
    let by_two: Vec<&Hangs<'_>> = at.hanging.iter().filter(|hangs| hangs.blind.fitted.people > 1).collect();
    let who = match by_two.len() {
        0 => String::new(),
        _ => format!("Two people lift {}. ", names(by_two.into_iter())),
    };
    let lifts = at.hanging.iter().map(|hangs| (hangs.lifting_index(), hangs.blind.fitted.weight));
    let (index, heaviest) = lifts.max().unwrap_or_default();
    let shown = |number: Decimal| half_away(number, 1).normalize();
    format!(
        "{who}Heaviest lift {} {}: lifting index {} for one, {} for each of two; over 1, get help. With both hands, feet on the ground, arms half out, waist to bracket or 69 in (175 cm): it holds on no ladder.",
        shown(weight::beside(heaviest, at.units())),
        weight::symbol(at.units()),
        shown(index),
        shown(index / Decimal::TWO),
    )
}

/// Whether holes are made in masonry or concrete, or in nobody knows what.
fn is_dusty(hangs: &Hangs<'_>) -> bool {
    let fixings = &hangs.blind.fitted.fixings;
    let into = fixings.most.fixing.map(|fixing| fixing.substrate);
    into.or(hangs.facts.substrate.map(|given| given.value)).is_none_or(Substrate::is_hard)
}

/// Holes and minutes at all of a unit's openings. Minutes are those more than in a soft wall.
fn silica(at: &At<'_>) -> String {
    let all = |of: fn(&Fitted<'_>) -> u32| -> u64 {
        let each = at.hanging.iter();
        each.map(|hangs| u64::from(hangs.who.quantity) * u64::from(of(&hangs.blind.fitted))).sum()
    };
    let (holes, brackets) = (all(|fitted| fitted.fixings.count()), all(|fitted| fitted.brackets.count()));
    let minutes = at.rates.hard_bracket_minutes.map(|each| (each * Decimal::from(brackets)).normalize());
    let minutes = minutes.map_or_else(String::new, |minutes| format!(", about {minutes} min"));
    format!(
        "Silica dust: {holes} holes in masonry, concrete or an unknown wall{}{minutes}. Drill with shroud and vacuum; never sweep dust dry.",
        at.named()
    )
}
