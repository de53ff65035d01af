//! The trips of a round: each premix packed into as few loads of its vessel as can be.

use super::answer::{PremixTrip, TripStop};
use super::premixes::PremixMade;
use super::{PremixVessel, TopUpRound};
use crate::numerics::packing::{Packing, portions};
use crate::quantity::{Count, Measure, Quantity, Volume};
use crate::sentence;
use crate::text::{Kind, Refusal};

/// One trip: the premix and the vessel by their places, and what goes into which sump.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Loaded {
    pub(super) premix: usize,
    pub(super) vessel: usize,
    pub(super) stops: Vec<(usize, f64)>,
}

impl Loaded {
    pub(super) fn volume(&self) -> f64 {
        self.stops.iter().map(|(_, litres)| litres).sum()
    }
}

/// The trips, and how many there are at least.
#[derive(Debug, Default)]
pub(super) struct PremixTrips {
    pub(super) trips: Vec<Loaded>,
    pub(super) at_least: usize,
}

/// The most trips that an answer lists.
const MOST: f64 = 5_000.0;

impl TopUpRound {
    /// The largest vessel that may carry a product: with no other are there fewer trips.
    pub(super) fn vessel_for(&self, product: &str) -> Option<(usize, &PremixVessel)> {
        let vessels = self.vessels.iter().flatten().enumerate();
        let own = vessels.filter(|(_, own)| own.product.as_ref().is_none_or(|of| of == product));
        own.reduce(|a, b| if b.1.capacity > a.1.capacity { b } else { a })
    }

    /// The trips of all premixes, none without vessels.
    pub(super) fn packed(&self, made: &[PremixMade]) -> Result<PremixTrips, Refusal> {
        let mut all = PremixTrips::default();
        let full_loads: f64 = made
            .iter()
            .filter_map(|premix| {
                let (_, vessel) = self.vessel_for(&premix.product)?;
                Some(
                    premix
                        .pours
                        .iter()
                        .map(|(_, v)| portions(*v, vessel.capacity.get()))
                        .sum::<f64>(),
                )
            })
            .sum();
        if full_loads > MOST {
            return Err(too_many(full_loads));
        }
        for (number, premix) in made.iter().enumerate() {
            let Some((place, vessel)) = self.vessel_for(&premix.product) else { continue };
            let holds = vessel.capacity.get();
            let mut rests = Vec::new();
            for (sump, litres) in &premix.pours {
                // Only what does not go into the vessel at once takes several trips.
                let full = (portions(*litres, holds) - 1.0).max(0.0);
                let mut left = full;
                while left > 0.0 {
                    let stops = vec![(*sump, holds)];
                    all.trips.push(Loaded { premix: number, vessel: place, stops });
                    all.at_least += 1;
                    left -= 1.0;
                }
                rests.push((*sump, (litres - full * holds).max(0.0)));
            }
            let free = f64::INFINITY;
            let packing = Packing {
                items: rests.iter().map(|(_, litres)| [*litres, 0.0, 0.0]).collect(),
                capacity: [holds, free, free],
                charge: None,
            };
            let packed = packing.solve();
            all.at_least += packed.at_least;
            let mut bins = packed.bins;
            bins.iter_mut().for_each(|bin| bin.sort_unstable());
            bins.sort_unstable();
            all.trips.extend(bins.into_iter().map(|bin| Loaded {
                premix: number,
                vessel: place,
                stops: bin.into_iter().map(|at| rests[at]).collect(),
            }));
        }
        Ok(all)
    }

    pub(super) fn trip(&self, loaded: &Loaded) -> Result<PremixTrip, Refusal> {
        let stops = loaded.stops.iter().map(|(sump, litres)| {
            Ok(TripStop { sump: self.sumps[*sump].name.clone(), volume: Volume::of(*litres)? })
        });
        let vessels = self.vessels.as_deref().unwrap_or_default();
        Ok(PremixTrip {
            premix: Count::from_usize(loaded.premix + 1)?,
            vessel: vessels[loaded.vessel].name.clone(),
            volume: Volume::of(loaded.volume())?,
            stops: stops.collect::<Result<_, Refusal>>()?,
        })
    }

    /// In how many loads so much of a product is carried.
    pub(super) fn loads(&self, product: &str, litres: f64) -> Option<f64> {
        let (_, vessel) = self.vessel_for(product)?;
        Some(portions(litres, vessel.capacity.get()))
    }

    /// How long the round takes, min; none where no time is given.
    pub(super) fn minutes(
        &self,
        made: &[PremixMade],
        trips: &[Loaded],
        moves: usize,
    ) -> Option<f64> {
        let mixing = self.mixing.as_ref().and_then(|mixing| mixing.minutes);
        let moving = self.moving.and_then(|moving| moving.minutes);
        let vessels = self.vessels.as_deref().unwrap_or_default();
        let of_vessels =
            vessels.iter().any(|own| own.trip_minutes.is_some() || own.pump_rate.is_some());
        let given = mixing.is_some() || moving.is_some() || self.stop_minutes.is_some();
        if !given && !of_vessels {
            return None;
        }
        let minutes = |time: Option<crate::quantity::Minutes>| time.map_or(0.0, Quantity::get);
        let mixes: f64 = made.iter().map(|premix| self.mixes(premix)).sum();
        let stops: usize = if self.vessels.is_some() {
            trips.iter().map(|trip| trip.stops.len()).sum()
        } else {
            made.iter().map(|premix| premix.pours.len()).sum()
        };
        let under_way = trips.iter().map(|trip| {
            let vessel = &vessels[trip.vessel];
            let pumping = vessel.pump_rate.map_or(0.0, |rate| trip.volume() / rate.get());
            minutes(vessel.trip_minutes) + pumping
        });
        let count = |things: usize| Count::from_usize(things).map_or(0.0, Quantity::get);
        Some(
            mixes * minutes(mixing)
                + count(moves) * minutes(moving)
                + count(stops) * minutes(self.stop_minutes)
                + under_way.sum::<f64>(),
        )
    }
}

fn too_many(trips: f64) -> Refusal {
    let detail = sentence!(
        "This round would take {} trips, and an answer lists up to {}. Check the units of the \
         vessels and the sumps.",
        Measure::bare(trips),
        Measure::bare(MOST)
    );
    Refusal::new(Kind::Inconsistent, "/vessels", detail)
}
