//! The question: the waters that there are, and the water that is wanted.

use crate::fluid::hardness::{HardnessMeasured, HardnessUnit};
use crate::fluid::properties::{Limits, Properties};
use crate::quantity::{Capacity, Conductivity, Content, DailyRate, MoneyPerVolume, Number, Volume};
use crate::text::Name;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The waters that there are, and the water that is wanted of them.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Water {
    /// # Waters
    ///
    /// The waters that there are, most preferred first: town water, deionised, softened, rain.
    #[schema(max_items = 50)]
    pub waters: Vec<WaterSource>,
    /// # Make
    ///
    /// How much water to make of them. Default: they are judged alone, or 100 L where limits are
    /// given.
    #[schema(example = 600.0)]
    pub make: Option<Capacity>,
    /// # Hardness wanted
    ///
    /// Hardness that the water made of them is to have. Default: any.
    pub hardness: Option<HardnessWindow>,
    /// # Limits
    ///
    /// Limits on what else it carries: chloride, sulphate, nitrate. Default: none.
    #[serde(skip_serializing_if = "Limits::is_empty", default)]
    pub limits: Limits,
    /// # Needed a day
    ///
    /// Water that the shop needs a day, for how much a mixed bed or membrane has to make.
    #[schema(example = 220.0)]
    pub daily: Option<DailyRate>,
}

/// A water that there is.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WaterSource {
    /// # Water
    ///
    /// What it is called, different for each.
    #[schema(example = "town water", value_type = String, min_length = 1, max_length = 128)]
    pub name: Name,
    /// # Hardness
    ///
    /// Its whole hardness. Default: by its calcium and magnesium.
    pub hardness: Option<HardnessMeasured>,
    /// # Calcium
    ///
    /// Calcium in it.
    pub calcium: Option<Content>,
    /// # Magnesium
    ///
    /// Magnesium in it.
    pub magnesium: Option<Content>,
    /// # Carries
    ///
    /// What else it carries: chloride, sulphate, nitrate, sodium.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
    /// # Conductivity
    ///
    /// Its conductivity.
    pub conductivity: Option<Conductivity>,
    /// # Softened
    ///
    /// Whether a softener exchanged its hardness for sodium. Default: no.
    pub softened: Option<bool>,
    /// # Made in the shop
    ///
    /// Whether a mixed bed or a membrane of the shop makes it. Default: no.
    pub made_here: Option<bool>,
    /// # On hand
    ///
    /// Volume on hand. Default: as much as needed.
    pub volume: Option<Volume>,
    /// # Price
    ///
    /// Price. Default: 0.
    #[schema(example = 0.004)]
    pub unit_cost: Option<MoneyPerVolume>,
}

/// The least and the most hardness, or one of them, with their unit.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct HardnessWindow {
    /// # Least hardness wanted
    ///
    /// The least that is wanted, in the unit named beside it.
    pub min: Option<Number>,
    /// # Most hardness wanted
    ///
    /// The most that is wanted, in the unit named beside it.
    pub max: Option<Number>,
    /// # Unit of the window
    ///
    /// Their unit.
    pub unit: HardnessUnit,
}
