//! How a rail shares its weight among its brackets: a continuous beam on level supports, and a lever
//! where a load stands near one end (statics; three-moment equation).

use rust_decimal::Decimal;

use crate::length::Length;

/// Each support's share of a load spread evenly from the first support to the last; `supports` rise.
/// One support bears all of it.
pub(super) fn shares(supports: &[Length]) -> Vec<Decimal> {
    let spans: Vec<Decimal> = supports.windows(2).map(|pair| (pair[1] - pair[0]).meters()).collect();
    let whole: Decimal = spans.iter().sum();
    if whole <= Decimal::ZERO {
        return vec![Decimal::ONE / Decimal::from(supports.len().max(1)); supports.len()];
    }
    let moments = moments(&spans, whole);
    let mut shares = vec![Decimal::ZERO; supports.len()];
    for (place, span) in spans.iter().enumerate() {
        let half = span / whole / Decimal::TWO;
        let turned = (moments[place + 1] - moments[place]) / span;
        shares[place] += half + turned;
        shares[place + 1] += half - turned;
    }
    shares
}

/// Moments over the supports for a load of 1 in all: the tridiagonal system of the three-moment
/// equation, solved from the left and back.
fn moments(spans: &[Decimal], whole: Decimal) -> Vec<Decimal> {
    let inner = spans.len() - 1;
    let cube = |span: Decimal| span * span * span;
    // Row by row: what is left on the diagonal, what stands to its right, and the right side.
    let mut rows: Vec<(Decimal, Decimal, Decimal)> = Vec::with_capacity(inner);
    for (left, right) in spans.iter().zip(&spans[1..]) {
        let load = -(cube(*left) + cube(*right)) / (Decimal::from(4) * whole);
        let mut row = (Decimal::TWO * (*left + *right), *right, load);
        if let Some((diagonal, beside, above)) = rows.last() {
            let factor = *left / *diagonal;
            row.0 -= factor * *beside;
            row.2 -= factor * *above;
        }
        rows.push(row);
    }
    let mut moments = vec![Decimal::ZERO; spans.len() + 1];
    for (place, (diagonal, beside, load)) in rows.iter().enumerate().rev() {
        moments[place + 1] = (*load - *beside * moments[place + 2]) / *diagonal;
    }
    moments
}

/// What a load of 1 at `at` puts on the end support and on the next, all measured from the same end of
/// the rail. One that hangs past the end support lifts the next.
pub(super) fn lever(at: Length, end: Length, next: Length) -> [Decimal; 2] {
    let span = (next - end).meters();
    if span <= Decimal::ZERO {
        return [Decimal::ONE, Decimal::ZERO];
    }
    let on_next = (at - end).meters() / span;
    [Decimal::ONE - on_next, on_next]
}

#[cfg(test)]
mod tests {
    use rust_decimal::Decimal;

    use super::{lever, shares};
    use crate::length::Length;
    use crate::rounding::half_away;

    fn at(inches: &[i64]) -> Vec<Length> {
        inches.iter().copied().map(Length::inches).collect()
    }

    fn tenth_digit(shares: &[Decimal]) -> Vec<Decimal> {
        shares.iter().map(|share| half_away(*share, 10)).collect()
    }

    /// Equal spans: 3/16 and 5/8 on three supports, 2/15 and 11/30 on four (tables of continuous beams,
    /// from memory).
    #[test]
    fn one_support_bears_all() {
        assert_eq!(shares(&at(&[7])), [Decimal::ONE]);
    }

    #[test]
    fn equal_spans_share_as_the_tables_of_continuous_beams_say() {
        let parts = |parts: &[(i64, i64)]| -> Vec<Decimal> {
            parts
                .iter()
                .map(|(top, bottom)| half_away(Decimal::from(*top) / Decimal::from(*bottom), 10))
                .collect()
        };
        assert_eq!(tenth_digit(&shares(&at(&[4, 36]))), parts(&[(1, 2), (1, 2)]));
        assert_eq!(tenth_digit(&shares(&at(&[4, 36, 68]))), parts(&[(3, 16), (5, 8), (3, 16)]));
        let four = parts(&[(2, 15), (11, 30), (11, 30), (2, 15)]);
        assert_eq!(tenth_digit(&shares(&at(&[4, 36, 68, 100]))), four);
    }

    /// The same by the stiffness of each span and both unknowns of each joint, solved at once: another
    /// method, in floating point.
    #[test]
    fn any_spans_share_as_a_stiffness_solve_finds() {
        let cases: [&[i64]; 9] = [
            &[0, 10],
            &[0, 10, 45],
            &[2, 34, 50, 84],
            &[4, 17, 31, 58, 86],
            &[1, 9, 41, 73, 105, 137],
            &[3, 35, 67, 99, 131, 163, 189],
            &[0, 6, 38, 44, 76, 82, 114, 120],
            &[0, 16, 32, 48, 64, 80, 96, 112],
            &[4, 36, 68, 100, 132, 164, 188],
        ];
        for supports in cases {
            let ours = shares(&at(supports));
            let theirs = stiffness(supports);
            for (ours, theirs) in ours.iter().zip(theirs) {
                let ours: f64 = ours.to_string().parse().unwrap();
                assert!((ours - theirs).abs() < 1e-9, "{supports:?}: {ours} {theirs}");
            }
            assert_eq!(half_away(ours.iter().sum(), 20), Decimal::ONE);
        }
    }

    /// Rotations at the supports from the stiffness matrix of an Euler beam, then the reactions.
    fn stiffness(supports: &[i64]) -> Vec<f64> {
        let spans: Vec<f64> = supports.windows(2).map(|pair| (pair[1] - pair[0]) as f64).collect();
        let (joints, load) = (supports.len(), 1.0 / spans.iter().sum::<f64>());
        let mut matrix = vec![vec![0.0; joints + 1]; joints];
        for (place, span) in spans.iter().enumerate() {
            let fixed_end = load * span * span / 12.0;
            for (row, column, stiff) in [(0, 0, 4.0), (0, 1, 2.0), (1, 0, 2.0), (1, 1, 4.0)] {
                matrix[place + row][place + column] += stiff / span;
            }
            matrix[place][joints] -= fixed_end;
            matrix[place + 1][joints] += fixed_end;
        }
        for pivot in 0..joints {
            for row in 0..joints {
                if row != pivot {
                    let factor = matrix[row][pivot] / matrix[pivot][pivot];
                    let above = matrix[pivot].clone();
                    for (cell, above) in matrix[row].iter_mut().zip(above) {
                        *cell -= factor * above;
                    }
                }
            }
        }
        let turns: Vec<f64> = (0..joints).map(|row| matrix[row][joints] / matrix[row][row]).collect();
        let mut reactions = vec![0.0; joints];
        for (place, span) in spans.iter().enumerate() {
            let bent = 6.0 / (span * span) * (turns[place] + turns[place + 1]);
            reactions[place] += load * span / 2.0 + bent;
            reactions[place + 1] += load * span / 2.0 - bent;
        }
        reactions
    }

    /// Brackets at 100 and 1729 mm, a load at 145 mm: 0.9724 of it at the near one (statics).
    #[test]
    fn a_stack_hangs_on_the_bracket_beside_it() {
        let [at, end, next] = [145, 100, 1729].map(Length::from_mm);
        let [near, far] = lever(at, end, next);
        assert_eq!([half_away(near, 4), half_away(far, 4)], [Decimal::new(9724, 4), Decimal::new(276, 4)]);
    }
}
