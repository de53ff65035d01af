//! The loads of a round packed into the fewest trips.

use super::dilution::Cleaned;
use super::mixed::Mixed;
use super::{Recharge, VesselUse};
use crate::numerics::packing::{Charge, Packing, fits, portions};
use crate::quantity::{Mass, Measure, Quantity};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal};

/// What a trip does at one machine.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Load {
    /// The place of the sump.
    pub(super) sump: usize,
    /// What it is refilled with, L.
    pub(super) clean: f64,
    /// What is taken out, L.
    pub(super) dirty: f64,
    /// The chips that come along, kg.
    pub(super) chips: f64,
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

    pub(super) fn chips(&self) -> f64 {
        self.loads.iter().map(|load| load.chips).sum()
    }
}

/// Trips that follow one another.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Block {
    /// Full loads out of sumps that hold more than the vessels for dirty fluid.
    pub(super) before: Vec<Trip>,
    /// Whole sumps, and what is left of the larger ones.
    pub(super) shared: Trip,
    /// Full loads into sumps that take more than the vessels for clean fluid.
    pub(super) after: Vec<Trip>,
}

/// What no plan of this kind goes below.
#[derive(Debug, Default)]
pub(super) struct Bound {
    pub(super) trips: usize,
    /// Emptyings of the vessels for chips with the fewest trips.
    pub(super) chip_emptyings: f64,
}

pub(super) struct TripPlan {
    pub(super) blocks: Vec<Block>,
    pub(super) bound: Bound,
}

/// The most trips, and the most emptyings of the vessels for chips, that an answer lists.
const MOST: f64 = 20_000.0;
/// The most fillings and emptyings of single vessels that it lists.
const MOST_MOVES: f64 = 100_000.0;

pub(super) fn plan(
    round: &Recharge,
    cleaned: &[Cleaned],
    batches: &[Mixed],
) -> Result<TripPlan, Refusal> {
    check_chips(round, cleaned)?;
    check_number(round, cleaned)?;
    if round.vessels.is_none() {
        return Ok(at_the_machines(round, cleaned, batches));
    }
    let hold = round.hold();
    let mut plan = TripPlan { blocks: Vec::new(), bound: Bound::default() };
    for (number, batch) in batches.iter().enumerate() {
        let parts: Vec<LoadParts> =
            batch.sumps.iter().map(|i| LoadParts::of(round, *i, &cleaned[*i])).collect();
        let packing = Packing {
            items: parts.iter().map(|p| [p.rest.clean, p.rest.dirty, p.rest.chips]).collect(),
            capacity: [hold.clean, hold.dirty, round.chips_a_trip()],
            charge: round
                .empties_on_the_way()
                .then_some(Charge { direction: 2, portion: hold.chips }),
        };
        let packed = packing.solve();
        plan.bound.trips += packed.at_least;
        plan.bound.chip_emptyings += packed.charge_at_least;
        for mut bin in packed.bins {
            bin.sort_unstable();
            let block = block(number, bin.iter().map(|place| &parts[*place]));
            plan.bound.trips += block.before.len() + block.after.len();
            let full = block.before.iter().map(|trip| round.chip_emptyings(trip.chips()));
            plan.bound.chip_emptyings += full.sum::<f64>();
            plan.blocks.push(block);
        }
    }
    Ok(plan)
}

/// Without vessels: the sumps of each batch one after the other, and no trips.
fn at_the_machines(round: &Recharge, cleaned: &[Cleaned], batches: &[Mixed]) -> TripPlan {
    let blocks = batches.iter().enumerate().map(|(number, batch)| {
        let parts: Vec<LoadParts> =
            batch.sumps.iter().map(|i| LoadParts::of(round, *i, &cleaned[*i])).collect();
        block(number, parts.iter())
    });
    TripPlan { blocks: blocks.collect(), bound: Bound::default() }
}

/// The trips that serve the sumps of a bin. Those with full loads to fetch or
/// bring come first, so that they wait for nobody.
fn block<'a>(batch: usize, parts: impl Iterator<Item = &'a LoadParts>) -> Block {
    let (large, small): (Vec<&LoadParts>, Vec<&LoadParts>) = parts.partition(|p| p.is_large());
    let full = |load: &Load, times: usize| vec![Trip { batch, loads: vec![load.clone()] }; times];
    Block {
        before: large.iter().flat_map(|p| full(&p.full_dirty, p.dirty_trips)).collect(),
        after: large.iter().flat_map(|p| full(&p.full_clean, p.clean_trips)).collect(),
        shared: Trip { batch, loads: large.iter().chain(&small).map(|p| p.rest.clone()).collect() },
    }
}

/// The service of a sump, parted into loads that the vessels hold.
struct LoadParts {
    full_dirty: Load,
    dirty_trips: usize,
    rest: Load,
    full_clean: Load,
    clean_trips: usize,
}

