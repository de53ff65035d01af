//! Estimates and their uncertainties, from the fit that explains a log.

use super::answer::{
    DayOfRates, EstimatedDailyRate, EstimatedHourlyRate, EstimatedRatio, EstimatedVolume,
    HoldingMakeUp, HourlyRates, LossCorrelations, LossesAnswer, ReadingScatter,
};
use super::bounds::Explained;
use super::course::{CARRY_OFF, DEPLETION, EVAPORATION, SCALE, STANDING};
use super::intervals::intervals;
use super::log::Log;
use super::named::named;
use super::question::{AlsoEstimated, Losses};
use crate::fluid::balance::CLOSES_TO;
use crate::quantity::{
    Concentration, Correlation, DailyRate, Hours, Quantity, Ratio, Throughput, Volume,
};
use crate::text::Refusal;

/// The answer to a log.
pub(super) fn answer(
    question: &Losses,
    log: &Log,
    explained: &Explained,
) -> Result<LossesAnswer, Refusal> {
    let theta = &explained.fitted.theta;
    let [scatter_v, scatter_c] = explained.scatter;
    let depletion = log.asks_depletion.then(|| explained.ratio()).transpose()?;
    let volume = log.asks_volume.then(|| explained.volume(log.capacity)).transpose()?;
    Ok(LossesAnswer {
        evaporation: explained.daily(EVAPORATION)?,
        carry_off: explained.daily(CARRY_OFF)?,
        standing: log.has_standing.then(|| explained.daily(STANDING)).transpose()?,
        of_a_day: question.of_a_day(log),
        depletion_ratio: depletion,
        volume,
        correlation: explained.correlations()?,
        coverage_factor: Ratio::of(explained.coverage_factor)?,
        scatter: match (scatter_v, scatter_c) {
            (None, None) => None,
            (v, c) => Some(ReadingScatter {
                volume: v.map(Volume::of).transpose()?,
                concentration: c.map(|c| Concentration::of(c.min(100.0))).transpose()?,
            }),
        },
        per_running_hour: log.hours_a_day.map(|a_day| explained.hourly(a_day)).transpose()?,
        make_up: explained.make_up(holds(question, explained)?, log)?,
        intervals: intervals(question, log, theta, explained)?,
        suspects: named(log, explained)?,
    })
}

impl Losses {
    /// What a day is of which the rates are answered.
    fn of_a_day(&self, log: &Log) -> DayOfRates {
        let has_hours = self.log.iter().any(|entry| entry.running_hours.is_some());
        match (has_hours, log.has_standing || self.calendar.is_some()) {
            (true, _) => DayOfRates::MeanDay,
            (false, true) => DayOfRates::DayOfWork,
            (false, false) => DayOfRates::AnyDay,
        }
    }
}

/// The strength that the make-up is to hold.
fn holds(question: &Losses, explained: &Explained) -> Result<Concentration, Refusal> {
    let last = explained.fitted.course.before.last();
    let strength = last.map_or(0.0, |last| 100.0 * last.c / last.v);
    match question.sump.concentration {
        Some(given) => Ok(given),
        None => Ok(Concentration::of(strength.clamp(0.0, 100.0))?),
    }
}

impl Explained {
    fn covariance(&self, a: usize, b: usize) -> f64 {
        self.inflation * self.inflation * self.fitted.covariance[(a, b)]
    }

    fn daily(&self, place: usize) -> Result<EstimatedDailyRate, Refusal> {
        let (value, u) = (self.fitted.theta[place], self.u(place));
        Ok(EstimatedDailyRate { value: DailyRate::of(value)?, u: DailyRate::of(u)? })
    }

    fn hourly(&self, hours_a_day: f64) -> Result<HourlyRates, Refusal> {
        let hourly = |place: usize| -> Result<EstimatedHourlyRate, Refusal> {
            let (value, u) = (self.fitted.theta[place] / hours_a_day, self.u(place) / hours_a_day);
            Ok(EstimatedHourlyRate { value: Throughput::of(value)?, u: Throughput::of(u)? })
        };
        Ok(HourlyRates {
            evaporation: hourly(EVAPORATION)?,
            carry_off: hourly(CARRY_OFF)?,
            mean_hours_per_day: Hours::of(hours_a_day)?,
        })
    }

