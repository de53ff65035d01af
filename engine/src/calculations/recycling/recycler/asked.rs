//! What the question says, with what holds where it is silent.

use super::{Arrival, Recycler};
use crate::fluid::stock::Stock;
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::{Concentration, Quantity};
use crate::text::Refusal;

impl Recycler {
    /// The one batch, L; nothing where deliveries are given.
    pub(super) fn batch(&self) -> f64 {
        self.feed.volume.map_or(0.0, Quantity::get)
    }

    pub(super) fn arrivals(&self) -> &[Arrival] {
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
        const WEEK: f64 = 7.0;
        let weekday = day % WEEK;
        self.runs_on.as_ref().is_none_or(|days| days.iter().any(|own| own.get() == weekday))
    }

    /// How many days a plan needs until the recycler has run for `wanted` days,
    /// its shift of `shift` days beginning at `starts`.
    pub(super) fn days_for(&self, wanted: f64, starts: f64, shift: f64) -> f64 {
        let (mut left, mut day) = (wanted, 0.0);
        while day < super::plan::MOST_DAYS {
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
}
