//! Draws tanks beside each other on one scale, and what is in them.

use crate::Place;
use crate::canvas::{Area, Canvas, pixels};
use crate::legend::{self, spread};
use crate::letters::{Letters, fitted, kept_together, wrapped};
use crate::looks::{Hatching, INK, OUTLINE, PARTING, RULE, Shade, fluid_shade};
use crate::ticks::Axis;
use std::fmt::Write;
use sumpwright_engine::picture::{ContentKind, VesselDrawn, Vessels};
use sumpwright_engine::quantity::{Quantity, Volume};

/// Height of the fullest tank.
const TALL: f64 = 210.0;
/// A part that is there at all is at least so high.
const THIN: f64 = 2.0;
/// From this width of a place on, what is in a tank is named beside it.
const BESIDE: f64 = 215.0;
/// A place that is narrower breaks words such as "concentrate": there are fewer in a row then.
const NARROWEST: f64 = 96.0;
/// Between what is said of a row of tanks and the next row.
const BETWEEN_ROWS: f64 = 30.0;
/// Width of a tank.
const TANK_MOST: f64 = 112.0;
/// Width of a tank that stands alone.
const LONE_MOST: f64 = 170.0;
/// Height of a name beside a tank, of two lines.
const NAME: f64 = 34.0;
/// Width of a sample before a name.
const SAMPLE: f64 = 30.0;

pub(crate) fn draw(vessels: &Vessels, place: &mut Place<'_>) {
    let tanks = &vessels.vessels;
    let Some((in_a_row, across)) = in_a_row(tanks.len(), place.width()) else { return };
    let whole = |vessel: &VesselDrawn| vessel.contents.iter().map(|own| own.volume).sum::<f64>();
    let tallest = tanks.iter().map(|own| own.holds.unwrap_or(0.0).max(whole(own)));
    let tallest = tallest.fold(0.0, f64::max);
    let slot = place.width() / across;
    let beside = slot >= BESIDE;
    let most = if tanks.len() == 1 { LONE_MOST } else { TANK_MOST };
    let tank = (slot * if beside { 0.44 } else { 0.62 }).min(most);
    for (row, shown) in tanks.chunks(in_a_row).enumerate() {
        if row > 0 {
            place.top += BETWEEN_ROWS;
        }
        let top = place.top + 24.0;
        let up = Axis::of(0.0, tallest, top + TALL, top);
        let (mut left, mut deepest) = (place.left, place.top);
        for (i, vessel) in shown.iter().enumerate() {
            let room = Area { x: left, y: top, w: slot, h: TALL };
            let mut y = one(vessel, place, &up, room, (tank, beside));
            if vessels.in_order && i > 0 {
                arrow(&mut place.canvas, left - if beside { 18.0 } else { 8.0 }, up.begin + 19.0);
            }
            if !beside {
                y = listed(vessel, place, room, y);
            }
            deepest = deepest.max(y);
            left += slot;
        }
        place.top = deepest;
    }
}

/// How many tanks stand beside each other in a width, also as a number to divide by; none of none.
fn in_a_row(count: usize, width: f64) -> Option<(usize, f64)> {
    let in_rows = |rows: usize| {
        let most = count.div_ceil(rows);
        u32::try_from(most).ok().map(|across| (most, f64::from(across)))
    };
    let mut choices = (1..=count).filter_map(in_rows);
    choices.find(|(most, across)| *most == 1 || width / across >= NARROWEST)
}

