//! A batch on paper: what to pour in, in order, and what it must then be.

use super::{Blend, BlendAnswer};
use crate::fluid::practice::PREMIX_AT_MOST;
use crate::job_sheet::{JobSheet, SheetPart, SheetRecords, SheetTask};
use crate::quantity::Quantity;
use crate::sentence;

impl Blend {
    pub(super) fn job_sheet(&self, answer: &BlendAnswer) -> JobSheet {
        let poured = self.poured(answer);
        let mut tasks = Vec::new();
        for (place, (stock, litres)) in poured.used.iter().enumerate() {
            let (amount, name) = (poured.step.measure(*litres), &stock.name);
            let text = match place {
                0 => sentence!("Pour {} of {} into a clean vessel.", amount, name),
                _ if stock.concentration.get() > PREMIX_AT_MOST => sentence!(
                    "Stir {} of {} in slowly: concentrate into water, never water into \
                     concentrate.",
                    amount,
                    name
                ),
                _ => sentence!("Add {} of {}.", amount, name),
            };
            tasks.push(SheetTask::of(text));
        }
        if !tasks.is_empty() {
            let text = sentence!("Mix it well and check it: it must be at {}.", poured.strength());
            tasks.push(SheetTask::of(text).read());
        }
        let parts = vec![SheetPart::plain(tasks)];
        JobSheet { parts, notes: Vec::new(), records: SheetRecords::Once }
    }
}
