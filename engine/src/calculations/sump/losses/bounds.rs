//! The fit in which no rate and no addition is less than 0.

use super::answer::SuspectKind;
use super::course::{CARRY_OFF, EVAPORATION, FIRST_SUSPECT, STANDING};
use super::fit::{EXACT, Fitted, LogUnfit, NEAR, degrees, fit, free_with};
use super::log::Log;
use super::scores;
use super::significance::{FoundSuspects, Weights, critical, critical_step, quantile};
use super::suspect::Suspect;
use super::throughout::WrongThroughout;
use crate::numerics::cut_off::look;
use nalgebra::DVector;
use statrs::distribution::{ChiSquared, ContinuousCDF};

/// A log with its findings accounted for.
#[derive(Debug)]
pub(super) struct Explained {
    /// The fit, in which no rate is less than 0.
    pub(super) fitted: Fitted,
    /// The rates' uncertainties where a rate stands at its bound.
    pub(super) bound_u: [Option<f64>; 3],
    /// What all standard uncertainties are to be multiplied by.
    pub(super) inflation: f64,
    /// Number of u to either side that hold the truth in 95 of 100 logs.
    pub(super) coverage_factor: f64,
    /// The uncertainty of volumes and of strengths, where it was taken from the log.
    pub(super) scatter: [Option<f64>; 2],
    /// Where an addition was found: after which entry, how strong it was and how
    /// uncertain that is.
    pub(super) strengths: Vec<(usize, f64, f64)>,
    /// For each fault the kinds that would do nearly as well.
    pub(super) rivals: Vec<(Suspect, Vec<SuspectKind>)>,
    /// Of each unknown, the variance that comes of not knowing when a fault began, or of a step
    /// that nothing explains.
    pub(super) besides: DVector<f64>,
    /// The entry after which the log jumps in a way that no fault explains.
    pub(super) unexplained: Option<usize>,
    /// What a factor that is wrong throughout would do, where the log does not tell it.
    pub(super) throughout: Option<WrongThroughout>,
}

impl Explained {
    /// The standard uncertainty of an unknown.
    pub(super) fn u(&self, place: usize) -> f64 {
        let at_bound = match place {
            EVAPORATION => self.bound_u[0],
            CARRY_OFF => self.bound_u[1],
            STANDING => self.bound_u[2],
            _ => None,
        };
        let besides = self.besides.get(place).copied().unwrap_or(0.0);
        self.inflation * at_bound.unwrap_or_else(|| self.fitted.u(place)).hypot(besides.sqrt())
    }
}

/// The fit in which no rate and no addition is less than 0, with its uncertainty.
pub(super) fn bounded(log: &Log, found: FoundSuspects) -> Result<Explained, LogUnfit> {
    let FoundSuspects { fitted, weights, rivals } = found;
    let mut explained = Explained {
        bound_u: [None; 3],
        inflation: 1.0,
        coverage_factor: quantile(0.975, weights.mended),
        scatter: weights.scatter,
        strengths: strengths(&fitted),
        rivals,
        fitted: possible_strengths(log, fitted, &weights)?,
        besides: DVector::zeros(0),
        unexplained: None,
        throughout: None,
    };
    gains(log, &mut explained, &weights)?;
    let freedom = degrees(explained.fitted.degrees);
    let unlikely = ChiSquared::new(freedom)
        .is_ok_and(|expected| expected.cdf(explained.fitted.chi_squared) > 0.99);
    if unlikely && weights.mended.is_none() {
        explained.inflation = explained.fitted.mean_square().sqrt();
        explained.coverage_factor = quantile(0.975, Some(freedom));
    }
    explained.besides = by_beginning(log, &explained.fitted, &weights);
    left_step(log, &mut explained, &weights);
    for (which, place) in [EVAPORATION, CARRY_OFF, STANDING].into_iter().enumerate() {
        let fitted = &explained.fitted;
        if fitted.theta[place] >= 0.0 {
            continue;
        }
        let sure = critical(1, &weights, fitted.degrees.max(1)) * explained.inflation;
        if place == CARRY_OFF && fitted.theta[place] < -sure * fitted.u(place) {
            return Err(LogUnfit::Gains);
        }
        explained.bound_u[which] = Some(fitted.u(place));
        let free: Vec<usize> = fitted.free.iter().copied().filter(|free| *free != place).collect();
        let mut theta = fitted.theta.clone();
        theta[place] = 0.0;
        explained.fitted = fit(log, &weights.sigma, theta, &free, &fitted.suspects.clone(), EXACT)?;
    }
    explained.throughout = WrongThroughout::of(log, &explained.fitted);
    Ok(explained)
}

