//! Draws the trips of a round one after the other, and how full the vessels are on each.

use crate::Place;
use crate::canvas::Area;
use crate::legend::{self, Named, Sample};
use crate::letters::{Letters, fitted, wrapped_to};
use crate::looks::{FLUID_SHADE, GRID, Hatching, OUTLINE, Shade, TINT};
use crate::ticks::Axis;
use sumpwright_engine::picture::{TripDrawn, Trips};
use sumpwright_engine::quantity::{Mass, Quantity, Volume};

const BAR: f64 = 34.0;
/// Most of the width that names take at the left.
const NAMES: f64 = 0.46;

/// Dirty fluid that comes back.
const DIRTY: Shade = Shade { fill: crate::looks::OUT, hatching: Hatching::Up };

pub(crate) fn draw(trips: &Trips, place: &mut Place<'_>) {
    let bounds = [(trips.clean_holds, "clean"), (trips.dirty_holds, "dirty")];
    let said = bounds.into_iter().filter_map(|(holds, word)| {
        Some(format!("{word} {}", place.figures.amount(Volume::ROW, holds?)))
    });
    let said: Vec<String> = said.collect();
    if !said.is_empty() {
        place.top += 14.0;
        let text = format!("The vessels take: {}.", said.join(", "));
        for line in wrapped_to(&text, place.width(), 2, Letters::SOFT) {
            place.canvas.text(place.left, place.top, &line, Letters::SOFT);
            place.top += 17.0;
        }
        place.top -= 8.0;
    }
    let named = [(FLUID_SHADE, "clean fluid out"), (DIRTY, "dirty fluid back")];
    let named = named.map(|(shade, name)| Named {
        sample: Sample::Area(shade),
        name: name.to_owned(),
        at: 0.0,
    });
    legend::in_rows(place, &named);
    place.top += 6.0;
    let wide = place.is_wide();
    let left = if wide { place.left + place.width() * NAMES } else { place.left };
    let end = trips.trips.last().map_or(1.0, |trip| trip.to);
    let axis = Axis::of(0.0, end, left, place.right - 2.0);
    let begin = place.top;
    let bars: Vec<(usize, f64)> = trips
        .trips
        .iter()
        .enumerate()
        .map(|(i, trip)| (i, header(trip, i + 1, place, left, wide)))
        .collect();
    let floor = place.top;
    if wide {
        for tick in axis.ticks(8.0) {
            let x = axis.place(tick);
            place.canvas.line(GRID, (x, begin), (x, floor));
        }
    }
    for (i, top) in bars {
        one(trips, &trips.trips[i], place, &axis, top);
    }
    foot(trips, place, &axis, floor);
}

/// Writes what a trip carries and where it goes; returns where its bar begins.
fn header(trip: &TripDrawn, number: usize, place: &mut Place<'_>, left: f64, wide: bool) -> f64 {
    let figures = place.figures;
    let machines: Vec<&str> = trip.machines.iter().map(AsRef::as_ref).collect();
    let name = format!("{number}  {}: {}", trip.name, machines.join(", "));
    let mut amounts = vec![
        format!("{} out", figures.amount(Volume::ROW, trip.clean)),
        format!("{} back", figures.amount(Volume::ROW, trip.dirty)),
    ];
    if trip.chips > 0.0 {
        amounts.push(format!("{} of chips", figures.amount(Mass::ROW, trip.chips)));
    }
    let room = if wide { left - place.left - 14.0 } else { place.width() };
    let mut y = place.top + 13.0;
    for line in wrapped_to(&name, room, 2, Letters::PLAIN) {
        place.canvas.text(place.left, y, &line, Letters::PLAIN);
        y += 16.0;
    }
    for line in wrapped_to(&amounts.join(", "), room, 2, Letters::SOFT) {
        place.canvas.text(place.left, y, &line, Letters::SOFT);
        y += 16.0;
    }
    let top = if wide { place.top + 2.0 } else { y - 9.0 };
    place.top = (y - 4.0).max(top + BAR + 8.0);
    top
}

/// The bar of a trip: how long it takes, and how full the vessels are on the way out and back.
fn one(trips: &Trips, trip: &TripDrawn, place: &mut Place<'_>, axis: &Axis, top: f64) {
    let (from, to) = (axis.place(trip.from), axis.place(trip.to));
    let whole = Area { x: from, y: top, w: (to - from).max(2.0), h: BAR };
    place.canvas.rect(TINT, whole);
    let fullest = |of: fn(&TripDrawn) -> f64| trips.trips.iter().map(of).fold(0.0, f64::max);
    let clean = trips.clean_holds.unwrap_or_else(|| fullest(|trip| trip.clean));
    let dirty = trips.dirty_holds.unwrap_or_else(|| fullest(|trip| trip.dirty));
    let half = whole.w / 2.0;
    let halves = [(trip.clean, clean, from, FLUID_SHADE), (trip.dirty, dirty, from + half, DIRTY)];
    for (volume, holds, x, shade) in halves {
        if holds > 0.0 && volume > 0.0 {
            let h = (volume / holds).min(1.0) * BAR;
            place.canvas.shaded_open(shade, Area { x, y: top + BAR - h, w: half, h });
        }
    }
    place.canvas.line(OUTLINE, (from + half, top), (from + half, top + BAR));
    place.canvas.rect(OUTLINE, whole);
}

/// The hours under the bars.
fn foot(trips: &Trips, place: &mut Place<'_>, axis: &Axis, floor: f64) {
    place.canvas.line(OUTLINE, (axis.begin, floor), (axis.end, floor));
    if !trips.timed {
        let text = fitted("one step a trip: the work is not timed", place.width(), Letters::SOFT);
        place.canvas.text(place.right, floor + 18.0, &text, Letters::SOFT.end());
        place.top = floor + 22.0;
        return;
    }
    place.write_ticks(axis, 8.0, floor, 20.0);
    let hours = "hours of work from the start of the round";
    let text = fitted(hours, place.width(), Letters::SOFT);
    place.canvas.text(place.right, floor + 38.0, &text, Letters::SOFT.end());
    place.top = floor + 42.0;
}
