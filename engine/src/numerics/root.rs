//! Where a function that crosses nothing once does so, between two bounds.

/// More steps than any bracket needs: the bracket at least halves every third.
const STEPS_MOST: usize = 300;

/// The root of `f` between `a` and `b`, at which its signs differ, to the last
/// bits of the argument. False position with the Illinois correction, and a
/// bisection wherever three steps have not halved the bracket.
///
/// Where the signs do not differ, the bound whose value is nearer to nothing.
pub fn between(mut f: impl FnMut(f64) -> f64, a: f64, b: f64) -> f64 {
    let (mut a, mut b) = (a, b);
    let (mut f_a, mut f_b) = (f(a), f(b));
    if f_a == 0.0 || f_b == 0.0 || (f_a > 0.0) == (f_b > 0.0) {
        return if f_a.abs() <= f_b.abs() { a } else { b };
    }
    let (mut weight_a, mut weight_b) = (f_a, f_b);
    let mut halved = (b - a).abs() / 2.0;
    let mut since = 0;
    let mut moved_a = None;
    for _ in 0..STEPS_MOST {
        let width = (b - a).abs();
        if width <= 2.0 * f64::EPSILON * a.abs().max(b.abs()) {
            break;
        }
        if width <= halved {
            (halved, since) = (width / 2.0, 0);
        }
        let secant = (a * weight_b - b * weight_a) / (weight_b - weight_a);
        let inside = (secant - a) * (secant - b) < 0.0;
        let bisect = !inside || since >= 3;
        let x = if bisect { a + (b - a) / 2.0 } else { secant };
        since = if bisect { 0 } else { since + 1 };
        if x == a || x == b {
            break;
        }
        let f_x = f(x);
        if f_x == 0.0 {
            return x;
        }
        // A bound that stays where it is for the second time counts for half.
        let moves_a = (f_x > 0.0) == (f_a > 0.0);
        if moves_a {
            (a, f_a, weight_a) = (x, f_x, f_x);
            weight_b /= if moved_a == Some(true) { 2.0 } else { 1.0 };
        } else {
            (b, f_b, weight_b) = (x, f_x, f_x);
            weight_a /= if moved_a == Some(false) { 2.0 } else { 1.0 };
        }
        moved_a = Some(moves_a);
    }
    if f_a.abs() <= f_b.abs() { a } else { b }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_the_root_to_the_last_bits_however_flat_the_function_is() {
        assert!((between(|x| x * x - 2.0, 0.0, 2.0) - 2_f64.sqrt()).abs() < 1e-15);
        assert!((between(|x| (x - 0.3).powi(9), -1.0, 50.0) - 0.3).abs() < 1e-12);
        assert!((between(|x| (-x).exp() - 1e-12, 0.0, 1e3) - 1e12_f64.ln()).abs() < 1e-12);
        assert_eq!(between(|x| x, 0.0, 1.0), 0.0);
    }
}
