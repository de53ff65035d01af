//! How much each fault that a log can have would explain.
//!
//! With r what a fit leaves of the readings and X its design, both divided by the
//! uncertainties, a fault that would move the readings by g for each unit of it
//! lowers the sum of squares by (g'r)²/(g'g − g'X(X'X)⁻¹X'g), to first order. For
//! all faults at all entries, g'r, g'X and g'g are had by one pass from the last
//! entry to the first: what a push on the sump does to all readings after it.

use super::course::{LoggedCourse, SCALE};
use super::fit::Fitted;
use super::log::{Log, Seen};
use super::suspect::Suspect;
use crate::dynamics::log::TakenOut;
use nalgebra::{DMatrix, DVector, Matrix6xX, SMatrix, SVector};

/// What a suspect would explain.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scored {
    pub(super) suspect: Suspect,
    /// By how much the sum of squares would fall.
    pub(super) explains: f64,
    /// How large it would be.
    pub(super) amount: f64,
}

/// What can be pushed: volume, concentrate, and from here on the ingress, the share
/// of concentrate in premix, the scale of the strengths, and its drift in a day.
const PUSHES: usize = 6;
const INGRESS: usize = 2;
const PREMIX: usize = 3;
const FACTOR: usize = 4;
const DRIFT: usize = 5;

type Pushes = SVector<f64, PUSHES>;
type Square = SMatrix<f64, PUSHES, PUSHES>;

/// What a push at some place does to all readings after it.
#[derive(Clone)]
struct Trace {
    /// g'r and g'X for each push, a column each.
    along: Matrix6xX<f64>,
    /// g'g of each pair of pushes.
    size: Square,
}

impl Trace {
    fn back(&mut self, by: &Square) {
        self.along = by.transpose() * &self.along;
        self.size = by.transpose() * self.size * by;
    }
}

/// Scores every suspect there can be.
pub(super) fn score(log: &Log, fitted: &Fitted) -> Vec<Scored> {
    Scores::new(log, fitted).all().found
}

/// Every step of volume and concentrate together that a fit may have left: after which entry,
/// and by how much the sum of squares would fall.
pub(super) fn steps(log: &Log, fitted: &Fitted) -> Vec<(usize, f64)> {
    Scores::new(log, fitted).all().steps
}

struct Scores<'a> {
    log: &'a Log,
    fitted: &'a Fitted,
    /// r and X, divided by the uncertainties.
    design: DMatrix<f64>,
    covariance: DMatrix<f64>,
    strengths: Vec<f64>,
    found: Vec<Scored>,
    steps: Vec<(usize, f64)>,
}

impl<'a> Scores<'a> {
    fn new(log: &'a Log, fitted: &'a Fitted) -> Self {
        let x = fitted.course.jacobian.select_columns(&fitted.free);
        let r = log.values() - &fitted.course.predicted;
        let sigma = &fitted.sigma;
        let design = DMatrix::from_fn(x.nrows(), x.ncols() + 1, |i, j| {
            let entry = if j == 0 { r[i] } else { x[(i, j - 1)] };
            entry / sigma[i]
        });
        let free = &fitted.free;
        let covariance = fitted.covariance.select_columns(free).select_rows(free);
        let strengths = strengths(log);
        Self { log, fitted, design, covariance, strengths, found: Vec::new(), steps: Vec::new() }
    }

    fn all(mut self) -> Self {
        let last = self.log.events.len() - 1;
        let mut row = self.log.observations.iter().rposition(|o| is_at(o.seen).is_some());
        let columns = self.design.ncols();
        let mut trace = Trace { along: Matrix6xX::zeros(columns), size: Square::zeros() };
        let mut strengths_read = 0;
        // The first later addition of the same strength, and the last of the run.
        let runs = same_premix(self.log);
        for i in (0..=last).rev() {
            let mut drift = trace.clone();
            if i < last {
                drift.back(&flow_matrix(self.log, &self.fitted.course, i));
                trace.back(&flow_matrix(self.log, &self.fitted.course, i));
                self.after(i, last, &trace, runs[i]);
                trace.back(&event_matrix(self.log, &self.fitted.course, i));
            }
            while let Some(at) = row.filter(|at| is_at(self.log.observations[*at].seen) == Some(i))
            {
                let push = reading_push(&self.fitted.course, self.fitted, self.log, at);
                strengths_read += usize::from(!self.log.observations[at].is_volume());
                trace.along += push * self.design.row(at);
                trace.size += push * push.transpose();
                self.misread(at, i);
                row = at.checked_sub(1);
            }
            // Two strengths that drift are one that is scaled, and from the first entry on the
            // carry-off drifts along.
            if strengths_read > 2 && i > 0 && i < last {
                self.note(Suspect::Drift { from: i }, &unit(DRIFT), &drift);
            }
            // One scaled strength is a misread one.
            if strengths_read > 1 {
                self.note(Suspect::Factor { from: i }, &unit(FACTOR), &trace);
            }
        }
        self
    }

