//! The answer in two sentences: what the sump loses and the make-up that keeps it, and
//! what was not written down.

use super::answer::{DayOfRates, EstimatedDailyRate, LogSuspect, LossesAnswer};
use super::question::Losses;
use crate::quantity::{Quantity, Volume};
use crate::sentence;
use crate::text::Sentence;

impl Losses {
    pub(super) fn in_short(&self, answer: &LossesAnswer) -> Sentence {
        let loses = loses(answer);
        let loses = match &answer.make_up {
            Some(make_up) if !is_none(make_up.value, make_up.u) => sentence!(
                "{}: fill up with {} to hold {}.",
                loses,
                make_up.value.roughly(),
                make_up.holds.roughly()
            ),
            Some(make_up) => sentence!(
                "{}: fill up with plain water to hold {}.",
                loses,
                make_up.holds.roughly()
            ),
            None => sentence!("{}.", loses),
        };
        match (answer.suspects.first(), &answer.volume) {
            (Some(suspect), _) => sentence!("{} {}", loses, not_in_the_log(suspect)),
            (None, Some(volume)) => sentence!(
                "{} It truly holds {} at its marked {}.",
                loses,
                volume.value.roughly(),
                self.sump.capacity
            ),
            (None, None) => loses,
        }
    }
}

/// What the sump loses in a day, as a sentence without its full stop.
fn loses(answer: &LossesAnswer) -> Sentence {
    let coverage = answer.coverage_factor.get();
    let (water, fluid) = (answer.evaporation, answer.carry_off);
    if is_none(water.value, water.u) && is_none(fluid.value, fluid.u) {
        return sentence!("By its log the sump loses neither water nor fluid");
    }
    let water = amount(water, coverage, "water");
    let fluid = amount(fluid, coverage, "fluid");
    if answer.of_a_day == DayOfRates::DayOfWork {
        let stands = answer.standing.filter(|standing| !is_none(standing.value, standing.u));
        return match stands {
            Some(standing) => sentence!(
                "The sump loses {} and {} on a day of work, and {} on a day on which it stands",
                water,
                fluid,
                amount(standing, coverage, "water")
            ),
            None => sentence!("The sump loses {} and {} on a day of work", water, fluid),
        };
    }
    if let Some(hourly) = &answer.per_running_hour {
        sentence!(
            "The sump loses {} and {} on a day of {} at work",
            water,
            fluid,
            hourly.mean_hours_per_day.roughly()
        )
    } else {
        sentence!("The sump loses {} and {} a day", water, fluid)
    }
}

/// Whether a value is 0 but for the last digits of the arithmetic.
fn is_none<Q: Quantity>(value: Q, u: Q) -> bool {
    const ROUNDING: f64 = 1e-6;
    value.get() <= ROUNDING * u.get()
}

/// "9.02 L (± 0.41 L) of water".
fn amount(rate: EstimatedDailyRate, coverage: f64, what: &'static str) -> Sentence {
    if is_none(rate.value, rate.u) {
        return sentence!("no {}", what);
    }
    sentence!(
        "{} (± {}) of {}",
        Volume::measure_of(rate.value.get()).rounded(3),
        Volume::measure_of(coverage * rate.u.get()).rounded(2),
        what
    )
}

/// The surest of what was not written down.
fn not_in_the_log(suspect: &LogSuspect) -> Sentence {
    match suspect {
        LogSuspect::UnrecordedAddition(found) => sentence!(
            "Not in the log: {} that went in.",
            Volume::measure_of(found.size.value.get()).rounded(3)
        ),
        LogSuspect::UnrecordedRemoval(found) => sentence!(
            "Not in the log: {} that went missing.",
            Volume::measure_of(found.size.value.get()).rounded(3)
        ),
        LogSuspect::AdditionMissing(found) => sentence!(
            "In the log but not in the sump: {}.",
            Volume::measure_of(found.size.value.get()).rounded(3)
        ),
        LogSuspect::InstrumentDrift(found) => sentence!(
            "The strengths drift to {} times what they should be: check the instrument.",
            found.size.value.roughly()
        ),
        LogSuspect::WaterIngress(found) => sentence!(
            "Not in the log: {} of water a day that run in.",
            Volume::measure_of(found.size.value.get()).rounded(3)
        ),
        LogSuspect::PremixOff(found) => sentence!(
            "A premix written down as {} acted like {}.",
            found.claimed.roughly(),
            found.size.value.roughly()
        ),
        LogSuspect::FactorOff(found) => sentence!(
            "The strengths read {} times what they should: check the factor.",
            found.size.value.roughly()
        ),
        LogSuspect::VolumeMisread(found) => sentence!(
            "A level seems misread by {}.",
            Volume::measure_of(found.size.value.get().abs()).rounded(3)
        ),
        LogSuspect::ConcentrationMisread(found) => {
            sentence!("A strength seems misread: it should be {}.", found.size.value.roughly())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calculation::Calculation;
    use crate::quantity::UnitSystem;
    use serde_json::{Value, json};

    fn says(document: &Value, system: UnitSystem) -> (String, Vec<String>) {
        let question: Losses = serde_json::from_value(document.clone()).expect("a log");
        let outcome = question.calculate().expect("it is answered");
        let findings = outcome.findings.iter().map(|finding| finding.text.show(system));
        (question.statement(&outcome.answer).show(system), findings.collect())
    }

    fn example() -> Value {
        let mut document: Value = serde_json::from_str(Losses::EXAMPLE).expect("an example");
        document.as_object_mut().unwrap().retain(|name, _| name != "units" && name != "reference");
        document
    }

    #[test]
    fn it_says_what_is_lost_and_what_was_not_written_down() {
        let (statement, findings) = says(&example(), UnitSystem::Metric);
        assert_eq!(
            statement,
            "The sump loses 6.49 L (± 0.2 L) of water and 4.38 L (± 0.27 L) of fluid on a day of \
             10.9 h at work: fill up with 3.22 % by volume to hold 8 % by volume. Not in the log: \
             19.4 L that went in."
        );
        assert_eq!(
            findings,
            [
                "Between 2026-03-19 06:30 (entry 14) and 2026-03-20 06:30 (entry 15), 19.4 L (± 3.1 L) of \
              water went in that is not in the log. Ask who topped up, and write it in. If nobody did, the \
              machine was idle and lost less: give the running hours."
            ]
        );
        let (statement, findings) = says(&example(), UnitSystem::Us);
        assert!(statement.starts_with("The sump loses 1.71 US gal (± 0.054 US gal) of water"));
        assert!(findings[0].contains("5.14 US gal (± 0.83 US gal)"), "{findings:?}");
        let log = |daily: f64| {
            let entries = (0..15).map(|day| {
                let volume = 200.0 - daily * f64::from(day);
                json!({ "day": day, "volume": volume, "concentration": 8.0 })
            });
            json!({
                "sump": { "capacity": 200 }, "log": entries.collect::<Vec<_>>(),
                "reading_uncertainty": { "volume": 1, "concentration": 0.1 },
            })
        };
        assert_eq!(
            says(&log(4.0), UnitSystem::Metric).0,
            "The sump loses no water and 4 L (± 0.28 L) of fluid a day: fill up with 8 % by volume \
             to hold 8 % by volume."
        );
        assert_eq!(
            says(&log(0.0), UnitSystem::Metric).0,
            "By its log the sump loses neither water nor fluid."
        );
    }
}
