//! Where a function crosses nothing, between two marks that it crosses between.

/// More halvings than it takes to bring any two numbers of the same sign
/// together.
const MOST_STEPS: u32 = 200;

/// The x between `low` and `high` where `f` changes its sign, to the last bits
/// of x. The secant through the ends of the bracket, with the weight of an end
/// that stays halved (the Illinois rule); every third step halves the bracket,
/// so that it always ends. Where `f` has the same sign at both marks, the mark
/// that is nearer to nothing.
pub fn between(low: f64, high: f64, mut f: impl FnMut(f64) -> f64) -> f64 {
    let (mut a, mut b) = (low, high);
    let (mut f_a, mut f_b) = (f(a), f(b));
    if f_a == 0.0 || (f_a > 0.0) == (f_b > 0.0) {
        return if f_b.abs() < f_a.abs() { b } else { a };
    }
    for step in 1..=MOST_STEPS {
        let close = 4.0 * f64::EPSILON * a.abs().max(b.abs());
        if f_b == 0.0 || (b - a).abs() <= close {
            break;
        }
        let secant = b - f_b * (b - a) / (f_b - f_a);
        let inside = secant > a.min(b) && secant < a.max(b);
        let x = if step % 3 == 0 || !inside { a.midpoint(b) } else { secant };
        let f_x = f(x);
        if (f_x > 0.0) == (f_b > 0.0) {
            f_a /= 2.0;
        } else {
            (a, f_a) = (b, f_b);
        }
        (b, f_b) = (x, f_x);
    }
    b
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn crossings_are_found_to_the_last_bits() {
        assert!((between(0.0, 2.0, |x| x * x - 2.0) - 2.0_f64.sqrt()).abs() < 1e-15);
        assert!((between(0.0, 1.0, |x| x.cos() - x) - 0.739_085_133_215_160_6).abs() < 1e-15);
        assert!((between(-40.0, 40.0, |x| x.exp() - 1e-6) - 1e-6_f64.ln()).abs() < 1e-12);
    }
}
