//! What hangs on each bracket: the worse of the blind closed, its weight evenly along the rail, and
//! drawn aside, with what moves in a bundle at the end.

use rust_decimal::Decimal;

use super::Wanted;
use super::beam::{lever, shares};
use super::places::Center;
use crate::blinds::Stack;
use crate::length::Length;
use crate::survey::{Draw, MotorSide};

/// Standard gravity in m/s2, exact (3rd CGPM, 1901; NIST SP 811, B.8).
const GRAVITY: Decimal = Decimal::from_parts(980_665, 0, 0, false, 5);

/// What a blind weighs, in kilograms.
#[derive(Clone, Copy, Debug)]
pub struct Weights {
    /// All of it.
    pub all: Decimal,
    /// What of it is drawn aside.
    pub moving: Decimal,
    /// What of it is a motor; 0 without one.
    pub motor: Decimal,
    /// The end that the motor is at; `None` if that is not known.
    pub motor_at: Option<MotorSide>,
}

/// A blind's weights along its rail.
pub(super) struct Loads {
    weights: Weights,
    stack: Option<Stack>,
    width: Length,
}

impl Loads {
    pub(super) fn of(wanted: &Wanted<'_, '_>) -> Loads {
        Loads { weights: wanted.weights, stack: wanted.stack, width: wanted.width }
    }

    /// What each bracket bears for as long as the blind hangs, in newtons.
    pub(super) fn on_each(&self, centers: &[Center]) -> Vec<Decimal> {
        let supports: Vec<Length> = centers.iter().map(|center| center.to_length()).collect();
        let shares = shares(&supports);
        let Weights { all, moving, motor, .. } = self.weights;
        let motor = self.motor_on(motor, supports.len());
        let closed = shares.iter().map(|share| share * (all - self.weights.motor));
        let aside = self.bundle_on(&supports);
        let drawn = shares
            .iter()
            .zip(&aside)
            .map(|(share, aside)| share * (all - self.weights.motor - moving) + aside);
        let worse = closed.zip(drawn).map(|(closed, drawn)| closed.max(drawn));
        worse.zip(motor).map(|(kilograms, motor)| (kilograms + motor) * GRAVITY).collect()
    }

    /// The motor, on the end bracket of its side; on either where nobody says which.
    fn motor_on(&self, motor: Decimal, count: usize) -> Vec<Decimal> {
        let mut on = vec![Decimal::ZERO; count];
        let ends = match self.weights.motor_at {
            Some(MotorSide::Left) => [true, false],
            Some(MotorSide::Right) => [false, true],
            None => [true, true],
        };
        for (bears, place) in ends.into_iter().zip([0, count.saturating_sub(1)]) {
            if bears && let Some(on) = on.get_mut(place) {
                *on = motor;
            }
        }
        on
    }

    /// What is drawn aside, at half the depth of its bundle from the end, shared between the end bracket
    /// and the next.
    fn bundle_on(&self, supports: &[Length]) -> Vec<Decimal> {
        let mut on = vec![Decimal::ZERO; supports.len()];
        let (Some(stack), [first, second, ..]) = (self.stack, supports) else {
            return on;
        };
        let at = stack.width.half_down();
        let moving = self.weights.moving;
        let (left, right) = match stack.draw {
            Draw::Left => (moving, Decimal::ZERO),
            Draw::Right => (Decimal::ZERO, moving),
            Draw::Split => (moving / Decimal::TWO, moving / Decimal::TWO),
        };
        for (share, kilograms) in [0, 1].into_iter().zip(lever(at, *first, *second)) {
            on[share] += left * kilograms;
        }
        let count = supports.len();
        let from_right = |place: usize| self.width - supports[count - 1 - place];
        for (place, share) in [0, 1].into_iter().zip(lever(at, from_right(0), from_right(1))) {
            on[count - 1 - place] += right * share;
        }
        on
    }
}
