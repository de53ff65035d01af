//! What a sump loses while it works, as rates.
//!
//! Water leaves to the air and nothing else with it; fluid leaves on chips and
//! parts as it is, of which the concentrate may be a little more or less than
//! its share.

use crate::quantity::{DailyRate, Quantity, Ratio};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What a sump loses on an ordinary working day.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LossRates {
    /// # Lost to evaporation
    ///
    /// Water lost to evaporation per day.
    #[schema(example = 9.0)]
    pub evaporation: DailyRate,
    /// # Carried off
    ///
    /// Fluid carried off per day on chips, on parts and as mist.
    #[schema(example = 6.0)]
    pub carry_off: DailyRate,
    /// # Depletion ratio
    ///
    /// Strength of what is carried off, as a multiple of the fluid's. 1 keeps the
    /// concentration; above 1 the fluid gets weaker. Default: 1.
    pub depletion_ratio: Option<Ratio>,
}

impl LossRates {
    /// Concentrate lost with what is carried off, against its share.
    #[must_use]
    pub fn depletion(&self) -> f64 {
        self.depletion_ratio.map_or(1.0, Quantity::get)
    }
}
