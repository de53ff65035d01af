//! How the contents of a sump change while its rates are steady: one formula
//! for falling, steady and rising volume.
//!
//! With W = W₀ + r·t (L, days) and each content x = X/W (per litre), the balance
//! dX/dt = a − κ·x becomes, in the time τ = ∫ dt/W (days/L),
//!
//! 1. dx/dτ = a − λ·x with λ = κ + r, and so x = x₀·e^(−λτ) + a·τ·φ₁(−λτ)
//! 2. φ₁(x) = (eˣ − 1)/x, which is 1 at x = 0
//! 3. τ = ln(1 + r·t/W₀)/r, which is t/W₀ at r = 0, and t = W₀·τ·φ₁(rτ)
//! 4. ∫ x dt = X₀·τ·φ₁(−κτ) + a·W₀·τ²·(φ₁(rτ) − φ₁(−κτ))/(λτ)
//!
//! Every content therefore moves one way only, toward a/λ or away from it. The
//! volume falling by evaporation e and carry-off d is r = −(e + d); with κ = k·d
//! and a = 0, (1) is C = C₀·(V/V₀)^(k·d/(e + d)).

use crate::numerics::phi::phi_1;

/// The slope of φ₁ at −z, negated: of φ₁(−z) over z.
fn phi_slope(z: f64) -> f64 {
    /// Below this the series is the more exact.
    const SMALL: f64 = 0.02;
    if z.abs() < SMALL {
        // Σ (−1)^n·n·z^(n−1)/(n+1)!
        return -1.0 / 2.0 + z * (1.0 / 3.0 - z * (1.0 / 8.0 - z * (1.0 / 30.0 - z / 144.0)));
    }
    ((1.0 + z) * (-z).exp() - 1.0) / (z * z)
}

/// (φ₁(−u) − φ₁(−v))/(v − u).
fn phi_fall(u: f64, v: f64) -> f64 {
    /// Nearer than this the slope between the two is the more exact.
    const NEAR: f64 = 1e-5;
    if (v - u).abs() < NEAR { -phi_slope(u.midpoint(v)) } else { (phi_1(-u) - phi_1(-v)) / (v - u) }
}

/// How the volume moves: W = W₀ + r·t.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pace {
    /// Where it begins, L.
    pub w_0: f64,
    /// How fast it rises, L/day.
    pub r: f64,
}

impl Pace {
    /// τ after `t` days, days/L.
    #[must_use]
    pub fn tau(&self, t: f64) -> f64 {
        let x = self.r * t / self.w_0;
        t / self.w_0 * if x == 0.0 { 1.0 } else { x.ln_1p() / x }
    }

    /// The days at τ.
    #[must_use]
    pub fn days(&self, tau: f64) -> f64 {
        self.w_0 * tau * phi_1(self.r * tau)
    }

    /// The volume after `t` days, L.
    #[must_use]
    pub fn volume(&self, t: f64) -> f64 {
        self.w_0 + self.r * t
    }
}

/// One thing that a sump holds: how much of it a litre holds at first, what
/// comes in, and how many litres a day are freed of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Constituent {
    /// At first, per litre.
    pub x_0: f64,
    /// What comes in, per day.
    pub a: f64,
    /// What leaves is κ·x per day, with κ in L/day.
    pub kappa: f64,
}

impl Constituent {
    /// How much a litre holds at τ.
    #[must_use]
    pub fn at(&self, pace: Pace, tau: f64) -> f64 {
        Remaining::of(pace, self.kappa, tau).of_content(self)
    }

    /// dx/dτ at the beginning; later it is e^(−λτ) of that.
    #[must_use]
    pub fn slope(&self, pace: Pace) -> f64 {
        self.a - (self.kappa + pace.r) * self.x_0
    }

    /// The τ at which a litre holds `x`, if it ever does.
    #[must_use]
    pub fn when(&self, pace: Pace, x: f64) -> Option<f64> {
        let lambda = self.kappa + pace.r;
        let y = (x - self.x_0) / self.slope(pace);
        // τ·φ₁(−λτ) = y. Negative or not a number: it moves the other way, or not at all.
        let z = -lambda * y;
        if !(y >= 0.0 && z > -1.0) {
            return None;
        }
        Some(y * if z == 0.0 { 1.0 } else { z.ln_1p() / z })
    }

    /// The whole amount at τ.
    #[must_use]
    pub fn amount(&self, pace: Pace, tau: f64, volume: f64) -> f64 {
        Remaining::of(pace, self.kappa, tau).of_content(self) * volume
    }

