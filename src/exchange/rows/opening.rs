//! One opening with its blind, and the steps of its numbers.

use std::borrow::Cow;

use crate::angle::Angle;
use crate::blinds::Louvers;
use crate::exchange::amounts::{Kilograms, Share};
use crate::exchange::columns::{OwnFile, row};
use crate::fitting::{Blind, Fixings};
use crate::length::Length;
use crate::query::OpeningIndex;
use crate::report::Report;
use crate::worked::{Amount, Step};

row! {
    /// One row of the survey. What follows from its size is `None` where the opening is held.
    OpeningRow<'a> {
        /// The id as written; may be empty.
        opening: &'a str,
        /// The name as shown, unique; every other list names the opening so.
        name: &'a str,
        /// File name of its survey.
        survey: &'a str,
        /// The building.
        building: &'a str,
        /// The floor.
        floor: &'a str,
        /// The unit.
        unit: &'a str,
        /// The room.
        room: &'a str,
        /// The phase.
        phase: &'a str,
        /// Its cell: `Openings!A14`.
        at: String,
        /// How many openings the row stands for.
        quantity: u32,
        /// `sized`, `provisional` or `held`.
        state: &'static str,
        /// The product.
        product: Option<&'a str>,
        /// The colour.
        colour: Option<&'a str>,
        /// `inside` or `outside`.
        mount: Option<&'static str>,
        /// Where the louvers stack, as seen from inside.
        draw: Option<&'static str>,
        /// Finished width.
        width_mm: Option<Length>,
        /// Finished drop.
        drop_mm: Option<Length>,
        /// `made` or `stock`.
        source: Option<&'static str>,
        /// The louvers of one blind.
        louvers: Option<LouversRow>,
        /// One side's stack when open.
        stack_mm: Option<Length>,
        /// Clear width when open.
        clear_open_mm: Option<Length>,
        /// The brackets of one blind.
        brackets: Option<BracketsRow<'a>>,
        /// The fixings of one blind.
        fixings: Option<FixingsRow<'a>>,
        /// Front of the valance.
        valance_mm: Option<Length>,
        /// Return of the valance on the left; 0 for none.
        return_left_mm: Option<Length>,
        /// Return of the valance on the right; 0 for none.
        return_right_mm: Option<Length>,
        /// Overlap on the left; negative for a gap.
        overlap_left_mm: Option<Length>,
        /// Overlap on the right; negative for a gap.
        overlap_right_mm: Option<Length>,
        /// See-past angle from square-on.
        see_past_deg: Option<Angle>,
        /// How the blind is worked.
        control: Option<&'static str>,
        /// Where the wand hangs with the blind closed, as seen from inside.
        control_side: Option<&'static str>,
        /// Length of each wand.
        wand_mm: Option<Length>,
        /// Weight of one blind.
        weight_kg: Option<Kilograms>,
        /// People to lift it.
        people: Option<u32>,
        /// Every step of every number.
        working: OwnFile<StepRow<'a>>,
    }
}

row! {
    /// The louvers of one blind.
    LouversRow {
        /// How many.
        count: u32,
        /// Finished length of each.
        length_mm: Length,
    }
}

row! {
    /// The brackets of one blind.
    BracketsRow<'a> {
        /// The bracket.
        item: &'a str,
        /// How many.
        count: u32,
        /// Wall to the line of the louvers; `None` inside.
        reach_mm: Option<Length>,
        /// Inside: wall face to the rail's centre.
        setback_mm: Option<Length>,
        /// Centres from the left end of the rail.
        from_left_mm: Vec<Length>,
        /// Centres from the left edge of the opening.
        from_opening_left_mm: Option<Vec<Length>>,
        /// Bracket top above the floor as it is on the day.
        top_above_floor_mm: Option<Length>,
        /// Bracket top above the head of the opening.
        top_above_head_mm: Option<Length>,
    }
}

row! {
    /// The fixings of one blind.
    FixingsRow<'a> {
        /// The fixing; `None` where it could not be chosen.
        item: Option<&'a str>,
        /// How many.
        count: u32,
        /// Load over capacity.
        r#use: Option<Share>,
    }
}

row! {
    /// One step on the way to a number.
    StepRow<'a> {
        /// The number it leads to.
        of: &'static str,
        /// What was done.
        step: &'static str,
        /// A cell or a rule; `None` for a step that uses what stands above it alone.
        from: Option<Cow<'a, str>>,
        /// The value, if it is a length.
        value_mm: Option<Length>,
        /// The value with its unit, of any kind.
        value: String,
    }
}

row! {
    /// The opening that a row of another list belongs to.
    NameRow<'a> {
        /// Its name as shown.
        name: &'a str,
    }
}

