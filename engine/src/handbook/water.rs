//! Water, as IAPWS-95 has it.

/// Density of water at 20 °C in kg/L (IAPWS-95).
pub const DENSITY_AT_20_CELSIUS: f64 = 0.9982072;