/// The variance of each unknown between fits in which a fault that lasts begins at another
/// entry, each fit as likely as its sum of squares makes it. What begins is seldom known to
/// the day, and rates before and after it hang on the day.
fn by_beginning(log: &Log, fitted: &Fitted, weights: &Weights) -> DVector<f64> {
    /// Beginnings that are less likely than the best by this much in the sum of squares, times
    /// the scatter, weigh nothing.
    const UNLIKELY: f64 = 12.0;
    /// So many entries to either side are tried.
    const AWAY: usize = 30;
    let scatter = fitted.mean_square().max(if weights.mended.is_some() { 0.0 } else { 1.0 });
    let mut variance = DVector::zeros(fitted.theta.len());
    for s in 0..fitted.suspects.len() {
        let Some(from) = fitted.suspects[s].begins() else { continue };
        let mut fits = vec![(0.0, fitted.theta.clone())];
        let mut earlier = (0..from).rev().take(AWAY);
        let mut later = (from + 1..log.events.len()).take(AWAY);
        let mut follow = |entries: &mut dyn Iterator<Item = usize>| {
            for entry in entries {
                look();
                let mut suspects = fitted.suspects.clone();
                suspects[s] = suspects[s].beginning_at(entry);
                let (theta, sigma) = (fitted.theta.clone(), &weights.sigma);
                let Ok(other) = fit(log, sigma, theta, &fitted.free, &suspects, NEAR) else {
                    break;
                };
                let worse =
                    (other.chi_squared - fitted.chi_squared) / scatter.max(f64::MIN_POSITIVE);
                if worse > UNLIKELY {
                    break;
                }
                fits.push((worse, other.theta));
            }
        };
        follow(&mut earlier);
        follow(&mut later);
        let weight = |worse: f64| (-worse / 2.0).exp();
        let whole: f64 = fits.iter().map(|(worse, _)| weight(*worse)).sum();
        for place in &fitted.free {
            let about = fits.iter().map(|(worse, theta)| {
                weight(*worse) * (theta[*place] - fitted.theta[*place]).powi(2)
            });
            variance[*place] += about.sum::<f64>() / whole;
        }
    }
    variance
}

/// A step that the search left, for want of a fault that makes one or because there are more
/// faults than it takes: the rates are as unsure as leaving the step free makes them.
fn left_step(log: &Log, explained: &mut Explained, weights: &Weights) {
    let taken = &explained.fitted;
    let (sigma, suspects) = (&weights.sigma, &taken.suspects);
    // The covariance that is answered may have more unknowns than the fit.
    let fitted = fit(log, sigma, taken.theta.clone(), &taken.free, suspects, NEAR);
    let Some(fitted) = fitted.ok().filter(|fitted| fitted.degrees > 2) else { return };
    let steps = scores::steps(log, &fitted);
    let critical = critical_step(steps.len(), weights, fitted.degrees - 2);
    let Some((after, falls)) = steps.into_iter().max_by(|a, b| a.1.total_cmp(&b.1)) else { return };
    let left = (fitted.chi_squared - falls).max(0.0) / degrees(fitted.degrees - 2);
    let scatter = if weights.mended.is_some() { left } else { left.max(1.0) };
    if falls <= critical * scatter {
        return;
    }
    explained.unexplained = Some(after);
    let mut suspects = fitted.suspects.clone();
    suspects.extend([Suspect::Addition { after, strength: 0.0 }, Suspect::Concentrate { after }]);
    let theta = fitted.theta.push(0.0).push(0.0);
    let mut free = fitted.free.clone();
    free.extend([theta.len() - 2, theta.len() - 1]);
    if let Ok(other) = fit(log, &weights.sigma, theta, &free, &suspects, NEAR) {
        for place in &fitted.free {
            let apart = other.theta[*place] - fitted.theta[*place];
            explained.besides[*place] += apart * apart + other.covariance[(*place, *place)];
        }
    }
}

/// How strong the additions that were found are: after which entry, %, and its
/// standard uncertainty.
fn strengths(fitted: &Fitted) -> Vec<(usize, f64, f64)> {
    let freed = fitted.suspects.iter().enumerate().filter_map(|(s, suspect)| match suspect {
        Suspect::Concentrate { after } => Some((s, *after)),
        _ => None,
    });
    freed
        .map(|(s, after)| {
            let (litres, concentrate) = (fitted.amount(s - 1), fitted.amount(s));
            let (a, b) = (FIRST_SUSPECT + s - 1, FIRST_SUSPECT + s);
            let share = concentrate / litres;
            let cov = &fitted.covariance;
            let variance = cov[(b, b)] - 2.0 * share * cov[(a, b)] + share * share * cov[(a, a)];
            let strength = nearest_possible(fitted, s).unwrap_or(100.0 * share);
            (after, strength, 100.0 * variance.max(0.0).sqrt() / litres)
        })
        .collect()
}

/// The fit in which what went in unwritten is water where the log cannot tell it
/// from water, by a standard uncertainty, and never stronger than neat. The
/// uncertainties stay those of a strength that is not known.
fn possible_strengths(log: &Log, fitted: Fitted, weights: &Weights) -> Result<Fitted, LogUnfit> {
    let mut suspects = fitted.suspects.clone();
    let mut theta = fitted.theta.clone();
    let mut free = fitted.free.clone();
    for s in 0..suspects.len() {
        look();
        let place = FIRST_SUSPECT + s;
        let Some(fast) = nearest_possible(&fitted, s) else { continue };
        theta[place] = 0.0;
        free.retain(|free| *free != place);
        if let Suspect::Addition { strength, .. } = &mut suspects[s - 1] {
            *strength = fast;
        }
    }
    if free.len() == fitted.free.len() {
        return Ok(fitted);
    }
    let bounded = fit(log, &weights.sigma, theta, &free, &suspects, EXACT)?;
    Ok(Fitted { covariance: fitted.covariance, ..bounded })
}

/// The strength to hold an addition to, where its own is not told from water's or
/// is more than neat.
fn nearest_possible(fitted: &Fitted, s: usize) -> Option<f64> {
    let Suspect::Concentrate { .. } = fitted.suspects[s] else { return None };
    let (litres, concentrate) = (fitted.amount(s - 1), fitted.amount(s));
    if concentrate <= fitted.u(FIRST_SUSPECT + s) {
        return Some(0.0);
    }
    (concentrate > litres).then_some(100.0)
}

/// A sump that gains water from the first entry on has an ingress that its
/// evaporation cannot hide.
fn gains(log: &Log, explained: &mut Explained, weights: &Weights) -> Result<(), LogUnfit> {
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
