//! What is done at one machine, or before and after all of a trip, on one line.

use super::notes::Usual;
use super::{SheetAction, SheetStep};
use crate::job_sheet::SheetTask;
use crate::quantity::{Measure, Quantity, Volume};
use crate::sentence;
use crate::text::Sentence;

/// A volume as it is read on a vessel: three digits, four of more than a thousand litres.
fn litres(volume: Volume) -> Measure {
    volume.measure().rounded(if volume.get() < 1000.0 { 3 } else { 4 })
}

pub(super) fn amount(volume: Option<Volume>) -> Sentence {
    match volume {
        Some(volume) => sentence!("{}", litres(volume)),
        None => sentence!("nothing"),
    }
}

impl Usual<'_> {
    /// What is done at one place, on one line.
    pub(super) fn stop(&self, steps: &[SheetStep]) -> Option<SheetTask> {
        let phrases = steps.iter().enumerate();
        let phrases = phrases.filter_map(|(place, step)| {
            let before = place.checked_sub(1).map(|place| steps[place].action);
            self.phrase(step, before)
        });
        let text = phrases.reduce(|text, phrase| sentence!("{}; {}", text, phrase))?;
        let task = SheetTask::of(text);
        let refills = steps.iter().any(|step| step.action == SheetAction::Refill);
        let task = if refills { task.read() } else { task };
        Some(match &steps[0].sump {
            Some(sump) => task.at(sump),
            None => task,
        })
    }

    /// What a step is in a few words after the one before; nothing where the notes say it of
    /// every machine.
    fn phrase(&self, step: &SheetStep, before: Option<SheetAction>) -> Option<Sentence> {
        let volume = || amount(step.volume);
        let mass = || step.mass.filter(|mass| mass.get() > 0.0).map(Quantity::roughly);
        // A vessel is named where it is not the usual one.
        let usual = self.vessel(step.action);
        let vessel = step.vessel.as_deref().filter(|vessel| Some(*vessel) != usual);
        let of_vessel = |text: Sentence, word: &'static str| match vessel {
            Some(vessel) => sentence!("{} {} {}", text, word, vessel),
            None => text,
        };
        let named = step.vessel.as_deref().unwrap_or("it");
        Some(match step.action {
            SheetAction::Wash => match &step.product {
                Some(product) => sentence!("Wash hoses and vessels for {}", product),
                None => sentence!("Wash hoses and vessels"),
            },
            SheetAction::Load if before == Some(SheetAction::Load) => {
                sentence!("{} into {}", volume(), named)
            }
            SheetAction::Load => sentence!("Load {} into {}", volume(), named),
            SheetAction::TakeOut => {
                let out = match (step.volume.filter(|volume| volume.get() > 0.0), mass()) {
                    (Some(volume), Some(chips)) => {
                        sentence!("out {}, {} of chips", litres(volume), chips)
                    }
                    (None, Some(chips)) => sentence!("out {} of chips", chips),
                    (Some(volume), None) => sentence!("out {}", litres(volume)),
                    (None, None) => return None,
                };
                of_vessel(out, "into")
            }
            SheetAction::Scrape if !self.scrapes_all => sentence!("scrape"),
            SheetAction::Rinse => match &step.stock {
                Some(stock) => sentence!("rinse with {} of {}", volume(), stock),
                None => sentence!("rinse with {}", volume()),
            },
            SheetAction::Refill => of_vessel(sentence!("in {}", volume()), "from"),
            SheetAction::DriveBack => sentence!("Drive back"),
            SheetAction::EmptyChips => match mass() {
                Some(chips) => of_vessel(sentence!("empty {} of chips", chips), "from"),
                None => of_vessel(sentence!("empty the chips"), "from"),
            },
            SheetAction::EmptyDirty if before == Some(SheetAction::EmptyChips) => {
                of_vessel(sentence!("{} of dirty fluid", volume()), "from")
            }
            SheetAction::EmptyDirty => {
                of_vessel(sentence!("empty {} of dirty fluid", volume()), "from")
            }
            _ => return None,
        })
    }
}
