//! What is taken for granted in following a log.

use super::estimate::{CONTENT_SHARE, POINTS, VOLUME_SHARE};
use super::question::SumpState;
use super::run::Run;
use crate::dynamics::log::usual_morning;
use crate::fluid::practice::read_with_pumps_off;
use crate::quantity::{Concentration, Measure, Quantity, Share};
use crate::sentence;
use crate::text::Assumption;

impl SumpState {
    pub(super) fn assumptions(&self, run: &Run) -> Vec<Assumption> {
        let mut assumptions = vec![Assumption::volumes_add(), read_with_pumps_off("/log")];
        let mut note =
            |pointer: &'static str, text| assumptions.push(Assumption::new(pointer, text));
        note(
            "/log",
            sentence!(
                "What was added and removed was assumed to be measured without error, and the sump \
                 to be well mixed whenever it was read."
            ),
        );
        let said = self.reading_uncertainty.unwrap_or(crate::dynamics::log::ReadingUncertainty {
            volume: None,
            concentration: None,
        });
        if said.volume.is_none() {
            note(
                "/reading_uncertainty/volume",
                sentence!(
                    "A level was taken to have a standard uncertainty of {} of the capacity where \
                     none is given.",
                    Share::measure_of_fraction(VOLUME_SHARE)
                ),
            );
        }
        if said.concentration.is_none() {
            note(
                "/reading_uncertainty/concentration",
                sentence!(
                    "A strength was taken to have a standard uncertainty of {} where none is given.",
                    Concentration::measure_of(POINTS)
                ),
            );
        }
        if !run.names.is_empty() {
            note(
                "/log",
                sentence!(
                    "Whatever else is read was taken to have a standard uncertainty of {} of what is \
                     read, and what is added to carry none of it unless its fluid says so.",
                    Share::measure_of_fraction(CONTENT_SHARE)
                ),
            );
        }
        if self.drift.is_none() {
            note(
                "/drift",
                sentence!(
                    "A loss was taken to wander by {} of the whole loss in 30 days.",
                    Share::measure_of_fraction(run.wandering.drift)
                ),
            );
        }
        if self.losses.is_none() && self.state.is_none() {
            note("/losses", sentence!("The losses were learned from the log alone."));
        }
        if run.assumed_level {
            note(
                "/log",
                sentence!(
                    "The first entry has no level: the sump was taken to be nearly full then."
                ),
            );
        }
        if run.passed_over > 0 {
            note(
                "/log",
                sentence!("Entries before the first strength that was read were passed over."),
            );
        }
        if self.log.iter().any(|entry| entry.running_hours.is_some()) {
            note(
                "/log/0/running_hours",
                sentence!(
                    "The hour meter was not counted: days of work are those of the calendar, or all \
                     days without one."
                ),
            );
        }
        if run.times.dates_alone {
            note(
                "/log",
                sentence!(
                    "An entry with a date alone was taken to be read at {} o'clock in the morning.",
                    Measure::bare(usual_morning(self.calendar.as_ref()))
                ),
            );
        }
        assumptions
    }
}
