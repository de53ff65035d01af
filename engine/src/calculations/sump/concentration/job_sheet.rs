//! A batch check on paper: read, keep within the marks, write it down.

use super::{ConcentrationAnswer, ConcentrationOfReading};
use crate::job_sheet::{JobSheet, SheetPart, SheetRecords, SheetTask};
use crate::sentence;

impl ConcentrationOfReading {
    pub(super) fn job_sheet(&self, answer: &ConcentrationAnswer) -> JobSheet {
        let mut tasks = vec![SheetTask::of(sentence!(
            "Read the fluid where it is well mixed, and write the reading below."
        ))];
        if let Some(marks) = &answer.marks {
            let [low, target, high] =
                [marks.low, marks.target, marks.high].map(|mark| self.reading.shown(mark));
            tasks.push(SheetTask::of(sentence!(
                "Between {} and {} it is in its band; {} is the aim.",
                low,
                high,
                target
            )));
            tasks.push(SheetTask::of(sentence!(
                "Below {} it is too weak, above {} too strong: work out what to add, and read it \
                 again.",
                low,
                high
            )));
        }
        let parts = vec![SheetPart::plain(tasks)];
        JobSheet { parts, notes: Vec::new(), records: SheetRecords::EachTime }
    }
}
