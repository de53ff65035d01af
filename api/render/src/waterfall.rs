//! Draws how one amount becomes another, change by change.

use crate::Place;
use crate::canvas::Area;
use crate::letters::{Letters, fitted, wrapped_to};
use crate::looks::{FLUID_SHADE, FOUND_SHADE, GREY_SHADE, INK, PALE_SHADE, RULE, Shade};
use crate::ticks::Axis;
use sumpwright_engine::picture::{ChangeKind, Waterfall};

const BAR: f64 = 20.0;
/// Most of the width that names take at the left.
const NAMES: f64 = 0.34;
/// How wide the sign of a change is.
const MARK: f64 = 12.0;

/// A row: its name, from where to where, what is said of it, and how it looks.
struct Step<'a> {
    name: &'a str,
    from: f64,
    to: f64,
    said: String,
    shade: Shade,
    found: bool,
}

pub(crate) fn draw(waterfall: &Waterfall, place: &mut Place<'_>) {
    let steps = steps(waterfall, place);
    let low = steps.iter().map(|step| step.from.min(step.to)).fold(0.0, f64::min);
    let high = steps.iter().map(|step| step.from.max(step.to)).fold(0.0, f64::max);
    let wide = place.is_wide();
    let left = if wide { place.left + place.width() * NAMES } else { place.left };
    let numbers = steps.iter().map(|step| Letters::BOLD.width_of(&step.said));
    let numbers = numbers.fold(0.0, f64::max);
    let axis = Axis::of(low, high, left, place.right - numbers - 10.0);
    let mut ended: Option<(f64, f64)> = None;
    for step in &steps {
        let room = if wide { left - place.left - 14.0 } else { place.width() };
        let indent = if step.found { MARK + 4.0 } else { 0.0 };
        let letters = if step.found { Letters::BOLD } else { Letters::PLAIN };
        let lines = if wide {
            wrapped_to(step.name, room - indent, 2, letters)
        } else {
            vec![fitted(step.name, room - indent, letters)]
        };
        let mut y = place.top + 14.0;
        if step.found {
            // A diamond before the name, so that it is found without reading.
            let (x, at) = (place.left + MARK / 2.0, y - 4.5);
            let half = MARK / 2.0;
            let diamond = [(x - half, at), (x, at - half), (x + half, at), (x, at + half)];
            place.canvas.polygon(INK, &diamond);
        }
        for line in &lines {
            place.canvas.text(place.left + indent, y, line, letters);
            y += 16.0;
        }
        let top = if wide { place.top } else { y - 10.0 };
        let (from, to) = (axis.place(step.from), axis.place(step.to));
        if let Some((x, upper)) = ended.filter(|_| wide) {
            place.canvas.line(RULE, (x, upper), (x, top));
        }
        place.canvas.shaded(step.shade, Area::between((from, top), (to, top + BAR)));
        place.canvas.text(place.right, top + 15.0, &step.said, Letters::BOLD.end());
        ended = Some((to, top + BAR));
        place.top = (y - 8.0).max(top + BAR) + if wide { 9.0 } else { 7.0 };
    }
}

fn steps<'a>(waterfall: &'a Waterfall, place: &Place<'_>) -> Vec<Step<'a>> {
    let figures = place.figures;
    let shown = |metric: f64| figures.shown(waterfall.row, metric);
    let whole = |name: &'a str, amount: f64| Step {
        name,
        from: 0.0,
        to: shown(amount),
        said: figures.amount(waterfall.row, amount),
        shade: FLUID_SHADE,
        found: false,
    };
    let mut now = waterfall.start.1;
    let mut steps = vec![whole(&waterfall.start.0, now)];
    for change in &waterfall.changes {
        let from = now;
        now += change.by;
        let sign = if change.by > 0.0 { "+" } else { "" };
        let shade = match change.kind {
            ChangeKind::Found => FOUND_SHADE,
            _ if change.by > 0.0 => PALE_SHADE,
            _ => GREY_SHADE,
        };
        steps.push(Step {
            name: &change.name,
            from: shown(from),
            to: shown(now),
            said: format!("{sign}{}", figures.amount(waterfall.row, change.by)),
            shade,
            found: change.kind == ChangeKind::Found,
        });
    }
    steps.push(whole(&waterfall.end.0, waterfall.end.1));
    steps
}
