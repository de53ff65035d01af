//! A round on paper: what is mixed beforehand, then trip by trip what is done at each
//! machine, in as few words as are understood alone.

mod notes;
mod stops;

use super::{RechargeAnswer, SheetAction, SheetStep};
use crate::job_sheet::{JobSheet, SheetPart, SheetRecords, SheetTask};
use crate::quantity::{Count, Minutes, Quantity};
use crate::sentence;
use crate::text::Sentence;
use notes::Usual;
use stops::amount;

/// What steps that stand together are about.
#[derive(Debug, Clone, Copy, PartialEq)]
enum About {
    Cleaner,
    Batch(Count),
    RinseMix(Count),
    Trip(Count),
    Machines,
}

impl About {
    fn of(step: &SheetStep) -> Self {
        match (step.trip, step.rinse_mix, step.batch) {
            _ if step.action == SheetAction::CirculateCleaner => Self::Cleaner,
            (Some(trip), ..) => Self::Trip(trip),
            _ if step.sump.is_some() => Self::Machines,
            (_, Some(mix), _) => Self::RinseMix(mix),
            (_, _, Some(batch)) => Self::Batch(batch),
            _ => Self::Machines,
        }
    }
}

impl RechargeAnswer {
    pub(super) fn job_sheet(&self) -> JobSheet {
        let usual = Usual::of(self);
        let parts = self.sheet.chunk_by(|a, b| About::of(a) == About::of(b)).map(|steps| {
            let about = About::of(&steps[0]);
            SheetPart::headed(self.heading(about, steps), tasks(about, steps, &usual))
        });
        JobSheet { parts: parts.collect(), notes: usual.notes(), records: SheetRecords::Once }
    }

    fn heading(&self, about: About, steps: &[SheetStep]) -> Sentence {
        match about {
            About::Cleaner => sentence!("Beforehand: system cleaner"),
            About::Batch(number) => made(sentence!("Batch {}", number), steps),
            About::RinseMix(number) => made(sentence!("Rinse mix {}", number), steps),
            About::Machines => sentence!("At the machines"),
            About::Trip(number) => self.trip(number),
        }
    }

    /// "Trip 5: product B, 3 machines, 95 min".
    fn trip(&self, number: Count) -> Sentence {
        let at = |place: Count| place.whole().saturating_sub(1);
        let trip = self.trips.as_ref().and_then(|trips| trips.get(at(number)));
        let Some(trip) = trip else { return sentence!("Trip {}", number) };
        let product = self.batches.get(at(trip.batch)).map_or("", |batch| &batch.product);
        let machines = match trip.sumps.len() {
            1 => sentence!("1 machine"),
            several => sentence!("{} machines", several),
        };
        match trip.minutes {
            Some(minutes) => sentence!(
                "Trip {}: {}, {}, {}",
                number,
                product,
                machines,
                Minutes::measure_of(minutes.get().ceil())
            ),
            None => sentence!("Trip {}: {}, {}", number, product, machines),
        }
    }
}

fn tasks(about: About, steps: &[SheetStep], usual: &Usual<'_>) -> Vec<SheetTask> {
    match about {
        About::Cleaner => steps.iter().map(circulated).collect(),
        About::Batch(_) | About::RinseMix(_) => steps.iter().map(mixed).collect(),
        About::Trip(_) | About::Machines => {
            let stops = steps.chunk_by(|a, b| a.sump == b.sump && !washes(a) && !washes(b));
            stops.filter_map(|steps| usual.stop(steps)).collect()
        }
    }
}

fn washes(step: &SheetStep) -> bool {
    step.action == SheetAction::Wash
}

/// "Batch 1: product A, 514.5 L, 2 times".
fn made(what: Sentence, steps: &[SheetStep]) -> Sentence {
    let last = steps.last();
    let product = last.and_then(|step| step.product.as_deref()).unwrap_or_default();
    let volume = amount(last.and_then(|step| step.volume));
    match last.and_then(|step| step.times) {
        Some(times) => sentence!("{}: {}, {} times {}", what, product, times, volume),
        None => sentence!("{}: {}, {}", what, product, volume),
    }
}

fn circulated(step: &SheetStep) -> SheetTask {
    let text = match (step.volume, step.hours) {
        (Some(volume), Some(hours)) => {
            sentence!("{} of cleaner, for {}", volume.roughly(), hours.roughly())
        }
        _ => step.text.clone(),
    };
    let task = SheetTask::of(text);
    match &step.sump {
        Some(sump) => task.at(sump),
        None => task,
    }
}

/// A stock that is measured out, as its step says it, or the reading that they must come to.
fn mixed(step: &SheetStep) -> SheetTask {
    let measured = step.text.measures().first().copied();
    let text = match (measured, step.stock.as_deref()) {
        (Some(measured), Some(stock)) if step.action == SheetAction::StirIn => {
            sentence!("stir in {} of {}", measured, stock)
        }
        (Some(measured), Some(stock)) => sentence!("{} of {}", measured, stock),
        (Some(measured), None) if step.mark.is_some() => sentence!("must read {}", measured),
        (Some(measured), None) => sentence!("must be at {}", measured),
        _ => step.text.clone(),
    };
    let times = step.times.map_or(1, Count::whole);
    SheetTask { times, ..SheetTask::of(text) }
}
