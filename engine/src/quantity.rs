//! The table of numbers: every number that crosses the wire knows its unit and its range.
//!
//! One row of the table gives a newtype, the check on the way in, the words of
//! the error, the schema's bounds and units, and what a caller in US units
//! sends instead. Kinds that a shop confuses (% by volume, °Brix, mg/L) are
//! different types, so that the compiler keeps them apart.
//!
//! The engine itself is metric. A calculation unwraps its quantities to `f64`
//! named by the symbols of its equations and wraps its results once, at the
//! end, with [`Quantity::of`].

mod row;

use crate::refusal::Refusal;
use crate::sentence::Measure;
pub use row::{Row, Unit, UnitSystem, Units};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

/// Litres in a US gallon: 231 cubic inches of 25.4 mm (NIST SP 811, exact).
pub const LITRES_PER_US_GALLON: f64 = 3.785411784;
/// Kilograms in an avoirdupois pound (NIST SP 811, exact).
pub const KILOGRAMS_PER_POUND: f64 = 0.45359237;

const LITRE: Unit = Unit { code: "L", symbol: "L" };
const US_GALLON: Unit = Unit { code: "[gal_us]", symbol: "US gal" };

const VOLUME: Units = Units::new(LITRE, US_GALLON, LITRES_PER_US_GALLON);
const MASS: Units = Units::new(
    Unit { code: "kg", symbol: "kg" },
    Unit { code: "[lb_av]", symbol: "lb" },
    KILOGRAMS_PER_POUND,
);
const DENSITY: Units = Units::new(
    Unit { code: "kg/L", symbol: "kg/L" },
    Unit { code: "[lb_av]/[gal_us]", symbol: "lb/US gal" },
    KILOGRAMS_PER_POUND / LITRES_PER_US_GALLON,
);
const TEMPERATURE: Units = Units {
    metric: Unit { code: "Cel", symbol: "°C" },
    us: Unit { code: "[degF]", symbol: "°F" },
    scale: 5.0 / 9.0,
    zero: 32.0,
};
const PUMP_RATE: Units = Units::new(
    Unit { code: "L/min", symbol: "L/min" },
    Unit { code: "[gal_us]/min", symbol: "US gal/min" },
    LITRES_PER_US_GALLON,
);
const THROUGHPUT: Units = Units::new(
    Unit { code: "L/h", symbol: "L/h" },
    Unit { code: "[gal_us]/h", symbol: "US gal/h" },
    LITRES_PER_US_GALLON,
);
const DAILY_RATE: Units = Units::new(
    Unit { code: "L/d", symbol: "L/day" },
    Unit { code: "[gal_us]/d", symbol: "US gal/day" },
    LITRES_PER_US_GALLON,
);
const LENGTH: Units =
    Units::new(Unit { code: "mm", symbol: "mm" }, Unit { code: "[in_i]", symbol: "in" }, 25.4);
const MINUTE: Units = Units::same("min", "min");
const HOUR: Units = Units::same("h", "h");
const DAY: Units = Units::same("d", "days");
const MONTH: Units = Units::same("mo", "months");
const YEAR: Units = Units::same("a", "years");
const PERCENT_BY_VOLUME: Units = Units::same("%", "% by volume");
const PERCENT: Units = Units::same("%", "%");
const BRIX: Units = Units::same("°Brix", "°Brix");
const MILLILITRE: Units = Units::same("mL", "mL");
const PERCENT_PER_MILLILITRE: Units = Units::same("%/mL", "% by volume per mL");
const MILLIGRAMS_PER_LITRE: Units = Units::same("mg/L", "mg/L");
const COLONIES_PER_MILLILITRE: Units = Units::same("[CFU]/mL", "CFU/mL");
const MASS_RATE: Units = Units::new(
    Unit { code: "kg/h", symbol: "kg/h" },
    Unit { code: "[lb_av]/h", symbol: "lb/h" },
    KILOGRAMS_PER_POUND,
);
const MICROMETRE: Units = Units::same("um", "µm");
const REVOLUTIONS: Units = Units::same("{rev}/min", "rev/min");
const DEGREE: Units = Units::same("deg", "°");
const VISCOSITY: Units = Units::same("mPa.s", "mPa·s");
const VELOCITY: Units = Units::new(
    Unit { code: "m/h", symbol: "m/h" },
    Unit { code: "[ft_i]/h", symbol: "ft/h" },
    0.3048,
);
const AREA: Units = Units::new(
    Unit { code: "m2", symbol: "m²" },
    Unit { code: "[ft_i]2", symbol: "ft²" },
    0.3048 * 0.3048,
);
const SURFACE_LOADING: Units = Units::new(
    Unit { code: "m/h", symbol: "m³/h per m²" },
    Unit { code: "[gal_us]/min/[ft_i]2", symbol: "US gal/min per ft²" },
    LITRES_PER_US_GALLON * 0.06 / (0.3048 * 0.3048),
);
const MILLIGRAMS_PER_DAY: Units = Units::same("mg/d", "mg/day");
const MILLIGRAMS_PER_LITRE_A_DAY: Units = Units::same("mg/L/d", "mg/L a day");
const BARE: Units = Units::same("1", "");
const INSTRUMENT_SCALE: Units = Units::same("scale of the reading", "on the scale of the reading");
const OF_ITS_NUMBER: Units =
    Units::same("unit of the number it belongs to", "that of the number it belongs to");
