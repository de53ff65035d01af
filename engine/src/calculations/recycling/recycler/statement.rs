//! The answer in two sentences: whether plant and tanks carry the plan, and what to
//! correct the batch with.

use super::moment::moment;
use super::{Recycler, RecyclerAnswer};
use crate::fluid::measuring::MeasuringStep;
use crate::fluid::stock::Stock;
use crate::quantity::{Concentration, Count, Days, Hours, Quantity, Volume};
use crate::sentence;
use crate::text::{Sentence, listed};

/// Less than this share of the batch nobody pours.
const POURED_FROM: f64 = 1e-6;

/// So many stocks are named; of the rest, how many there are.
const NAMED: usize = 4;

impl Recycler {
    pub(super) fn stated(&self, answer: &RecyclerAnswer) -> Sentence {
        sentence!("{} {}", carries(answer), self.corrects(answer))
    }

    /// How much of which stock is poured in, rounded to what it is measured with.
    pub(super) fn poured(&self, answer: &RecyclerAnswer) -> (MeasuringStep, Vec<(f64, Stock)>) {
        let correction = &answer.correction;
        let least = correction.batch.volume.get() * POURED_FROM;
        let poured = correction.take.iter().skip(1).zip(self.stocks());
        let poured = poured.filter(|(take, _)| take.volume.get() > least);
        let mut poured: Vec<_> = poured.map(|(take, stock)| (take.volume.get(), stock)).collect();
        let step = MeasuringStep::of(self.measures_to, poured.iter().map(|(litres, _)| *litres));
        poured.iter_mut().for_each(|(litres, _)| *litres = step.round(*litres));
        (step, poured)
    }

    /// What to pour, rounded to what it is measured with, and what the batch then has.
    fn corrects(&self, answer: &RecyclerAnswer) -> Sentence {
        let (recovered, correction) = (&answer.recovered, &answer.correction);
        let (step, poured) = self.poured(answer);
        if poured.is_empty() {
            return sentence!(
                "Nothing to pour: the {} recovered are on target.",
                recovered.volume.roughly()
            );
        }
        let (mut volume, mut concentrate) =
            (recovered.volume.get(), recovered.volume.get() * recovered.concentration.fraction());
        let mut parts = Vec::new();
        for (rounded, stock) in poured {
            volume += rounded;
            concentrate += rounded * stock.concentration.fraction();
            parts.push(sentence!("{} of {}", step.measure(rounded), &stock.name));
        }
        let strength = Concentration::of_fraction((concentrate / volume).min(1.0));
        let strength = strength.unwrap_or(correction.batch.concentration);
        let parts = listed(named(parts));
        let parts =
            if correction.premix.is_some() { sentence!("a premix of {}", parts) } else { parts };
        // What does not fit into its tank is never to be poured into it at once.
        let parts = match self.clean_tank_outgrown(correction.batch.volume.get()) {
            Some(room) => sentence!(
                "{}, in parts, since the clean tank holds {}",
                parts,
                Volume::measure_of(room).rounded(3)
            ),
            None => parts,
        };
        let recovered = recovered.volume.roughly();
        let reading = self.feed.reading.as_ref();
        let mark = reading.and_then(|r| Some((r, r.mark(strength, "/feed/reading").ok()?)));
        match mark {
            Some((reading, mark)) => sentence!(
                "Correct the {} recovered with {}; it then has {}, and {}.",
                recovered,
                parts,
                strength.roughly(),
                reading.must_then_read(mark)
            ),
            None => sentence!(
                "Correct the {} recovered with {}; it then has {}.",
                recovered,
                parts,
                strength.roughly()
            ),
        }
    }
}

/// Whether recycler and tanks carry the plan, and where they first fail.
fn carries(answer: &RecyclerAnswer) -> Sentence {
    let from = |day: Days| moment("day", day);
    match (answer.first_overflow, answer.first_shortage) {
        (Some(over), Some(short)) => sentence!(
            "The dirty tank runs over from {} on, by {}, and the clean tank runs short from {} \
             on, by {}.",
            from(over.day),
            over.volume.roughly(),
            from(short.day),
            short.volume.roughly()
        ),
        (Some(over), None) => sentence!(
            "The dirty tank runs over from {} on, by {}: it would have to hold about {}.",
            from(over.day),
            over.volume.roughly(),
            answer.smallest.dirty.roughly()
        ),
        (None, Some(short)) => sentence!(
            "The clean tank runs short from {} on, by {}.",
            from(short.day),
            short.volume.roughly()
        ),
        (None, None) if answer.has_too_few_hours() => sentence!(
            "The recycler cannot keep up: all of the fluid takes {} of running, and it may run \
             for {} in the plan.",
            answer.hours.roughly(),
            Hours::measure_of(answer.hours.get() / answer.utilisation.get()).rounded(3)
        ),
        (None, None) => done(answer),
    }
}

/// When all of the fluid is clean.
fn done(answer: &RecyclerAnswer) -> Sentence {
    let Some(done) = answer.done_day else {
        return sentence!(
            "All of the fluid takes {} of running, which the plan has, but the dirty tank is not \
             empty when it ends.",
            answer.hours.roughly()
        );
    };
    sentence!(
        "The recycler keeps up: all of the fluid is clean by {}, after {} of running.",
        moment("day", done),
        answer.hours.roughly()
    )
}

/// The first few of the parts, and how many more there are.
fn named(mut parts: Vec<Sentence>) -> Vec<Sentence> {
    if parts.len() > NAMED {
        let more = Count::from_usize(parts.len() - NAMED).map_or(0.0, Quantity::get);
        parts.truncate(NAMED);
        parts.push(sentence!("{} more", Count::measure_of(more)));
    }
    parts
}
