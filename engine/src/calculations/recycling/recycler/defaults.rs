//! What the question says, with what holds where it is silent.

use super::{DirtyDelivery, Recycler, RecyclerMode, RecyclerStage, RecyclerTank, TankMixing};
use crate::calculations::recycling::separation::SeparatingStage;
use crate::fluid::stock::Stock;
use crate::handbook::conversions::DAYS_PER_WEEK;
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::{Concentration, Quantity};
use crate::text::Refusal;

/// The longest plan, days.
pub(super) const MOST_DAYS: f64 = 400.0;

impl Recycler {
    /// The one batch, L; 0 where deliveries are given.
    pub(super) fn batch(&self) -> f64 {
        self.feed.volume.map_or(0.0, Quantity::get)
    }

    pub(super) fn arrivals(&self) -> &[DirtyDelivery] {
        self.feed.arrivals.as_deref().unwrap_or_default()
    }

    /// What is in the dirty tank at the start, L.
    pub(super) fn dirty_level(&self) -> f64 {
        self.tanks.map_or(0.0, |tanks| tanks.dirty.level())
    }

    pub(super) fn feed_density(&self) -> f64 {
        self.feed.density.map_or(DENSITY_AT_20_CELSIUS, Quantity::get)
    }

    /// How strong the feed is, as far as the request says.
    pub(super) fn strength_given(&self) -> Result<Option<Concentration>, Refusal> {
        match (self.feed.concentration, &self.feed.reading) {
            (None, Some(reading)) => reading.concentration("/feed/reading").map(Some),
            (concentration, _) => Ok(concentration),
        }
    }

    /// The stocks given, or the two that every shop has.
    pub(super) fn stocks(&self) -> Vec<Stock> {
        self.stocks.clone().unwrap_or_else(Stock::neat_and_water)
    }

    /// Whether the recycler runs on the day that begins at `day`.
    pub(super) fn runs_on_day(&self, day: f64) -> bool {
        let weekday = day % DAYS_PER_WEEK;
        self.runs_on.as_ref().is_none_or(|days| days.iter().any(|own| own.get() == weekday))
    }

    /// How many days a plan needs until the recycler has run for `wanted` days,
    /// its shift of `shift` days beginning at `starts`.
    pub(super) fn days_for(&self, wanted: f64, starts: f64, shift: f64) -> f64 {
        let (mut left, mut day) = (wanted, 0.0);
        while day < MOST_DAYS {
            if self.runs_on_day(day) {
                if left <= shift {
                    return (day + starts + left).floor() + 1.0;
                }
                left -= shift;
            }
            day += 1.0;
        }
        day
    }

    /// Whether the tank in which the fluid is corrected mixes what is poured into it.
    pub(super) fn is_stirred(&self) -> bool {
        let unsaid = match self.mode {
            RecyclerMode::Recirculate => TankMixing::StirredTank,
            RecyclerMode::SinglePass => TankMixing::StillTank,
        };
        self.target.mixing.unwrap_or(unsaid) == TankMixing::StirredTank
    }
}

impl RecyclerTank {
    /// What is in it at the start, L.
    pub(super) fn level(&self) -> f64 {
        self.level.map_or(0.0, Quantity::get)
    }
}

impl RecyclerStage {
    /// Whether it is a centrifuge, as far as the request says.
    pub(super) fn spins(&self) -> bool {
        self.separator.as_ref().is_some_and(|separator| {
            matches!(
                separator.stage,
                SeparatingStage::TubularCentrifuge(_) | SeparatingStage::DiscCentrifuge(_)
            )
        })
    }
}
