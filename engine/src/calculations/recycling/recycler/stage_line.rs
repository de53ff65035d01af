//! What the stages keep of each material.

use super::mixture::{BOUND_OIL, FREE_OIL, GOOD, MATTER, Mixture};
use super::{Recycler, StageRemoval};
use crate::quantity::{Quantity, Share, Throughput};
use crate::text::Refusal;

impl Recycler {
    /// What each stage removes on one pass: as given, or by its separator at the
    /// flow of the slowest stage.
    pub(super) fn removed(&self) -> Result<Vec<StageRemoval>, Refusal> {
        let all = self.stages.iter().map(|stage| stage.throughput.get());
        let flow = Throughput::of(all.fold(Throughput::ROW.most, f64::min))?;
        let stages = self.stages.iter().enumerate();
        let removed = stages.map(|(s, stage)| match &stage.separator {
            Some(separator) => {
                let at = format!("/stages/{s}");
                let throughput_at = format!("{at}/throughput");
                separator.removed(flow, &throughput_at, &format!("{at}/separator"))
            }
            None => Ok(stage.removes.clone()),
        });
        removed.collect()
    }
}

/// The stages in series, as shares of each material that they keep.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct StageLine {
    /// Of what comes to a stage, what goes on from it: a row a stage, a place a
    /// material.
    kept: Vec<Vec<f64>>,
    /// b, of the good fluid.
    pub(super) good: f64,
    /// ρ of each material: what removal by itself leaves of it.
    pub(super) left: Vec<f64>,
    /// What each stage takes, L/h.
    throughput: Vec<f64>,
}

impl StageLine {
    /// The stages of `question`, each removing what `removed` says.
    pub(super) fn of(question: &Recycler, removed: &[StageRemoval], mixture: &Mixture) -> Self {
        let stages = &question.stages;
        let kept = |removed: Option<Share>| 1.0 - removed.map_or(0.0, Share::fraction);
        let mut line = Self {
            kept: Vec::new(),
            good: 1.0,
            left: vec![1.0; MATTER + mixture.names.len()],
            throughput: stages.iter().map(|stage| stage.throughput.get()).collect(),
        };
        for (stage, removes) in stages.iter().zip(removed) {
            let good = kept(stage.good_fluid_lost);
            let mut left = vec![1.0; line.left.len()];
            left[FREE_OIL] = kept(removes.tramp_oil);
            for (i, name) in mixture.names.iter().enumerate() {
                left[MATTER + i] = kept(removes.matter.get(name).copied());
            }
            line.good *= good;
            line.left.iter_mut().zip(&left).for_each(|(all, own)| *all *= own);
            line.kept.push(left.iter().map(|own| good * own).collect());
        }
        debug_assert!(line.left[GOOD] == 1.0 && line.left[BOUND_OIL] == 1.0);
        line
    }

    /// Of what enters the line of material `i`, the share that leaves it at
    /// stage `s`.
    pub(super) fn leaves(&self, s: usize, i: usize) -> f64 {
        self.arrives(s, i) * (1.0 - self.kept[s][i])
    }

    /// Of what enters the line of material `i`, the share that comes to stage `s`.
    fn arrives(&self, s: usize, i: usize) -> f64 {
        self.kept[..s].iter().map(|kept| kept[i]).product()
    }

    /// How long `amounts` take to go through in series, h, and the stage that
    /// takes longest.
    pub(super) fn pass_hours(&self, amounts: &[f64]) -> (f64, usize) {
        let mut here = [amounts[GOOD], amounts[FREE_OIL], amounts[BOUND_OIL]];
        let mut slowest = (0.0, 0);
        for (s, kept) in self.kept.iter().enumerate() {
            let hours = here.iter().sum::<f64>() / self.throughput[s];
            if hours > slowest.0 {
                slowest = (hours, s);
            }
            here.iter_mut().zip(kept).for_each(|(amount, kept)| *amount *= kept);
        }
        slowest
    }

    /// The stage that takes the least, and how much that is, L/h.
    pub(super) fn least_throughput(&self) -> (f64, usize) {
        let mut least = (f64::INFINITY, 0);
        for (s, throughput) in self.throughput.iter().enumerate() {
            if *throughput < least.0 {
                least = (*throughput, s);
            }
        }
        least
    }
}