/// Draws a tank, its contents and what is said of it; returns where the text ends.
fn one(
    vessel: &VesselDrawn,
    place: &mut Place<'_>,
    up: &Axis,
    room: Area,
    (tank, beside): (f64, bool),
) -> f64 {
    let x = room.x + 1.0;
    let figures = place.figures;
    let parts = stacked(vessel, up);
    for (part, (_, shade)) in parts.iter().zip(shades(vessel)) {
        let area = Area { x, y: part.0, w: tank, h: part.1 - part.0 };
        place.canvas.shaded_open(shade, area);
    }
    for (upper, _) in parts.iter().take(parts.len().saturating_sub(1)) {
        place.canvas.line(PARTING, (x, *upper), (x + tank, *upper));
    }
    let rim = match vessel.holds {
        Some(holds) => up.place(holds),
        None => parts.last().map_or(up.begin, |(upper, _)| *upper) - 7.0,
    };
    walls(&mut place.canvas, (x, x + tank), rim, up.begin);
    if let Some(holds) = vessel.holds {
        graduate(place, vessel, up, x);
        let full = figures.amount(Volume::ROW, holds);
        let full = fitted(&format!("full: {full}"), room.w - 6.0, Letters::SOFT);
        place.canvas.text(room.x, rim - 8.0, &full, Letters::SOFT);
    }
    if beside {
        name_parts(vessel, place, &parts, (x + tank, room.x + room.w - 26.0), (room.y, up.begin));
    }
    let mut y = up.begin + 24.0;
    let text = room.w - 14.0;
    for line in wrapped(&vessel.name, text, Letters::BOLD) {
        place.canvas.text(room.x, y, &line, Letters::BOLD);
        y += 20.0;
    }
    for (i, note) in vessel.notes.iter().enumerate() {
        let letters = if i == 0 { Letters::LARGE } else { Letters::PLAIN };
        let note = note.show(figures.units);
        // Between narrow tanks a bare per cent sign saves a line.
        let note = if beside { note } else { note.replace("% by volume", "%") };
        let note = kept_together(&note);
        for line in wrapped(&note, text, letters) {
            place.canvas.text(room.x, y, &line, letters);
            y += if i == 0 { 20.0 } else { 18.0 };
        }
    }
    y - 12.0
}

/// The upper and lower edge of each part, from the bottom up; thin ones are made visible.
fn stacked(vessel: &VesselDrawn, up: &Axis) -> Vec<(f64, f64)> {
    let mut volume = 0.0;
    let mut lower = up.begin;
    let parts = vessel.contents.iter().map(|part| {
        volume += part.volume;
        let upper = up.place(volume).min(lower - THIN);
        let edges = (upper, lower);
        lower = upper;
        edges
    });
    parts.collect()
}

/// A shade for each part: by its kind, and hatched where the one below has the same kind.
fn shades(vessel: &VesselDrawn) -> Vec<(ContentKind, Shade)> {
    let mut below: Vec<(ContentKind, Shade)> = Vec::new();
    for part in &vessel.contents {
        let fill = fluid_shade(part.kind).fill;
        let same = below.last().filter(|(kind, _)| *kind == part.kind);
        let hatching = match same.map(|(_, shade)| shade.hatching) {
            Some(Hatching::None) => Hatching::Up,
            Some(Hatching::Up) => Hatching::Across,
            Some(Hatching::Across) => Hatching::Down,
            Some(Hatching::Down | Hatching::Faint) | None => Hatching::None,
        };
        below.push((part.kind, Shade { fill, hatching }));
    }
    below
}

/// The walls and the floor of a tank, open at its top.
fn walls(canvas: &mut Canvas, (left, right): (f64, f64), rim: f64, floor: f64) {
    let mut path = String::new();
    let [l, r, t, f] = [left, right, rim, floor].map(pixels);
    let lip = pixels(left - 4.0).max(0.0);
    let _ = write!(path, "M{lip} {t}L{l} {t}L{l} {f}L{r} {f}L{r} {t}L{} {t}", pixels(right + 4.0));
    canvas.path(crate::looks::LINE, &path);
}

/// Marks on the inside of a tank, and the surface of what is in it.
fn graduate(place: &mut Place<'_>, vessel: &VesselDrawn, up: &Axis, x: f64) {
    let figures = place.figures;
    let Some(holds) = vessel.holds else { return };
    let shown = Axis::of(0.0, figures.shown(Volume::ROW, holds), up.begin, up.place(holds));
    for tick in shown.ticks(8.0).into_iter().filter(|tick| *tick > 0.0 && *tick < shown.high) {
        let y = shown.place(tick);
        place.canvas.line(OUTLINE, (x, y), (x + 8.0, y));
    }
}

