//! The fit of a sump's course to its log: Gauss–Newton, each step a weighted linear
//! least-squares problem solved by singular values.

use super::course::{
    C_0, CARRY_OFF, DEPLETION, EVAPORATION, FIRST_SUSPECT, LoggedCourse, SCALE, STANDING, V_0,
};
use super::log::{Log, Seen};
use super::suspect::Suspect;
use crate::dynamics::log::TakenOut;
use crate::numerics::cut_off::look;
use crate::numerics::least_squares;
use nalgebra::{DMatrix, DVector};

/// A course that fits, and how well.
#[derive(Debug, Clone)]
pub(super) struct Fitted {
    pub(super) suspects: Vec<Suspect>,
    pub(super) theta: DVector<f64>,
    /// Which unknowns were fitted; the others stood fast.
    pub(super) free: Vec<usize>,
    /// Of all unknowns, for the uncertainties as they were taken; nothing where an
    /// unknown stood fast.
    pub(super) covariance: DMatrix<f64>,
    /// The uncertainty of each observation as it was taken.
    pub(super) sigma: DVector<f64>,
    pub(super) chi_squared: f64,
    pub(super) degrees: usize,
    pub(super) course: LoggedCourse,
}

/// Why the iteration stopped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum FitStop {
    /// The next step is far below the uncertainties.
    Settled,
    /// No step, however small, fits better.
    Stuck,
    /// It went on for too long.
    TooManySteps,
}

/// Why there is no fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum LogUnfit {
    /// The readings do not determine the unknowns.
    Undetermined,
    /// By the log, the sump would be dry at this entry.
    Dry(usize),
    /// By the log, concentrate comes from nowhere.
    Gains,
    /// The iteration stopped before it settled.
    Unsettled(FitStop),
}

impl Fitted {
    /// The standard uncertainty of an unknown, for the uncertainties as taken.
    pub(super) fn u(&self, place: usize) -> f64 {
        self.covariance[(place, place)].max(0.0).sqrt()
    }

    /// How large a suspect is.
    pub(super) fn amount(&self, suspect: usize) -> f64 {
        self.theta[FIRST_SUSPECT + suspect]
    }

    /// How far two suspects together are from nothing: the square of their distance in
    /// standard uncertainties, their correlation counted.
    pub(super) fn together(&self, a: usize, b: usize) -> f64 {
        let (x, y) = (self.amount(a), self.amount(b));
        let (i, j) = (FIRST_SUSPECT + a, FIRST_SUSPECT + b);
        let cov = &self.covariance;
        let determinant = cov[(i, i)] * cov[(j, j)] - cov[(i, j)] * cov[(i, j)];
        (x * x * cov[(j, j)] - 2.0 * x * y * cov[(i, j)] + y * y * cov[(i, i)]) / determinant
    }

    /// Mean square of residual/σ.
    pub(super) fn mean_square(&self) -> f64 {
        self.chi_squared / degrees(self.degrees).max(1.0)
    }
}

/// A count as a number to compute with.
pub(super) fn degrees(count: usize) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "far fewer than 2^52 observations")]
    let count = count as f64;
    count
}

/// The unknowns that a log is fitted with before anything is suspected.
pub(super) fn free(log: &Log) -> Vec<usize> {
    // What was there before a sump is emptied leaves no trace but in its own readings.
    let is_seen = |wanted| log.observations.iter().any(|o| o.seen == wanted);
    let is_emptied = log.events.first().is_some_and(|first| first.taken == TakenOut::All);
    let mut free = Vec::with_capacity(FIRST_SUSPECT);
    free.extend((!is_emptied || is_seen(Seen::Volume(0))).then_some(V_0));
    free.extend((!is_emptied || is_seen(Seen::Strength(0))).then_some(C_0));
    free.extend([EVAPORATION, CARRY_OFF]);
    free.extend(log.asks_depletion.then_some(DEPLETION));
    free.extend(log.asks_volume.then_some(SCALE));
    free.extend(log.tells_standing.then_some(STANDING));
    free
}

/// The same, and how large each suspect is.
pub(super) fn free_with(log: &Log, suspects: &[Suspect]) -> Vec<usize> {
    let mut free = free(log);
    free.extend(FIRST_SUSPECT..FIRST_SUSPECT + suspects.len());
    free
}

/// A step below this share of the uncertainties is none: for what is answered.
pub(super) const EXACT: f64 = 1e-10;
/// The same, for what is only compared.
pub(super) const NEAR: f64 = 1e-3;

