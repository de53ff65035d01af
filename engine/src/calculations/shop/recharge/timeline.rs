//! How long a round takes, trip by trip and machine by machine.

use super::dilution::Cleaned;
use super::mixed::Mixed;
use super::preparing::{self, Made};
use super::route;
use super::trips::{Bound, Trip};
use super::under_way::{RoundUnderWay, Spent};
use super::{Recharge, RoundTrip, SheetStep, Vessel, VesselUse};
use crate::fluid::stock::Stock;
use crate::quantity::{Count, Mass, Minutes, Quantity, Volume};
use crate::text::Refusal;

/// A round that was walked through.
pub(super) struct RoundDone {
    pub(super) steps: Vec<SheetStep>,
    /// From the first filling to the last emptying.
    pub(super) minutes: f64,
    /// The most chips that were in the vessels for them, kg.
    pub(super) most_chips: f64,
    spent: Spent,
    trips: Vec<TripTimes>,
    /// When each sump was locked out and when it was full again.
    out_of_service: Vec<Option<(f64, f64)>>,
}

struct TripTimes {
    minutes: f64,
    chip_emptyings: f64,
    washed_before: bool,
    empties_dirty: bool,
}

pub(super) fn walk(
    round: &Recharge,
    stocks: &[Stock],
    cleaned: &[Cleaned],
    (batches, rinse_mixes): (&[Mixed], &[Mixed]),
    trips: &[Trip],
) -> Result<RoundDone, Refusal> {
    let mut walk = RoundUnderWay::new(round, cleaned);
    walk.circulate(cleaned)?;
    let batches_made = batches.iter().enumerate().map(|(n, batch)| ((Made::Batch, n), batch));
    let mixes_made = rinse_mixes.iter().enumerate().map(|(n, mix)| ((Made::RinseMix, n), mix));
    for (made, mix) in batches_made.chain(mixes_made) {
        walk.prepare(preparing::steps(round, made, mix, stocks)?);
    }
    let mut times = Vec::with_capacity(trips.len());
    if round.vessels.is_some() {
        let emptied = route::emptyings(round, trips, batches);
        let product = |place: usize| batches[trips[place].batch].product.as_str();
        for (place, (trip, empties_dirty)) in trips.iter().zip(emptied).enumerate() {
            let (start, emptyings) = (walk.clock, walk.chip_emptyings);
            let washes = place > 0 && product(place) != product(place - 1);
            walk.trip(place, trip, &batches[trip.batch], (washes, empties_dirty))?;
            times.push(TripTimes {
                minutes: walk.clock - start,
                chip_emptyings: walk.chip_emptyings - emptyings,
                washed_before: washes,
                empties_dirty,
            });
        }
    } else {
        trips.iter().try_for_each(|trip| walk.serve_all(trip, &batches[trip.batch]))?;
    }
    let RoundUnderWay { steps, clock: minutes, out_of_service, spent, most_chips, .. } = walk;
    Ok(RoundDone { steps, minutes, most_chips, spent, trips: times, out_of_service })
}

impl RoundDone {
    /// From locking the sump at place `i` out to the last of its refill, min.
    pub(super) fn out_of_service(&self, i: usize) -> f64 {
        self.out_of_service[i].map_or(0.0, |(from, to)| to - from)
    }

    pub(super) fn trips(
        &self,
        round: &Recharge,
        trips: &[Trip],
    ) -> Result<Vec<RoundTrip>, Refusal> {
        let trips = trips.iter().zip(&self.trips).map(|(trip, times)| {
            Ok(RoundTrip {
                batch: Count::from_usize(trip.batch + 1)?,
                sumps: trip
                    .loads
                    .iter()
                    .map(|load| round.sumps[load.sump].name.to_string())
                    .collect(),
                washed_before: times.washed_before,
                clean: Volume::of(trip.clean())?,
                dirty: Volume::of(trip.dirty())?,
                chips: Mass::of(trip.chips())?,
                chip_emptyings: Count::of(times.chip_emptyings)?,
                empties_dirty: times.empties_dirty,
                minutes: round.is_timed().then(|| Minutes::of(times.minutes)).transpose()?,
            })
        });
        trips.collect()
    }

    /// What no plan with the fewest trips goes below: setting up, scraping, rinsing, and
    /// washing between products that come one after the other take what they take; trips,
    /// fillings and emptyings can be spared down to their bounds, each with the vessel that
    /// is quickest at it.
    #[expect(clippy::cast_precision_loss, reason = "an answer lists at most 20,000 trips")]
    pub(super) fn minutes_at_least(
        &self,
        round: &Recharge,
        bound: &Bound,
        trips: &[Trip],
        batches: &[Mixed],
    ) -> f64 {
        let quickest = |holds: VesselUse, of: fn(&Vessel) -> f64| {
            round.vessels_for(holds).map(|(_, vessel)| of(vessel)).reduce(f64::min).unwrap_or(0.0)
        };
        let spared = (trips.len() - bound.trips) as f64;
        let loaded = trips.iter().filter(|trip| trip.clean() > 0.0).count() as f64;
        let filling = (loaded - spared).max(0.0) * quickest(VesselUse::Clean, Vessel::filling);
        let chips = bound.chip_emptyings * quickest(VesselUse::Chips, Vessel::emptying);
        let dirty = route::emptyings_at_least(round, trips, batches) as f64
            * quickest(VesselUse::Dirty, Vessel::emptying);
        // One litre pumped by the quickest pump, min.
        let a_litre = |holds| quickest(holds, |vessel| vessel.pumping(1.0));
        let all = |of: fn(&Trip) -> f64| trips.iter().map(of).sum::<f64>();
        let pumping = all(Trip::clean) * a_litre(VesselUse::Clean)
            + all(Trip::dirty) * a_litre(VesselUse::Dirty);
        let spent = &self.spent;
        self.minutes - spared * round.time(|times| times.drive_minutes)
            + (filling - spent.filling).min(0.0)
            + (chips - spent.emptying_chips).min(0.0)
            + (dirty - spent.emptying).min(0.0)
            + (pumping - spent.pumping).min(0.0)
    }
}
