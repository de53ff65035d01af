//! What each way has cost so far, year by year, and where two of them cross.

use super::answer::CostComparisonAnswer;
use crate::chart::{Chart, Label, Layer, Panel};
use crate::quantity::{Money, Quantity};

/// The sums spent on each way, in money as it is paid.
pub(super) fn chart(answer: &CostComparisonAnswer) -> Chart {
    let lines = answer.ways.iter().map(|way| {
        let points = way.years.iter().map(|year| (year.year.get(), year.spent.get()));
        Layer::Line { label: Label::Owned(way.name.clone()), points: points.collect() }
    });
    let crossings = answer.crossings.iter().map(|crossing| Layer::Event {
        label: Label::Owned(format!("{} costs less from here", crossing.cheaper_after)),
        at: crossing.years.get(),
    });
    let label = match &answer.currency {
        Some(currency) => Label::Owned(format!("spent so far, {currency}")),
        None => Label::Borrowed("spent so far"),
    };
    let panel = Panel {
        label,
        row: Money::ROW,
        from_zero: true,
        layers: lines.chain(crossings).collect(),
    };
    Chart {
        title: Label::Borrowed("What each way of working has cost so far"),
        across: Label::Borrowed("year"),
        panels: vec![panel],
    }
}
