//! The answer: the batch, and what goes into it.

use crate::fluid::batch::{Binding, Mix, Take};
use crate::quantity::Money;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The batch, and what goes into it.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BlendAnswer {
    /// # Take
    ///
    /// Volume of each stock to take, in the order of the request.
    pub take: Vec<Take>,
    /// # Batch
    ///
    /// The batch that it makes.
    pub mix: Mix,
    /// # Cost
    ///
    /// Cost of the batch; absent where no stock has a cost.
    pub cost: Option<Money>,
    /// # Held back by
    ///
    /// Limits and stocks on hand that hold the goal back. Empty where none does, or where
    /// there was no goal: two stocks can be mixed in one way only, and stocks without costs
    /// have none to save.
    pub binding: Vec<Binding>,
}
