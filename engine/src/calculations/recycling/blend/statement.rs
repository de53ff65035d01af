//! The statement: what to pour together, in amounts as they are measured out, and how
//! strong that is.

use super::{Blend, BlendAnswer};
use crate::fluid::measuring::MeasuringStep;
use crate::fluid::stock::Stock;
use crate::numerics::order;
use crate::quantity::{Concentration, Measure, Quantity};
use crate::sentence;
use crate::text::{Sentence, listed};

/// No more stocks than this are named one by one.
const NAMED: usize = 6;

/// The stocks that are poured, the weakest first, in amounts as they are measured out.
pub(super) struct Poured<'a> {
    pub(super) step: MeasuringStep,
    pub(super) used: Vec<(&'a Stock, f64)>,
}

impl Poured<'_> {
    fn volume(&self) -> f64 {
        self.used.iter().map(|(_, v)| v).sum()
    }

    /// What they come to together.
    pub(super) fn strength(&self) -> Measure {
        let brought: f64 = self.used.iter().map(|(stock, v)| stock.concentration.get() * v).sum();
        Concentration::measure_of(brought / self.volume()).rounded(3)
    }
}

impl Blend {
    pub(super) fn poured(&self, answer: &BlendAnswer) -> Poured<'_> {
        let exact: Vec<f64> = answer.take.iter().map(|take| take.volume.get()).collect();
        // What is less than a drop in the batch is rounding, and nobody pours it.
        let traces = ROUNDING * self.target.volume.get();
        let exact: Vec<f64> = exact.into_iter().map(|v| if v > traces { v } else { 0.0 }).collect();
        let step = MeasuringStep::of(self.measures_to, exact.iter().copied());
        let litres = step.round_within(&exact, self.target.volume.get());
        let mut used: Vec<(&Stock, f64)> =
            self.stocks.iter().zip(litres).filter(|(_, v)| *v > 0.0).collect();
        order::least_first(&mut used, |(stock, _)| stock.concentration.get());
        Poured { step, used }
    }

    pub(super) fn stated(&self, answer: &BlendAnswer) -> Sentence {
        let poured = self.poured(answer);
        let (step, strength) = (poured.step, poured.strength());
        let of = |(stock, v): &(&Stock, f64)| sentence!("{} of {}", step.measure(*v), &stock.name);
        let all = step.measure(poured.volume());
        match poured.used.as_slice() {
            [only] => sentence!("Take {}; it is at {}.", of(only), strength),
            several if several.len() <= NAMED => sentence!(
                "Pour together {}, in this order; that makes {} at {}.",
                listed(several.iter().map(of)),
                all,
                strength
            ),
            [rest @ .., last] => sentence!(
                "Pour together {} weaker stocks as listed, then {}; that makes {} at {}.",
                rest.len(),
                of(last),
                all,
                strength
            ),
            [] => sentence!("There is no stock to take."),
        }
    }
}

/// Less than this share of the batch is not poured.
const ROUNDING: f64 = 1e-9;
