//! What a top-up is answered with.

use super::Step;
use crate::fluid::band::Standing;
use crate::fluid::batch::Premix;
use crate::fluid::sump::SumpAfter;
use crate::quantity::{Concentration, Days, Share, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What to do to the sump, and what it comes to.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TopUpAnswer {
    /// Where the fluid stands against its band; absent without a band, or where
    /// nothing is in the sump.
    pub standing: Option<Standing>,
    /// How much to drain first.
    pub drain: Volume,
    /// How much of each stock goes in, a line for each in the order of the request.
    pub add: Vec<Addition>,
    /// The same as one premix to prepare beside the machine, or what comes into a tank
    /// that is stirred, all together; absent when nothing is to be added.
    pub premix: Option<Premix>,
    /// What the sump comes to.
    pub after: SumpAfter,
    /// By how many points the sump stays off its target concentration; 0 when
    /// it is met.
    pub misses_by: Share,
    /// The make-up that brings fluid that is too rich back while the machine works;
    /// absent where it is not too rich afterwards.
    pub weak_make_up: Option<WeakMakeUp>,
    /// What to do, in the order in which a careful person does it.
    pub steps: Vec<Step>,
}

/// How much of a stock goes in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Addition {
    /// The stock.
    #[schema(example = "concentrate")]
    pub name: String,
    /// How much of it.
    pub volume: Volume,
}

/// Make-up that thins fluid that is too rich, day by day, instead of draining any.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WeakMakeUp {
    /// How strong it is: the weakest that the stocks make.
    pub concentration: Concentration,
    /// The strongest make-up with which the fluid still comes back in the end;
    /// absent without losses.
    pub at_most: Option<Concentration>,
    /// After how many days of it the fluid is back in its band, or on its target
    /// where no band was given, counted from the sump as it is left; absent without
    /// losses, or where it never is.
    pub back_in_days: Option<Days>,
}
