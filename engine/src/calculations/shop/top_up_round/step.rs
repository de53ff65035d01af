//! A step of a round of top-ups.

use crate::quantity::{Concentration, Count, Mark, Volume};
use crate::text::{Name, Sentence};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// One thing to do on a round of top-ups.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TopUpRoundStep {
    /// # Do
    ///
    /// Kind of step.
    pub action: TopUpRoundAction,
    /// # Premix
    ///
    /// Which premix it is about, counted from 1.
    pub premix: Option<Count>,
    /// # Trip
    ///
    /// Which trip it belongs to, counted from 1.
    pub trip: Option<Count>,
    /// # Machine
    ///
    /// The machine that it is done at.
    #[schema(example = "lathe 3", value_type = Option<String>)]
    pub sump: Option<Name>,
    /// # To machine
    ///
    /// The machine that moved fluid goes to.
    #[schema(example = "lathe 4", value_type = Option<String>)]
    pub to: Option<Name>,
    /// # Stock
    ///
    /// Stock that it is done with.
    #[schema(example = "water", value_type = Option<String>)]
    pub stock: Option<Name>,
    /// # Volume
    ///
    /// Volume of it, exactly; the text has it as it is measured out.
    pub volume: Option<Volume>,
    /// # Strength
    ///
    /// Strength that it has, or must have.
    pub concentration: Option<Concentration>,
    /// # Instrument must read
    ///
    /// What the instrument must read.
    pub mark: Option<Mark>,
    /// # How
    ///
    /// What to do and how, in a sentence.
    #[schema(value_type = String)]
    pub text: Sentence,
}

/// Kinds of step on a round of top-ups.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum TopUpRoundAction {
    /// Move good fluid from one sump to another.
    MoveFluid,
    /// Set the proportioner and draw the premix.
    DrawPremix,
    /// Pour the weakest stock of a premix into a clean vessel.
    Pour,
    /// Stir concentrate into it.
    StirIn,
    /// Add a stock to it that is mixed already.
    MixIn,
    /// Load premix into the vessel.
    Load,
    /// Pour premix into a sump.
    PourIn,
    /// A sump that this round does not bring into its band.
    StaysOut,
}

impl TopUpRoundAction {
    pub(super) const fn step(self, text: Sentence) -> TopUpRoundStep {
        TopUpRoundStep {
            action: self,
            premix: None,
            trip: None,
            sump: None,
            to: None,
            stock: None,
            volume: None,
            concentration: None,
            mark: None,
            text,
        }
    }
}
