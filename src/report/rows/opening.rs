//! One opening with its blind, and the steps of its numbers.

use std::borrow::Cow;

use super::CandidateRow;
use crate::angle::Angle;
use crate::blinds::{Louvers, NOT_CHOSEN, Stack};
use crate::date::Date;
use crate::fitting::{Blind, ControlSide, Fitted, Screws, Working};
use crate::length::Length;
use crate::query::OpeningIndex;
use crate::report::figure::{Kilograms, Lead, Newtons, Rows, Said, Share, row};
use crate::report::{Doubts, Finished, Report, Start, State};
use crate::rules::{Fixing, SizesGiven};
use crate::sizing::{Mount, MountOn};
use crate::sourcing::Origin;
use crate::survey::{Control, CordDevice, Draw, Facts, Identity, Kind, Spot};
use crate::worked::{Amount, Step};

/// One opening with its blind.
#[derive(Clone, Copy)]
pub struct OpeningRow<'r> {
    report: &'r Report<'r>,
    doubts: &'r Doubts<'r>,
    index: OpeningIndex,
}

row! {
    /// One row of the survey. Everything worked out from its size is null where it is held.
    OpeningRow<'r>: row {
        /// The id as written; empty if blank.
        opening: &'r str = &row.who().written;
        /// The name as shown, unique in the run. Every other list uses it.
        name: &'r str = &row.who().name
            => headed("Opening"), worded(|row, name| Said::Leading(Lead::Page(row.index), name.into()));
        /// File name of its survey.
        survey: &'r str = &row.who().survey;
        /// The building; empty if blank.
        building: &'r str = &row.who().building => shown, unless_blank;
        /// The floor; empty if blank.
        floor: &'r str = &row.who().floor => shown, unless_blank;
        /// The unit; empty if blank.
        unit: &'r str = &row.who().unit => shown;
        /// The room; empty if blank.
        room: &'r str = &row.who().room => shown, unless_blank;
        /// The phase; empty if blank.
        phase: &'r str = &row.who().phase => shown, unless_blank;
        /// `sized`: released; `provisional`: sized, but not released, as it was not measured with a tape or
        /// the thickness of a floor is unknown; `held`: a stop holds it back.
        state: State = row.report.state(row.index) => shown;
        /// The stops that hold it back; empty if none does.
        held_by: Vec<String> = row.doubts.stops(row.index).map(|stop| stop.words()).collect()
            => headed("Reason held"), worded(|_, stops| stops.join("; ")), wide(30), unless_blank;
        /// The codes of the queries about it that were accepted; empty if none was.
        accepted: Vec<&'static str> = row.doubts.accepted(row.index).collect();
        /// How many identical openings the row stands for.
        quantity: u32 = row.who().quantity => at_least(1), shown;
        /// What the opening is; null if a stop on the survey row holds it back.
        kind: Option<Kind> = row.facts().map(|facts| facts.kind) => shown;
        /// Smallest width of the opening; null where the survey gives finished sizes.
        opening_width_least_mm: Option<Length> = row.measured(|facts| facts.width.least().value)
            => above_zero, headed("Opening width, minimum");
        /// Largest width of the opening; null in the same case.
        opening_width_most_mm: Option<Length> = row.measured(|facts| facts.width.most().value)
            => above_zero, headed("Opening width, maximum");
        /// Smallest height of the opening; null in the same case.
        opening_height_least_mm: Option<Length> = row.measured(|facts| facts.height.least().value)
            => above_zero, headed("Opening height, minimum");
        /// Largest height of the opening; null in the same case.
        opening_height_most_mm: Option<Length> = row.measured(|facts| facts.height.most().value)
            => above_zero, headed("Opening height, maximum");
        /// The smallest width that the survey gives, of the opening or of the finished blind.
        width_mm_measured: Option<Length> = row.facts().map(|facts| facts.width.least().value) => above_zero;
        /// The smallest height that it gives.
        height_mm_measured: Option<Length> = row.facts().map(|facts| facts.height.least().value) => above_zero;
        /// The product.
        product: Option<&'r str> = row.blind().map(|blind| &*blind.sizing.product.name) => shown;
        /// The color.
        color: Option<&'r str> = row.blind().map(|blind| &*blind.sizing.color) => shown;
        /// Inside mount, outside mount, or from the ceiling.
        mount: Option<Mount> = row.blind().map(|blind| blind.sizing.hung.mount()) => shown;
        /// What its brackets are on: the wall's face, the casing, the head of the recess, or the ceiling.
        mount_on: Option<MountOn> = row.blind().map(|blind| blind.sizing.hung.on())
            => headed("Mounted on"), unless_blank;
        /// By how much the opening is out of square over its height; null without both diagonals.
        lean_mm: Option<Length> = row.blind().and_then(|blind| blind.sizing.lean).map(|lean| lean.by)
            => at_least(0), headed("Out of square"), unless_blank;
        /// Finished width.
        width_mm: Option<Length> = row.blind().map(|blind| blind.sourced.size.width)
            => above_zero, headed("Finished width"), strong;
        /// Finished drop.
        drop_mm: Option<Length> = row.blind().map(|blind| blind.sourced.size.drop)
            => above_zero, headed("Finished drop"), strong;
        /// The order lines of its blinds; several where some were ordered before.
        lines: Vec<usize> = row.report.order.lines_of(row.index).to_vec() => at_least(1);
        /// Made to measure, or from a stock size.
        source: Option<Origin> = row.blind().map(|blind| blind.sourced.supply.origin()) => shown;
        /// Days from order to delivery; null if not known.
        lead_days: Option<u32> = row.blind().and_then(|blind| blind.sourced.lead_days)
            => headed("Lead time (days)"), unless_blank;
        /// Date on which it can be on site; null without an order date or lead days.
        arrives: Option<Date> = row.blind().and_then(|blind| blind.sourced.arrives) => shown, unless_blank;
        /// The louvers of one blind; null for a blind without.
        louvers: Option<LouversRow<'r>> = row.fitted().and_then(|fitted| fitted.panel.louvers.as_ref()).map(LouversRow);
        /// The side on which the louvers stack, seen from inside; null for a blind that is not drawn aside.
        draw: Option<Draw> = row.stack().map(|stack| stack.draw) => shown;
        /// Width of the stack on one side when open.
        stack_mm: Option<Length> = row.stack().map(|stack| stack.width) => at_least(0), headed("Stack width per side");
        /// Clear width of the opening when the blind is open; null if the opening is unknown.
        clear_open_mm: Option<Length> = row.fitted().and_then(|fitted| fitted.clear_open)
            => at_least(0), headed("Clear width when open"), or_unknown_if(OpeningRow::has_blind);
        /// An opening that serves for escape: the smaller of the clear width of its sash and that of the open blind;
        /// null for any other, or if neither is known.
        escape_clear_mm: Option<Length> = row.fitted().and_then(|fitted| fitted.escape?.clear)
            => at_least(0), headed("Clear width for escape"), unless_blank;
        /// How the blind is operated.
        control: Option<Control> = row.blind().map(|blind| blind.sizing.operation.control) => shown;
        /// The side on which wand or cord hangs when the blind is closed, or the end that the motor is at, seen from
        /// inside; null if nobody says.
        control_side: Option<ControlSide> = row.fitted().and_then(|fitted| fitted.control_side)
            => shown, unless_blank;
        /// Length of each wand; null without a wand.
        wand_mm: Option<Length> = row.fitted().and_then(|fitted| fitted.wand)
            => above_zero, headed("Wand length"), unless_blank;
        /// What keeps the cord from children; null without a cord, or if nobody says.
        cord_device: Option<CordDevice> = row.fitted().and_then(|fitted| fitted.cord?.device)
            => shown, unless_blank;
        /// Lowest point of the cord above the floor as measured; null without a cord, or if nobody says.
        cord_height_mm: Option<Length> = row.fitted().and_then(|fitted| fitted.cord?.height)
            => at_least(0), headed("Cord height above floor"), unless_blank;
        /// The brackets of one blind.
        brackets: Option<BracketsRow<'r>> = row.blind().map(|blind| BracketsRow { blind, finished: row.finished() });
        /// The fixings of one blind.
        fixings: Option<FixingsRow<'r>> = row.fitted().map(FixingsRow);
        /// Front of the valance.
        valance_mm: Option<Length> = row.fitted().and_then(|fitted| fitted.valance)
            => above_zero, headed("Valance front");
        /// Return of the valance on the left, 0 for none.
        return_left_mm: Option<Length> = row.fitted().map(|fitted| fitted.returns().left) => at_least(0), shown;
        /// Return of the valance on the right, 0 for none.
        return_right_mm: Option<Length> = row.fitted().map(|fitted| fitted.returns().right) => at_least(0), shown;
        /// Centers of the valance clips from the left end of the rail.
        clips_from_left_mm: Option<Vec<Length>> = row.fitted().map(|fitted| fitted.clips.clone());
        /// Overlap on the left, negative for a gap; null if the opening is unknown.
        overlap_left_mm: Option<Length> = row.fitted().and_then(|fitted| fitted.overlap_left())
            => shown, worded(OpeningRow::lapped), unless_blank;
        /// Overlap on the right, negative for a gap; null if the opening is unknown.
        overlap_right_mm: Option<Length> = row.fitted().and_then(|fitted| fitted.overlap_right())
            => shown, worded(OpeningRow::lapped), unless_blank;
        /// Angle from square-on at which one can see past the blind, negative for a direct gap; null inside
        /// or with both sides closed.
        see_past_deg: Option<Angle> = row.fitted().and_then(|fitted| fitted.see_past())
            => headed("See-past angle (degrees)"), unless_blank;
        /// Gap between the blind and the floor as measured; null if the sill is unknown.
        gap_below_mm: Option<Length> = row.fitted().and_then(|fitted| fitted.gap_below)
            => headed("Gap to floor"), or_unknown_if(OpeningRow::has_blind);
        /// The same above a floor that is still to come; null where none is, or its thickness or the sill is unknown.
        gap_below_finished_mm: Option<Length> = row.finished().and_then(|finished| finished.gap_below);
        /// Lowest point of the cord above a floor that is still to come; null in the same cases, and without a cord.
        cord_height_finished_mm: Option<Length> = row.finished().and_then(|finished| finished.cord);
        /// Where to start measuring.
        start: Option<StartRow<'r>> = row.blind().map(|_| StartRow { report: row.report, index: row.index });
        /// Inside: how far the turned louvers project past the wall face; null outside or if the recess depth is
        /// unknown.
        stands_proud_mm: Option<Length> = row.blind().and_then(|blind| blind.sizing.hung.in_recess()).map(|rail| rail.stands_proud)
            => headed("Projects past wall"), unless_blank;
        /// Weight of one blind.
        weight_kg: Option<Kilograms> = row.fitted().map(|fitted| Kilograms(fitted.weight)) => above_zero, shown;
        /// People to lift it.
        people: Option<u32> = row.fitted().map(|fitted| fitted.people)
            => at_least(1), headed("People to lift");
        /// The survey's note; empty if blank.
        note: &'r str = &row.who().note => shown, unless_blank;
        /// Its cell, such as `Openings!A14`; with several surveys it begins with the file name.
        at: String = row.report.sheets.show(row.who().at) => headed("Survey cell");
        /// Every way to get its blinds that was looked at, the one taken first; empty where it is held.
        candidates: Rows<'r, CandidateRow<'r>> = Rows::new(move || CandidateRow::all(row.report, row.index));
        /// Every step of every number, in the order taken.
        working: Rows<'r, StepRow<'r>> = Rows::new(move || StepRow::all(row.report, row.index));
    }
}

