//! The job sheet: the steps of a round in the order in which they are done.

use crate::quantity::{Concentration, Count, Mass, Minutes, Volume};
use crate::sentence::Sentence;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// One line of the job sheet.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SheetStep {
    /// What kind of step it is.
    pub action: SheetAction,
    /// The batch it is about, numbered from 1.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub batch: Option<Count>,
    /// The trip it belongs to, numbered from 1; none while batches are prepared.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub haul: Option<Count>,
    /// The machine it is done at.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    #[schema(example = "lathe 2")]
    pub sump: Option<String>,
    /// The stock it is done with.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    #[schema(example = "tap water")]
    pub stock: Option<String>,
    /// The product that is handled.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    #[schema(example = "product A")]
    pub product: Option<String>,
    /// How much fluid is moved.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub volume: Option<Volume>,
    /// The mass of chips that is moved.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub mass: Option<Mass>,
    /// How strong the fluid is, or has to be.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub concentration: Option<Concentration>,
    /// How long it takes; none for what is done before the round.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub minutes: Option<Minutes>,
    /// What to do and how, in a sentence.
    #[schema(value_type = String)]
    pub text: Sentence,
}

/// Kinds of step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum SheetAction {
    /// Pour the weakest stock of a batch into its vessel.
    Pour,
    /// Stir a stronger stock into it.
    StirIn,
    /// Read the batch before it is used.
    CheckBatch,
    /// Fill the clean tank.
    LoadClean,
    /// Drive to a machine and make it ready.
    SetUp,
    /// Suck out dirty fluid with its chips.
    SuckOut,
    /// Hose down corners that the suction does not reach.
    Flush,
    /// Pump in clean fluid.
    Refill,
    /// Drive back to the station.
    DriveBack,
    /// Empty the basket of chips.
    EmptyBasket,
    /// Empty the dirty tank.
    EmptyDirtyTank,
}

impl SheetAction {
    const fn text(self) -> &'static str {
        match self {
            Self::Pour => "Pour this into a clean vessel for the batch.",
            Self::StirIn => {
                "Stir this in slowly: concentrate into water, never water into concentrate."
            }
            Self::CheckBatch => "Read the batch: it must have this strength before it is loaded.",
            Self::LoadClean => {
                "Fill this much of the batch into the clean tank, after the tank and its hose are \
                 free of any other product."
            }
            Self::SetUp => "Drive to the machine, lock it out, open the sump and lay the hoses.",
            Self::SuckOut => {
                "Suck this much into the dirty tank, chips into the basket. Watch the level: never \
                 past the high mark."
            }
            Self::Flush => "Hose this over corners and chip beds, then suck it out.",
            Self::Refill => {
                "Pump this in. With the last of it close the sump, take your lock off, let the \
                 fluid circulate, and read it."
            }
            Self::DriveBack => "Drive back to the station.",
            Self::EmptyBasket => {
                "Empty the basket into the chip bin: rated lifting gear, nobody below, hands clear."
            }
            Self::EmptyDirtyTank => {
                "Empty the dirty tank to the recycler or the waste tank for what is in it."
            }
        }
    }

    /// A line of this kind that says nothing else yet.
    pub(super) const fn step(self) -> SheetStep {
        SheetStep {
            action: self,
            batch: None,
            haul: None,
            sump: None,
            stock: None,
            product: None,
            volume: None,
            mass: None,
            concentration: None,
            minutes: None,
            text: Sentence::fixed(self.text()),
        }
    }
}
