//! The question: a reading, and the band that the fluid is kept in.

use crate::fluid::band::Band;
use crate::fluid::reading::Reading;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A reading, and the band that the fluid is kept in.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ConcentrationOfReading {
    /// # Reading
    ///
    /// Reading of an instrument.
    pub reading: Reading,
    /// # Band
    ///
    /// Band that the fluid is kept in. Default: none.
    pub band: Option<Band>,
}
