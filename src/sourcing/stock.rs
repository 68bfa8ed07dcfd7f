//! A size from stock or made to measure: what each opening could have, who gets the boxes of which there
//! are not enough, and what is said of it.
//!
//! What is ordered has taken its boxes already, and the rest of its row goes before all others, for a row
//! is never split between sources. The others share what is left by the rule of the module `share`.

use rust_decimal::Decimal;

use super::calendar::{Calendar, Calendars, Standing};
use super::candidate::{PassedOver, WhyNot, besides};
use super::offer::{LessCover, Offer, of_stock};
use super::queries::SourcingQuery;
use super::share::{Shared, Want, Wishes, Worth, share};
use super::{Origin, Sourced, Supply, ordered};
use crate::frozen::{Frozen, FrozenQuery};
use crate::query::{Held, OpeningIndex};
use crate::rules::{Rules, StockSize};
use crate::sizing::Sizing;
use crate::survey::Survey;
use crate::worked::Record;

/// A stock size, and what its boxes are worth to the project.
#[derive(Clone, Copy, Debug)]
pub struct StockUse<'r> {
    /// Which size.
    pub stock: &'r StockSize,
    /// Boxes that what is ordered takes, with the rest of its rows.
    pub ordered: u64,
    /// The use of the others.
    pub worth: Worth,
}

/// Chooses for every opening, and says how the stock sizes are used; none where the project does not want
/// stock.
pub(super) fn choose<'r>(
    survey: &Survey,
    sizings: &[Option<Sizing<'r>>],
    frozen: &Frozen<'_>,
    rules: &'r Rules,
    calendars: &Calendars,
    records: &mut [Record<'r>],
) -> (Vec<Option<Sourced<'r>>>, Vec<StockUse<'r>>) {
    let mut shelf = Shelf::of(rules, frozen);
    let mut sourced: Vec<Option<Sourced<'r>>> = Vec::with_capacity(sizings.len());
    // The openings that choose, with what they want.
    let (mut choosing, mut wishes) = (Vec::new(), Vec::new());
    for (index, (opening, sizing)) in survey.openings.iter().zip(sizings).enumerate() {
        let (record, calendar) = (&mut records[index], calendars.of_opening(index));
        let kept = sizing.as_ref().and_then(|sizing| {
            let taken = ordered::take(index, frozen, sizing, rules, calendar, record).transpose();
            if taken.is_none() {
                choosing.push((index, sizing));
                wishes.push(shelf.wishes(opening.who.quantity, sizing, rules, calendar));
            }
            let others = opening.who.quantity.saturating_sub(of_row(frozen, index));
            taken?.and_then(|sourced| shelf.take_more(sourced, others, record)).ok()
        });
        sourced.push(kept);
    }
    let left: Vec<u64> = shelf.sizes.iter().map(|(_, left)| u64::from(*left)).collect();
    let Shared { given, elsewhere, worth } = share(&wishes, &left);
    for (place, (index, sizing)) in choosing.into_iter().enumerate() {
        let wishes = &wishes[place];
        let calendar = calendars.of_opening(index);
        let chooser = Chooser { sizing, quantity: wishes.quantity, rules, calendar };
        let wanted = |given: usize| wishes.wants[given].place;
        let first = wishes.wants.first().map(|want| want.place);
        let chosen = Chosen {
            first,
            first_left: first.map_or(0, |place| left[place].saturating_sub(worth[place].used)),
            given: given[place].map(wanted),
            elsewhere: elsewhere[place],
        };
        sourced[index] = Some(chooser.take(&shelf, &chosen, &mut records[index]));
    }
    let uses = shelf.sizes.iter().zip(worth).map(|(&(stock, left), worth)| StockUse {
        stock,
        ordered: u64::from(stock.on_hand.saturating_sub(left)),
        worth,
    });
    (sourced, uses.collect())
}

/// How many blinds of a row are ordered.
fn of_row(frozen: &Frozen<'_>, opening: OpeningIndex) -> u32 {
    u32::try_from(frozen.serving(opening).len()).unwrap_or(u32::MAX)
}

/// The stock sizes, and how many of each are left; empty if the project does not want them.
struct Shelf<'r> {
    sizes: Vec<(&'r StockSize, u32)>,
}

impl<'r> Shelf<'r> {
    fn of(rules: &'r Rules, frozen: &Frozen<'_>) -> Shelf<'r> {
        let listed = if rules.project.stock_sizes { &rules.stock_sizes[..] } else { &[] };
        let ordered = ordered::from_stock(frozen, rules);
        let left = |size: &StockSize| {
            size.on_hand.saturating_sub(ordered.get(&size.id).copied().unwrap_or_default())
        };
        Shelf { sizes: listed.iter().map(|size| (size, left(size))).collect() }
    }

    /// Takes the others of a row of which some are ordered, where those came from stock.
    ///
    /// # Errors
    /// [`Held`] where not enough are left: a row is never split between sources.
    fn take_more(
        &mut self,
        sourced: Sourced<'r>,
        others: u32,
        record: &mut Record<'r>,
    ) -> Result<Sourced<'r>, Held> {
        let from = sourced.supply.stock().map(|stock| stock.id);
        let place = self.sizes.iter_mut().find(|(size, _)| Some(size.id) == from);
        match place {
            Some((_, left)) if *left >= others => *left -= others,
            None if sourced.supply.origin() == Origin::Made || others == 0 => {}
            short => {
                let left = short.map_or(0, |(_, left)| *left);
                let detail = format!("{others} more wanted, {left} left");
                return Err(record.hold(&FrozenQuery::StockShort, None, detail));
            }
        }
        Ok(sourced)
    }

    /// The stock sizes of a product, each with its place.
    fn of_product(&self, sizing: &Sizing<'r>) -> impl Iterator<Item = (usize, &'r StockSize)> {
        let sizes = self.sizes.iter().enumerate().map(|(place, &(stock, _))| (place, stock));
        sizes.filter(|(_, stock)| stock.product == sizing.product.name)
    }

    /// What a row wants: the stock sizes that are better than the made one, the best first, and of equals
    /// the one that is listed first.
    fn wishes(&self, quantity: u32, sizing: &Sizing<'r>, rules: &Rules, calendar: &Calendar) -> Wishes {
        let made = Offer::made(sizing, rules, calendar);
        let to_beat = made.rank(sizing, calendar);
        let offers = self.of_product(sizing).filter_map(|(place, stock)| {
            let offer = of_stock(stock, sizing, rules, calendar).ok()?;
            let rank = offer.rank(sizing, calendar);
            let want = Want { place, rank: rank - to_beat, is_priced: offer.price.is_some() };
            (rank < to_beat).then_some(want)
        });
        let mut wants: Vec<Want> = offers.collect();
        wants.sort_by_key(|want| (want.rank, want.place));
        Wishes { quantity: u64::from(quantity), wants, is_made_priced: made.price.is_some() }
    }
}

