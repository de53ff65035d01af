//! How large a fault must be before chance would not do as well.

use super::answer::SuspectKind;
use super::fit::{Fitted, degrees};
use super::suspect::Suspect;
use nalgebra::DVector;
use statrs::distribution::{ContinuousCDF, Normal, StudentsT};

/// How often a log without faults may be found to have one.
const FALSE_ALARMS: f64 = 0.01;

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
pub(super) struct FoundSuspects {
    pub(super) fitted: Fitted,
    pub(super) weights: Weights,
    pub(super) rivals: Vec<(Suspect, Vec<SuspectKind>)>,
}

/// How many u a fault must be large, so many having been tried.
pub(super) fn critical(tried: usize, weights: &Weights, left: usize) -> f64 {
    let tail = 1.0 - FALSE_ALARMS / degrees(tried) / 2.0;
    quantile(tail, weights.mended.map(|_| degrees(left)))
}

/// By how much a step of two unknowns must lower the sum of squares, in units of the scatter
/// with so many degrees of freedom left, to be no chance in all but one log in a thousand, so
/// many having been looked at: twice the quantile of F with 2 and those degrees.
pub(super) fn critical_step(looked_at: usize, weights: &Weights, left: usize) -> f64 {
    const NO_CHANCE: f64 = 0.001;
    let share = NO_CHANCE / degrees(looked_at).max(1.0);
    if weights.mended.is_none() {
        return -2.0 * share.ln();
    }
    let left = degrees(left.max(1));
    left * (share.powf(-2.0 / left) - 1.0)
}

/// Of the normal distribution, or of Student's with so many degrees of freedom.
pub(super) fn quantile(share: f64, degrees: Option<f64>) -> f64 {
    let student = degrees.and_then(|degrees| StudentsT::new(0.0, 1.0, degrees.max(1.0)).ok());
    match student {
        Some(student) => student.inverse_cdf(share),
        None => Normal::standard().inverse_cdf(share),
    }
}