impl<'r> OpeningRow<'r> {
    /// Every opening, in survey order.
    pub fn all(
        report: &'r Report<'r>,
        doubts: &'r Doubts<'r>,
    ) -> impl Iterator<Item = OpeningRow<'r>> + Clone {
        (0..report.survey.openings.len()).map(move |index| OpeningRow { report, doubts, index })
    }

    /// Names and place, and what the survey says beside.
    pub fn who(self) -> &'r Identity {
        &self.report.survey.openings[self.index].who
    }

    fn facts(self) -> Option<&'r Facts> {
        self.report.survey.openings[self.index].facts.as_deref()
    }

    /// A size of the opening; a survey of finished sizes does not give it.
    fn measured(self, of: impl Fn(&'r Facts) -> Length) -> Option<Length> {
        match self.report.rules.project.sizes_given {
            SizesGiven::Opening => self.facts().map(of),
            SizesGiven::Finished => None,
        }
    }

    fn blind(self) -> Option<&'r Blind<'r>> {
        self.report.blinds[self.index].as_ref()
    }

    fn fitted(self) -> Option<&'r Fitted<'r>> {
        self.blind().map(|blind| &blind.fitted)
    }

    fn finished(self) -> Option<Finished> {
        self.report.above_finished_floor(self.index)
    }

    fn stack(self) -> Option<Stack> {
        self.fitted()?.panel.stack
    }

    fn has_blind(self) -> bool {
        self.blind().is_some()
    }

    /// An overlap as a sheet shows it; a blind in a recess has none.
    fn lapped(self, overlap: Option<Length>) -> Said<'r> {
        match (self.mount(), overlap) {
            (Some(Mount::Outside | Mount::Ceiling), None) => Said::Unknown,
            (Some(Mount::Outside | Mount::Ceiling), overlap) => Said::of(overlap),
            (Some(Mount::Inside) | None, _) => Said::of(None::<Length>),
        }
    }
}

