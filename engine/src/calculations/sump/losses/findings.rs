//! What to look at first in a log: strengths that no sump has, and what was not written
//! down.

use super::answer::{
    AdditionMissing, FactorOff, LogSuspect, LossesAnswer, SuspectKind, UnrecordedAddition,
    VolumeMisread, WaterIngress,
};
use super::fit::degrees;
use super::log::{Log, Seen};
use super::question::Losses;
use crate::fluid::practice;
use crate::handbook::evaporation::WaterSurface;
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::{Concentration, DailyRate, Days, Measure, Quantity, Temperature, Volume};
use crate::sentence;
use crate::text::{Finding, Sentence, Severity, listed};

/// Chance of a water addition: its strength is within this many standard uncertainties of
/// none.
const WATER_WITHIN: f64 = 2.0;

impl Losses {
    /// The findings, of which the suspects come in the order of the answer.
    pub(super) fn findings(
        &self,
        log: &Log,
        answer: &LossesAnswer,
        unexplained: Option<usize>,
    ) -> Vec<Finding> {
        let named = Named { question: self, log, coverage: answer.coverage_factor.get() };
        let suspects = answer.suspects.iter().map(|suspect| named.finding(suspect));
        let unexplained = unexplained.map(|after| named.unexplained(after));
        let leaks = self.leak(answer);
        unexplained
            .into_iter()
            .chain(leaks)
            .chain(suspects)
            .chain(self.unusual_strengths())
            .collect()
    }

    /// More water goes missing than the open surface can lose, by far.
    fn leak(&self, answer: &LossesAnswer) -> Option<Finding> {
        /// A warm shop that moves its air, and fluid as warm as a hard day makes it.
        const WARM: f64 = 35.0;
        const AIR_CELSIUS: f64 = 20.0;
        const HUMIDITY: f64 = 0.5;
        const AIR_SPEED: f64 = 0.1; // m/s
        const HOURS_PER_DAY: f64 = 24.0;
        /// Hot chips and mist take more than a still surface does, but not so much more.
        const TIMES: f64 = 3.0;
        let surface = self.sump.surface?;
        let open = WaterSurface {
            area: surface.get(),
            celsius: WARM,
            air_celsius: AIR_CELSIUS,
            humidity: HUMIDITY,
            air_speed: AIR_SPEED,
        };
        let most = open.evaporates() * HOURS_PER_DAY / DENSITY_AT_20_CELSIUS;
        let (lost, u) = (answer.evaporation.value.get(), answer.evaporation.u.get());
        if lost - answer.coverage_factor.get() * u <= TIMES * most {
            return None;
        }
        let text = sentence!(
            "The log loses {} of water, and an open surface of {} loses some {} at {}. So much does \
             not evaporate: look for fluid under the machine and in the next tank, for premix that \
             was stronger than written, and check the factor of the readings.",
            DailyRate::measure_of(lost).rounded(2),
            surface,
            DailyRate::measure_of(most).rounded(2),
            Temperature::measure_of(WARM)
        );
        Some(Finding::new(Severity::Act, "more-than-evaporates", "/sump/surface", text))
    }

    /// Asks back about strengths that no working sump has.
    fn unusual_strengths(&self) -> Vec<Finding> {
        let held = self.sump.concentration;
        let held = held.and_then(|c| practice::unusual_strength(c, "/sump/concentration"));
        let entries = self.log.iter().enumerate().filter_map(|(i, entry)| match &entry.reading {
            Some(reading) => {
                let pointer = format!("/log/{i}/reading");
                practice::unusual_strength(reading.concentration(&pointer).ok()?, &pointer)
            }
            None => {
                practice::unusual_strength(entry.concentration?, &format!("/log/{i}/concentration"))
            }
        });
        let entries = practice::few(entries);
        held.into_iter().chain(entries).collect()
    }
}

/// What names the moments of a log and the bounds of what was found in it.
struct Named<'a> {
    question: &'a Losses,
    log: &'a Log,
    /// Number of standard uncertainties to either side.
    coverage: f64,
}

