//! The orders on paper, by their days.

use super::answer::SuppliesAnswer;
use super::statement::what;
use crate::job_sheet::{JobSheet, SheetPart, SheetRecords, SheetTask};
use crate::quantity::Quantity;
use crate::sentence;

impl SuppliesAnswer {
    pub(super) fn job_sheet(&self) -> JobSheet {
        let tasks: Vec<SheetTask> = self
            .orders
            .iter()
            .map(|own| {
                let text = sentence!("Order {}; it comes on {}", what(own), own.arrives_on.said());
                SheetTask::of(text).at(own.order_on.said())
            })
            .collect();
        let marks: Vec<SheetTask> = self
            .supplies
            .iter()
            .map(|own| {
                let text = sentence!(
                    "Mark the shelf: order when {} are left, what is on order counted in",
                    own.order_at.roughly()
                );
                SheetTask::of(text).at(own.name.as_str())
            })
            .collect();
        let mut parts = Vec::new();
        if !tasks.is_empty() {
            parts.push(SheetPart::headed(sentence!("Orders, each by its last day"), tasks));
        }
        if !marks.is_empty() {
            parts.push(SheetPart::headed(sentence!("On the shelf"), marks));
        }
        let notes = vec![sentence!(
            "Later orders are planned at the mean use: look at the shelf again before each, and plan \
             anew after what nobody foresaw."
        )];
        JobSheet { parts, notes, records: SheetRecords::Once }
    }
}
