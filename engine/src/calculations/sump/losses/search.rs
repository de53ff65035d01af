//! The search for what explains a log: the plain fit, then one fault after the
//! other as long as chance would not do as well.

use super::answer::FindingKind;
use super::bounds::{Explained, bounded, refusal};
use super::course::FIRST_SUSPECT;
use super::fit::{self, EXACT, Fitted, NEAR, Unfit, degrees, fit};
use super::log::Log;
use super::suspects::{self, Scored, Suspect};
use crate::numerics::cut_off::look;
use crate::text::Refusal;
use nalgebra::DVector;
use statrs::distribution::{ContinuousCDF, Normal, StudentsT};
use std::collections::BTreeMap;

/// How often a log without faults may be found to have one.
const FALSE_ALARMS: f64 = 0.01;
/// More faults than this are not a log with faults but another story.
const MOST_FINDINGS: usize = 5;
/// A fault that explains less than this share of the best, or of what it takes, to
/// first order, does not come out on top when it is fitted in full.
const PROMISING: f64 = 0.4;
/// A fault of another kind within this much of the best in the sum of squares, two
/// standard uncertainties, cannot be ruled out.
const NEARLY: f64 = 4.0;
/// Of each kind of fault, so many are fitted in full before the best is taken.
const OF_EACH_KIND: usize = 2;

/// How sure the uncertainties of the readings are.
#[derive(Debug)]
pub(super) struct Weights {
    pub(super) sigma: DVector<f64>,
    /// Degrees of freedom behind assumed ones that the log has mended; none where
    /// all are the caller's.
    pub(super) mended: Option<f64>,
    pub(super) scatter: [Option<f64>; 2],
}

/// A fit with faults, and for each fault the kinds that would do nearly as well.
#[derive(Debug)]
pub(super) struct Found {
    pub(super) fitted: Fitted,
    pub(super) weights: Weights,
    pub(super) rivals: Vec<(Suspect, Vec<FindingKind>)>,
}

/// Fits the log and finds what it does not say.
pub(super) fn explain(log: &Log) -> Result<Explained, Refusal> {
    let refused = |unfit| refusal(log, unfit);
    let (fitted, weights) =
        weighed(log, fit::start(log).map_err(refused)?, &[]).map_err(refused)?;
    let mut found = Found { fitted, weights, rivals: Vec::new() };
    for _ in 0..MOST_FINDINGS {
        look();
        let Some(better) = next(log, &found) else { break };
        found = better;
    }
    let near = &found.fitted;
    let sigma = &found.weights.sigma;
    found.fitted =
        fit(log, sigma, near.theta.clone(), &near.free, &near.suspects, EXACT).map_err(refused)?;
    bounded(log, found).map_err(refused)
}

