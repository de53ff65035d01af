//! The terms on which each stream leaves, its storage, and what is known of it.

use super::super::category::GeneratorRules;
use super::super::stream::WasteStream;
use crate::quantity::{
    Capacity, Count, Days, Density, DrawCount, Mass, Money, MoneyPerMass, MoneyPerVolume, Ratio,
    Share,
};
use crate::text::Name;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Terms on which a stream leaves.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct StreamTerms {
    /// # Stream
    ///
    /// The stream.
    pub stream: WasteStream,
    /// # Container
    ///
    /// Container it is kept and taken away in. Default: none, and none are counted.
    pub container: Option<WasteContainer>,
    /// # Counts as waste
    ///
    /// Whether it is kept as waste: it then counts towards the storage limits and
    /// the month's mass that decides the generator category. Default: all count but
    /// permeate, what is carried off on chips, and empty drums. Oil managed as used
    /// oil under 40 CFR part 279 is not counted: give `false`.
    pub counts: Option<bool>,
    /// # Bulk density
    ///
    /// Mass per volume as it lies in its containers, solids and the fluid between them
    /// together: chips and sludge fill a drum by volume long before they do by mass.
    /// Default: solids take up no room.
    #[schema(example = 1.6)]
    pub bulk_density: Option<Density>,
    /// # Price by volume
    ///
    /// Price of disposal by volume; negative where it earns.
    #[schema(example = 0.35)]
    pub price_per_volume: Option<MoneyPerVolume>,
    /// # Price by mass
    ///
    /// Price of disposal by mass; negative where it earns.
    #[schema(example = 0.6)]
    pub price_per_mass: Option<MoneyPerMass>,
    /// # Price by container
    ///
    /// Price of disposal of each container.
    #[schema(example = 45.0)]
    pub price_per_container: Option<Money>,
}

/// A drum, an IBC, a tanker. Give the volume it holds, the mass, or both.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WasteContainer {
    /// # Container
    ///
    /// The shop's name for it.
    pub name: Name,
    /// # Volume to the brim
    ///
    /// Volume it holds to the brim.
    #[schema(example = 1000.0)]
    pub volume: Option<Capacity>,
    /// # Filled to
    ///
    /// Share of that volume to which it is filled. Default: 100 %.
    #[schema(example = 90.0)]
    pub fill: Option<Share>,
    /// # Greatest mass
    ///
    /// Greatest mass that may be put into it. Default: no limit.
    pub mass: Option<Mass>,
}

/// Limits on the amount of waste on site and on how long it may stay. Where several limits
/// are given, the tightest holds.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WasteStorage {
    /// # Published rules
    ///
    /// Published rules of the US generator categories to keep: by month, or those of one
    /// category. Months of a higher category keep the rules of their own category too.
    #[schema(example = "by_month")]
    pub rules: Option<GeneratorRules>,
    /// # Facility is far away
    ///
    /// Whether the facility that takes the waste is 200 miles or more away, so that a
    /// small quantity generator may keep it for 270 days instead of 180. Default: false.
    pub facility_far_away: Option<bool>,
    /// # Most on site
    ///
    /// Greatest mass that may be on site.
    #[schema(example = 4000.0)]
    pub mass: Option<Mass>,
    /// # Longest stay
    ///
    /// Longest time that any of it may stay, counting the day on which it arises. Whole
    /// days.
    #[schema(example = 180.0)]
    pub days: Option<Days>,
    /// # Changes fall
    ///
    /// When in its month the waste of changes arises. Default: `over_the_month`.
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
    /// # Halogens in the fluid
    ///
    /// Whether the fluid contains halogens.
    pub halogens: Option<bool>,
    /// # Hazardous sludge
    ///
    /// Whether sludge and filter media contain hazardous substances.
    pub hazardous_substances: Option<bool>,
    /// # Metal cut
    ///
    /// The metal that is cut.
    pub metal: Option<MetalCut>,
    /// # Halogens in the oil
    ///
    /// Total halogens in the oil phase, parts per million by mass.
    #[schema(example = 300.0)]
    pub oil_halogens_ppm: Option<Ratio>,
    /// # Presumption rebutted
    ///
    /// Whether the presumption that oil with so many halogens is hazardous waste has
    /// been rebutted (40 CFR 279.10(b)(1)(ii)), with the proof kept on record.
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
    /// # Start of the draws
    ///
    /// Number that the Monte Carlo draws begin with, their seed: the same one gives the same
    /// answer. Default: 1.
    #[schema(example = 7)]
    pub seed: Option<Count>,
    /// # Draws
    ///
    /// Number of Monte Carlo draws, 100 to 1,000,000. Default: 10,000, or fewer where the
    /// projection is long.
    #[schema(example = 1000)]
    pub draws: Option<DrawCount>,
}
