//! The answer: each water's hardness in every unit, and the water made of them.

use crate::fluid::batch::Binding;
use crate::fluid::properties::Properties;
use crate::quantity::{Conductivity, Content, DailyRate, Money, Number, Share, Volume};
use crate::text::Name;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use std::borrow::Cow;
use utoipa::ToSchema;

/// Each water, and the water made of them.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WaterAnswer {
    /// # Each water
    ///
    /// What each water is, in the order of the request.
    pub waters: Vec<JudgedWater>,
    /// # The water made
    ///
    /// The water made of them; absent where none is asked for.
    pub blend: Option<BlendedWater>,
    /// # To make a day
    ///
    /// Water that the shop's own mixed bed or membrane has to make a day; absent without the daily
    /// need, or where the shop makes none.
    pub made_per_day: Option<DailyRate>,
}

/// What a water is.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct JudgedWater {
    /// # Name of the water
    ///
    /// Which water.
    #[schema(value_type = String)]
    pub name: Name,
    /// # Its hardness
    ///
    /// Its hardness in every unit; absent where it is not known.
    pub hardness: Option<HardnessInUnits>,
    /// # Hardness class
    ///
    /// How hard that is; absent where it is not known.
    pub class: Option<HardnessClass>,
    /// # What conducts
    ///
    /// The conductivity that each known salt makes, the most first.
    pub conducts: Vec<SaltConducts>,
}

/// A hardness in every unit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HardnessInUnits {
    /// # As calcium carbonate
    ///
    /// As calcium carbonate.
    pub mg_per_litre: Content,
    /// # German degrees
    ///
    /// German degrees, °dH.
    pub german_degrees: Number,
    /// # French degrees
    ///
    /// French degrees, °fH.
    pub french_degrees: Number,
    /// # English degrees
    ///
    /// English degrees, °e or Clark.
    pub english_degrees: Number,
    /// # Grains per US gallon
    ///
    /// Grains per US gallon, gpg.
    pub grains_per_us_gallon: Number,
    /// # Millimoles per litre
    ///
    /// Millimoles per litre.
    pub millimoles_per_litre: Number,
}

/// How hard a water is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum HardnessClass {
    /// Up to 60 mg/L.
    Soft,
    /// Up to 120 mg/L.
    ModeratelyHard,
    /// Up to 180 mg/L.
    Hard,
    /// Above 180 mg/L.
    VeryHard,
}

/// What one salt conducts.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SaltConducts {
    /// # Salt
    ///
    /// The salt.
    #[schema(value_type = String)]
    pub name: Cow<'static, str>,
    /// # Conducts
    ///
    /// The conductivity that it makes, estimated.
    pub conductivity: Conductivity,
    /// # Of the whole
    ///
    /// Its share of the conductivity measured; absent without that.
    pub share: Option<Share>,
}

/// A water made of others.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BlendedWater {
    /// # Take of each
    ///
    /// What to take of each water.
    pub take: Vec<WaterTake>,
    /// # Its hardness
    ///
    /// Its hardness in every unit; absent where that of a water taken is not known.
    pub hardness: Option<HardnessInUnits>,
    /// # Hardness class
    ///
    /// How hard that is; absent where it is not known.
    pub class: Option<HardnessClass>,
    /// # It carries
    ///
    /// What else it carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
    /// # Cost
    ///
    /// What it costs; absent without prices.
    pub cost: Option<Money>,
    /// # What holds it back
    ///
    /// Limits and waters that keep it from being cheaper, with what a unit more is worth.
    pub binding: Vec<Binding>,
}

/// What to take of a water.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WaterTake {
    /// # Name of the water
    ///
    /// Which water.
    #[schema(value_type = String)]
    pub name: Name,
    /// # Take
    ///
    /// Volume to take.
    pub volume: Volume,
    /// # Share
    ///
    /// Its share of the whole.
    pub share: Share,
}
