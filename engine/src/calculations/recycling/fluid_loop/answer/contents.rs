//! Where each property settles.

use crate::fluid::properties::ByProperty;
use crate::quantity::{Concentration, Content, Days};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Where each property settles.
pub type SettledContents = ByProperty<SettledOil, SettledMatter>;

/// Tramp oil at steady state.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SettledOil {
    /// # Highest
    ///
    /// Highest share in any sump between two clean-outs.
    pub highest: Concentration,
    /// # Highest in
    ///
    /// Group with the highest share.
    #[schema(example = "lathes")]
    pub highest_in: String,
    /// # Lowest
    ///
    /// Lowest share in any sump between two clean-outs.
    pub lowest: Concentration,
    /// # Mean
    ///
    /// Mean of all sumps between two clean-outs, by volume.
    pub mean: Concentration,
    /// # In recycled fluid
    ///
    /// Share in the recycled fluid. Absent when none is recycled.
    pub recycled: Option<Concentration>,
    /// # Within limits
    ///
    /// Whether every sump is within the limits. Absent without limits.
    pub in_limits: Option<bool>,
    /// # First over its limit
    ///
    /// First day on which a sump is over the upper limit. Absent when none is on the days
    /// that were followed.
    pub passes_limit_day: Option<Days>,
}

/// Something dissolved or suspended at steady state.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SettledMatter {
    /// # Highest
    ///
    /// Highest content in any sump between two clean-outs.
    pub highest: Content,
    /// # Highest in
    ///
    /// Group with the highest content.
    #[schema(example = "lathes")]
    pub highest_in: String,
    /// # Lowest
    ///
    /// Lowest content in any sump between two clean-outs.
    pub lowest: Content,
    /// # Mean
    ///
    /// Mean of all sumps between two clean-outs, by volume.
    pub mean: Content,
    /// # In recycled fluid
    ///
    /// Content of the recycled fluid. Absent when none is recycled.
    pub recycled: Option<Content>,
    /// # Within limits
    ///
    /// Whether every sump is within the limits. Absent without limits.
    pub in_limits: Option<bool>,
    /// # First over its limit
    ///
    /// First day on which a sump is over the upper limit. Absent when none is on the days
    /// that were followed.
    pub passes_limit_day: Option<Days>,
}
