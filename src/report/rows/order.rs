//! The order: its lines, what they come to by color, and which opening each blind is for.

use super::{first_of, names};
use crate::blinds::{CutPart, HEADRAIL, LOUVER, Part, TILT_ROD};
use crate::date::Date;
use crate::earlier::KeptBlind;
use crate::fitting::ControlSide;
use crate::length::Length;
use crate::order::OrderLine;
use crate::query::OpeningIndex;
use crate::report::figure::{Figure, Kilograms, Lead, Said, Value, row};
use crate::report::{ColorTotal, Delivery, Labels, Report};
use crate::rules::{SizesGiven, StockSize, Terms};
use crate::sizing::{Mount, Release, Size};
use crate::sourcing::Origin;
use crate::survey::{Control, CordDevice, Draw, Facts, Identity, shown_unit};

/// What an order says of a cord: whoever makes it sees to it too.
const CORD: &str = "cord: KEEP FROM CHILDREN";

/// A line of the order.
#[derive(Clone, Copy)]
pub struct LineRow<'r> {
    report: &'r Report<'r>,
    line: &'r OrderLine,
}

row! {
    /// Identical blinds. Sizes are finished sizes: make no further deduction.
    LineRow<'r>: row {
        /// Line number.
        line: usize = row.line.line => at_least(1), shown, strong;
        /// How many blinds.
        quantity: u64 = row.line.quantity => at_least(1), shown, strong;
        /// The product.
        product: &'r str = &row.line.key.product => shown;
        /// The color.
        color: &'r str = &row.line.key.color => shown;
        /// Finished width.
        width_mm: Length = row.line.key.size.width => above_zero, shown, strong;
        /// Finished drop.
        drop_mm: Length = row.line.key.size.drop => above_zero, shown, strong;
        /// Whether it may be made now.
        release: Release = row.line.key.release => shown, worded(|row, _| row.release_in_words());
        /// Cut length of the headrail; null for a blind without, and from stock.
        headrail_mm: Option<Length> = row.cut(HEADRAIL).map(|cut| cut.length) => headed("Headrail cut");
        /// Cut length of the tilt rod; null for a blind without, and from stock.
        rod_mm: Option<Length> = row.cut(TILT_ROD).map(|cut| cut.length) => headed("Tilt rod cut");
        /// Louvers of one blind; null for a blind without.
        louver_count: Option<u32> = row.line.louvers.map(|louvers| louvers.count) => at_least(1), headed("Louvers per blind");
        /// Those on each side of a blind that is drawn to both; null for any other.
        louvers_a_side: Option<u32> = row.on_a_side() => at_least(1), headed("Louvers a side"), unless_blank;
        /// Width of a louver; null for a blind without.
        louver_width_mm: Option<Length> = row.louver_width() => above_zero, shown;
        /// From one louver to the next; null for a blind without.
        pitch_mm: Option<Length> = row.line.louvers.map(|louvers| louvers.pitch) => above_zero, headed("Louver spacing");
        /// What the louvers are of; null for a blind without, and from stock.
        louver_material: Option<&'r str> = row.cut(LOUVER).map(|cut| &*cut.material) => shown;
        /// Finished length of a louver; null for a blind without.
        louver_length_mm: Option<Length> = row.line.louvers.map(|louvers| louvers.length) => above_zero, shown;
        /// The side on which the louvers stack, seen from inside; null for a blind that is not drawn aside.
        draw: Option<Draw> = row.line.key.draw => shown;
        /// How the blind is operated.
        control: Control = row.line.key.control => shown, worded(|_, control| match control {
            Control::Cord => CORD,
            Control::Wand | Control::Motor => control.word(),
        });
        /// The side on which wand or cord hangs when the blind is closed, or the end that the motor is at; null if
        /// nobody says.
        control_side: Option<ControlSide> = row.line.key.control_side => shown, unless_blank;
        /// Length of each wand; null without a wand.
        wand_mm: Option<Length> = row.line.key.wand => above_zero, headed("Wand length"), unless_blank;
        /// What keeps the cord from children; null without a cord, or if nobody says.
        cord_device: Option<CordDevice> = row.line.key.cord.and_then(|cord| cord.device) => shown, unless_blank;
        /// Lowest point of the cord above the floor as measured; null without a cord, or if nobody says.
        cord_height_mm: Option<Length> = row.line.key.cord.and_then(|cord| cord.height)
            => at_least(0), headed("Cord height above floor"), unless_blank;
        /// Inside mount, outside mount, or from the ceiling.
        mount: Mount = row.line.key.mount() => shown;
        /// The bracket.
        bracket: &'r str = &row.line.key.bracket => shown;
        /// Reach of the bracket; null inside.
        reach_mm: Option<Length> = row.line.key.reach() => above_zero, shown, unless_blank;
        /// Brackets per blind.
        bracket_count: u32 = row.line.key.brackets => at_least(2), headed("Brackets per blind");
        /// Front of the valance; null for a blind without.
        valance_mm: Option<Length> = row.line.key.valance => above_zero, headed("Valance front");
        /// Clips that hold the valance.
        clips: u32 = row.line.clips => headed("Valance clips");
        /// Corner pieces of the valance, one a return.
        corner_pieces: u32 = row.line.key.returns().count() => shown;
        /// Links between louvers, at both ends of them.
        spacer_links: u32 = row.line.spacer_links => shown;
        /// Return on the left, 0 for none.
        return_left_mm: Length = row.line.key.returns().left => at_least(0), shown, none_at_zero;
        /// Return on the right, 0 for none.
        return_right_mm: Length = row.line.key.returns().right => at_least(0), shown, none_at_zero;
        /// Made to measure, or from a stock size.
        source: Origin = row.line.key.origin => shown, worded(LineRow::in_words);
        /// How far a size may be off, plus or minus; null if the product is not in the rules.
        tolerance_mm: Option<Length> = row.tolerance() => at_least(0), headed("Tolerance, +/-");
        /// Weight of one blind.
        weight_kg: Kilograms = Kilograms(row.line.weight) => above_zero, headed("Weight per blind");
        /// The phase; empty if blank.
        phase: &'r str = &row.line.key.phase => shown, unless_blank;
        /// Names of their openings, once for each row of the survey.
        openings: Vec<&'r str> = names(row.report, &row.line.openings())
            => headed("Openings"), worded(|row, names| Said::Leading(Lead::Labels(row.line.line), first_of(&names, 1).into()));
    }
}

