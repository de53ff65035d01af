//! The course of a sump through its log, in closed form from entry to entry, with
//! the derivative of every reading by every unknown.

use super::log::{Log, Seen, Stretch};
use super::suspect::Suspect;
use nalgebra::{DMatrix, DVector};

/// Unknowns by their place: volume and concentrate at the first entry, the rates,
/// the depletion ratio, litres for each litre read, and from here on the suspects.
pub(super) const V_0: usize = 0;
pub(super) const C_0: usize = 1;
pub(super) const EVAPORATION: usize = 2;
pub(super) const CARRY_OFF: usize = 3;
pub(super) const DEPLETION: usize = 4;
pub(super) const SCALE: usize = 5;
pub(super) const FIRST_SUSPECT: usize = 6;

/// What is in the sump.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct State {
    /// Volume, L.
    pub(super) v: f64,
    /// Concentrate in it, L.
    pub(super) c: f64,
}

/// What the sump loses and what runs into it, in a day.
#[derive(Debug, Clone, Copy)]
pub(super) struct CourseRates {
    /// e + d, of the volume.
    pub(super) loss: f64,
    /// k·d, of fluid freed of its concentrate.
    pub(super) clearance: f64,
    /// Water that runs in.
    pub(super) ingress: f64,
}

/// A stretch without events: where it leads, and how that depends on what.
#[derive(Debug, Clone, Copy)]
pub(super) struct StretchFlow {
    pub(super) to: State,
    pub(super) c_by_v: f64,
    pub(super) c_by_c: f64,
    /// Volume and concentrate by the loss.
    pub(super) by_loss: [f64; 2],
    /// Concentrate by the clearance.
    pub(super) c_by_clearance: f64,
    /// Volume and concentrate by the ingress.
    pub(super) by_ingress: [f64; 2],
}

/// Equations 1 and 2, with water running in; none where the sump would run dry.
///
/// The concentrate falls by exp(−k·d·t·φ) with φ the mean of 1/V along the
/// stretch, which is (V₁/V₀)^(k·d/(e + d)) where no water runs in, and whole at
/// constant V.
pub(super) fn flow(from: State, rates: CourseRates, stretch: Stretch) -> Option<StretchFlow> {
    let v_1 = from.v - rates.loss * stretch.worked + rates.ingress * stretch.days;
    if !(from.v > 0.0 && v_1 > 0.0) {
        return None;
    }
    let [phi, phi_0, phi_1] = mean_inverse(from.v, v_1);
    let cleared = rates.clearance * stretch.worked;
    let kept = (-cleared * phi).exp();
    let c_1 = from.c * kept;
    Some(StretchFlow {
        to: State { v: v_1, c: c_1 },
        c_by_v: -cleared * c_1 * (phi_0 + phi_1),
        c_by_c: kept,
        by_loss: [-stretch.worked, cleared * c_1 * phi_1 * stretch.worked],
        c_by_clearance: -stretch.worked * phi * c_1,
        by_ingress: [stretch.days, -cleared * c_1 * phi_1 * stretch.days],
    })
}

/// The mean of 1/V where V runs evenly from `v_0` to `v_1`, ln(v_1/v_0)/(v_1 − v_0),
/// and its derivatives by both.
fn mean_inverse(v_0: f64, v_1: f64) -> [f64; 3] {
    /// Below this change the logarithm is taken by its series, whose next term is
    /// less than the last bit.
    const SMALL: f64 = 1e-3;
    let x = (v_1 - v_0) / v_0;
    let (f, slope) = if x.abs() < SMALL {
        let series = |terms: [f64; 6]| terms.iter().rev().fold(0.0, |sum, term| sum * x + term);
        (
            series([1.0, -1.0 / 2.0, 1.0 / 3.0, -1.0 / 4.0, 1.0 / 5.0, -1.0 / 6.0]),
            series([-1.0 / 2.0, 2.0 / 3.0, -3.0 / 4.0, 4.0 / 5.0, -5.0 / 6.0, 6.0 / 7.0]),
        )
    } else {
        let f = x.ln_1p() / x;
        (f, (1.0 / (1.0 + x) - f) / x)
    };
    [f / v_0, -f / (v_0 * v_0) - slope * v_1 / v_0.powi(3), slope / (v_0 * v_0)]
}

/// A sump through its log for given unknowns.
#[derive(Debug, Clone)]
pub(super) struct LoggedCourse {
    /// The sump as each entry reads it.
    pub(super) before: Vec<State>,
    /// The sump as each entry but the last leaves it.
    pub(super) after: Vec<State>,
    /// What each entry but the last takes out, written down or not.
    pub(super) taken: Vec<f64>,
    /// From each entry to the next.
    pub(super) flows: Vec<StretchFlow>,
    /// By how much the strengths read at each entry are scaled.
    pub(super) scaled: Vec<f64>,
    /// What each observation should be.
    pub(super) predicted: DVector<f64>,
    /// How each depends on each unknown.
    pub(super) jacobian: DMatrix<f64>,
}

