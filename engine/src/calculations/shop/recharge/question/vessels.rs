//! What goes along on the trips, and how long each piece of the work takes.

use super::Recharge;
use crate::quantity::{Capacity, Density, Mass, Minutes, PumpRate, Quantity, Share};
use crate::text::Name;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Something that brings clean fluid or takes away dirty fluid or chips: a tank, a
/// drum, a container, a bin.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(as = RoundVessel)]
pub struct Vessel {
    /// # Vessel
    ///
    /// Name of the vessel, different for each.
    pub name: Name,
    /// # For
    ///
    /// What it is for.
    pub holds: VesselUse,
    /// # Vessel holds
    ///
    /// Volume to the brim. A vessel for chips may give its rated load instead.
    #[schema(example = 200.0)]
    pub capacity: Option<Capacity>,
    /// # Filled to
    ///
    /// Share of its capacity that is filled. Default: 100.
    #[schema(example = 90.0)]
    pub usable_share: Option<Share>,
    /// # Rated load
    ///
    /// Mass of chips that it may carry. For vessels for chips only.
    pub rated_load: Option<Mass>,
    /// # Pump rate
    ///
    /// Rate at which fluid is pumped into or out of it at a machine. Default: not pumped, in
    /// no time of its own.
    pub pump_rate: Option<PumpRate>,
    /// # Filling takes
    ///
    /// Time for filling it before a trip. Default: 0.
    pub fill_minutes: Option<Minutes>,
    /// # Emptying takes
    ///
    /// Time for emptying it after a trip. Default: 0.
    pub empty_minutes: Option<Minutes>,
    /// # Emptied on the way
    ///
    /// Whether it is emptied on the way too, whenever it is full. For vessels for chips only.
    /// Default: false, at the end of a trip only.
    pub emptied_on_the_way: Option<bool>,
}

/// What a vessel is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum VesselUse {
    /// Clean fluid, to the machines.
    Clean,
    /// Dirty fluid, from the machines.
    Dirty,
    /// Chips and sludge, from the machines.
    Chips,
}

/// Times of each piece of the work, vessels apart.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RoundTimes {
    /// # Setting up
    ///
    /// Time at each machine for locking it out, opening it, laying and rolling up hoses.
    /// Default: 0.
    #[schema(example = 8.0)]
    pub setup_minutes: Option<Minutes>,
    /// # Each drive
    ///
    /// Time of each drive: to a machine, on to the next, or back. Default: 0.
    #[schema(example = 3.0)]
    pub drive_minutes: Option<Minutes>,
    /// # Rinsing
    ///
    /// Time for rinsing a sump once, before the rinse is taken out. Default: 0.
    pub rinse_minutes: Option<Minutes>,
    /// # Washing
    ///
    /// Time for washing hoses and vessels between two products. Default: 0.
    pub washing_minutes: Option<Minutes>,
}

/// Another way of doing the same round, to compare the hours with.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct AnotherWay {
    /// # Way
    ///
    /// Name of the other way.
    pub name: Name,
    /// # At each sump
    ///
    /// Time at each sump, whatever its size.
    #[schema(example = 60.0)]
    pub minutes_a_sump: Minutes,
    /// # Moves fluid at
    ///
    /// Rate at which it moves fluid, dirty and clean alike. Default: in no time of its own.
    pub rate: Option<PumpRate>,
}

/// What all vessels of a kind hold together; without bound where none is for it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in super::super) struct Hold {
    /// L.
    pub(in super::super) clean: f64,
    /// L.
    pub(in super::super) dirty: f64,
    /// kg.
    pub(in super::super) chips: f64,
}

impl Vessel {
    /// How much of its volume is filled, L.
    pub(in super::super) fn usable(&self) -> Option<f64> {
        let share = self.usable_share.map_or(100.0, Quantity::get);
        self.capacity.map(|capacity| capacity.get() * share / 100.0)
    }

    /// The chips that it takes, kg: up to its rated load, or until it is full of them.
    fn chips(&self, density: Option<Density>) -> Option<f64> {
        let full = self.usable().zip(density).map(|(volume, density)| volume * density.get());
        let rated = self.rated_load.map(Quantity::get);
        match (full, rated) {
            (Some(full), Some(rated)) => Some(full.min(rated)),
            (full, rated) => full.or(rated),
        }
    }

    /// Filling it, min.
    pub(in super::super) fn filling(&self) -> f64 {
        minutes(self.fill_minutes)
    }

    /// Emptying it, min.
    pub(in super::super) fn emptying(&self) -> f64 {
        minutes(self.empty_minutes)
    }

    /// Pumping so many litres into or out of it, min.
    pub(in super::super) fn pumping(&self, litres: f64) -> f64 {
        self.pump_rate.map_or(0.0, |rate| litres / rate.get())
    }
}

/// A time that may be left out.
pub(in super::super) fn minutes(given: Option<Minutes>) -> f64 {
    given.map_or(0.0, Quantity::get)
}

impl Recharge {
    /// The vessels of a kind, with their places in the list.
    pub(in super::super) fn vessels_for(
        &self,
        holds: VesselUse,
    ) -> impl Iterator<Item = (usize, &Vessel)> {
        let all = self.vessels.iter().flatten().enumerate();
        all.filter(move |(_, vessel)| vessel.holds == holds)
    }

    /// Whether any vessel is for it.
    pub(in super::super) fn has_vessel_for(&self, holds: VesselUse) -> bool {
        self.vessels_for(holds).next().is_some()
    }

    /// What each vessel of a kind takes, L or kg.
    pub(in super::super) fn takes(&self, holds: VesselUse) -> impl Iterator<Item = (usize, f64)> {
        self.vessels_for(holds).map(move |(place, vessel)| {
            let takes = match holds {
                VesselUse::Chips => vessel.chips(self.chip_density),
                VesselUse::Clean | VesselUse::Dirty => vessel.usable(),
            };
            (place, takes.unwrap_or(0.0))
        })
    }

    /// What goes along on a trip: all vessels together.
    pub(in super::super) fn hold(&self) -> Hold {
        let of = |holds: VesselUse| {
            let known = self.has_vessel_for(holds);
            let all: f64 = self.takes(holds).map(|(_, takes)| takes).sum();
            if known { all } else { f64::INFINITY }
        };
        Hold {
            clean: of(VesselUse::Clean),
            dirty: of(VesselUse::Dirty),
            chips: of(VesselUse::Chips),
        }
    }

    /// Whether vessels for chips are emptied on the way.
    pub(in super::super) fn empties_on_the_way(&self) -> bool {
        self.has_vessel_for(VesselUse::Chips)
            && self.vessels_for(VesselUse::Chips).all(|(_, v)| v.emptied_on_the_way == Some(true))
    }

    /// A time of the round that may be left out, min.
    pub(in super::super) fn time(&self, of: fn(&RoundTimes) -> Option<Minutes>) -> f64 {
        minutes(self.times.as_ref().and_then(of))
    }

    /// Whether the answer has hours: of trips whose times are known.
    pub(in super::super) fn is_timed(&self) -> bool {
        self.vessels.is_some() && self.times.is_some()
    }
}