const PER_INPUT: Units =
    Units::same("unit of the answer per unit of the input", "of the answer per unit of the input");
const CURRENCY: Units = Units::same("currency", "in the caller's currency");
const CURRENCY_PER_VOLUME: Units = Units::new(
    Unit { code: "currency/L", symbol: "of the caller's currency per L" },
    Unit { code: "currency/[gal_us]", symbol: "of the caller's currency per US gal" },
    1.0 / LITRES_PER_US_GALLON,
);
const CURRENCY_PER_HOUR: Units = Units::same("currency/h", "of the caller's currency per hour");
const CURRENCY_PER_ENERGY: Units = Units::same("currency/kW.h", "of the caller's currency per kWh");
const KILOWATT: Units = Units::same("kW", "kW");
const WEEK: Units = Units::same("wk", "weeks");
const PER_YEAR: Units = Units::same("1/a", "times a year");
const PERCENT_PER_YEAR: Units = Units::same("%/a", "% a year");
const CURRENCY_PER_MASS: Units = Units::new(
    Unit { code: "currency/kg", symbol: "of the caller's currency per kg" },
    Unit { code: "currency/[lb_av]", symbol: "of the caller's currency per lb" },
    1.0 / KILOGRAMS_PER_POUND,
);
const VOLUME_PER_VOLUME: Units = Units::new(
    Unit { code: "L/L", symbol: "L per L" },
    Unit { code: "[gal_us]/[gal_us]", symbol: "US gal per US gal" },
    1.0,
);
const VOLUME_PER_LIMIT: Units = Units::new(
    Unit { code: "L/{limit}", symbol: "L per unit of the limit" },
    Unit { code: "[gal_us]/{limit}", symbol: "US gal per unit of the limit" },
    LITRES_PER_US_GALLON,
);

/// A number of a known kind: finite, in range, in the engine's metric unit.
pub trait Quantity: Copy {
    /// The kind's row of the table.
    const ROW: &'static Row;

    /// The bare number, in the metric unit.
    fn get(self) -> f64;

    /// Wraps a computed number, or refuses it as unproven when it is not
    /// finite or outside its kind's range.
    fn of(metric: f64) -> Result<Self, Refusal>;

    /// The number with its unit, for a [`Sentence`](crate::sentence::Sentence).
    fn measure(self) -> Measure {
        Self::measure_of(self.get())
    }

    /// The same of a number that is computed on the way and never answered.
    #[must_use]
    fn measure_of(metric: f64) -> Measure {
        Measure::of(Self::ROW, metric)
    }
}

macro_rules! table {
    ($($(#[$doc:meta])* $name:ident: $units:ident, $edge:ident $least:literal to $most:literal;)*) => {
        $(
            $(#[$doc])*
            #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
            pub struct $name(f64);

            impl Quantity for $name {
                const ROW: &'static Row = &Row {
                    name: stringify!($name),
                    units: $units,
                    least: $least,
                    above: table!(@above $edge),
                    most: $most,
                    whole: table!(@whole $edge),
                };

                fn get(self) -> f64 {
                    self.0
                }

                fn of(metric: f64) -> Result<Self, Refusal> {
                    if Self::ROW.admits(metric) {
                        // Adding nothing turns -0.0 into 0.0.
                        Ok(Self(metric + 0.0))
                    } else {
                        Err(Refusal::result_out_of_range(Self::ROW, metric))
                    }
                }
            }

            impl Serialize for $name {
                fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                    if Self::ROW.whole {
                        #[expect(
                            clippy::cast_possible_truncation,
                            clippy::cast_sign_loss,
                            reason = "whole and in range, or it would not be here"
                        )]
                        return serializer.serialize_u64(self.0 as u64);
                    }
                    serializer.serialize_f64(self.0)
                }
            }

            impl<'de> Deserialize<'de> for $name {
                fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                    let number = f64::deserialize(deserializer)?;
                    if Self::ROW.admits(number) {
                        Ok(Self(number + 0.0))
                    } else {
                        let range = Self::ROW.range_in_words(UnitSystem::Metric);
                        Err(D::Error::custom(format_args!("{number} is not {range}")))
                    }
                }
            }

            impl PartialSchema for $name {
                fn schema() -> RefOr<Schema> {
                    Self::ROW.schema()
                }
            }

            impl ToSchema for $name {
                fn name() -> std::borrow::Cow<'static, str> {
                    stringify!($name).into()
                }
            }
        )*

        /// Every kind of number that crosses the wire.
        pub const TABLE: &[&Row] = &[$($name::ROW),*];
    };
    (@above above) => { true };
    (@above $edge:ident) => { false };
    (@whole whole) => { true };
    (@whole $edge:ident) => { false };
}

