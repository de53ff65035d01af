//! The question: a sump measured with a rule, or strengths before and after an addition.

mod compartments;

pub use compartments::{
    BoxCompartment, Compartment, Displaced, LCompartment, LyingCylinder, RoundBottom,
};

use crate::quantity::{Concentration, Length, Quantity, Share, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What a sump's volume is worked out from: its shape, a dilution, or both.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpVolume {
    /// # By its shape
    ///
    /// The sump measured with a rule.
    pub shape: Option<SumpShape>,
    /// # By dilution
    ///
    /// Strengths before and after a known addition.
    pub dilution: Option<Dilution>,
}

/// A sump measured with a rule.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpShape {
    /// # Compartments
    ///
    /// Compartments that it is made of.
    pub compartments: Vec<Compartment>,
    /// # Standing in it
    ///
    /// What stands in it and takes up room. Default: nothing.
    pub displaced: Option<Vec<Displaced>>,
    /// # Fluid level
    ///
    /// Height of the fluid above the sump's lowest point.
    #[schema(example = 300.0)]
    pub level: Length,
    /// # In pipes and bed
    ///
    /// Fluid in pipes, pumps and the machine's bed while it circulates. Default: 0.
    pub in_pipes: Option<Volume>,
    /// # Lengths are sure to
    ///
    /// Standard uncertainty of each length and of the level.
    #[schema(example = 3.0)]
    pub length_u: Option<Length>,
    /// # Step of the dip table
    ///
    /// Step from one line of the dip table to the next. Default: a twentieth of the depth.
    #[schema(example = 20.0)]
    pub dip_step: Option<Length>,
}

/// Strengths before and after a known addition.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(as = SumpDilution)]
pub struct Dilution {
    /// # Strength before
    ///
    /// Strength of the fluid before. Where water was added only the ratio of both
    /// strengths counts, so a factor that is a little off does no harm.
    #[schema(example = 8.0)]
    pub before: Concentration,
    /// # Added
    ///
    /// Volume that was added.
    #[schema(example = 20.0)]
    pub added: Volume,
    /// # Strength added
    ///
    /// Strength of what was added. Default: 0, plain water.
    pub added_concentration: Option<Concentration>,
    /// # Strength after
    ///
    /// Strength of the fluid once it is well mixed again.
    #[schema(example = 7.2)]
    pub after: Concentration,
    /// # Strengths are sure to
    ///
    /// Standard uncertainty of each of both strengths, in points of %.
    #[schema(example = 0.05)]
    pub strength_u: Option<Share>,
    /// # Addition is sure to
    ///
    /// Standard uncertainty of the volume added. Default: 0.
    #[schema(example = 0.2)]
    pub added_u: Option<Volume>,
}

impl Dilution {
    pub(super) fn strength_added(&self) -> f64 {
        self.added_concentration.map_or(0.0, Quantity::get)
    }
}
