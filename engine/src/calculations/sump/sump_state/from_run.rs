//! From a log that was followed to the answer.

use super::super::losses::EstimatedDailyRate;
use super::answer::{
    COVERAGE, EntryEstimate, IntervalOfContent, IntervalOfStrength, IntervalOfVolume, StateNow,
    StateRates, SumpStateAnswer, ToDoToday,
};
use super::filter::{
    Belief, CARRY_OFF, CONCENTRATE, EVAPORATION, Innovation, MATTER, STANDING, VOLUME,
};
use super::outlook;
use super::question::SumpState;
use super::run::Run;
use super::smooth;
use crate::quantity::{
    Concentration, Content, DailyRate, Days, Number, Quantity, Volume, VolumeDifference,
};
use crate::text::{Name, Refusal};

/// The answer to a log that was followed.
pub(super) fn answer(question: &SumpState, run: &Run) -> Result<SumpStateAnswer, Refusal> {
    let now = now(run)?;
    let smoothed = smooth::smoothed(&run.steps);
    let entries = run.steps.iter().zip(&smoothed).map(|(step, belief)| {
        let surprise = |own: Option<Innovation>| {
            own.map(|own| Number::of(own.z.abs().min(Number::ROW.most))).transpose()
        };
        Ok(EntryEstimate {
            day: Days::of(step.day)?,
            at: question.log[step.entry].at.as_ref().map(|at| at.as_str().to_owned()),
            volume: volume(belief)?,
            concentration: strength(belief)?,
            volume_off: step.volume.map(|own| VolumeDifference::of(own.off)).transpose()?,
            volume_surprise: surprise(step.volume)?,
            strength_surprise: surprise(step.strength)?,
        })
    });
    let rate = |place: usize| -> Result<EstimatedDailyRate, Refusal> {
        let (value, u) = (run.last.x[place].max(0.0), run.last.u(place));
        Ok(EstimatedDailyRate { value: DailyRate::of(value)?, u: DailyRate::of(u)? })
    };
    let losses = StateRates {
        evaporation: rate(EVAPORATION)?,
        carry_off: rate(CARRY_OFF)?,
        standing: question.calendar.is_some().then(|| rate(STANDING)).transpose()?,
    };
    let to_do = question.to_do(run, &now);
    let top_up = match to_do {
        Some(ToDoToday::TopUp) => question.top_up(&now, &losses),
        _ => None,
    };
    Ok(SumpStateAnswer {
        to_do,
        top_up,
        next_reading: outlook::next_reading(question, run)?,
        losses,
        alarms: run.alarms.clone(),
        entries: entries.collect::<Result<_, Refusal>>()?,
        state: question.handed_on(run)?,
        now,
    })
}

fn now(run: &Run) -> Result<StateNow, Refusal> {
    /// A content less sure than this was never read, mg/L.
    const UNREAD: f64 = 500.0;
    let concentration = strength(&run.now)?;
    let reading = run.instrument.as_ref();
    let mark = reading.and_then(|reading| reading.mark(concentration.value, "/log").ok());
    let contents = run.names.iter().enumerate().filter_map(|(i, name)| {
        let (value, u, _) = run.now.per_litre(MATTER + i);
        (u < UNREAD).then(|| -> Result<IntervalOfContent, Refusal> {
            let of = |content: f64| Content::of(content.clamp(0.0, Content::ROW.most));
            Ok(IntervalOfContent {
                name: Name::of(name),
                value: of(value)?,
                u: of(u)?,
                low: of(value - COVERAGE * u)?,
                high: of(value + COVERAGE * u)?,
            })
        })
    });
    Ok(StateNow {
        day: Days::of(run.now_day)?,
        volume: volume(&run.now)?,
        concentration,
        mark,
        properties: contents.collect::<Result<_, _>>()?,
    })
}

fn volume(belief: &Belief) -> Result<IntervalOfVolume, Refusal> {
    let (value, u) = (belief.x[VOLUME], belief.u(VOLUME));
    let of = |volume: f64| Volume::of(volume.max(0.0));
    Ok(IntervalOfVolume {
        value: of(value)?,
        u: of(u)?,
        low: of(value - COVERAGE * u)?,
        high: of(value + COVERAGE * u)?,
    })
}

fn strength(belief: &Belief) -> Result<IntervalOfStrength, Refusal> {
    let (value, u, _) = belief.per_litre(CONCENTRATE);
    let of = |share: f64| Concentration::of((100.0 * share).clamp(0.0, 100.0));
    Ok(IntervalOfStrength {
        value: of(value)?,
        u: of(u)?,
        low: of(value - COVERAGE * u)?,
        high: of(value + COVERAGE * u)?,
    })
}
