//! The amounts as somebody measures them out, and what the sump then comes to.

use super::TopUp;
use super::job::Job;
use super::plan::TopUpPlan;
use crate::fluid::measuring::MeasuringStep;
use crate::fluid::reading::Reading;
use crate::fluid::stock::Stock;
use crate::numerics::order;
use crate::quantity::{Concentration, Measure, Quantity};
use crate::sentence;
use crate::text::Sentence;

/// What is measured out.
pub(super) struct Measured {
    step: MeasuringStep,
    /// What is drained, L.
    pub(super) drain: f64,
    /// What is poured of each stock, L.
    volumes: Vec<f64>,
    /// How strong all that is poured is together.
    pub(super) premix: Concentration,
    /// How strong the sump is then.
    pub(super) comes_to: Concentration,
}

impl TopUp {
    pub(super) fn measured(
        &self,
        job: &Job,
        plan: &TopUpPlan,
        stocks: &[Stock],
        volumes: &[f64],
    ) -> Measured {
        let amounts = volumes.iter().copied().chain([plan.drain]);
        let step = MeasuringStep::of(self.measures_to, amounts);
        let drain = step.round(plan.drain).min(job.v_0);
        let volumes = step.round_within(volumes, plan.holds - (job.v_0 - drain));
        let strengths = stocks.iter().map(|stock| stock.concentration.get());
        let brought: f64 = volumes.iter().zip(strengths).map(|(v, c)| v * c).sum();
        let added: f64 = volumes.iter().sum();
        let holds = job.v_0 - drain + added;
        let strength = |concentrate: f64, volume: f64, else_: f64| {
            let c = if volume > 0.0 { concentrate / volume } else { else_ };
            // Within bounds but for rounding.
            Concentration::of(c.clamp(0.0, 100.0)).unwrap_or(self.target.concentration)
        };
        Measured {
            step,
            drain,
            premix: strength(brought, added, 0.0),
            comes_to: strength(job.c_0 * (job.v_0 - drain) + brought, holds, plan.comes_to),
            volumes,
        }
    }
}

impl Measured {
    pub(super) fn measure(&self, litres: f64) -> Measure {
        self.step.measure(litres)
    }

    /// All that is poured, L.
    pub(super) fn added(&self) -> f64 {
        self.volumes.iter().sum()
    }

    /// The stocks that are used, the weakest first: the place of each, the stock and its
    /// litres.
    pub(super) fn used<'a>(&self, stocks: &'a [Stock]) -> Vec<(usize, &'a Stock, f64)> {
        let all = stocks.iter().zip(&self.volumes).enumerate();
        let mut used: Vec<_> = all
            .filter(|(_, (_, litres))| **litres > 0.0)
            .map(|(place, (stock, litres))| (place, stock, *litres))
            .collect();
        order::least_first(&mut used, |(_, stock, _)| stock.concentration.get());
        used
    }

    /// What the instrument must read then, or how strong the fluid is then.
    pub(super) fn comes_to_clause(&self, reading: Option<&Reading>) -> Sentence {
        let mark = |reading: &Reading| {
            let mark = reading.mark(self.comes_to, "/sump/reading").ok()?;
            Some(reading.must_then_read(mark))
        };
        reading
            .and_then(mark)
            .unwrap_or_else(|| sentence!("it is then at {}", self.comes_to.roughly()))
    }
}
