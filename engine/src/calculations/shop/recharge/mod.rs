//! A round of clean-outs: the batches to prepare, the trips, and the hours.
//!
//! *On Saturday we clean out and refill fourteen machines. How much of what do I
//! mix beforehand, how often do I go, when is each machine back at work?*
//!
//! With V the working volume of a sump (L), c_t its target, V₀ what is in it, h what
//! stays in it when it is emptied (L) and c_h its concentration (% by volume), d the
//! dose of system cleaner as a share, f the volume of a rinse (L) with concentration
//! c_f, and c_b that of the refill:
//!
//! 1. cleaner that circulates mixes with all of it: c_h ← c₀/(1 + d), and of the old
//!    fluid in the residue 1/(1 + d) remains
//! 2. after each rinse, well mixed: c_h ← (h·c_h + f·c_f)/(h + f), and of the old
//!    fluid in the residue h/(h + f) remains
//! 3. refill: V − h at c_b = (V·c_t − h·c_h)/(V − h)
//! 4. taken out: V₀·(1 + d) − h, and every rinse
//! 5. on each trip: Σ clean ≤ what the vessels for clean fluid hold, Σ dirty ≤ the
//!    same of those for dirty fluid, chips ≤ Σ min(rated load, usable volume × bulk
//!    density), which may be emptied on the way
//!
//! The work at a sump follows the order of DGUV Regel 109-003: system cleaner
//! circulated, drained, cleaned out, rinsed with a weak mix of the product that comes
//! next, filled.
//!
//! Sumps of one product whose c_b lie within the tolerance share a batch, halfway
//! between the strongest and the weakest: none is off by more than half the
//! tolerance. Batches are made as in [`blend`](crate::calculations::recycling::blend), in equal mixes where one
//! would be too large for its vessel; where stocks do not suffice for each batch to
//! take what it likes best, one linear programme shares them out.
//!
//! All vessels go along on a trip, which carries one batch. A sump that fits into them
//! is done on one trip; a larger one takes full loads on trips of its own, dirty ones
//! first, and what is left travels like any other sump. Of all such plans one with the
//! fewest trips, and then the fewest emptyings of the vessels for chips, is found
//! ([`numerics::packing`](crate::numerics::packing)): exhaustively up to 14 sumps
//! a batch, beyond it a good one with the bound beside it. The trips are then put
//! in an order that washes hoses once between two products and seldom empties the
//! dirty fluid, which stays where the next trip's may go on top. Without vessels there
//! are batches, quantities and steps, and no trips.
//!
//! Assumes that volumes add, that cleaner and rinses mix well with the residue, and
//! that chips take no room among dirty fluid. Valid for sumps that are refilled at
//! once. Source: ideal mixing in steps, h/(h + f) a step, which tends to e^−n
//! for n times the residue in many small steps (as of a recirculated tank: Gage and
//! Bidwell); the work itself is common practice, no source.

mod answer;
mod assumptions;
mod batches;
mod cautions;
mod checks;
mod dilution;
mod findings;
mod held;
mod job_sheet;
mod ledger;
mod mixed;
mod picture;
mod preparing;
mod question;
mod rinses;
mod route;
mod sheet;
mod statement;
mod timeline;
mod trips;
mod under_way;

pub use answer::{
    OtherWayTakes, RechargeAnswer, RoundBatch, RoundTrip, SharesLeft, SumpRecharged, SumpRefill,
};
pub use question::{
    AnotherWay, FluidNow, Recharge, Rinse, RoundTimes, SumpToClean, SystemCleaner, Vessel,
    VesselUse,
};
pub use sheet::{SheetAction, SheetStep};

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::fluid::sump::SumpAfter;
use crate::job_sheet::MakeSheet;
use crate::quantity::{Concentration, Count, Hours, Mark, Minutes, Quantity, Share, Volume};
use crate::text::{Refusal, Sentence, filed, said, try_said};
use dilution::Cleaned;
use mixed::Mixed;

