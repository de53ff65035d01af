//! The list of the day on paper: a machine after the other, with room for each result.

use super::TestPlan;
use super::answer::{FluidTest, TestPlanAnswer};
use crate::job_sheet::{JobSheet, SheetPart, SheetRecords, SheetTask};
use crate::sentence;

impl TestPlan {
    pub(super) fn job_sheet(&self, answer: &TestPlanAnswer) -> JobSheet {
        let parts = self.machines.iter().filter_map(|machine| {
            let due = answer.due.iter().filter(|due| due.machine == machine.name.as_str());
            let tasks: Vec<SheetTask> = due
                .map(|due| {
                    let task = SheetTask::of(due.task());
                    if due.test == FluidTest::CleanOut { task } else { task.read() }
                })
                .collect();
            (!tasks.is_empty()).then(|| SheetPart::headed(sentence!("{}", &machine.name), tasks))
        });
        let notes = vec![sentence!(
            "Write each result on its line. Whoever has complaints of the skin or in breathing, or \
             smells rotten eggs, stops and says so."
        )];
        JobSheet { parts: parts.collect(), notes, records: SheetRecords::Once }
    }
}
