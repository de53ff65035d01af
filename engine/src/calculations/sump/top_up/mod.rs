//! What to add to a sump to bring it to its level and its strength.
//!
//! *The sump is down to 140 of 200 L and reads 5.6. What do I pour in?*
//!
//! With V₀ and c₀ what is in the sump (L, % by volume), V_t and c_t the target, D
//! what is drained (L), A what is added (L) and c_A its concentration:
//!
//! 1. volume: V₀ − D + A = V_t
//! 2. concentrate: c₀·(V₀ − D) + c_A·A = c_t·V_t
//!
//! c_A is at most what a premix may be. D is 0 wherever an addition alone brings the
//! fluid into its band, and wherever it is too rich: weak make-up thins it while the
//! machine works, and none of it is thrown away. Else D is the least for which c_A
//! can be made. Where nothing may be drained, c_A is as near as it comes. The
//! addition is then a [`batch`] of A litres at c_A: the premix.
//!
//! Assumes that the sump is well mixed when it is drained and after it is
//! filled, and that volumes add. Valid for any sump of one product.
//! Source: the Pearson square, as in [`batch`]; a premix instead of neat water
//! or neat concentrate is guidance of the UK's HSE and lubricant trade, at
//! second hand; how strong a premix may be is common practice, no source.

mod answer;
mod assumptions;
mod balance;
mod cautions;
mod checks;
mod findings;
mod job;
mod job_sheet;
mod measured;
mod picture;
mod plan;
mod question;
mod reach;
mod statement;
mod steps;
mod weak_make_up;

pub use answer::{StockAdded, TopUpAnswer, WeakMakeUp};
pub use question::{Draining, FilledVessel, KeptBand, SumpTarget, TopUp};
pub use steps::{TopUpAction, TopUpStep};

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::fluid::band::{Band, Standing};
use crate::fluid::batch::Premix;
use crate::fluid::practice::PREMIX_AT_MOST;
use crate::fluid::properties::Limits;
use crate::fluid::stock::Stock;
use crate::fluid::sump::SumpAfter;
use crate::fluid::{Fluid, batch, parts_of_water};
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::job_sheet::MakeSheet;
use crate::quantity::{Concentration, Quantity, Share, Volume};
use crate::text::{Refusal, Sentence, filed, said};

impl Calculation for TopUp {
    const NAME: &'static str = "top-up";
    const SUMMARY: &'static str = "What to add to a sump to bring it to its level and its strength, \
                                   and what the instrument must read afterwards";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/top-up.json");
    const IS_QUICK: bool = true;
    const SHEET: Option<MakeSheet<Self, TopUpAnswer>> = Some(|_, answer| answer.job_sheet());
    type Answer = TopUpAnswer;
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);

    fn calculate(&self) -> Result<Outcome<TopUpAnswer>, Refusal> {
        let stocks = self.stocks();
        self.check(&stocks)?;
        let job = self.job()?;
        let plan = plan::plan(&job, &stocks, self.draining())?;

        let premix = premix(plan.add, plan.concentrate)?;
        let mut volumes = match &premix {
            Some(premix) => {
                let c_a = premix.concentration.get();
                batch::recipe(&stocks, plan.add, c_a, &Limits::default(), None)?.volumes
            }
            None => vec![0.0; stocks.len()],
        };
        // A billionth of a drop is rounding, and nobody is to pour it.
        volumes.iter_mut().filter(|v| **v < ROUNDING * job.v_t).for_each(|v| *v = 0.0);
        let before = Fluid::of(job.v_0, job.c_0, DENSITY_AT_20_CELSIUS, &self.sump.properties);
        let share = if job.v_0 > 0.0 { plan.drain / job.v_0 } else { 0.0 };
        let drained = before.clone() * share;
        let poured: Vec<Fluid> = stocks.iter().zip(&volumes).map(|(s, v)| s.fluid(*v)).collect();
        let after = filled(&before, &drained, &poured, &plan);
        let comes_to = Concentration::of(plan.comes_to)?;
        let mark = self.sump.reading.as_ref().and_then(|r| r.mark(comes_to, "/sump/reading").ok());
        let additions = stocks
            .iter()
            .zip(&volumes)
            .map(|(stock, v)| Ok(StockAdded { name: stock.name.clone(), volume: Volume::of(*v)? }));
        let add = additions.collect::<Result<Vec<_>, Refusal>>()?;
        let stocks = stocks.as_ref();
        let measured = self.measured(&job, &plan, stocks, &volumes);
        let work = steps::Work {
            vessel: self.vessel(),
            stocks,
            volumes: &volumes,
            premix: premix.as_ref(),
            comes_to,
            mark,
            reading: self.sump.reading.as_ref(),
            measured: &measured,
        };
        let answer = TopUpAnswer {
            standing: self.standing(&job)?,
            drain: Volume::of(plan.drain)?,
            weak_make_up: self.weak_make_up(&job, &plan, stocks)?,
            steps: steps::steps(&job, &plan, &work)?,
            add,
            premix,
            after: SumpAfter {
                volume: Volume::of(plan.holds)?,
                concentration: comes_to,
                mark,
                properties: after.properties()?,
            },
            misses_by: Share::of((plan.comes_to - job.c_t).abs())?,
        };
        Ok(Outcome {
            findings: said(|| self.findings(&job, &plan, &answer, measured.comes_to)),
            balance: Some(balance::balance(stocks, &before, &drained, &poured, &after)?),
            assumptions: filed(|| self.assumptions(stocks)),
            cautions: said(|| self.cautions(&answer.steps)),
            answer,
        })
    }

    fn statement(&self, answer: &TopUpAnswer) -> Sentence {
        self.stated(answer)
    }
}

