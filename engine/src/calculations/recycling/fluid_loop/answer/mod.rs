//! Where a shop's fluid settles, as an answer tells it.

mod contents;
mod flows;
mod limits;

pub use contents::{SettledContents, SettledMatter, SettledOil};
pub use flows::{GroupMakeUp, GroupRefill, LoopDay, LoopYear, SettledGroup};
pub use limits::{BindingLimit, LimitSide, LoopPurge, RecyclingLimit, RecyclingVerdict};

use crate::quantity::{Ratio, Share};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Where the loop settles, and how far it can be closed.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FluidLoopAnswer {
    /// # Settles at
    ///
    /// Contents at steady state, by property.
    pub settles_at: SettledContents,
    /// # Cycles of concentration
    ///
    /// Cycles of concentration of the whole shop: salt in the liquid that leaves, divided by
    /// salt in fresh fluid, for a salt that no treatment takes out.
    pub cycles: Ratio,
    /// # Recycled of what is drained
    ///
    /// Share of the fluid drained at clean-outs that comes back into a sump.
    pub share_recycled: Share,
    /// # Recycling limit
    ///
    /// Greatest share that can be recycled with every property within its limits.
    pub recycling_limit: RecyclingLimit,
    /// # Limit reached first
    ///
    /// Limit that is reached first when more is recycled. Absent when none is.
    pub held_by: Option<BindingLimit>,
    /// # Discard or deionised water
    ///
    /// Fluid to discard, or deionised water to use, that keeps every limit with the recycler
    /// fed as asked.
    pub purge: LoopPurge,
    /// # In a year
    ///
    /// Purchases and waste of a year at steady state, 365 days.
    pub per_year: LoopYear,
    /// # Groups of sumps
    ///
    /// Each group, in the order of the request.
    pub groups: Vec<SettledGroup>,
    /// # Day by day
    ///
    /// Day-by-day path from today's state to steady state.
    pub series: Vec<LoopDay>,
}
