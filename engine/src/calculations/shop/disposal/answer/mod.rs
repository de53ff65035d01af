//! The answer of a projection.

mod bands;
mod episodic_event;
mod storage;
mod waste_codes;

pub use bands::{CategoryShares, CostBand, MassBand, MonthBands, ProjectionBands};
pub use episodic_event::EpisodicEvent;
pub use storage::{StorageHeld, StorageLimit, WastePickup};
pub use waste_codes::{CodeCandidate, CodesToConfirm};

use super::category::GeneratorCategory;
use super::stream::WasteStream;
use crate::quantity::{Concentration, Count, Days, Mass, Money, Share, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Waste of the shop, month by month.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct DisposalAnswer {
    /// # By month
    ///
    /// The months, in order.
    pub months: Vec<MonthOfWaste>,
    /// # By stream
    ///
    /// Each stream over all months: the sum of its months, and of its rows in the
    /// balance.
    pub streams: Vec<StreamOverall>,
    /// # Bought
    ///
    /// Concentrate and water bought over all months.
    pub bought: FreshBought,
    /// # Pickups
    ///
    /// Days on which the kept waste has to be taken away, as few as possible; empty
    /// where no limit is given or none is reached.
    pub pickups: Vec<WastePickup>,
    /// # Storage limits kept
    ///
    /// Limits that the pickups keep; absent without storage limits.
    pub storage: Option<StorageHeld>,
    /// # Changes of category
    ///
    /// Months whose counted mass puts the shop into another US generator category than
    /// the month before.
    pub category_changes: Vec<CategoryChange>,
    /// # Episodic events
    ///
    /// Months that a planned episodic event (40 CFR part 262 subpart L) could keep in
    /// the category the shop usually has; empty without published rules. The pickups
    /// above do not use it.
    pub episodic_events: Vec<EpisodicEvent>,
    /// # Treated on site
    ///
    /// Yields of the treatment on site; absent without one.
    pub treated: Option<TreatedOnSite>,
    /// # Waste codes to confirm
    ///
    /// Codes of the European list of waste that may fit, never a determination; empty
    /// where the storage keeps US rules.
    pub codes: Vec<CodesToConfirm>,
    /// # Cost
    ///
    /// Cost over all months; absent where no price is given.
    pub cost: Option<DisposalCost>,
    /// # Currency
    ///
    /// Currency, as the request named it.
    pub currency: Option<String>,
    /// # Bands
    ///
    /// How far the months may come out otherwise, given the spreads; absent without any.
    pub bands: Option<ProjectionBands>,
}

/// Waste of one month.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MonthOfWaste {
    /// # Month
    ///
    /// The month, counted from 1.
    pub month: Count,
    /// # By stream
    ///
    /// Each stream that the shop has.
    pub streams: Vec<StreamInMonth>,
    /// # All waste
    ///
    /// Mass of all streams together.
    pub mass: Mass,
    /// # Counted waste
    ///
    /// Mass of the streams that count.
    pub counted: Mass,
    /// # Generator category
    ///
    /// US generator category of the counted mass, if all of it is hazardous.
    pub category: GeneratorCategory,
    /// # Entered on day
    ///
    /// Day, from the start, on which the month's mass enters that category; absent for
    /// the lowest one.
    pub entered_on_day: Option<Days>,
    /// # Sumps changed
    ///
    /// Number of sumps that are changed.
    pub changes: Count,
    /// # Sumps past a limit
    ///
    /// Number of sumps changed by forecast that pass a limit all the same by its end.
    pub past_limits: Option<Count>,
    /// # Concentrate bought
    ///
    /// Concentrate bought.
    pub concentrate: Volume,
    /// # Water bought
    ///
    /// Water bought.
    pub water: Volume,
    /// # Pickups
    ///
    /// Number of pickups; absent without storage limits.
    pub pickups: Option<Count>,
    /// # On site at the end
    ///
    /// Mass on site at the end of the month; absent without storage limits.
    pub on_site: Option<Mass>,
    /// # Cost
    ///
    /// Cost of the month: streams, pickups, concentrate and water.
    pub cost: Option<Money>,
}

/// One stream in one month.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StreamInMonth {
    /// # Stream
    ///
    /// The stream.
    pub stream: WasteStream,
    /// # Fluid
    ///
    /// Volume of the fluid in it; solids take up no room.
    pub volume: Volume,
    /// # Mass
    ///
    /// Mass, solids included.
    pub mass: Mass,
    /// # Room in containers
    ///
    /// Room it takes up in its containers, solids included; absent where no bulk
    /// density is given.
    pub bulk_volume: Option<Volume>,
    /// # Containers begun
    ///
    /// Number of containers that are begun; absent where no container is given.
    pub containers: Option<Count>,
}

/// One stream over all months.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StreamOverall {
    /// # Stream
    ///
    /// The stream.
    pub stream: WasteStream,
    /// # Counts as waste
    ///
    /// Whether it is kept as waste and counted.
    pub counts: bool,
    /// # Fluid
    ///
    /// Volume of the fluid in it; solids take up no room.
    pub volume: Volume,
    /// # Mass
    ///
    /// Mass, solids included.
    pub mass: Mass,
    /// # Share of all waste
    ///
    /// Share of the mass of all streams.
    pub share: Share,
    /// # Containers begun
    ///
    /// Number of containers that are begun; absent where no container is given.
    pub containers: Option<Count>,
    /// # Cost of disposal
    ///
    /// Cost of disposal, without the pickups; absent where no price is given.
    pub cost: Option<Money>,
}

/// Concentrate and water bought over all months.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FreshBought {
    /// # Concentrate
    ///
    /// Concentrate.
    pub concentrate: Volume,
    /// # Water
    ///
    /// Water.
    pub water: Volume,
}

/// A month in another generator category than the month before.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CategoryChange {
    /// # Month
    ///
    /// The month, counted from 1.
    pub month: Count,
    /// # Day
    ///
    /// Day, from the start: where the category rises, the day on which the month's mass
    /// enters it; where it falls, the beginning of the month.
    pub day: Days,
    /// # Category before
    ///
    /// Category of the month before.
    pub from: GeneratorCategory,
    /// # Category then
    ///
    /// Category of this month.
    pub to: GeneratorCategory,
}

/// Yields of the treatment on site, over all months.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TreatedOnSite {
    /// # Feed
    ///
    /// Spent fluid and wash water that went into it.
    pub feed: Volume,
    /// # Retentate
    ///
    /// Retentate that is left.
    pub retentate: Volume,
    /// # Permeate
    ///
    /// Permeate: for the sewer only under a permit.
    pub permeate: Volume,
    /// # Oil in the retentate
    ///
    /// Tramp oil in the retentate.
    pub retentate_oil: Concentration,
    /// # Concentrate in the retentate
    ///
    /// Concentrate in the retentate.
    pub retentate_concentration: Concentration,
}

/// Cost over all months.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct DisposalCost {
    /// # Disposal
    ///
    /// Disposal of the streams.
    pub streams: Money,
    /// # Pickups
    ///
    /// Pickups.
    pub pickups: Money,
    /// # Concentrate
    ///
    /// Concentrate.
    pub concentrate: Money,
    /// # Water
    ///
    /// Water.
    pub water: Money,
    /// # Total
    ///
    /// Total cost.
    pub total: Money,
}
