//! The terms on which each stream leaves, its storage, and what is known of it.

use super::super::category::GeneratorRules;
use super::super::stream::WasteStream;
use crate::quantity::{
    Capacity, Count, Days, Density, Mass, Money, MoneyPerMass, MoneyPerVolume, Ratio, Share,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Terms on which a stream leaves.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct StreamTerms {
    /// The stream.
    #[schema(title = "Stream")]
    pub stream: WasteStream,
    /// Container it is kept and taken away in. Default: none, and none are counted.
    #[schema(title = "Container")]
    pub container: Option<WasteContainer>,
    /// Whether it is kept as waste: it then counts towards the storage limits and
    /// the month's mass that decides the generator category. Default: all count but
    /// permeate, what is carried off on chips, and empty drums. Oil managed as used
    /// oil under 40 CFR part 279 is not counted: give `false`.
    #[schema(title = "Counts as waste")]
    pub counts: Option<bool>,
    /// Mass per volume as it lies in its containers, solids and the fluid between them
    /// together: chips and sludge fill a drum by volume long before they do by mass.
    /// Default: solids take up no room.
    #[schema(title = "Bulk density", example = 1.6)]
    pub bulk_density: Option<Density>,
    /// Price of disposal by volume; negative where it earns.
    #[schema(title = "Price by volume", example = 0.35)]
    pub price_per_volume: Option<MoneyPerVolume>,
    /// Price of disposal by mass; negative where it earns.
    #[schema(title = "Price by mass", example = 0.6)]
    pub price_per_mass: Option<MoneyPerMass>,
    /// Price of disposal of each container.
    #[schema(title = "Price by container", example = 45.0)]
    pub price_per_container: Option<Money>,
}

/// A drum, an IBC, a tanker. Give the volume it holds, the mass, or both.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WasteContainer {
    /// The shop's name for it.
    #[serde(deserialize_with = "crate::text::names::name")]
    #[schema(title = "Container", example = "IBC", min_length = 1, max_length = 128)]
    pub name: String,
    /// Volume it holds to the brim.
    #[schema(title = "Volume to the brim", example = 1000.0)]
    pub volume: Option<Capacity>,
    /// Share of that volume to which it is filled. Default: 100 %.
    #[schema(title = "Filled to", example = 90.0)]
    pub fill: Option<Share>,
    /// Greatest mass that may be put into it. Default: no limit.
    #[schema(title = "Greatest mass")]
    pub mass: Option<Mass>,
}

/// Limits on the amount of waste on site and on how long it may stay. Where several limits
/// are given, the tightest holds.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WasteStorage {
    /// Published rules of the US generator categories to keep: by month, or those of one
    /// category. Months of a higher category keep the rules of their own category too.
    #[schema(title = "Published rules", example = "by_month")]
    pub rules: Option<GeneratorRules>,
    /// Whether the facility that takes the waste is 200 miles or more away, so that a
    /// small quantity generator may keep it for 270 days instead of 180. Default: false.
    #[schema(title = "Facility is far away")]
    pub facility_far_away: Option<bool>,
    /// Greatest mass that may be on site.
    #[schema(title = "Most on site", example = 4000.0)]
    pub mass: Option<Mass>,
    /// Longest time that any of it may stay, counting the day on which it arises. Whole
    /// days.
    #[schema(title = "Longest stay", example = 180.0)]
    pub days: Option<Days>,
    /// When in its month the waste of changes arises. Default: `over_the_month`.
    #[schema(title = "Changes fall")]
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

/// Facts about the waste that narrow down its codes.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WasteFacts {
    /// Whether the fluid contains halogens.
    #[schema(title = "Halogens in the fluid")]
    pub halogens: Option<bool>,
    /// Whether sludge and filter media contain hazardous substances.
    #[schema(title = "Hazardous sludge")]
    pub hazardous_substances: Option<bool>,
    /// The metal that is cut.
    #[schema(title = "Metal cut")]
    pub metal: Option<MetalCut>,
    /// Total halogens in the oil phase, parts per million by mass.
    #[schema(title = "Halogens in the oil", example = 300.0)]
    pub oil_halogens_ppm: Option<Ratio>,
    /// Whether the presumption that oil with so many halogens is hazardous waste has
    /// been rebutted (40 CFR 279.10(b)(1)(ii)), with the proof kept on record.
    #[schema(title = "Presumption rebutted")]
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

/// Monte Carlo draws of the spreads.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SpreadSampling {
    /// Seed of the Monte Carlo draws: the same seed gives the same answer. Default: 1.
    #[schema(title = "Seed", example = 7)]
    pub seed: Option<Count>,
    /// Number of Monte Carlo draws, 100 to 1,000,000. Default: 10,000, or fewer where the
    /// projection is long.
    #[schema(title = "Draws", example = 1000)]
    pub draws: Option<Count>,
}
