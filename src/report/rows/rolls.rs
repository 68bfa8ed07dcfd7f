//! A roll's cuts, a row a blind, and what the cut list says over and under them.

use crate::blinds::LOUVER;
use crate::cutting::From;
use crate::length::Length;
use crate::report::figure::{Lead, Said, row};
use crate::report::{Report, RollCut, Stretch};
use crate::survey::Identity;

use super::PlanRow;

/// Equal pieces of one blind from one roll.
#[derive(Clone, Copy)]
pub struct RollCutRow<'r> {
    report: &'r Report<'r>,
    cut: RollCut<'r>,
}

row! {
    /// Equal pieces of one blind from one roll.
    RollCutRow<'r>: row {
        /// The unit of the blind's opening; null for spares.
        unit: Option<&'r str> = row.who().map(Identity::shown_unit) => shown;
        /// The opening; null for spares.
        opening: Option<&'r str> = row.who().map(|who| &*who.written) => shown, worded(|row, name| row.blind(name));
        /// The order line; null for spares.
        line: Option<usize> = row.cut.piece.line
            => shown, worded(|_, line| line.map_or(Said::from(""), |line| Said::Leading(Lead::Line(line), line.to_string().into())));
        /// How many.
        pieces: usize = row.cut.pieces => at_least(1), shown, strong;
        /// Length of each.
        cut_mm: Length = row.cut.piece.length => above_zero, headed("Cut length"), strong;
        /// The roll that the blind goes on with; null if it is whole.
        on_to: Option<usize> = row.cut.on_to => headed("Then"), wide(30), worded(|row, on_to| row.then(on_to));
    }
}

impl<'r> RollCutRow<'r> {
    /// The cuts of a stretch of work, in turn.
    pub fn all(report: &'r Report<'r>, stretch: &Stretch<'r>) -> impl Iterator<Item = RollCutRow<'r>> {
        let cuts = stretch.cuts.clone();
        cuts.into_iter().map(move |cut| RollCutRow { report, cut })
    }

    fn who(self) -> Option<&'r Identity> {
        Some(&self.report.survey.openings[self.cut.share.blind?.opening].who)
    }

    /// `W1`, or `W1, 2 of 3` for a row that stands for several; `spare`.
    fn blind(self, name: Option<&str>) -> String {
        let (Some(name), Some(blind), Some(who)) = (name, self.cut.share.blind, self.who()) else {
            return "spare".to_owned();
        };
        match who.quantity {
            1 => name.to_owned(),
            all => format!("{name}, {} of {all}", blind.number),
        }
    }

    /// `on to roll 8 after 13 of 24`; on roll 8 `the last 11 of 24`.
    fn then(self, on_to: Option<usize>) -> String {
        let RollCut { piece, pieces, before, of, .. } = self.cut;
        let part = if piece.part == LOUVER { None } else { Some(piece.part.word().to_owned()) };
        let is_torn = self.is_torn();
        let torn = match on_to {
            Some(roll) => Some(format!("on to roll {roll} after {} of {of}", before + pieces)),
            None if is_torn && before + pieces == of => Some(format!("the last {pieces} of {of}")),
            None => None,
        };
        part.into_iter().chain(torn).collect::<Vec<_>>().join("; ")
    }

    /// Whether the blind comes from more rolls than this.
    fn is_torn(self) -> bool {
        self.cut.share.blind.is_some() && self.cut.share.pieces < self.cut.of
    }
}

impl<'r> PlanRow<'r> {
    /// Over a stretch of work: which roll is taken up.
    pub fn take_up(self, stretch: &Stretch<'_>) -> String {
        let (roll, name) = (stretch.roll, self.stock().word());
        if stretch.is_rest {
            return format!("Rest of {name} {}, {}.", roll.number, self.shown(stretch.before));
        }
        let from = match roll.from {
            From::Bar => "new",
            From::Offcut => "on hand",
        };
        format!(
            "{}{} {} of {}: {}, {from}.{}",
            name[..1].to_uppercase(),
            &name[1..],
            roll.number,
            self.plan.patterns.len(),
            self.exact(roll.stock),
            self.trim_first()
        )
    }

    /// Under it: what becomes of the rest.
    pub fn put_down(self, stretch: &Stretch<'_>) -> String {
        let left = self.shown(stretch.left);
        match stretch.left {
            Length::ZERO => "Nothing is left over.".to_owned(),
            _ if stretch.goes_on => format!("Set the rest aside, {left}: more is cut from it below."),
            _ if self.plan.keeps(stretch.roll) => format!("Left over: {left}. Keep it."),
            _ => format!("Left over: {left}. Scrap it."),
        }
    }

    /// `10 rolls, none torn; 8 would tear 6`.
    pub(super) fn torn_in_words(self) -> Option<String> {
        let (plan, stock) = (self.plan, self.stock());
        let torn = match plan.torn? {
            0 => "none torn".to_owned(),
            torn => format!("{torn} blind{} torn", if torn == 1 { "" } else { "s" }),
        };
        let on_hand =
            match plan.patterns.iter().filter(|roll| roll.from == From::Offcut).map(|roll| roll.bars).sum() {
                0_u64 => String::new(),
                on_hand => format!(" and {on_hand} on hand"),
            };
        let fewest = plan
            .fewest_rolls
            .map_or_else(String::new, |fewest| format!("; {} would tear {}", fewest.rolls, fewest.torn));
        Some(format!("{}{on_hand}, {torn}{fewest}.", stock.counted(plan.bars)))
    }
}
