//! The functions φ₁ and φ₂ of whatever comes in evenly while it leaves in proportion.
//!
//! For dx/dt = m − λ·x, after the time t and on average until then,
//!
//! 1. x = x₀·e^(−λt) + m·t·φ₁(−λt) with φ₁(x) = (eˣ − 1)/x
//! 2. x̄ = x₀·φ₁(−λt) + m·t·φ₂(−λt) with φ₂(x) = (eˣ − 1 − x)/x²
//!
//! At 0 they are 1 and ½, so that both hold where nothing leaves. Of what came in evenly,
//! φ₁(−y) is still there after y turnovers, and 1 − φ₁(−y) = y·φ₂(−y) has left.

/// (eˣ − 1)/x.
#[must_use]
pub fn phi_1(x: f64) -> f64 {
    if x == 0.0 { 1.0 } else { x.exp_m1() / x }
}

/// (eˣ − 1 − x)/x².
#[must_use]
pub fn phi_2(x: f64) -> f64 {
    /// Nearer to 0 than this the difference loses digits, and the series needs few terms.
    const NEAR: f64 = 0.25;
    /// Terms until the next is below a unit in the last place.
    const TERMS: u32 = 14;
    if x.abs() >= NEAR {
        return (phi_1(x) - 1.0) / x;
    }
    let term = |n: u32| f64::from(n + 2).recip();
    (0..TERMS).rev().fold(0.0, |sum, n| (1.0 + x * sum) * term(n))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_are_the_published_functions_and_the_series_meets_the_difference() {
        // Expected values: (e^x − 1)/x and (e^x − 1 − x)/x² in decimal arithmetic of sixty digits.
        for (x, expected_1, expected_2) in [
            (0.0, 1.0, 0.5),
            (-1e-9, 0.9999999995, 0.4999999998333333),
            (-0.001, 0.9995001666250083, 0.4998333749916681),
            (-0.2499999, 0.8847969101128158, 0.4608125438737545),
            (-0.25, 0.8847968677143805, 0.4608125291424779),
            (-3.0, 0.3167376438773787, 0.22775411870754045),
            (-40.0, 0.025, 0.024375),
            (0.2, 1.1070137908008493, 0.5350689540042458),
        ] {
            let (one, two): (f64, f64) = (phi_1(x) / expected_1, phi_2(x) / expected_2);
            assert!((one - 1.0).abs() < 1e-15, "φ₁({x}) = {}", phi_1(x));
            assert!((two - 1.0).abs() < 2e-15, "φ₂({x}) = {}", phi_2(x));
        }
    }
}