/// The louvers of one blind.
#[derive(Clone, Copy)]
pub struct LouversRow<'r>(&'r Louvers);

row! {
    /// The louvers of one blind.
    LouversRow<'r>: row {
        /// How many.
        count: u32 = row.0.count => at_least(1), headed("Louvers");
        /// Finished length of each.
        length_mm: Length = row.0.length => above_zero, headed("Louver length");
    }
}

/// The brackets of one blind.
#[derive(Clone, Copy)]
pub struct BracketsRow<'r> {
    blind: &'r Blind<'r>,
    finished: Option<Finished>,
}

row! {
    /// The brackets of one blind.
    BracketsRow<'r>: row {
        /// The bracket.
        item: &'r str = &row.blind.fitted.brackets.item => headed("Bracket");
        /// How many.
        count: u32 = row.blind.fitted.brackets.count() => at_least(2), headed("Brackets");
        /// From the face that the bracket is on to the line of the louvers; null inside and from the ceiling.
        reach_mm: Option<Length> = row.blind.sizing.hung.reach() => above_zero, shown, unless_blank;
        /// Inside, and from the ceiling: from the wall face to the rail's center; null outside or if the depth is
        /// unknown.
        setback_mm: Option<Length> = row.blind.sizing.hung.setback() => shown, unless_blank;
        /// Centers from the left end of the rail.
        from_left_mm: Vec<Length> = row.blind.fitted.brackets.from_left.clone() => at_least_so_many(2);
        /// Centers from the left edge of the opening; null if the opening is unknown.
        from_opening_left_mm: Option<Vec<Length>> = row.blind.fitted.brackets.from_opening_left.clone()
            => at_least_so_many(2);
        /// Bracket top above the floor as measured; null if the sill is unknown.
        top_above_floor_mm: Option<Length> = row.blind.fitted.brackets.top_above_floor
            => headed("Bracket top above floor"), or_unknown;
        /// The same above a floor that is still to come; null where none is, or its thickness or the sill is unknown.
        top_above_finished_floor_mm: Option<Length> = row.finished.and_then(|finished| finished.bracket_top);
        /// Bracket top above the head of the opening, 0 inside; null if the opening is unknown.
        top_above_head_mm: Option<Length> = row.blind.fitted.brackets.top_above_head
            => headed("Bracket top above head"), or_unknown;
    }
}

