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
use super::plan::RecyclerPlan as Plan;
use super::{Distribution, OverflowRisk, Recycler, Spread, smallest};
use crate::quantity::{Count, Measure, Quantity, Share, Volume};
use crate::text::{Kind, Refusal, Sentence};
use rand::distr::Open01;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use statrs::distribution::{Beta, ContinuousCDF, Normal};

const DRAWS: f64 = 2000.0;
/// The most that a question may cost, in draws times moments of the plan.
const MOST_WORK: f64 = 4e6;
/// The confidence of the interval.
const CONFIDENCE: f64 = 0.95;

/// Draws the plan again and again; none when nothing is uncertain.
pub(super) fn overflow_risk(
    question: &Recycler,
    plan: &Plan,
    setup: &Setup,
) -> Result<Option<OverflowRisk>, Refusal> {
    let Some(spread) = &question.feed.spread else { return Ok(None) };
    #[expect(clippy::cast_precision_loss, reason = "far fewer moments than 2^52")]
    let most = (MOST_WORK / plan.len() as f64).floor();
    let draws = spread.draws.map_or(DRAWS.min(most), Quantity::get);
    refuse_too_much(draws, most)?;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a count is whole and not negative"
    )]
    let (seed, rounds) = (spread.seed.map_or(1.0, Quantity::get) as u64, draws as usize);
    let mut random = Pcg64::seed_from_u64(seed);
    let factor = Factor::of(spread);
    let mut factors = vec![1.0; plan.deliveries()];
    let mut highest: Vec<f64> = (0..rounds)
        .map(|_| {
            factors.iter_mut().for_each(|own| *own = factor.at(random.sample(Open01)));
            smallest::dirty(plan, setup, Some(&factors))
        })
        .collect();
    highest.sort_by(f64::total_cmp);
    let holds = setup.dirty * (1.0 + TRACE);
    #[expect(clippy::cast_precision_loss, reason = "far fewer draws than 2^52")]
    let over = (rounds - highest.partition_point(|level| *level <= holds)) as f64;
    let p = over / draws;
    let (low, high) = interval(over, draws);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a place in the list"
    )]
    let place = (CONFIDENCE * draws).ceil() as usize - 1;
    Ok(Some(OverflowRisk {
        probability: Share::of(100.0 * p)?,
        standard_error: Share::of(100.0 * (p * (1.0 - p) / draws).sqrt())?,
        at_least: Share::of(100.0 * low)?,
        at_most: Share::of(100.0 * high)?,
        draws: Count::of(draws)?,
        large_enough_in_95: Volume::of(highest[place.min(rounds - 1)])?,
    }))
}

fn refuse_too_much(draws: f64, most: f64) -> Result<(), Refusal> {
    if draws <= most {
        return Ok(());
    }
    let detail = "A plan of this length may be drawn {} times at most, and {} were asked for. Draw \
                  it less often, or make the plan shorter.";
    let detail = Sentence::new(detail).with(Measure::bare(most)).with(Measure::bare(draws));
    Err(Refusal::new(Kind::OutOfRange, "/feed/spread/draws", detail))
}

/// A factor as a function of a number between 0 and 1 that is drawn evenly.
enum Factor {
    Lognormal { sigma: f64, normal: Normal },
    TwoPoint { share: f64 },
}

impl Factor {
    fn of(spread: &Spread) -> Self {
        let share = spread.share.get() / 100.0;
        match spread.distribution.unwrap_or(Distribution::Lognormal) {
            Distribution::Lognormal => Self::Lognormal {
                sigma: (share * share).ln_1p().sqrt(),
                normal: Normal::standard(),
            },
            Distribution::TwoPoint => Self::TwoPoint { share },
        }
    }

    fn at(&self, drawn: f64) -> f64 {
        match self {
            Self::Lognormal { sigma, normal } => {
                (sigma * normal.inverse_cdf(drawn) - sigma * sigma / 2.0).exp()
            }
            Self::TwoPoint { share } if drawn < 0.5 => 1.0 - share,
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
