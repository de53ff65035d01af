//! What is left of each material after so many passes, and how long they take.
//!
//! In both modes the good fluid and what it carries shrink alike by what is lost
//! of the good fluid; that cancels in every content. What a material comes to is
//! therefore kept as x, its amount for each share of good fluid that is left.

use super::RecyclerMode;
use super::limited::Limited;
use super::mixture::{BOUND_OIL, FREE_OIL, GOOD, MATTER, Mixture};
use super::stage_line::StageLine;
use crate::fluid::Fluid;
use crate::handbook::conversions::MILLIGRAMS_PER_KILOGRAM;

/// A batch on its way through the stages.
#[derive(Debug)]
pub(super) struct Treatment<'a> {
    pub(super) mixture: &'a Mixture,
    pub(super) line: &'a StageLine,
    pub(super) mode: RecyclerMode,
    /// What keeps coming in of each material, kg/h.
    pub(super) comes_in: Vec<f64>,
    /// The properties that have a limit.
    pub(super) limited: Vec<Limited>,
    /// Passes, or turnovers.
    pub(super) passes: f64,
}

impl Treatment<'_> {
    /// q: what goes through the stages in an hour at the start, L/h.
    pub(super) fn flow(&self) -> f64 {
        match self.mode {
            RecyclerMode::SinglePass => {
                self.mixture.volume() / self.line.pass_hours(&self.mixture.amounts).0
            }
            RecyclerMode::Recirculate => self.line.least_throughput().0,
        }
    }

    /// The stage that holds the rest back.
    pub(super) fn slowest(&self) -> usize {
        match self.mode {
            RecyclerMode::SinglePass => self.line.pass_hours(&self.mixture.amounts).1,
            RecyclerMode::Recirculate => self.line.least_throughput().1,
        }
    }

    /// κ_i = k_i − f: how fast a material leaves a recirculated tank beyond what
    /// leaves with the good fluid, by turnover.
    fn leaving(&self, i: usize) -> f64 {
        self.line.good * (1.0 - self.line.left[i])
    }

    /// f: how fast the good fluid leaves a recirculated tank, by turnover.
    fn losing(&self) -> f64 {
        1.0 - self.line.good
    }

    /// x_i after `n` passes or turnovers.
    pub(super) fn x(&self, i: usize, n: f64) -> f64 {
        let m = &self.mixture.amounts;
        match self.mode {
            RecyclerMode::SinglePass => m[i] * self.line.left[i].powf(n),
            RecyclerMode::Recirculate => {
                let kappa = self.leaving(i);
                let came = if self.comes_in[i] > 0.0 {
                    let parts = [GOOD, FREE_OIL, BOUND_OIL];
                    let fed = parts.map(|j| m[j] * fed(kappa, self.leaving(j), n));
                    self.comes_in[i] / self.flow() * fed.iter().sum::<f64>()
                } else {
                    0.0
                };
                m[i] * (-kappa * n).exp() + came
            }
        }
    }

    /// What is left of the good fluid, as a share.
    fn good_left(&self, n: f64) -> f64 {
        match self.mode {
            RecyclerMode::SinglePass => self.line.good.powf(n),
            RecyclerMode::Recirculate => (-self.losing() * n).exp(),
        }
    }

    /// What is left of each material after `n` passes or turnovers.
    pub(super) fn amounts(&self, n: f64) -> Vec<f64> {
        let left = self.good_left(n);
        (0..self.mixture.amounts.len()).map(|i| left * self.x(i, n)).collect()
    }

    /// The places of the properties that keep coming in.
    pub(super) fn fed_places(&self) -> impl Iterator<Item = usize> {
        (0..self.comes_in.len()).filter(|i| self.comes_in[*i] > 0.0)
    }

    /// Where a property that keeps coming in settles, mg/L; infinite where
    /// nothing removes it.
    pub(super) fn settles_at(&self, i: usize) -> f64 {
        self.comes_in[i] / (self.flow() * self.leaving(i)) * MILLIGRAMS_PER_KILOGRAM
    }

    /// How fast it settles there, h.
    pub(super) fn time_constant(&self, i: usize) -> f64 {
        self.mixture.volume() / (self.flow() * self.leaving(i))
    }

    /// The name of a property by its place.
    pub(super) fn name(&self, i: usize) -> &str {
        &self.mixture.names[i - MATTER]
    }

    /// Whether any stage removes the property at a place.
    pub(super) fn is_removed(&self, i: usize) -> bool {
        self.line.left[i] < 1.0
    }

    /// Whether any stage removes tramp oil that separates.
    pub(super) fn frees_of_oil(&self) -> bool {
        self.line.left[FREE_OIL] < 1.0
    }

    /// How long `n` passes or turnovers take, h.
    pub(super) fn hours(&self, n: f64) -> f64 {
        match self.mode {
            RecyclerMode::SinglePass => {
                let (mut hours, mut done) = (0.0, 0.0);
                while done < n {
                    hours += self.line.pass_hours(&self.amounts(done)).0;
                    done += 1.0;
                }
                hours
            }
            RecyclerMode::Recirculate => {
                let m = &self.mixture.amounts;
                let parts = [GOOD, FREE_OIL, BOUND_OIL];
                let litres = parts.map(|i| m[i] * gathered(self.leaving(i) + self.losing(), n));
                litres.iter().sum::<f64>() / self.flow()
            }
        }
    }

    /// What came in meanwhile, in so many hours.
    pub(super) fn sources(&self, hours: f64) -> Fluid {
        let came: Vec<f64> = self.comes_in.iter().map(|rate| rate * hours).collect();
        self.mixture.fluid(&came)
    }

    /// All that ever entered the line of a material in `n` passes or turnovers.
    fn entered(&self, i: usize, n: f64) -> f64 {
        let m = self.mixture.amounts[i];
        let kept = self.line.good * self.line.left[i];
        match self.mode {
            RecyclerMode::SinglePass if kept < 1.0 => m * (1.0 - kept.powf(n)) / (1.0 - kept),
            RecyclerMode::SinglePass => m * n,
            RecyclerMode::Recirculate if self.comes_in[i] > 0.0 && kept < 1.0 => {
                let came = self.comes_in[i] * self.hours(n);
                (m + came - self.good_left(n) * self.x(i, n)) / (1.0 - kept)
            }
            RecyclerMode::Recirculate => m * gathered(1.0 - kept, n),
        }
    }

    /// What leaves at stage `s` of each material.
    pub(super) fn removed(&self, s: usize, n: f64) -> Fluid {
        let places = 0..self.mixture.amounts.len();
        let amounts: Vec<f64> =
            places.map(|i| self.line.leaves(s, i) * self.entered(i, n)).collect();
        self.mixture.fluid(&amounts)
    }
}

/// ∫₀ⁿ exp(−k·ν) dν.
fn gathered(k: f64, n: f64) -> f64 {
    if k * n > 0.0 { -(-k * n).exp_m1() / k } else { n }
}

/// ∫₀ⁿ exp(−κ·(n − ν))·exp(−λ·ν) dν: what is left at n of what came in evenly
/// with a volume that shrank at the rate λ.
fn fed(kappa: f64, lambda: f64, n: f64) -> f64 {
    let apart = kappa - lambda;
    if apart >= 0.0 {
        (-lambda * n).exp() * gathered(apart, n)
    } else {
        (-kappa * n).exp() * gathered(-apart, n)
    }
}
