//! The search for what explains a log: the plain fit, then one fault after the
//! other as long as chance would not do as well.

use super::course::{CARRY_OFF, EVAPORATION, FIRST_SUSPECT};
use super::fit::{self, EXACT, Fitted, NEAR, Unfit, degrees, fit};
use super::log::Log;
use super::suspects::{self, Scored, Suspect};
use crate::quantity::{Days, Quantity};
use crate::refusal::{Kind, Refusal};
use crate::sentence::{Measure, Sentence};
use nalgebra::DVector;
use statrs::distribution::{ChiSquared, ContinuousCDF, Normal, StudentsT};

/// How often a log without faults may be found to have one.
const FALSE_ALARMS: f64 = 0.01;
/// More faults than this are not a log with faults but another story.
const MOST_FINDINGS: usize = 5;
/// A fault that explains less than this share of the best, or of what it takes, to
/// first order, does not come out on top when it is fitted in full.
const PROMISING: f64 = 0.4;
/// Of each kind of fault, so many are fitted in full before the best is taken.
const OF_EACH_KIND: usize = 2;

/// A log with its findings accounted for.
#[derive(Debug)]
pub(super) struct Explained {
    /// The fit, in which no rate is less than nothing.
    pub(super) fitted: Fitted,
    /// The rates' uncertainties where a rate stands at its bound.
    pub(super) bound_u: [Option<f64>; 2],
    /// What all standard uncertainties are to be multiplied by.
    pub(super) inflation: f64,
    /// How many u hold the truth in 95 of 100 logs.
    pub(super) coverage_factor: f64,
    /// The uncertainty of volumes and of strengths, where it was taken from the log.
    pub(super) scatter: [Option<f64>; 2],
}

/// How sure the uncertainties of the readings are.
struct Weights {
    sigma: DVector<f64>,
    /// Degrees of freedom behind assumed ones that the log has mended; none where
    /// all are the caller's.
    mended: Option<f64>,
    scatter: [Option<f64>; 2],
}

/// Fits the log and finds what it does not say.
pub(super) fn explain(log: &Log) -> Result<Explained, Refusal> {
    let mut found = weighed(log, fit::start(log), &[]).map_err(|unfit| refusal(log, unfit))?;
    while found.0.suspects.len() < MOST_FINDINGS {
        let Some(better) = next(log, &found) else { break };
        found = better;
    }
    let (near, weights) = found;
    let fitted = fit(log, &weights.sigma, near.theta, &near.free, &near.suspects, EXACT)
        .map_err(|unfit| refusal(log, unfit))?;
    bounded(log, fitted, &weights).map_err(|unfit| refusal(log, unfit))
}

type Weighed = (Fitted, Weights);

/// A fit whose assumed uncertainties agree with the scatter about it.
fn weighed(
    log: &Log,
    start: Result<DVector<f64>, Unfit>,
    suspects: &[Suspect],
) -> Result<Weighed, Unfit> {
    const ROUNDS: usize = 20;
    /// Readings that agree to the last digit are still no better than this share
    /// of what is usual.
    const FINEST: f64 = 1e-6;
    let usual = DVector::from_iterator(
        log.observations.len(),
        log.observations.iter().map(|observation| observation.u),
    );
    let free = free_with(log, suspects);
    let mut weights = Weights { sigma: usual.clone(), mended: None, scatter: [None; 2] };
    let mut fitted = fit(log, &weights.sigma, start?, &free, suspects, NEAR)?;
    for _ in 0..ROUNDS {
        let spreads = [true, false].map(|volumes| fit::spread(log, &fitted, volumes));
        let change = spreads.iter().flatten().map(|spread| (spread.times - 1.0).abs());
        if change.fold(0.0, f64::max) < 1e-7 {
            break;
        }
        for (kind, spread) in spreads.iter().enumerate() {
            let Some(spread) = spread else { continue };
            for (i, observation) in log.observations.iter().enumerate() {
                if observation.assumed && observation.is_volume() == (kind == 0) {
                    let mended = weights.sigma[i] * spread.times;
                    weights.sigma[i] = mended.max(FINEST * usual[i]);
                    weights.scatter[kind] = Some(weights.sigma[i]);
                }
            }
        }
        let least = spreads.iter().flatten().map(|spread| spread.degrees);
        weights.mended = least.reduce(f64::min);
        fitted = fit(log, &weights.sigma, fitted.theta, &free, suspects, NEAR)?;
    }
    Ok((fitted, weights))
}