/// The fixings of one blind.
#[derive(Clone, Copy)]
pub struct FixingsRow<'r>(&'r Fitted<'r>);

row! {
    /// The fixings of one blind.
    FixingsRow<'r>: row {
        /// The fixing; null where none could be chosen.
        item: Option<&'r str> = row.0.fixings.most.fixing.map(|fixing| &*fixing.item)
            => headed("Fixing"), worded(|_, item| item.unwrap_or(NOT_CHOSEN));
        /// How many, of both kinds.
        count: u32 = row.0.fixings.count() => at_least(1), headed("Fixings");
        /// The other fixing, where an end of the rail is not on a stud; `not chosen` where none is listed that does;
        /// null without one.
        also: Option<&'r str> = row.others().map(|also| also.fixing.map_or(NOT_CHOSEN, |fixing| &fixing.item));
        /// How many of them are of the other; 0 without one.
        also_count: u32 = row.others().map_or(0, |also| also.count);
        /// Diameter of the hole to drill for the other; null if its row does not say, or without it.
        also_hole_mm: Option<Length> = row.others().and_then(|also| also.fixing?.pilot) => above_zero;
        /// Load over capacity, the worse of hanging and pulled; null if not known.
        r#use: Option<Share> = row.0.fixings.hung.zip(row.0.fixings.pulled).map(|(hung, pulled)| Share(hung.max(pulled)))
            => headed("Load / capacity (%)"), or_unknown;
        /// The same while the blind hangs; null if not known.
        hung: Option<Share> = row.0.fixings.hung.map(Share);
        /// The same while someone pulls at the blind; null if not known.
        pulled: Option<Share> = row.0.fixings.pulled.map(Share);
        /// What the worst bracket bears while the blind hangs, in newtons; null without a fixing.
        reaction_n: Option<Newtons> = row.working().map(|working| Newtons(working.reaction));
        /// What pulls at its worst screw then, in newtons.
        pull_n: Option<Newtons> = row.working().map(|working| Newtons(working.pull));
        /// What pulls at it when someone pulls at the blind, in newtons.
        pulled_n: Option<Newtons> = row.working().map(|working| Newtons(working.pulled_pull));
        /// What shears it, in newtons; shown, not counted.
        shear_n: Option<Newtons> = row.working().map(|working| Newtons(working.shear));
        /// What one screw holds while the blind hangs, in newtons; null if not known.
        capacity_n: Option<Newtons> = row.working().and_then(|working| working.holds).map(|[hung, _]| Newtons(hung));
        /// What it holds against a pull of a moment, in newtons; null if not known.
        capacity_pulled_n: Option<Newtons> = row.working().and_then(|working| working.holds).map(|[_, pulled]| Newtons(pulled));
        /// Which fixing these figures are of: the one that works the hardest; null without a fixing.
        of: Option<&'r str> = row.0.fixings.hardest.map(|fixing| &*fixing.item);
        /// Where its capacity comes from; null if not known.
        capacity_source: Option<&'r str> = row.0.fixings.hardest.and_then(Fixing::capacity_source);
        /// Diameter of the hole to drill for `item`; null if its row does not say, or without a fixing.
        hole_mm: Option<Length> = row.0.fixings.most.fixing.and_then(|fixing| fixing.pilot) => above_zero;
        /// The working load that the fixing needs where its own is not known, in newtons; else null.
        needed_n: Option<Newtons> = row.working().and_then(|working| working.needed()).map(Newtons);
    }
}

