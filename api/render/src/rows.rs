//! Draws amounts beside each other, each made up of the same kinds of parts.

use crate::Place;
use crate::canvas::Area;
use crate::legend::{self, Named, Sample};
use crate::letters::{Letters, wrapped_to};
use crate::looks::{OUTLINE, SHADES, Shade, fluid_shade};
use crate::ticks::Axis;
use sumpwright_engine::picture::{BarRow, BarRows};

const BAR: f64 = 24.0;

pub(crate) fn draw(rows: &BarRows, place: &mut Place<'_>) {
    if rows.kinds.len() > 1 {
        let used = |i: &usize| rows.rows.iter().any(|row| part(row, *i) != 0.0);
        let named: Vec<Named> = (0..rows.kinds.len())
            .filter(used)
            .map(|i| Named {
                sample: Sample::Area(shade(rows, i)),
                name: rows.kinds[i].to_string(),
                at: 0.0,
            })
            .collect();
        legend::in_rows(place, &named);
        place.top += 6.0;
    }
    let above = |row: &BarRow| row.parts.iter().filter(|part| **part > 0.0).sum::<f64>();
    let below = |row: &BarRow| row.parts.iter().filter(|part| **part < 0.0).sum::<f64>();
    let figures = place.figures;
    let shown = |metric: f64| figures.shown(rows.row, metric);
    let most = rows.rows.iter().map(|row| shown(above(row))).fold(0.0, f64::max);
    let least = rows.rows.iter().map(|row| shown(below(row))).fold(0.0, f64::min);
    let axis = Axis::of(least, most, place.left, place.right - 1.0);
    for row in &rows.rows {
        let total = figures.amount(rows.row, row.parts.iter().sum());
        let room = place.width() - Letters::BOLD.width_of(&total) - 14.0;
        place.canvas.text(place.right, place.top + 12.0, &total, Letters::BOLD.end());
        for (i, line) in wrapped_to(&row.name, room, 2, Letters::PLAIN).iter().enumerate() {
            place.top += if i > 0 { 16.0 } else { 0.0 };
            place.canvas.text(place.left, place.top + 12.0, line, Letters::PLAIN);
        }
        let top = place.top + 18.0;
        let (mut up, mut down) = (0.0, 0.0);
        for (i, part) in row.parts.iter().enumerate().filter(|(_, part)| **part != 0.0) {
            let side = if *part > 0.0 { &mut up } else { &mut down };
            let from = axis.place(shown(*side));
            *side += part;
            let to = axis.place(shown(*side));
            let area = Area::between((from, top), (to, top + BAR));
            place.canvas.shaded(shade(rows, i), area);
        }
        let zero = axis.place_within(0.0);
        place.canvas.line(OUTLINE, (zero, top - 3.0), (zero, top + BAR + 3.0));
        place.top = top + BAR + 13.0;
    }
    place.top -= 8.0;
}

/// How a kind of part looks: fluids as they do in a tank.
fn shade(rows: &BarRows, i: usize) -> Shade {
    rows.fluids.get(i).map_or(SHADES[i % SHADES.len()], |kind| fluid_shade(*kind))
}

fn part(row: &BarRow, i: usize) -> f64 {
    row.parts.get(i).copied().unwrap_or(0.0)
}
