//! How a blind is worked: where the louvers stack and what moves them.
//!
//! A split draw on a door with one opening leaf counts as stacking over the leaf.
//!
//! A cord out of a child's reach is out of reach from a wheelchair, so an accessible unit has none.
//! Everywhere else the cord's own rules decide, once it is known how high the blind hangs and
//! whether it is made.

use super::queries::SizingQuery;
use crate::query::Held;
use crate::survey::{Control, Draw, Facts, Kind, Leaf};
use crate::worked::Record;

/// How a blind is worked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Operation {
    /// Where the louvers stack when open, as seen from inside.
    pub draw: Draw,
    /// What moves them.
    pub control: Control,
}

/// Settles draw and control.
pub(super) fn settle(facts: &Facts, record: &mut Record<'_>) -> Result<Operation, Held> {
    let control = match facts.control {
        Some(control) if control.value == Control::Cord && facts.accessible => {
            return Err(record.hold(&SizingQuery::CordInAccessible, Some(control.at), ""));
        }
        Some(control) => control.value,
        None => Control::Wand,
    };
    Ok(Operation { draw: draw(facts, record), control })
}

fn draw(facts: &Facts, record: &mut Record<'_>) -> Draw {
    let on_a_door = facts.kind != Kind::Window;
    if on_a_door && facts.leaf.is_none() {
        record.ask(&SizingQuery::LeafUnknown, None, "");
    }
    if on_a_door && facts.handle.is_none() {
        record.ask(&SizingQuery::HandleUnknown, None, "");
    }
    let leaf = facts.leaf.map(|leaf| leaf.value);
    let Some(wanted) = facts.draw else {
        return match leaf {
            Some(Leaf::Left) => Draw::Right,
            Some(Leaf::Right) => Draw::Left,
            Some(Leaf::Both | Leaf::None) | None => {
                if on_a_door {
                    let leaf = leaf.map_or("blank", Leaf::word);
                    record.ask(&SizingQuery::DrawUnknown { leaf }, None, "");
                }
                Draw::Left
            }
        };
    };
    let over_the_leaf = matches!(
        (wanted.value, leaf),
        (Draw::Left | Draw::Split, Some(Leaf::Left)) | (Draw::Right | Draw::Split, Some(Leaf::Right))
    );
    if over_the_leaf {
        record.ask(&SizingQuery::StackOverLeaf, Some(wanted.at), format!("draw {}", wanted.value));
    }
    wanted.value
}
