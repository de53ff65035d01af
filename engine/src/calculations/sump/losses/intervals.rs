//! The residual of each interval between readings.

use super::answer::{IntervalResidual, LeftOver, LogInterval};
use super::bounds::Explained;
use super::course::{CARRY_OFF, CourseRates, DEPLETION, EVAPORATION, SCALE, State, flow};
use super::log::{Log, Seen};
use super::question::Losses;
use crate::quantity::{Days, Quantity, Volume, VolumeDifference};
use crate::text::Refusal;
use nalgebra::DVector;
use std::collections::BTreeMap;

/// The residual of each interval, by the log as it is written and the rates as they
/// were found.
pub(super) fn intervals(
    question: &Losses,
    log: &Log,
    theta: &DVector<f64>,
    explained: &Explained,
) -> Result<Vec<LogInterval>, Refusal> {
    let mut rows: BTreeMap<(usize, usize), IntervalResidual> = BTreeMap::new();
    let mut before: [Option<(usize, usize)>; 2] = [None, None];
    for (row, observation) in log.observations.iter().enumerate() {
        let (kind, at) = match observation.seen {
            Seen::Volume(at) => (0, at),
            Seen::Strength(at) => (1, at),
            Seen::Evaporation | Seen::CarryOff => continue,
        };
        if let Some((earlier, from)) = before[kind].replace((row, at)) {
            let residual = rows.entry((at, from)).or_default();
            let between = Between { log, theta, explained, from, to: at, rows: [earlier, row] };
            match kind {
                0 => residual.volume = Some(between.volume()?),
                _ => residual.concentrate = between.concentrate()?,
            }
        }
    }
    let written = |i: usize| question.log[i].at.clone();
    let day = |i: usize| Days::of(log.events[i].day);
    rows.into_iter()
        .map(|((to, from), residual)| {
            let (from_at, to_at) = (written(from), written(to));
            Ok(LogInterval { from: day(from)?, to: day(to)?, from_at, to_at, residual })
        })
        .collect()
}

/// Two readings of a kind with an interval between them.
struct Between<'a> {
    log: &'a Log,
    theta: &'a DVector<f64>,
    explained: &'a Explained,
    from: usize,
    to: usize,
    rows: [usize; 2],
}

impl Between<'_> {
    fn rates(&self) -> CourseRates {
        CourseRates {
            loss: self.theta[EVAPORATION] + self.theta[CARRY_OFF],
            clearance: self.theta[DEPLETION] * self.theta[CARRY_OFF],
            ingress: 0.0,
        }
    }

    /// The reading at either end and its uncertainty.
    fn readings(&self) -> [(f64, f64); 2] {
        self.rows.map(|row| (self.log.observations[row].value, self.explained.fitted.sigma[row]))
    }

    /// Equation 1 over the interval.
    fn volume(&self) -> Result<LeftOver, Refusal> {
        let [(v_0, u_0), (v_1, u_1)] = self.readings();
        let scale = self.theta[SCALE];
        let events = &self.log.events;
        let poured = events[self.from..self.to].iter().map(|event| event.added - event.removed);
        let worked = events[self.to].worked - events[self.from].worked;
        let left = scale * (v_1 - v_0) - poured.sum::<f64>() + self.rates().loss * worked;
        left_over(left, scale * u_0.hypot(u_1))
    }

    /// Equation 2 over the interval, the strengths as read in the volumes as
    /// fitted; none where the log as written would run the sump dry.
    fn concentrate(&self) -> Result<Option<LeftOver>, Refusal> {
        let [(c_0, u_0), (c_1, u_1)] = self.readings();
        let before = &self.explained.fitted.course.before;
        let v_0 = before[self.from].v;
        let mut state = State { v: v_0, c: v_0 * c_0 / 100.0 };
        let mut kept = 1.0;
        for i in self.from..self.to {
            let event = &self.log.events[i];
            let share = 1.0 - event.removed / state.v;
            state.v = state.v * share + event.added;
            state.c = state.c * share + event.added * event.strength / 100.0;
            let Some(flow) = flow(state, self.rates(), self.log.stretch(i)) else {
                return Ok(None);
            };
            kept *= share * flow.c_by_c;
            state = flow.to;
        }
        let v_1 = before[self.to].v;
        let left = v_1 * c_1 / 100.0 - state.c;
        let u = (v_1 * u_1 / 100.0).hypot(v_0 * u_0 / 100.0 * kept);
        left_over(left, u).map(Some)
    }
}

/// What is left over, with its uncertainty.
fn left_over(value: f64, u: f64) -> Result<LeftOver, Refusal> {
    Ok(LeftOver { value: VolumeDifference::of(value)?, u: Volume::of(u)? })
}
