//! Water that evaporates from an open surface: an estimate, never a measurement.
//!
//! Carrier's form (ASHRAE Trans. 104, 1998; the SI form from memory), with A the surface (m²), v the
//! speed of the air over it (m/s), p_w the saturation pressure at the water's temperature and p_a
//! the pressure of vapour in the air (kPa), and Y the latent heat at the water's temperature (kJ/kg):
//!
//! 1. E = A·(p_w − p_a)·(0.089 + 0.0782·v)/Y, in kg/s
//! 2. p_a = φ·p_s(air), φ the relative humidity, 0 to 1
//!
//! Saturation pressure by IAPWS-IF97 (IAPWS R7-97(2012), equation 30), latent heat by a cubic through
//! IAPWS-95. Two published forms differ by 15 % on the same pool, and still pools were measured at
//! 74 % of (1). Valid for water and air from 0 °C to 99.9 °C.

use super::water::LIQUID_CELSIUS;

/// Kelvin at 0 °C (exact).
const KELVIN_AT_0_CELSIUS: f64 = 273.15;
/// n₁ to n₁₀ of IAPWS-IF97, table 34.
const SATURATION: [f64; 10] = [
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
];
/// The latent heat in powers of °C, kJ/kg: fitted to IAPWS-95 (iapws 1.5.5) from 1 to 100 °C, to
/// 0.022 kJ/kg.
const LATENT_HEAT: [f64; 4] = [2500.90737, -2.37479724, 5.24846379e-4, -1.22656181e-5];
/// Carrier's still air and its rise with the speed of the air, SI.
const CARRIER: (f64, f64) = (0.089, 0.0782);
/// By how much two published forms differ on the same pool, %.
pub const FORMS_DIFFER_BY: f64 = 15.0;
/// Seconds in an hour.
const SECONDS_PER_HOUR: f64 = 3600.0;

/// An open surface of water, and the air over it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WaterSurface {
    /// How large it is, m².
    pub area: f64,
    /// How warm the water is, °C.
    pub celsius: f64,
    /// How warm the air is, °C.
    pub air_celsius: f64,
    /// Relative humidity of the air, 0 to 1.
    pub humidity: f64,
    /// How fast the air moves over it, m/s.
    pub air_speed: f64,
}

impl WaterSurface {
    /// What evaporates, kg/h; nothing where the air is so damp that water would settle on it.
    #[must_use]
    pub fn evaporates(&self) -> f64 {
        let p_w = saturation_pressure(self.celsius);
        let p_a = self.humidity * saturation_pressure(self.air_celsius);
        let (still, moving) = CARRIER;
        let kg_per_second =
            self.area * (p_w - p_a) * (still + moving * self.air_speed) / latent_heat(self.celsius);
        (kg_per_second * SECONDS_PER_HOUR).max(0.0)
    }
}

/// Whether the estimate covers a temperature, °C.
#[must_use]
pub fn covers(celsius: f64) -> bool {
    (LIQUID_CELSIUS.0..=LIQUID_CELSIUS.1).contains(&celsius)
}

/// Saturation pressure of water, kPa.
fn saturation_pressure(celsius: f64) -> f64 {
    let [n1, n2, n3, n4, n5, n6, n7, n8, n9, n10] = SATURATION;
    let kelvin = celsius + KELVIN_AT_0_CELSIUS;
    let theta = kelvin + n9 / (kelvin - n10);
    let a = theta * theta + n1 * theta + n2;
    let b = n3 * theta * theta + n4 * theta + n5;
    let c = n6 * theta * theta + n7 * theta + n8;
    let megapascals = (2.0 * c / (-b + (b * b - 4.0 * a * c).sqrt())).powi(4);
    1000.0 * megapascals
}

/// Latent heat of water, kJ/kg.
fn latent_heat(celsius: f64) -> f64 {
    LATENT_HEAT.iter().rev().fold(0.0, |sum, factor| sum * celsius + factor)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// IAPWS R7-97(2012), table 35: 300 K, 0.353658941e-2 MPa; 500 K, 2.63889776 MPa.
    #[test]
    fn the_saturation_pressure_is_that_of_the_release() {
        for (kelvin, megapascals) in [(300.0, 0.353658941e-2), (500.0, 2.63889776)] {
            let is = saturation_pressure(kelvin - KELVIN_AT_0_CELSIUS) / 1000.0;
            assert!((is / megapascals - 1.0).abs() < 1e-8, "{is}");
        }
    }

    /// Latent heat by IAPWS-95 (iapws 1.5.5): 2453.5193 kJ/kg at 20 °C, 2417.9146 at 35 °C.
    #[test]
    fn the_latent_heat_is_near_that_of_iapws_95() {
        for (celsius, kilojoules) in [(20.0, 2453.5193), (35.0, 2417.9146)] {
            assert!((latent_heat(celsius) - kilojoules).abs() < 0.03, "{celsius}");
        }
    }

    /// Carrier's form with the pressures of PsychroLib, which lie 0.02 % below these: 1 m², 0.1 m/s,
    /// water 35 °C, air 20 °C at 50 % → 0.642692 kg/h; 30 °C, 22 °C at 50 % → 0.419388; still,
    /// 25 °C, 20 °C at 50 % → 0.262415.
    #[test]
    fn a_square_metre_evaporates_as_recomputed() {
        for (air_speed, celsius, air_celsius, kg_per_hour) in
            [(0.1, 35.0, 20.0, 0.642692), (0.1, 30.0, 22.0, 0.419388), (0.0, 25.0, 20.0, 0.262415)]
        {
            let surface =
                WaterSurface { area: 1.0, celsius, air_celsius, humidity: 0.5, air_speed };
            let is = surface.evaporates();
            assert!((is / kg_per_hour - 1.0).abs() < 2.5e-4, "{is} {kg_per_hour}");
        }
    }

    #[test]
    fn damp_air_over_cold_water_takes_nothing() {
        let surface = WaterSurface {
            area: 2.0,
            celsius: 10.0,
            air_celsius: 30.0,
            humidity: 0.9,
            air_speed: 0.5,
        };
        assert_eq!(surface.evaporates(), 0.0);
    }
}
