//! The loads of a round packed into the fewest trips.

use super::Recharge;
use super::dilution::Cleaned;
use super::mixed::Mixed;
use crate::numerics::packing::{Charge, Packing, fits, portions};
use crate::quantity::{Mass, Quantity};
use crate::refusal::{Faults, Kind, Refusal};
use crate::sentence::{Measure, Sentence};

/// What a trip does at one machine.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Load {
    /// The place of the sump.
    pub(super) sump: usize,
    /// What it is refilled with, L.
    pub(super) clean: f64,
    /// What is sucked out, L.
    pub(super) dirty: f64,
    /// The chips that come along, kg.
    pub(super) solids: f64,
}

/// What one trip does at one machine after the other.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Trip {
    /// The place of the batch it carries, or whose machines it serves.
    pub(super) batch: usize,
    pub(super) loads: Vec<Load>,
}

impl Trip {
    pub(super) fn clean(&self) -> f64 {
        self.loads.iter().map(|load| load.clean).sum()
    }

    pub(super) fn dirty(&self) -> f64 {
        self.loads.iter().map(|load| load.dirty).sum()
    }

    pub(super) fn solids(&self) -> f64 {
        self.loads.iter().map(|load| load.solids).sum()
    }
}

/// Trips that follow one another.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Block {
    /// Full dirty tanks of sumps larger than it.
    pub(super) before: Vec<Trip>,
    /// Whole sumps, and what is left of the larger ones.
    pub(super) shared: Trip,
    /// Full clean tanks for sumps larger than it.
    pub(super) after: Vec<Trip>,
}

/// What no plan of this kind goes below.
#[derive(Debug, Default)]
pub(super) struct Bound {
    pub(super) trips: usize,
    /// Emptyings of the basket with the fewest trips.
    pub(super) basket_emptyings: f64,
}

pub(super) struct Plan {
    pub(super) blocks: Vec<Block>,
    pub(super) bound: Bound,
}

/// The most trips, and the most emptyings of a basket, that an answer lists.
const MOST: f64 = 20_000.0;

pub(super) fn plan(
    round: &Recharge,
    cleaned: &[Cleaned],
    batches: &[Mixed],
) -> Result<Plan, Refusal> {
    check_baskets(round, cleaned)?;
    check_number(round, cleaned)?;
    let mut plan = Plan { blocks: Vec::new(), bound: Bound::default() };
    for (number, batch) in batches.iter().enumerate() {
        let parts: Vec<Parts> =
            batch.sumps.iter().map(|i| Parts::of(round, *i, &cleaned[*i])).collect();
        let packing = Packing {
            items: parts.iter().map(|p| [p.rest.clean, p.rest.dirty, p.rest.solids]).collect(),
            capacity: [
                round.carrier.clean_tank.get(),
                round.carrier.usable(),
                round.basket_a_trip(),
            ],
            charge: round
                .empties_on_the_way()
                .then(|| Charge { direction: 2, portion: round.carrier.solids_basket.get() }),
        };
        let packed = packing.solve();
        plan.bound.trips += packed.at_least;
        plan.bound.basket_emptyings += packed.charge_at_least;
        for mut bin in packed.bins {
            bin.sort_unstable();
            let block = block(number, bin.iter().map(|place| &parts[*place]));
            plan.bound.trips += block.before.len() + block.after.len();
            let full = block.before.iter().map(|trip| round.basket_emptyings(trip.solids()));
            plan.bound.basket_emptyings += full.sum::<f64>();
            plan.blocks.push(block);
        }
    }
    Ok(plan)
}

/// The trips that serve the sumps of a bin. Those with full tanks to fetch or
/// bring come first, so that they wait for nobody.
fn block<'a>(batch: usize, parts: impl Iterator<Item = &'a Parts>) -> Block {
    let (large, small): (Vec<&Parts>, Vec<&Parts>) = parts.partition(|p| p.is_large());
    let full = |load: &Load, times: usize| vec![Trip { batch, loads: vec![load.clone()] }; times];
    Block {
        before: large.iter().flat_map(|p| full(&p.full_dirty, p.dirty_trips)).collect(),
        after: large.iter().flat_map(|p| full(&p.full_clean, p.clean_trips)).collect(),
        shared: Trip { batch, loads: large.iter().chain(&small).map(|p| p.rest.clone()).collect() },
    }
}

/// The service of a sump, parted into loads that the tanks hold.
struct Parts {
    full_dirty: Load,
    dirty_trips: usize,
    rest: Load,
    full_clean: Load,
    clean_trips: usize,
}

