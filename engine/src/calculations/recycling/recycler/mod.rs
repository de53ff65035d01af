//! A recycler for dirty fluid: passes, hours, what comes out, and whether the
//! tanks hold the week.
//!
//! *Will tonight's dirty tank be clean by morning, what comes out of it, what do
//! I add to bring it on target, and do the tanks hold the week?*
//!
//! The fluid is followed as the materials that it is made of: the good fluid
//! (concentrate and water), free tramp oil, emulsified tramp oil, and each thing
//! dissolved or suspended. With m_i the amount of one of them (L or kg), r_si the
//! share of it that stage s removes, f_s the share of good fluid that leaves with
//! what the stage removes, V the volume (L) and q the flow (L/h):
//!
//! 1. a stage keeps (1 − f_s)(1 − r_si) of each material; ρ_i = Π_s (1 − r_si) and
//!    b = Π_s (1 − f_s) are what all stages keep
//! 2. single pass, after n passes: m_i·(b·ρ_i)ⁿ; the whole batch goes through again
//!    until every property is at its limit, so n is whole
//! 3. a pass takes max_s V_s/q_s hours, V_s being what comes to stage s: in series
//!    the slowest stage holds the rest back
//! 4. recirculating a well-mixed tank, dm_i/dn = −k_i·m_i + s_i·V/q with k_i = 1 − b·ρ_i,
//!    dn = q/V·dt turnovers and s_i what keeps coming in (kg/h). Without losses and
//!    sources a share 1 − exp(−η·n) is removed, with a source it settles at
//!    s/(q·η) with the time constant V/(q·η)
//! 5. stage s gives as waste what it does not keep of all that ever came to it
//! 6. correction: the largest share x of recovered fluid in a batch that is on
//!    target makes a batch of R/x from the R litres recovered ([`batch`](crate::fluid::batch)); where the
//!    tank is not stirred, what else goes in is no stronger than a premix may be
//! 7. the dirty tank D and the clean tank C: dD/dt = a − u, dC/dt = g·u − d, with
//!    a what arrives, d what is fetched, u ≤ V/hours while the recycler runs and
//!    less where D is empty or C full, g = litres of clean for each of dirty.
//!    Between events all of it is straight lines, so overflow and shortage are
//!    found to the moment
//! 8. the smallest dirty tank is the highest level of one that cannot run over
//!    (sequent peak, Rippl); the smallest clean tank and throughput are bisected to
//!    the last digits: a larger one is never worse
//!
//! Assumes that volumes add, that deliveries mix in the dirty tank, that
//! removal shares are the same on every pass, and that the recycler is stopped
//! while the clean tank is full. What a [`separation`](crate::calculations::recycling::separation) takes
//! out by size is finer after each stage and pass, so that its share of one pass is
//! the most that it takes out later. Valid for one product. Sources: turnovers of a
//! well-mixed tank, Gage and Bidwell (J. Water Health 16:449); sequent peak,
//! Rippl 1883, as in textbooks of hydrology (from memory); bands for dip slides,
//! UK HSE as they stand now; nitrite, TRGS 611.

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::fluid::Fluid;
use crate::fluid::balance::{Balance, StreamDirection};
use crate::job_sheet::MakeSheet;
use crate::quantity::{Concentration, DailyRate, Days, Hours, Quantity, Ratio, Share, Volume};
use crate::text::{Refusal, Sentence, filed, said, try_said};
use mixture::Mixture;
use stage_line::StageLine;
use treatment::Treatment;

mod answer;
mod assumptions;
mod bacteria;
mod cautions;
mod checks;
mod correction;
mod defaults;
mod findings;
mod job_sheet;
mod levels;
mod limited;
mod mixture;
mod moment;
mod passes;
mod picture;
mod plan;
mod question;
mod settling;
mod smallest;
mod stage_line;
mod statement;
mod treatment;
mod uncertain;
mod waste;

pub use answer::{
    BacteriaBand, BatchCorrection, OverflowRisk, RecoveredFluid, RecyclerAnswer, SettlingContent,
    SmallestPlant, StageWaste, TankFailure, TankLevels, TreatedBacteria,
};
pub use question::{
    BatchSource, CleanDemand, DeliveryDistribution, DeliverySpread, DirtyDelivery, RecycledTarget,
    Recycler, RecyclerFeed, RecyclerMode, RecyclerStage, RecyclerTank, RecyclerTanks, StageRemoval,
    StageWasteKind, TankMixing,
};

