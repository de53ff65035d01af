//! The residual of each interval between readings.

use super::answer::{IntervalResidual, LeftOver, LogInterval};
use super::bounds::Explained;
use super::course::{CARRY_OFF, DEPLETION, EVAPORATION, SCALE, STANDING};
use super::log::{Log, Seen};
use super::question::Losses;
use crate::dynamics::log::TakenOut;
use crate::dynamics::stretch::{CourseRates, HeldFluid, flow};
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
            Seen::Evaporation | Seen::CarryOff | Seen::Standing => continue,
        };
        if let Some((earlier, from)) = before[kind].replace((row, at)) {
            let residual = rows.entry((at, from)).or_default();
            let between = Between { log, theta, explained, from, to: at, rows: [earlier, row] };
            match kind {
                0 => residual.volume = between.volume()?,
                _ => residual.concentrate = between.concentrate()?,
            }
        }
    }
    let written = |i: usize| question.log[i].at.as_ref().map(|at| at.as_str().to_owned());
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
            standing: self.theta[STANDING],
        }
    }

    /// The reading at either end and its uncertainty.
    fn readings(&self) -> [(f64, f64); 2] {
        self.rows.map(|row| (self.log.observations[row].value, self.explained.fitted.sigma[row]))
    }

    /// Equation 1 over the interval.
    /// Where it was emptied or filled up, from what it then held; none where that hangs on no
    /// reading.
    fn volume(&self) -> Result<Option<LeftOver>, Refusal> {
        let [(v_0, u_0), (v_1, u_1)] = self.readings();
        let scale = self.theta[SCALE];
        let events = &self.log.events;
        let (mut from, mut v, mut u) = (self.from, scale * v_0, scale * u_0);
        for (i, event) in events.iter().enumerate().take(self.to).skip(self.from) {
            match event.taken {
                TakenOut::Nothing => {}
                TakenOut::Litres(litres) => v -= litres,
                TakenOut::All => (from, v, u) = (i, 0.0, 0.0),
            }
            match event.poured.unwritten_up_to() {
                Some(to) => (from, v, u) = (i, to, 0.0),
                None => v += event.added(),
            }
        }
        let rates = self.rates();
        let worked = events[self.to].worked - events[from].worked;
        let stood = events[self.to].stood - events[from].stood;
        let left = scale * v_1 - v + rates.loss * worked + rates.standing * stood;
        left_over(left, (scale * u_1).hypot(u)).map(Some)
    }

    /// Equation 2 over the interval, the strengths as read in the volumes as
    /// fitted; none where the log as written would run the sump dry.
    fn concentrate(&self) -> Result<Option<LeftOver>, Refusal> {
        let [(c_0, u_0), (c_1, u_1)] = self.readings();
        let before = &self.explained.fitted.course.before;
        let v_0 = before[self.from].v;
        let mut state = HeldFluid { v: v_0, c: v_0 * c_0 / 100.0 };
        let mut kept = 1.0;
        for i in self.from..self.to {
            let event = &self.log.events[i];
            let share = match event.taken {
                TakenOut::Nothing => 1.0,
                TakenOut::Litres(litres) => 1.0 - litres / state.v,
                TakenOut::All => 0.0,
            };
            let stays = state.v * share;
            let added = event.poured.unwritten_up_to().map_or(event.added(), |to| to - stays);
            state.v = stays + added;
            state.c = state.c * share + added * event.poured.strength / 100.0;
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