    fn ratio(&self) -> Result<EstimatedRatio, Refusal> {
        let (value, u) = (self.fitted.theta[DEPLETION], self.u(DEPLETION));
        Losses::check_sure(value, u, AlsoEstimated::DepletionRatio)?;
        Ok(EstimatedRatio { value: Ratio::of(value)?, u: Ratio::of(u)? })
    }

    fn volume(&self, capacity: f64) -> Result<EstimatedVolume, Refusal> {
        let (value, u) = (self.fitted.theta[SCALE] * capacity, self.u(SCALE) * capacity);
        Losses::check_sure(value, u, AlsoEstimated::Volume)?;
        Ok(EstimatedVolume { value: Volume::of(value)?, u: Volume::of(u)? })
    }

    fn correlations(&self) -> Result<LossCorrelations, Refusal> {
        let between = |a: usize, b: usize| -> Result<Option<Correlation>, Refusal> {
            let free = &self.fitted.free;
            if !(free.contains(&a) && free.contains(&b)) {
                return Ok(None);
            }
            let covariance = self.fitted.covariance[(a, b)];
            let correlation = covariance / (self.fitted.u(a) * self.fitted.u(b));
            Ok(Some(Correlation::of(correlation.clamp(-1.0, 1.0))?))
        };
        Ok(LossCorrelations {
            evaporation_carry_off: between(EVAPORATION, CARRY_OFF)?,
            evaporation_depletion_ratio: between(EVAPORATION, DEPLETION)?,
            carry_off_depletion_ratio: between(CARRY_OFF, DEPLETION)?,
            evaporation_volume: between(EVAPORATION, SCALE)?,
            carry_off_volume: between(CARRY_OFF, SCALE)?,
            depletion_ratio_volume: between(DEPLETION, SCALE)?,
        })
    }

    /// c_m = k·d·c/(e + d), with what evaporates while the machine stands counted to e, with its uncertainty by the first derivatives; none
    /// where neat concentrate is not strong enough, or where the whole log loses no
    /// more than a balance may leave over.
    fn make_up(&self, holds: Concentration, log: &Log) -> Result<Option<HoldingMakeUp>, Refusal> {
        let theta = &self.fitted.theta;
        let (e, d, k, c) = (theta[EVAPORATION], theta[CARRY_OFF], theta[DEPLETION], holds.get());
        let (worked, stood) = log.passed();
        // What a day of work has to make up for of the days on which the machine stands.
        let stands = if worked > 0.0 { stood / worked } else { 0.0 };
        let loss = e + d + theta[STANDING] * stands;
        let c_m = k * d * c / loss;
        if loss * worked <= log.capacity * CLOSES_TO || c_m > 100.0 {
            return Ok(None);
        }
        let by = [
            (EVAPORATION, -c_m / loss),
            (CARRY_OFF, (k * c - c_m) / loss),
            (DEPLETION, d * c / loss),
            (STANDING, -c_m * stands / loss),
        ];
        let u = self.propagated(&by);
        let by = [(EVAPORATION, 1.0), (CARRY_OFF, 1.0), (STANDING, stands)];
        let u_loss = self.propagated(&by);
        Ok(Some(HoldingMakeUp {
            value: Concentration::of(c_m)?,
            u: Concentration::of(u.min(100.0))?,
            holds,
            daily: EstimatedDailyRate { value: DailyRate::of(loss)?, u: DailyRate::of(u_loss)? },
        }))
    }

    /// The standard uncertainty of a result from its derivatives by unknowns.
    pub(super) fn propagated(&self, by: &[(usize, f64)]) -> f64 {
        let mut variance = 0.0;
        for (a, by_a) in by {
            for (b, by_b) in by {
                let covariance = if a == b { self.u(*a).powi(2) } else { self.covariance(*a, *b) };
                variance += by_a * by_b * covariance;
            }
        }
        variance.max(0.0).sqrt()
    }
}