impl<'r> LineRow<'r> {
    /// Every line, in order.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = LineRow<'r>> + Clone {
        report.order.lines.iter().map(move |line| LineRow { report, line })
    }

    /// A line, also one of which every blind was cancelled.
    pub(super) fn of(report: &'r Report<'r>, line: &'r OrderLine) -> LineRow<'r> {
        LineRow { report, line }
    }

    /// The line itself.
    pub(super) fn order_line(self) -> &'r OrderLine {
        self.line
    }

    /// Up to which number its labels count.
    pub(super) fn labels_count(self) -> u64 {
        self.line.of
    }

    /// The stock size that it comes from, if the rules list it.
    pub(super) fn stock_size(self) -> Option<&'r StockSize> {
        self.line.key.stock.and_then(|id| self.report.rules.stock_size(id))
    }

    /// People to lift one of its blinds.
    pub(super) fn people(self) -> u32 {
        self.line.people
    }

    /// `from stock` for what may be taken from stock now; else the word of its release.
    fn release_in_words(self) -> &'static str {
        match (self.line.key.release, self.line.key.origin) {
            (Release::Make, Origin::Stock) => "FROM STOCK",
            (release, _) => release.word(),
        }
    }

    /// `made`, or the stock size by the name it is ordered by, and whether it is to be cut down.
    fn in_words(self, source: Origin) -> String {
        let key = &self.line.key;
        let Some(stock) = self.stock_size() else {
            return source.word().to_owned();
        };
        let units = self.report.rules.project.units;
        let nominal = format!("{} x {}", stock.nominal_width.show(units), stock.nominal_drop.show(units));
        let cut_down = key.size != Size { width: stock.width, drop: stock.drop };
        let cut_down = if cut_down { ", cut down" } else { "" };
        let apart =
            if stock.brackets.contains(&key.bracket) { "" } else { "; its brackets are bought apart" };
        format!("{} {nominal}{cut_down}{apart}", source.word())
    }

    /// What it is cut from; nothing where it comes from stock.
    fn cut(self, part: Part) -> Option<&'r CutPart> {
        let made = (self.line.key.origin == Origin::Made).then_some(self.line)?;
        made.key.parts.iter().find(|needed| needed.part == part)
    }

    fn on_a_side(self) -> Option<u32> {
        let louvers = self.line.louvers.filter(|_| self.line.key.draw == Some(Draw::Split))?;
        Some(louvers.count / 2)
    }

    fn louver_width(self) -> Option<Length> {
        let louver = self.line.key.parts.iter().find(|needed| needed.part == LOUVER)?;
        louver.spares.map(|spares| spares.width)
    }

    fn tolerance(self) -> Option<Length> {
        self.report.rules.product(&self.line.key.product).map(|product| *product.cover.tolerance)
    }
}

/// What is ordered of one color.
#[derive(Clone, Copy)]
pub struct ColorRow<'r>(ColorTotal<'r>);

