//! Where a cord may operate a blind at all, and what must keep it from children.
//!
//! What a source leaves open is read as is safest for a child. A cord that hangs counts as a loop of
//! twice its length, for the cord that draws louvers is one; a limit on a loop is taken all around
//! it. A device is allowed only where the source names it, and only at its height.

use serde::Deserialize;

use super::{Least, Most, Written, choice, jurisdiction};
use crate::length::Length;
use crate::rules::columns::project::Jurisdiction;
use crate::schema::choices::CordDevice;

/// What one source says of the cords of some products.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CordRule {
    /// Whose rule it is.
    #[serde(deserialize_with = "jurisdiction")]
    pub jurisdiction: Jurisdiction,
    /// The products that it is for.
    pub products: Products,
    /// The longest cord that may hang free.
    pub free: Option<Most>,
    /// The longest loop of it, all around.
    pub r#loop: Option<Most>,
    /// The devices that may hold a longer one; none where no device helps.
    pub devices: Vec<HeldBy>,
    /// Whether it is law.
    pub force: Force,
    /// Where it stands written.
    pub source: Written,
}

/// The products that a rule is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Products {
    /// Held in stock before anyone asks for them, also if cut down later (16 CFR 1120.2).
    Stock,
    /// Made to measure: every other.
    Made,
    /// Both.
    All,
}

/// What gives a rule its force.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum Force {
    /// A law or a regulation.
    #[serde(rename = "law")]
    Law,
    /// A standard that no law makes binding by itself.
    #[serde(rename = "voluntary standard")]
    VoluntaryStandard,
}

/// A device that may hold a cord, and how high.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HeldBy {
    /// The device.
    #[serde(deserialize_with = "choice")]
    pub device: CordDevice,
    /// Its lowest point above the finished floor; `None` where the source sets no height.
    pub height: Option<Least>,
}

/// A cord as it is to hang.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cord {
    /// From the top of the blind to the lowest point; `None` if it is not known.
    pub hangs: Option<Length>,
    /// What keeps it from children; `None` if nobody says.
    pub device: Option<CordDevice>,
    /// Its lowest point above the finished floor; `None` if it is not known.
    pub height: Option<Length>,
}

/// Why a cord may not hang as it is to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CordFault<'r> {
    /// No device makes it allowed.
    Forbidden,
    /// It needs a device, and none is given.
    NoDevice,
    /// Its height is not given.
    NoHeight,
    /// Its device is not one of those allowed.
    OtherDevice(CordDevice),
    /// Its device hangs too low.
    TooLow(&'r Least),
}

impl Products {
    /// Whether a rule for these is one for those.
    pub fn include(self, those: Products) -> bool {
        self == Products::All || self == those
    }
}

impl CordRule {
    /// Whether a cord of this length may hang free.
    pub fn lets_hang(&self, length: Length) -> bool {
        let free = self.free.as_ref().map(|most| most.allows(length));
        let around = self.r#loop.as_ref().map(|most| most.allows(length * 2));
        length > Length::ZERO && free.or(around).is_some() && free.unwrap_or(true) && around.unwrap_or(true)
    }

    /// Whether a cord may hang as it is to. One that hangs free must be known to be short; any other
    /// needs a device and a height that are known and allowed.
    ///
    /// # Errors
    /// What is wrong with it, or not known.
    pub fn judge(&self, cord: Cord) -> Result<(), CordFault<'_>> {
        let short = cord.hangs.is_some_and(|length| self.lets_hang(length));
        if self.devices.is_empty() && !short {
            return Err(CordFault::Forbidden);
        }
        let device = cord.device.ok_or(CordFault::NoDevice)?;
        let height = cord.height.ok_or(CordFault::NoHeight)?;
        if short {
            return Ok(());
        }
        let held = self.devices.iter().find(|held| held.device == device);
        let least = &held.ok_or(CordFault::OtherDevice(device))?.height;
        match least {
            Some(least) if !least.allows(height) => Err(CordFault::TooLow(least)),
            _ => Ok(()),
        }
    }

    /// `US, stock`; the jurisdiction alone where it is for all products.
    pub(super) fn name(&self) -> String {
        match self.products {
            Products::All => self.jurisdiction.to_string(),
            Products::Stock => format!("{}, stock", self.jurisdiction),
            Products::Made => format!("{}, made to measure", self.jurisdiction),
        }
    }

    /// `at most 22 cm free; loop at most 44 cm around; no device; law`.
    pub(super) fn in_words(&self) -> String {
        let free = self.free.iter().map(|most| format!("{most} free"));
        let around = self.r#loop.iter().map(|most| format!("loop {most} around"));
        let held = self.devices.iter().map(|held| match &held.height {
            Some(least) => format!("{} {least} above the floor", held.device),
            None => format!("{} at any height", held.device),
        });
        let none = self.devices.is_empty().then(|| "no device".to_owned());
        let force = [self.force.word().to_owned()];
        free.chain(around).chain(held).chain(none).chain(force).collect::<Vec<_>>().join("; ")
    }

    /// The devices that it allows, in words: `tension device, cleat`.
    pub fn devices_in_words(&self) -> String {
        self.devices.iter().map(|held| held.device.word()).collect::<Vec<_>>().join(", ")
    }
}

impl Force {
    /// The word of the file.
    pub const fn word(self) -> &'static str {
        match self {
            Force::Law => "law",
            Force::VoluntaryStandard => "voluntary standard",
        }
    }
}
