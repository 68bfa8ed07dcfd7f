//! Bits: what drills the holes of the fixings, and what drives them.

use std::collections::BTreeMap;

use super::Report;
use crate::fitting::Fitted;
use crate::length::Length;
use crate::query::OpeningIndex;
use crate::survey::Substrate;

/// A bit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Bit<'r> {
    /// For holes of that size.
    Drill(Length),
    /// For screws with that head.
    Driver(&'r str),
}

/// What a bit is for.
pub type BitFor<'r> = (Bit<'r>, Substrate);

/// The bits for the fixings of one blind, and how often each is used.
pub(super) fn of_blind<'r>(fitted: &Fitted<'r>) -> impl Iterator<Item = (BitFor<'r>, u64)> {
    fitted.fixings.kinds().filter_map(|screws| Some((screws.fixing?, screws.count))).flat_map(
        |(fixing, count)| {
            let drill = fixing.pilot.map(Bit::Drill);
            let driver = fixing.driver.as_deref().map(Bit::Driver);
            let bits = [drill, driver].into_iter().flatten();
            bits.map(move |bit| ((bit, fixing.substrate), u64::from(count)))
        },
    )
}

impl<'r> Report<'r> {
    /// The bits for these openings, and how many holes or screws each is for.
    pub fn bits(&self, openings: impl IntoIterator<Item = OpeningIndex>) -> BTreeMap<BitFor<'r>, u64> {
        let mut bits = BTreeMap::new();
        for opening in openings {
            let Some(blind) = &self.blinds[opening] else { continue };
            let quantity = u64::from(self.survey.openings[opening].who.quantity);
            for (bit, count) in of_blind(&blind.fitted) {
                *bits.entry(bit).or_default() += quantity * count;
            }
        }
        bits
    }
}
