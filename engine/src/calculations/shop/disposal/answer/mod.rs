//! The answer of a projection.

mod bands;

pub use bands::{CategoryShares, CostBand, MassBand, MonthBands, ProjectionBands};

use super::category::GeneratorCategory;
use super::codes::CodesToConfirm;
use super::episodic::EpisodicEvent;
use super::stream::WasteStream;
use crate::quantity::{Concentration, Count, Days, Mass, Money, Share, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use std::borrow::Cow;
use utoipa::ToSchema;

/// Waste of the shop, month by month.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct DisposalAnswer {
    /// The months, in order.
    #[schema(title = "By month")]
    pub months: Vec<MonthOfWaste>,
    /// Each stream over all months: the sum of its months, and of its rows in the
    /// balance.
    #[schema(title = "By stream")]
    pub streams: Vec<StreamOverall>,
    /// Concentrate and water bought over all months.
    #[schema(title = "Bought")]
    pub bought: FreshBought,
    /// Days on which the kept waste has to be taken away, as few as possible; empty
    /// where no limit is given or none is reached.
    #[schema(title = "Pickups")]
    pub pickups: Vec<WastePickup>,
    /// Limits that the pickups keep; absent without storage limits.
    #[schema(title = "Storage limits kept")]
    pub storage: Option<StorageHeld>,
    /// Months whose counted mass puts the shop into another US generator category than
    /// the month before.
    #[schema(title = "Changes of category")]
    pub category_changes: Vec<CategoryChange>,
    /// Months that a planned episodic event (40 CFR part 262 subpart L) could keep in
    /// the category the shop usually has; empty without published rules. The pickups
    /// above do not use it.
    #[schema(title = "Episodic events")]
    pub episodic_events: Vec<EpisodicEvent>,
    /// Yields of the treatment on site; absent without one.
    #[schema(title = "Treated on site")]
    pub treated: Option<TreatedOnSite>,
    /// Codes of the European list of waste that may fit, never a determination; empty
    /// where the storage keeps US rules.
    #[schema(title = "Waste codes to confirm")]
    pub codes: Vec<CodesToConfirm>,
    /// Cost over all months; absent where no price is given.
    #[schema(title = "Cost")]
    pub cost: Option<DisposalCost>,
    /// Currency, as the request named it.
    #[schema(title = "Currency")]
    pub currency: Option<String>,
    /// How far the months may come out otherwise, given the spreads; absent without any.
    #[schema(title = "Bands")]
    pub bands: Option<ProjectionBands>,
}

/// Waste of one month.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MonthOfWaste {
    /// The month, counted from 1.
    #[schema(title = "Month")]
    pub month: Count,
    /// Each stream that the shop has.
    #[schema(title = "By stream")]
    pub streams: Vec<StreamInMonth>,
    /// Mass of all streams together.
    #[schema(title = "All waste")]
    pub mass: Mass,
    /// Mass of the streams that count.
    #[schema(title = "Counted waste")]
    pub counted: Mass,
    /// US generator category of the counted mass, if all of it is hazardous.
    #[schema(title = "Generator category")]
    pub category: GeneratorCategory,
    /// Day, from the start, on which the month's mass enters that category; absent for
    /// the lowest one.
    #[schema(title = "Entered on day")]
    pub entered_on_day: Option<Days>,
    /// Number of sumps that are changed.
    #[schema(title = "Sumps changed")]
    pub changes: Count,
    /// Number of sumps changed by forecast that pass a limit all the same by its end.
    #[schema(title = "Sumps past a limit")]
    pub past_limits: Option<Count>,
    /// Concentrate bought.
    #[schema(title = "Concentrate bought")]
    pub concentrate: Volume,
    /// Water bought.
    #[schema(title = "Water bought")]
    pub water: Volume,
    /// Number of pickups; absent without storage limits.
    #[schema(title = "Pickups")]
    pub pickups: Option<Count>,
    /// Mass on site at the end of the month; absent without storage limits.
    #[schema(title = "On site at the end")]
    pub on_site: Option<Mass>,
    /// Cost of the month: streams, pickups, concentrate and water.
    #[schema(title = "Cost")]
    pub cost: Option<Money>,
}

/// One stream in one month.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StreamInMonth {
    /// The stream.
    #[schema(title = "Stream")]
    pub stream: WasteStream,
    /// Volume of the fluid in it; solids take up no room.
    #[schema(title = "Fluid")]
    pub volume: Volume,
    /// Mass, solids included.
    #[schema(title = "Mass")]
    pub mass: Mass,
    /// Room it takes up in its containers, solids included; absent where no bulk
    /// density is given.
    #[schema(title = "Room in containers")]
    pub bulk_volume: Option<Volume>,
    /// Number of containers that are begun; absent where no container is given.
    #[schema(title = "Containers begun")]
    pub containers: Option<Count>,
}

