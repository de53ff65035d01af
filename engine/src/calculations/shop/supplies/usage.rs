//! What is used in a day, and how much that varies.
//!
//! Of n past weeks w: μ = Σw/(7·n), and σ = s_w/√7 with s_w the standard deviation of a week,
//! since the variances of seven independent days add up to that of a week.

use super::question::SupplyItem;
use crate::quantity::Quantity;

const DAYS_PER_WEEK: f64 = 7.0;

impl SupplyItem {
    /// The mean use of a day and its standard deviation, L.
    pub(super) fn usage(&self) -> (f64, f64) {
        let weeks: Vec<f64> = self.used_per_week.iter().flatten().map(|week| week.get()).collect();
        #[expect(clippy::cast_precision_loss, reason = "some hundred weeks")]
        let n = weeks.len() as f64;
        let mean_week = if n > 0.0 { weeks.iter().sum::<f64>() / n } else { 0.0 };
        let mean = self.use_per_day.map_or(mean_week / DAYS_PER_WEEK, Quantity::get);
        let squares: f64 = weeks.iter().map(|week| (week - mean_week).powi(2)).sum();
        let of_weeks = if n > 1.0 { (squares / (n - 1.0) / DAYS_PER_WEEK).sqrt() } else { 0.0 };
        (mean, self.use_spread_per_day.map_or(of_weeks, Quantity::get))
    }
}
