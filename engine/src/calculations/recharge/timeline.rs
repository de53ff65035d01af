//! How long a round takes, trip by trip and machine by machine.

use super::dilution::Cleaned;
use super::mixed::Mixed;
use super::route;
use super::trips::{Bound, Trip};
use super::walk::Walk;
use super::{Haul, Recharge, SheetStep, count};
use crate::quantity::{Count, Mass, Minutes, Quantity, Volume};
use crate::refusal::Refusal;
use crate::stock::Stock;

/// A round that was walked through.
pub(super) struct Walked {
    pub(super) steps: Vec<SheetStep>,
    /// From the first filling of the clean tank to the last emptying.
    pub(super) minutes: f64,
    trips: Vec<TripTimes>,
    /// When each sump was locked out and when it was full again.
    out_of_service: Vec<Option<(f64, f64)>>,
}

struct TripTimes {
    minutes: f64,
    basket_emptyings: f64,
    empties_dirty_tank: bool,
}

pub(super) fn walk(
    round: &Recharge,
    stocks: &[Stock],
    cleaned: &[Cleaned],
    batches: &[Mixed],
    trips: &[Trip],
) -> Result<Walked, Refusal> {
    let mut walk = Walk::new(round, cleaned);
    for (number, batch) in batches.iter().enumerate() {
        walk.prepare(number, batch, stocks)?;
    }
    let emptied = route::emptyings(round, trips, batches);
    let mut times = Vec::with_capacity(trips.len());
    for (number, (trip, empties_dirty_tank)) in trips.iter().zip(emptied).enumerate() {
        let (start, emptyings) = (walk.clock, walk.basket_emptyings);
        walk.trip(number, trip, &batches[trip.batch], empties_dirty_tank)?;
        let minutes = walk.clock - start;
        let basket_emptyings = walk.basket_emptyings - emptyings;
        times.push(TripTimes { minutes, basket_emptyings, empties_dirty_tank });
    }
    let Walk { steps, clock: minutes, out_of_service, .. } = walk;
    Ok(Walked { steps, minutes, trips: times, out_of_service })
}

impl Walked {
    /// From locking the sump at place `i` out to the last of its refill, min.
    pub(super) fn out_of_service(&self, i: usize) -> f64 {
        self.out_of_service[i].map_or(0.0, |(from, to)| to - from)
    }

    pub(super) fn hauls(&self, round: &Recharge, trips: &[Trip]) -> Result<Vec<Haul>, Refusal> {
        let hauls = trips.iter().zip(&self.trips).map(|(trip, times)| {
            Ok(Haul {
                batch: count(trip.batch + 1)?,
                sumps: trip.loads.iter().map(|load| round.sumps[load.sump].name.clone()).collect(),
                clean: Volume::of(trip.clean())?,
                dirty: Volume::of(trip.dirty())?,
                solids: Mass::of(trip.solids())?,
                basket_emptyings: Count::of(times.basket_emptyings)?,
                empties_dirty_tank: times.empties_dirty_tank,
                minutes: Minutes::of(times.minutes)?,
            })
        });
        hauls.collect()
    }

    /// What no plan with the fewest trips goes below: pumping and setting up
    /// take what they take; trips and emptyings can be spared down to their
    /// bounds.
    pub(super) fn minutes_at_least(
        &self,
        round: &Recharge,
        bound: &Bound,
        trips: &[Trip],
        batches: &[Mixed],
    ) -> f64 {
        let times = &round.times;
        let a_trip = times.travel_minutes.get() + times.loading_minutes.map_or(0.0, Quantity::get);
        let emptyings: f64 = self.trips.iter().map(|trip| trip.basket_emptyings).sum();
        let tank_emptyings = self.trips.iter().filter(|trip| trip.empties_dirty_tank);
        let tanks_at_least = route::emptyings_at_least(round, trips, batches);
        let spared_tanks = tank_emptyings.count().saturating_sub(tanks_at_least);
        #[expect(clippy::cast_precision_loss, reason = "an answer lists at most 20,000 trips")]
        let (spared_trips, spared_tanks) =
            ((trips.len() - bound.trips) as f64, spared_tanks as f64);
        self.minutes
            - spared_trips * a_trip
            - (emptyings - bound.basket_emptyings).max(0.0)
                * times.basket_emptying_minutes.map_or(0.0, Quantity::get)
            - spared_tanks * times.tank_emptying_minutes.get()
    }
}