    /// A step of volume and concentrate after entry `i`, whatever its cause; none where the fit
    /// absorbs it.
    fn step(&mut self, i: usize, trace: &Trace) {
        const OWN: f64 = 1e-6;
        let along = trace.along.fixed_rows::<2>(0);
        let with_x = along.columns_range(1..);
        let own =
            trace.size.fixed_view::<2, 2>(0, 0) - with_x * &self.covariance * with_x.transpose();
        let size = trace.size[(0, 0)] * trace.size[(1, 1)];
        if own.determinant() > OWN * size
            && let Some(inverse) = own.try_inverse()
        {
            let with_r = along.column(0);
            self.steps.push((i, (with_r.transpose() * inverse * with_r)[0]));
        }
    }

    /// What may have happened after entry `i`.
    fn after(&mut self, i: usize, last: usize, trace: &Trace, run: Option<usize>) {
        self.step(i, trace);
        for strength in self.strengths.clone() {
            let push = unit(0) + unit(1) * (strength / 100.0);
            self.note(Suspect::Addition { after: i, strength }, &push, trace);
        }
        let before = self.fitted.course.before[i];
        let event = self.log.events[i];
        // What is filled up or emptied holds what it holds, whatever left it before.
        if event.poured.unwritten_up_to().is_none() && event.taken != TakenOut::All {
            let push = -unit(0) - unit(1) * (before.c / before.v);
            self.note(Suspect::Removal { after: i }, &push, trace);
        }
        let strength = event.poured.strength;
        if event.added() > 0.0 {
            let push = -(unit(0) + unit(1) * (strength / 100.0)) * event.added();
            self.note(Suspect::Missing { at: i }, &push, trace);
        }
        // From the first entry on an ingress is the same as less evaporation, and
        // in the last interval the same as an addition.
        if i > 0 && i + 1 < last {
            self.note(Suspect::Ingress { from: i }, &unit(INGRESS), trace);
        }
        if let Some(to) = run {
            let push = unit(1) * (self.fitted.course.poured[i] * strength / 100.0);
            self.note(Suspect::Premix { from: i, to: i }, &push, trace);
            if to > i {
                // The push is on the additions at this entry and after it.
                let push = push + unit(PREMIX);
                self.note(Suspect::Premix { from: i, to }, &push, trace);
            }
        }
    }

    fn misread(&mut self, row: usize, entry: usize) {
        let suspect = match self.log.observations[row].seen {
            Seen::Volume(_) => Suspect::Volume { at: entry },
            _ => Suspect::Strength { at: entry },
        };
        let one = 1.0 / self.fitted.sigma[row];
        let along = self.design.row(row).transpose() * one;
        self.keep(suspect, &along, one * one);
    }

    fn note(&mut self, suspect: Suspect, push: &Pushes, trace: &Trace) {
        let along = trace.along.transpose() * push;
        self.keep(suspect, &along, (push.transpose() * trace.size * push)[0]);
    }

    fn keep(&mut self, suspect: Suspect, along: &DVector<f64>, size: f64) {
        /// A fault of which the fit absorbs all but this share cannot be told from
        /// other rates.
        const OWN: f64 = 1e-6;
        let with_x = along.rows(1, along.len() - 1);
        let own = size - (with_x.transpose() * &self.covariance * with_x)[0];
        if own > OWN * size {
            let with_r = along[0];
            let (explains, amount) = (with_r * with_r / own, with_r / own);
            self.found.push(Scored { suspect, explains, amount });
        }
    }
}

