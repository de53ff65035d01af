//! A round of clean-outs: the batches to prepare, the trips, and the hours.
//!
//! *On Saturday we suck out and refill fourteen machines. How much of what do I
//! mix beforehand, how often do I drive, when is each machine back at work?*
//!
//! With V the working volume of a sump (L), c_t its target, h what the suction
//! cannot reach (L) and c_h its concentration (% by volume), f the volume of a
//! flush (L) with concentration c_f, and c_b that of the refill:
//!
//! 1. after each flush, well mixed: c_h ← (h·c_h + f·c_f)/(h + f), and of the old
//!    fluid in the residue h/(h + f) remains
//! 2. refill: V − h at c_b = (V·c_t − h·c_h)/(V − h)
//! 3. into the dirty tank: all that was in the sump less h, and every flush
//! 4. on each trip: Σ clean ≤ clean tank, Σ dirty ≤ usable share of the dirty
//!    tank, chips ≤ basket, which may be emptied on the way
//!
//! Sumps of one product whose c_b lie within the tolerance share a batch, halfway
//! between the strongest and the weakest: none is off by more than half the
//! tolerance. Batches are made as in [`blend`](super::blend); where stocks do not
//! suffice for each batch to take what it likes best, one linear programme shares
//! them out.
//!
//! A trip carries one batch. A sump that fits into the tanks is done on one trip;
//! a larger one takes full tanks on trips of its own, dirty ones first, and what
//! is left travels like any other sump. Of all such plans one with the fewest
//! trips, and then the fewest emptyings of the basket, is found
//! ([`numerics::packing`](crate::numerics::packing)): exhaustively up to 14 sumps
//! a batch, beyond it a good one with the bound beside it. The trips are then put
//! in an order that seldom empties the dirty tank, which keeps what it fetched
//! where the next trip's may go on top.
//!
//! Assumes that volumes add, that a flush mixes well with the residue, and that
//! chips take no room in the dirty tank. Valid for sumps that are refilled at
//! once. Source: ideal mixing in steps, h/(h + f) a step, which tends to e^−n
//! for n times the residue in many small steps (as of a recirculated tank: Gage and
//! Bidwell); the work itself is common practice, no source.

use super::blend::Goal;
use super::top_up::SumpAfter;
use crate::calculation::{Calculation, Caution, Outcome};
use crate::properties::Limits;
use crate::quantity::{Concentration, Count, Hours, Minutes, Quantity, Share, Volume};
use crate::refusal::Refusal;
use dilution::Cleaned;
use mixed::Mixed;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

mod answer;
mod assumptions;
mod batches;
mod carrier;
mod checks;
mod dilution;
mod ledger;
mod mixed;
mod route;
mod sheet;
mod stocks;
mod sump;
mod timeline;
mod trips;
mod walk;

pub use answer::{Batch, Haul, RechargeAnswer, Refill, SharesLeft, SumpRecharged};
pub use carrier::{Carrier, RoundTimes};
pub use sheet::{SheetAction, SheetStep};
pub use stocks::ProductStock;
pub use sump::{FluidNow, Flush, SumpToClean};

/// A round of clean-outs, and what there is to do it with.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Recharge {
    /// The sumps to clean out and refill.
    #[schema(min_items = 1, max_items = 20000)]
    pub sumps: Vec<SumpToClean>,
    /// What there is to mix from, most preferred first.
    #[schema(min_items = 1, max_items = 20000)]
    pub stocks: Vec<ProductStock>,
    /// What every batch may carry of each property. The stocks say what they carry.
    #[serde(skip_serializing_if = "Limits::is_empty", default)]
    pub limits: Limits,
    /// What to aim for where several batches would do; the least cost when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub goal: Option<Goal>,
    /// What brings clean fluid and fetches dirty.
    pub carrier: Carrier,
    /// How long each piece of the work takes.
    pub times: RoundTimes,
    /// By how many points refills of one product may differ in strength and
    /// still share a batch; 0.2 when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub strength_tolerance: Option<Share>,
    /// Whether dirty fluid of one product may stay in the dirty tank when the
    /// next trip fetches another; kept apart when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mixing_dirty: Option<bool>,
}

impl Calculation for Recharge {
    const NAME: &'static str = "recharge";
    const SUMMARY: &'static str = "Clean out and refill a round of sumps: the batches to prepare, \
                                   the trips with the carrier, and the hours";
    const EXAMPLE: &'static str = include_str!("../../../examples/recharge.json");
    type Answer = RechargeAnswer;

