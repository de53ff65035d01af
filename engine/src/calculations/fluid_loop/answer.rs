//! What becomes of a shop's fluid, as an answer tells it.

use crate::properties::{ByProperty, Properties};
use crate::quantity::{Concentration, Content, Count, DailyRate, Days, Ratio, Share, Volume};
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use utoipa::ToSchema;

/// Where each property settles.
pub type Settles = ByProperty<OilSettles, MatterSettles>;

/// Where the loop settles, and how far it can be closed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FluidLoopAnswer {
    /// Where each property settles when the loop has run long enough.
    pub settles_at: Settles,
    /// How many times what fresh fluid brings is in what leaves the shop as
    /// liquid, for a salt that no treatment takes out: the cycles of
    /// concentration of the whole shop.
    pub cycles: Ratio,
    /// How much of what is drained at clean-outs comes back into a sump.
    pub share_recycled: Share,
    /// How far recycling can go with every property in its limits.
    pub recycling_limit: RecyclingLimit,
    /// What binds first as recycling or the fluid's life is stretched; absent
    /// when nothing does.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub held_by: Option<HeldBy>,
    /// What would have to be thrown away, or which water used, to go on as asked.
    pub purge: Purge,
    /// What a year of the settled loop takes and gives, 365 days.
    pub yearly: Yearly,
    /// Each group, in the order of the request.
    pub groups: Vec<GroupSettled>,
    /// What the limit is and why, in words, with the numbers beside them.
    pub explanation: Vec<Remark>,
    /// The way there, day by day.
    pub series: Vec<LoopDay>,
}

/// Where tramp oil settles.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct OilSettles {
    /// The most that any sump comes to between two clean-outs.
    pub highest: Concentration,
    /// The group in which that is.
    #[schema(example = "lathes")]
    pub highest_in: String,
    /// The least that any sump comes to between two clean-outs.
    pub lowest: Concentration,
    /// The mean of all sumps over their fluid's life, by volume.
    pub mean: Concentration,
    /// What recycled fluid carries; absent when nothing is recycled.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub recycled: Option<Concentration>,
    /// Whether it keeps within its limits everywhere; absent without limits.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub in_limits: Option<bool>,
    /// The first day of the way there on which a sump is over the limit;
    /// absent when none is on the days that were followed.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub passes_limit_day: Option<Days>,
}

/// Where something dissolved or suspended settles.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MatterSettles {
    /// The most that any sump comes to between two clean-outs.
    pub highest: Content,
    /// The group in which that is.
    #[schema(example = "lathes")]
    pub highest_in: String,
    /// The least that any sump comes to between two clean-outs.
    pub lowest: Content,
    /// The mean of all sumps over their fluid's life, by volume.
    pub mean: Content,
    /// What recycled fluid carries; absent when nothing is recycled.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub recycled: Option<Content>,
    /// Whether it keeps within its limits everywhere; absent without limits.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub in_limits: Option<bool>,
    /// The first day of the way there on which a sump is over the limit;
    /// absent when none is on the days that were followed.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub passes_limit_day: Option<Days>,
}

/// How far recycling can go.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RecyclingLimit {
    /// Whether there is such a limit.
    pub verdict: Verdict,
    /// The greatest share of what the dirty tank gives that may go through the
    /// recycler with every property in its limits; absent when none may.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub share: Option<Share>,
    /// How much of what is drained then comes back into a sump.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub share_recycled: Option<Share>,
    /// The most that any sump comes to at that share, by property: the proof
    /// that it is within the limits.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub at_limit: Option<Properties>,
    /// How many times as long every interval between clean-outs may be, with
    /// the share recycled as asked, before a property passes its limit: below 1
    /// the fluid lives too long already. Absent when no life that was tried
    /// passes a limit, or none keeps them all.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub longest_life: Option<Ratio>,
    /// What holds the fluid's life there.
    #[serde(skip_serializing_if = "Option::is_none", default)]
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
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Purge {
    /// The share of the recycled fluid that is discarded as asked.
    pub share: Share,
    /// The least share that would have to be discarded; absent when even
    /// discarding all of it does not do, and without a recycler.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub needed: Option<Share>,
    /// How much that is, in a day of the settled loop.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub needed_rate: Option<DailyRate>,
    /// The least share of deionised water that would do instead, at the purge
    /// as asked; absent when not even deionised water alone does.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub deionised_needed: Option<Share>,
}

/// What a year takes and gives.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Yearly {
    /// Fresh concentrate to buy.
    pub concentrate: Volume,
    /// Water to buy, without the deionised.
    pub water: Volume,
    /// Deionised water to buy or make.
    pub deionised_water: Volume,
    /// Tramp oil that comes in from the machines.
    pub oil_leaked: Volume,
    /// Drained at clean-outs.
    pub drained: Volume,
    /// Recycled fluid that comes back into a sump.
    pub recycled: Volume,
    /// All that goes to disposal, the oil and sludge of the recycler included.
    pub disposed: Volume,
    /// Of that, what leaves the recycler as oil phase and sludge.
    pub oil_and_sludge: Volume,
    /// Of that, recycled fluid discarded on purpose.
    pub purged: Volume,
    /// Of that, recycled fluid that no refill has room for, because it is too
    /// strong or too weak for the sumps that could take it.
    pub surplus: Volume,
    /// Water lost to the air.
    pub evaporated: Volume,
    /// Fluid carried off on chips, parts and as mist.
    pub carried_off: Volume,
}

/// A group of sumps when the loop has settled.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct GroupSettled {
    /// The group.
    #[schema(example = "lathes")]
    pub name: String,
    /// How many times what fresh fluid brings is in an old sump of this group,
    /// for a salt that no treatment takes out.
    pub cycles: Ratio,
    /// What one sump is fed in a day to hold its level and its strength.
    pub make_up: MakeUpFlow,
    /// What one sump is refilled with at a clean-out; absent when it has none.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub refill: Option<RefillMix>,
    /// What a sump carries just before its clean-out.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub oldest: Properties,
    /// What it carries just after its refill.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub refilled: Properties,
}

/// What a sump is fed in a day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MakeUpFlow {
    /// Recycled fluid.
    pub recycled: DailyRate,
    /// Fresh concentrate.
    pub concentrate: DailyRate,
    /// Fresh water.
    pub water: DailyRate,
    /// How strong they are together.
    pub concentration: Concentration,
}

/// What a sump is refilled with.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RefillMix {
    /// Recycled fluid.
    pub recycled: Volume,
    /// Fresh concentrate.
    pub concentrate: Volume,
    /// Fresh water.
    pub water: Volume,
}

/// One thing to understand about the loop, with its numbers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Remark {
    /// What there is to say.
    pub text: Cow<'static, str>,
    /// The property it is about.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub property: Option<String>,
    /// The group of sumps it is about.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub group: Option<String>,
    /// The share it speaks of.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub share: Option<Share>,
    /// How many times one thing is another.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub times: Option<Ratio>,
    /// The volume a year that it speaks of.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub yearly: Option<Volume>,
    /// Where the property settles.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub settles_at: Properties,
    /// The limit it is held to.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub limit: Properties,
}

/// A day of the way there.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LoopDay {
    /// The day; 0 is the start.
    pub day: Count,
    /// The most that any sump carries that is drained or refilled on the day,
    /// or is never drained.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub highest: Properties,
    /// What the clean tank gives that day; absent when nothing is recycled.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub recycled: Properties,
}
