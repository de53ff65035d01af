//! From a log that was followed to the state that its answer hands on.

use super::filter::{CARRY_OFF, CONCENTRATE, EVAPORATION, MATTER, STANDING, VOLUME};
use super::kept::{KeptProperty, KeptRate, KeptState, KeptVolume};
use super::question::SumpState;
use super::run::Run;
use crate::handbook::conversions::KILOGRAMS_PER_MILLIGRAM;
use crate::quantity::{
    Correlation, Count, DailyRate, DailyRateDifference, Days, Mass, Quantity, Volume,
};
use crate::text::{Name, Refusal};

impl SumpState {
    /// The state after the last entry of a run.
    pub(super) fn handed_on(&self, run: &Run) -> Result<KeptState, Refusal> {
        let last = &run.last;
        let volume = |place: usize| -> Result<KeptVolume, Refusal> {
            Ok(KeptVolume { value: Volume::of(last.x[place])?, u: Volume::of(last.u(place))? })
        };
        let rate = |place: usize| -> Result<KeptRate, Refusal> {
            let (value, u) =
                (DailyRateDifference::of(last.x[place])?, DailyRate::of(last.u(place))?);
            Ok(KeptRate { value, u })
        };
        let named = run.names.iter().enumerate().map(|(i, name)| {
            let kilograms = |milligrams: f64| Mass::of(milligrams * KILOGRAMS_PER_MILLIGRAM);
            let place = MATTER + i;
            let (mass, u) = (kilograms(last.x[place].max(0.0))?, kilograms(last.u(place))?);
            Ok(KeptProperty { name: Name::of(name), mass, u })
        });
        let mut correlations = Vec::new();
        for a in 1..last.x.len() {
            for b in 0..a {
                let whole = last.u(a) * last.u(b);
                let share = if whole > 0.0 { last.p[(a, b)] / whole } else { 0.0 };
                correlations.push(Correlation::of(share.clamp(-1.0, 1.0))?);
            }
        }
        Ok(KeptState {
            day: Days::of(run.last_day)?,
            at: self.log.last().and_then(|entry| entry.at.clone()),
            entries: Count::of(run.entries_before + Count::from_usize(run.steps.len())?.get())?,
            volume: volume(VOLUME)?,
            concentrate: volume(CONCENTRATE)?,
            evaporation: rate(EVAPORATION)?,
            carry_off: rate(CARRY_OFF)?,
            standing: rate(STANDING)?,
            properties: named.collect::<Result<_, Refusal>>()?,
            correlations,
            stands: run.stands,
            reading: run.instrument.clone(),
            sums: run.sums,
            alarms: run.alarms.clone(),
        })
    }
}
