//! The answer: the make-up, where each property ends, and what keeps it in its limits.

use crate::dynamics::BandSide;
use crate::fluid::properties::ByProperty;
use crate::quantity::{Concentration, Content, DailyRate, Days, Ratio, Share, Throughput};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Where each property ends.
pub type PropertySettlings = ByProperty<OilSettling, ContentSettling>;

/// The make-up that holds a sump where it is.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MakeUpAnswer {
    /// # Strength of make-up
    ///
    /// Strength of the make-up; absent where the sump loses no fluid.
    pub concentration: Option<Concentration>,
    /// # Parts of water to one
    ///
    /// Parts of water to one part of concentrate; absent where it is plain water.
    #[schema(example = 30.25)]
    pub parts_of_water: Option<Ratio>,
    /// # Fill up per day
    ///
    /// Make-up per day; with a working calendar on each day of work.
    pub daily: DailyMakeUp,
    /// # Cycles of concentration
    ///
    /// Cycles of concentration: content of the sump in the end, divided by that of the
    /// make-up. Absent where no fluid, or next to none, is carried off or drained off: the
    /// content then rises without an end.
    pub cycles: Option<Ratio>,
    /// # Salts and oil
    ///
    /// Content of each property now and in the end, and the day on which it passes its
    /// limit.
    pub properties: PropertySettlings,
    /// # Remedies
    ///
    /// Remedies that keep every property within its limits; absent when none comes to
    /// pass its upper limit. A finding names the limits that conflict where a remedy does
    /// not keep all of them.
    pub remedies: Option<Remedies>,
}

/// Make-up per day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct DailyMakeUp {
    /// # In all
    ///
    /// All of it.
    pub volume: DailyRate,
    /// # Concentrate
    ///
    /// Concentrate in it.
    pub concentrate: DailyRate,
    /// # Water
    ///
    /// Water in it.
    pub water: DailyRate,
}

/// Remedies that keep every property within all its limits, lower and upper: deionised water or
/// draining off; and a skimmer for oil that leaks in, which is then not theirs.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = MakeUpRemedies)]
pub struct Remedies {
    /// # Deionised share
    ///
    /// Share of the water that would have to be deionised; absent where no share keeps
    /// every limit.
    pub deionised_share: Option<Share>,
    /// # Drain off per day
    ///
    /// Fluid that would have to be drained off per day, in all; absent where no amount
    /// keeps every limit, for instance because the make-up itself carries too much.
    pub discharge: Option<DailyRate>,
    /// # Fill up per day then
    ///
    /// Make-up per day when that much is drained off.
    pub daily_with_discharge: Option<DailyMakeUp>,
    /// # Skim per day
    ///
    /// Fluid that a skimmer would have to free of its oil per day, in all; absent where no oil
    /// leaks in, or it keeps its limit.
    pub skimmer: Option<DailyRate>,
    /// # Skim per hour
    ///
    /// The same per hour, by a skimmer that runs day and night.
    pub skimmer_per_hour: Option<Throughput>,
}

/// Tramp oil that leaks in or comes with the make-up: its share now and in the end.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct OilSettling {
    /// # Now
    ///
    /// Tramp oil in the sump now.
    pub starts_at: Concentration,
    /// # In the end
    ///
    /// Tramp oil in the end; absent where it rises without an end.
    pub settles_at: Option<Concentration>,
    /// # Passes its limit on day
    ///
    /// Day on which it passes its limit, 0 where it is past it already; absent when it
    /// does not, or not within a million days.
    pub passes_limit_day: Option<Days>,
    /// # Passes on side
    ///
    /// Side of its limits on which it passes.
    pub passes: Option<BandSide>,
}

/// Something dissolved or suspended: its content now and in the end.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ContentSettling {
    /// # Now
    ///
    /// Content of the sump now.
    pub starts_at: Content,
    /// # In the end
    ///
    /// Content in the end; absent where it rises without an end, because no fluid leaves,
    /// or would be more than a litre can hold.
    pub settles_at: Option<Content>,
    /// # Passes its limit on day
    ///
    /// Day on which it passes its limit, 0 where it is past it already; absent when it
    /// does not, or not within a million days.
    pub passes_limit_day: Option<Days>,
    /// # Passes on side
    ///
    /// Side of its limits on which it passes.
    pub passes: Option<BandSide>,
}
