//! The answer: the strength of the fluid.

use crate::fluid::band::{Marks, Standing};
use crate::quantity::{Concentration, Ratio};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Strength of the fluid, and its band on the scale of the instrument.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ConcentrationAnswer {
    /// # Strength
    ///
    /// Strength of the fluid.
    pub concentration: Concentration,
    /// # Parts of water
    ///
    /// Parts of water to one part of concentrate; absent where it is plain water.
    #[schema(example = 15.67)]
    pub parts_of_water: Option<Ratio>,
    /// # Against its band
    ///
    /// Whether the fluid is below, in or above its band; absent without a band.
    pub standing: Option<Standing>,
    /// # Marks on the scale
    ///
    /// The band on the instrument's own scale; absent without a band.
    pub marks: Option<Marks>,
}