impl<'r> FixingsRow<'r> {
    fn working(self) -> Option<Working> {
        self.0.fixings.working
    }

    fn others(self) -> Option<Screws<'r>> {
        self.0.fixings.also
    }
}

/// Where to start measuring at one opening.
#[derive(Clone, Copy)]
pub struct StartRow<'r> {
    report: &'r Report<'r>,
    index: OpeningIndex,
}

row! {
    /// Where to start measuring at one opening.
    StartRow<'r>: row {
        /// The lowest point of the head or of the ceiling, the highest of the floor, or where the opening height is
        /// greatest.
        from: &'static str = row.start().map_or("", |start| start.from())
            => one_of(&["head", "ceiling", "floor", "opening height"]);
        /// Where along the opening that is, as seen from inside; empty if the heights measured do not say.
        at: Vec<&'static str> = row.start().map_or(Vec::new(), |start| start.at().iter().map(|spot| spot.word()).collect());
        /// The gap to expect under the blind at the left end of the opening; null if not known.
        gap_left_mm: Option<Length> = row.gap(Spot::Left);
        /// The same in the middle.
        gap_middle_mm: Option<Length> = row.gap(Spot::Middle);
        /// The same at the right end.
        gap_right_mm: Option<Length> = row.gap(Spot::Right);
    }
}

impl StartRow<'_> {
    fn start(self) -> Option<Start> {
        self.report.start(self.index)
    }

    fn gap(self, at: Spot) -> Option<Length> {
        self.start()?.gap(at)
    }
}

/// One step on the way to a number.
#[derive(Clone, Copy)]
pub struct StepRow<'r> {
    report: &'r Report<'r>,
    step: Step<'r>,
}

row! {
    /// One step on the way to a number.
    StepRow<'r>: row {
        /// The number it leads to, such as `width`; the last step of that name is its value.
        of: &'static str = row.step.of.name();
        /// What was done.
        step: &'static str = row.step.step;
        /// The cell or the rule that the figure comes from; null where it comes from the steps above alone.
        from: Option<Cow<'r, str>> = row.step.from.show(row.report.sheets);
        /// Value after this step; null if it is not a length.
        value_mm: Option<Length> = match row.step.value {
            Amount::Length(length) => Some(length),
            _ => None,
        };
        /// The value with its unit.
        value: String = row.step.value.show(row.report.rules.project.units);
    }
}

impl<'r> StepRow<'r> {
    /// The steps of one opening, in the order in which they were taken.
    pub fn all(report: &'r Report<'r>, index: OpeningIndex) -> impl Iterator<Item = StepRow<'r>> {
        report.working(index).into_iter().map(move |step| StepRow { report, step })
    }
}

/// The opening that a row of another list belongs to.
#[derive(Clone, Copy)]
pub struct NameRow<'r>(&'r Identity);

row! {
    /// The opening that a row belongs to.
    NameRow<'r>: row {
        /// Its name as shown.
        name: &'r str = &row.0.name;
    }
}

impl<'r> NameRow<'r> {
    pub(super) const fn of(who: &'r Identity) -> NameRow<'r> {
        NameRow(who)
    }

    /// The steps of every opening, each beside its opening.
    pub fn steps(report: &'r Report<'r>) -> impl Iterator<Item = (NameRow<'r>, StepRow<'r>)> {
        report.survey.openings.iter().enumerate().flat_map(move |(index, opening)| {
            StepRow::all(report, index).map(move |step| (NameRow(&opening.who), step))
        })
    }
}
