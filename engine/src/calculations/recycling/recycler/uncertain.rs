//! How likely the dirty tank is to run over when the deliveries are uncertain.
//!
//! Each delivery is its volume times a factor of its own with mean 1 and standard
//! deviation s:
//!
//! 1. lognormal: exp(σ·z − σ²/2) with σ² = ln(1 + s²) and z standard normal
//! 2. two points: 1 + s or 1 − s, one as likely as the other
//!
//! Of N draws k run over: p = k/N with the standard error √(p(1 − p)/N), and the
//! exact binomial interval of Clopper and Pearson (1934). A tank runs over when
//! one without end would have risen above it.

use super::levels::{Setup, TRACE};
use super::plan::RecyclerPlan;
use super::{DeliveryDistribution, DeliverySpread, OverflowRisk, Recycler, smallest};
use crate::numerics::distribution::{Distribution, DistributionShape};
use crate::numerics::monte_carlo::percentile;
use crate::quantity::{Count, Quantity, Share, Volume};
use crate::text::Refusal;
use crate::uncertainty::Sampler;
use statrs::distribution::{Beta, ContinuousCDF};

/// Numbers handled for a moment of the plan.
const WORK_A_MOMENT: usize = 20;
/// The confidence of the interval.
const CONFIDENCE: f64 = 0.95;

/// Draws the plan again and again; none when nothing is uncertain.
pub(super) fn overflow_risk(
    question: &Recycler,
    plan: &RecyclerPlan,
    setup: &Setup,
) -> Result<Option<OverflowRisk>, Refusal> {
    let Some(spread) = &question.feed.spread else { return Ok(None) };
    let work = (WORK_A_MOMENT * plan.len(), 1);
    let sampler = Sampler::new((spread.draws, spread.seed), work, "/feed/spread")?;
    let factor = Factor::of(spread);
    let drawn = sampler.draw(vec![factor.drawn(); plan.deliveries()], |x, y| {
        let factors: Vec<f64> = x.iter().map(|drawn| factor.at(*drawn)).collect();
        y.push(smallest::dirty(plan, setup, Some(&factors)));
        Ok(())
    })?;
    let mut highest = drawn.values(0);
    let holds = setup.dirty * (1.0 + TRACE);
    let over = Count::from_usize(highest.iter().filter(|level| **level > holds).count())?;
    let draws = Count::from_usize(sampler.draws())?;
    let p = over.get() / draws.get();
    let (low, high) = interval(over.get(), draws.get());
    Ok(Some(OverflowRisk {
        probability: Share::of_fraction(p)?,
        standard_error: Share::of_fraction((p * (1.0 - p) / draws.get()).sqrt())?,
        at_least: Share::of_fraction(low)?,
        at_most: Share::of_fraction(high)?,
        draws,
        large_enough_in_95: Volume::of(percentile(&mut highest, CONFIDENCE))?,
    }))
}

/// What drawing the plan comes to, where something is uncertain, in handled numbers.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "days that are not negative"
)]
pub(super) fn work_ahead(question: &Recycler) -> usize {
    let Some(spread) = &question.feed.spread else { return 0 };
    let (arrivals, demand) = (question.arrivals(), question.demand.iter().flatten());
    let days = arrivals.iter().map(|arrival| arrival.day).chain(demand.map(|own| own.day));
    let last = days.map(Quantity::get).fold(1.0, f64::max);
    let days = question.plan_days.map_or(last, Quantity::get);
    let flows = arrivals.len() + question.demand.as_ref().map_or(0, Vec::len);
    // Each day the recycler starts and stops; what flows begins and ends.
    let moments = 3 * days.ceil() as usize + 2 * flows;
    let work = (WORK_A_MOMENT * moments, 1);
    let sampler = Sampler::new((spread.draws, spread.seed), work, "/feed/spread");
    sampler.map_or(0, |sampler| sampler.draws() * moments / 6)
}

/// A factor as a function of a number that is drawn.
enum Factor {
    Lognormal { sigma: f64 },
    TwoPoint { share: f64 },
}

impl Factor {
    fn of(spread: &DeliverySpread) -> Self {
        let share = spread.share.fraction();
        match spread.distribution.unwrap_or(DeliveryDistribution::Lognormal) {
            DeliveryDistribution::Lognormal => {
                Self::Lognormal { sigma: (share * share).ln_1p().sqrt() }
            }
            DeliveryDistribution::TwoPoint => Self::TwoPoint { share },
        }
    }

    /// What is drawn for it: something of mean 0 and standard deviation 1.
    const fn drawn(&self) -> Distribution {
        let shape = match self {
            Self::Lognormal { .. } => DistributionShape::Normal,
            Self::TwoPoint { .. } => DistributionShape::Rectangular,
        };
        Distribution { estimate: 0.0, u: 1.0, shape }
    }

    fn at(&self, drawn: f64) -> f64 {
        match self {
            Self::Lognormal { sigma } => (sigma * drawn - sigma * sigma / 2.0).exp(),
            Self::TwoPoint { share } if drawn < 0.0 => 1.0 - share,
            Self::TwoPoint { share } => 1.0 + share,
        }
    }
}

/// The interval of Clopper and Pearson for `k` of `n`.
fn interval(k: f64, n: f64) -> (f64, f64) {
    let tail = (1.0 - CONFIDENCE) / 2.0;
    let low = Beta::new(k, n - k + 1.0).map_or(0.0, |beta| beta.inverse_cdf(tail));
    let high = Beta::new(k + 1.0, n - k).map_or(1.0, |beta| beta.inverse_cdf(1.0 - tail));
    (low, high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_interval_is_the_exact_one() {
        // scipy 1.17, binomtest(7, 50).proportion_ci(0.95, "exact").
        let (low, high) = interval(7.0, 50.0);
        assert!((low - 0.058_191_700).abs() < 1e-8, "{low}");
        assert!((high - 0.267_396_002).abs() < 1e-8, "{high}");
        assert_eq!(interval(0.0, 50.0).0, 0.0);
        assert_eq!(interval(50.0, 50.0).1, 1.0);
    }
}
