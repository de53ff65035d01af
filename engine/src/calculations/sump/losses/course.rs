//! The course of a sump through its log, in closed form from entry to entry, with
//! the derivative of every reading by every unknown.

use super::log::{Log, Seen};
use super::suspect::Suspect;
use crate::dynamics::log::TakenOut;
use crate::dynamics::stretch::{CourseRates, HeldFluid, StretchFlow, flow};
use nalgebra::{DMatrix, DVector};

/// Unknowns by their place: volume and concentrate at the first entry, the rates,
/// the depletion ratio, litres for each litre read, what evaporates on a day on which the
/// machine stands, and from here on the suspects.
pub(super) const V_0: usize = 0;
pub(super) const C_0: usize = 1;
pub(super) const EVAPORATION: usize = 2;
pub(super) const CARRY_OFF: usize = 3;
pub(super) const DEPLETION: usize = 4;
pub(super) const SCALE: usize = 5;
pub(super) const STANDING: usize = 6;
pub(super) const FIRST_SUSPECT: usize = 7;

/// A sump through its log for given unknowns.
#[derive(Debug, Clone)]
pub(super) struct LoggedCourse {
    /// The sump as each entry reads it.
    pub(super) before: Vec<HeldFluid>,
    /// The sump as each entry but the last leaves it.
    pub(super) after: Vec<HeldFluid>,
    /// What each entry but the last takes out, written down or not.
    pub(super) taken: Vec<f64>,
    /// What each entry but the last pours in by the log, L: where it fills up, what that took.
    pub(super) poured: Vec<f64>,
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
        standing: theta[STANDING],
    }
}

/// How much of the concentrate written down an addition really had.
pub(super) fn richer(log: &Log, theta: &DVector<f64>, suspects: &[Suspect], i: usize) -> f64 {
    let off = suspects.iter().enumerate().map(|(s, suspect)| match suspect {
        Suspect::Premix { from, to } if (*from..=*to).contains(&i) && log.is_premix(i) => {
            theta[FIRST_SUSPECT + s]
        }
        _ => 0.0,
    });
    1.0 + off.sum::<f64>()
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
            poured: Vec::with_capacity(last),
            flows: Vec::with_capacity(last),
            scaled: Vec::with_capacity(last + 1),
            predicted: DVector::zeros(n),
            jacobian: DMatrix::zeros(n, p),
        };
        // How volume and concentrate depend on each unknown.
        let (mut v_by, mut c_by) = (vec![0.0; p], vec![0.0; p]);
        (v_by[V_0], c_by[C_0]) = (1.0, 1.0);
        let mut state = HeldFluid { v: theta[V_0], c: theta[C_0] };
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
            v_by[STANDING] += flow.by_standing[0];
            c_by[STANDING] += flow.by_standing[1];
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
        let HeldFluid { v, c } = self.before[i];
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
                Seen::Standing => STANDING,
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
    ) -> Option<HeldFluid> {
        let HeldFluid { v, c } = self.before[i];
        let event = &log.events[i];
        let amount = |s: usize| theta[FIRST_SUSPECT + s];
        let unsaid = suspects.iter().enumerate().filter_map(|(s, suspect)| match suspect {
            Suspect::Removal { after } if *after == i => Some(s),
            _ => None,
        });
        let unsaid: Vec<usize> = unsaid.collect();
        let removed = match event.taken {
            TakenOut::Nothing => 0.0,
            TakenOut::Litres(litres) => litres,
            TakenOut::All => v,
        };
        let removed = removed + unsaid.iter().map(|s| amount(*s)).sum::<f64>();
        self.taken.push(removed);
        let share = 1.0 - removed / v;
        if share < 0.0 {
            return None;
        }
        if event.taken == TakenOut::All {
            v_by.fill(0.0);
            c_by.fill(0.0);
        }
        for (v_by, c_by) in v_by.iter().zip(c_by.iter_mut()) {
            *c_by = share * *c_by + c * removed / (v * v) * v_by;
        }
        for s in unsaid {
            v_by[FIRST_SUSPECT + s] -= 1.0;
            c_by[FIRST_SUSPECT + s] -= c / v;
        }
        let added = match event.poured.unwritten_up_to() {
            Some(to) => {
                // Less in the sump is more of what fills it up, and its level is the mark's.
                let strength = event.poured.strength / 100.0 * richer(log, theta, suspects, i);
                v_by.iter_mut().zip(c_by.iter_mut()).for_each(|(v_by, c_by)| {
                    *c_by -= strength * *v_by;
                    *v_by = 0.0;
                });
                to - v * share
            }
            None => event.added(),
        };
        self.poured.push(added);
        let poured = added * event.poured.strength / 100.0;
        let mut state = HeldFluid { v: v * share + added, c: c * share + poured };
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
                    state.v -= amount(s) * added;
                    state.c -= amount(s) * poured;
                    v_by[place] -= added;
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