/// One stream over all months.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StreamOverall {
    /// The stream.
    #[schema(title = "Stream")]
    pub stream: WasteStream,
    /// Whether it is kept as waste and counted.
    #[schema(title = "Counts as waste")]
    pub counts: bool,
    /// Volume of the fluid in it; solids take up no room.
    #[schema(title = "Fluid")]
    pub volume: Volume,
    /// Mass, solids included.
    #[schema(title = "Mass")]
    pub mass: Mass,
    /// Share of the mass of all streams.
    #[schema(title = "Share of all waste")]
    pub share: Share,
    /// Number of containers that are begun; absent where no container is given.
    #[schema(title = "Containers begun")]
    pub containers: Option<Count>,
    /// Cost of disposal, without the pickups; absent where no price is given.
    #[schema(title = "Cost of disposal")]
    pub cost: Option<Money>,
}

/// Concentrate and water bought over all months.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FreshBought {
    /// Concentrate.
    #[schema(title = "Concentrate")]
    pub concentrate: Volume,
    /// Water.
    #[schema(title = "Water")]
    pub water: Volume,
}

/// A day on which all kept waste is taken away.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WastePickup {
    /// Day, from the start; the pickup comes at its end.
    #[schema(title = "By the end of day")]
    pub day: Days,
    /// Month it falls in, counted from 1.
    #[schema(title = "Month")]
    pub month: Count,
    /// Mass taken away.
    #[schema(title = "Mass taken away")]
    pub mass: Mass,
    /// Number of containers that go with it, full or not; absent where none are given.
    #[schema(title = "Containers")]
    pub containers: Option<Count>,
}

/// The limits that the pickups keep.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StorageHeld {
    /// For each generator category whose rules some month keeps, the lowest first; one
    /// without a category where only the shop's own limits hold.
    #[schema(title = "Limits")]
    pub limits: Vec<StorageLimit>,
    /// Number of months of a higher category than the rules asked for. Their waste keeps
    /// the rules of its own category as well.
    #[schema(title = "Months above the rules")]
    pub months_above_rules: Count,
    /// Days on which more waste arises than may be on site, so that no pickup keeps the
    /// limit; the plan has one at the end of each of them.
    #[schema(title = "Days above the limit")]
    pub days_above: Vec<Days>,
}

/// Limits on the waste of some months while it is on site.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StorageLimit {
    /// Category whose rules these are; absent without published rules.
    #[schema(title = "Generator category")]
    pub category: Option<GeneratorCategory>,
    /// Greatest mass that may be on site (for the very small category, less than that);
    /// absent where only days count.
    #[schema(title = "Most on site")]
    pub mass: Option<Mass>,
    /// Longest time that any of it may stay, counting the day on which it arises; absent
    /// where only mass counts.
    #[schema(title = "Longest stay")]
    pub days: Option<Days>,
    /// Section with the rules; absent for limits of the shop's own.
    #[schema(title = "Rule", example = "40 CFR 262.16")]
    pub section: Option<Cow<'static, str>>,
    /// Number of months of the projection that keep them.
    #[schema(title = "Months that keep it")]
    pub months: Count,
}

/// A month in another generator category than the month before.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CategoryChange {
    /// The month, counted from 1.
    #[schema(title = "Month")]
    pub month: Count,
    /// Day, from the start: where the category rises, the day on which the month's mass
    /// enters it; where it falls, the beginning of the month.
    #[schema(title = "Day")]
    pub day: Days,
    /// Category of the month before.
    #[schema(title = "Category before")]
    pub from: GeneratorCategory,
    /// Category of this month.
    #[schema(title = "Category then")]
    pub to: GeneratorCategory,
}

/// Yields of the treatment on site, over all months.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TreatedOnSite {
    /// Spent fluid and wash water that went into it.
    #[schema(title = "Feed")]
    pub feed: Volume,
    /// Retentate that is left.
    #[schema(title = "Retentate")]
    pub retentate: Volume,
    /// Permeate: for the sewer only under a permit.
    #[schema(title = "Permeate")]
    pub permeate: Volume,
    /// Tramp oil in the retentate.
    #[schema(title = "Oil in the retentate")]
    pub retentate_oil: Concentration,
    /// Concentrate in the retentate.
    #[schema(title = "Concentrate in the retentate")]
    pub retentate_concentration: Concentration,
}

/// Cost over all months.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct DisposalCost {
    /// Disposal of the streams.
    #[schema(title = "Disposal")]
    pub streams: Money,
    /// Pickups.
    #[schema(title = "Pickups")]
    pub pickups: Money,
    /// Concentrate.
    #[schema(title = "Concentrate")]
    pub concentrate: Money,
    /// Water.
    #[schema(title = "Water")]
    pub water: Money,
    /// Total cost.
    #[schema(title = "Total")]
    pub total: Money,
}
