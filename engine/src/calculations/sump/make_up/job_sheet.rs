//! The make-up of a day on paper: what to mix and fill up with.

use super::{MakeUp, MakeUpAnswer};
use crate::fluid::measuring::MeasuringStep;
use crate::fluid::practice::PREMIX_AT_MOST;
use crate::job_sheet::{JobSheet, SheetPart, SheetRecords, SheetTask};
use crate::quantity::Quantity;
use crate::sentence;

impl MakeUp {
    pub(super) fn job_sheet(&self, answer: &MakeUpAnswer) -> JobSheet {
        let (water, concentrate) =
            (answer.daily.water.get().max(0.0), answer.daily.concentrate.get().max(0.0));
        let step = MeasuringStep::of(None, [water, concentrate]);
        let litres = |litres: f64| step.measure(step.round(litres));
        let is_premix = 100.0 * concentrate <= PREMIX_AT_MOST * (water + concentrate);
        let mut tasks = Vec::new();
        let mut then = |text| tasks.push(SheetTask::of(text));
        if concentrate > 0.0 && is_premix {
            then(sentence!(
                "Pour {} of water into a clean vessel outside the sump.",
                litres(water)
            ));
            then(sentence!(
                "Stir {} of concentrate in slowly: concentrate into water, never water into \
                 concentrate.",
                litres(concentrate)
            ));
            then(sentence!("Pour this into the sump slowly, where the fluid returns."));
        } else {
            if water > 0.0 {
                then(sentence!("Pour {} of water into the sump.", litres(water)));
            }
            if concentrate > 0.0 {
                then(sentence!(
                    "Draw ten times as much fluid off into a clean vessel, stir {} of concentrate \
                     in slowly, and pour that back where the fluid returns.",
                    litres(concentrate)
                ));
            }
        }
        let mut parts = Vec::new();
        if !tasks.is_empty() {
            tasks.push(SheetTask::of(sentence!(
                "Let it circulate, read it, and write the reading below."
            )));
            let heading = match self.calendar {
                Some(_) => sentence!("Every day of work"),
                None => sentence!("Every day"),
            };
            parts.push(SheetPart::headed(heading, tasks));
        }
        JobSheet { parts, notes: Vec::new(), records: SheetRecords::EachTime }
    }
}