impl Named<'_> {
    fn finding(&self, suspect: &LogSuspect) -> Finding {
        let (code, text, from, or_else) = match suspect {
            LogSuspect::UnrecordedAddition(found) => {
                ("unrecorded-addition", self.addition(found), found.from, &found.or_else)
            }
            LogSuspect::UnrecordedRemoval(found) => {
                let text = sentence!(
                    "{} {} of fluid went missing. Ask whether some was drained or spilled, or \
                     whether an addition in the log never went in.",
                    self.between(found.from, found.to),
                    self.volume(found.size.value.get(), found.size.u.get())
                );
                ("unrecorded-removal", text, found.from, &found.or_else)
            }
            LogSuspect::AdditionMissing(found) => {
                ("addition-missing", self.missing(found), found.from, &found.or_else)
            }
            LogSuspect::WaterIngress(found) => {
                ("water-ingress", self.ingress(found), found.from, &found.or_else)
            }
            LogSuspect::PremixOff(found) => {
                let text = sentence!(
                    "The premix added from {} on is {} by the log and acted on the sump like {}. \
                     Read the premix itself, and check the mixer.",
                    self.moment(found.from),
                    found.claimed.roughly(),
                    self.strength(found.size.value, found.size.u)
                );
                ("premix-off", text, found.from, &found.or_else)
            }
            LogSuspect::FactorOff(found) => {
                ("factor-off", self.factor(found), found.from, &found.or_else)
            }
            LogSuspect::InstrumentDrift(found) => {
                let text = sentence!(
                    "From about {} on, the strengths drift: the last reads {} times what the \
                     rest of the log makes it. Clean the prism, set the instrument to zero on \
                     clean water, and read the sump again; skim tramp oil off first.",
                    self.moment(found.from),
                    found.size.value.roughly()
                );
                ("instrument-drift", text, found.from, &found.or_else)
            }
            LogSuspect::VolumeMisread(found) => {
                ("volume-misread", self.misread_level(found), found.from, &found.or_else)
            }
            LogSuspect::ConcentrationMisread(found) => {
                let text = sentence!(
                    "The strength of {} should be {} by the rest of the log. Read it again, or \
                     look for a slip of the pen.",
                    self.moment(found.from),
                    self.strength(found.size.value, found.size.u)
                );
                ("concentration-misread", text, found.from, &found.or_else)
            }
        };
        let entry = self.log.events.iter().position(|event| event.day >= from.get()).unwrap_or(0);
        let severity = match suspect {
            LogSuspect::VolumeMisread(_) | LogSuspect::ConcentrationMisread(_) => Severity::Watch,
            _ => Severity::Act,
        };
        Finding::new(severity, code, format!("/log/{entry}"), or_else_too(text, or_else))
    }

    /// A step that no fault explains.
    fn unexplained(&self, after: usize) -> Finding {
        let text = sentence!(
            "Between {} and {}, level and strength jump in a way that nothing in the log explains. Do not plan by \
             these losses yet: compare the two entries with what was done in between, and correct \
             them. Their intervals were widened.",
            self.at_entry(after),
            self.at_entry(after + 1)
        );
        Finding::new(Severity::Act, "unexplained-step", format!("/log/{}", after + 1), text)
    }

    fn addition(&self, found: &UnrecordedAddition) -> Sentence {
        let (strength, u) = (found.concentration.value, found.concentration.u.get());
        let size = self.volume(found.size.value.get(), found.size.u.get());
        let between = self.between(found.from, found.to);
        if strength.get() <= WATER_WITHIN * u {
            sentence!(
                "{} {} of water went in that is not in the log. Ask who topped up, and \
                 write it in. If nobody did, the machine was idle and lost less: give the \
                 running hours.",
                between,
                size
            )
        } else {
            sentence!(
                "{} {} of fluid at {} went in that is not in the log. Ask who topped up, \
                 and write it in. If nobody did, the machine was idle and lost less: give \
                 the running hours.",
                between,
                size,
                strength.roughly()
            )
        }
    }

    /// Half of it was written down by two people; all of it was forgotten.
    fn missing(&self, found: &AdditionMissing) -> Sentence {
        let (value, u) = (found.size.value.get(), self.coverage * found.size.u.get());
        let claimed = found.claimed.get();
        if (value - claimed / 2.0).abs() <= u && (value - claimed).abs() > u {
            return sentence!(
                "Of the {} written down as added on {}, {} never went in: it looks as if one \
                 addition was written down twice. Ask who topped up, and strike one of them.",
                found.claimed,
                self.moment(found.from),
                self.volume(value, found.size.u.get())
            );
        }
        sentence!(
            "Of the {} written down as added on {}, {} never went in. Ask who topped up, and \
             correct the entry.",
            found.claimed,
            self.moment(found.from),
            self.volume(value, found.size.u.get())
        )
    }

    fn ingress(&self, found: &WaterIngress) -> Sentence {
        let size = plus_minus(
            DailyRate::measure_of(found.size.value.get()),
            DailyRate::measure_of(self.coverage * found.size.u.get()),
        );
        if found.from.get() > self.log.events[0].day {
            sentence!(
                "From about {} on, {} of water run into the sump. Look for it at the \
                 chiller, the heat exchanger, a wash gun, a valve that does not close, or \
                 the roof. The losses do not include it.",
                self.moment(found.from),
                size
            )
        } else {
            sentence!(
                "From the first entry on, {} more water comes in than evaporates. Look for \
                 it at the chiller, the heat exchanger, a wash gun, a valve that does not \
                 close, or the roof. The log shows only the difference between the two.",
                size
            )
        }
    }

    fn factor(&self, found: &FactorOff) -> Sentence {
        let times = found.size.value.roughly();
        if found.from.get() > self.first_strength() {
            sentence!(
                "From {} on, the strengths read {} times what those before would make \
                 them. Check the factor that was entered, the zero of the instrument, and \
                 whether the product was changed.",
                self.moment(found.from),
                times
            )
        } else {
            sentence!(
                "All strengths of the log are {} times what its additions show. Check the \
                 factor.",
                times
            )
        }
    }

    fn misread_level(&self, found: &VolumeMisread) -> Sentence {
        let value = found.size.value.get();
        let (at, size) = (self.moment(found.from), self.volume(value.abs(), found.size.u.get()));
        if value < 0.0 {
            sentence!(
                "The level of {} is {} too low for those before and after it. Read it \
                 again, or look for a slip of the pen.",
                at,
                size
            )
        } else {
            sentence!(
                "The level of {} is {} too high for those before and after it. Read it \
                 again, or look for a slip of the pen.",
                at,
                size
            )
        }
    }

    fn moment(&self, day: Days) -> Sentence {
        let entry = self.log.events.iter().position(|event| event.day >= day.get());
        self.at_entry(entry.unwrap_or(self.log.events.len() - 1))
    }

    /// An entry by its moment as the log writes it, its date and time of day or its day, and by
    /// its place in the log.
    fn at_entry(&self, i: usize) -> Sentence {
        let place = Measure::bare(degrees(i + 1));
        if let Some(at) = &self.question.log[i].at {
            sentence!("{} (entry {})", at.said(), place)
        } else {
            sentence!("day {} (entry {})", Measure::bare(self.log.events[i].day), place)
        }
    }

    fn between(&self, from: Days, to: Days) -> Sentence {
        sentence!("Between {} and {},", self.moment(from), self.moment(to))
    }

    fn volume(&self, value: f64, u: f64) -> Sentence {
        plus_minus(Volume::measure_of(value), Volume::measure_of(self.coverage * u))
    }

    fn strength(&self, value: Concentration, u: Concentration) -> Sentence {
        plus_minus(value.measure(), Concentration::measure_of(self.coverage * u.get()))
    }

    /// The day of the first strength that was read.
    fn first_strength(&self) -> f64 {
        let read = self.log.observations.iter().filter_map(|o| match o.seen {
            Seen::Strength(at) => Some(self.log.events[at].day),
            _ => None,
        });
        read.fold(f64::INFINITY, f64::min)
    }
}

fn plus_minus(value: Measure, u: Measure) -> Sentence {
    sentence!("{} (± {})", value.rounded(3), u.rounded(2))
}

/// What else would do nearly as well.
fn or_else_too(text: Sentence, or_else: &[SuspectKind]) -> Sentence {
    if or_else.is_empty() {
        return text;
    }
    let kinds = or_else.iter().map(|kind| Sentence::fixed(kind.words()));
    sentence!("{} Nearly as likely: {}.", text, listed(kinds))
}
