//! The statement: the first clean-outs, how many there are, and what they cost beside today's habit.

use super::answer::CalendarAnswer;
use super::question::Calendar;
use crate::quantity::{Measure, Quantity};
use crate::sentence;
use crate::text::{Part, Sentence, listed};

/// No more of the first day's sumps are named.
const NAMED: usize = 3;

impl Calendar {
    pub(super) fn in_short(&self, answer: &CalendarAnswer) -> Sentence {
        sentence!("{} {}", self.first(answer), self.costs(answer))
    }

    fn first(&self, answer: &CalendarAnswer) -> Sentence {
        let weeks = match self.weeks_ahead() {
            1.0 => sentence!("a week"),
            weeks => sentence!("{} weeks", Measure::bare(weeks)),
        };
        let Some(first) = answer.clean_outs.first() else {
            return sentence!("No clean-out is due in {}.", weeks);
        };
        let that_day: Vec<_> =
            answer.clean_outs.iter().take_while(|own| own.day == first.day).collect();
        let named = that_day.iter().take(NAMED).map(|own| sentence!("{}", &own.sump));
        let more = that_day.len().saturating_sub(NAMED);
        let more = (more > 0).then(|| sentence!("{} more", more));
        let many = match answer.clean_outs.len() {
            1 => sentence!("1 clean-out"),
            many => sentence!("{} clean-outs", many),
        };
        sentence!(
            "Begin on {} with {}: {} in {}.",
            first.day.said(),
            listed(named.chain(more)),
            many,
            weeks
        )
    }

    fn costs(&self, answer: &CalendarAnswer) -> Sentence {
        let amount = |money: f64| -> Part {
            let amount = Measure::bare(money).rounded(3);
            match &self.currency {
                Some(currency) => Part::Sentence(sentence!("{} {}", amount, currency)),
                None => Part::Measure(amount),
            }
        };
        let saved = answer.habit.saved.get();
        let than_habit = if saved.abs() < 5e-4 * answer.habit.total.get().abs() {
            sentence!("as much as by today's habit")
        } else if saved > 0.0 {
            sentence!("{} less than by today's habit", amount(saved))
        } else {
            sentence!("{} more than by today's habit, which keeps no limit", amount(-saved))
        };
        let near = if answer.proven {
            sentence!("No plan is cheaper.")
        } else {
            sentence!("No plan is cheaper by more than {}.", answer.gap.measure().rounded(2))
        };
        sentence!("The plan costs {}, {}. {}", amount(answer.cost.total.get()), than_habit, near)
    }
}
