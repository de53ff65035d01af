//! What was measured, and when.

use super::words::FungalGrowth;
use crate::quantity::{BacterialCount, Concentration, Conductivity, Content, Days, Ph};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A pH, and what it was when the sump was filled.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PhObserved {
    /// # The pH now
    ///
    /// The pH of the fluid.
    #[schema(example = 9.0)]
    pub now: Ph,
    /// # The pH when filled
    ///
    /// The pH when the sump was filled with fresh fluid. Default: not known.
    pub at_first_fill: Option<Ph>,
    /// # Days ago
    ///
    /// How long ago it was measured. Default: today.
    pub days_ago: Option<Days>,
}

/// A conductivity, and those of what the fluid is made of.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ConductivityObserved {
    /// # Conductivity now
    ///
    /// Conductivity of the fluid.
    #[schema(example = 2400.0)]
    pub now: Conductivity,
    /// # Of the fresh mix
    ///
    /// Conductivity of the same fluid, freshly mixed. Default: not known.
    pub fresh_mix: Option<Conductivity>,
    /// # Of the water
    ///
    /// Conductivity of the water that it is mixed with. Default: not known.
    pub water: Option<Conductivity>,
    /// # Days ago
    ///
    /// How long ago it was measured. Default: today.
    pub days_ago: Option<Days>,
}

/// Bacteria on a dip slide.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SlideObserved {
    /// # Count
    ///
    /// Colonies that the slide stands for.
    #[schema(example = 1000.0)]
    pub count: BacterialCount,
    /// # Days ago
    ///
    /// How long ago it was dipped. Default: today.
    pub days_ago: Option<Days>,
}

/// Fungi and yeasts on a dip slide.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FungiObserved {
    /// # Growth
    ///
    /// Growth on the slide, by the pictures that come with it.
    pub growth: FungalGrowth,
    /// # Days ago
    ///
    /// How long ago it was dipped. Default: today.
    pub days_ago: Option<Days>,
}

/// Something dissolved that was measured.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ContentObserved {
    /// # Measured
    ///
    /// Content of the fluid.
    pub content: Content,
    /// # Days ago
    ///
    /// How long ago it was measured. Default: today.
    pub days_ago: Option<Days>,
}

/// Tramp oil that was measured.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct OilObserved {
    /// # Tramp oil by volume
    ///
    /// Tramp oil in the fluid, by volume.
    #[schema(example = 0.8)]
    pub share: Concentration,
    /// # Days ago
    ///
    /// How long ago it was measured. Default: today.
    pub days_ago: Option<Days>,
}
