//! Draws panels above each other that share what runs across.

mod across;
mod extent;
mod layers;

use crate::Place;
use crate::figures::Figures;
use crate::legend::{self, Named};
use crate::letters::{Letters, wrapped};
use crate::looks::{GRID, OUTLINE};
use crate::ticks::Axis;
use across::AcrossAxis;
use layers::Pen;
use sumpwright_engine::picture::{Layer, Panel, Panels};

/// Height of the only panel of a picture, and of one of several.
const LONE: f64 = 260.0;
/// See [`LONE`].
const OF_SEVERAL: f64 = 168.0;
/// Height of a row of moments under a panel.
const LANE: f64 = 15.0;
/// So many kinds of moments have a row; the rest is in the answer alone.
const LANES_MOST: usize = 6;
/// Most of the width that names beside a panel take.
const BESIDE_MOST: f64 = 0.34;

/// A panel whose numbers are known, before it is drawn.
struct Prepared<'a> {
    panel: &'a Panel,
    low: f64,
    high: f64,
    kinds: Vec<&'a str>,
    named: Vec<Named>,
}

pub(crate) fn draw(panels: &Panels, place: &mut Place<'_>) {
    let figures = place.figures;
    let plot = if panels.panels.len() == 1 { LONE } else { OF_SEVERAL };
    let prepared: Vec<Prepared<'_>> =
        panels.panels.iter().map(|panel| prepare(panel, figures)).collect();
    let tall = |own: &Prepared<'_>| plot + lanes(&own.kinds);
    let most = place.width() * BESIDE_MOST;
    let beside = place.is_wide()
        && prepared.iter().all(|own| legend::fit_beside(&own.named, tall(own), most));
    let for_names = if beside {
        let rooms = prepared.iter().map(|own| legend::room_beside(&own.named));
        rooms.fold(0.0, f64::max)
    } else {
        0.0
    };
    let numbers = prepared.iter().flat_map(|own| {
        let axis = Axis::of(own.low, own.high, plot, 0.0);
        axis.ticks(TICKS_UP).into_iter().map(|tick| figures.number(tick)).collect::<Vec<_>>()
    });
    let for_numbers =
        numbers.map(|number| Letters::SOFT.width_of(&number)).fold(0.0, f64::max) + 8.0;
    let sides = (place.left + for_numbers, place.right - for_names - 4.0);
    let across = AcrossAxis::of(panels, sides, figures);
    for (i, own) in prepared.into_iter().enumerate() {
        if i > 0 {
            place.top += 12.0;
        }
        one(own, place, &across, plot, beside);
    }
    across.write(place);
}

/// So many round numbers are written up a panel at most.
const TICKS_UP: f64 = 5.0;

fn lanes(kinds: &[&str]) -> f64 {
    kinds.iter().map(|_| LANE).sum()
}

fn prepare<'a>(panel: &'a Panel, figures: &Figures<'_>) -> Prepared<'a> {
    let (low, high) = extent::heights(panel, |metric| figures.shown(panel.row, metric));
    let mut kinds: Vec<&str> = Vec::new();
    for layer in &panel.layers {
        if let Layer::Event { label, .. } = layer
            && !kinds.contains(&label.as_ref())
            && kinds.len() < LANES_MOST
        {
            kinds.push(label);
        }
    }
    let named = layers::named(panel, &kinds);
    Prepared { panel, low, high, kinds, named }
}

fn one(mut own: Prepared<'_>, place: &mut Place<'_>, across: &AcrossAxis, plot: f64, beside: bool) {
    let figures = place.figures;
    let label = figures.with_unit(&own.panel.label, own.panel.row);
    for line in wrapped(&label, place.width(), Letters::BOLD) {
        place.top += 17.0;
        place.canvas.text(place.left, place.top - 3.0, &line, Letters::BOLD);
    }
    place.top += 6.0;
    if !beside {
        legend::in_rows(place, &own.named);
    }
    place.top += 8.0;
    let (top, floor) = (place.top, place.top + plot);
    let (left, right) = across.sides();
    let up = Axis::of(own.low, own.high, floor, top);
    let mut pen = Pen { place, panel: own.panel, across, up, kinds: &own.kinds, taken: Vec::new() };
    pen.behind();
    for at in across.grid() {
        pen.place.canvas.line(GRID, (at, top), (at, floor));
    }
    for tick in up.ticks(TICKS_UP) {
        let y = up.place(tick);
        pen.place.canvas.line(GRID, (left, y), (right, y));
        let number = figures.number(tick);
        pen.place.canvas.text(left - 7.0, y + 4.5, &number, Letters::SOFT.end());
    }
    pen.place.canvas.line(OUTLINE, (left, floor), (right, floor));
    pen.in_front(&mut own.named);
    place.top = floor + lanes(&own.kinds);
    if beside {
        let bottom = place.top + if own.kinds.is_empty() { 0.0 } else { 4.0 };
        let room = (right + 2.0, place.right);
        legend::beside(&mut place.canvas, &mut own.named, room, (top - 4.0, bottom));
    }
}
