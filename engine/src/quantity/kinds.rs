//! The table of numbers: a row for each kind, with its unit and its range.
//!
//! A new row is wanted where a shop could confuse it with another kind, or where its
//! bounds or its unit differ. A dimensionless number without a meaning of its own is a
//! `Ratio` (how many times), a `Count` (whole), a `Number` (with a fraction) or a
//! `Share` (per cent).

use super::{OutOfRange, Quantity, Row};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

macro_rules! table {
    ($($(#[$doc:meta])* $name:ident: $units:ident, $edge:ident $least:literal to $most:literal;)*) => {
        $(
            $(#[$doc])*
            #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
            pub struct $name(f64);

            impl Quantity for $name {
                const ROW: &'static Row = &Row {
                    name: stringify!($name),
                    units: crate::quantity::units::$units,
                    least: $least,
                    above: table!(@above $edge),
                    most: $most,
                    whole: table!(@whole $edge),
                };

                fn get(self) -> f64 {
                    self.0
                }

                fn of(metric: f64) -> Result<Self, OutOfRange> {
                    if Self::ROW.admits(metric) {
                        // Adding nothing turns -0.0 into 0.0.
                        Ok(Self(metric + 0.0))
                    } else {
                        Err(OutOfRange { row: Self::ROW, metric })
                    }
                }
            }

            impl Serialize for $name {
                fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                    Self::ROW.write(self.0, serializer)
                }
            }

            impl<'de> Deserialize<'de> for $name {
                fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                    Self::ROW.read(deserializer).map(Self)
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
    /// A day of the week, counted from the one on which a plan begins.
    Weekday: BARE, whole 0.0 to 6.0;
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
    /// How acid or alkaline a fluid is, or by how much that changes.
    Ph: ACIDITY, from 0.0 to 14.0;
    /// How well a fluid conducts electricity, by what is dissolved in it.
    Conductivity: MICROSIEMENS_PER_CENTIMETRE, from 0.0 to 1e6;
    /// What is lost or fed in a day.
    DailyRate: DAILY_RATE, from 0.0 to 1e7;
    /// A daily rate as readings show it, which their errors may carry below nothing.
    DailyRateDifference: DAILY_RATE, from -1e7 to 1e7;
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
    /// How fast air moves.
    AirSpeed: AIR_SPEED, from 0.0 to 100.0;
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
    /// How many Monte Carlo draws are asked for.
    DrawCount: BARE, whole 100.0 to 1e6;
    /// How many months ahead a projection looks.
    MonthsAhead: BARE, whole 1.0 to 240.0;
    /// How many days ahead a forecast looks: ten years at most.
    DaysAhead: DAY, above 0.0 to 3660.0;
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