/// The rates from an entry on.
pub(super) fn rates(theta: &DVector<f64>, suspects: &[Suspect], entry: usize) -> CourseRates {
    let ingress = suspects.iter().enumerate().filter_map(|(s, suspect)| match suspect {
        Suspect::Ingress { from } if *from <= entry => Some(theta[FIRST_SUSPECT + s]),
        _ => None,
    });
    CourseRates {
        loss: theta[EVAPORATION] + theta[CARRY_OFF],
        clearance: theta[DEPLETION] * theta[CARRY_OFF],
        ingress: ingress.sum(),
    }
}

impl LoggedCourse {
    /// Follows the sump through the log; the entry at which it would be dry is the
    /// error.
    pub(super) fn run(
        log: &Log,
        theta: &DVector<f64>,
        suspects: &[Suspect],
    ) -> Result<Self, usize> {
        let (n, p, last) = (log.observations.len(), theta.len(), log.events.len() - 1);
        let mut run = Self {
            before: Vec::with_capacity(last + 1),
            after: Vec::with_capacity(last),
            taken: Vec::with_capacity(last),
            flows: Vec::with_capacity(last),
            scaled: Vec::with_capacity(last + 1),
            predicted: DVector::zeros(n),
            jacobian: DMatrix::zeros(n, p),
        };
        // How volume and concentrate depend on each unknown.
        let (mut v_by, mut c_by) = (vec![0.0; p], vec![0.0; p]);
        (v_by[V_0], c_by[C_0]) = (1.0, 1.0);
        let mut state = State { v: theta[V_0], c: theta[C_0] };
        let mut next_observation = 0;
        for i in 0..=last {
            if state.v.is_nan() || state.v <= 0.0 {
                return Err(i);
            }
            let factors = suspects.iter().enumerate().map(|(s, suspect)| match suspect {
                Suspect::Factor { from } if *from <= i => theta[FIRST_SUSPECT + s],
                Suspect::Drift { from } if *from <= i => {
                    theta[FIRST_SUSPECT + s] * log.days_between(*from, i)
                }
                _ => 0.0,
            });
            run.scaled.push(factors.sum::<f64>().exp());
            run.before.push(state);
            run.observe(log, theta, suspects, i, &mut next_observation, (&v_by, &c_by));
            if i == last {
                break;
            }
            state = run.events(log, theta, suspects, i, (&mut v_by, &mut c_by)).ok_or(i)?;
            run.after.push(state);
            let stretch = log.stretch(i);
            let flow = flow(state, rates(theta, suspects, i), stretch).ok_or(i + 1)?;
            for (v, c) in v_by.iter().zip(&mut c_by) {
                *c = flow.c_by_v * v + flow.c_by_c * *c;
            }
            v_by[EVAPORATION] += flow.by_loss[0];
            c_by[EVAPORATION] += flow.by_loss[1];
            v_by[CARRY_OFF] += flow.by_loss[0];
            c_by[CARRY_OFF] += flow.by_loss[1] + theta[DEPLETION] * flow.c_by_clearance;
            c_by[DEPLETION] += theta[CARRY_OFF] * flow.c_by_clearance;
            for (s, suspect) in suspects.iter().enumerate() {
                if matches!(suspect, Suspect::Ingress { from } if *from <= i) {
                    v_by[FIRST_SUSPECT + s] += flow.by_ingress[0];
                    c_by[FIRST_SUSPECT + s] += flow.by_ingress[1];
                }
            }
            state = flow.to;
            run.flows.push(flow);
        }
        run.observe_rates(log, theta, next_observation);
        Ok(run)
    }

    /// What the readings of an entry should be.
    fn observe(
        &mut self,
        log: &Log,
        theta: &DVector<f64>,
        suspects: &[Suspect],
        i: usize,
        next: &mut usize,
        (v_by, c_by): (&[f64], &[f64]),
    ) {
        let State { v, c } = self.before[i];
        let (scale, scaled) = (theta[SCALE], self.scaled[i]);
        while let Some(observation) = log.observations.get(*next) {
            let mut row = self.jacobian.row_mut(*next);
            match observation.seen {
                Seen::Volume(at) if at == i => {
                    self.predicted[*next] = v / scale;
                    v_by.iter().enumerate().for_each(|(j, by)| row[j] = by / scale);
                    row[SCALE] -= v / (scale * scale);
                }
                Seen::Strength(at) if at == i => {
                    let strength = 100.0 * scaled * c / v;
                    self.predicted[*next] = strength;
                    for (j, (v_by, c_by)) in v_by.iter().zip(c_by).enumerate() {
                        row[j] = 100.0 * scaled / v * (c_by - c / v * v_by);
                    }
                }
                _ => break,
            }
            for (s, suspect) in suspects.iter().enumerate() {
                let place = FIRST_SUSPECT + s;
                match (suspect, observation.seen) {
                    (Suspect::Factor { from }, Seen::Strength(_)) if *from <= i => {
                        row[place] += 100.0 * scaled * c / v;
                    }
                    (Suspect::Drift { from }, Seen::Strength(_)) if *from <= i => {
                        row[place] += 100.0 * scaled * c / v * log.days_between(*from, i);
                    }
                    (Suspect::Volume { at }, Seen::Volume(_))
                    | (Suspect::Strength { at }, Seen::Strength(_))
                        if *at == i =>
                    {
                        self.predicted[*next] += theta[place];
                        row[place] += 1.0;
                    }
                    _ => {}
                }
            }
            *next += 1;
        }
    }