    /// ∫ x dt up to τ: what a flow of one litre a day has taken with it.
    #[must_use]
    pub fn taken(&self, pace: Pace, tau: f64) -> f64 {
        Taking::of(pace, self.kappa, tau).of_content(self)
    }
}

/// What becomes of every content that leaves alike: x = `stays`·x₀ + `comes`·a.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Remaining {
    stays: f64,
    comes: f64,
}

impl Remaining {
    /// At τ, for what leaves with κ litres a day.
    #[must_use]
    pub fn of(pace: Pace, kappa: f64, tau: f64) -> Self {
        let z = (kappa + pace.r) * tau;
        Self { stays: (-z).exp(), comes: tau * phi_1(-z) }
    }

    /// How much a litre then holds.
    #[must_use]
    pub fn of_content(&self, content: &Constituent) -> f64 {
        content.x_0 * self.stays + content.a * self.comes
    }
}

/// What is taken of every content that leaves alike, ∫ x dt: equation 4.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Taking {
    stays: f64,
    comes: f64,
}

impl Taking {
    /// Up to τ, for what leaves with κ litres a day.
    #[must_use]
    pub fn of(pace: Pace, kappa: f64, tau: f64) -> Self {
        let (whole, z) = (pace.w_0 * tau, kappa * tau);
        Self { stays: whole * phi_1(-z), comes: whole * tau * phi_fall(-pace.r * tau, z) }
    }

    /// What one litre a day has taken with it.
    #[must_use]
    pub fn of_content(&self, content: &Constituent) -> f64 {
        content.x_0 * self.stays + content.a * self.comes
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The limits are limits: nothing jumps where a rate becomes nothing.
    #[test]
    fn the_limits_join_smoothly() {
        for nothing in [0.0, 1e-14, -1e-14, 1e-9, -1e-9] {
            let pace = Pace { w_0: 200.0, r: nothing };
            let tau = pace.tau(30.0);
            assert!((tau - 0.15).abs() < 1e-10 && (pace.days(tau) - 30.0).abs() < 1e-12);
            let content = Constituent { x_0: 0.08, a: 1.0, kappa: nothing.abs() };
            let amount = content.amount(pace, tau, pace.volume(30.0));
            assert!((amount - 46.0).abs() < 1e-6, "{amount}");
            // ∫ (16 + t)/200 dt = (16·30 + 450)/200
            let taken = content.taken(pace, tau);
            assert!((taken - 4.65).abs() < 1e-7, "{taken}");
        }
    }

    /// What is there, what came and what left are three formulas; they close.
    #[test]
    fn what_comes_is_what_stays_and_what_leaves() {
        for (r, a, kappa) in [
            (-15.0, 0.0, 6.0),
            (-15.0, 2.0, 15.0),
            (-15.0, 2.0, 15.0 + 1e-7),
            (-15.0, 2.0, 0.0),
            (7.0, 0.3, 9.0),
            (0.0, 0.3, 9.0),
            (-3.0, 0.3, 400.0),
        ] {
            let (pace, content) = (Pace { w_0: 200.0, r }, Constituent { x_0: 0.08, a, kappa });
            for t in [1e-6, 0.5, 9.0, 13.2] {
                let tau = pace.tau(t);
                let stays = content.amount(pace, tau, pace.volume(t));
                let left = kappa * content.taken(pace, tau);
                let came = 16.0 + a * t;
                assert!((came - stays - left).abs() < 1e-11 * came, "{r} {a} {kappa} {t}");
                let x = content.at(pace, tau);
                assert!((x * pace.volume(t) - stays).abs() < 1e-12 * stays.max(1.0));
                if let Some(when) = content.when(pace, x).filter(|_| content.slope(pace) != 0.0) {
                    assert!((content.at(pace, when) - x).abs() < 1e-12);
                }
            }
        }
    }

    #[test]
    fn the_series_of_the_slope_meets_its_closed_form() {
        // Expected values: ((1 + z)·e^(−z) − 1)/z² in decimal arithmetic of sixty digits.
        for (z, expected, within) in [
            (0.0199, -0.4934159063153839, 2e-11),
            (-0.0199, -0.5066830983627477, 2e-11),
            (0.005, -0.4983364541710032, 1e-14),
            (-0.005, -0.5016697958376773, 1e-14),
            (0.02, -0.4933830677739793, 1e-12),
            (0.5, -0.3608160417241995, 1e-15),
        ] {
            let slope = phi_slope(z);
            assert!((slope / expected - 1.0_f64).abs() < within, "{slope} at {z}");
        }
    }
}
