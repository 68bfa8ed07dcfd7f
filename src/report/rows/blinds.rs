//! `Blinds`: every blind of the job, what it is, and what people typed beside it. It is what a later run
//! reads back, so each heading is that of the schema.

use rust_decimal::Decimal;

use super::LineRow;
use crate::cost::price_each;
use crate::date::Date;
use crate::earlier::{KeptBlind, KeptSpares, Typed, WEIGHT_DECIMALS};
use crate::fitting::ControlSide;
use crate::length::Length;
use crate::order::{OrderLine, Seat};
use crate::report::Report;
use crate::report::figure::{Kilograms, Money, row};
use crate::rounding::half_away;
use crate::rules::{CostBasis, SPARE_LOUVER};
use crate::schema::blinds::{BlindState, Do, PaidBy, Reason, What};
use crate::sizing::{Mount, Release};
use crate::sourcing::Origin;
use crate::spares::Spare;
use crate::survey::{Control, CordDevice, Draw, Identity, Kind};

use super::cost::amount;

/// One row of `Blinds`.
#[derive(Clone, Copy)]
pub struct BlindRow<'r> {
    report: &'r Report<'r>,
    of: Of<'r>,
    kept: Option<&'r KeptBlind>,
}

/// What a row is about.
#[derive(Clone, Copy)]
enum Of<'r> {
    /// One blind of a line: its seat, and its number.
    Blind(LineRow<'r>, &'r Seat, u64),
    /// Spare louvers, and the row that an earlier fit-out has of them.
    Spares(&'r Spare, Option<&'r KeptSpares>),
    /// A line that nothing is on any more.
    Gone(usize),
}