impl Parts {
    fn of(round: &Recharge, sump: usize, cleaned: &Cleaned) -> Self {
        let (clean_tank, usable) = (round.carrier.clean_tank.get(), round.carrier.usable());
        let (dirty, clean) = (cleaned.dirty(), cleaned.refill());
        let solids = round.sumps[sump].solids.get();
        let (dirty_trips, clean_trips) = (full_tanks(dirty, usable), full_tanks(clean, clean_tank));
        // Chips come along evenly with what is sucked out.
        let solids_of = |part: f64| if dirty > 0.0 { solids * part / dirty } else { 0.0 };
        let left = |all: f64, trips: f64, tank: f64| (all - trips * tank).max(0.0);
        let rest = Load {
            sump,
            clean: left(clean, clean_trips, clean_tank),
            dirty: left(dirty, dirty_trips, usable),
            solids: left(solids, dirty_trips, solids_of(usable)),
        };
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a whole number of trips, held below 20,000 before"
        )]
        let whole = |trips: f64| trips as usize;
        Self {
            full_dirty: Load { sump, clean: 0.0, dirty: usable, solids: solids_of(usable) },
            dirty_trips: whole(dirty_trips),
            rest,
            full_clean: Load { sump, clean: clean_tank, dirty: 0.0, solids: 0.0 },
            clean_trips: whole(clean_trips),
        }
    }

    fn is_large(&self) -> bool {
        self.dirty_trips + self.clean_trips > 0
    }
}

/// How many full tanks travel alone; what is left, a full tank at most, shares
/// a trip.
fn full_tanks(volume: f64, tank: f64) -> f64 {
    (portions(volume, tank) - 1.0).max(0.0)
}

impl Recharge {
    pub(super) fn empties_on_the_way(&self) -> bool {
        self.times.basket_emptying_minutes.is_some()
    }

    /// The chips that a trip may fetch, kg.
    fn basket_a_trip(&self) -> f64 {
        if self.empties_on_the_way() { f64::INFINITY } else { self.carrier.solids_basket.get() }
    }

    /// How often the basket is emptied on a trip that fetches `solids` kg.
    pub(super) fn basket_emptyings(&self, solids: f64) -> f64 {
        portions(solids, self.carrier.solids_basket.get())
    }
}

/// Where the basket is emptied at the station only, no load may be beyond it.
fn check_baskets(round: &Recharge, cleaned: &[Cleaned]) -> Result<(), Refusal> {
    let mut faults = Faults::default();
    for (i, cleaned) in cleaned.iter().enumerate() {
        let parts = (round.sumps[i].solids.get(), cleaned.dirty(), round.carrier.usable());
        let (solids, dirty, usable) = parts;
        let heaviest = if dirty > usable { solids * usable / dirty } else { solids };
        if !fits(heaviest, round.basket_a_trip()) {
            let detail = "The chips of {} come to {} on one trip, beyond the basket's rating of {}. \
                          Say how long emptying the basket takes (basket_emptying_minutes), so that \
                          it can be emptied on the way.";
            let detail = Sentence::new(detail)
                .say(round.sumps[i].name.clone())
                .with(Measure::of(Mass::ROW, heaviest))
                .with(round.carrier.solids_basket.measure());
            faults.add(format!("/sumps/{i}/solids"), detail);
        }
    }
    faults.or_refuse(Kind::Unreachable)
}

/// A round that nobody would drive is refused before it is listed.
fn check_number(round: &Recharge, cleaned: &[Cleaned]) -> Result<(), Refusal> {
    let (clean_tank, usable) = (round.carrier.clean_tank.get(), round.carrier.usable());
    let trips = cleaned
        .iter()
        .map(|c| 1.0 + full_tanks(c.dirty(), usable) + full_tanks(c.refill(), clean_tank));
    let emptyings = round.sumps.iter().map(|sump| round.basket_emptyings(sump.solids.get()));
    let (trips, emptyings) = (trips.sum::<f64>(), emptyings.sum::<f64>());
    let most = trips.max(emptyings);
    if most <= MOST {
        return Ok(());
    }
    let detail = "This round would take {} trips or emptyings of the basket, and an answer lists up to {}. Check the units of the tanks and the sumps.";
    let detail = Sentence::new(detail).with(Measure::bare(most)).with(Measure::bare(MOST));
    Err(Refusal::new(Kind::Inconsistent, "/carrier", detail))
}