/// A fit whose assumed uncertainties agree with the scatter about it.
fn weighed(
    log: &Log,
    start: DVector<f64>,
    suspects: &[Suspect],
) -> Result<(Fitted, Weights), Unfit> {
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
    let mut fitted = fit(log, &weights.sigma, start, &free, suspects, NEAR)?;
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

pub(super) fn free_with(log: &Log, suspects: &[Suspect]) -> Vec<usize> {
    let mut free = fit::free(log);
    free.extend(FIRST_SUSPECT..FIRST_SUSPECT + suspects.len());
    free
}

/// The same log with one more fault, where one explains it better than chance.
fn next(log: &Log, found: &Found) -> Option<Found> {
    let Found { fitted: base, weights, rivals } = found;
    let mut scored = suspects::score(log, base);
    scored.retain(|scored| possible(&scored.suspect, scored.amount));
    if scored.is_empty() || base.degrees < 2 {
        return None;
    }
    let critical = critical(scored.len(), weights, base.degrees - 1).powi(2);
    scored.sort_by(|a, b| b.explains.total_cmp(&a.explains));
    let fits = shortlist(&scored, critical).into_iter().filter_map(|scored| {
        let mut suspects = base.suspects.clone();
        suspects.push(scored.suspect);
        let theta = base.theta.push(scored.amount);
        let free = free_with(log, &suspects);
        let fitted = fit(log, &weights.sigma, theta, &free, &suspects, NEAR).ok()?;
        possible(&scored.suspect, fitted.amount(suspects.len() - 1)).then_some(fitted)
    });
    let mut fits: Vec<Fitted> = fits.collect();
    fits.sort_by(|a, b| a.chi_squared.total_cmp(&b.chi_squared));
    let best = fits.first()?;
    let scatter = match weights.mended {
        // The base's own scatter has the fault in it; the best fit's has not.
        Some(_) => best.mean_square(),
        None => best.mean_square().max(1.0),
    };
    if base.chi_squared - best.chi_squared < critical * scatter {
        return None;
    }
    let nearly = best.chi_squared + NEARLY * scatter;
    let newest = |fitted: &Fitted| fitted.suspects[base.suspects.len()];
    let as_good = fits.iter().filter(|fitted| fitted.chi_squared <= nearly);
    let mut kinds: Vec<FindingKind> = as_good.map(|fitted| kind(&newest(fitted))).collect();
    kinds.sort_unstable();
    kinds.dedup();
    kinds.retain(|other| *other != kind(&newest(best)));
    let (suspects, theta) = with_free_strength(best);
    let (fitted, weights) = weighed(log, theta, &suspects).ok()?;
    let mut rivals = rivals.clone();
    rivals.push((suspects[base.suspects.len()], kinds));
    Some(sure_ones(log, Found { fitted, weights, rivals }))
}

/// The faults that are worth a full fit, best first.
fn shortlist(scored: &[Scored], critical: f64) -> Vec<&Scored> {
    let enough = PROMISING * critical.max(scored[0].explains);
    let mut of_each = BTreeMap::new();
    let promising = scored.iter().filter(|scored| scored.explains >= enough);
    promising
        .filter(|scored| {
            let taken: &mut usize = of_each.entry(kind(&scored.suspect)).or_default();
            *taken += 1;
            *taken <= OF_EACH_KIND
        })
        .collect()
}

/// An addition was found at one of a few strengths; from now on its strength is an
/// unknown of its own, so that the rates are as unsure as that makes them.
fn with_free_strength(fitted: &Fitted) -> (Vec<Suspect>, DVector<f64>) {
    let (mut suspects, mut theta) = (fitted.suspects.clone(), fitted.theta.clone());
    if let Some(Suspect::Addition { after, strength }) = suspects.last_mut() {
        let litres = fitted.amount(fitted.suspects.len() - 1);
        theta = theta.push(litres * *strength / 100.0);
        *strength = 0.0;
        let after = *after;
        suspects.push(Suspect::Concentrate { after });
    }
    (suspects, theta)
}

/// Takes back what a later finding has made needless.
fn sure_ones(log: &Log, found: Found) -> Found {
    /// Well below what it took to be found, and well above what chance does alone.
    const KEPT_ABOVE: f64 = 3.0;
    let Found { fitted, weights, rivals } = found;
    let sure = |s: usize| fitted.amount(s).abs() > KEPT_ABOVE * fitted.u(FIRST_SUSPECT + s);
    let kept = (0..fitted.suspects.len()).filter(|s| match fitted.suspects[*s] {
        // It stands and falls with its addition, the one before it.
        Suspect::Concentrate { .. } => sure(s - 1),
        _ => sure(*s),
    });
    let kept: Vec<usize> = kept.collect();
    if kept.len() == fitted.suspects.len() {
        return Found { fitted, weights, rivals };
    }
    let (suspects, theta) = only(&fitted, &kept);
    match weighed(log, theta, &suspects) {
        Ok((fitted, weights)) => Found { fitted, weights, rivals },
        Err(_) => Found { fitted, weights, rivals },
    }
}

/// Some of the suspects of a fit, and the unknowns that go with them.
fn only(fitted: &Fitted, kept: &[usize]) -> (Vec<Suspect>, DVector<f64>) {
    let suspects = kept.iter().map(|s| fitted.suspects[*s]).collect();
    let places = (0..FIRST_SUSPECT).chain(kept.iter().map(|s| FIRST_SUSPECT + s));
    let theta: Vec<f64> = places.map(|place| fitted.theta[place]).collect();
    (suspects, DVector::from_vec(theta))
}

/// How many u a fault must be large, so many having been tried.
pub(super) fn critical(tried: usize, weights: &Weights, left: usize) -> f64 {
    let tail = 1.0 - FALSE_ALARMS / degrees(tried) / 2.0;
    quantile(tail, weights.mended.map(|_| degrees(left)))
}

/// Of the normal distribution, or of Student's with so many degrees of freedom.
pub(super) fn quantile(share: f64, degrees: Option<f64>) -> f64 {
    let student = degrees.and_then(|degrees| StudentsT::new(0.0, 1.0, degrees.max(1.0)).ok());
    match student {
        Some(student) => student.inverse_cdf(share),
        None => Normal::standard().inverse_cdf(share),
    }
}

/// What a suspect is called when it is found.
fn kind(suspect: &Suspect) -> FindingKind {
    match suspect {
        Suspect::Addition { .. } | Suspect::Concentrate { .. } => FindingKind::UnrecordedAddition,
        Suspect::Removal { .. } => FindingKind::UnrecordedRemoval,
        Suspect::Ingress { .. } => FindingKind::WaterIngress,
        Suspect::Premix { .. } => FindingKind::PremixOff,
        Suspect::Factor { .. } => FindingKind::FactorOff,
        Suspect::Volume { .. } => FindingKind::VolumeMisread,
        Suspect::Strength { .. } => FindingKind::ConcentrationMisread,
    }
}

/// Whether a fault of this size can be.
fn possible(suspect: &Suspect, amount: f64) -> bool {
    match suspect {
        Suspect::Addition { .. } | Suspect::Removal { .. } | Suspect::Ingress { .. } => {
            amount > 0.0
        }
        // Water where premix was meant is −1, and its noise lies on both sides.
        Suspect::Premix { .. } => amount >= -1.5,
        Suspect::Concentrate { .. }
        | Suspect::Factor { .. }
        | Suspect::Volume { .. }
        | Suspect::Strength { .. } => true,
    }
}
