//! Units in both systems, and the factor between them.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The system of units that governs every number of a request and its answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum UnitSystem {
    /// Litres, kilograms, millimetres, °C.
    Metric,
    /// US gallons, pounds, inches, °F.
    Us,
}

/// A unit as programs and as people write it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// The UCUM code (ucum.org, version 2.2), or plain text where UCUM has none.
    pub code: &'static str,
    /// The unit as a person writes it; empty for a bare number.
    pub symbol: &'static str,
}

impl Unit {
    /// The unit behind a 1: "1 day", where others are days.
    pub(super) fn of_one(&self) -> &'static str {
        match self.symbol {
            "days" => "day",
            "months" => "month",
            "years" => "year",
            symbol => symbol,
        }
    }
}

/// A unit in both systems, and how one becomes the other:
/// `metric = (us − zero) · scale`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Units {
    /// The unit of the engine and of `metric` callers.
    pub metric: Unit,
    /// The unit of `us` callers.
    pub us: Unit,
    /// How many of the metric unit make one US unit.
    pub scale: f64,
    /// What the US unit reads where the metric one reads nothing (32 for °F).
    pub zero: f64,
}

impl Units {
    const fn new(metric: Unit, us: Unit, scale: f64) -> Self {
        Self { metric, us, scale, zero: 0.0 }
    }

    /// A unit that is the same in both systems.
    const fn same(code: &'static str, symbol: &'static str) -> Self {
        let unit = Unit { code, symbol };
        Self::new(unit, unit, 1.0)
    }

    /// The unit that `system` uses.
    #[must_use]
    pub const fn in_system(&self, system: UnitSystem) -> Unit {
        match system {
            UnitSystem::Metric => self.metric,
            UnitSystem::Us => self.us,
        }
    }

    /// A number as a caller in `system` wrote it, in the engine's unit.
    #[must_use]
    pub fn to_metric(&self, number: f64, system: UnitSystem) -> f64 {
        match system {
            UnitSystem::Metric => number,
            UnitSystem::Us => (number - self.zero) * self.scale,
        }
    }

    /// How many of the metric unit make one of the unit that `system` uses.
    #[must_use]
    pub fn metric_per_unit(&self, system: UnitSystem) -> f64 {
        self.to_metric(1.0, system) - self.to_metric(0.0, system)
    }

    /// A number of the engine, as a caller in `system` reads it.
    #[must_use]
    pub fn from_metric(&self, number: f64, system: UnitSystem) -> f64 {
        match system {
            UnitSystem::Metric => number,
            UnitSystem::Us => number / self.scale + self.zero,
        }
    }
}

/// Litres in a US gallon: 231 cubic inches of 25.4 mm (NIST SP 811, exact).
pub const LITRES_PER_US_GALLON: f64 = 3.785411784;
/// Kilograms in an avoirdupois pound (NIST SP 811, exact).
pub const KILOGRAMS_PER_POUND: f64 = 0.45359237;

pub(super) const LITRE: Unit = Unit { code: "L", symbol: "L" };
pub(super) const US_GALLON: Unit = Unit { code: "[gal_us]", symbol: "US gal" };

pub(super) const VOLUME: Units = Units::new(LITRE, US_GALLON, LITRES_PER_US_GALLON);
pub(super) const MASS: Units = Units::new(
    Unit { code: "kg", symbol: "kg" },
    Unit { code: "[lb_av]", symbol: "lb" },
    KILOGRAMS_PER_POUND,
);
pub(super) const DENSITY: Units = Units::new(
    Unit { code: "kg/L", symbol: "kg/L" },
    Unit { code: "[lb_av]/[gal_us]", symbol: "lb/US gal" },
    KILOGRAMS_PER_POUND / LITRES_PER_US_GALLON,
);
pub(super) const TEMPERATURE: Units = Units {
    metric: Unit { code: "Cel", symbol: "°C" },
    us: Unit { code: "[degF]", symbol: "°F" },
    scale: 5.0 / 9.0,
    zero: 32.0,
};
pub(super) const PUMP_RATE: Units = Units::new(
    Unit { code: "L/min", symbol: "L/min" },
    Unit { code: "[gal_us]/min", symbol: "US gal/min" },
    LITRES_PER_US_GALLON,
);
pub(super) const THROUGHPUT: Units = Units::new(
    Unit { code: "L/h", symbol: "L/h" },
    Unit { code: "[gal_us]/h", symbol: "US gal/h" },
    LITRES_PER_US_GALLON,
);
pub(super) const DAILY_RATE: Units = Units::new(
    Unit { code: "L/d", symbol: "L/day" },
    Unit { code: "[gal_us]/d", symbol: "US gal/day" },
    LITRES_PER_US_GALLON,
);
pub(super) const LENGTH: Units =
    Units::new(Unit { code: "mm", symbol: "mm" }, Unit { code: "[in_i]", symbol: "in" }, 25.4);