fn is_at(seen: Seen) -> Option<usize> {
    match seen {
        Seen::Volume(at) | Seen::Strength(at) => Some(at),
        Seen::Evaporation | Seen::CarryOff | Seen::Standing => None,
    }
}

fn unit(place: usize) -> Pushes {
    let mut push = Pushes::zeros();
    push[place] = 1.0;
    push
}

/// How what is pushed after entry `i` stands at entry `i + 1`.
fn flow_matrix(log: &Log, course: &LoggedCourse, i: usize) -> Square {
    let flow = &course.flows[i];
    let mut by = Square::identity();
    by[(1, 0)] = flow.c_by_v;
    by[(1, 1)] = flow.c_by_c;
    by[(0, INGRESS)] = flow.by_ingress[0];
    by[(1, INGRESS)] = flow.by_ingress[1];
    by[(FACTOR, DRIFT)] = log.stretch(i).days;
    by
}

/// How what is pushed before entry `i` stands after it.
fn event_matrix(log: &Log, course: &LoggedCourse, i: usize) -> Square {
    let (before, event) = (course.before[i], &log.events[i]);
    let taken = course.taken[i];
    let mut by = Square::identity();
    let strength = event.poured.strength / 100.0;
    by[(1, 0)] = before.c * taken / (before.v * before.v);
    by[(1, 1)] = 1.0 - taken / before.v;
    if event.taken == TakenOut::All {
        (by[(0, 0)], by[(1, 0)], by[(1, 1)]) = (0.0, 0.0, 0.0);
    }
    if event.poured.unwritten_up_to().is_some() {
        by[(1, 0)] -= strength * by[(0, 0)];
        by[(0, 0)] = 0.0;
    }
    if log.is_premix(i) {
        by[(1, PREMIX)] = course.poured[i] * strength;
    }
    by
}

/// How an observation answers to each push, divided by its uncertainty.
fn reading_push(course: &LoggedCourse, fitted: &Fitted, log: &Log, row: usize) -> Pushes {
    let mut push = Pushes::zeros();
    match log.observations[row].seen {
        Seen::Volume(_) => push[0] = 1.0 / fitted.theta[SCALE],
        Seen::Strength(at) => {
            let (state, scaled) = (course.before[at], course.scaled[at]);
            push[0] = -100.0 * scaled * state.c / (state.v * state.v);
            push[1] = 100.0 * scaled / state.v;
            push[FACTOR] = 100.0 * scaled * state.c / state.v;
        }
        Seen::Evaporation | Seen::CarryOff | Seen::Standing => {}
    }
    push / fitted.sigma[row]
}

/// The strengths that an addition nobody wrote down can have had: water, neat, and
/// the few that were added most often.
fn strengths(log: &Log) -> Vec<f64> {
    const USUAL: usize = 2;
    let mut counted: Vec<(f64, usize)> = Vec::new();
    for i in (0..log.events.len()).filter(|i| log.is_premix(*i)) {
        let strength = log.events[i].poured.strength;
        match counted.iter_mut().find(|(known, _)| *known == strength) {
            Some((_, times)) => *times += 1,
            None => counted.push((strength, 1)),
        }
    }
    counted.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.total_cmp(&b.0)));
    let usual = counted.into_iter().take(USUAL).map(|(strength, _)| strength);
    [0.0, 100.0].into_iter().chain(usual).collect()
}

/// For each entry that adds premix, the last entry that adds premix at all.
fn same_premix(log: &Log) -> Vec<Option<usize>> {
    let observed = log.events.len().saturating_sub(1);
    let last = (0..observed).rev().find(|i| log.is_premix(*i));
    (0..observed).map(|i| last.filter(|_| log.is_premix(i))).collect()
}

#[cfg(test)]
mod tests {
    use super::super::course::FIRST_SUSPECT;
    use super::super::fit::{EXACT, fit, free};
    use super::super::levels::start;
    use super::super::{Calculation, Losses};
    use super::*;

