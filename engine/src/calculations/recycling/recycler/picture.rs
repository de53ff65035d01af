//! The levels of both tanks as a picture.

use super::{Recycler, RecyclerAnswer, RecyclerTank, TankLevels};
use crate::picture::{Across, Layer, Panel, Panels, Picture, Shows};
use crate::quantity::{Quantity, Volume};

/// The two tanks above each other; none without tanks.
pub(super) fn pictures(question: &Recycler, answer: &RecyclerAnswer) -> Vec<Picture> {
    let Some(tanks) = &question.tanks else { return Vec::new() };
    let deliveries = question.arrivals().iter().map(|arrival| arrival.day.get());
    let batch = question.feed.volume.map(|_| 0.0);
    let fetched = question.demand.iter().flatten().map(|demand| demand.day.get());
    let over = answer.first_overflow.map(|event| event.day.get());
    let short = answer.first_shortage.map(|event| event.day.get());
    let dirty = tank(
        "dirty tank",
        &tanks.dirty,
        answer,
        |levels| levels.dirty,
        |layers| {
            layers
                .extend(batch.into_iter().chain(deliveries).map(|at| Layer::event("delivery", at)));
            layers.extend(over.map(|at| Layer::event("runs over", at)));
        },
    );
    let clean = tank(
        "clean tank",
        &tanks.clean,
        answer,
        |levels| levels.clean,
        |layers| {
            layers.extend(fetched.map(|at| Layer::event("fetched", at)));
            layers.extend(short.map(|at| Layer::event("too little", at)));
        },
    );
    let panels = Panels { across: Across::days(), panels: vec![dirty, clean] };
    vec![Picture::new("Levels of the recycler's tanks", Shows::Panels(panels))]
}

fn tank(
    label: &'static str,
    tank: &RecyclerTank,
    answer: &RecyclerAnswer,
    level: fn(&TankLevels) -> Volume,
    events: impl FnOnce(&mut Vec<Layer>),
) -> Panel {
    let capacity = tank.capacity.get();
    let line: Vec<(f64, f64)> =
        answer.levels.iter().map(|levels| (levels.day.get(), level(levels).get())).collect();
    let mut layers: Vec<Layer> = full(&line, capacity)
        .into_iter()
        .map(|(from, to)| Layer::Stretch { label: "full".into(), from, to })
        .collect();
    layers.push(Layer::limit("capacity", capacity));
    layers.push(Layer::line("level", line));
    events(&mut layers);
    Panel::new(label, Volume::ROW, layers).from_zero()
}

/// The days on which a tank is full: between two corners of its level that both lie at the top.
fn full(line: &[(f64, f64)], capacity: f64) -> Vec<(f64, f64)> {
    let is_full = |level: f64| level >= capacity * (1.0 - 1e-9);
    let mut stretches: Vec<(f64, f64)> = Vec::new();
    for pair in line.windows(2) {
        let [(from, a), (to, b)] = [pair[0], pair[1]];
        if !(is_full(a) && is_full(b) && to > from) {
            continue;
        }
        match stretches.last_mut() {
            Some(last) if last.1 == from => last.1 = to,
            _ => stretches.push((from, to)),
        }
    }
    stretches
}
