//! Draws what a result depends on, the strongest first.

use crate::Place;
use crate::canvas::Area;
use crate::legend::{self, Named, Sample};
use crate::letters::{Letters, wrapped, wrapped_to};
use crate::looks::{FLUID_SHADE, FOUND_SHADE, GRID, LIMIT_DASHES, LINE, OUTLINE};
use crate::ticks::Axis;
use sumpwright_engine::picture::WhatMatters;

const BAR: f64 = 16.0;
/// Most of the width that names take at the left.
const NAMES: f64 = 0.38;

pub(crate) fn draw(matters: &WhatMatters, place: &mut Place<'_>) {
    let figures = place.figures;
    let varied = figures.number(matters.varied_by);
    let named = [(FOUND_SHADE, "smaller"), (FLUID_SHADE, "larger")].map(|(shade, word)| Named {
        sample: Sample::Area(shade),
        name: format!("with the input {varied}\u{a0}% {word}"),
        at: 0.0,
    });
    let value = figures.amount(matters.row, matters.value);
    for line in wrapped(&format!("{} {value}", matters.label), place.width(), Letters::PLAIN) {
        place.top += 17.0;
        place.canvas.text(place.left, place.top - 4.0, &line, Letters::PLAIN);
    }
    place.top += 4.0;
    legend::in_rows(place, &named);
    place.top += 6.0;

    let shown = |metric: f64| figures.shown(matters.row, metric);
    let ends = matters.inputs.iter().flat_map(|input| [input.smaller, input.larger]).flatten();
    let all: Vec<f64> = ends.chain([matters.value]).map(shown).collect();
    let low = all.iter().copied().fold(f64::INFINITY, f64::min);
    let high = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    // Where the choice changes is shown as soon as it is anywhere near.
    let low = if low > 0.0 && low < 0.5 * high { 0.0 } else { low };
    let wide = place.is_wide();
    let left = if wide { place.left + place.width() * NAMES } else { place.left };
    let axis = Axis::of(low, high, left + 2.0, place.right - 2.0);
    let begin = place.top;
    let mut bars = Vec::new();
    for input in &matters.inputs {
        let room = if wide { left - place.left - 12.0 } else { place.width() };
        let lines = wrapped_to(&input.name, room, 2, Letters::PLAIN);
        let mut y = place.top + 13.0;
        for line in &lines {
            place.canvas.text(place.left, y, line, Letters::PLAIN);
            y += 16.0;
        }
        let top = if wide { place.top + 3.0 } else { y - 10.0 };
        bars.push((input, top));
        place.top = (y - 6.0).max(top + BAR + 6.0);
    }
    let floor = place.top;
    for tick in axis.ticks(if wide { 6.0 } else { 4.0 }) {
        // Narrow drawings have the names where the grid would be.
        if wide {
            place.canvas.line(GRID, (axis.place(tick), begin), (axis.place(tick), floor));
        }
    }
    let base = axis.place(shown(matters.value));
    let crosses = axis.low <= 0.0 && axis.high >= 0.0;
    for (input, top) in bars {
        for (end, shade) in [(input.smaller, FOUND_SHADE), (input.larger, FLUID_SHADE)] {
            let Some(end) = end.map(|end| axis.place(shown(end))) else { continue };
            let area = Area::between((base, top), (end, top + BAR));
            if area.w >= 0.5 {
                place.canvas.shaded(shade, area);
            }
        }
        place.canvas.line(LINE, (base, top - 2.0), (base, top + BAR + 2.0));
        if crosses {
            let zero = axis.place(0.0);
            let ends = [(zero, top - 2.0), (zero, top + BAR + 2.0)];
            place.canvas.polyline(LINE, LIMIT_DASHES[1], &ends);
        }
    }
    write_axis(matters, place, &axis, floor);
}

/// The numbers under the bars, and where another becomes the better.
fn write_axis(matters: &WhatMatters, place: &mut Place<'_>, axis: &Axis, floor: f64) {
    let figures = place.figures;
    place.canvas.line(OUTLINE, (axis.begin, floor), (axis.end, floor));
    let most = if place.is_wide() { 6.0 } else { 4.0 };
    place.write_ticks(axis, most, floor, 20.0);
    place.top = floor + 24.0;
    let unit = figures.unit(matters.row);
    if !unit.is_empty() {
        place.top += 17.0;
        place.canvas.text(place.right, place.top - 3.0, unit, Letters::BOLD.end());
    }
    let mut said = Vec::new();
    if axis.low <= 0.0 && axis.high >= 0.0 {
        said.push(format!("Left of 0, {}.", matters.below_nothing));
    }
    if matters.more > 0 {
        said.push(format!("{} more inputs move it less.", matters.more));
    }
    for line in wrapped(&said.join(" "), place.width(), Letters::SOFT) {
        place.top += 17.0;
        place.canvas.text(place.left, place.top - 3.0, &line, Letters::SOFT);
    }
}