    fn example() -> Log {
        let mut document: serde_json::Value =
            serde_json::from_str(Losses::EXAMPLE).expect("an example is JSON");
        let members = document.as_object_mut().expect("an object");
        members.retain(|name, _| name != "units" && name != "reference");
        // Removals, gaps and neat concentrate, so that all is tried.
        let log = members["log"].as_array_mut().expect("entries");
        log[4]["removed"] = serde_json::json!({ "volume": 12.0 });
        log[6].as_object_mut().expect("an entry").remove("volume");
        log[8].as_object_mut().expect("an entry").remove("reading");
        let question: Losses = serde_json::from_value(document).expect("a log");
        question.read().expect("it is sound")
    }

    fn fitted(log: &Log) -> Fitted {
        let sigma = DVector::from_iterator(
            log.observations.len(),
            log.observations.iter().map(|observation| observation.u),
        );
        let theta = start(log).expect("volumes enough");
        fit(log, &sigma, theta, &free(log), &[], EXACT).expect("it fits")
    }

    /// The pass from the last entry to the first gives what following the sump
    /// forward with each suspect gives.
    #[test]
    fn scores_are_those_of_a_regression_on_each_suspect() {
        let log = example();
        let fitted = fitted(&log);
        let scored = score(&log, &fitted);
        assert!(scored.len() > 150, "only {} suspects", scored.len());
        // Each once: of a kind only the best few are tried in full.
        for (i, one) in scored.iter().enumerate() {
            let twice = scored[..i].iter().any(|other| other.suspect == one.suspect);
            assert!(!twice, "{:?} twice", one.suspect);
        }
        let whitened = |column: DVector<f64>| column.component_div(&fitted.sigma);
        let r = whitened(log.values() - &fitted.course.predicted);
        let x = fitted.course.jacobian.select_columns(&fitted.free);
        let covariance = fitted.covariance.select_columns(&fitted.free).select_rows(&fitted.free);
        for Scored { suspect, explains, amount } in scored {
            let theta = fitted.theta.push(0.0);
            let course = LoggedCourse::run(&log, &theta, &[suspect]).expect("it holds enough");
            let g = whitened(course.jacobian.column(FIRST_SUSPECT).into_owned());
            let along = DVector::from_iterator(
                x.ncols(),
                x.column_iter().map(|column| whitened(column.into_owned()).dot(&g)),
            );
            let own = g.norm_squared() - (along.transpose() * &covariance * &along)[0];
            let with_r = g.dot(&r);
            let tolerance = 1e-7 * (1.0 + with_r * with_r / own);
            assert!((explains - with_r * with_r / own).abs() < tolerance, "{suspect:?}");
            assert!((amount - with_r / own).abs() < 1e-7 * (1.0 + amount.abs()), "{suspect:?}");
        }
    }

    /// Every derivative of every reading, against small steps to both sides.
    #[test]
    fn derivatives_are_those_of_the_course() {
        let log = example();
        let suspects = [
            Suspect::Addition { after: 2, strength: 5.0 },
            Suspect::Concentrate { after: 2 },
            Suspect::Removal { after: 7 },
            Suspect::Ingress { from: 5 },
            Suspect::Premix { from: 0, to: 20 },
            Suspect::Factor { from: 9 },
            Suspect::Missing { at: 3 },
            Suspect::Drift { from: 8 },
            Suspect::Volume { at: 3 },
            Suspect::Strength { at: 11 },
        ];
        let base = fitted(&log).theta;
        let amounts = [8.0, 0.3, 6.0, 2.0, 0.1, 0.2, 0.4, 0.02, 3.0, 0.4];
        let theta =
            DVector::from_iterator(base.len() + amounts.len(), base.iter().copied().chain(amounts));
        let run =
            |theta: &DVector<f64>| LoggedCourse::run(&log, theta, &suspects).expect("it runs");
        let course = run(&theta);
        for j in 0..theta.len() {
            let step = 1e-4;
            let (mut up, mut down) = (theta.clone(), theta.clone());
            up[j] += step;
            down[j] -= step;
            let slope = (run(&up).predicted - run(&down).predicted) / (2.0 * step);
            let off = (slope - course.jacobian.column(j)).amax();
            let size = course.jacobian.column(j).amax();
            assert!(off < 1e-6 * (1.0 + size), "unknown {j} is off by {off}");
        }
    }
}
