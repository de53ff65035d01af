//! Where a function crosses nothing, held between two sides until they touch.
//!
//! Each step goes where the inverse parabola through the last three points
//! crosses nought if those points are well enough placed for it, and to the
//! middle if not, but never nearer to a side than half of what counts as
//! touching, so that both sides close in. What comes back are both sides, each
//! evaluated, so that the crossing is proven and not only found.
//!
//! Source: Chandrupatla, A new hybrid quadratic/bisection algorithm for finding
//! the zero of a nonlinear function, Adv. Eng. Softw. 28 (1997), from memory; the
//! tests hold it to roots known in closed form.

use crate::numerics::cut_off::look;

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
pub fn narrow(mut f: impl FnMut(f64) -> f64, below: (f64, f64), above: (f64, f64)) -> Sides {
    /// Plain bisection of any two finite numbers is through before that.
    const STEPS: u32 = 2200;
    // The latest point, the other side, and the point before.
    let ((mut a, mut f_a), (mut b, mut f_b), (mut c, mut f_c));
    ((a, f_a), (b, f_b)) = (above, below);
    let mut t = 0.5;
    for _ in 0..STEPS {
        look();
        let x = a + t * (b - a);
        if x == a || x == b {
            break;
        }
        let value = f(x);
        let value = if value.is_nan() { f64::INFINITY } else { value };
        if (value > 0.0) == (f_a > 0.0) {
            (c, f_c) = (a, f_a);
        } else {
            (c, f_c) = (b, f_b);
            (b, f_b) = (a, f_a);
        }
        (a, f_a) = (x, value);
        let (gap, touching) = ((b - a).abs(), TOUCHING * a.abs().max(b.abs()));
        if gap <= touching {
            break;
        }
        let (xi, phi) = ((a - b) / (c - b), (f_a - f_b) / (f_c - f_b));
        t = if phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi {
            f_a / (f_b - f_a) * f_c / (f_b - f_c)
                + (c - a) / (b - a) * f_a / (f_c - f_a) * f_b / (f_c - f_b)
        } else {
            0.5
        };
        let least = 0.5 * touching / gap;
        t = if t.is_finite() { t.clamp(least, 1.0 - least) } else { 0.5 };
    }
    if f_a > 0.0 { Sides { below: b, above: a } } else { Sides { below: a, above: b } }
}

/// The root of `f` between `a` and `b`, at which its signs differ, to the last
/// bits of the argument. Where the signs do not differ, the bound whose value is
/// nearer to nothing.
pub fn between(mut f: impl FnMut(f64) -> f64, a: f64, b: f64) -> f64 {
    let ((a, f_a), (b, f_b)) = ((a, f(a)), (b, f(b)));
    let nearer =
        |(a, f_a): (f64, f64), (b, f_b): (f64, f64)| if f_a.abs() <= f_b.abs() { a } else { b };
    if f_a == 0.0 || f_b == 0.0 || (f_a > 0.0) == (f_b > 0.0) {
        return nearer((a, f_a), (b, f_b));
    }
    let (below, above) = if f_a < 0.0 { ((a, f_a), (b, f_b)) } else { ((b, f_b), (a, f_a)) };
    let Sides { below, above } = narrow(&mut f, below, above);
    nearer((below, f(below)), (above, f(above)))
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

    #[test]
    fn finds_the_root_to_the_last_bits_however_flat_the_function_is() {
        assert!((between(|x| x * x - 2.0, 0.0, 2.0) - 2_f64.sqrt()).abs() < 1e-15);
        assert!((between(|x| (x - 0.3).powi(9), -1.0, 50.0) - 0.3).abs() < 1e-12);
        assert!((between(|x| (-x).exp() - 1e-12, 0.0, 1e3) - 1e12_f64.ln()).abs() < 1e-12);
        assert_eq!(between(|x| x, 0.0, 1.0), 0.0);
    }
}