row! {
    /// What is ordered of one product in one color.
    ColorRow<'r>: row {
        /// Blinds.
        blinds: u64 = row.0.blinds() => shown, strong;
        /// The product.
        product: &'r str = row.0.product => shown;
        /// The color.
        color: &'r str = row.0.color => shown, strong;
        /// Blinds to make now.
        to_make: u64 = row.0.to_make => headed("To make now");
        /// Blinds to take from stock now.
        from_stock: u64 = row.0.from_stock => shown;
        /// Blinds that are provisional.
        provisional: u64 = row.0.provisional => shown;
        /// Louvers of all of these.
        louvers: u64 = row.0.louvers => shown;
    }
}

impl<'r> ColorRow<'r> {
    /// Every product and color, in alphabetical order.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = ColorRow<'r>> {
        report.color_totals().into_iter().map(ColorRow)
    }

    /// The whole order in one row.
    pub fn of_all(report: &'r Report<'r>) -> ColorRow<'r> {
        ColorRow(report.order_total())
    }
}

/// What is delivered to one floor.
#[derive(Clone, Copy)]
pub struct DeliveryRow<'r> {
    report: &'r Report<'r>,
    delivery: Delivery<'r>,
}

row! {
    /// The blinds of one phase for one floor of a building.
    DeliveryRow<'r>: row {
        /// Blinds to make now, or to take from stock, each in a box of its own.
        boxes: u64 = row.delivery.boxes => shown, strong;
        /// Blinds that are provisional.
        provisional: u64 = row.delivery.provisional => shown;
        /// Length of the longest box at the least: its longest piece.
        longest_mm: Length = row.delivery.longest => above_zero, headed("Longest box"), strong;
        /// The phase; empty if blank.
        phase: &'r str = row.delivery.phase => shown, unless_blank;
        /// The building; empty if blank.
        building: &'r str = row.delivery.building => shown, unless_blank;
        /// The floor; empty if blank.
        floor: &'r str = row.delivery.floor => shown, unless_blank;
        /// Number of the phase's order; empty if blank. A sheet shows this and what follows where phases differ.
        order_number: &'r str = row.terms().order_number => shown, unless_blank, worded(DeliveryRow::of_phase);
        /// Address that the phase's boxes go to; empty if blank.
        deliver_to: &'r str = row.terms().deliver_to => shown, unless_blank, worded(DeliveryRow::of_phase);
        /// Date from which the phase's lead days are counted; null if not known.
        order_date: Option<Date> = row.terms().order_date => shown, unless_blank, worded(DeliveryRow::of_phase);
        /// Date on which the phase's blinds must be on site; null if nobody says.
        need_by: Option<Date> = row.terms().need_by => shown, unless_blank, worded(DeliveryRow::of_phase);
    }
}

impl<'r> DeliveryRow<'r> {
    /// Every phase and floor, in survey order of first mention.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = DeliveryRow<'r>> {
        report.deliveries().into_iter().map(move |delivery| DeliveryRow { report, delivery })
    }

    fn terms(self) -> Terms<'r> {
        self.report.rules.terms_of(self.delivery.phase)
    }

    /// Where no phase has a row of its own, the head of the sheet says it for all.
    fn of_phase<F: Figure<'r>>(self, figure: F) -> Said<'r> {
        match self.report.rules.phases.is_empty() {
            true => Said::Figure(Value::Null),
            false => Said::of(figure),
        }
    }
}

/// The labels of one opening's blinds.
#[derive(Clone, Copy)]
pub struct LabelRow<'r> {
    report: &'r Report<'r>,
    line: LineRow<'r>,
    labels: Labels<'r>,
}

row! {
    /// One opening's blinds of one order line, as their labels number them. Of an ordered blind all stands as
    /// it was when it was ordered.
    LabelRow<'r>: row {
        /// The order line.
        line: usize = row.line.line() => at_least(1), shown, strong;
        /// Number of its first blind within the line.
        first: u64 = row.labels.first => at_least(1), headed("Label"), strong, worded(|row, _| row.labels.words());
        /// Number of its last.
        last: u64 = row.labels.last => at_least(1);
        /// Blinds of the line.
        of: u64 = row.labels.of => at_least(1);
        /// The product.
        product: &'r str = row.line.product() => shown;
        /// The color.
        color: &'r str = row.line.color() => shown;
        /// Finished width.
        width_mm: Length = row.line.width_mm() => above_zero, shown, strong;
        /// Finished drop.
        drop_mm: Length = row.line.drop_mm() => above_zero, shown, strong;
        /// Whether it may be made now.
        release: Release = row.line.release() => shown, worded(|row, _| row.line.release_in_words());
        /// The opening's name.
        opening: &'r str = row.told(|who| &who.name, |kept| &kept.opening)
            => shown, worded(|row, name| row.leading(Lead::Opening, name));
        /// The room; empty if blank.
        room: &'r str = row.told(|who| &who.room, |kept| &kept.room) => shown, unless_blank;
        /// The unit; empty if blank.
        unit: &'r str = row.told(|who| &who.unit, |kept| &kept.unit)
            => shown, worded(|row, unit| row.leading(Lead::Page, shown_unit(unit)));
        /// The size of the opening; null where the survey gives sizes of finished blinds.
        opening_size: Option<OpeningSizeRow<'r>> = row.size()
            => headed("Opening size, width x height"), worded(|row, size| row.in_words(size));
        /// The floor; empty if blank.
        floor: &'r str = row.told(|who| &who.floor, |kept| &kept.floor) => shown, unless_blank;
        /// The building; empty if blank.
        building: &'r str = row.told(|who| &who.building, |kept| &kept.building) => shown, unless_blank;
        /// The phase; empty if blank.
        phase: &'r str = row.line.phase();
        /// What the label's code holds: the survey's fingerprint, the line and the opening's name, by which a blind of
        /// this revision is known.
        key: String = row.key_of_blind();
    }
}