pub(super) const MINUTE: Units = Units::same("min", "min");
pub(super) const HOUR: Units = Units::same("h", "h");
pub(super) const DAY: Units = Units::same("d", "days");
pub(super) const MONTH: Units = Units::same("mo", "months");
pub(super) const YEAR: Units = Units::same("a", "years");
pub(super) const PERCENT_BY_VOLUME: Units = Units::same("%", "% by volume");
pub(super) const PERCENT: Units = Units::same("%", "%");
pub(super) const BRIX: Units = Units::same("°Brix", "°Brix");
pub(super) const MILLILITRE: Units = Units::same("mL", "mL");
pub(super) const PERCENT_PER_MILLILITRE: Units = Units::same("%/mL", "% by volume per mL");
pub(super) const MILLIGRAMS_PER_LITRE: Units = Units::same("mg/L", "mg/L");
pub(super) const COLONIES_PER_MILLILITRE: Units = Units::same("[CFU]/mL", "CFU/mL");
pub(super) const ACIDITY: Units = Units::same("[pH]", "");
pub(super) const MICROSIEMENS_PER_CENTIMETRE: Units = Units::same("uS/cm", "µS/cm");
pub(super) const MASS_RATE: Units = Units::new(
    Unit { code: "kg/h", symbol: "kg/h" },
    Unit { code: "[lb_av]/h", symbol: "lb/h" },
    KILOGRAMS_PER_POUND,
);
pub(super) const MICROMETRE: Units = Units::same("um", "µm");
pub(super) const REVOLUTIONS: Units = Units::same("{rev}/min", "rev/min");
pub(super) const DEGREE: Units = Units::same("deg", "°");
pub(super) const VISCOSITY: Units = Units::same("mPa.s", "mPa·s");
pub(super) const VELOCITY: Units = Units::new(
    Unit { code: "m/h", symbol: "m/h" },
    Unit { code: "[ft_i]/h", symbol: "ft/h" },
    0.3048,
);
pub(super) const AIR_SPEED: Units = Units::new(
    Unit { code: "m/s", symbol: "m/s" },
    Unit { code: "[ft_i]/min", symbol: "ft/min" },
    0.3048 / 60.0,
);
pub(super) const AREA: Units = Units::new(
    Unit { code: "m2", symbol: "m²" },
    Unit { code: "[ft_i]2", symbol: "ft²" },
    0.3048 * 0.3048,
);
pub(super) const SURFACE_LOADING: Units = Units::new(
    Unit { code: "m/h", symbol: "m³/h per m²" },
    Unit { code: "[gal_us]/min/[ft_i]2", symbol: "US gal/min per ft²" },
    LITRES_PER_US_GALLON * 0.06 / (0.3048 * 0.3048),
);
pub(super) const MILLIGRAMS_PER_DAY: Units = Units::same("mg/d", "mg/day");
pub(super) const MILLIGRAMS_PER_LITRE_A_DAY: Units = Units::same("mg/L/d", "mg/L a day");
pub(super) const BARE: Units = Units::same("1", "");
pub(super) const INSTRUMENT_SCALE: Units =
    Units::same("scale of the reading", "on the scale of the reading");
pub(super) const OF_ITS_NUMBER: Units =
    Units::same("unit of the number it belongs to", "that of the number it belongs to");
pub(super) const PER_INPUT: Units =
    Units::same("unit of the answer per unit of the input", "of the answer per unit of the input");
pub(super) const CURRENCY: Units = Units::same("currency", "in the caller's currency");
pub(super) const CURRENCY_PER_VOLUME: Units = Units::new(
    Unit { code: "currency/L", symbol: "of the caller's currency per L" },
    Unit { code: "currency/[gal_us]", symbol: "of the caller's currency per US gal" },
    1.0 / LITRES_PER_US_GALLON,
);
pub(super) const CURRENCY_PER_HOUR: Units =
    Units::same("currency/h", "of the caller's currency per hour");
pub(super) const CURRENCY_PER_ENERGY: Units =
    Units::same("currency/kW.h", "of the caller's currency per kWh");
pub(super) const KILOWATT: Units = Units::same("kW", "kW");
pub(super) const WEEK: Units = Units::same("wk", "weeks");
pub(super) const PER_YEAR: Units = Units::same("1/a", "times a year");
pub(super) const PERCENT_PER_YEAR: Units = Units::same("%/a", "% a year");
pub(super) const CURRENCY_PER_MASS: Units = Units::new(
    Unit { code: "currency/kg", symbol: "of the caller's currency per kg" },
    Unit { code: "currency/[lb_av]", symbol: "of the caller's currency per lb" },
    1.0 / KILOGRAMS_PER_POUND,
);
pub(super) const VOLUME_PER_VOLUME: Units = Units::new(
    Unit { code: "L/L", symbol: "L per L" },
    Unit { code: "[gal_us]/[gal_us]", symbol: "US gal per US gal" },
    1.0,
);
pub(super) const VOLUME_PER_LIMIT: Units = Units::new(
    Unit { code: "L/{limit}", symbol: "L per unit of the limit" },
    Unit { code: "[gal_us]/{limit}", symbol: "US gal per unit of the limit" },
    LITRES_PER_US_GALLON,
);