/// What was chosen for an opening, by places on the shelf.
struct Chosen {
    /// The stock size that it wants most; `None` if the made one is better than all.
    first: Option<usize>,
    /// How many of that are left when all have theirs.
    first_left: u64,
    /// The one that it gets; `None` to have it made.
    given: Option<usize>,
    /// What others save with the one that it wants most, if they have it.
    elsewhere: Option<Decimal>,
}

/// An opening, and what it chooses by.
struct Chooser<'a, 'r> {
    sizing: &'a Sizing<'r>,
    quantity: u64,
    rules: &'r Rules,
    calendar: &'a Calendar,
}

impl<'r> Chooser<'_, 'r> {
    /// The blind that was chosen, with what was passed over, where stock may be used, and what must be
    /// asked.
    fn take(&self, shelf: &Shelf<'r>, chosen: &Chosen, record: &mut Record<'r>) -> Sourced<'r> {
        let Chooser { sizing, rules, calendar, .. } = *self;
        let made = Offer::made(sizing, rules, calendar);
        let looked_at: Vec<(usize, Result<Offer<'r>, PassedOver<'r>>)> = shelf
            .of_product(sizing)
            .map(|(place, stock)| (place, of_stock(stock, sizing, rules, calendar)))
            .collect();
        let given = looked_at.iter().find(|(place, _)| Some(*place) == chosen.given);
        let offer = given.and_then(|(_, found)| found.as_ref().ok()).unwrap_or(&made).clone();
        if let Some(first) = chosen.first.filter(|_| chosen.first != chosen.given) {
            self.tell_used_up(shelf, first, chosen, record);
        }
        let to_beat = offer.rank(sizing, calendar);
        let mut passed_over = Vec::new();
        for (place, found) in looked_at.iter().filter(|(place, _)| Some(*place) != chosen.given) {
            passed_over.push(match found {
                Ok(other) => {
                    let rank = other.rank(sizing, calendar);
                    let why_not =
                        if rank < to_beat { self.short_of(shelf, *place) } else { rank.behind(&to_beat) };
                    if other.price.is_none() && made.price.is_some() {
                        ask_its_price(other.supply, sizing, record);
                    }
                    other.passed_over(why_not)
                }
                Err(passed_over) => *passed_over,
            });
        }
        if chosen.given.is_some() {
            passed_over.push(made.passed_over(made.rank(sizing, calendar).behind(&to_beat)));
        }
        self.ask(&offer, &made, record);
        let Offer { size, supply, arrives, lead_days, .. } = offer;
        Sourced { size, supply, arrives, lead_days, passed_over }
    }

    /// Why the opening has none of a size that would be better for it.
    fn short_of(&self, shelf: &Shelf<'r>, place: usize) -> WhyNot {
        match shelf.sizes[place].1 {
            left if u64::from(left) < self.quantity => WhyNot::TooFew { left },
            _ => WhyNot::UsedElsewhere,
        }
    }

    /// Says that the best-fitting size is not to be had, and what others save with it.
    fn tell_used_up(&self, shelf: &Shelf<'r>, first: usize, chosen: &Chosen, record: &mut Record<'r>) {
        let stock = shelf.sizes[first].0;
        let (nominal, wanted) = (nominal(stock, record), self.quantity);
        let mut detail =
            format!("{nominal}: {wanted} needed, {} of {} left", chosen.first_left, stock.on_hand);
        if let Some(saved) = chosen.elsewhere.filter(|saved| *saved > Decimal::ZERO) {
            let currency = self.rules.project.currency;
            detail += &format!("; used for other openings it saves {} more", currency.in_words(saved));
        }
        record.ask(&SourcingQuery::UsedUp, stock.at, detail);
    }

    /// Raises what must be asked about the offer taken.
    fn ask(&self, offer: &Offer<'r>, made: &Offer<'r>, record: &mut Record<'r>) {
        let Chooser { rules, calendar, .. } = *self;
        if let Some(LessCover { left, right, see_past }) = offer.less {
            let accepted = record.shown(rules.project.accept_less_cover);
            let mut detail = format!("overlap {} left, {} right", record.shown(left), record.shown(right));
            if let Some(angle) = see_past {
                detail += &format!("; see-past angle {angle} deg");
            }
            if let Some(saved) = saved(offer, made, rules) {
                detail += &format!("; {saved} than made to measure");
            }
            record.ask(&SourcingQuery::LessCover { accepted }, None, detail);
        }
        let Some(need_by) = calendar.need_by else {
            return;
        };
        match (calendar.standing(offer.arrives), offer.arrives) {
            (Standing::Late(days), Some(arrives)) => {
                let detail = format!("{arrives}, {days} {} late", if days == 1 { "day" } else { "days" });
                record.ask(&SourcingQuery::Late { need_by }, None, detail);
            }
            (Standing::Unknown, _) if calendar.is_known() => {
                record.ask(&SourcingQuery::LeadDaysUnknown { need_by }, None, "");
            }
            _ => {}
        }
    }
}

