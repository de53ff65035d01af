//! The answer: one decision, why, by when, what else, and what is not known.

use crate::calculations::sump::dose::ProductKind;
use crate::quantity::Days;
use crate::text::Sentence;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use std::borrow::Cow;
use utoipa::ToSchema;

/// What to do with a sump, and why.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ConditionAnswer {
    /// # Decision
    ///
    /// What to do: the furthest-reaching of all that the observations lead to.
    pub decision: CareAction,
    /// # Product to dose
    ///
    /// What is dosed; absent where the decision is another one.
    pub product: Option<ProductKind>,
    /// # Within days
    ///
    /// Days within which to do it; 0 is today.
    pub within_days: Days,
    /// # Reasons
    ///
    /// Why, the worst first; empty where nothing wants anything.
    pub reasons: Vec<Reason>,
    /// # Besides
    ///
    /// What else the observations lead to, the furthest-reaching first.
    pub besides: Vec<FurtherCare>,
    /// # Observations
    ///
    /// How each observation stands.
    pub observations: Vec<JudgedObservation>,
    /// # Not known or too old
    ///
    /// What is missing to decide, each with the cheapest test that would tell.
    pub missing: Vec<MissingTest>,
}

/// What is done with a sump, each reaching further than those before.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, ToSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum CareAction {
    /// Go on as before.
    CarryOn,
    /// Top it up: see `top-up`.
    TopUp,
    /// Let it circulate and take air, and look again.
    Circulate,
    /// Skim the oil off.
    Skim,
    /// Dose something: see `dose`.
    Dose,
    /// Bring the fluid to the recycler: see `recycler`.
    Recycle,
    /// Dip a slide first: what it shows decides between a dose and a clean-out.
    DipSlide,
    /// Drain it, clean the sump and fill it anew: see `recharge`.
    CleanOut,
    /// The same, with the fluid to disposal and none of it to the recycler.
    Dispose,
    /// Stop, and ask somebody who is trained for it: persons come first.
    StopAndAsk,
}

/// What was observed of a sump.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, ToSchema,
)]
#[serde(rename_all = "snake_case")]
#[schema(as = SumpObservation)]
pub enum Observation {
    /// Complaints of skin or breathing.
    Skin,
    /// Its smell.
    Smell,
    /// Its strength.
    Strength,
    /// Its pH.
    Ph,
    /// Its conductivity.
    Conductivity,
    /// Bacteria on a dip slide.
    Bacteria,
    /// Fungi on a dip slide.
    Fungi,
    /// Its nitrite.
    Nitrite,
    /// Nitrate of its water.
    NitrateOfWater,
    /// Its chloride.
    Chloride,
    /// Its hardness.
    Hardness,
    /// Tramp oil in it.
    TrampOil,
    /// Its temperature.
    Temperature,
    /// The days since it was filled.
    Age,
    /// The days that it stood still.
    StandingStill,
    /// Its look.
    Look,
    /// Foam on it.
    Foam,
    /// Rust on parts or the machine.
    Rust,
}

/// How an observation stands.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, ToSchema,
)]
#[serde(rename_all = "snake_case")]
#[schema(as = ObservationVerdict)]
pub enum Verdict {
    /// As it should be.
    Good,
    /// Keep an eye on it.
    Watch,
    /// Do something about it.
    Act,
}

/// Why something is decided.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = DecisionReason)]
pub struct Reason {
    /// # Observation
    ///
    /// The observation that it rests on.
    pub observation: Observation,
    /// # Reason
    ///
    /// What was observed and the boundary that it passes.
    #[schema(value_type = String)]
    pub text: Sentence,
}

/// Something else to do.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FurtherCare {
    /// # What else
    ///
    /// What to do.
    pub action: CareAction,
    /// # Product
    ///
    /// What is dosed; absent where nothing is.
    pub product: Option<ProductKind>,
    /// # Within
    ///
    /// Days within which to do it; 0 is today.
    pub within_days: Days,
    /// # Because
    ///
    /// Why it is to be done.
    #[schema(value_type = String)]
    pub text: Sentence,
}

/// How one observation stands.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct JudgedObservation {
    /// # Observation
    ///
    /// What was observed.
    pub observation: Observation,
    /// # Verdict
    ///
    /// How it stands.
    pub verdict: Verdict,
    /// # What was seen
    ///
    /// What was observed, and the boundary that it was held against.
    #[schema(value_type = String)]
    pub text: Sentence,
    /// # Source
    ///
    /// Where the boundary comes from.
    #[schema(value_type = String)]
    pub source: Cow<'static, str>,
}

/// A test that would tell what is not known.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = TestMissing)]
pub struct MissingTest {
    /// # Not known
    ///
    /// What is not known, or was measured too long ago.
    pub observation: Observation,
    /// # Test
    ///
    /// The cheapest test that tells.
    #[schema(value_type = String)]
    pub text: Sentence,
}
