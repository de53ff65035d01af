//! What comes to the recycler: one batch, or deliveries by day.

use super::spread::DeliverySpread;
use crate::fluid::properties::Properties;
use crate::fluid::reading::Reading;
use crate::quantity::{
    BacterialCount, Capacity, Concentration, Days, Density, Hours, Share, Volume,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The dirty fluid that is to be recycled.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RecyclerFeed {
    /// # One batch
    ///
    /// Volume of one batch, poured into the dirty tank at the start. Give this or `arrivals`.
    pub volume: Option<Capacity>,
    /// # Deliveries
    ///
    /// Deliveries to the dirty tank, by day.
    pub arrivals: Option<Vec<DirtyDelivery>>,
    /// # Concentration
    ///
    /// Strength of the dirty fluid. Give this or a reading; neither is needed where every
    /// delivery has its own.
    #[schema(example = 5.2)]
    pub concentration: Option<Concentration>,
    /// # Reading
    ///
    /// Reading of an instrument in the dirty fluid. The corrected batch is then checked on
    /// the same instrument.
    pub reading: Option<Reading>,
    /// # In the dirty fluid
    ///
    /// Content of the dirty fluid: tramp oil in % by volume; solids, chloride and whatever
    /// else the shop follows in mg/L.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
    /// # Emulsified oil
    ///
    /// Share of the tramp oil that is emulsified and does not separate. Let a sample stand
    /// overnight: the oil that does not rise is emulsified. Default: 0.
    #[schema(example = 20.0)]
    pub emulsified_share: Option<Share>,
    /// # Dip slide
    ///
    /// Dip-slide count of bacteria in the dirty fluid.
    #[schema(example = 50000.0)]
    pub dip_slide: Option<BacterialCount>,
    /// # Density
    ///
    /// Density of the dirty fluid. Default: the density of water at 20 °C.
    pub density: Option<Density>,
    /// # Density of tramp oil
    ///
    /// Density of the tramp oil. Default: the density of the fluid.
    #[schema(example = 0.87)]
    pub oil_density: Option<Density>,
    /// # Spread of deliveries
    ///
    /// Uncertainty of the volumes of the deliveries. Default: none.
    pub spread: Option<DeliverySpread>,
}

/// A delivery of dirty fluid.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DirtyDelivery {
    /// # Day
    ///
    /// Time of the delivery in days from the start of the plan: 0.25 is six in the morning of
    /// the first day.
    #[schema(example = 0.25)]
    pub day: Days,
    /// # Volume
    ///
    /// Volume of the delivery.
    #[schema(example = 420.0)]
    pub volume: Volume,
    /// # Runs in over
    ///
    /// Time that it takes to run in. Default: 0.
    pub hours: Option<Hours>,
    /// # Product
    ///
    /// Name of the product. Deliveries of different products are refused.
    #[schema(example = "product B")]
    pub product: Option<String>,
    /// # Dip slide
    ///
    /// Dip-slide count of bacteria in this delivery. It is judged by itself; the count after
    /// the treatment is worked out from the count of the feed.
    pub dip_slide: Option<BacterialCount>,
    /// # Concentration
    ///
    /// Strength of this delivery. Default: that of the feed.
    pub concentration: Option<Concentration>,
    /// # In this delivery
    ///
    /// Content of this delivery. Default: that of the feed.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}
