//! A batch of several stocks: what to take of each, by Pearson's square or a proven
//! linear programme, and what holds it back.
//!
//! # Decisions
//!
//! - **No costs, no guess.** Where no stock has a cost and several batches would do, stocks are preferred
//!   in the order of the list, and `assumptions` says so.
//! - **Pearson before simplex.** Two stocks without limits have one answer; it costs nanoseconds. All else
//!   is a linear programme, answered only when primal and dual meet, and called infeasible only with a
//!   certificate of Farkas that plain arithmetic confirms. Otherwise the refusal is `unproven`.
//! - **A premix bound is a limit of the batch.** Σ (c_i − p)·v_i ≤ 0 over what is poured is, with the recovered fluid given
//!   the number p and each stock its strength, "at most p in the batch": the blend's programme needs no new kind of constraint.

mod binding;
mod checks;
mod constraints;
mod reach;
mod recipe;
mod shared;

use super::properties::Properties;
use super::stock::Stock;
use crate::quantity::{Concentration, Mass, Parts, Ratio, Share, Volume};
pub use binding::{Binding, LimitCost, LimitUse, StockCost, StockUse};
pub use checks::{check_limits, check_limits_are_about_something, check_mixing};
pub use reach::{on_hand, reach};
pub use recipe::{Recipe, parts, recipe};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
pub use shared::{Wanted, share_out};
use utoipa::ToSchema;

/// What to prefer where several batches would do.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(untagged)]
#[schema(as = BatchGoal)]
pub enum Goal {
    /// Spend as little as possible.
    Cost(CostGoal),
    /// Use up one stock.
    Use(UseGoal),
}

/// Spend as little as possible.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum CostGoal {
    /// The batch that costs the least. When no stock has a cost, the batch that
    /// prefers stocks in the order of the list.
    LeastCost,
}

/// Use up one stock.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct UseGoal {
    /// # Use most of
    ///
    /// Name of the stock to take as much of as possible.
    #[schema(example = "recycled")]
    pub most_of: String,
}

/// What to take of a stock.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = StockTaken)]
pub struct Take {
    /// # Stock
    ///
    /// Name of the stock.
    #[schema(example = "recycled")]
    pub name: String,
    /// # Take
    ///
    /// Volume to take.
    pub volume: Volume,
    /// # Take by mass
    ///
    /// Mass to take.
    pub mass: Mass,
    /// # Share of the batch
    ///
    /// Share of the batch.
    pub share: Share,
    /// # Parts
    ///
    /// With two stocks, its parts in the mix, as on the corner of a Pearson square.
    pub parts: Option<Parts>,
}

/// A mix.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = BatchMix)]
pub struct Mix {
    /// # Volume
    ///
    /// Volume of the mix.
    pub volume: Volume,
    /// # Strength
    ///
    /// Strength of the mix.
    pub concentration: Concentration,
    /// # Parts of water
    ///
    /// Parts of water to one part of concentrate; absent where it is plain water.
    #[schema(example = 15.67)]
    pub parts_of_water: Option<Ratio>,
    /// # Carries
    ///
    /// What else the mix carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

pub(crate) fn any_cost(stocks: &[Stock]) -> bool {
    stocks.iter().any(|stock| stock.unit_cost.is_some())
}

/// What goes into a sump, mixed beforehand.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = SumpPremix)]
pub struct Premix {
    /// # Premix to prepare
    ///
    /// Volume to prepare.
    pub volume: Volume,
    /// # Premix strength
    ///
    /// Strength of the premix.
    pub concentration: Concentration,
    /// # Parts of water
    ///
    /// Parts of water to one part of concentrate; absent where it is plain water.
    #[schema(example = 8.68)]
    pub parts_of_water: Option<Ratio>,
}