impl<'a> OpeningRow<'a> {
    /// Every opening, in survey order; each row is made when it is asked for, so that the steps
    /// of a whole building are never in memory at once.
    pub fn all(report: &'a Report<'_>) -> impl Iterator<Item = OpeningRow<'a>> {
        (0..report.survey.openings.len()).map(|index| OpeningRow::of(report, index))
    }

    fn of(report: &'a Report<'_>, index: OpeningIndex) -> OpeningRow<'a> {
        let who = &report.survey.openings[index].who;
        let blind = report.blinds[index].as_ref();
        let fitted = blind.map(|blind| &blind.fitted);
        let stack = fitted.and_then(|fitted| fitted.panel.stack);
        OpeningRow {
            opening: &who.written,
            name: &who.name,
            survey: &who.survey,
            building: &who.building,
            floor: &who.floor,
            unit: &who.unit,
            room: &who.room,
            phase: &who.phase,
            at: report.sheets.show(who.at),
            quantity: who.quantity,
            state: report.state(index).word(),
            product: blind.map(|blind| &*blind.sizing.product.name),
            colour: blind.map(|blind| &*blind.sizing.colour),
            mount: blind.map(|blind| blind.sizing.hung.mount().word()),
            draw: stack.map(|stack| stack.draw.word()),
            width_mm: blind.map(|blind| blind.sourced.size.width),
            drop_mm: blind.map(|blind| blind.sourced.size.drop),
            source: blind.map(|blind| blind.sourced.supply.origin().word()),
            louvers: fitted.and_then(|fitted| fitted.panel.louvers).map(LouversRow::of),
            stack_mm: stack.map(|stack| stack.width),
            clear_open_mm: fitted.and_then(|fitted| fitted.clear_open),
            brackets: blind.map(BracketsRow::of),
            fixings: fitted.map(|fitted| FixingsRow::of(&fitted.fixings)),
            valance_mm: fitted.and_then(|fitted| fitted.valance),
            return_left_mm: fitted.map(|fitted| fitted.returns().left),
            return_right_mm: fitted.map(|fitted| fitted.returns().right),
            overlap_left_mm: fitted.and_then(|fitted| fitted.overlap_left()),
            overlap_right_mm: fitted.and_then(|fitted| fitted.overlap_right()),
            see_past_deg: fitted.and_then(|fitted| fitted.see_past()),
            control: blind.map(|blind| blind.sizing.operation.control.word()),
            control_side: fitted.and_then(|fitted| fitted.control_side).map(|side| side.word()),
            wand_mm: fitted.and_then(|fitted| fitted.wand),
            weight_kg: fitted.map(|fitted| fitted.weight.into()),
            people: fitted.map(|fitted| fitted.people),
            working: OwnFile(StepRow::all(report, index)),
        }
    }
}

impl<'a> StepRow<'a> {
    /// The steps of one opening, in the order in which they were taken.
    pub fn all(report: &'a Report<'_>, index: OpeningIndex) -> Vec<StepRow<'a>> {
        report.working(index).into_iter().map(|step| StepRow::of(step, report)).collect()
    }

    fn of(step: Step<'a>, report: &Report<'_>) -> StepRow<'a> {
        StepRow {
            of: step.of.name(),
            step: step.step,
            from: step.from.show(report.sheets),
            value: step.value.show(report.rules.project.units),
            value_mm: match step.value {
                Amount::Length(length) => Some(length),
                _ => None,
            },
        }
    }
}

impl LouversRow {
    fn of(louvers: Louvers) -> LouversRow {
        LouversRow { count: louvers.count, length_mm: louvers.length }
    }
}

impl<'a> BracketsRow<'a> {
    fn of(blind: &'a Blind<'_>) -> BracketsRow<'a> {
        let (hung, brackets) = (&blind.sizing.hung, &blind.fitted.brackets);
        BracketsRow {
            item: &brackets.item,
            count: brackets.count(),
            reach_mm: hung.reach(),
            setback_mm: hung.in_recess().map(|rail| rail.setback),
            from_left_mm: brackets.from_left.clone(),
            from_opening_left_mm: brackets.from_opening_left.clone(),
            top_above_floor_mm: brackets.top_above_floor,
            top_above_head_mm: brackets.top_above_head,
        }
    }
}

impl<'a> FixingsRow<'a> {
    fn of(fixings: &'a Fixings<'_>) -> FixingsRow<'a> {
        FixingsRow {
            item: fixings.fixing.map(|fixing| &*fixing.item),
            count: fixings.count,
            r#use: fixings.use_of_capacity.map(Share::from),
        }
    }
}
