//! The crossing of a monotone function, held between two sides until they touch.
//!
//! Each step takes the point where the straight line between the two sides
//! crosses nought, pulled towards the middle by no more than keeps the number
//! of steps within a few of plain bisection. What comes back are both sides,
//! each evaluated, so that the crossing is proven and not only found.
//!
//! Source: Oliveira and Takahashi, An enhancement of the bisection method
//! average performance preserving minmax optimality, ACM Trans. Math. Softw.
//! 47 (2020), from memory; the tests hold it to roots known in closed form.

/// The two sides of a crossing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sides {
    /// The last point found at which the function is nought or below.
    pub below: f64,
    /// The first point found at which it is above nought.
    pub above: f64,
}

/// The two sides are taken to touch when they are this near, as a share of
/// where they lie.
const TOUCHING: f64 = 4.0 * f64::EPSILON;

/// Narrows the crossing of `f` between `below`, where it is at most nought, and
/// `above`, where it is more; either may be the greater number. The caller
/// knows both values and hands them over.
pub fn narrow(f: impl Fn(f64) -> f64, below: (f64, f64), above: (f64, f64)) -> Sides {
    let ((mut low, mut f_low), (mut high, mut f_high)) = (below, above);
    let width = (high - low).abs();
    let tolerance = TOUCHING * low.abs().max(high.abs());
    #[expect(clippy::cast_possible_truncation, reason = "a few dozen halvings at most")]
    let halvings = (width / (2.0 * tolerance)).log2().ceil().max(0.0) as i32;
    for step in 0..halvings + 12 {
        let gap = (high - low).abs();
        let touching = TOUCHING * low.abs().max(high.abs());
        if gap <= touching {
            break;
        }
        let middle = 0.5 * (low + high);
        let line = low - f_low * (high - low) / (f_high - f_low);
        let x = if f_high.is_finite() && f_low.is_finite() && line.is_finite() {
            let towards = (middle - line).signum();
            let pull = (0.2 / width * gap * gap).max(0.4 * touching);
            let pulled = if pull <= (middle - line).abs() { line + towards * pull } else { middle };
            let room = (tolerance * 2.0_f64.powi(halvings + 1 - step) - 0.5 * gap).max(0.0);
            if (pulled - middle).abs() <= room { pulled } else { middle - towards * room }
        } else {
            middle
        };
        if x == low || x == high {
            break;
        }
        let value = f(x);
        if value > 0.0 || value.is_nan() {
            (high, f_high) = (x, value);
        } else {
            (low, f_low) = (x, value);
        }
    }
    Sides { below: low, above: high }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;

    #[test]
    fn roots_known_in_closed_form() {
        type Case = (fn(f64) -> f64, f64, f64, f64);
        let cases: [Case; 5] = [
            (|x| x * x - 2.0, 1.0, 2.0, std::f64::consts::SQRT_2),
            (|x| x / (1.0 - 0.999 * x) - 3.0, 0.0, 1.0, 3.0 / (1.0 + 3.0 * 0.999)),
            (|x| 0.3 - x, 1.0, 0.0, 0.3),
            (|x| x.powi(9) - 1e-9, 0.0, 1.0, 0.1),
            (|x| if x < 0.7 { -1.0 } else { f64::INFINITY }, 0.0, 1.0, 0.7),
        ];
        for (f, below, above, root) in cases {
            let count = Cell::new(0);
            let counted = |x| {
                count.set(count.get() + 1);
                f(x)
            };
            let sides = narrow(counted, (below, f(below)), (above, f(above)));
            assert!(f(sides.below) <= 0.0 && f(sides.above) > 0.0, "{sides:?}");
            assert!((sides.below - root).abs() < 1e-14, "{sides:?} is not {root}");
            assert!((sides.above - sides.below).abs() <= TOUCHING, "{sides:?}");
            assert!(count.get() < 60, "{} steps to {root}", count.get());
        }
    }
}
