//! What brings the recovered fluid on target, as it is answered.

use crate::fluid::batch::{Mix, Premix, Take};
use crate::quantity::Mark;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Additions that bring the recovered fluid on target.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BatchCorrection {
    /// # Parts of the batch
    ///
    /// Parts of the batch: the recovered fluid first, then the stocks in the order of the
    /// request.
    pub take: Vec<Take>,
    /// # Premix
    ///
    /// Premix of the stocks, stirred before it is poured into a tank that stands still.
    /// Absent where only water is added or the tank is stirred.
    pub premix: Option<Premix>,
    /// # Corrected batch
    ///
    /// Corrected batch.
    pub batch: Mix,
    /// # Scale must read
    ///
    /// Reading that the instrument must show in the corrected batch. Absent without a
    /// reading, or where the instrument's scale does not reach so far.
    pub mark: Option<Mark>,
}
