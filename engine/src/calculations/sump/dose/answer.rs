//! The answer: how much to measure out, what it comes to and how long it lasts.

use crate::quantity::{Concentration, Content, Days, LabVolume, Mass, Volume};
use crate::text::Sentence;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The dose, what it comes to and how long it lasts.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct DoseAnswer {
    /// # In it now
    ///
    /// Content of the fluid before the dose.
    pub now: Content,
    /// # Dose
    ///
    /// Product to add for each litre of fluid in the sump, as labels count it; 0 where enough is
    /// in it.
    pub dose: Content,
    /// # Product
    ///
    /// Mass of the product to add.
    pub mass: Mass,
    /// # Product by volume
    ///
    /// Volume of the product to add; absent without its density.
    pub volume: Option<LabVolume>,
    /// # To measure out
    ///
    /// The same to the marking of the jug; absent without its density.
    pub measured: Option<LabVolume>,
    /// # Afterwards
    ///
    /// The sump afterwards, with what is measured out.
    pub after: DosedAfter,
    /// # Lasts
    ///
    /// Days until the content has fallen to what it works down to; absent where that was not asked
    /// or never comes.
    pub lasts_days: Option<Days>,
    /// # Steps
    ///
    /// What to do, in order.
    pub steps: Vec<DoseStep>,
}

/// A sump after a dose.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct DosedAfter {
    /// # Content afterwards
    ///
    /// Content of the fluid, by the balance.
    pub content: Content,
    /// # In the sump afterwards
    ///
    /// Fluid in the sump, the product included.
    pub volume: Volume,
    /// # Strength afterwards
    ///
    /// Strength of the fluid, which the product thins; absent where it is not followed.
    pub concentration: Option<Concentration>,
}

/// A step of a dose.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct DoseStep {
    /// # What to do
    ///
    /// The step, in a sentence.
    #[schema(value_type = String)]
    pub text: Sentence,
}