    /// What the rates known from elsewhere should be.
    fn observe_rates(&mut self, log: &Log, theta: &DVector<f64>, next: usize) {
        for (row, observation) in log.observations.iter().enumerate().skip(next) {
            let place = match observation.seen {
                Seen::Evaporation => EVAPORATION,
                _ => CARRY_OFF,
            };
            self.predicted[row] = theta[place];
            self.jacobian[(row, place)] = 1.0;
        }
    }

    /// What is taken out and poured in at an entry; none where there is less to
    /// take than was taken.
    fn events(
        &mut self,
        log: &Log,
        theta: &DVector<f64>,
        suspects: &[Suspect],
        i: usize,
        (v_by, c_by): (&mut [f64], &mut [f64]),
    ) -> Option<State> {
        let State { v, c } = self.before[i];
        let event = &log.events[i];
        let amount = |s: usize| theta[FIRST_SUSPECT + s];
        let unsaid = suspects.iter().enumerate().filter_map(|(s, suspect)| match suspect {
            Suspect::Removal { after } if *after == i => Some(s),
            _ => None,
        });
        let unsaid: Vec<usize> = unsaid.collect();
        let removed = event.removed + unsaid.iter().map(|s| amount(*s)).sum::<f64>();
        self.taken.push(removed);
        let share = 1.0 - removed / v;
        if share < 0.0 {
            return None;
        }
        for (v_by, c_by) in v_by.iter().zip(c_by.iter_mut()) {
            *c_by = share * *c_by + c * removed / (v * v) * v_by;
        }
        for s in unsaid {
            v_by[FIRST_SUSPECT + s] -= 1.0;
            c_by[FIRST_SUSPECT + s] -= c / v;
        }
        let poured = event.added * event.strength / 100.0;
        let mut state = State { v: v * share + event.added, c: c * share + poured };
        for (s, suspect) in suspects.iter().enumerate() {
            let place = FIRST_SUSPECT + s;
            match suspect {
                Suspect::Addition { after, strength } if *after == i => {
                    state.v += amount(s);
                    state.c += amount(s) * strength / 100.0;
                    v_by[place] += 1.0;
                    c_by[place] += strength / 100.0;
                }
                Suspect::Missing { at } if *at == i => {
                    state.v -= amount(s) * event.added;
                    state.c -= amount(s) * poured;
                    v_by[place] -= event.added;
                    c_by[place] -= poured;
                }
                Suspect::Concentrate { after } if *after == i => {
                    state.c += amount(s);
                    c_by[place] += 1.0;
                }
                Suspect::Premix { from, to } if (*from..=*to).contains(&i) && log.is_premix(i) => {
                    state.c += poured * amount(s);
                    c_by[place] += poured;
                }
                _ => {}
            }
        }
        Some(state)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Equation 2 as it is printed, and its limit at constant volume.
    #[test]
    fn the_closed_form_is_the_printed_one() {
        let from = State { v: 200.0, c: 16.0 };
        let stretch = Stretch { days: 3.0, worked: 3.0 };
        let (e, d, k) = (9.0, 6.0, 1.2);
        let rates = CourseRates { loss: e + d, clearance: k * d, ingress: 0.0 };
        let to = flow(from, rates, stretch).expect("it holds enough").to;
        assert!((to.v - 155.0).abs() < 1e-12);
        let printed = 16.0 * (155.0_f64 / 200.0).powf(k * d / (e + d));
        assert!((to.c - printed).abs() < 1e-12, "{} is not {printed}", to.c);
        let level = CourseRates { ingress: e + d, ..rates };
        let to = flow(from, level, stretch).expect("it holds enough").to;
        assert!((to.c - 16.0 * (-k * d * 3.0 / 200.0).exp()).abs() < 1e-12);
    }

    #[test]
    fn the_mean_is_smooth_where_its_series_begins() {
        for x in [0.999e-3, 1.001e-3, -0.999e-3, -1.001e-3] {
            let [phi, by_0, by_1] = mean_inverse(100.0, 100.0 * (1.0 + x));
            let step = 1e-3;
            let numeric = |v_0: f64, v_1: f64| mean_inverse(v_0, v_1)[0];
            let to = 100.0 * (1.0 + x);
            let slope_0 = (numeric(100.0 + step, to) - numeric(100.0 - step, to)) / (2.0 * step);
            let slope_1 = (numeric(100.0, to + step) - numeric(100.0, to - step)) / (2.0 * step);
            assert!((phi * 100.0 - (1.0 - x / 2.0)).abs() < 1e-6);
            assert!((by_0 - slope_0).abs() < 1e-9 && (by_1 - slope_1).abs() < 1e-9);
        }
    }
}
