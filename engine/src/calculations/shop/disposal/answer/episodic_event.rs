//! The part of the answer on a planned episodic event.

use super::super::category::GeneratorCategory;
use crate::quantity::{Count, Days, Mass};
use crate::text::Sentence;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use std::borrow::Cow;
use utoipa::ToSchema;

/// A month that a planned episodic event could keep in the shop's usual category.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct EpisodicEvent {
    /// # Month
    ///
    /// The month, counted from 1.
    pub month: Count,
    /// # Usual category
    ///
    /// Category of most months of its year, which the event would keep.
    pub usual: GeneratorCategory,
    /// # Category without it
    ///
    /// Category of the month without the event.
    pub without: GeneratorCategory,
    /// # Waste of the event
    ///
    /// Counted mass of the clean-outs of the month: the waste of the event.
    pub mass: Mass,
    /// # Waste without it
    ///
    /// Counted mass of the month without it.
    pub rest: Mass,
    /// # Notify by day
    ///
    /// Last day, from the start, on which to notify the authority; absent where it is too
    /// late for that, so that the clean-out has to be put off.
    pub notify_by: Option<Days>,
    /// # Gone by day
    ///
    /// Day, from the start, by which all of the event's waste has to be gone.
    pub gone_by: Days,
    /// # Other months above
    ///
    /// Number of other months of the same year above the usual category, which the one
    /// event of the year does not help.
    pub others_above: Count,
    /// # Rule
    ///
    /// Section with the rule.
    #[schema(example = "40 CFR 262.232(b)")]
    pub section: Cow<'static, str>,
    /// # Steps
    ///
    /// Steps that the generator has to take for it, in order.
    #[schema(value_type = Vec<String>)]
    pub steps: Vec<Sentence>,
}