table! {
    /// A volume of fluid, which may be nothing.
    Volume: VOLUME, from 0.0 to 1e9;
    /// A volume that something holds or that is to be made: more than nothing.
    Capacity: VOLUME, above 0.0 to 1e9;
    /// What is left over when volumes are added and taken away.
    VolumeDifference: VOLUME, from -1e9 to 1e9;
    /// A mass of fluid or of what is in it.
    Mass: MASS, from 0.0 to 1e11;
    /// What is left over when masses are added and taken away.
    MassDifference: MASS, from -1e11 to 1e11;
    /// Mass by volume, of a fluid or a stock.
    Density: DENSITY, above 0.0 to 25.0;
    /// A temperature, of a fluid or of the room.
    Temperature: TEMPERATURE, from -50.0 to 200.0;
    /// Concentrate in a fluid, % by volume.
    Concentration: PERCENT_BY_VOLUME, from 0.0 to 100.0;
    /// A share of a whole.
    Share: PERCENT, from 0.0 to 100.0;
    /// A refractometer's reading on the sucrose scale.
    Brix: BRIX, from 0.0 to 95.0;
    /// % by volume of concentrate for each °Brix, from the fluid's maker or a calibration.
    RefractometerFactor: BARE, above 0.0 to 100.0;
    /// A refractive index at 20 °C and 589 nm.
    RefractiveIndex: BARE, from 1.0 to 2.0;
    /// A laboratory volume.
    LabVolume: MILLILITRE, from 0.0 to 1e6;
    /// A laboratory volume that must be more than nothing.
    SampleVolume: MILLILITRE, above 0.0 to 1e6;
    /// % by volume of concentrate for each millilitre of titrant.
    TitrationFactor: PERCENT_PER_MILLILITRE, above 0.0 to 1e6;
    /// Dissolved or suspended matter.
    Content: MILLIGRAMS_PER_LITRE, from 0.0 to 1e6;
    /// Dissolved or suspended matter that comes in, in a day.
    PickUp: MILLIGRAMS_PER_DAY, from 0.0 to 1e12;
    /// By how much a day raises the content of something dissolved or suspended.
    ContentRise: MILLIGRAMS_PER_LITRE_A_DAY, from 0.0 to 1e6;
    /// An amount of money.
    Money: CURRENCY, from -1e15 to 1e15;
    /// What a unit of volume costs.
    MoneyPerVolume: CURRENCY_PER_VOLUME, from -1e9 to 1e9;
    /// What an hour costs.
    MoneyPerHour: CURRENCY_PER_HOUR, from 0.0 to 1e9;
    /// What a unit of energy costs.
    MoneyPerEnergy: CURRENCY_PER_ENERGY, from 0.0 to 1e9;
    /// What a unit of mass costs.
    MoneyPerMass: CURRENCY_PER_MASS, from -1e9 to 1e9;
    /// Volume won for each unit of volume.
    VolumePerVolume: VOLUME_PER_VOLUME, from -1e15 to 1e15;
    /// Volume won for each unit by which a limit is relaxed.
    VolumePerLimit: VOLUME_PER_LIMIT, from -1e18 to 1e18;
    /// Parts of a mix, as on the corner of a Pearson square.
    Parts: BARE, from 0.0 to 100.0;
    /// A point on the scale of the instrument that took the reading.
    Mark: INSTRUMENT_SCALE, from 0.0 to 1e6;
    /// How fast a pump moves fluid.
    PumpRate: PUMP_RATE, above 0.0 to 1e6;
    /// How long a piece of work takes.
    Minutes: MINUTE, from 0.0 to 1e12;
    /// How long a job takes.
    Hours: HOUR, from 0.0 to 1e11;
    /// Hours of a day: how many of them, or the hour at which something begins.
    DayHours: HOUR, from 0.0 to 24.0;
    /// A point in time or a span of it, in days.
    Days: DAY, from 0.0 to 1e6;
    /// A span of time in months.
    Months: MONTH, from 0.0 to 1e5;
    /// A span of time in years.
    Years: YEAR, from 0.0 to 1e4;
    /// How much fluid a treatment takes in an hour.
    Throughput: THROUGHPUT, from 0.0 to 1e7;
    /// Microbes that grow on a dip slide.
    BacterialCount: COLONIES_PER_MILLILITRE, from 0.0 to 1e12;
    /// What is lost or fed in a day.
    DailyRate: DAILY_RATE, from 0.0 to 1e7;
    /// A length: a level, a depth, a size.
    Length: LENGTH, from 0.0 to 1e6;
    /// A length of a vessel or a part: more than nothing.
    Dimension: LENGTH, above 0.0 to 1e6;
    /// How fast something dissolved or suspended comes in.
    MassRate: MASS_RATE, from 0.0 to 1e6;
    /// The size of a particle or a drop.
    ParticleSize: MICROMETRE, above 0.0 to 1e6;
    /// How fast something turns.
    RotationalSpeed: REVOLUTIONS, above 0.0 to 1e6;
    /// The angle between a cone and its axis.
    HalfAngle: DEGREE, above 0.0 to 89.0;
    /// How thick a fluid is (dynamic viscosity).
    Viscosity: VISCOSITY, above 0.0 to 1e6;
    /// How fast something sinks, rises or flows.
    Velocity: VELOCITY, from 0.0 to 1e12;
    /// A surface.
    Area: AREA, from 0.0 to 1e12;
    /// Throughput over the surface of a tank (overflow rate).
    SurfaceLoading: SURFACE_LOADING, from 0.0 to 1e15;
    /// How many times as much, once or more.
    Multiple: BARE, from 1.0 to 1e4;
    /// How many times one thing is another.
    Ratio: BARE, from 0.0 to 1e6;
    /// The electrical power that something draws.
    Power: KILOWATT, from 0.0 to 1e6;
    /// How long something lasts, in weeks.
    Weeks: WEEK, above 0.0 to 1e5;
    /// How often something is done in a year.
    Frequency: PER_YEAR, from 0.0 to 1e5;
    /// What is won or charged on money in a year.
    AnnualRate: PERCENT_PER_YEAR, from -100.0 to 1e9;
    /// A number where a fraction has a meaning, such as where two costs cross.
    Number: BARE, from 0.0 to 1e12;
    /// How the errors of two results hang together.
    Correlation: BARE, from -1.0 to 1.0;
    /// How many there are of something.
    Count: BARE, whole 0.0 to 1e9;
    /// What a scale reads where there is no concentrate; a little below nothing when its zero
    /// is off.
    BrixOffset: BRIX, from -5.0 to 95.0;
    /// From one line of a scale to the next, or one step of a digital display.
    ScaleDivision: BRIX, above 0.0 to 10.0;
    /// By how much two readings differ.
    BrixDifference: BRIX, from -1e6 to 1e6;
    /// A standard uncertainty or a half-width, in the unit of the number that is uncertain.
    Deviation: OF_ITS_NUMBER, from 0.0 to 1e18;
    /// A number of an answer, in the unit that it has there.
    Figure: OF_ITS_NUMBER, from -1e30 to 1e30;
    /// How much a number of an answer changes with one of the request.
    Sensitivity: PER_INPUT, from -1e100 to 1e100;
    /// A share of a variance, which a correlation can make negative.
    VarianceShare: PERCENT, from -1e12 to 1e12;
    /// How much two uncertain numbers go together.
    CorrelationCoefficient: BARE, from -1.0 to 1.0;
    /// What a statistical test looks at.
    TestValue: BARE, from -1e15 to 1e15;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn unit_factors_are_the_published_ones() {
        // NIST SP 811: 1 US gallon = 231 in³ with 1 in = 25.4 mm; 1 lb exact.
        let cubic_inch_in_litres = 0.254_f64.powi(3);
        assert!((LITRES_PER_US_GALLON - 231.0 * cubic_inch_in_litres).abs() < 1e-15);
        assert_eq!(VOLUME.to_metric(1.0, UnitSystem::Us), 3.785411784);
        assert_eq!(MASS.to_metric(1.0, UnitSystem::Us), 0.45359237);
        assert_eq!(TEMPERATURE.to_metric(212.0, UnitSystem::Us), 100.0);
        assert_eq!(TEMPERATURE.from_metric(20.0, UnitSystem::Us), 68.0);
    }

    #[test]
    fn a_quantity_is_finite_and_in_range() {
        for bad in [f64::NAN, f64::INFINITY, -1e-12, 100.000001] {
            assert!(Concentration::of(bad).is_err(), "{bad} passed");
        }
        assert!(Capacity::of(0.0).is_err());
        assert!(Volume::of(0.0).is_ok());
    }
}
