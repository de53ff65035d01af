//! What a drawing names: a sample of the thing, and its name.

use crate::Place;
use crate::canvas::{Area, Canvas, pixels};
use crate::letters::{Letters, fitted, wrapped_to};
use crate::looks::{FLUID_LINE, HOLLOW, INK, LINE, OUTLINE, RULE, Shade};
use std::fmt::Write;

/// What a named thing looks like.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Sample {
    /// The line that matters, in the colour of fluid.
    MainLine,
    /// Another line, with these dashes.
    Line(&'static str),
    /// A height that something is held to, with these dashes.
    Limit(&'static str),
    /// An area.
    Area(Shade),
    /// Single points.
    Point,
    /// A place that is read off.
    ReadOff,
    /// From a low to a high end.
    Whisker,
    /// A moment, by the number of its kind.
    Moment(usize),
}

/// A name, and what has it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Named {
    pub(crate) sample: Sample,
    pub(crate) name: String,
    /// The height at which the named thing ends, where it has one.
    pub(crate) at: f64,
}

/// Width of a sample.
const SAMPLE: f64 = 24.0;
/// From a sample to its name.
const GAP: f64 = 6.0;
/// Height of a row of names.
pub(crate) const ROW: f64 = 20.0;
/// Most lines of a name that is longer than the drawing is wide.
const LINES_MOST: usize = 4;
/// From one line of such a name to the next.
const LINE_HEIGHT: f64 = 16.0;
/// Least distance between two names beside what they name.
const APART: f64 = 18.0;

/// Writes names in rows across the drawing.
pub(crate) fn in_rows(place: &mut Place<'_>, named: &[Named]) {
    const BETWEEN: f64 = 18.0;
    if named.is_empty() {
        return;
    }
    let room = place.width() - SAMPLE - GAP;
    let mut x = place.left;
    let mut y = place.top + ROW / 2.0;
    for own in named {
        let lines = wrapped_to(&own.name, room, LINES_MOST, Letters::PLAIN);
        let widths = lines.iter().map(|line| Letters::PLAIN.width_of(line));
        let width = SAMPLE + GAP + widths.fold(0.0, f64::max);
        if x > place.left && (x + width > place.right || lines.len() > 1) {
            (x, y) = (place.left, y + ROW);
        }
        sample(&mut place.canvas, own.sample, x, y);
        for (i, line) in lines.iter().enumerate() {
            if i > 0 {
                y += LINE_HEIGHT;
            }
            place.canvas.text(x + SAMPLE + GAP, y + 4.5, line, Letters::PLAIN);
        }
        // What comes after a name of several lines begins a row.
        x = if lines.len() > 1 { place.right } else { x + width + BETWEEN };
    }
    place.top = y + ROW / 2.0 + 4.0;
}

/// How much room the longest of some names takes beside what it names.
pub(crate) fn room_beside(named: &[Named]) -> f64 {
    let longest = named.iter().map(|own| Letters::PLAIN.width_of(&own.name)).fold(0.0, f64::max);
    if named.is_empty() { 0.0 } else { LEADER + SAMPLE + GAP + longest + 2.0 }
}

/// Length of the leader from the edge of a panel to a sample.
const LEADER: f64 = 14.0;

/// Whether names fit uncut beside a panel of this height.
pub(crate) fn fit_beside(named: &[Named], height: f64, most: f64) -> bool {
    let mut rows = 0.0;
    named.iter().for_each(|_| rows += APART);
    rows <= height && room_beside(named) <= most
}

/// Writes names beside what they name, from `x` on, so that none covers another.
pub(crate) fn beside(
    canvas: &mut Canvas,
    named: &mut [Named],
    (left, right): (f64, f64),
    (top, bottom): (f64, f64),
) {
    named.sort_by(|a, b| a.at.total_cmp(&b.at));
    let wanted: Vec<f64> = named.iter().map(|own| own.at).collect();
    let at = spread(&wanted, top + APART / 2.0, bottom - APART / 2.0, APART);
    for (own, y) in named.iter().zip(at) {
        canvas.line(RULE, (left, own.at), (left + LEADER - 2.0, y));
        sample(canvas, own.sample, left + LEADER, y);
        let x = left + LEADER + SAMPLE + GAP;
        let name = fitted(&own.name, right - x, Letters::PLAIN);
        canvas.text(x, y + 4.5, &name, Letters::PLAIN);
    }
}

