//! What becomes of a shop's fluid, as an answer tells it.

mod flows;
mod limits;

pub use flows::{GroupSettled, LoopDay, MakeUpFlow, RefillMix, Yearly};
pub use limits::{HeldBy, LimitSide, Purge, RecyclingLimit, Verdict};

use crate::fluid::properties::{ByProperty, Properties};
use crate::quantity::{Concentration, Content, Days, Ratio, Share, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use std::borrow::Cow;
use utoipa::ToSchema;

/// Where each property settles.
pub type Settles = ByProperty<OilSettles, MatterSettles>;

/// Where the loop settles, and how far it can be closed.
#[skip_serializing_none]
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
#[skip_serializing_none]
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
    pub recycled: Option<Concentration>,
    /// Whether it keeps within its limits everywhere; absent without limits.
    pub in_limits: Option<bool>,
    /// The first day of the way there on which a sump is over the limit;
    /// absent when none is on the days that were followed.
    pub passes_limit_day: Option<Days>,
}

/// Where something dissolved or suspended settles.
#[skip_serializing_none]
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
    pub recycled: Option<Content>,
    /// Whether it keeps within its limits everywhere; absent without limits.
    pub in_limits: Option<bool>,
    /// The first day of the way there on which a sump is over the limit;
    /// absent when none is on the days that were followed.
    pub passes_limit_day: Option<Days>,
}

/// One thing to understand about the loop, with its numbers.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Remark {
    /// What there is to say.
    pub text: Cow<'static, str>,
    /// The property it is about.
    pub property: Option<String>,
    /// The group of sumps it is about.
    pub group: Option<String>,
    /// The share it speaks of.
    pub share: Option<Share>,
    /// How many times one thing is another.
    pub times: Option<Ratio>,
    /// The volume a year that it speaks of.
    pub yearly: Option<Volume>,
    /// Where the property settles.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub settles_at: Properties,
    /// The limit it is held to.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub limit: Properties,
}
