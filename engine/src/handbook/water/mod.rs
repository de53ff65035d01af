//! Water as IAPWS has it: liquid, at ordinary pressure (101,325 Pa).
//!
//! Density by IAPWS-95 (IAPWS R6-95(2018)): the ρ at which
//!
//! 1. p = ρ·R·T·(1 + δ·∂φ/∂δ), δ = ρ/322 kg/m³, τ = 647.096 K/T
//!
//! is 101,325 Pa. Viscosity by IAPWS R12-08, without its critical enhancement,
//! as for industrial use:
//!
//! 2. μ = μ₀(T)·μ₁(ρ, T), in µPa·s
//!
//! Valid from 0 °C to the boiling point.
//!
//! **Water is computed, not tabulated**: density by IAPWS-95, viscosity by IAPWS R12-08
//! (`handbook/water.rs`), because the published fits miss the last digit of the reference values.

pub mod hardness;
pub mod ions;
mod residual;

use residual::TERMS;

/// Density of water at 20 °C in kg/L (IAPWS-95).
pub const DENSITY_AT_20_CELSIUS: f64 = 0.9982072;

/// The coldest and the warmest at which water is liquid at ordinary pressure, °C.
pub const LIQUID_CELSIUS: (f64, f64) = (0.0, 99.9);

/// Kelvin at 0 °C (exact).
const KELVIN_AT_0_CELSIUS: f64 = 273.15;
/// Temperature at the critical point, K (IAPWS R2-83).
const T_CRITICAL: f64 = 647.096;
/// Density at the critical point, kg/m³ (IAPWS R2-83).
const RHO_CRITICAL: f64 = 322.0;
/// Specific gas constant of IAPWS-95, J/(kg·K).
const GAS_CONSTANT: f64 = 461.51805;
/// Ordinary pressure, Pa (exact).
const ATMOSPHERE: f64 = 101_325.0;

/// Density of liquid water at `celsius`, kg/m³; none outside [`LIQUID_CELSIUS`].
#[must_use]
pub fn density(celsius: f64) -> Option<f64> {
    if celsius < LIQUID_CELSIUS.0 || celsius > LIQUID_CELSIUS.1 {
        return None;
    }
    let kelvin = celsius + KELVIN_AT_0_CELSIUS;
    // Water hardly yields to pressure, so that the secant from two densities
    // near the answer is there in a few steps.
    let off = |rho: f64| pressure(rho, kelvin) - ATMOSPHERE;
    let (mut a, mut b) = (1000.0, 998.0);
    let (mut off_a, mut off_b) = (off(a), off(b));
    for _ in 0..20 {
        if off_b == off_a {
            break;
        }
        let next = b - off_b * (b - a) / (off_b - off_a);
        (a, off_a) = (b, off_b);
        (b, off_b) = (next, off(next));
        if (b - a).abs() < 1e-9 {
            break;
        }
    }
    Some(b)
}

/// Equation (1), Pa.
fn pressure(rho: f64, kelvin: f64) -> f64 {
    let (delta, tau) = (rho / RHO_CRITICAL, T_CRITICAL / kelvin);
    let term = |&(c, d, t, n): &(i32, i32, f64, f64)| {
        let plain = n * delta.powi(d) * tau.powf(t);
        if c == 0 {
            plain * f64::from(d)
        } else {
            let power = delta.powi(c);
            plain * (-power).exp() * (f64::from(d) - f64::from(c) * power)
        }
    };
    let residual: f64 = TERMS.iter().map(term).sum();
    rho * GAS_CONSTANT * kelvin * (1.0 + residual)
}

/// H of IAPWS R12-08, table 1.
const H_DILUTE: [f64; 4] = [1.67752, 2.20462, 0.6366564, -0.241605];
/// i, j and H of IAPWS R12-08, table 2.
const H_FINITE: [(i32, i32, f64); 21] = [
    (0, 0, 5.20094e-1),
    (1, 0, 8.50895e-2),
    (2, 0, -1.08374),
    (3, 0, -2.89555e-1),
    (0, 1, 2.22531e-1),
    (1, 1, 9.99115e-1),
    (2, 1, 1.88797),
    (3, 1, 1.26613),
    (5, 1, 1.20573e-1),
    (0, 2, -2.81378e-1),
    (1, 2, -9.06851e-1),
    (2, 2, -7.72479e-1),
    (3, 2, -4.89837e-1),
    (4, 2, -2.57040e-1),
    (0, 3, 1.61913e-1),
    (1, 3, 2.57399e-1),
    (0, 4, -3.25372e-2),
    (3, 4, 6.98452e-2),
    (4, 5, 8.72102e-3),
    (3, 6, -4.35673e-3),
    (5, 6, -5.93264e-4),
];

/// Viscosity of liquid water at `celsius`, Pa·s; none outside [`LIQUID_CELSIUS`].
#[must_use]
pub fn viscosity(celsius: f64) -> Option<f64> {
    Some(viscosity_at(density(celsius)?, celsius + KELVIN_AT_0_CELSIUS))
}

/// Equation (2), Pa·s, at a density in kg/m³.
fn viscosity_at(rho: f64, kelvin: f64) -> f64 {
    let (t, r) = (kelvin / T_CRITICAL, rho / RHO_CRITICAL);
    let dilute: f64 = (0..).zip(H_DILUTE).map(|(i, h)| h / t.powi(i)).sum();
    let mu_0 = 100.0 * t.sqrt() / dilute;
    let finite: f64 =
        H_FINITE.iter().map(|(i, j, h)| h * (1.0 / t - 1.0).powi(*i) * (r - 1.0).powi(*j)).sum();
    mu_0 * (r * finite).exp() * 1e-6
}

#[cfg(test)]
mod tests {
    use super::*;

    /// IAPWS R12-08, table 4: 298.15 K and 998 kg/m³, 889.735100 µPa·s;
    /// 298.15 K and 1200 kg/m³, 1437.649467 µPa·s.
    #[test]
    fn the_viscosity_is_that_of_the_release() {
        assert!((viscosity_at(998.0, 298.15) * 1e6 - 889.735100).abs() < 5e-7);
        assert!((viscosity_at(1200.0, 298.15) * 1e6 - 1437.649467).abs() < 5e-7);
    }

    /// IAPWS R6-95(2018), table 7: 300 K, 996.5560 kg/m³: 0.0992418352 MPa;
    /// 300 K, 1005.308 kg/m³: 20.0022515 MPa.
    #[test]
    fn the_pressure_is_that_of_the_release() {
        assert!((pressure(996.5560, 300.0) * 1e-6 - 0.0992418352).abs() < 1e-9);
        assert!((pressure(1005.308, 300.0) * 1e-6 - 20.0022515).abs() < 1e-7);
    }

    #[test]
    fn ice_and_steam_have_no_answer() {
        for celsius in [-0.1, 100.0, f64::NAN] {
            assert!(density(celsius).is_none_or(f64::is_nan), "{celsius}");
        }
    }
}