    fn calculate(&self) -> Result<Outcome<RechargeAnswer>, Refusal> {
        self.check()?;
        let stocks = self.plain_stocks();
        let cleaned: Vec<Cleaned> =
            self.sumps.iter().map(|sump| Cleaned::of(sump, &stocks)).collect();
        let batches = batches::batches(self, &stocks, &cleaned)?;
        let plan = trips::plan(self, &cleaned, &batches)?;
        let trips = route::route(self, plan.blocks, &batches);
        let walked = timeline::walk(self, &stocks, &cleaned, &batches, &trips)?;
        let balance = ledger::balance(self, &stocks, &cleaned, &batches, &trips)?;
        let sumps = self.sumps.iter().zip(&cleaned).enumerate();
        let sumps = sumps.map(|(i, (sump, cleaned))| {
            recharged(sump, cleaned, &batches, i, walked.out_of_service(i))
        });
        let hours_at_least = walked.minutes_at_least(self, &plan.bound, &trips, &batches) / 60.0;
        let answer = RechargeAnswer {
            cost: mixed::cost(&stocks, &batches)?,
            sumps: sumps.collect::<Result<_, _>>()?,
            hauls: walked.hauls(self, &trips)?,
            hauls_at_least: count(plan.bound.trips)?,
            proven: trips.len() == plan.bound.trips,
            crew_hours: Hours::of(walked.minutes / 60.0)?,
            crew_hours_at_least: Hours::of(hours_at_least.min(walked.minutes / 60.0))?,
            by_hand_hours: self.by_hand_hours()?,
            sheet: walked.steps,
            batches: batches
                .iter()
                .map(|batch| batch.answer(self, &stocks))
                .collect::<Result<_, _>>()?,
        };
        Ok(Outcome {
            findings: Vec::new(),
            answer,
            balance: Some(balance),
            assumptions: self.assumptions(&stocks, &batches),
            cautions: CAUTIONS.to_vec(),
        })
    }
}

/// What can hurt in any round.
const CAUTIONS: [Caution; 10] = [
    Caution::MACHINE,
    Caution::DIRTY_TANK,
    Caution::FULL_BASKET,
    Caution::SHARP_CHIPS,
    Caution::SKIN_AND_MIST,
    Caution::METAL_FINES,
    Caution::CONFINED_SPACE,
    Caution::BIOCIDE,
    Caution::CONCENTRATE,
    Caution::DRAINED_FLUID,
];

/// What is done to the sump at place `i`, and what it comes to.
fn recharged(
    sump: &SumpToClean,
    cleaned: &Cleaned,
    batches: &[Mixed],
    i: usize,
    out_of_service: f64,
) -> Result<SumpRecharged, Refusal> {
    let number = batches.iter().position(|batch| batch.sumps.contains(&i)).unwrap_or_default();
    let batch = &batches[number];
    let after = cleaned.after(batch);
    let c_after = cleaned.comes_to(batch.concentration);
    Ok(SumpRecharged {
        name: sump.name.clone(),
        removed: Volume::of(cleaned.pumped.volume)?,
        flushed: Volume::of(cleaned.spent.volume)?,
        refill: Refill {
            batch: count(number + 1)?,
            volume: Volume::of(cleaned.refill())?,
            concentration: Concentration::of(batch.concentration)?,
        },
        after: SumpAfter {
            volume: Volume::of(cleaned.v)?,
            concentration: Concentration::of(c_after)?,
            mark: None,
            properties: after.properties()?,
        },
        misses_by: Share::of((c_after - sump.target.get()).abs())?,
        old_fluid_left: Share::of(cleaned.old_fluid_left * 100.0)?,
        properties_left: cleaned.properties_left()?,
        out_of_service_minutes: Minutes::of(out_of_service)?,
    })
}

/// A number of things, on its way out.
#[expect(clippy::cast_precision_loss, reason = "a list has at most 20,000 entries")]
fn count(things: usize) -> Result<Count, Refusal> {
    Count::of(things as f64)
}

impl Recharge {
    fn may_mix_dirty(&self) -> bool {
        self.mixing_dirty.unwrap_or(false)
    }

    /// How long the round takes by hand, where that is known for every sump.
    fn by_hand_hours(&self) -> Result<Option<Hours>, Refusal> {
        let each = self.sumps.iter().map(|sump| sump.by_hand_hours.or(self.times.by_hand_hours));
        let hours: Option<f64> = each.map(|hours| hours.map(Quantity::get)).sum();
        hours.map(Hours::of).transpose()
    }
}
