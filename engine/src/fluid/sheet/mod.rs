//! The limits of a fluid's own sheet, and the published ones that they are held against.
//!
//! One sheet serves every question: `condition` judges by it, and what a calculation follows over
//! time is held against the same boundaries.

mod bounds;
mod kept;

pub use bounds::Boundary;
pub use kept::KeptLimits;
pub(crate) use kept::kept;

use crate::quantity::{
    BacterialCount, Concentration, Conductivity, Content, Days, Ph, Temperature,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Limits of a fluid's own sheet, as `condition` judges by them. Default of each: the published
/// one, where there is one. They hold where they are stricter than it.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SheetLimits {
    /// # Lowest pH
    ///
    /// The lowest pH.
    #[schema(example = 8.8)]
    pub ph_low: Option<Ph>,
    /// # Highest pH
    ///
    /// The highest pH.
    pub ph_high: Option<Ph>,
    /// # Fall of the pH
    ///
    /// The most that the pH may fall from first fill.
    pub ph_fall: Option<Ph>,
    /// # Highest conductivity
    ///
    /// The highest conductivity.
    pub conductivity: Option<Conductivity>,
    /// # Most bacteria
    ///
    /// The count from which to act.
    pub bacteria: Option<BacterialCount>,
    /// # Most nitrite
    ///
    /// The most nitrite.
    pub nitrite: Option<Content>,
    /// # Most chloride
    ///
    /// The most chloride.
    #[schema(example = 150.0)]
    pub chloride: Option<Content>,
    /// # Least hardness
    ///
    /// The least hardness, below which it foams.
    pub hardness_low: Option<Content>,
    /// # Most hardness
    ///
    /// The most hardness.
    pub hardness_high: Option<Content>,
    /// # Most tramp oil
    ///
    /// The tramp oil from which to act.
    pub tramp_oil: Option<Concentration>,
    /// # Highest temperature
    ///
    /// The highest temperature at work.
    pub temperature: Option<Temperature>,
    /// # Longest between clean-outs
    ///
    /// Days after which it is cleaned out.
    pub days: Option<Days>,
}