fn free_with(log: &Log, suspects: &[Suspect]) -> Vec<usize> {
    let mut free = fit::free(log);
    free.extend(FIRST_SUSPECT..FIRST_SUSPECT + suspects.len());
    free
}

/// The same log with one more fault, where one explains it better than chance.
fn next(log: &Log, (base, weights): &Weighed) -> Option<Weighed> {
    let mut scored = suspects::score(log, base);
    scored.retain(|scored| possible(&scored.suspect, scored.amount));
    let tried = scored.len();
    if tried == 0 || base.degrees < 2 {
        return None;
    }
    let critical = critical(tried, weights, base.degrees - 1);
    scored.sort_by(|a, b| b.explains.total_cmp(&a.explains));
    let promising = PROMISING * (critical * critical).max(scored[0].explains);
    let promising = |scored: &Scored| scored.explains >= promising;
    let mut of_each = std::collections::BTreeMap::new();
    let shortlist = scored.iter().filter(|scored| promising(scored)).filter(|scored| {
        let taken: &mut usize = of_each.entry(kind(&scored.suspect)).or_default();
        *taken += 1;
        *taken <= OF_EACH_KIND
    });
    let tried_in_full = shortlist.filter_map(|scored| {
        let mut suspects = base.suspects.clone();
        suspects.push(scored.suspect);
        let mut theta = base.theta.as_slice().to_vec();
        theta.push(scored.amount);
        let free = free_with(log, &suspects);
        let theta = DVector::from_vec(theta);
        let fitted = fit(log, &weights.sigma, theta, &free, &suspects, NEAR).ok()?;
        possible(&scored.suspect, fitted.amount(suspects.len() - 1)).then_some(fitted)
    });
    let best = tried_in_full.min_by(|a, b| a.chi_squared.total_cmp(&b.chi_squared))?;
    let explains = base.chi_squared - best.chi_squared;
    let scatter = match weights.mended {
        // The base's own scatter has the fault in it; the best fit's has not.
        Some(_) => best.mean_square(),
        None => best.mean_square().max(1.0),
    };
    if explains < critical * critical * scatter {
        return None;
    }
    let best = weighed(log, Ok(best.theta.clone()), &best.suspects).ok()?;
    Some(sure_ones(log, best))
}

/// Takes back what a later finding has made needless.
fn sure_ones(log: &Log, (fitted, weights): Weighed) -> Weighed {
    /// Well below what it took to be found, and well above what chance does alone.
    const KEPT_ABOVE: f64 = 3.0;
    let sure = |s: &usize| fitted.amount(*s).abs() > KEPT_ABOVE * fitted.u(FIRST_SUSPECT + s);
    let kept: Vec<usize> = (0..fitted.suspects.len()).filter(sure).collect();
    if kept.len() == fitted.suspects.len() {
        return (fitted, weights);
    }
    let suspects: Vec<Suspect> = kept.iter().map(|s| fitted.suspects[*s]).collect();
    let theta = (0..FIRST_SUSPECT).chain(kept.iter().map(|s| FIRST_SUSPECT + s));
    let theta: Vec<f64> = theta.map(|place| fitted.theta[place]).collect();
    weighed(log, Ok(DVector::from_vec(theta)), &suspects).unwrap_or((fitted, weights))
}

/// How many u a fault must be large, so many having been tried.
fn critical(tried: usize, weights: &Weights, left: usize) -> f64 {
    let tail = 1.0 - FALSE_ALARMS / degrees(tried) / 2.0;
    quantile(tail, weights.mended.map(|_| degrees(left)))
}

/// Of the normal distribution, or of Student's with so many degrees of freedom.
fn quantile(share: f64, degrees: Option<f64>) -> f64 {
    let student = degrees.and_then(|degrees| StudentsT::new(0.0, 1.0, degrees.max(1.0)).ok());
    match student {
        Some(student) => student.inverse_cdf(share),
        None => Normal::standard().inverse_cdf(share),
    }
}

fn kind(suspect: &Suspect) -> usize {
    match suspect {
        Suspect::Addition { .. } => 0,
        Suspect::Removal { .. } => 1,
        Suspect::Ingress { .. } => 2,
        Suspect::Premix { .. } => 3,
        Suspect::Factor { .. } => 4,
        Suspect::Volume { .. } => 5,
        Suspect::Strength { .. } => 6,
    }
}

