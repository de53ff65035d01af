//! The search for what explains a log: the plain fit, then one fault after the
//! other as long as chance would not do as well.

use super::answer::SuspectKind;
use super::bounds::{Explained, bounded};
use super::course::{CARRY_OFF, EVAPORATION, FIRST_SUSPECT, STANDING};
use super::fit::{self, EXACT, Fitted, LogUnfit, NEAR, fit, free_with};
use super::levels::start;
use super::log::Log;
use super::refusal::refusal;
use super::scores::{self, Scored};
use super::significance::{FoundSuspects, Weights, critical};
use super::suspect::{Suspect, kind, possible, rarity};
use crate::numerics::cut_off::look;
use crate::numerics::order;
use crate::text::Refusal;
use nalgebra::DVector;
use std::collections::BTreeMap;

/// More faults than this are not a log with faults but another story.
const MOST_SUSPECTS: usize = 5;
/// A fault that explains less than this share of the best, or of what it takes, to
/// first order, does not come out on top when it is fitted in full.
const PROMISING: f64 = 0.4;
/// A fault of another kind within this much of the best in the sum of squares, two
/// standard uncertainties, cannot be ruled out.
const NEARLY: f64 = 4.0;
/// Of each kind of fault, so many are fitted in full before the best is taken.
const OF_EACH_KIND: usize = 2;

/// Fits the log and finds what it does not say.
pub(super) fn explain(log: &Log) -> Result<Explained, Refusal> {
    let refused = |unfit| refusal(log, unfit);
    let told = first_fit(log);
    let without = Log { tells_standing: false, ..log.clone() };
    // Where the log does not tell what evaporates while the machine stands, it is taken as none.
    let (log, first) = match told {
        Some(first) => (log, first),
        None => {
            (&without, weighed(&without, start(&without).map_err(refused)?, &[]).map_err(refused)?)
        }
    };
    let (fitted, weights) = first;
    let mut found = FoundSuspects { fitted, weights, rivals: Vec::new() };
    for _ in 0..MOST_SUSPECTS {
        look();
        let Some(better) = next(log, &found) else { break };
        found = better;
    }
    let near = &found.fitted;
    let sigma = &found.weights.sigma;
    found.fitted =
        fit(log, sigma, near.theta.clone(), &near.free, &near.suspects, EXACT).map_err(refused)?;
    let explained = bounded(log, found).map_err(refused)?;
    if log.filled_blindly() > 0 {
        explained.check_told()?;
    }
    Ok(explained)
}

/// The plain fit, with what evaporates while the machine stands where the log tells that.
fn first_fit(log: &Log) -> Option<(Fitted, Weights)> {
    /// A rate of which this share of the loss is uncertain is not told.
    const UNTOLD: f64 = 0.25;
    let first = weighed(log, start(log).ok()?, &[]).ok()?;
    let theta = &first.0.theta;
    let loss = theta[EVAPORATION] + theta[CARRY_OFF];
    let is_told = !log.tells_standing || first.0.u(STANDING) <= UNTOLD * loss.abs();
    is_told.then_some(first)
}