/// Moves heights apart between `top` and `bottom`, keeping their order.
pub(crate) fn spread(wanted: &[f64], top: f64, bottom: f64, apart: f64) -> Vec<f64> {
    let mut at = wanted.to_vec();
    let mut free = top;
    for own in &mut at {
        *own = own.max(free);
        free = *own + apart;
    }
    let mut free = bottom;
    for own in at.iter_mut().rev() {
        *own = own.min(free);
        free = *own - apart;
    }
    at
}

/// Draws the sample of a thing from `x` on, around the height `y`.
pub(crate) fn sample(canvas: &mut Canvas, sample: Sample, x: f64, y: f64) {
    let (from, to) = ((x, y), (x + SAMPLE, y));
    let middle = (x + SAMPLE / 2.0, y);
    match sample {
        Sample::MainLine => canvas.line(FLUID_LINE, from, to),
        Sample::Line(dashes) => canvas.polyline(LINE, dashes, &[from, to]),
        Sample::Limit(dashes) => canvas.polyline(OUTLINE, dashes, &[from, to]),
        Sample::Area(shade) => {
            canvas.shaded(shade, Area { x: x + 2.0, y: y - 6.0, w: SAMPLE - 4.0, h: 12.0 });
        }
        Sample::Point => canvas.circle(HOLLOW, middle, 4.0),
        Sample::ReadOff => {
            canvas.polyline(OUTLINE, "1 3", &[from, to]);
            canvas.circle(INK, middle, 4.0);
        }
        Sample::Whisker => whisker(canvas, middle.0, y - 7.0, y + 7.0),
        Sample::Moment(kind) => moment(canvas, kind, middle),
    }
}

/// A stroke from a low to a high end.
pub(crate) fn whisker(canvas: &mut Canvas, x: f64, high: f64, low: f64) {
    let mut path = String::new();
    let [x_0, x_1] = [x - 4.0, x + 4.0].map(pixels);
    let [high, low, x] = [high, low, x].map(pixels);
    let _ = write!(path, "M{x_0} {high}L{x_1} {high}M{x} {high}L{x} {low}M{x_0} {low}L{x_1} {low}");
    canvas.path(OUTLINE, &path);
}

/// A mark of a moment; each kind has a shape of its own.
pub(crate) fn moment(canvas: &mut Canvas, kind: usize, (x, y): (f64, f64)) {
    const R: f64 = 4.5;
    let square = Area { x: x - R + 0.5, y: y - R + 0.5, w: 2.0 * R - 1.0, h: 2.0 * R - 1.0 };
    let up = [(x - R, y + R), (x + R, y + R), (x, y - R)];
    let down = [(x - R, y - R), (x + R, y - R), (x, y + R)];
    let diamond = [(x - R, y), (x, y - R), (x + R, y), (x, y + R)];
    match kind {
        0 => canvas.polygon(INK, &up),
        1 => canvas.rect(HOLLOW, square),
        2 => canvas.circle(INK, (x, y), R),
        3 => canvas.polygon(HOLLOW, &diamond),
        4 => canvas.polygon(HOLLOW, &down),
        _ => canvas.rect(INK, square),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_keep_apart_and_in_order() {
        let at = spread(&[50.0, 51.0, 52.0, 198.0, 199.0], 9.0, 191.0, APART);
        assert!(at.windows(2).all(|pair| pair[1] - pair[0] >= APART), "{at:?}");
        assert!(at.iter().all(|at| (9.0..=191.0).contains(at)), "{at:?}");
    }
}
