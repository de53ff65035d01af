//! Today's work at a sump on paper: read it, compare, and fill it up.

use super::answer::{SumpStateAnswer, ToDoToday};
use super::question::SumpState;
use crate::job_sheet::{JobSheet, SheetPart, SheetRecords, SheetTask};
use crate::quantity::Quantity;
use crate::sentence;

impl SumpState {
    pub(super) fn job_sheet(answer: &SumpStateAnswer) -> JobSheet {
        let now = &answer.now;
        let mut tasks = vec![
            SheetTask::of(sentence!(
                "Read the level: by the log it is between {} and {}.",
                now.volume.low.measure().rounded(3),
                now.volume.high.measure().rounded(3)
            ))
            .read(),
        ];
        let reading = answer.state.reading.as_ref();
        let shown = now.mark.zip(reading).map(|(mark, reading)| reading.shown(mark));
        tasks.push(match shown {
            Some(shown) => {
                SheetTask::of(sentence!("Read the strength: it should read {}.", shown)).read()
            }
            None => SheetTask::of(sentence!(
                "Read the strength: by the log it is between {} and {}.",
                now.concentration.low.roughly(),
                now.concentration.high.roughly()
            ))
            .read(),
        });
        if matches!(answer.to_do, Some(ToDoToday::LookFirst)) {
            tasks.push(SheetTask::of(sentence!(
                "Look for what runs in or out, and for what was poured in and not written down, \
                 before anything is added."
            )));
        }
        let parts = vec![SheetPart::plain(tasks)];
        JobSheet { parts, notes: Vec::new(), records: SheetRecords::Once }
    }
}
