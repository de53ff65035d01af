//! The waste of the shop in a sentence, and what to do first.

use super::{Disposal, DisposalAnswer};
use crate::quantity::{Count, Mass, Measure, Quantity};
use crate::sentence;
use crate::text::Sentence;

impl Disposal {
    /// The waste, its cost, its generator category where US rules are kept, and what to
    /// do first.
    pub(super) fn told(&self, answer: &DisposalAnswer) -> Sentence {
        let mass: f64 = answer.months.iter().map(|month| month.mass.get()).sum();
        let span = span(answer);
        let waste = if mass > 0.0 {
            sentence!("{} of waste in {}{}{}.", roughly(mass), span, counted(answer), cost(answer))
        } else {
            sentence!("No waste in {}{}.", span, cost(answer))
        };
        let first = first(answer);
        if let Some(category) = self.highest(answer) {
            sentence!("{} {}{}", waste, category, first)
        } else {
            sentence!("{}{}", waste, first)
        }
    }

    /// The highest category that a month has, where published rules are asked for.
    fn highest(&self, answer: &DisposalAnswer) -> Option<Sentence> {
        self.storage.and_then(|storage| storage.rules)?;
        let highest = answer.months.iter().map(|month| month.category).max()?;
        let of_it = answer.months.iter().filter(|month| month.category == highest);
        let of_it: Vec<Count> = of_it.map(|month| month.month).collect();
        let words = highest.words();
        Some(match of_it.as_slice() {
            all if all.len() == answer.months.len() => {
                sentence!("Every month is that of a {}.", words)
            }
            [one] => sentence!("Month {} is that of a {}.", *one, words),
            several => {
                let months = Count::from_usize(several.len()).ok()?;
                sentence!("{} months are those of a {}.", months, words)
            }
        })
    }
}

/// What to do first: change the plan where no pickup keeps the limits, else the first
/// pickup.
fn first(answer: &DisposalAnswer) -> Sentence {
    let Some(storage) = &answer.storage else { return sentence!("") };
    if let Some(day) = storage.days_above.first() {
        sentence!(
            " Share out the changes first: on day {} more waste arises than may be on site.",
            Measure::bare(day.get())
        )
    } else if let Some(pickup) = answer.pickups.first() {
        sentence!(
            " Have the waste picked up by the end of day {}: {} will be there.",
            Measure::bare(pickup.day.get()),
            pickup.mass.roughly()
        )
    } else {
        sentence!(" No pickup is needed in that time.")
    }
}

/// The time looked ahead.
fn span(answer: &DisposalAnswer) -> Sentence {
    match answer.months.len() {
        1 => sentence!("one month"),
        12 => sentence!("a year"),
        months => sentence!("{} months", Measure::bare(super::track::count(months))),
    }
}

fn roughly(mass: f64) -> Measure {
    Mass::measure_of(mass).rounded(3)
}

/// How much of the waste counts, where that is not all of it.
fn counted(answer: &DisposalAnswer) -> Sentence {
    let counted: f64 = answer.months.iter().map(|month| month.counted.get()).sum();
    if answer.streams.iter().all(|stream| stream.counts) {
        sentence!("")
    } else {
        sentence!(", {} of it counted", roughly(counted))
    }
}

/// What it costs or earns in all.
fn cost(answer: &DisposalAnswer) -> Sentence {
    let Some(cost) = &answer.cost else { return sentence!("") };
    let total = cost.total.get();
    let amount = Measure::bare(total.abs()).rounded(3);
    let amount = if let Some(currency) = &answer.currency {
        sentence!("{} {}", amount, currency)
    } else {
        sentence!("{}", amount)
    };
    if total < 0.0 {
        sentence!(", earning {}", amount)
    } else {
        sentence!(", costing {} with what is bought", amount)
    }
}
