//! The decision on paper: what to do, and the tests that are missing, with room for their results.

use super::answer::{CareAction, ConditionAnswer};
use super::rules::Care;
use super::statement::{TopUpFor, decision};
use crate::job_sheet::{JobSheet, SheetPart, SheetRecords, SheetTask};
use crate::quantity::Quantity;
use crate::sentence;

impl ConditionAnswer {
    pub(super) fn job_sheet(&self) -> JobSheet {
        let care = |action, product, within| Care { action, product, within };
        let decided = care(self.decision, self.product, self.within_days.get());
        let besides = self.besides.iter().map(|one| {
            let for_what = TopUpFor::besides(self, one);
            let what = decision(care(one.action, one.product, one.within_days.get()), for_what);
            sentence!("{}: {}.", what, one.text.clone())
        });
        let first = sentence!("{}.", decision(decided, TopUpFor::of(self)));
        let tasks = std::iter::once(first).chain(besides).map(SheetTask::of).collect();
        let mut parts = vec![SheetPart::headed(sentence!("To do"), tasks)];
        if !self.missing.is_empty() && self.decision != CareAction::StopAndAsk {
            let tests = self.missing.iter().map(|one| SheetTask::of(one.text.clone()).read());
            parts.push(SheetPart::headed(sentence!("To measure"), tests.collect()));
        }
        let notes = vec![sentence!(
            "Persons come first: with complaints of the skin or in breathing, or a smell of rotten \
             eggs, nobody goes on working at it."
        )];
        JobSheet { parts, notes, records: SheetRecords::Once }
    }
}
