//! How far recycling may go, what holds it there, and what a purge does.

use crate::fluid::properties::Properties;
use crate::quantity::{DailyRate, Ratio, Share};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// How far recycling can go.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RecyclingLimit {
    /// # Verdict
    ///
    /// Whether recycling has a limit.
    pub verdict: RecyclingVerdict,
    /// # Recycle at most
    ///
    /// Greatest share of the returned fluid that may go through the recycler with every
    /// property within its limits. Absent when there is none.
    pub share: Option<Share>,
    /// # Back in sumps then
    ///
    /// Share of the drained fluid that comes back into a sump at that limit.
    pub share_recycled: Option<Share>,
    /// # Highest contents then
    ///
    /// Highest content in any sump at that limit, by property: the proof that it is within
    /// the limits.
    pub at_limit: Option<Properties>,
    /// # Longest clean-out interval
    ///
    /// Factor by which every interval between clean-outs may be multiplied before a property
    /// passes its limit, with the share recycled as asked. Below 1 the intervals are too
    /// long already. Absent when no interval that was tried passes a limit, or none keeps
    /// them all.
    pub longest_life: Option<Ratio>,
    /// # Interval held by
    ///
    /// Limit that holds the clean-out interval there.
    pub life_held_by: Option<BindingLimit>,
}

/// Whether recycling has a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum RecyclingVerdict {
    /// Everything may be recycled.
    All,
    /// Up to a share may be recycled; beyond it a property passes its limit.
    Held,
    /// No share keeps every property within its limits.
    None,
    /// The request has no recycler, so none of the fluid is recycled.
    NoRecycler,
}

/// A limit that is reached first, and where.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BindingLimit {
    /// # Property
    ///
    /// Property with the limit.
    #[schema(example = "chloride")]
    pub property: String,
    /// # Group
    ///
    /// Group of sumps in which the limit is reached.
    #[schema(example = "lathes")]
    pub group: String,
    /// # Side
    ///
    /// Which of the property's two limits it is.
    pub side: LimitSide,
    /// # Limit
    ///
    /// The limit.
    pub limit: Properties,
}

/// Upper or lower limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum LimitSide {
    /// The most that is tolerated.
    Max,
    /// The least that is wanted.
    Min,
}

/// Fluid to discard, or deionised water to use, that keeps every property within its limits.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LoopPurge {
    /// # Discarded now
    ///
    /// Share of the recovered fluid that is discarded as asked.
    pub share: Share,
    /// # Discard at least
    ///
    /// Least share of the recovered fluid that has to be discarded. Absent when even
    /// discarding all of it is not enough, and without a recycler.
    pub needed: Option<Share>,
    /// # Discard in a day
    ///
    /// That share as a volume per day at steady state.
    pub needed_per_day: Option<DailyRate>,
    /// # Deionised water instead
    ///
    /// Least share of deionised water in the water that keeps every limit instead, with the
    /// purge as asked. Absent when no share keeps every limit, the least of hardness as well
    /// as the most of chloride.
    pub deionised_needed: Option<Share>,
}
