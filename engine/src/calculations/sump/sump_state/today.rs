//! What to do today.

use super::super::top_up::{KeptBand, SumpTarget, TopUp, TopUpAnswer};
use super::alarms::WatchedReading;
use super::answer::{StateNow, StateRates, ToDoToday};
use super::filter::STEP;
use super::question::SumpState;
use super::run::Run;
use crate::calculation::Calculation;
use crate::fluid::loss_rates::LossRates;
use crate::fluid::properties::Properties;
use crate::fluid::sump::Sump;
use crate::quantity::{Quantity, Volume};

impl Run {
    /// What the last entry handed in read that the log cannot make anything of.
    pub(super) fn last_step(&self) -> Option<WatchedReading> {
        let last = self.steps.last()?;
        let is_step =
            |own: Option<super::filter::Innovation>| own.is_some_and(|own| own.z.abs() > STEP);
        if is_step(last.volume) {
            return Some(WatchedReading::Volume);
        }
        is_step(last.strength).then_some(WatchedReading::Strength)
    }
}

impl SumpState {
    /// Whether the log makes it more than the sump holds, beyond what is uncertain.
    pub(super) fn cannot_hold(&self, now: &StateNow) -> bool {
        /// Rounding of binary fractions.
        const ROUNDING: f64 = 1e-9;
        now.volume.low.get() > self.sump.capacity.get() * (1.0 + ROUNDING)
    }

    /// What to do today; without a band none but to look at what does not fit.
    pub(super) fn to_do(&self, run: &Run, now: &StateNow) -> Option<ToDoToday> {
        if !run.alarms.is_empty() || run.last_step().is_some() || self.cannot_hold(now) {
            return Some(ToDoToday::LookFirst);
        }
        let band = self.band.as_ref()?;
        let strength = now.concentration;
        let spans = |edge| strength.low <= edge && edge <= strength.high;
        if spans(band.low) || spans(band.high) {
            return Some(ToDoToday::ReadFirst);
        }
        let is_low = self.lowest.is_some_and(|lowest| now.volume.low.get() < lowest.get());
        let is_out = strength.value < band.low || strength.value > band.high;
        Some(if is_out || is_low { ToDoToday::TopUp } else { ToDoToday::Nothing })
    }

    /// The top-up by what is in the sump now; none where no stock does it.
    pub(super) fn top_up(&self, now: &StateNow, losses: &StateRates) -> Option<TopUpAnswer> {
        let question = self.topping_up(now, losses)?;
        question.calculate().ok().map(|outcome| outcome.answer)
    }

    /// The question of the top-up; none without a band.
    pub(super) fn topping_up(&self, now: &StateNow, losses: &StateRates) -> Option<TopUp> {
        let band = self.band.as_ref()?;
        let full = self.sump.capacity;
        let volume = now.volume.value.get().min(full.get());
        Some(TopUp {
            sump: Sump {
                capacity: full,
                volume: Volume::of(volume).ok()?,
                concentration: Some(now.concentration.value),
                reading: None,
                properties: Properties::default(),
            },
            target: SumpTarget { concentration: band.target, volume: None },
            band: Some(KeptBand { low: band.low, high: band.high }),
            stocks: self.stocks.clone(),
            draining: None,
            vessel: None,
            premix_at_most: None,
            losses: Some(LossRates {
                evaporation: Some(losses.evaporation.value),
                carry_off: Some(losses.carry_off.value),
                depletion_ratio: None,
                chips: None,
                surface: None,
            }),
            measures_to: None,
        })
    }
}