impl Calculation for Recycler {
    const NAME: &'static str = "recycler";
    const SUMMARY: &'static str = "Recycle dirty fluid: the passes and hours, what is recovered and \
                                   what is waste, the correction, and whether the tanks hold the \
                                   plan";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/recycler.json");
    const SHEET: Option<MakeSheet<Self, RecyclerAnswer>> = Some(Self::job_sheet);
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);
    type Answer = RecyclerAnswer;

    fn calculate(&self) -> Result<Outcome<RecyclerAnswer>, Refusal> {
        self.check()?;
        let mixture = self.mixture()?;
        let removed = self.removed()?;
        let line = StageLine::of(self, &removed, &mixture);
        let treatment = Treatment::of(self, &mixture, &line)?;
        let n = treatment.passes;
        let hours = treatment.hours(n);
        let rate = mixture.volume() / hours;
        let feed = mixture.fluid(&mixture.amounts);
        let recovered = mixture.fluid(&treatment.amounts(n));
        let wastes = waste::streams(self, &removed, &treatment, n);
        let corrected = correction::correct(self, &recovered)?;

        let plan = plan::RecyclerPlan::of(self, hours)?;
        let setup = self.setup(rate * 24.0, corrected.batch.volume / feed.volume);
        let walked = plan.walk(&setup, None, self.tanks.is_some());
        let answer = RecyclerAnswer {
            passes: Ratio::of(n)?,
            hours: Hours::of(hours)?,
            limited_by: self.stages[treatment.slowest()].name.to_string(),
            capacity_per_day: DailyRate::of(rate * self.hours_per_day.get())?,
            utilisation: Ratio::of(hours / plan.hours_it_may_run())?,
            done_day: walked.empty_since.map(Days::of).transpose()?,
            recovered: RecoveredFluid {
                volume: Volume::of(recovered.volume)?,
                share: Share::of_fraction((recovered.volume / feed.volume).min(1.0))?,
                concentration: Concentration::of(recovered.concentration().min(100.0))?,
                properties: recovered.properties()?,
            },
            waste: waste::answer(self, &wastes)?,
            bacteria: bacteria::bacteria(self, n)?,
            settling: settling::settling(&treatment)?,
            correction: corrected.answer(self)?,
            levels: walked.levels()?,
            first_overflow: levels::failure(walked.first_overflow, walked.run_over)?,
            first_shortage: levels::failure(walked.first_shortage, walked.missing)?,
            smallest: smallest::smallest(self, &plan, &setup, treatment.flow())?,
            overflow_risk: uncertain::overflow_risk(self, &plan, &setup)?,
        };
        let sources = treatment.sources(hours);
        let cautions = said(|| self.cautions(&removed, &answer, &corrected));
        Ok(Outcome {
            findings: try_said(|| self.findings(&treatment, (&corrected, &recovered), &answer))?,
            answer,
            balance: Some(self.balance(&feed, &sources, &wastes, &corrected)?),
            assumptions: filed(|| self.assumptions(&corrected.stocks)),
            cautions,
        })
    }

    fn work_ahead(&self) -> usize {
        uncertain::work_ahead(self)
    }

    /// The plan is walked through for each draw of its own.
    fn work(&self, answer: &RecyclerAnswer) -> usize {
        let draws = answer.overflow_risk.map_or(0, |risk| risk.draws.whole());
        draws * answer.levels.len() / 6
    }

    fn statement(&self, answer: &RecyclerAnswer) -> Sentence {
        self.stated(answer)
    }
}

impl Recycler {
    /// All of the feed, what is in the dirty tank at the start included, as one
    /// mix.
    fn mixture(&self) -> Result<Mixture, Refusal> {
        let own = self.strength_given()?;
        let part = |volume: f64, arrival: Option<&DirtyDelivery>| {
            let strength = arrival.and_then(|a| a.concentration).or(own).map_or(0.0, Quantity::get);
            let properties = arrival.map(|a| &a.properties).filter(|own| !own.is_empty());
            let properties = properties.unwrap_or(&self.feed.properties);
            Fluid::of(volume, strength, self.feed_density(), properties)
        };
        let mut all = part(self.batch() + self.dirty_level(), None);
        for arrival in self.arrivals() {
            all += &part(arrival.volume.get(), Some(arrival));
        }
        let emulsified = self.feed.emulsified_share.map_or(0.0, Share::fraction);
        let oil_density = self.feed.oil_density.map_or(self.feed_density(), Quantity::get);
        Mixture::of(&all, emulsified, oil_density)
    }

