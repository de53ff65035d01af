//! What holds a goal back, and what relaxing it is worth.

use crate::quantity::{
    Money, MoneyPerVolume, OutOfRange, Quantity, VolumePerLimit, VolumePerVolume,
};
use crate::text::Refusal;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A limit or a stock on hand that holds the goal back, and what a unit more of
/// it would be worth.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "worth_in", rename_all = "snake_case")]
#[schema(as = BindingConstraint)]
pub enum Binding {
    /// A limit that costs money.
    Money(LimitCost),
    /// A stock on hand that costs money.
    MoneyPerVolume(StockCost),
    /// A limit that costs volume of the stock to use up.
    VolumePerLimit(LimitUse),
    /// A stock on hand that costs volume of the stock to use up.
    VolumePerVolume(StockUse),
}

/// A limit that keeps the batch from being cheaper.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LimitCost {
    /// # Limit
    ///
    /// JSON pointer to the limit in the request.
    #[schema(example = "/limits/hardness/max")]
    pub what: String,
    /// # A unit more saves
    ///
    /// Money saved by relaxing it by one unit (mg/L or %).
    pub worth: Money,
}

/// A stock of which too little is on hand for the batch to be cheaper.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StockCost {
    /// # Volume on hand
    ///
    /// JSON pointer to the stock's volume in the request.
    #[schema(example = "/stocks/0/volume")]
    pub what: String,
    /// # A unit more saves
    ///
    /// Money saved by each further unit of volume on hand.
    pub worth: MoneyPerVolume,
}

/// A limit that keeps more of a stock from being used up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LimitUse {
    /// # Limit
    ///
    /// JSON pointer to the limit in the request.
    #[schema(example = "/limits/hardness/max")]
    pub what: String,
    /// # A unit more uses up
    ///
    /// Volume of the stock used up besides, when it is relaxed by one unit (mg/L or %).
    pub worth: VolumePerLimit,
}

/// A stock of which too little is on hand for more to be used up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StockUse {
    /// # Volume on hand
    ///
    /// JSON pointer to the stock's volume in the request.
    #[schema(example = "/stocks/0/volume")]
    pub what: String,
    /// # A unit more uses up
    ///
    /// Volume of the stock used up besides, for each further unit of volume of this one.
    pub worth: VolumePerVolume,
}

/// A price below this is the solver's rounding.
const NOTHING: f64 = 1e-9;

/// What a limit costs, from the price of its constraint.
pub(super) fn limit_cost(what: &str, price: f64) -> Result<Option<Binding>, Refusal> {
    let bound = |what, worth| Binding::Money(LimitCost { what, worth });
    binding(what, Money::of(price), bound)
}

/// What a stock on hand costs, from the price of its upper end.
pub(super) fn stock_cost(what: &str, price: f64) -> Result<Option<Binding>, Refusal> {
    let bound = |what, worth| Binding::MoneyPerVolume(StockCost { what, worth });
    binding(what, MoneyPerVolume::of(price), bound)
}

/// What a limit keeps from being used up, from the price of its constraint.
pub(super) fn limit_use(what: &str, price: f64) -> Result<Option<Binding>, Refusal> {
    let bound = |what, worth| Binding::VolumePerLimit(LimitUse { what, worth });
    binding(what, VolumePerLimit::of(price), bound)
}

/// What a stock on hand keeps from being used up, from the price of its upper end.
pub(super) fn stock_use(what: &str, price: f64) -> Result<Option<Binding>, Refusal> {
    let bound = |what, worth| Binding::VolumePerVolume(StockUse { what, worth });
    binding(what, VolumePerVolume::of(price), bound)
}

fn binding<Worth: Quantity>(
    what: &str,
    worth: Result<Worth, OutOfRange>,
    bound: impl FnOnce(String, Worth) -> Binding,
) -> Result<Option<Binding>, Refusal> {
    let worth = worth?;
    Ok((worth.get() > NOTHING).then(|| bound(what.to_owned(), worth)))
}