/// Asks for what a stock size, or a bracket that its box lacks, costs.
fn ask_its_price<'r>(supply: Supply<'r>, sizing: &Sizing<'r>, record: &mut Record<'r>) {
    let Some(stock) = supply.stock() else { return };
    let query = match besides(stock, sizing).filter(|_| stock.price.is_some()) {
        Some(bracket) => SourcingQuery::UnpricedBesides { bracket: bracket.to_string() },
        None => SourcingQuery::UnpricedStock,
    };
    record.ask(&query, stock.at, nominal(stock, record));
}

/// The size by which a stock size is known.
pub(super) fn nominal(stock: &StockSize, record: &Record<'_>) -> String {
    format!("{} x {}", record.shown(stock.nominal_width), record.shown(stock.nominal_drop))
}

/// Money and days that stock saves against made, as far as both are known.
fn saved(offer: &Offer<'_>, made: &Offer<'_>, rules: &Rules) -> Option<String> {
    let currency = rules.project.currency;
    let money = made.price.zip(offer.price).map(|(made, stock)| {
        let word = if stock > made { "more" } else { "less" };
        format!("{} {currency} {word}", currency.round((made - stock).abs()))
    });
    let days = made.lead_days.zip(offer.lead_days).map(|(made, stock)| {
        let word = if stock > made { "later" } else { "sooner" };
        format!("{} days {word}", made.abs_diff(stock))
    });
    let parts: Vec<String> = money.into_iter().chain(days).collect();
    (!parts.is_empty()).then(|| parts.join(" and "))
}
