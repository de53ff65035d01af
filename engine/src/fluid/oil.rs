//! Tramp oil that comes into a sump all the time, and what a skimmer takes out again.

use crate::quantity::{DailyRate, Quantity};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// How carry-off and tramp oil go together.
pub(crate) const OIL_GOES_ALONG: &str =
    "Carry-off was counted as water-mix fluid alone; tramp oil goes along with it in proportion.";
/// What is taken for granted where nobody speaks of a leak.
pub(crate) const LEAKS_NONE: &str = "The machine was assumed to leak no oil.";

/// Tramp oil that leaks into a sump, and a skimmer against it.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct OilRates {
    /// # Oil leak
    ///
    /// Oil that the machine leaks into the sump per day. Default: 0.
    #[schema(example = 0.2)]
    pub leak: Option<DailyRate>,
    /// # Skimmer
    ///
    /// Fluid that a skimmer frees of its oil per day: the oil that it collects in a day,
    /// divided by the share of oil in the sump. The less oil there is, the less it collects.
    /// Default: 0.
    #[schema(example = 20.0)]
    pub skimmer: Option<DailyRate>,
}

impl OilRates {
    /// Oil that leaks in, L/day.
    #[must_use]
    pub fn leaks(&self) -> f64 {
        self.leak.map_or(0.0, Quantity::get)
    }

    /// Fluid that a skimmer frees of its oil, L/day.
    #[must_use]
    pub fn skims(&self) -> f64 {
        self.skimmer.map_or(0.0, Quantity::get)
    }
}