row! {
    /// A blind, or spare louvers, and how far it has come. What is ordered stands as it was ordered.
    BlindRow<'r>: row {
        /// A blind, spare louvers, or a line that nothing is on any more.
        what: What = row.is_about() => shown;
        /// Line of the order.
        line: usize = row.line_number() => at_least(1), shown, strong;
        /// Which blind of its line, as on its label; null for spare louvers.
        blind: Option<String> = row.number_of() => shown, strong;
        /// The building; empty if blank.
        building: &'r str = row.told(|who| &who.building, |kept| &kept.building) => shown;
        /// The floor; empty if blank.
        floor: &'r str = row.told(|who| &who.floor, |kept| &kept.floor) => shown;
        /// The unit; empty if blank.
        unit: &'r str = row.told(|who| &who.unit, |kept| &kept.unit) => shown, strong;
        /// The room; empty if blank.
        room: &'r str = row.told(|who| &who.room, |kept| &kept.room) => shown;
        /// The opening's name.
        opening: &'r str = row.told(|who| &who.name, |kept| &kept.opening) => shown, strong;
        /// The opening's id as written; empty if blank.
        id: &'r str = row.told(|who| &who.written, |kept| &kept.id) => shown;
        /// The phase; empty if blank.
        phase: &'r str = row.of_line(LineRow::phase).unwrap_or_default() => shown;
        /// Made to measure, or from a stock size; null for spare louvers.
        source: Option<Origin> = row.of_line(LineRow::source) => shown;
        /// Whether it may be made now; null for spare louvers.
        release: Option<Release> = row.of_line(LineRow::release) => shown;
        /// The product; empty for spare louvers.
        product: &'r str = row.of_line(LineRow::product).unwrap_or_default() => shown;
        /// The color.
        color: &'r str = row.color_of() => shown;
        /// Finished width; null for spare louvers.
        width_mm: Option<Length> = row.of_line(LineRow::width_mm) => above_zero, shown, strong;
        /// Finished drop; null for spare louvers.
        drop_mm: Option<Length> = row.of_line(LineRow::drop_mm) => above_zero, shown, strong;
        /// Inside mount, outside mount, or from the ceiling; null for spare louvers.
        mount: Option<Mount> = row.of_line(LineRow::mount) => shown;
        /// The side on which the louvers stack, seen from inside; null for a blind that is not drawn aside.
        draw: Option<Draw> = row.of_line(LineRow::draw).flatten() => shown;
        /// How it is operated; null for spare louvers.
        control: Option<Control> = row.of_line(LineRow::control) => shown;
        /// The side that wand, cord or motor is on; null if nobody says.
        control_side: Option<ControlSide> = row.of_line(LineRow::control_side).flatten() => shown;
        /// Length of each wand; null without.
        wand_mm: Option<Length> = row.of_line(LineRow::wand_mm).flatten() => above_zero, shown;
        /// Louvers of it, or spare louvers; null for a blind without.
        louver_count: Option<u64> = row.louvers() => at_least(1), headed("Louvers");
        /// Finished length of a louver; null for a blind without.
        louver_length_mm: Option<Length> = row.of_louvers(LineRow::louver_length_mm, |spare| spare.finished) => above_zero, shown;
        /// Cut length of the headrail; null for a blind without, and from stock.
        headrail_mm: Option<Length> = row.of_line(LineRow::headrail_mm).flatten() => shown;
        /// Cut length of the tilt rod; null for a blind without, and from stock.
        rod_mm: Option<Length> = row.of_line(LineRow::rod_mm).flatten() => shown;
        /// The bracket; empty for spare louvers.
        bracket: &'r str = row.of_line(LineRow::bracket).unwrap_or_default() => shown;
        /// Reach of the bracket; null inside and from the ceiling.
        reach_mm: Option<Length> = row.of_line(LineRow::reach_mm).flatten() => shown;
        /// Brackets of it; null for spare louvers.
        bracket_count: Option<u32> = row.of_line(LineRow::bracket_count) => headed("Brackets each");
        /// Clips of its valance; null for spare louvers.
        clips: Option<u32> = row.of_line(LineRow::clips) => shown;
        /// Front of the valance; null for a blind without.
        valance_mm: Option<Length> = row.of_line(LineRow::valance_mm).flatten() => above_zero, headed("Valance front");
        /// Return on the left, 0 for none; null for spare louvers.
        return_left_mm: Option<Length> = row.of_line(LineRow::return_left_mm) => at_least(0), shown;
        /// Return on the right, 0 for none; null for spare louvers.
        return_right_mm: Option<Length> = row.of_line(LineRow::return_right_mm) => at_least(0), shown;
        /// Weight of it; null for spare louvers.
        weight_kg: Option<Kilograms> = row.of_line(|line| milligrams(line.weight_kg())) => shown;
        /// Revision of the survey that it is of.
        revision: &'r str = row.revision_of() => shown;
        /// Fingerprint of that survey, as on its label; empty where that is of no file.
        survey: String = row.survey_of() => shown;
        /// Price of it; null if not known, or not bought whole.
        price_each: Option<Money> = row.price().map(|price| amount(price, row.report)) => headed("Price each");
        /// The line and blind in whose place it is made again; null for any other.
        remake_of: Option<String> = row.remake() => headed("Remake of");
        /// How far it has come; null before it is ordered.
        state: Option<BlindState> = row.typed().and_then(|typed| typed.state) => shown;
        /// Number of the order that it is on; empty if not typed.
        order_number: &'r str = row.typed().map_or("", |typed| &typed.order_number) => shown;
        /// When it was ordered; null if not typed.
        ordered_on: Option<Date> = row.typed().and_then(|typed| typed.ordered_on) => shown;
        /// When it came; null if not typed.
        delivered_on: Option<Date> = row.typed().and_then(|typed| typed.delivered_on) => shown;
        /// When it was fitted; null if not typed.
        fitted_on: Option<Date> = row.typed().and_then(|typed| typed.fitted_on) => shown;
        /// Why it is made again; null if not typed.
        reason: Option<Reason> = row.typed().and_then(|typed| typed.reason) => shown;
        /// Who pays for that; null if not typed, which means us.
        paid_by: Option<PaidBy> = row.typed().and_then(|typed| typed.paid_by) => shown;
        /// What is to be done with it; null if not typed.
        r#do: Option<Do> = row.typed().and_then(|typed| typed.to_do) => shown;
        /// The opening that it goes to, or `store`; empty if not typed.
        goes_to: &'r str = row.typed().map_or("", |typed| &typed.goes_to) => shown;
        /// Spare louvers that are left; null if not typed.
        left: Option<u32> = row.typed().and_then(|typed| typed.left) => shown;
        /// Anything typed beside it.
        note: &'r str = row.typed().map_or("", |typed| &typed.note) => shown;
        /// What its opening is; null if that is held, and for spare louvers.
        kind: Option<Kind> = row.kind_of() => shown, unless_blank;
        /// Nominal width of its stock size; null if made.
        stock_width_mm: Option<Length> = row.stock().map(|(width, _)| width) => shown, unless_blank;
        /// Nominal drop of its stock size; null if made.
        stock_drop_mm: Option<Length> = row.stock().map(|(_, drop)| drop) => shown, unless_blank;
        /// What keeps the cord from children; null without a cord, or if nobody says.
        cord_device: Option<CordDevice> = row.of_line(LineRow::cord_device).flatten() => shown, unless_blank;
        /// Lowest point of the cord above the floor; null without a cord, or if nobody says.
        cord_height_mm: Option<Length> = row.of_line(LineRow::cord_height_mm).flatten() => shown, unless_blank;
        /// Width of a louver; null for a blind without.
        louver_width_mm: Option<Length> = row.of_louvers(LineRow::louver_width_mm, |spare| spare.width) => above_zero, shown, unless_blank;
        /// From one louver to the next; null for a blind without, and for spare louvers.
        pitch_mm: Option<Length> = row.of_line(LineRow::pitch_mm).flatten() => above_zero, headed("Louver spacing"), unless_blank;
        /// What the louvers are of; empty for a blind without, and from stock.
        louver_material: &'r str = row.material() => shown, unless_blank;
        /// Links between its louvers; null for spare louvers.
        spacer_links: Option<u32> = row.of_line(LineRow::spacer_links) => shown, unless_blank;
        /// What differed when it was first used as it is; empty for any other.
        used_for: &'r str = row.used() => shown, unless_blank;
        /// People to lift it; null for spare louvers.
        people: Option<u32> = row.of_line(LineRow::people) => shown, unless_blank;
    }
}

