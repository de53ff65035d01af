//! The levels of both tanks as a chart.

use super::{Recycler, RecyclerAnswer, RecyclerTank, TankLevels};
use crate::chart::{Chart, Label, Layer, Panel};
use crate::quantity::{Quantity, Volume};

/// The two tanks above each other; none without tanks.
pub(super) fn chart(question: &Recycler, answer: &RecyclerAnswer) -> Option<Chart> {
    let tanks = question.tanks.as_ref()?;
    let line = |level: fn(&TankLevels) -> Volume| {
        answer.levels.iter().map(|levels| (levels.day.get(), level(levels).get())).collect()
    };
    let deliveries = question.arrivals().iter().map(|arrival| arrival.day.get());
    let batch = question.feed.volume.map(|_| 0.0);
    let fetched = question.demand.iter().flatten().map(|demand| demand.day.get());
    let dirty = panel("dirty tank", &tanks.dirty, line(|levels| levels.dirty));
    let clean = panel("clean tank", &tanks.clean, line(|levels| levels.clean));
    let over = answer.first_overflow.map(|event| event.day.get());
    let short = answer.first_shortage.map(|event| event.day.get());
    Some(Chart {
        title: Label::Borrowed("Levels of the recycler's tanks"),
        across: Label::Borrowed("day"),
        panels: vec![
            with_events(
                dirty,
                &[
                    ("delivery", batch.into_iter().chain(deliveries).collect()),
                    ("runs over", over.into_iter().collect()),
                ],
            ),
            with_events(
                clean,
                &[("fetched", fetched.collect()), ("too little", short.into_iter().collect())],
            ),
        ],
    })
}

fn panel(label: &'static str, tank: &RecyclerTank, points: Vec<(f64, f64)>) -> Panel {
    Panel {
        label: Label::Borrowed(label),
        row: Volume::ROW,
        from_zero: true,
        layers: vec![
            Layer::Limit { label: Label::Borrowed("capacity"), at: tank.capacity.get() },
            Layer::Line { label: Label::Borrowed(label), points },
        ],
    }
}

fn with_events(mut panel: Panel, events: &[(&'static str, Vec<f64>)]) -> Panel {
    for (label, days) in events {
        let marks = days.iter().map(|at| Layer::Event { label: Label::Borrowed(label), at: *at });
        panel.layers.extend(marks);
    }
    panel
}