impl<'r> LabelRow<'r> {
    /// Every opening's labels, line by line, in survey order.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = LabelRow<'r>> + Clone {
        LineRow::all(report).flat_map(move |line| {
            report.labels(line.line).map(move |labels| LabelRow { report, line, labels })
        })
    }

    /// What a label says of what operates the blind; empty for a wand, which is in the box.
    pub fn control_in_words(self) -> String {
        let side = self.line.control_side().map_or("side not given", ControlSide::word);
        match self.line.control() {
            Control::Wand => String::new(),
            Control::Cord => format!("{CORD}, {side}"),
            Control::Motor => format!("motor, {side}"),
        }
    }

    fn key_of_blind(self) -> String {
        let (line, name) = (self.line.line(), self.opening());
        match self.fingerprint() {
            empty if empty.is_empty() => format!("{line}/{name}"),
            fingerprint => format!("{fingerprint}/{line}/{name}"),
        }
    }

    /// How it hangs, in a few words: `outside mount, stacks left, two people`.
    pub fn hangs(self) -> String {
        let mount = format!("{} mount", self.line.mount().word());
        let stacks = self.line.draw().map(|draw| match draw {
            Draw::Split => "stacks both sides".to_owned(),
            Draw::Left | Draw::Right => format!("stacks {}", draw.word()),
        });
        let two = (self.line.line.people > 1).then(|| "two people".to_owned());
        [Some(mount), stacks, two].into_iter().flatten().collect::<Vec<_>>().join(", ")
    }

    /// The survey from which they were ordered, or this one.
    pub fn fingerprint(self) -> String {
        match self.labels.ordered {
            Some(kept) => kept.survey.to_string(),
            None => self.report.survey_fingerprint(),
        }
    }

    /// The revision of that survey.
    pub fn revision(self) -> &'r str {
        self.labels.ordered.map_or(&*self.report.rules.project.revision, |kept| &kept.revision)
    }

    /// What is said of the place that they are for: as it was when they were ordered, or as it is.
    fn told(self, now: fn(&'r Identity) -> &'r str, ordered: fn(&'r KeptBlind) -> &'r str) -> &'r str {
        match (self.labels.ordered, self.labels.opening) {
            (Some(kept), _) => ordered(kept),
            (None, Some(opening)) => now(&self.report.survey.openings[opening].who),
            (None, None) => "",
        }
    }

    /// A text that leads to the opening, if the survey has it.
    fn leading(self, to: fn(OpeningIndex) -> Lead, text: &'r str) -> Said<'r> {
        self.labels.opening.map_or_else(|| text.into(), |opening| Said::Leading(to(opening), text.into()))
    }

    /// A survey of finished sizes does not give it.
    fn size(self) -> Option<OpeningSizeRow<'r>> {
        let facts = self.report.survey.openings[self.labels.opening?].facts.as_deref();
        facts.filter(|_| self.report.rules.project.sizes_given == SizesGiven::Opening).map(OpeningSizeRow)
    }

    /// The size of the opening as text: it is no size to make.
    fn in_words(self, size: Option<OpeningSizeRow<'_>>) -> String {
        let units = self.report.rules.project.units;
        match size {
            Some(size) => format!("{} x {}", size.width_mm().show(units), size.height_mm().show(units)),
            None => "not given".to_owned(),
        }
    }
}

/// The size of an opening.
#[derive(Clone, Copy)]
pub struct OpeningSizeRow<'r>(&'r Facts);

row! {
    /// The size of an opening.
    OpeningSizeRow<'r>: row {
        /// Smallest width.
        width_mm: Length = row.0.width.least().value => above_zero;
        /// Smallest height.
        height_mm: Length = row.0.height.least().value => above_zero;
    }
}
