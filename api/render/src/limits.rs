//! Draws values between their limits.

use crate::Place;
use crate::canvas::Area;
use crate::letters::{Letters, fitted, wrapped};
use crate::looks::{FLUID_SHADE, FOUND_SHADE, LINE, OUTLINE, TINT};
use crate::ticks::Axis;
use sumpwright_engine::picture::LimitBar;

const BAR: f64 = 18.0;

pub(crate) fn draw(bars: &[LimitBar], place: &mut Place<'_>) {
    for bar in bars {
        one(bar, place);
        place.top += 16.0;
    }
    place.top -= 8.0;
}

fn one(bar: &LimitBar, place: &mut Place<'_>) {
    let figures = place.figures;
    let amount = |metric: f64| figures.amount(bar.row, metric);
    let value = amount(bar.value);
    let room = place.width();
    let name = fitted(&bar.name, room - Letters::BOLD.width_of(&value) - 14.0, Letters::BOLD);
    place.canvas.text(place.left, place.top + 12.0, &name, Letters::BOLD);
    place.canvas.text(place.right, place.top + 12.0, &value, Letters::BOLD.end());

    // The bar ends a little beyond the limit, so that what is beyond it can be seen.
    const BEYOND: f64 = 1.12;
    let most = bar.max.map_or(bar.min.unwrap_or(0.0) * 1.6, |max| max * BEYOND);
    let axis = Axis::of(0.0, most.max(bar.value * BEYOND), place.left, place.right);
    let top = place.top + 19.0;
    place.canvas.rect(TINT, Area { x: place.left, y: top, w: room, h: BAR });
    let inside = bar.min.is_none_or(|min| bar.value >= min * (1.0 - 1e-9))
        && bar.max.is_none_or(|max| bar.value <= max * (1.0 + 1e-9));
    let shade = if inside { FLUID_SHADE } else { FOUND_SHADE };
    let end = axis.place_within(bar.value);
    place.canvas.shaded_open(shade, Area { x: place.left, y: top, w: end - place.left, h: BAR });
    place.canvas.rect(OUTLINE, Area { x: place.left, y: top, w: room, h: BAR });
    for limit in bar.min.iter().chain(&bar.max) {
        let x = axis.place(*limit);
        place.canvas.line(LINE, (x, top - 4.0), (x, top + BAR + 4.0));
    }
    let said = said(bar, &amount, inside, |share| figures.per_cent(share));
    let mut y = top + BAR + 3.0;
    for line in wrapped(&said, room, Letters::SOFT) {
        y += 16.0;
        place.canvas.text(place.left, y - 1.0, &line, Letters::SOFT);
    }
    place.top = y + 2.0;
}

fn said(
    bar: &LimitBar,
    amount: &impl Fn(f64) -> String,
    inside: bool,
    per_cent: impl Fn(f64) -> String,
) -> String {
    let limits = match (bar.min, bar.max) {
        (Some(min), Some(max)) => format!("between {} and {}", amount(min), amount(max)),
        (None, Some(max)) if max > 0.0 => {
            format!("{} of at most {}", per_cent(bar.value / max), amount(max))
        }
        (None, Some(max)) => format!("at most {}", amount(max)),
        (Some(min), None) => format!("at least {}", amount(min)),
        (None, None) => String::from("no limit"),
    };
    if inside { limits } else { format!("{limits}: outside its limits") }
}
