//! What a projection answers with.

use super::bands::ProjectionBands;
use super::category::GeneratorCategory;
use super::codes::CodesToConfirm;
use super::episodic::EpisodicEvent;
use super::stream::WasteStream;
use crate::quantity::{Concentration, Count, Days, Mass, Money, Share, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use std::borrow::Cow;
use utoipa::ToSchema;

/// What leaves the shop, month by month.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct DisposalAnswer {
    /// A month after the other.
    pub months: Vec<MonthOfWaste>,
    /// Each stream over all months: the sum of its months, and of its rows in the
    /// balance.
    pub streams: Vec<StreamOverall>,
    /// What is bought over all months.
    pub bought: FreshBought,
    /// The days on which what is kept has to be taken away; as few as can be.
    /// None where no limit is given or none is reached.
    pub pickups: Vec<WastePickup>,
    /// The limits that the pickups keep; absent without any.
    pub storage: Option<StorageHeld>,
    /// Where the counted mass of a month puts the shop into another US generator
    /// category than the month before.
    pub category_changes: Vec<CategoryChange>,
    /// Months that a planned episodic event (40 CFR part 262 subpart L) could keep in
    /// the category the shop usually has; none without published rules. The pickups
    /// above do not use it.
    pub episodic_events: Vec<EpisodicEvent>,
    /// What the treatment makes of its feed; absent without one.
    pub treated: Option<TreatedOnSite>,
    /// Codes of the European list of waste that may fit, never a determination; none
    /// where the storage keeps US rules.
    pub codes: Vec<CodesToConfirm>,
    /// What it costs over all months; absent where no price is given.
    pub cost: Option<DisposalCost>,
    /// The currency, as the request named it.
    pub currency: Option<String>,
    /// How far the months may come out otherwise, given the spreads; absent
    /// without any.
    pub bands: Option<ProjectionBands>,
}

/// What leaves in a month.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MonthOfWaste {
    /// The month, counted from 1.
    pub month: Count,
    /// Each stream that the shop has.
    pub streams: Vec<StreamInMonth>,
    /// Mass of all streams together.
    pub mass: Mass,
    /// Mass of the streams that count.
    pub counted: Mass,
    /// The US generator category that this would be, were all of it hazardous.
    pub category: GeneratorCategory,
    /// The day, from the start, on which the month's mass enters that category;
    /// absent for the lowest one.
    pub entered_on_day: Option<Days>,
    /// Sumps that are changed.
    pub changes: Count,
    /// Sumps changed by forecast that are past a limit all the same at its end.
    pub past_limits: Option<Count>,
    /// Concentrate bought.
    pub concentrate: Volume,
    /// Water bought.
    pub water: Volume,
    /// Pickups in it; absent without storage limits.
    pub pickups: Option<Count>,
    /// What is on site at its end; absent without storage limits.
    pub on_site: Option<Mass>,
    /// What the month costs: streams, pickups, concentrate and water.
    pub cost: Option<Money>,
}

/// A stream in a month.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StreamInMonth {
    /// The stream.
    pub stream: WasteStream,
    /// How much fluid is in it; solids take up no room.
    pub volume: Volume,
    /// Its mass, solids included.
    pub mass: Mass,
    /// The room it takes up in its containers, solids included; absent where no bulk
    /// density is given.
    pub bulk_volume: Option<Volume>,
    /// Containers that are begun; absent where no container is given.
    pub containers: Option<Count>,
}

/// A stream over all months.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StreamOverall {
    /// The stream.
    pub stream: WasteStream,
    /// Whether it is kept as waste and counted.
    pub counts: bool,
    /// How much of it arises.
    pub volume: Volume,
    /// Its mass.
    pub mass: Mass,
    /// Its share of the mass of all streams.
    pub share: Share,
    /// Containers that are begun; absent where no container is given.
    pub containers: Option<Count>,
    /// What it costs to be rid of, without the pickups; absent where no price is given.
    pub cost: Option<Money>,
}

/// What is bought over all months.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FreshBought {
    /// Concentrate.
    pub concentrate: Volume,
    /// Water.
    pub water: Volume,
}

/// A day on which everything that is kept is taken away.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WastePickup {
    /// The day, from the start; the pickup comes at its end.
    pub day: Days,
    /// The month it falls in, counted from 1.
    pub month: Count,
    /// How much is taken away.
    pub mass: Mass,
    /// Containers that go with it, full or not; absent where none are given.
    pub containers: Option<Count>,
}

/// The limits that the pickups keep.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StorageHeld {
    /// For each generator category whose rules some month keeps, the lowest first; one
    /// without a category where only the shop's own limits hold.
    pub limits: Vec<StorageLimit>,
    /// Months whose mass is of a higher category than the rules asked for are made
    /// for. Their waste keeps the rules of its own category as well.
    pub months_above_rules: Count,
    /// Days on which more arises than may be on site, so that no pickup keeps the
    /// limit; the plan has one at the end of each of them.
    pub days_above: Vec<Days>,
}

/// What the waste of some months keeps while it is on site.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StorageLimit {
    /// The category whose rules it keeps; absent without published rules.
    pub category: Option<GeneratorCategory>,
    /// The most that may be on site, of the very small category less than that; absent
    /// where only days count.
    pub mass: Option<Mass>,
    /// The longest that any of it may stay, its own day counted; absent where only
    /// mass counts.
    pub days: Option<Days>,
    /// Where the rules stand; absent for limits of the shop's own.
    #[schema(example = "40 CFR 262.16")]
    pub section: Option<Cow<'static, str>>,
    /// How many months of the projection keep them.
    pub months: Count,
}

/// A month in another generator category than the one before.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CategoryChange {
    /// The month, counted from 1.
    pub month: Count,
    /// The day, from the start: where the category rises, the day on which the
    /// month's mass enters it; where it falls, the month's beginning.
    pub day: Days,
    /// The category of the month before.
    pub from: GeneratorCategory,
    /// The category of this month.
    pub to: GeneratorCategory,
}

/// What a treatment makes of its feed, over all months.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TreatedOnSite {
    /// Spent fluid and wash water that went into it.
    pub feed: Volume,
    /// What it leaves.
    pub retentate: Volume,
    /// What passes: for the sewer only under a permit.
    pub permeate: Volume,
    /// Tramp oil in the retentate.
    pub retentate_oil: Concentration,
    /// Concentrate in the retentate.
    pub retentate_concentration: Concentration,
}

/// What it costs over all months.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct DisposalCost {
    /// To be rid of the streams.
    pub streams: Money,
    /// For the pickups.
    pub pickups: Money,
    /// For concentrate.
    pub concentrate: Money,
    /// For water.
    pub water: Money,
    /// All of it.
    pub total: Money,
}
