//! What runs across panels: its numbers, its dates and its name.

use super::extent;
use crate::Place;
use crate::dates;
use crate::figures::Figures;
use crate::letters::Letters;
use crate::looks::OUTLINE;
use crate::ticks::{Axis, round_step};
use sumpwright_engine::picture::Panels;
use sumpwright_engine::quantity::Row;

/// What runs across, laid out.
pub(super) struct AcrossAxis {
    axis: Axis,
    row: Option<&'static Row>,
    us_scale: f64,
    /// Where it is marked, in pixels, and what is written there.
    marks: Vec<(f64, String)>,
    /// Whether the marks have a line behind the panels.
    has_grid: bool,
    name: String,
}

impl AcrossAxis {
    pub(super) fn of(panels: &Panels, (left, right): (f64, f64), figures: &Figures<'_>) -> Self {
        let across = &panels.across;
        // What runs across is scaled as a whole: none of its kinds has another zero.
        let us_scale = across.row.map_or(1.0, |row| figures.shown(row, 1.0));
        let (from, to) = extent::across(panels);
        let from = across.from.map_or(from, |least| from.min(least));
        let to = across.to.map_or(to, |most| to.max(most));
        let by_ratio = across.by_ratio && from > 0.0;
        let axis = Axis { by_ratio, ..Axis::of(from * us_scale, to * us_scale, left, right) };
        let name = across
            .row
            .map_or_else(|| across.label.to_string(), |row| figures.with_unit(&across.label, row));
        let marks = match across.day_zero {
            Some(zero) => date_marks(&axis, zero),
            None if across.counts => count_marks(&axis, figures),
            None => number_marks(&axis, figures),
        };
        let name = if across.day_zero.is_some() { String::new() } else { name };
        Self { axis, row: across.row, us_scale, marks, has_grid: !across.counts, name }
    }

    /// The left and the right side of the panels.
    pub(super) fn sides(&self) -> (f64, f64) {
        (self.axis.begin, self.axis.end)
    }

    /// Where a number of the engine lies, in pixels.
    pub(super) fn place(&self, metric: f64) -> f64 {
        self.axis.place_within(metric * self.us_scale)
    }

    /// A number of the engine as it is read off, with its unit or its name.
    pub(super) fn said(&self, metric: f64, figures: &Figures<'_>) -> String {
        match self.row {
            Some(row) => figures.amount(row, metric),
            None => format!("{}\u{a0}{}", figures.number(metric), self.name),
        }
    }

    pub(super) fn grid(&self) -> impl Iterator<Item = f64> {
        self.marks.iter().filter(|_| self.has_grid).map(|(at, _)| *at)
    }

    /// Writes numbers and name under the last panel.
    pub(super) fn write(&self, place: &mut Place<'_>) {
        let y = place.top + 20.0;
        let mut free = f64::NEG_INFINITY;
        for (at, text) in &self.marks {
            let half = Letters::SOFT.width_of(text) / 2.0;
            let x = at.clamp(place.left + half, (place.right - half).max(place.left + half));
            if x - half < free {
                continue;
            }
            if self.has_grid {
                place.canvas.line(OUTLINE, (*at, place.top), (*at, place.top + 4.0));
            }
            place.canvas.text(x, y, text, Letters::SOFT.middle());
            free = x + half + 8.0;
        }
        place.top = y + 4.0;
        if !self.name.is_empty() {
            place.top += 17.0;
            let end = self.axis.end;
            place.canvas.text(end, place.top - 2.0, &self.name, Letters::BOLD.end());
        }
    }
}

fn number_marks(axis: &Axis, figures: &Figures<'_>) -> Vec<(f64, String)> {
    let widest =
        [axis.low, axis.high].map(|end| Letters::SOFT.width_of(&figures.number(end.round())));
    let most = (axis.end - axis.begin) / (widest[0].max(widest[1]) + 26.0);
    let ticks = axis.ticks(most.min(12.0));
    ticks.into_iter().map(|tick| (axis.place(tick), figures.number(tick))).collect()
}

/// Whole things that begin at their numbers are named in their middle.
fn count_marks(axis: &Axis, figures: &Figures<'_>) -> Vec<(f64, String)> {
    const ROOM: f64 = 30.0;
    let most = (axis.end - axis.begin) / ROOM;
    let step = round_step(axis.high - axis.low, most).ceil().max(1.0);
    let mut marks = Vec::new();
    let mut number = axis.low.ceil();
    while number + 0.5 <= axis.high {
        marks.push((axis.place(number + 0.5), figures.number(number)));
        number += step;
    }
    marks
}

/// Midnights, so far apart that their dates have room.
fn date_marks(axis: &Axis, day_zero: f64) -> Vec<(f64, String)> {
    const ROOM: f64 = 104.0;
    let most = ((axis.end - axis.begin) / ROOM).max(1.0);
    let wanted = (axis.high - axis.low) / most;
    let steps = [1.0, 2.0, 7.0, 14.0, 28.0, 56.0, 91.0, 182.0, 364.0];
    let step = steps.into_iter().find(|step| *step >= wanted).unwrap_or(wanted.ceil());
    let mut marks = Vec::new();
    let mut day = (axis.low + day_zero).ceil();
    while day - day_zero <= axis.high {
        #[expect(clippy::cast_possible_truncation, reason = "a whole number of days")]
        let said = dates::said(day as i64);
        marks.push((axis.place(day - day_zero), said));
        day += step;
    }
    marks
}
