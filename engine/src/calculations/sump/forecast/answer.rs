//! The answer: the sump day by day, what leaves its band, and the next visit.

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
    /// # Day by day
    ///
    /// The sump day by day, as it is found: before what is done on that day.
    pub series: Vec<SumpOnDay>,
    /// # Leaves its band
    ///
    /// Everything that leaves its band, in order of time.
    pub crossings: Vec<BandCrossing>,
    /// # Feedings
    ///
    /// Each feeding at a set time; what is fed all the time is in the totals.
    pub feedings: Vec<SumpFeeding>,
    /// # To prepare this week
    ///
    /// Make-up for the coming week.
    pub week: FeedToPrepare,
    /// # To prepare in all
    ///
    /// Make-up for all the days looked ahead.
    pub total: FeedToPrepare,
    /// # Next visit
    ///
    /// The next day on which somebody must go there; absent when nobody must within the
    /// days looked ahead.
    pub next_visit: Option<NextVisit>,
    /// # Runs dry on day
    ///
    /// Day on which the sump runs dry or its water is gone, which ends the forecast;
    /// absent when it does not.
    pub runs_dry_day: Option<Days>,
    /// # At the end
    ///
    /// The sump at the end, after what is done on the last day.
    pub after: SumpOnDay,
}

/// A sump on a day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpOnDay {
    /// # Day
    ///
    /// The day, counted from today as day 0.
    pub day: Days,
    /// # In the sump
    ///
    /// Fluid in the sump.
    pub volume: Volume,
    /// # Strength
    ///
    /// Concentration of the fluid.
    pub concentration: Concentration,
    /// # Carries
    ///
    /// What else the fluid carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// A property, the strength or the level leaves its band.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BandCrossing {
    /// # Property
    ///
    /// `concentration`, `volume`, `tramp_oil`, or the name of another property.
    #[schema(example = "concentration")]
    pub what: String,
    /// # Side
    ///
    /// Side of the band on which it leaves.
    pub side: BandSide,
    /// # Leaves on day
    ///
    /// Day on which it leaves; 0 where it is out from the beginning.
    pub day: Days,
    /// # Back on day
    ///
    /// Day on which it is back; absent when it stays out.
    pub back_day: Option<Days>,
}

/// A feeding.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpFeeding {
    /// # Day
    ///
    /// Day of the feeding, counted from today as day 0.
    pub day: Days,
    /// # In all
    ///
    /// Volume fed.
    pub volume: Volume,
    /// # Concentrate
    ///
    /// Concentrate in it.
    pub concentrate: Volume,
    /// # Water
    ///
    /// Water in it.
    pub water: Volume,
}

/// Make-up to have ready.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FeedToPrepare {
    /// # Days
    ///
    /// Number of days from now.
    pub days: Days,
    /// # Feedings
    ///
    /// Number of feedings at set times in these days.
    pub feedings: Count,
    /// # In all
    ///
    /// Volume fed.
    pub volume: Volume,
    /// # Concentrate
    ///
    /// Concentrate in it.
    pub concentrate: Volume,
    /// # Water
    ///
    /// Water in it.
    pub water: Volume,
}

/// A day on which somebody must go there.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct NextVisit {
    /// # On day
    ///
    /// Day of the visit, counted from today as day 0.
    pub day: Days,
    /// # Reason
    ///
    /// Reason for the visit.
    pub reason: VisitReason,
    /// # Property
    ///
    /// The property that leaves its band, where that is the reason.
    #[schema(example = "concentration")]
    pub what: Option<String>,
}

/// Reason for a visit to a sump.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum VisitReason {
    /// The sump is to be fed.
    Feeding,
    /// A planned change is due.
    Change,
    /// Something leaves its band.
    LeavesBand,
    /// The sump runs dry.
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
