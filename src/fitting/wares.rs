//! What a blind needs beside what it is cut from: what its family says, and what any blind hangs by.

use super::{Blind, Screws};
use crate::blinds::Ware;
use crate::rules::SmallPart;
use crate::sizing::Hung;
use crate::survey::Control;

impl Blind<'_> {
    /// Each part and fixing that is not cut, and how many of it; nothing is listed that the blind
    /// does not need.
    pub fn wares(&self) -> Vec<(Ware, u32)> {
        let fitted = &self.fitted;
        let clips = u32::try_from(fitted.clips.len()).unwrap_or(u32::MAX);
        let mut wares = fitted.wares.clone();
        wares.extend([
            (self.bracket(), fitted.brackets.count()),
            (Ware::Small(SmallPart::ValanceClip), clips),
            (Ware::Small(SmallPart::CornerPiece), fitted.returns().count()),
            (Ware::Small(SmallPart::Packer), self.packers()),
        ]);
        wares.extend(fitted.fixings.kinds().map(|screws| (fixing(screws), screws.count)));
        if let (Some(length), Some(side)) = (fitted.wand, fitted.control_side) {
            wares.push((Ware::Wand(length), side.wands()));
        }
        if self.sizing.operation.control == Control::Motor {
            wares.push((Ware::Small(SmallPart::Motor), 1));
        }
        wares.retain(|&(_, count)| count > 0);
        wares
    }

    /// One a bracket that is screwed up into a head or a ceiling, which is seldom level.
    pub fn packers(&self) -> u32 {
        match &self.sizing.hung {
            Hung::Inside(_) | Hung::Ceiling(_) => self.fitted.brackets.count(),
            Hung::Outside(_) => 0,
        }
    }

    fn bracket(&self) -> Ware {
        let item = self.fitted.brackets.item.clone();
        match &self.sizing.hung {
            Hung::Inside(_) | Hung::Ceiling(_) => Ware::InsideBracket { item },
            Hung::Outside(wall) => Ware::WallBracket { reach: wall.reach, item },
        }
    }
}

fn fixing(screws: Screws<'_>) -> Ware {
    screws.fixing.map_or(Ware::NotChosen, |chosen| Ware::Fixing(chosen.id))
}
