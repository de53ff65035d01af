//! The sum spent on each way, year by year, and where two of them cross.

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
        label: Label::Borrowed("two ways are even"),
        at: crossing.years.get(),
    });
    let title = "What each way of working has cost so far";
    let title = match &answer.currency {
        Some(currency) => Label::Owned(format!("{title}, {currency}")),
        None => Label::Borrowed(title),
    };
    let panel = Panel {
        label: Label::Borrowed("spent so far"),
        row: Money::ROW,
        from_zero: true,
        layers: lines.chain(crossings).collect(),
    };
    Chart { title, across: Label::Borrowed("year"), panels: vec![panel] }
}
