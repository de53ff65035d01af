//! What a forecast answers with.

use crate::dynamics::BandSide;
use crate::fluid::properties::Properties;
use crate::quantity::{Concentration, Count, Days, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A sump over the coming days.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ForecastAnswer {
    /// The sump day by day, as it is found: before what is done on that day.
    pub series: Vec<SumpOnDay>,
    /// What leaves its band, in the order in which it does.
    pub crossings: Vec<BandCrossing>,
    /// Each feeding at a set time; what is fed all the time is in the totals.
    pub feedings: Vec<SumpFeeding>,
    /// What to prepare for the coming week.
    pub week: FeedToPrepare,
    /// What all the days looked ahead take.
    pub total: FeedToPrepare,
    /// The next day on which somebody must go there; absent when nobody must
    /// within the days looked ahead.
    pub next_visit: Option<NextVisit>,
    /// When the sump runs dry or its water is gone, which ends the forecast;
    /// absent when it does not.
    pub runs_dry_day: Option<Days>,
    /// The sump at the end, after what is done on the last day.
    pub after: SumpOnDay,
}

/// A sump on a day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpOnDay {
    /// The day, counted from now.
    pub day: Days,
    /// What is in the sump.
    pub volume: Volume,
    /// How strong it is.
    pub concentration: Concentration,
    /// What else it carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// Something leaves its band.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BandCrossing {
    /// What: `concentration`, `volume`, `tramp_oil`, or the name of another
    /// property.
    #[schema(example = "concentration")]
    pub what: String,
    /// On which side.
    pub side: BandSide,
    /// When; 0 for what is out from the beginning.
    pub day: Days,
    /// When it is back; absent when it stays out.
    pub back_day: Option<Days>,
}

/// A feeding.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpFeeding {
    /// When.
    pub day: Days,
    /// How much is fed.
    pub volume: Volume,
    /// Concentrate in it.
    pub concentrate: Volume,
    /// Water in it.
    pub water: Volume,
}

/// What to have ready.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FeedToPrepare {
    /// For how many days from now.
    pub days: Days,
    /// How many feedings at set times that are.
    pub feedings: Count,
    /// How much is fed in all.
    pub volume: Volume,
    /// Concentrate in it.
    pub concentrate: Volume,
    /// Water in it.
    pub water: Volume,
}

/// A day on which somebody must go there.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct NextVisit {
    /// The day, counted from now.
    pub day: Days,
    /// Why somebody must go there.
    pub reason: VisitReason,
    /// What leaves its band, where that is the reason.
    #[schema(example = "concentration")]
    pub what: Option<String>,
}

/// Why somebody must go to a sump.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum VisitReason {
    /// It is to be fed.
    Feeding,
    /// Something else is to be done to it.
    Change,
    /// Something leaves its band.
    LeavesBand,
    /// It runs dry.
    RunsDry,
}

/// When and how a sump first leaves what it is to be kept within.
#[derive(Debug, Clone, PartialEq)]
pub struct Leaving {
    /// When; 0 where it is out from the beginning.
    pub day: Days,
    /// What: `concentration`, `volume`, `tramp_oil`, or another property's name.
    pub what: String,
    /// On which side; a sump that runs dry leaves its volume below.
    pub side: BandSide,
}
