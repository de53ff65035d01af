//! The steps of a top-up on paper.

use super::TopUpAnswer;
use crate::job_sheet::{JobSheet, SheetPart, SheetRecords, SheetTask};

impl TopUpAnswer {
    pub(super) fn job_sheet(&self) -> JobSheet {
        let tasks: Vec<SheetTask> =
            self.steps.iter().map(|step| SheetTask::of(step.text.clone())).collect();
        let parts = if tasks.is_empty() { Vec::new() } else { vec![SheetPart::plain(tasks)] };
        JobSheet { parts, notes: Vec::new(), records: SheetRecords::BeforeAndAfter }
    }
}
