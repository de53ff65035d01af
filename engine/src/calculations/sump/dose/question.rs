//! The question: what is in the sump, what is dosed into it, and what is wanted.

use crate::fluid::loss_rates::LossRates;
use crate::quantity::{Capacity, Concentration, Content, Days, Density, SampleVolume, Share};
use crate::text::Name;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A sump, a product to dose into it, and the content that is wanted.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Dose {
    /// # Sump
    ///
    /// The sump.
    pub sump: DosedSump,
    /// # Product
    ///
    /// What is dosed, by its label and its safety data sheet.
    pub product: DosedProduct,
    /// # Wanted
    ///
    /// Content wanted right after the dose: of the product, or of its active substance where the
    /// product's active share is given.
    #[schema(example = 1500.0)]
    pub wanted: Content,
    /// # Measured now
    ///
    /// Content that was measured in the sump just now. Default: what the last dose left.
    pub now: Option<Content>,
    /// # Last dose
    ///
    /// The last dose of the same product. Default: none is in the sump.
    pub last_dose: Option<LastDose>,
    /// # Lost per day
    ///
    /// Losses of the sump per day. What is carried off takes the product along, and the make-up
    /// for it brings none. Default: none.
    pub losses: Option<LossRates>,
    /// # Works down to
    ///
    /// Content down to which it works, for how long it lasts. Default: not asked.
    #[schema(example = 750.0)]
    pub lasts_to: Option<Content>,
    /// # Marking of the jug
    ///
    /// From one mark of the jug to the next. Default: three digits.
    #[schema(example = 10.0)]
    pub jug_division: Option<SampleVolume>,
}

/// A sump that something is dosed into.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DosedSump {
    /// # In the sump
    ///
    /// Fluid in the sump and whatever circulates with it.
    #[schema(example = 160.0)]
    pub volume: Capacity,
    /// # Sump holds
    ///
    /// What the sump holds when it is full. Default: room enough.
    pub capacity: Option<Capacity>,
    /// # Strength
    ///
    /// Strength of the fluid. Default: not followed.
    pub concentration: Option<Concentration>,
}

/// A product as its label and its safety data sheet have it.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DosedProduct {
    /// # Name
    ///
    /// What it is called in the shop.
    #[schema(example = "biocide A", value_type = String, min_length = 1, max_length = 128)]
    pub name: Name,
    /// # Kind
    ///
    /// What it is for.
    pub kind: ProductKind,
    /// # Density
    ///
    /// Density of the product; without it the dose is given by mass alone.
    #[schema(example = 1.05)]
    pub density: Option<Density>,
    /// # Active share
    ///
    /// Share of the product by mass that the contents count, more than 0. Default: they count the
    /// product as it is, as most labels do.
    pub active_share: Option<Share>,
    /// # Half-life
    ///
    /// Days in which half of it is used up in the fluid, beside what is carried off. Default: none
    /// is used up.
    pub half_life_days: Option<Days>,
    /// # Label
    ///
    /// What its label allows.
    pub label: Option<DoseLabel>,
}

/// What a product is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum ProductKind {
    /// Against bacteria.
    Biocide,
    /// Against fungi and yeasts.
    Fungicide,
    /// Against foam.
    Defoamer,
    /// Raises or lowers the pH.
    PhAdjuster,
    /// Cleans the sump before it is drained.
    SystemCleaner,
    /// Against rust.
    CorrosionInhibitor,
    /// Brings hardness to soft water.
    HardeningSalt,
    /// Something else.
    Other,
}

/// What a label allows, in milligrams of the product as it is for each litre of fluid.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DoseLabel {
    /// # Least dose
    ///
    /// The least that one dose may be. Default: no least.
    pub least: Option<Content>,
    /// # Largest dose
    ///
    /// The most that one dose may be. Default: no most.
    #[schema(example = 2000.0)]
    pub most: Option<Content>,
    /// # Days between doses
    ///
    /// Days that must lie between two doses. Default: none.
    pub days_between: Option<Days>,
}

/// The last dose of the same product.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LastDose {
    /// # Content then
    ///
    /// Content of the fluid right after that dose, counted as the content wanted is.
    #[schema(example = 1500.0)]
    pub content: Content,
    /// # Days ago
    ///
    /// How long ago it was dosed.
    #[schema(example = 9.0)]
    pub days_ago: Days,
}