/// A fit whose assumed uncertainties agree with the scatter about it.
fn weighed(
    log: &Log,
    begin: DVector<f64>,
    suspects: &[Suspect],
) -> Result<(Fitted, Weights), LogUnfit> {
    const ROUNDS: usize = 20;
    /// Readings that agree to the last digit are still no better than this share of what is
    /// usual: whoever pours the same can each time and writes the same figure has not measured
    /// to the drop. Common practice, no source.
    const FINEST: f64 = 0.1;
    let usual = DVector::from_iterator(
        log.observations.len(),
        log.observations.iter().map(|observation| observation.u),
    );
    let free = free_with(log, suspects);
    let mut weights = Weights { sigma: usual.clone(), mended: None, scatter: [None; 2] };
    let mut fitted = fit(log, &weights.sigma, begin, &free, suspects, NEAR)?;
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

/// The same log with one more fault, where one explains it better than chance.
fn next(log: &Log, found: &FoundSuspects) -> Option<FoundSuspects> {
    let FoundSuspects { fitted: base, weights, rivals } = found;
    let mut scored = scores::score(log, base);
    scored.retain(|scored| possible(&scored.suspect, scored.amount));
    if scored.is_empty() || base.degrees < 2 {
        return None;
    }
    let critical = critical(scored.len(), weights, base.degrees - 1).powi(2);
    order::greatest_first(&mut scored, |scored| scored.explains);
    let fits = shortlist(&scored, critical).into_iter().filter_map(|scored| {
        let mut suspects = base.suspects.clone();
        suspects.push(scored.suspect);
        let theta = base.theta.push(scored.amount);
        let free = free_with(log, &suspects);
        let fitted = fit(log, &weights.sigma, theta, &free, &suspects, NEAR).ok()?;
        possible(&scored.suspect, fitted.amount(suspects.len() - 1)).then_some(fitted)
    });
    let mut fits: Vec<Fitted> = fits.collect();
    let newest = |fitted: &Fitted| fitted.suspects[base.suspects.len()];
    // The scatter is that of the fit that fits best, whatever it is called.
    let least = fits.iter().map(super::fit::Fitted::mean_square).fold(f64::INFINITY, f64::min);
    let unit = if weights.mended.is_some() { least } else { least.max(1.0) };
    let rated = |fitted: &Fitted| fitted.chi_squared + unit * rarity(&newest(fitted));
    order::least_first(&mut fits, rated);
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
    let as_good = fits.iter().filter(|fitted| fitted.chi_squared <= nearly);
    let mut kinds: Vec<SuspectKind> = as_good.map(|fitted| kind(&newest(fitted))).collect();
    kinds.sort_unstable();
    kinds.dedup();
    kinds.retain(|other| *other != kind(&newest(best)));
    let (suspects, theta) = with_free_strength(best);
    let (fitted, weights) = weighed(log, theta, &suspects).ok()?;
    let mut rivals = rivals.clone();
    rivals.push((suspects[base.suspects.len()], kinds));
    Some(sure_ones(log, FoundSuspects { fitted, weights, rivals }))
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
fn sure_ones(log: &Log, found: FoundSuspects) -> FoundSuspects {
    let FoundSuspects { fitted, weights, rivals } = found;
    let kept = (0..fitted.suspects.len()).filter(|s| is_sure(&fitted, *s));
    let kept: Vec<usize> = kept.collect();
    if kept.len() == fitted.suspects.len() {
        return FoundSuspects { fitted, weights, rivals };
    }
    let (suspects, theta) = only(&fitted, &kept);
    match weighed(log, theta, &suspects) {
        Ok((fitted, weights)) => FoundSuspects { fitted, weights, rivals },
        Err(_) => FoundSuspects { fitted, weights, rivals },
    }
}

/// Whether a fault is still well above what chance does alone, though well below what it
/// took to be found: three standard uncertainties or, where litres and their concentrate
/// are two unknowns, as seldom by both together.
fn is_sure(fitted: &Fitted, s: usize) -> bool {
    /// Squares of normal errors that 27 in 10,000 pass, of one and the sum of two.
    const KEPT_ABOVE: [f64; 2] = [9.0, 11.83];
    let (litres, concentrate) = match (fitted.suspects[s], fitted.suspects.get(s + 1)) {
        // It stands and falls with its addition, the one before it.
        (Suspect::Concentrate { .. }, _) => (s - 1, s),
        (Suspect::Addition { .. }, Some(Suspect::Concentrate { .. })) => (s, s + 1),
        _ => {
            let size = fitted.amount(s) / fitted.u(FIRST_SUSPECT + s);
            return size * size > KEPT_ABOVE[0];
        }
    };
    fitted.together(litres, concentrate) > KEPT_ABOVE[1]
}

/// Some of the suspects of a fit, and the unknowns that go with them.
fn only(fitted: &Fitted, kept: &[usize]) -> (Vec<Suspect>, DVector<f64>) {
    let suspects = kept.iter().map(|s| fitted.suspects[*s]).collect();
    let places = (0..FIRST_SUSPECT).chain(kept.iter().map(|s| FIRST_SUSPECT + s));
    let theta: Vec<f64> = places.map(|place| fitted.theta[place]).collect();
    (suspects, DVector::from_vec(theta))
}
