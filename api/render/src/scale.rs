//! Draws a number line with a band, and what lies where on it.

use crate::Place;
use crate::canvas::Area;
use crate::letters::{Letters, fitted};
use crate::looks::{FLUID, FLUID_PALE, HOLLOW, INK, OUTLINE};
use crate::ticks::Axis;
use sumpwright_engine::picture::{Scale, ScaleMark};

/// Height of the bar of the scale.
const BAR: f64 = 26.0;
/// Height of a mark's name and what is read there.
const NAME: f64 = 36.0;

pub(crate) fn draw(scale: &Scale, place: &mut Place<'_>) {
    let ends = scale.band.into_iter().flat_map(|(low, high)| [low, high]);
    let all: Vec<f64> = scale.marks.iter().map(|mark| mark.at).chain(ends).collect();
    let figures = place.figures;
    let shown = |metric: f64| figures.shown(scale.row, metric);
    let low = all.iter().map(|at| shown(*at)).fold(f64::INFINITY, f64::min);
    let high = all.iter().map(|at| shown(*at)).fold(f64::NEG_INFINITY, f64::max);
    let margin = if high > low { 0.35 * (high - low) } else { 0.35 * high.abs().max(1.0) };
    let low = if low >= 0.0 { (low - margin).max(0.0) } else { low - margin };
    let (left, right) = (place.left + 4.0, place.right - 4.0);
    let axis = Axis::of(low, high + margin, left, right);

    let here: Vec<&ScaleMark> = scale.marks.iter().filter(|mark| mark.is_here).collect();
    let there: Vec<&ScaleMark> = scale.marks.iter().filter(|mark| !mark.is_here).collect();
    let above = rows(&here, scale, place, &axis);
    let rows_above = above.iter().map(|row| row.row).fold(0.0, f64::max) + 1.0;
    let top = place.top + if here.is_empty() { 0.0 } else { rows_above * NAME + 12.0 };
    let bar = Area { x: left, y: top, w: right - left, h: BAR };
    place.canvas.rect(crate::looks::TINT, bar);
    if let Some((from, to)) = scale.band {
        let (from, to) = (axis.place(shown(from)), axis.place(shown(to)));
        let area = Area { x: from, y: top, w: to - from, h: BAR };
        place.canvas.rect(FLUID_PALE, area);
        place.canvas.rect(OUTLINE, area);
        let band = "band";
        if area.w > Letters::PLAIN.width_of(band) + 12.0 && clear(&here, &axis, shown, area) {
            place.canvas.text(area.x + area.w / 2.0, top + 17.5, band, Letters::PLAIN.middle());
        }
    }
    place.canvas.line(OUTLINE, (left, top + BAR), (right, top + BAR));
    place.canvas.rect(OUTLINE, bar);
    for name in &above {
        let base = top - 12.0 - (rows_above - 1.0 - name.row) * NAME;
        let base = base - if name.reads.is_empty() { 2.0 } else { 18.0 };
        place.canvas.text(name.x, base, &name.name, Letters::LARGE);
        place.canvas.text(name.x, base + 17.0, &name.reads, Letters::PLAIN);
    }
    for name in &above {
        let tip = [(name.at - 7.0, top - 10.0), (name.at + 7.0, top - 10.0), (name.at, top + 2.0)];
        place.canvas.polygon(INK, &tip);
        place.canvas.line(crate::looks::LINE, (name.at, top), (name.at, top + BAR));
    }
    numbers(scale, place, &axis, top + BAR);
    let below = rows(&there, scale, place, &axis);
    let from = place.top;
    for name in &below {
        let base = from + 16.0 + name.row * NAME;
        place.canvas.text(name.x, base, &name.name, Letters::PLAIN);
        place.canvas.text(name.x, base + 16.0, &name.reads, Letters::SOFT);
        place.top = place.top.max(base + 20.0);
    }
    for name in &below {
        let (x, y) = (name.at, top + BAR);
        let is_aim = name.name.starts_with("aim");
        let tip = [(x - 6.0, y + 10.0), (x + 6.0, y + 10.0), (x, y - 1.0)];
        place.canvas.polygon(if is_aim { FLUID } else { HOLLOW }, &tip);
    }
}

/// Whether nothing that is marked here stands in the middle of an area.
fn clear(here: &[&ScaleMark], axis: &Axis, shown: impl Fn(f64) -> f64, area: Area) -> bool {
    const ROOM: f64 = 28.0;
    let middle = area.x + area.w / 2.0;
    here.iter().all(|mark| (axis.place(shown(mark.at)) - middle).abs() > ROOM)
}

/// A name that has its place: where it points to, where it is written, and in which row.
struct PlacedMark {
    at: f64,
    x: f64,
    row: f64,
    name: String,
    reads: String,
}

/// Places names in rows so that none covers another.
fn rows(marks: &[&ScaleMark], scale: &Scale, place: &Place<'_>, axis: &Axis) -> Vec<PlacedMark> {
    const APART: f64 = 14.0;
    let figures = place.figures;
    let mut placed: Vec<PlacedMark> = Vec::new();
    let mut ends: Vec<(f64, Vec<(f64, f64)>)> = Vec::new();
    for mark in marks {
        let letters = if mark.is_here { Letters::LARGE } else { Letters::PLAIN };
        let short = figures.short_amount(scale.row, mark.at);
        let room = place.width();
        let name = fitted(&format!("{} {short}", mark.name), room, letters);
        let reads = mark.reads.as_ref().map(|reads| format!("reads {}", reads.show(figures.units)));
        let reads = fitted(&reads.unwrap_or_default(), room, Letters::PLAIN);
        let width = letters.width_of(&name).max(Letters::PLAIN.width_of(&reads));
        let at = axis.place(figures.shown(scale.row, mark.at));
        let x = (at - width / 2.0).clamp(place.left, (place.right - width).max(place.left));
        let fits = |taken: &[(f64, f64)]| {
            taken.iter().all(|(from, to)| x + width + APART <= *from || x >= to + APART)
        };
        let free = ends.iter().position(|(_, taken)| fits(taken));
        let index = free.unwrap_or_else(|| {
            let row = ends.last().map_or(0.0, |(row, _)| row + 1.0);
            ends.push((row, Vec::new()));
            ends.len() - 1
        });
        ends[index].1.push((x, x + width));
        placed.push(PlacedMark { at, x, row: ends[index].0, name, reads });
    }
    placed
}

/// The numbers under the scale, with the unit at the end.
fn numbers(scale: &Scale, place: &mut Place<'_>, axis: &Axis, y: f64) {
    let unit = place.figures.unit(scale.row);
    let base = y + 26.0;
    place.write_ticks(axis, 8.0, y, 26.0);
    place.canvas.text(place.right, base + 17.0, unit, Letters::SOFT.end());
    place.top = base + 20.0;
}
