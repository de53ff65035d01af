//! The reorder point: at which stock to order.

use super::question::{Supplies, SupplyItem, whole_days};
use crate::numerics::distribution::DistributionShape;
use crate::quantity::Quantity;

/// The service level where none is given, %.
const USUAL_LEVEL: f64 = 95.0;

/// At which stock to order, and what is behind it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct ReorderPoint {
    /// What is used in a day, and its standard deviation, L.
    pub(super) mean: f64,
    pub(super) spread: f64,
    /// What is kept for the days that use more and the deliveries that come late, L.
    pub(super) safety: f64,
    /// The stock at which to order where it is watched all the time, L.
    pub(super) reorder: f64,
    /// The stock at which to order on a look, L.
    pub(super) order_at: f64,
}

impl ReorderPoint {
    pub(super) fn of(supplies: &Supplies, item: &SupplyItem) -> Self {
        let level = supplies.service_level.map_or(USUAL_LEVEL, Quantity::get) / 100.0;
        let z = DistributionShape::Normal.quantile(level);
        let (mean, spread) = item.usage();
        let lead = item.lead_days.get();
        let lead_spread = item.lead_spread_days.map_or(0.0, Quantity::get);
        let kept = |days: f64| z * (days * spread.powi(2) + (mean * lead_spread).powi(2)).sqrt();
        let point = |days: f64| mean * days + kept(days);
        #[expect(clippy::cast_precision_loss, reason = "a few hundred days")]
        let days = |days: usize| days as f64;
        Self {
            mean,
            spread,
            safety: kept(lead),
            reorder: point(lead),
            order_at: point(days(whole_days(lead) + supplies.look_every())),
        }
    }
}