/// Names the parts of a tank at its right, each with its volume.
fn name_parts(
    vessel: &VesselDrawn,
    place: &mut Place<'_>,
    parts: &[(f64, f64)],
    (left, right): (f64, f64),
    (top, floor): (f64, f64),
) {
    // From the top down.
    let wanted: Vec<f64> =
        parts.iter().rev().map(|(upper, lower)| f64::midpoint(*upper, *lower)).collect();
    let names: f64 = parts.iter().map(|_| NAME).sum();
    // Many parts have a line each instead of two.
    let two_lines = names <= floor - top + NAME;
    let high = if two_lines { NAME } else { 17.0 };
    let at = spread(&wanted, (top + high / 2.0).min(floor - high / 2.0), floor - high / 2.0, high);
    let x = left + 18.0;
    for ((part, wanted), y) in vessel.contents.iter().rev().zip(wanted).zip(at) {
        if y < top - 10.0 {
            continue;
        }
        place.canvas.line(RULE, (left + 2.0, wanted), (x - 4.0, y));
        let volume = place.figures.amount(Volume::ROW, part.volume);
        if two_lines {
            let name = fitted(&part.name, right - x, Letters::PLAIN);
            place.canvas.text(x, y - 2.0, &name, Letters::PLAIN);
            place.canvas.text(
                x,
                y + 14.0,
                &fitted(&volume, right - x, Letters::BOLD),
                Letters::BOLD,
            );
        } else {
            let room = right - x - Letters::BOLD.width_of(&volume) - 6.0;
            let name = fitted(&part.name, room, Letters::PLAIN);
            place.canvas.text(x, y + 4.5, &volume, Letters::BOLD);
            let x = x + Letters::BOLD.width_of(&volume) + 6.0;
            place.canvas.text(x, y + 4.5, &name, Letters::PLAIN);
        }
    }
}

/// Names the parts of a tank under it, the uppermost first, each with its volume.
fn listed(vessel: &VesselDrawn, place: &mut Place<'_>, room: Area, from: f64) -> f64 {
    let mut y = from + 16.0;
    let text = room.w - 14.0;
    if vessel.contents.len() < 2 {
        return from;
    }
    for (part, (_, shade)) in vessel.contents.iter().zip(shades(vessel)).rev() {
        let sample = legend::Sample::Area(shade);
        legend::sample(&mut place.canvas, sample, room.x - 2.0, y);
        let volume = place.figures.amount(Volume::ROW, part.volume);
        let (mut x, mut lines) = (room.x + SAMPLE - 4.0, vec![volume.clone()]);
        if Letters::BOLD.width_of(&volume) > text - SAMPLE {
            (x, y) = (room.x, y + 17.0);
            lines = wrapped(&volume, text, Letters::BOLD);
        }
        for line in lines {
            place.canvas.text(x, y + 4.5, &line, Letters::BOLD);
            y += 17.0;
        }
        y += 2.0;
        for line in wrapped(&part.name, text, Letters::PLAIN) {
            place.canvas.text(room.x, y + 2.0, &line, Letters::PLAIN);
            y += 16.0;
        }
        y += 7.0;
    }
    y - 8.0
}

/// An arrow from one tank to the next, beside their names.
fn arrow(canvas: &mut Canvas, x: f64, y: f64) {
    canvas.polygon(INK, &[(x - 4.0, y - 5.0), (x + 4.0, y), (x - 4.0, y + 5.0)]);
}

#[cfg(test)]
mod tests {
    use super::in_a_row;

    #[test]
    fn as_many_tanks_stand_in_a_row_as_have_room_for_words() {
        for (count, width, expected) in [
            (1, 280.0, 1),
            (3, 328.0, 3),
            (4, 328.0, 2),
            (4, 720.0, 4),
            (5, 328.0, 3),
            (3, 150.0, 1),
        ] {
            assert_eq!(
                in_a_row(count, width).map(|(most, _)| most),
                Some(expected),
                "{count} in {width}"
            );
        }
        assert_eq!(in_a_row(0, 328.0), None);
    }
}
