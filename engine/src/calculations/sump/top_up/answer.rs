//! What a top-up is answered with.

use super::TopUpStep;
use crate::fluid::band::Standing;
use crate::fluid::batch::Premix;
use crate::fluid::sump::SumpAfter;
use crate::quantity::{Concentration, Days, Share, Volume};
use crate::text::Name;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What to do to the sump, and what it comes to.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TopUpAnswer {
    /// # Against its band
    ///
    /// Whether the fluid is below, in or above its band now; absent without a band, or for
    /// an empty sump.
    pub standing: Option<Standing>,
    /// # Drain first
    ///
    /// Volume to drain first.
    pub drain: Volume,
    /// # Add
    ///
    /// Volume of each stock to add, in the order of the request.
    pub add: Vec<StockAdded>,
    /// # As one premix
    ///
    /// The same as one premix to prepare beside the machine, or what comes into a tank
    /// that is stirred, all together; absent where no fluid is added.
    pub premix: Option<Premix>,
    /// # Afterwards
    ///
    /// The sump afterwards.
    pub after: SumpAfter,
    /// # Off target by
    ///
    /// Points by which the sump stays off its target strength; 0 where it is met.
    pub misses_by: Share,
    /// # Weak make-up
    ///
    /// Make-up that brings fluid that is too strong back while the machine works; absent
    /// where it is not too strong afterwards.
    pub weak_make_up: Option<WeakMakeUp>,
    /// # Steps
    ///
    /// What to do, in order.
    pub steps: Vec<TopUpStep>,
}

/// A stock to add.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StockAdded {
    /// # Stock
    ///
    /// Name of the stock.
    #[schema(example = "concentrate", value_type = String)]
    pub name: Name,
    /// # Add
    ///
    /// Volume of it.
    pub volume: Volume,
}

/// Make-up that thins fluid that is too strong, day by day, without draining any.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WeakMakeUp {
    /// # Make-up strength
    ///
    /// Strength of the make-up: the weakest that the stocks make.
    pub concentration: Concentration,
    /// # Make-up at most
    ///
    /// The strongest make-up with which the fluid still comes back in the end; absent
    /// without losses.
    pub at_most: Option<Concentration>,
    /// # Back after
    ///
    /// Days of such make-up until the fluid is back in its band, or on its target where no
    /// band was given; absent without losses, or where it never is.
    pub back_in_days: Option<Days>,
}
