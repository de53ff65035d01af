//! What is bought in each month, and the drums that it comes in.

use super::Disposal;
use super::ledger::{WasteLedger, volume};
use super::stream::MonthlyFlow;
use crate::quantity::Quantity;

/// What is bought in a month.
#[derive(Debug, Clone, Copy)]
pub(super) struct Fresh {
    pub concentrate: f64,
    pub water: f64,
    pub concentrate_cost: f64,
    pub water_cost: f64,
}

/// What is bought in each month.
pub(super) fn bought(question: &Disposal, ledger: &WasteLedger) -> Vec<Fresh> {
    let price = question.concentrate.and_then(|concentrate| concentrate.price);
    let water_price = question.water.as_ref().and_then(|water| water.price);
    let drums = drums_by_month(question, ledger);
    let months = (0..ledger.months).map(|month| {
        let concentrate = match (question.drum(), &drums) {
            (Some(drum), Some(drums)) => drums[month].bought * drum.volume.get(),
            _ => volume(&ledger.in_month(month, MonthlyFlow::Concentrate)),
        };
        let water = volume(&ledger.in_month(month, MonthlyFlow::Water));
        Fresh {
            concentrate,
            water,
            concentrate_cost: concentrate * price.map_or(0.0, Quantity::get),
            water_cost: water * water_price.map_or(0.0, Quantity::get),
        }
    });
    months.collect()
}

/// Drums that are opened and emptied in a month.
#[derive(Debug, Clone, Copy)]
pub(super) struct Drums {
    pub bought: f64,
    pub emptied: f64,
}

/// The drums of each month, where concentrate comes in drums: one is bought when
/// the last is used up.
pub(super) fn drums_by_month(question: &Disposal, ledger: &WasteLedger) -> Option<Vec<Drums>> {
    let holds = question.drum()?.volume.get();
    let (mut used, mut opened, mut emptied) = (0.0, 0.0, 0.0);
    let months = (0..ledger.months).map(|month| {
        used += volume(&ledger.in_month(month, MonthlyFlow::Concentrate));
        let drums = used / holds;
        // A drum that is used up to the last bit is empty, and no other is open.
        let rounding = 1e-10 * drums;
        let (open, empty) = ((drums - rounding).ceil(), (drums + rounding).floor());
        let month = Drums { bought: open - opened, emptied: empty - emptied };
        (opened, emptied) = (open, empty);
        month
    });
    Some(months.collect())
}