/// What a blind is used for that is what its opening would get.
const AS_ORDERED: &str = "nothing differs";

/// A weight as a later run reads it back, whatever its unit.
fn milligrams(Kilograms(weight): Kilograms) -> Kilograms {
    Kilograms(half_away(weight, WEIGHT_DECIMALS))
}

impl<'r> BlindRow<'r> {
    /// Every blind by line and number, then spare louvers, then lines that nothing is on any more.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = BlindRow<'r>> + Clone {
        let order = &report.order;
        let mut lines: Vec<&OrderLine> = order.lines.iter().chain(&order.ended).collect();
        lines.sort_by_key(|line| line.line);
        let of_line = move |line: &'r OrderLine| {
            let seats =
                line.seats.iter().flat_map(|seat| (seat.first..=seat.last).map(move |number| (seat, number)));
            seats.map(move |(seat, number)| BlindRow {
                report,
                of: Of::Blind(LineRow::of(report, line), seat, number),
                kept: seat.kept.map(|kept| &report.frozen.blinds()[kept]),
            })
        };
        let bought = report.rules.project.cost_basis == CostBasis::Buy;
        let spares = report.spares.iter().filter(move |spare| bought || spare.before.is_some());
        let spares = spares.map(move |spare| {
            let before = match spare.before {
                Some(place) => order.spares_before.get(place),
                None => order.spares_before.iter().find(|kept| kept.line == spare.line),
            };
            BlindRow { report, of: Of::Spares(spare, before), kept: None }
        });
        let gone = report.lines_gone().into_iter().map(move |line| BlindRow {
            report,
            of: Of::Gone(line),
            kept: None,
        });
        lines.into_iter().flat_map(of_line).chain(spares).chain(gone)
    }

    /// The row of an ordered blind: nothing printed of it changes.
    fn frozen(self) -> Option<&'r KeptBlind> {
        self.kept.filter(|kept| kept.is_frozen())
    }

    fn is_about(self) -> What {
        match self.of {
            Of::Blind(..) => What::Blind,
            Of::Spares(..) => What::Spares,
            Of::Gone(_) => What::LineGone,
        }
    }

    fn line_number(self) -> usize {
        match self.of {
            Of::Blind(line, ..) => line.line(),
            Of::Spares(spare, _) => spare.line,
            Of::Gone(line) => line,
        }
    }

    fn number_of(self) -> Option<String> {
        match self.of {
            Of::Blind(line, _, number) => Some(format!("{number} of {}", line.labels_count())),
            Of::Spares(..) | Of::Gone(_) => None,
        }
    }

    /// What the order's line says.
    fn of_line<V>(self, of: impl Fn(LineRow<'r>) -> V) -> Option<V> {
        match self.of {
            Of::Blind(line, ..) => Some(of(line)),
            Of::Spares(..) | Of::Gone(_) => None,
        }
    }

    fn of_louvers(
        self,
        of: fn(LineRow<'r>) -> Option<Length>,
        spare: fn(&Spare) -> Length,
    ) -> Option<Length> {
        match self.of {
            Of::Blind(line, ..) => of(line),
            Of::Spares(spares, _) => Some(spare(spares)),
            Of::Gone(_) => None,
        }
    }

    fn louvers(self) -> Option<u64> {
        match self.of {
            Of::Blind(line, ..) => line.louver_count().map(u64::from),
            Of::Spares(spare, _) => Some(spare.count),
            Of::Gone(_) => None,
        }
    }

    fn color_of(self) -> &'r str {
        match self.of {
            Of::Blind(line, ..) => line.color(),
            Of::Spares(spare, _) => &spare.color,
            Of::Gone(_) => "",
        }
    }

    fn material(self) -> &'r str {
        match self.of {
            Of::Blind(line, ..) => line.louver_material().unwrap_or_default(),
            Of::Spares(spare, _) => &spare.material,
            Of::Gone(_) => "",
        }
    }

    /// What is said of the place that it is for: as it was when it was ordered, or as it is.
    fn told(self, now: fn(&'r Identity) -> &'r str, ordered: fn(&'r KeptBlind) -> &'r str) -> &'r str {
        match (self.frozen(), self.of) {
            (Some(kept), _) => ordered(kept),
            (None, Of::Blind(_, Seat { opening: Some(opening), .. }, _)) => {
                now(&self.report.survey.openings[*opening].who)
            }
            _ => "",
        }
    }

    fn kind_of(self) -> Option<Kind> {
        match (self.frozen(), self.of) {
            (Some(kept), _) => kept.kind,
            (None, Of::Blind(_, Seat { opening: Some(opening), .. }, _)) => {
                self.report.survey.openings[*opening].facts.as_ref().map(|facts| facts.kind)
            }
            _ => None,
        }
    }

    fn stock(self) -> Option<(Length, Length)> {
        let listed = || {
            let line = self.of_line(|line| line.stock_size()).flatten()?;
            Some((line.nominal_width, line.nominal_drop))
        };
        match self.frozen() {
            Some(kept) => kept.stock,
            None => listed(),
        }
    }

    fn revision_of(self) -> &'r str {
        match (self.frozen(), self.of) {
            (Some(kept), _) => &kept.revision,
            (None, Of::Spares(Spare { before: Some(_), .. }, Some(kept))) => &kept.from[0],
            (None, Of::Gone(_)) => "",
            _ => &self.report.rules.project.revision,
        }
    }

    fn survey_of(self) -> String {
        match (self.frozen(), self.of) {
            (Some(kept), _) => kept.survey.to_string(),
            (None, Of::Spares(Spare { before: Some(_), .. }, Some(kept))) => kept.from[1].to_string(),
            (None, Of::Gone(_)) => String::new(),
            _ => self.report.survey_fingerprint(),
        }
    }

    fn price(self) -> Option<Decimal> {
        match (self.frozen(), self.of) {
            (Some(kept), _) => kept.price,
            (None, Of::Blind(line, ..)) => price_each(line.order_line(), self.report.rules),
            (None, Of::Spares(Spare { before: Some(_), .. }, Some(kept))) => kept.price,
            (None, Of::Spares(..)) => {
                let listed = self.report.rules.prices.parts.iter().find(|part| *part.item == *SPARE_LOUVER);
                listed.and_then(|part| part.each)
            }
            (None, Of::Gone(_)) => None,
        }
    }

    fn used(self) -> &'r str {
        match self.frozen().filter(|kept| kept.is_used_as_it_is()) {
            Some(kept) if !kept.used_for.is_empty() => &kept.used_for,
            Some(kept) if self.is_settled() => {
                self.report.used_for.get(&kept.at).map_or(AS_ORDERED, String::as_str)
            }
            _ => "",
        }
    }

    /// Whether nothing holds its opening: else nobody knows yet all that differs.
    fn is_settled(self) -> bool {
        let Of::Blind(_, Seat { opening: Some(opening), .. }, _) = self.of else { return false };
        self.report.blinds[*opening].is_some()
    }

    fn remake(self) -> Option<String> {
        let number = self.of_line(|line| line.order_line().key.remake_of).flatten()?;
        let of = self.report.frozen.blind(number).map_or(number.number, |kept| kept.of);
        Some(format!("{number} of {of}"))
    }

    fn typed(self) -> Option<&'r Typed> {
        match self.of {
            Of::Spares(_, kept) => kept.map(|kept| &kept.typed),
            Of::Blind(..) | Of::Gone(_) => self.kept.map(|kept| &kept.typed),
        }
    }
}
