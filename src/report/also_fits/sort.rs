//! What a blind and an opening must have in common beside the size.
//!
//! Product, color, draw, control, mount and reach are those that the opening's own blind has; a motor is
//! at the same end, and a cord is kept from children as the opening's own is. An end that nobody gives is
//! never the same as another. When a blind may be made is of no account.

use crate::fitting::{Blind, ControlSide, Cord};
use crate::length::Length;
use crate::order::LineKey;
use crate::sizing::Mount;
use crate::survey::{Control, Draw};

/// What must be the same.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Sort<'s> {
    product: &'s str,
    color: &'s str,
    draw: Option<Draw>,
    control: Control,
    /// The end that a motor is at; `None` for what has none.
    motor: Option<ControlSide>,
    cord: Option<Cord>,
    mount: Mount,
    reach: Option<Length>,
}

impl<'s> Sort<'s> {
    /// `None` for a motor of which nobody says at which end it is.
    pub(super) fn of_line(key: &'s LineKey) -> Option<Sort<'s>> {
        Some(Sort {
            product: &key.product,
            color: &key.color,
            draw: key.draw,
            control: key.control,
            motor: motor(key.control, key.control_side)?,
            cord: key.cord,
            mount: key.mount(),
            reach: key.reach(),
        })
    }

    pub(super) fn of_blind(blind: &'s Blind<'_>) -> Option<Sort<'s>> {
        let Blind { sizing, fitted, .. } = blind;
        let control = sizing.operation.control;
        Some(Sort {
            product: &sizing.product.name,
            color: &sizing.color,
            draw: fitted.panel.stack.map(|stack| stack.draw),
            control,
            motor: motor(control, fitted.control_side)?,
            cord: fitted.cord,
            mount: sizing.hung.mount(),
            reach: sizing.hung.reach(),
        })
    }
}

/// The end of a motor; nothing for what has none, and `None` if nobody says.
fn motor(control: Control, side: Option<ControlSide>) -> Option<Option<ControlSide>> {
    match control {
        Control::Motor => side.map(Some),
        Control::Wand | Control::Cord => Some(None),
    }
}
