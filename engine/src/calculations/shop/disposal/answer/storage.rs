//! The part of the answer on the waste kept on site: pickups and limits.

use super::super::category::GeneratorCategory;
use crate::quantity::{Count, Days, Mass};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use std::borrow::Cow;
use utoipa::ToSchema;

/// A day on which all kept waste is taken away.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WastePickup {
    /// # By the end of day
    ///
    /// Day, from the start; the pickup comes at its end.
    pub day: Days,
    /// # Month
    ///
    /// Month it falls in, counted from 1.
    pub month: Count,
    /// # Mass taken away
    ///
    /// Mass taken away.
    pub mass: Mass,
    /// # Containers
    ///
    /// Number of containers that go with it, full or not; absent where none are given.
    pub containers: Option<Count>,
}

/// The limits that the pickups keep.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StorageHeld {
    /// # Limits
    ///
    /// For each generator category whose rules some month keeps, the lowest first; one
    /// without a category where only the shop's own limits hold.
    pub limits: Vec<StorageLimit>,
    /// # Months above the rules
    ///
    /// Number of months of a higher category than the rules asked for. Their waste keeps
    /// the rules of its own category as well.
    pub months_above_rules: Count,
    /// # Days above the limit
    ///
    /// Days on which more waste arises than may be on site, so that no pickup keeps the
    /// limit; the plan has one at the end of each of them.
    pub days_above: Vec<Days>,
}

/// Limits on the waste of some months while it is on site.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StorageLimit {
    /// # Generator category
    ///
    /// Category whose rules these are; absent without published rules.
    pub category: Option<GeneratorCategory>,
    /// # Most on site
    ///
    /// Greatest mass that may be on site (for the very small category, less than that);
    /// absent where only days count.
    pub mass: Option<Mass>,
    /// # Longest stay
    ///
    /// Longest time that any of it may stay, counting the day on which it arises; absent
    /// where only mass counts.
    pub days: Option<Days>,
    /// # Rule
    ///
    /// Section with the rules; absent for limits of the shop's own.
    #[schema(example = "40 CFR 262.16")]
    pub section: Option<Cow<'static, str>>,
    /// # Months that keep it
    ///
    /// Number of months of the projection that keep them.
    pub months: Count,
}
