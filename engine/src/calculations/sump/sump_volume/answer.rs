//! The answer: what the sump holds, and how sure that is.

use crate::quantity::{Length, Ratio, Volume, VolumeDifference};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What the sump holds.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpVolumeAnswer {
    /// # Shape against dilution
    ///
    /// Whether the volumes by shape and by dilution agree, where there are both.
    pub agreement: Option<Agreement>,
    /// # Sump holds
    ///
    /// Volume at the level at which it was measured; absent where shape and dilution
    /// disagree, for then nobody knows.
    pub volume: Option<Volume>,
    /// # Sure to
    ///
    /// Standard uncertainty of the volume; absent where the request has no
    /// uncertainties.
    pub u: Option<Volume>,
    /// # By its shape
    ///
    /// The volume by shape.
    pub by_shape: Option<VolumeEstimate>,
    /// # By dilution
    ///
    /// The volume by dilution.
    pub by_dilution: Option<VolumeEstimate>,
    /// # Full to the brim
    ///
    /// Volume when full to the lowest brim, pipes included.
    pub at_brim: Option<Volume>,
    /// # Dip table
    ///
    /// Volume at each level of the dip stick.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub dip_table: Vec<DipLine>,
}

/// A volume and its uncertainty.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct VolumeEstimate {
    /// # Volume
    ///
    /// The volume.
    pub volume: Volume,
    /// # Sure to
    ///
    /// Its standard uncertainty; absent where the request has no uncertainties.
    pub u: Option<Volume>,
}

/// Whether two estimates agree.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = EstimatesAgreement)]
pub struct Agreement {
    /// # Agree
    ///
    /// Whether they agree. Where they do not, a finding says why that may be and what
    /// to measure next.
    pub agree: bool,
    /// # Difference
    ///
    /// Volume by shape minus volume by dilution.
    pub difference: VolumeDifference,
    /// # Difference to expect
    ///
    /// Difference that their uncertainties explain, at 95 %.
    pub expected: Volume,
    /// # Dilution over shape
    ///
    /// Volume by dilution divided by volume by shape; absent where the shape holds next
    /// to nothing.
    pub ratio: Option<Ratio>,
}

/// A line of the dip table.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct DipLine {
    /// # Dip stick reads
    ///
    /// Level above the sump's lowest point.
    pub level: Length,
    /// # Volume at this level
    ///
    /// Volume at this level, without what is in the pipes.
    pub volume: Volume,
}
