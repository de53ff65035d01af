//! On which terms each stream leaves, how it is stored, and what is known of it.

use super::super::category::GeneratorRules;
use super::super::stream::WasteStream;
use crate::quantity::{
    Capacity, Count, Days, Density, Mass, Money, MoneyPerMass, MoneyPerVolume, Ratio, Share,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// On which terms a stream leaves.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct StreamTerms {
    /// The stream.
    pub stream: WasteStream,
    /// What it is kept and taken away in; no containers are counted when left out.
    pub container: Option<WasteContainer>,
    /// Whether it is kept as waste: it then counts towards the storage limits and
    /// the month's mass that decides the generator category. When left out, all
    /// count but permeate, what is carried off on chips, and empty drums. Oil
    /// managed as used oil under 40 CFR part 279 is not counted: say `false`.
    pub counts: Option<bool>,
    /// Mass per volume as it lies in its containers, solids and the fluid between them
    /// together: chips and sludge fill a drum by volume long before they do by mass. When
    /// left out, solids take up no room.
    #[schema(example = 1.6)]
    pub bulk_density: Option<Density>,
    /// What a unit of volume costs to be rid of; negative where it earns.
    #[schema(example = 0.35)]
    pub price_per_volume: Option<MoneyPerVolume>,
    /// What a unit of mass costs to be rid of; negative where it earns.
    #[schema(example = 0.6)]
    pub price_per_mass: Option<MoneyPerMass>,
    /// What each container costs.
    #[schema(example = 45.0)]
    pub price_per_container: Option<Money>,
}

/// A drum, an IBC, a tanker: what it may hold. Give its volume, its mass, or both.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WasteContainer {
    /// What the shop calls it.
    #[serde(deserialize_with = "crate::text::names::name")]
    #[schema(example = "IBC", min_length = 1, max_length = 128)]
    pub name: String,
    /// What it holds to the brim.
    #[schema(example = 1000.0)]
    pub volume: Option<Capacity>,
    /// How full it is filled; to the brim when left out.
    #[schema(example = 90.0)]
    pub fill: Option<Share>,
    /// The most that may be put into it by mass; not limited when left out.
    pub mass: Option<Mass>,
}

/// How much waste may be on site and for how long. Where several limits are given, the
/// tightest holds.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WasteStorage {
    /// The published rules of the US generator categories, to be kept as well: by
    /// month, or those of one category. Months of a higher category than that keep the
    /// rules of their own besides.
    #[schema(example = "by_month")]
    pub rules: Option<GeneratorRules>,
    /// Whether the facility that takes the waste is 200 miles or more away, so that a
    /// small quantity generator may keep it for 270 days and not 180; it is not when
    /// left out.
    pub facility_far_away: Option<bool>,
    /// The most that may be on site.
    #[schema(example = 4000.0)]
    pub mass: Option<Mass>,
    /// The longest that any of it may stay, the day it arises counted. Whole days.
    #[schema(example = 180.0)]
    pub days: Option<Days>,
    /// When in its month the waste of changes arises; spread over all days when
    /// left out.
    pub changes_fall: Option<ChangesFall>,
}

/// When in a month the waste of its changes arises.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum ChangesFall {
    /// Spread over all days of the month, a few machines at a time.
    OverTheMonth,
    /// All of it on the month's last day.
    OnTheLastDay,
}

/// What is known of the waste, where it narrows down its codes.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WasteFacts {
    /// Whether the fluid contains halogens.
    pub halogens: Option<bool>,
    /// Whether sludge and filter media contain hazardous substances.
    pub hazardous_substances: Option<bool>,
    /// The metal that is cut.
    pub metal: Option<MetalCut>,
    /// Total halogens in the oil phase, parts per million by mass.
    #[schema(example = 300.0)]
    pub oil_halogens_ppm: Option<Ratio>,
    /// Whether the presumption that oil with so many halogens is hazardous waste has
    /// been rebutted (40 CFR 279.10(b)(1)(ii)), the proof being kept with the records.
    pub presumption_rebutted: Option<bool>,
}

/// The metal that is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum MetalCut {
    /// Steel and iron.
    Ferrous,
    /// Aluminium, brass and the like.
    NonFerrous,
}

/// How the spreads of the inputs are carried to the answer.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SpreadSampling {
    /// Where the random numbers begin: the same seed gives the same answer.
    #[schema(example = 7)]
    pub seed: Count,
    /// How often the projection is drawn anew, 10 to 5000; 1000 when left out.
    #[schema(example = 1000)]
    pub draws: Option<Count>,
}