/// Less than this share of the sump is not poured.
const ROUNDING: f64 = 1e-12;

/// The addition as one premix; none when nothing is added.
fn premix(a: f64, concentrate: f64) -> Result<Option<Premix>, Refusal> {
    if a <= 0.0 {
        return Ok(None);
    }
    // Weaker than this is water, in any shop.
    const TRACE: f64 = 1e-9;
    let c_a = (concentrate / a).clamp(0.0, 100.0);
    let c_a = if c_a < TRACE { 0.0 } else { c_a };
    let (volume, concentration) = (Volume::of(a)?, Concentration::of(c_a)?);
    Ok(Some(Premix { volume, concentration, parts_of_water: parts_of_water(c_a) }))
}

/// The sump as it was promised, with the mass and the properties of what stayed
/// and what was poured.
fn filled(before: &Fluid, drained: &Fluid, poured: &[Fluid], plan: &plan::TopUpPlan) -> Fluid {
    let mut after = before.clone();
    after += &(drained.clone() * -1.0);
    poured.iter().for_each(|fluid| after += fluid);
    after.volume = plan.holds;
    after.concentrate = plan.holds * plan.comes_to / 100.0;
    after
}

impl TopUp {
    /// What is measured out of an answer, with the job and the plan that it is of.
    fn measured_of(
        &self,
        answer: &TopUpAnswer,
    ) -> Result<(job::Job, plan::TopUpPlan, measured::Measured), Refusal> {
        let (stocks, job) = (self.stocks(), self.job()?);
        let plan = plan::plan(&job, &stocks, self.draining())?;
        let volumes: Vec<f64> = answer.add.iter().map(|add| add.volume.get()).collect();
        let measured = self.measured(&job, &plan, &stocks, &volumes);
        Ok((job, plan, measured))
    }

    fn job(&self) -> Result<job::Job, Refusal> {
        Ok(job::Job {
            v_0: self.sump.volume.get(),
            // An empty sump is as strong as anything; its strength counts for nothing.
            c_0: self.sump.strength()?.map_or(0.0, Quantity::get),
            v_t: self.target.volume.unwrap_or(self.sump.capacity).get(),
            c_t: self.target.concentration.get(),
            band: self.band.map(|band| (band.low.get(), band.high.get())),
            works: self.vessel() == FilledVessel::Sump,
            strongest: match (self.premix_at_most, self.vessel()) {
                (Some(bound), _) => bound.get(),
                (None, FilledVessel::Sump) => PREMIX_AT_MOST,
                (None, FilledVessel::StirredTank) => 100.0,
            },
        })
    }

    fn standing(&self, job: &job::Job) -> Result<Option<Standing>, Refusal> {
        let c_0 = Concentration::of(job.c_0)?;
        Ok(self.full_band().filter(|_| job.v_0 > 0.0).map(|band| band.standing(c_0)))
    }

    /// The band with the target in it.
    fn full_band(&self) -> Option<Band> {
        let KeptBand { low, high } = self.band?;
        Some(Band { low, target: self.target.concentration, high })
    }

    /// The make-up that thins what is too rich after it has been filled up.
    fn weak_make_up(
        &self,
        job: &job::Job,
        plan: &plan::TopUpPlan,
        stocks: &[Stock],
    ) -> Result<Option<WeakMakeUp>, Refusal> {
        let (c_1, c_h) = (plan.comes_to, job.upper());
        let weakest = stocks.iter().map(|stock| stock.concentration.get()).fold(100.0, f64::min);
        if !job.works || c_1 <= c_h * (1.0 + 1e-9) || weakest >= c_h {
            return Ok(None);
        }
        let rich = weak_make_up::TooRich { volume: plan.holds, c_1, c_h };
        rich.make_up(weakest, self.losses.as_ref()).map(Some)
    }
}
