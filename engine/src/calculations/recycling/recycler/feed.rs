//! What comes to the recycler: one batch, or deliveries by day.

use crate::fluid::properties::Properties;
use crate::fluid::reading::Reading;
use crate::quantity::{
    BacterialCount, Capacity, Concentration, Count, Days, Density, Hours, Share, Volume,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The dirty fluid that is to be recycled.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Feed {
    /// One batch, poured into the dirty tank at the start. Give this or `arrivals`.
    pub volume: Option<Capacity>,
    /// Deliveries to the dirty tank, by day.
    #[schema(min_items = 1, max_items = 20000)]
    pub arrivals: Option<Vec<Arrival>>,
    /// How strong the dirty fluid is. Give this or a reading; neither is needed
    /// where every delivery says it for itself.
    #[schema(example = 5.2)]
    pub concentration: Option<Concentration>,
    /// What an instrument says about the dirty fluid. The corrected batch is
    /// then checked on the same instrument.
    pub reading: Option<Reading>,
    /// What the dirty fluid carries: tramp oil in % by volume; solids, chloride
    /// and whatever else the shop follows in mg/L.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
    /// How much of the tramp oil is emulsified and does not separate; none of
    /// it when left out. A sample left to stand overnight tells: what does not
    /// rise is emulsified.
    #[schema(example = 20.0)]
    pub emulsified_share: Option<Share>,
    /// What a dip slide counts in the dirty fluid.
    #[schema(example = 50000.0)]
    pub dip_slide: Option<BacterialCount>,
    /// Its density; that of water at 20 °C when left out.
    pub density: Option<Density>,
    /// The density of the tramp oil; that of the fluid when left out.
    #[schema(example = 0.87)]
    pub oil_density: Option<Density>,
    /// How uncertain the volumes of the deliveries are; as given when left out.
    pub spread: Option<Spread>,
}

/// A delivery of dirty fluid.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Arrival {
    /// When it comes, in days from the start of the plan: 0.25 is six in the
    /// morning of the first day.
    #[schema(example = 0.25)]
    pub day: Days,
    /// How much it is.
    #[schema(example = 420.0)]
    pub volume: Volume,
    /// How long it takes to run in; at once when left out.
    pub hours: Option<Hours>,
    /// What product it is. Deliveries of different products are refused.
    #[schema(example = "product B")]
    pub product: Option<String>,
    /// What a dip slide counts in it. It is judged by itself; what is left after the
    /// treatment is told from the count of the feed.
    pub dip_slide: Option<BacterialCount>,
    /// How strong it is; as the feed when left out.
    pub concentration: Option<Concentration>,
    /// What it carries; as the feed when left out.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// How uncertain deliveries are: each is its volume times a factor of its own
/// with a mean of 1.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Spread {
    /// The standard deviation of a delivery, as a share of its volume.
    #[schema(example = 20.0)]
    pub share: Share,
    /// How the factor is distributed; lognormal when left out.
    pub distribution: Option<Distribution>,
    /// Seed of the Monte Carlo draws: the same seed gives the same answer. Default: 1.
    #[schema(example = 7)]
    pub seed: Option<Count>,
    /// Number of Monte Carlo draws, 100 to 1,000,000. Default: 10,000, or fewer where the
    /// plan is long.
    pub draws: Option<Count>,
}

/// How the factor of an uncertain delivery is distributed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Distribution {
    /// The logarithm is normal: never below nothing, and sometimes far above
    /// the mean.
    Lognormal,
    /// As likely one standard deviation above the mean as below it, and
    /// nothing between.
    TwoPoint,
}
