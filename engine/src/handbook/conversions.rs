//! Exact conversions between the units that the engine computes in.

/// Milligrams in a kilogram.
pub const MILLIGRAMS_PER_KILOGRAM: f64 = 1e6;
/// A milligram in kilograms.
pub const KILOGRAMS_PER_MILLIGRAM: f64 = 1e-6;
/// A cubic millimetre in litres.
pub const LITRES_PER_CUBIC_MILLIMETRE: f64 = 1e-6;
/// A millimetre in metres.
pub const METRES_PER_MILLIMETRE: f64 = 1e-3;
/// A micrometre in metres.
pub const METRES_PER_MICROMETRE: f64 = 1e-6;
/// A litre an hour in cubic metres a second.
pub const CUBIC_METRES_PER_SECOND: f64 = 1.0 / 3.6e6;
/// Seconds in an hour.
pub const SECONDS_PER_HOUR: f64 = 3600.0;
/// Hours in a day.
pub const HOURS_PER_DAY: f64 = 24.0;
/// Days in a week.
pub const DAYS_PER_WEEK: f64 = 7.0;
/// Months in a year.
pub const MONTHS_PER_YEAR: f64 = 12.0;
/// Days in a year that is not a leap year.
pub const DAYS_PER_YEAR: f64 = 365.0;
/// Days in a month, on average over such a year.
pub const DAYS_PER_MONTH: f64 = DAYS_PER_YEAR / MONTHS_PER_YEAR;
