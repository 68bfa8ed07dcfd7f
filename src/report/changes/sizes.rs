//! What an opening gets that it did not get before: size, mount, product, color, draw, control, source.
//! Of an opening whose blinds differ among themselves, the first that is not as before is shown.

use super::cause::Cause;
use super::memory::Blinds;
use super::place::PlaceIndex;
use super::{About, Both, Change, HELD};

/// The blinds of an opening that differ; `None` where it had, or has, none.
pub(super) struct Differs<'b, 'm> {
    before: Option<&'b Blinds<'m>>,
    now: Option<&'b Blinds<'m>>,
}

/// How the blinds of an opening of now differ from those that it had; `None` where they do not, or where
/// it is new.
pub(super) fn differs<'b, 'm>(both: &Both<'b, 'm>, opening: PlaceIndex) -> Option<Differs<'b, 'm>> {
    let (before, now) = (&both.typed.hung[both.pairs.before[opening]?], &both.hung_now[opening]);
    let first_without = |some: &[&'b Blinds<'m>], others: &[&'b Blinds<'m>]| {
        some.iter().copied().find(|one| others.iter().all(|other| other.sort != one.sort))
    };
    match (before.is_empty(), now.is_empty()) {
        (true, true) => None,
        (false, false) => Some(Differs {
            before: Some(first_without(before, now)?),
            now: Some(first_without(now, before)?),
        }),
        _ => Some(Differs { before: before.first().copied(), now: now.first().copied() }),
    }
}

/// Why they differ.
pub(super) fn cause(both: &Both<'_, '_>, opening: PlaceIndex, differs: &Differs<'_, '_>) -> Cause {
    let deciding = || both.facts[opening].iter().filter(|fact| fact.may_decide());
    match (deciding().find(|fact| fact.cause() == Cause::Survey), deciding().next()) {
        (Some(_), _) => return Cause::Survey,
        (None, Some(_)) => return Cause::Answer,
        (None, None) => {}
    }
    let is_typed = both.pairs.before[opening].is_some_and(|before| both.typed.is_at(before))
        || differs.before.is_some_and(|blinds| blinds.taken_back)
        || differs.now.is_some_and(|blinds| blinds.is_moved() || blinds.remake_of.is_some());
    if is_typed {
        return Cause::Answer;
    }
    match both.causes.of_sort(differs.before, differs.now) {
        // A count or a phase decides no size, and who shares one.
        Cause::Program => both.facts[opening].first().map_or(Cause::Program, super::facts::Differs::cause),
        cause => cause,
    }
}

/// The row of an opening whose blinds differ.
pub(super) fn change(both: &Both<'_, '_>, opening: PlaceIndex) -> Option<Change> {
    let differs = differs(both, opening)?;
    let names = differs.what();
    let in_words = |blinds: Option<&Blinds<'_>>| match blinds {
        None => HELD.to_owned(),
        Some(blinds) => {
            let more = names.iter().filter_map(|name| name.of(blinds));
            [blinds.sort.size(both.now.units)].into_iter().chain(more).collect::<Vec<_>>().join(", ")
        }
    };
    let words: Vec<&str> = names.iter().map(|name| name.word()).collect();
    Some(Change {
        fact: words.join(", "),
        before: in_words(differs.before),
        now: in_words(differs.now),
        line_before: differs.before.map(|blinds| blinds.line),
        line_now: differs.now.map(|blinds| blinds.line),
        state: differs.now.or(differs.before).and_then(Blinds::state),
        cause: both.causes.openings[opening],
        cost_before: differs.before.and_then(|blinds| blinds.price),
        cost_now: differs.now.and_then(|blinds| blinds.price),
        to_do: match differs.now {
            None => "answer its stop on Queries".into(),
            Some(now) if now.state().is_none() => "order it as it is now".into(),
            Some(_) => "".into(),
        },
        ..Change::about(About::Size).at(both.now.openings[opening])
    })
}

/// What of a blind differs.
#[derive(Clone, Copy, PartialEq, Eq)]
enum What {
    Width,
    Drop,
    Mount,
    Product,
    Color,
    Draw,
    Control,
    Source,
}

impl What {
    const ALL: [What; 8] = [
        What::Width,
        What::Drop,
        What::Mount,
        What::Product,
        What::Color,
        What::Draw,
        What::Control,
        What::Source,
    ];

    const fn word(self) -> &'static str {
        match self {
            What::Width => "Width",
            What::Drop => "Drop",
            What::Mount => "Mount",
            What::Product => "Product",
            What::Color => "Color",
            What::Draw => "Draw",
            What::Control => "Control",
            What::Source => "Source",
        }
    }

    /// What a blind says of it beside its size.
    fn of(self, blinds: &Blinds<'_>) -> Option<String> {
        let sort = &blinds.sort;
        match self {
            What::Width | What::Drop => None,
            What::Mount => Some(sort.mount.to_string()),
            What::Product => Some(sort.product.to_owned()),
            What::Color => Some(sort.color.to_owned()),
            What::Draw => sort.draw.map(|draw| format!("draw {draw}")),
            What::Control => Some(sort.control.to_string()),
            What::Source => Some(sort.source.to_string()),
        }
    }

    fn differs(self, one: &Blinds<'_>, other: &Blinds<'_>) -> bool {
        let (one, other) = (&one.sort, &other.sort);
        match self {
            What::Width => one.width != other.width,
            What::Drop => one.drop != other.drop,
            What::Mount => one.mount != other.mount,
            What::Product => one.product != other.product,
            What::Color => one.color != other.color,
            What::Draw => one.draw != other.draw,
            What::Control => one.control != other.control,
            What::Source => (one.source, one.stock) != (other.source, other.stock),
        }
    }
}

impl Differs<'_, '_> {
    /// What differs; width and drop where there was no blind, or is none.
    fn what(&self) -> Vec<What> {
        match self.before.zip(self.now) {
            Some((before, now)) => What::ALL.into_iter().filter(|what| what.differs(before, now)).collect(),
            None => vec![What::Width, What::Drop],
        }
    }
}