/// Fits the unknowns in `free`, beginning at `theta`, until the next step is less
/// than the share `near` of the uncertainties.
pub(super) fn fit(
    log: &Log,
    sigma: &DVector<f64>,
    theta: DVector<f64>,
    free: &[usize],
    suspects: &[Suspect],
    near: f64,
) -> Result<Fitted, LogUnfit> {
    /// So many roundings of the sum of squares are no change of it.
    const ROUNDING: f64 = 100.0 * f64::EPSILON;
    const STEPS: usize = 100;
    let observed = log.values();
    let sum =
        |course: &LoggedCourse| (&observed - &course.predicted).component_div(sigma).norm_squared();
    let mut theta = theta;
    let mut course = LoggedCourse::run(log, &theta, suspects).map_err(LogUnfit::Dry)?;
    let mut chi_squared = sum(&course);
    let mut stop = FitStop::TooManySteps;
    let (mut last, mut before) = (None, f64::INFINITY);
    for _ in 0..STEPS {
        look();
        let x = course.jacobian.select_columns(free);
        let r = &observed - &course.predicted;
        let linear = least_squares::fit(&x, &r, sigma).map_err(|_| LogUnfit::Undetermined)?;
        let size = |j: usize| linear.parameters[j].abs() / linear.covariance[(j, j)].sqrt();
        let step = (0..free.len()).map(size).fold(0.0, f64::max);
        last = Some(linear.covariance.clone());
        // Once the sum of squares is flat to the last bit it says no more; the step
        // does, as long as it shrinks.
        let flat = step * step <= ROUNDING * (chi_squared + degrees(observed.len()));
        if step <= near || (flat && step > 0.5 * before) {
            stop = FitStop::Settled;
            break;
        }
        before = step;
        let shorter = (0..30).map(|halvings| 0.5_f64.powi(halvings)).find_map(|share| {
            let mut next = theta.clone();
            for (j, place) in free.iter().enumerate() {
                next[*place] += share * linear.parameters[j];
            }
            let course = LoggedCourse::run(log, &next, suspects).ok()?;
            let next_sum = sum(&course);
            (flat || next_sum < chi_squared).then_some((next, course, next_sum))
        });
        let Some((next, next_course, next_sum)) = shorter else {
            stop = FitStop::Stuck;
            break;
        };
        (theta, course, chi_squared) = (next, next_course, next_sum);
    }
    let (FitStop::Settled, Some(fitted)) = (stop, last) else {
        return Err(LogUnfit::Unsettled(stop));
    };
    let mut covariance = DMatrix::zeros(theta.len(), theta.len());
    for (i, row) in free.iter().enumerate() {
        for (j, column) in free.iter().enumerate() {
            covariance[(*row, *column)] = fitted[(i, j)];
        }
    }
    Ok(Fitted {
        suspects: suspects.to_vec(),
        theta,
        free: free.to_vec(),
        covariance,
        sigma: sigma.clone(),
        chi_squared,
        degrees: observed.len() - free.len(),
        course,
    })
}

/// How far the readings of which we had to assume the uncertainty really scatter,
/// and with how many degrees of freedom that is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct ReadingSpread {
    /// In units of the σ that the fit took.
    pub(super) times: f64,
    pub(super) degrees: f64,
}

/// The spread of the volumes, or else of the strengths, whose uncertainty was
/// assumed; none where they are too few to tell.
pub(super) fn spread(log: &Log, fitted: &Fitted, volumes: bool) -> Option<ReadingSpread> {
    /// Fewer degrees of freedom than this say nothing of a scatter.
    const ENOUGH: f64 = 1.5;
    let x = fitted.course.jacobian.select_columns(&fitted.free);
    let covariance = fitted.covariance.select_columns(&fitted.free).select_rows(&fitted.free);
    let (mut squares, mut left) = (0.0, 0.0);
    for (i, o) in log.observations.iter().enumerate() {
        if !o.assumed || o.is_volume() != volumes {
            continue;
        }
        let (sigma, row) = (fitted.sigma[i], x.row(i));
        squares += ((o.value - fitted.course.predicted[i]) / sigma).powi(2);
        left += 1.0 - (row * &covariance * row.transpose())[0] / (sigma * sigma);
    }
    (left > ENOUGH).then(|| ReadingSpread { times: (squares / left).sqrt(), degrees: left })
}