/// Whether a fault of this size can be.
fn possible(suspect: &Suspect, amount: f64) -> bool {
    match suspect {
        Suspect::Addition { .. } | Suspect::Removal { .. } | Suspect::Ingress { .. } => {
            amount > 0.0
        }
        Suspect::Premix { .. } => amount >= -1.0,
        Suspect::Factor { .. } | Suspect::Volume { .. } | Suspect::Strength { .. } => true,
    }
}

/// The fit in which no rate is less than nothing, with all that is said of its
/// uncertainty.
fn bounded(log: &Log, fitted: Fitted, weights: &Weights) -> Result<Explained, Unfit> {
    let mut explained = Explained {
        bound_u: [None; 2],
        inflation: 1.0,
        coverage_factor: quantile(0.975, weights.mended),
        scatter: weights.scatter,
        fitted,
    };
    gains(log, &mut explained, weights)?;
    let freedom = degrees(explained.fitted.degrees);
    let unlikely = ChiSquared::new(freedom)
        .is_ok_and(|expected| expected.cdf(explained.fitted.chi_squared) > 0.99);
    if unlikely && weights.mended.is_none() {
        explained.inflation = explained.fitted.mean_square().sqrt();
        explained.coverage_factor = quantile(0.975, Some(freedom));
    }
    for (which, place) in [EVAPORATION, CARRY_OFF].into_iter().enumerate() {
        let fitted = &explained.fitted;
        if fitted.theta[place] >= 0.0 {
            continue;
        }
        let sure = critical(1, weights, fitted.degrees.max(1)) * explained.inflation;
        if place == CARRY_OFF && fitted.theta[place] < -sure * fitted.u(place) {
            return Err(Unfit::Gains);
        }
        explained.bound_u[which] = Some(fitted.u(place));
        let free: Vec<usize> = fitted.free.iter().copied().filter(|free| *free != place).collect();
        let mut theta = fitted.theta.clone();
        theta[place] = 0.0;
        explained.fitted = fit(log, &weights.sigma, theta, &free, &fitted.suspects.clone(), EXACT)?;
    }
    Ok(explained)
}

/// A sump that gains water from the first entry on has an ingress that its
/// evaporation cannot hide.
fn gains(log: &Log, explained: &mut Explained, weights: &Weights) -> Result<(), Unfit> {
    let fitted = &explained.fitted;
    let (e, u) = (fitted.theta[EVAPORATION], fitted.u(EVAPORATION));
    let scatter = fitted.mean_square().max(1.0).sqrt();
    let freedom = fitted.degrees;
    if freedom == 0 || e > -critical(1, weights, freedom) * u * scatter {
        return Ok(());
    }
    explained.bound_u[0] = Some(u);
    let mut suspects = fitted.suspects.clone();
    suspects.push(Suspect::Ingress { from: 0 });
    let mut theta = fitted.theta.as_slice().to_vec();
    theta.push(-e);
    theta[EVAPORATION] = 0.0;
    let mut free = free_with(log, &suspects);
    free.retain(|place| *place != EVAPORATION);
    explained.fitted = fit(log, &weights.sigma, DVector::from_vec(theta), &free, &suspects, EXACT)?;
    Ok(())
}

fn refusal(log: &Log, unfit: Unfit) -> Refusal {
    match unfit {
        Unfit::Undetermined => {
            let detail = "The log does not tell apart what was asked: some combination of the \
                          losses leaves no trace in its readings. Read the volume and the strength \
                          at more entries, and on different days.";
            Refusal::new(Kind::NotIdentifiable, "/log", Sentence::new(detail))
        }
        Unfit::Dry(entry) => {
            let detail = "By the log, the sump would be dry by day {}. An addition is missing, or \
                          a volume was misread.";
            let day = Measure::of(Days::ROW, log.events[entry].day);
            let pointer = format!("/log/{entry}");
            Refusal::new(Kind::Inconsistent, pointer, Sentence::new(detail).with(day))
        }
        Unfit::Gains => {
            let detail = "By the log, the sump gains concentrate that nobody added: its strength \
                          holds up better than evaporation can make it. Check the factor of the \
                          readings and the strengths of what was added.";
            Refusal::new(Kind::Inconsistent, "/log", Sentence::new(detail))
        }
        Unfit::Unsettled(_) => {
            let detail = "No rates were found of which it could be proven that they fit the log \
                          best. Check its numbers and their units.";
            Refusal::new(Kind::Unproven, "/log", Sentence::new(detail))
        }
    }
}