impl LoadParts {
    fn of(round: &Recharge, sump: usize, cleaned: &Cleaned) -> Self {
        let hold = round.hold();
        let (dirty, clean) = (cleaned.dirty(), cleaned.refill());
        let chips = round.sumps[sump].chips();
        let (dirty_trips, clean_trips) =
            (full_loads(dirty, hold.dirty), full_loads(clean, hold.clean));
        let full_dirty = if dirty_trips > 0.0 { hold.dirty } else { 0.0 };
        let full_clean = if clean_trips > 0.0 { hold.clean } else { 0.0 };
        // Chips come along evenly with what is taken out.
        let chips_of = |part: f64| if dirty > 0.0 { chips * part / dirty } else { 0.0 };
        let left = |all: f64, trips: f64, load: f64| (all - trips * load).max(0.0);
        let rest = Load {
            sump,
            clean: left(clean, clean_trips, full_clean),
            dirty: left(dirty, dirty_trips, full_dirty),
            chips: left(chips, dirty_trips, chips_of(full_dirty)),
        };
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a whole number of trips, held below 20,000 before"
        )]
        let whole = |trips: f64| trips as usize;
        Self {
            full_dirty: Load { sump, clean: 0.0, dirty: full_dirty, chips: chips_of(full_dirty) },
            dirty_trips: whole(dirty_trips),
            rest,
            full_clean: Load { sump, clean: full_clean, dirty: 0.0, chips: 0.0 },
            clean_trips: whole(clean_trips),
        }
    }

    fn is_large(&self) -> bool {
        self.dirty_trips + self.clean_trips > 0
    }
}

/// How many full loads travel alone; what is left, a full load at most, shares
/// a trip.
fn full_loads(volume: f64, load: f64) -> f64 {
    (portions(volume, load) - 1.0).max(0.0)
}

impl Recharge {
    /// The chips that a trip may fetch, kg.
    fn chips_a_trip(&self) -> f64 {
        if self.empties_on_the_way() { f64::INFINITY } else { self.hold().chips }
    }

    /// How often the vessels for chips are emptied on a trip that fetches `chips` kg.
    pub(super) fn chip_emptyings(&self, chips: f64) -> f64 {
        if self.has_vessel_for(VesselUse::Chips) { portions(chips, self.hold().chips) } else { 0.0 }
    }
}

/// Where vessels for chips are emptied at the end of a trip only, no load may be
/// beyond them.
fn check_chips(round: &Recharge, cleaned: &[Cleaned]) -> Result<(), Refusal> {
    let mut faults = Faults::default();
    let (hold, most) = (round.hold(), round.chips_a_trip());
    for (i, cleaned) in cleaned.iter().enumerate() {
        let (chips, dirty) = (round.sumps[i].chips(), cleaned.dirty());
        let heaviest = if dirty > hold.dirty { chips * hold.dirty / dirty } else { chips };
        if !fits(heaviest, most) {
            let detail = sentence!(
                "The chips of {} come to {} on one trip, beyond the {} that the vessels for chips \
                 take. Give more of them, or say that they are emptied on the way \
                 (emptied_on_the_way).",
                &round.sumps[i].name,
                Mass::measure_of(heaviest),
                Mass::measure_of(most)
            );
            faults.add(format!("/sumps/{i}/chips"), detail);
        }
    }
    faults.or_refuse(Kind::Unreachable)
}

/// A round that nobody would do is refused before it is listed.
#[expect(clippy::cast_precision_loss, reason = "a list has at most 20,000 entries")]
fn check_number(round: &Recharge, cleaned: &[Cleaned]) -> Result<(), Refusal> {
    let hold = round.hold();
    let trips = cleaned
        .iter()
        .map(|c| 1.0 + full_loads(c.dirty(), hold.dirty) + full_loads(c.refill(), hold.clean));
    let emptyings = round.sumps.iter().map(|sump| round.chip_emptyings(sump.chips()));
    let (trips, emptyings) = (trips.sum::<f64>(), emptyings.sum::<f64>());
    let most = trips.max(emptyings);
    let vessels = round.vessels.as_ref().map_or(0, Vec::len) as f64;
    if most <= MOST && most * vessels <= MOST_MOVES {
        return Ok(());
    }
    let detail = sentence!(
        "This round would take {} trips or emptyings with {} vessels, and an answer lists up to {} \
         trips and {} fillings and emptyings of single vessels. Check the units of the vessels and \
         the sumps.",
        Measure::bare(most),
        Measure::bare(vessels),
        Measure::bare(MOST),
        Measure::bare(MOST_MOVES)
    );
    Err(Refusal::new(Kind::Inconsistent, "/vessels", detail))
}
