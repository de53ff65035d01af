//! What is in the sump now and what to do, in a sentence or two.

use super::answer::{COVERAGE, StateNow, SumpStateAnswer, ToDoToday};
use super::question::SumpState;
use crate::calculation::Calculation;
use crate::quantity::{Concentration, Quantity, Volume};
use crate::sentence;
use crate::text::Sentence;

/// A sooner reading is one of today.
const HALF_A_DAY: f64 = 0.5;

impl SumpState {
    pub(super) fn in_short(&self, answer: &SumpStateAnswer) -> Sentence {
        let holds = Self::holds(answer);
        match answer.to_do {
            None => sentence!("{}", holds),
            Some(ToDoToday::LookFirst) => sentence!(
                "Look at the machine first, and read level and strength before anything is poured. \
                 {}",
                holds
            ),
            Some(ToDoToday::ReadFirst) => sentence!(
                "Read it before anything is poured: whether it is in its band is not known well \
                 enough. {}",
                holds
            ),
            Some(ToDoToday::TopUp) => match self.tops_up(answer) {
                Some(top_up) => sentence!("{} {}", holds, top_up),
                None => sentence!("{} Top it up.", holds),
            },
            Some(ToDoToday::Nothing) => match answer.next_reading.map(|next| next.in_days) {
                Some(days) if days.get() < HALF_A_DAY => {
                    sentence!("{} Nothing to do but to read it again today.", holds)
                }
                Some(days) => {
                    sentence!("{} Nothing to do; read it again in {}.", holds, days.roughly())
                }
                None => sentence!("{} Nothing to do today.", holds),
            },
        }
    }

    /// "The sump holds 172 L (± 4.1 L) at 8.1 % by volume (± 0.3 % by volume); it should read 6.5 °Brix
    /// now."
    fn holds(answer: &SumpStateAnswer) -> Sentence {
        let StateNow { volume, concentration, mark, .. } = &answer.now;
        let reading = answer.state.reading.as_ref();
        let shows = mark.zip(reading).map(|(mark, reading)| reading.shown(mark));
        let volume_u = Volume::measure_of(COVERAGE * volume.u.get()).rounded(2);
        let strength_u = Concentration::measure_of((COVERAGE * concentration.u.get()).min(100.0));
        match shows {
            Some(shows) => sentence!(
                "The sump holds {} (± {}) at {} (± {}); it should read {} now.",
                volume.value.measure().rounded(3),
                volume_u,
                concentration.value.roughly(),
                strength_u.rounded(2),
                shows
            ),
            None => sentence!(
                "The sump holds {} (± {}) at {} (± {}).",
                volume.value.measure().rounded(3),
                volume_u,
                concentration.value.roughly(),
                strength_u.rounded(2)
            ),
        }
    }

    /// What the top-up itself says.
    fn tops_up(&self, answer: &SumpStateAnswer) -> Option<Sentence> {
        let question = self.topping_up(&answer.now, &answer.losses)?;
        answer.top_up.as_ref().map(|top_up| question.statement(top_up))
    }
}
