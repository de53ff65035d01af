//! The properties that have a limit on their way to steady state, as a chart.

use super::{FluidLoop, FluidLoopAnswer, LoopDay};
use crate::chart::{Chart, Layer, Panel};
use crate::quantity::{Concentration, Content, Quantity};

/// One panel for each limit; none where there is no limit or no second day.
pub(super) fn chart(question: &FluidLoop, answer: &FluidLoopAnswer) -> Option<Chart> {
    let limits = &question.limits;
    let oil = limits.tramp_oil.map(|limit| {
        let of = |day: &LoopDay, recycled: bool| {
            let properties = if recycled { &day.recycled } else { &day.highest };
            properties.tramp_oil.map(Quantity::get)
        };
        let ends = (limit.min.map(Quantity::get), limit.max.map(Quantity::get));
        let label = "tramp oil".into();
        let row = Concentration::ROW;
        Panel { label, row, from_zero: true, layers: layers(answer, ends, of) }
    });
    let matter = limits.matter.iter().map(|(name, limit)| {
        let of = |day: &LoopDay, recycled: bool| {
            let properties = if recycled { &day.recycled } else { &day.highest };
            properties.matter.get(name).map(|content| content.get())
        };
        let ends = (limit.min.map(Quantity::get), limit.max.map(Quantity::get));
        let label = name.to_string().into();
        Panel { label, row: Content::ROW, from_zero: true, layers: layers(answer, ends, of) }
    });
    let panels: Vec<Panel> = oil.into_iter().chain(matter).collect();
    let drawn = !panels.is_empty() && answer.series.len() > 1;
    let title = "Contents of the sumps on the way to steady state".into();
    drawn.then(|| Chart { title, across: "day".into(), panels })
}

/// A property's limits and its way, in the sumps and in the clean tank.
fn layers(
    answer: &FluidLoopAnswer,
    (min, max): (Option<f64>, Option<f64>),
    of: impl Fn(&LoopDay, bool) -> Option<f64>,
) -> Vec<Layer> {
    let line = |recycled: bool| {
        let points = answer.series.iter();
        let points = points.filter_map(|day| Some((day.day.get(), of(day, recycled)?)));
        points.collect::<Vec<_>>()
    };
    let limit = |label: &'static str, at: f64| Layer::Limit { label: label.into(), at };
    let mut layers = Vec::with_capacity(4);
    layers.extend(min.map(|at| limit("least", at)));
    layers.extend(max.map(|at| limit("most", at)));
    for (label, recycled) in [("recycled fluid", true), ("worst sump", false)] {
        let points = line(recycled);
        if !points.is_empty() {
            layers.push(Layer::Line { label: label.into(), points });
        }
    }
    layers
}
