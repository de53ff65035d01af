//! How fast a sphere sinks or rises in a still fluid.
//!
//! With d its diameter (m), Δρ the difference of its density to the fluid's,
//! taken positive whether it sinks or rises (kg/m³), ρ and μ the fluid's density
//! (kg/m³) and viscosity (Pa·s) and g the acceleration of gravity (m/s²):
//!
//! 1. Stokes: v = g·d²·Δρ/(18·μ)
//! 2. with drag: v = √(4·g·d·Δρ/(3·C·ρ)), C by the Reynolds number Re = ρ·v·d/μ
//!
//! C is 24/Re below Re 0.01 and from Re 0.1 the correlation of Barati, Salehi
//! Neyshabouri and Ahmadi (Powder Technology 257 (2014) 11–19), valid to Re
//! 200,000; a straight line in Re leads from one to the other. A drop is taken
//! for a rigid sphere.

use crate::numerics::root;

/// Standard acceleration of gravity, m/s² (NIST SP 811, exact).
pub const GRAVITY: f64 = 9.80665;
/// The greatest Reynolds number that the correlation covers.
pub const REYNOLDS_MOST: f64 = 2e5;
/// Below this Reynolds number a sphere obeys Stokes.
pub const REYNOLDS_STOKES: f64 = 0.01;
/// From this Reynolds number on the correlation stands alone.
pub const REYNOLDS_DRAG: f64 = 0.1;

/// A material in a fluid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Suspension {
    /// Density of what is suspended, kg/m³.
    pub rho_p: f64,
    /// Density of the fluid, kg/m³.
    pub rho: f64,
    /// Viscosity of the fluid, Pa·s.
    pub mu: f64,
}

impl Suspension {
    /// Whether it rises.
    #[must_use]
    pub fn rises(&self) -> bool {
        self.rho_p < self.rho
    }

    /// Whether it neither sinks nor rises.
    #[must_use]
    pub fn floats(&self) -> bool {
        self.rho_p == self.rho
    }

    fn delta(&self) -> f64 {
        (self.rho_p - self.rho).abs()
    }

    /// Velocity by Stokes, m/s, for a diameter `d` in m.
    #[must_use]
    pub fn stokes(&self, d: f64) -> f64 {
        GRAVITY * d * d * self.delta() / (18.0 * self.mu)
    }

    /// Diameter that Stokes gives the velocity `v` (m/s), m; without end where
    /// nothing sinks or rises.
    #[must_use]
    pub fn stokes_size(&self, v: f64) -> f64 {
        (18.0 * self.mu * v / (GRAVITY * self.delta())).sqrt()
    }

    /// Reynolds number at velocity `v` (m/s) and diameter `d` (m).
    #[must_use]
    pub fn reynolds(&self, d: f64, v: f64) -> f64 {
        self.rho * v * d / self.mu
    }

    /// Velocity with drag, m/s; none beyond the range of the correlation.
    #[must_use]
    pub fn velocity(&self, d: f64) -> Option<f64> {
        let stokes = self.stokes(d);
        let most = self.reynolds(d, stokes);
        if most < REYNOLDS_STOKES {
            return Some(stokes);
        }
        // C·Re² = (4/3)·g·ρ·Δρ·d³/μ², which is 24 times the Reynolds number by
        // Stokes, and rises with Re all the way.
        let wanted = (24.0 * most).ln();
        let missing = |ln_re: f64| drag(ln_re.exp()).ln() + 2.0 * ln_re - wanted;
        let high = most.min(REYNOLDS_MOST).ln();
        if missing(high) < 0.0 {
            return None;
        }
        let low = REYNOLDS_STOKES.min(most).ln();
        let re = root::between(missing, low, high).exp();
        Some(re * self.mu / (self.rho * d))
    }

    /// Diameter, m, that has the velocity `v` (m/s) with drag; none beyond the
    /// range of the correlation, or where nothing sinks or rises.
    #[must_use]
    pub fn size(&self, v: f64) -> Option<f64> {
        let (low, high) = (self.stokes_size(v), self.size_at(REYNOLDS_MOST));
        if !(low.is_finite() && low > 0.0 && high.is_finite()) {
            return None;
        }
        if self.reynolds(low, v) < REYNOLDS_STOKES {
            return Some(low);
        }
        let fastest = REYNOLDS_MOST * self.mu / (self.rho * high);
        if v > fastest {
            return None;
        }
        let missing =
            |ln_d: f64| self.velocity(ln_d.exp()).map_or(f64::INFINITY, |found| (found / v).ln());
        Some(root::between(missing, low.ln(), high.ln()).exp())
    }

    /// Diameter, m, that moves at the Reynolds number `re`.
    #[must_use]
    pub fn size_at(&self, re: f64) -> f64 {
        let cube = 3.0 * drag(re) * re * re * self.mu * self.mu
            / (4.0 * GRAVITY * self.rho * self.delta());
        cube.cbrt()
    }
}

/// The drag coefficient of a smooth sphere at the Reynolds number `re`, up to
/// [`REYNOLDS_MOST`].
#[must_use]
pub fn drag(re: f64) -> f64 {
    let stokes = 24.0 / re;
    if re < REYNOLDS_STOKES {
        return stokes;
    }
    let barati = 5.4856e9 * (4.3774e-9 / re).tanh()
        + 0.0709 * (700.6574 / re).tanh()
        + 0.3894 * (74.1539 / re).tanh()
        - 0.1198 * (7429.0843 / re).tanh()
        + 1.7174 * (9.9851 / (re + 2.3384)).tanh()
        + 0.4744;
    if re >= REYNOLDS_DRAG {
        return barati;
    }
    let along = (re - REYNOLDS_STOKES) / (REYNOLDS_DRAG - REYNOLDS_STOKES);
    along * barati + (1.0 - along) * stokes
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Barati et al. (2014), table of calculated values: 0.76822379 at Re 200.
    #[test]
    fn the_drag_is_the_published_one() {
        assert!((drag(200.0) - 0.768_223_795_038_987_4).abs() < 1e-15);
    }

    #[test]
    fn drag_times_reynolds_squared_rises_all_the_way() {
        let force = |step: i32| {
            let re = 10_f64.powf(f64::from(step) / 500.0);
            drag(re) * re * re
        };
        for step in -2000..2650 {
            assert!(force(step + 1) > force(step), "at 10^{step}/500");
        }
    }

    #[test]
    fn size_and_velocity_are_inverse() {
        let steel = Suspension { rho_p: 7850.0, rho: 998.2, mu: 1.002e-3 };
        for d in [1e-7, 1e-5, 2.2e-5, 5e-5, 1e-4, 1e-3, 1e-2] {
            let v = steel.velocity(d).expect("in range");
            assert!((steel.size(v).expect("in range") / d - 1.0).abs() < 1e-12, "{d}");
        }
        assert_eq!(steel.velocity(1.0), None);
        assert_eq!(steel.size(100.0), None);
    }
}
