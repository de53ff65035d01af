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
    /// Whether there is such a limit.
    pub verdict: Verdict,
    /// The greatest share of what the dirty tank gives that may go through the
    /// recycler with every property in its limits; absent when none may.
    pub share: Option<Share>,
    /// How much of what is drained then comes back into a sump.
    pub share_recycled: Option<Share>,
    /// The most that any sump comes to at that share, by property: the proof
    /// that it is within the limits.
    pub at_limit: Option<Properties>,
    /// How many times as long every interval between clean-outs may be, with
    /// the share recycled as asked, before a property passes its limit: below 1
    /// the fluid lives too long already. Absent when no life that was tried
    /// passes a limit, or none keeps them all.
    pub longest_life: Option<Ratio>,
    /// What holds the fluid's life there.
    pub life_held_by: Option<HeldBy>,
}

/// Whether recycling has a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Everything may be recycled.
    All,
    /// Up to a share may be recycled; beyond it a property passes its limit.
    Held,
    /// No share keeps every property in its limits.
    None,
    /// No recycler is described, so nothing is recycled.
    NoRecycler,
}

/// The property that binds, and where.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HeldBy {
    /// The property.
    #[schema(example = "chloride")]
    pub property: String,
    /// The group of sumps in which it binds.
    #[schema(example = "lathes")]
    pub group: String,
    /// Which of its limits it is.
    pub side: LimitSide,
    /// That limit.
    pub limit: Properties,
}

/// Which end of a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum LimitSide {
    /// The most that is tolerated.
    Max,
    /// The least that is wanted.
    Min,
}

/// What it would take to go on as asked with every property in its limits.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Purge {
    /// The share of the recycled fluid that is discarded as asked.
    pub share: Share,
    /// The least share that would have to be discarded; absent when even
    /// discarding all of it does not do, and without a recycler.
    pub needed: Option<Share>,
    /// How much that is, in a day of the settled loop.
    pub needed_rate: Option<DailyRate>,
    /// The least share of deionised water that would do instead, at the purge
    /// as asked; absent when no share keeps every limit, the least of hardness as
    /// well as the most of chloride.
    pub deionised_needed: Option<Share>,
}
