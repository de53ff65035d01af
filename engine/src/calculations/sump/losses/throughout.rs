//! What a factor that is wrong throughout would do to the rates, and whether the log tells it.
//!
//! With all strengths read too high by one factor, those of what was added too, every balance
//! closes as well as before: only additions that are as strong as written show such a factor,
//! and only as far as they differ from the sump.

use super::course::{CARRY_OFF, FIRST_SUSPECT};
use super::fit::{Fitted, NEAR, fit};
use super::log::{Log, Seen};
use super::suspect::Suspect;

/// The factor that is supposed, as a share too high: what a mixed-up product or a zero that was
/// never set may come to. Common practice, no source.
pub(super) const SUPPOSED: f64 = 0.1;

/// What a factor that is wrong throughout would do.
#[derive(Debug, Clone, Copy)]
pub(super) struct WrongThroughout {
    /// The least share too high or too low that the log would show; none where it shows none.
    pub(super) told_from: Option<f64>,
    /// The carry-off had all strengths been read too high by [`SUPPOSED`], L/day.
    pub(super) carry_off: f64,
}

impl WrongThroughout {
    /// None where the log would show it, or where the carry-off hardly hangs on it.
    pub(super) fn of(log: &Log, fitted: &Fitted) -> Option<Self> {
        /// A factor this uncertain is not told.
        const UNTOLD: f64 = 0.5;
        let scaled = |seen: &Seen| matches!(seen, Seen::Strength(_));
        let known_from_here = fitted.suspects.iter().any(|s| matches!(s, Suspect::Factor { .. }));
        if known_from_here || !fitted.free.contains(&CARRY_OFF) {
            return None;
        }
        let mut lower = log.clone();
        lower.observations.iter_mut().filter(|o| scaled(&o.seen)).for_each(|o| {
            o.value /= 1.0 + SUPPOSED;
        });
        let sigma = &fitted.sigma;
        let theta = fitted.theta.clone();
        let other = fit(&lower, sigma, theta.clone(), &fitted.free, &fitted.suspects, NEAR).ok()?;
        let carry_off = other.theta[CARRY_OFF].max(0.0);
        if (carry_off - fitted.theta[CARRY_OFF]).abs() <= fitted.u(CARRY_OFF) {
            return None;
        }
        let mut suspects = fitted.suspects.clone();
        suspects.push(Suspect::Factor { from: 0 });
        let mut free = fitted.free.clone();
        free.push(FIRST_SUSPECT + suspects.len() - 1);
        let with = fit(log, sigma, theta.push(0.0), &free, &suspects, NEAR).ok();
        let told = with.map(|with| 2.0 * with.u(FIRST_SUSPECT + suspects.len() - 1));
        if told.is_some_and(|told| told <= SUPPOSED) {
            return None;
        }
        Some(Self { told_from: told.filter(|told| *told < UNTOLD), carry_off })
    }
}
