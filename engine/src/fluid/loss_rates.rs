//! What a sump loses while it works, as rates.
//!
//! Water leaves to the air and nothing else with it; fluid leaves on chips and
//! parts as it is, of which the concentrate may be a little more or less than
//! its share.

use crate::quantity::{DailyRate, Quantity, Ratio};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What a sump loses in a day of its ordinary work.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LossRates {
    /// Water lost to the air in a day, and nothing else with it.
    #[schema(example = 9.0)]
    pub evaporation: DailyRate,
    /// Fluid carried off in a day on chips, parts and as mist, as it is.
    #[schema(example = 6.0)]
    pub carry_off: DailyRate,
    /// How fast concentrate leaves with what is carried off, against its share
    /// of the fluid: 1, the value taken when left out, leaves the fluid as it
    /// is; above 1 it wears thin.
    pub depletion_ratio: Option<Ratio>,
}

impl LossRates {
    /// Concentrate lost with what is carried off, against its share.
    #[must_use]
    pub fn depletion(&self) -> f64 {
        self.depletion_ratio.map_or(1.0, Quantity::get)
    }
}
