//! How heavy a lift is, by the NIOSH lifting equation (Revised NIOSH Lifting Equation, Publication
//! 94-110): the load over the weight that is recommended for it. It is of two hands and feet on the
//! ground, and says nothing of a ladder.
//!
//! Nobody measures how a blind is lifted. It is taken to go from the waist, off trestles, to the bracket
//! or as high as the equation goes, arms half out, once a minute for an hour, without handles. The end
//! of the lift counts, where the least is recommended.

use rust_decimal::Decimal;

use crate::length::{Length, Unit};

/// What is recommended for the easiest lift, in kilograms.
const LOAD_CONSTANT: Decimal = Decimal::from_parts(23, 0, 0, false, 0);
/// The highest that hands go, in centimeters: beyond it nothing is recommended.
const HIGHEST: Decimal = Decimal::from_parts(175, 0, 0, false, 0);
/// Waist height, where the hands are at first, in centimeters (common practice, no source).
const WAIST: Decimal = Decimal::from_parts(75, 0, 0, false, 0);
/// From the ankles forward to the hands, arms half out, in centimeters (common practice, no source).
const ARMS_HALF_OUT: Decimal = Decimal::from_parts(40, 0, 0, false, 0);
/// Once a minute for an hour at most (from memory).
const ONCE_A_MINUTE: Decimal = Decimal::from_parts(94, 0, 0, false, 2);
/// A long load without handles (from memory).
const NO_HANDLES: Decimal = Decimal::from_parts(90, 0, 0, false, 2);

/// One lift with both hands; lengths in centimeters, exact.
#[derive(Clone, Copy, Debug)]
struct Lift {
    /// From the ankles forward to the hands.
    forward: Decimal,
    /// Height of the hands.
    height: Decimal,
    /// How far up they go.
    travel: Decimal,
    /// Degrees that the body turns.
    turn: Decimal,
    /// The multiplier of how often it is done.
    frequency: Decimal,
    /// The multiplier of how the load is held.
    coupling: Decimal,
}

impl Lift {
    /// Kilograms that are recommended at the most; 0 for a lift that should not be done.
    fn recommended(&self) -> Decimal {
        let forward = within(self.forward, 25, 63, |forward| Decimal::from(25) / forward);
        let height = within(self.height, 0, 175, |height| {
            Decimal::ONE - Decimal::new(3, 3) * (height - Decimal::from(75)).abs()
        });
        let travel =
            within(self.travel, 25, 175, |travel| Decimal::new(82, 2) + Decimal::new(45, 1) / travel);
        let turn = within(self.turn, 0, 135, |turn| Decimal::ONE - Decimal::new(32, 4) * turn);
        LOAD_CONSTANT * forward * height * travel * turn * self.frequency * self.coupling
    }
}

/// A multiplier: that of the least where it is less, and 0 where it is more than the most.
fn within(value: Decimal, least: i64, most: i64, multiplier: impl Fn(Decimal) -> Decimal) -> Decimal {
    if value > Decimal::from(most) { Decimal::ZERO } else { multiplier(value.max(Decimal::from(least))) }
}

/// The highest that hands go with a blind whose brackets are at that height, or at one that nobody
/// knows.
pub(super) fn highest(bracket_top: Option<Length>) -> Decimal {
    bracket_top.map_or(HIGHEST, |top| top.in_unit(Unit::Centimeter).min(HIGHEST))
}

/// A blind's weight over what is recommended for one person, from the ground.
pub(in crate::report) fn index(kilograms: Decimal, bracket_top: Option<Length>) -> Decimal {
    let height = highest(bracket_top);
    let lift = Lift {
        forward: ARMS_HALF_OUT,
        height,
        travel: (height - WAIST).abs(),
        turn: Decimal::ZERO,
        frequency: ONCE_A_MINUTE,
        coupling: NO_HANDLES,
    };
    kilograms / lift.recommended()
}

#[cfg(test)]
mod tests {
    use rust_decimal::Decimal;

    use super::{Lift, index};
    use crate::length::Length;
    use crate::rounding::half_away;

    fn lift([forward, height, travel, turn]: [i64; 4], frequency: i64, coupling: i64) -> Lift {
        let [forward, height, travel, turn] = [forward, height, travel, turn].map(Decimal::from);
        let hundredths = |of| Decimal::new(of, 2);
        Lift {
            forward,
            height,
            travel,
            turn,
            frequency: hundredths(frequency),
            coupling: hundredths(coupling),
        }
    }

    /// Worked by hand from the equation of Publication 94-110.
    #[test]
    fn the_weight_recommended_is_that_of_the_equation() {
        let cases = [
            (lift([40, 100, 80, 0], 94, 95), "10.40"),
            (lift([25, 75, 25, 0], 100, 100), "23.00"),
            (lift([50, 150, 75, 30], 94, 95), "6.33"),
            // Nearer, and moved less, than the equation counts.
            (lift([10, 75, 5, 0], 100, 100), "23.00"),
        ];
        for (lift, kilograms) in cases {
            assert_eq!(half_away(lift.recommended(), 2).to_string(), kilograms, "{lift:?}");
        }
        let index = Decimal::from(12) / lift([40, 100, 80, 0], 94, 95).recommended();
        assert_eq!(half_away(index, 2).to_string(), "1.15");
    }

    /// The multipliers that the tables of Publication 94-110 print, to a hundredth; each is 0 one past
    /// its limit.
    #[test]
    fn each_multiplier_is_that_of_the_tables() {
        let easiest = [25, 75, 25, 0];
        let tables = [
            (0, [(30, 83), (40, 63), (50, 50), (60, 42), (64, 0)].as_slice()),
            (1, &[(0, 78), (30, 87), (100, 93), (150, 78), (175, 70), (176, 0)]),
            (2, &[(40, 93), (55, 90), (100, 87), (145, 85), (176, 0)]),
            (3, &[(30, 90), (45, 86), (60, 81), (90, 71), (136, 0)]),
        ];
        for (place, rows) in tables {
            for (value, hundredths) in rows {
                let mut of = easiest;
                of[place] = *value;
                let found = lift(of, 100, 100).recommended() / Decimal::from(23);
                // 0.775 and 0.865 are printed as 0.78 and 0.87.
                assert_eq!(half_away(found, 2), Decimal::new(*hundredths, 2), "{place}: {value}");
            }
        }
    }

    #[test]
    fn a_blind_is_lifted_to_its_bracket_or_as_high_as_hands_go() {
        let kilograms = Decimal::from(10);
        let index = |millimeters: Option<i64>| {
            half_away(index(kilograms, millimeters.map(|mm| Length::from_nm(mm * 1_000_000))), 3).to_string()
        };
        // 23 x 0.625 x 0.70 x 0.865 x 0.94 x 0.90 = 7.3636 kg.
        assert_eq!(index(Some(1_750)), "1.358");
        assert_eq!(index(Some(2_500)), "1.358");
        assert_eq!(index(None), "1.358");
        // 23 x 0.625 x 0.85 x 0.91 x 0.94 x 0.90 = 9.4067 kg.
        assert_eq!(index(Some(1_250)), "1.063");
        // No way to go: 23 x 0.625 x 0.94 x 0.90 = 12.16125 kg.
        assert_eq!(index(Some(750)), "0.822");
    }
}