    /// The tanks and the rates at which they fill and empty, per day.
    fn setup(&self, rate: f64, gain: f64) -> levels::Setup {
        let tanks = self.tanks.as_ref();
        let holds = |tank: fn(&RecyclerTanks) -> &RecyclerTank| {
            tanks.map_or(f64::INFINITY, |tanks| tank(tanks).capacity.get())
        };
        levels::Setup {
            dirty: holds(|tanks| &tanks.dirty),
            clean: holds(|tanks| &tanks.clean),
            dirty_level: self.dirty_level(),
            clean_level: tanks.map_or(0.0, |tanks| tanks.clean.level()),
            rate,
            gain,
        }
    }

    fn balance(
        &self,
        feed: &Fluid,
        sources: &Fluid,
        wastes: &[waste::WasteFlow],
        corrected: &correction::Corrected,
    ) -> Result<Balance, Refusal> {
        let mut streams = vec![("feed", StreamDirection::In, feed)];
        if self.sources.is_some() {
            streams.push(("comes in meanwhile", StreamDirection::In, sources));
        }
        for waste in wastes.iter().filter(|waste| waste.rinses) {
            streams.push((waste.enters.as_str(), StreamDirection::In, &waste.fluid));
        }
        let poured = corrected.stocks.iter().zip(&corrected.poured).skip(1);
        let poured = poured.filter(|(_, fluid)| fluid.volume > 0.0);
        streams
            .extend(poured.map(|(stock, fluid)| (stock.name.as_str(), StreamDirection::In, fluid)));
        streams.extend(
            wastes.iter().map(|waste| (waste.name.as_str(), StreamDirection::Out, &waste.fluid)),
        );
        streams.push(("corrected batch", StreamDirection::Stays, &corrected.batch));
        Balance::close(&streams)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answer(feed: &str, rest: &str) -> RecyclerAnswer {
        let question = format!(
            r#"{{ "feed": {feed}, "stages": [{{ "name": "filter", "throughput": 50, {rest} }}],
                "mode": "single_pass", "hours_per_day": 8,
                "target": {{ "concentration": 6, "limits": {{ "solids": {{ "max": 100 }} }} }} }}"#
        );
        let question: Recycler = serde_json::from_str(&question).expect("a question");
        question.calculate().expect("an answer").answer
    }

    #[test]
    fn what_runs_in_slowly_is_done_when_the_last_of_it_has_come() {
        // By hand: 100 L run in over 4 h from midnight, 25 L/h, and 50 L/h are
        // worked: nothing ever waits.
        let feed = r#"{ "arrivals": [{ "day": 0, "volume": 100, "hours": 4 }],
            "concentration": 6, "properties": { "solids": 90 } }"#;
        let answer = answer(feed, r#""removes": { "solids": 10 }"#);
        assert!((answer.done_day.expect("it is done").get() - 4.0 / 24.0).abs() < 1e-12);
        assert_eq!(answer.smallest.dirty.get(), 0.0);
    }

    #[test]
    fn a_batch_that_takes_longer_than_a_shift_is_done_in_the_next() {
        // By hand: 1600 mg/L want four passes at a half; 300 L at 50 L/h take 6 h
        // a pass, 24 h in all: three shifts of 8 h from midnight.
        let feed = r#"{ "volume": 300, "concentration": 6, "properties": { "solids": 1600 } }"#;
        let answer = answer(feed, r#""removes": { "solids": 50 }"#);
        assert_eq!(answer.passes.get(), 4.0);
        assert!((answer.hours.get() - 24.0).abs() < 1e-12);
        assert!((answer.done_day.expect("it is done").get() - (2.0 + 8.0 / 24.0)).abs() < 1e-9);
        assert!((answer.capacity_per_day.get() - 100.0).abs() < 1e-9);
    }
}
