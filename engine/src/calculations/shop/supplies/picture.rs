//! What is on the shelf day by day, and at which stock to order.

use super::answer::SuppliesAnswer;
use super::question::Supplies;
use crate::picture::{Across, Label, Layer, Panel, Panels, Picture, Shows};
use crate::quantity::{Quantity, Volume};

/// No more supplies than this are drawn.
const SHOWN: usize = 6;

pub(super) fn pictures(question: &Supplies, answer: &SuppliesAnswer) -> Vec<Picture> {
    let Some(today) = question.today.day() else { return Vec::new() };
    let kept = question.supplies.iter().zip(&answer.supplies).take(SHOWN);
    let panels = kept.map(|(item, own)| {
        let (_, walked) = question.walked(item, today);
        #[expect(clippy::cast_precision_loss, reason = "a few hundred days")]
        let points = walked.stock.iter().enumerate().map(|(day, litres)| (day as f64, *litres));
        Panel {
            label: Label::Owned(item.name.to_string()),
            row: Volume::ROW,
            from_zero: true,
            layers: vec![
                Layer::Limit { label: "order at".into(), at: own.order_at.get() },
                Layer::Line { label: "on the shelf".into(), points: points.collect() },
            ],
        }
    });
    let panels = Panels {
        across: Across {
            label: "day".into(),
            row: None,
            from: Some(0.0),
            to: None,
            by_ratio: false,
            counts: false,
            day_zero: None,
        },
        panels: panels.collect(),
    };
    vec![Picture::new("What is on the shelf, with the orders of this plan", Shows::Panels(panels))]
}