impl Calculation for Recharge {
    const NAME: &'static str = "recharge";
    const SUMMARY: &'static str = "Clean out and refill a round of sumps: the batches to prepare, \
                                   the trips with the shop's own vessels, and the hours";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/recharge.json");
    const SHEET: Option<MakeSheet<Self, RechargeAnswer>> = Some(|_, answer| answer.job_sheet());
    type Answer = RechargeAnswer;
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);

    fn calculate(&self) -> Result<Outcome<RechargeAnswer>, Refusal> {
        self.check()?;
        let stocks = self.plain_stocks();
        let left = rinses::after_drawing(self, &stocks)?;
        let (rinse_mixes, left) = rinses::mixes(self, left)?;
        let cleaned: Vec<Cleaned> = self
            .sumps
            .iter()
            .enumerate()
            .map(|(i, sump)| Cleaned::of(sump, &rinses::of_sump(self, &stocks, &rinse_mixes, i)))
            .collect();
        let batches = batches::batches(self, &left, &cleaned)?;
        let plan = trips::plan(self, &cleaned, &batches)?;
        let trips = route::route(self, plan.blocks, &batches);
        let mixes = (batches.as_slice(), rinse_mixes.as_slice());
        let walked = timeline::walk(self, &stocks, &cleaned, mixes, &trips)?;
        let balance = ledger::balance(self, &stocks, &cleaned, mixes, &trips)?;
        let cautions = try_said(|| self.cautions(&stocks, &cleaned, mixes, walked.most_chips))?;
        let sumps = self.sumps.iter().zip(&cleaned).enumerate();
        let sumps = sumps.map(|(i, (sump, cleaned))| {
            let out_of_service = self.is_timed().then(|| walked.out_of_service(i));
            recharged(sump, cleaned, &batches, i, out_of_service)
        });
        let hours_at_least = walked.minutes_at_least(self, &plan.bound, &trips, &batches) / 60.0;
        let hours = |hours: f64| self.is_timed().then(|| Hours::of(hours)).transpose();
        let with_vessels = self.vessels.is_some();
        let trips_at_least =
            with_vessels.then(|| Count::from_usize(plan.bound.trips)).transpose()?;
        let all_mixes = || batches.iter().chain(&rinse_mixes);
        let made = |mixes: &[Mixed]| {
            mixes.iter().map(|mix| mix.answer(self, &stocks)).collect::<Result<_, _>>()
        };
        let answer = RechargeAnswer {
            cost: mixed::cost(&stocks, all_mixes())?,
            sumps: sumps.collect::<Result<_, _>>()?,
            trips: with_vessels.then(|| walked.trips(self, &trips)).transpose()?,
            trips_at_least,
            proven: with_vessels.then_some(trips.len() == plan.bound.trips),
            crew_hours: hours(walked.minutes / 60.0)?,
            crew_hours_at_least: hours(hours_at_least.min(walked.minutes / 60.0))?,
            another_way: self.other_way(&cleaned)?,
            begins_hours_before: self.begins_before(),
            batches: made(&batches)?,
            rinse_mixes: made(&rinse_mixes)?,
            sheet: walked.steps,
        };
        Ok(Outcome {
            findings: said(|| self.findings(&cleaned)),
            answer,
            balance: Some(balance),
            assumptions: filed(|| self.assumptions(&stocks, &batches)),
            cautions,
        })
    }

    /// Batches and trips of so many machines.
    fn work_ahead(&self) -> usize {
        /// A machine in all that is planned, in handled numbers.
        const A_MACHINE: usize = 150;
        A_MACHINE * self.sumps.len()
    }

    fn statement(&self, answer: &RechargeAnswer) -> Sentence {
        answer.statement()
    }
}

/// What is done to the sump at place `i`, and what it comes to.
fn recharged(
    sump: &SumpToClean,
    cleaned: &Cleaned,
    batches: &[Mixed],
    i: usize,
    out_of_service: Option<f64>,
) -> Result<SumpRecharged, Refusal> {
    let number = batches.iter().position(|batch| batch.sumps.contains(&i)).unwrap_or_default();
    let batch = &batches[number];
    let after = cleaned.after(batch);
    let c_after = cleaned.comes_to(batch.concentration);
    let mark = sump.factor.and_then(|factor| Mark::of(c_after / factor.get()).ok());
    let cleaner = sump.cleaner.map(|_| Volume::of(cleaned.cleaner.volume));
    Ok(SumpRecharged {
        name: sump.name.to_string(),
        cleaner: cleaner.transpose()?,
        removed: Volume::of(cleaned.pumped.volume)?,
        rinsed: Volume::of(cleaned.spent.volume)?,
        refill: SumpRefill {
            batch: Count::from_usize(number + 1)?,
            volume: Volume::of(cleaned.refill())?,
            concentration: Concentration::of(batch.concentration)?,
        },
        after: SumpAfter {
            volume: Volume::of(cleaned.v)?,
            concentration: Concentration::of(c_after)?,
            mark,
            properties: after.properties()?,
        },
        misses_by: Share::of((c_after - sump.target.get()).abs())?,
        old_fluid_left: Share::of_fraction(cleaned.old_fluid_left)?,
        properties_left: cleaned.properties_left()?,
        cleaner_left: cleaned.cleaner_left()?,
        out_of_service_minutes: out_of_service.map(Minutes::of).transpose()?,
    })
}

impl Recharge {
    /// How long the other way takes: so much a sump, and moving its fluid.
    fn other_way(&self, cleaned: &[Cleaned]) -> Result<Option<OtherWayTakes>, Refusal> {
        let Some(way) = &self.another_way else { return Ok(None) };
        let moved: f64 = cleaned.iter().map(|c| c.dirty() + c.rinse.volume + c.refill()).sum();
        let moving = way.rate.map_or(0.0, |rate| moved / rate.get());
        let at_sumps: f64 = cleaned.iter().map(|_| way.minutes_a_sump.get()).sum();
        let crew_hours = Hours::of((at_sumps + moving) / 60.0)?;
        Ok(Some(OtherWayTakes { name: way.name.to_string(), crew_hours }))
    }
}
