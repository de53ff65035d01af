//! Draws streams between places, each as wide as what flows in it.
//!
//! The places stand in columns from left to right and in the order of their list within each.
//! A place has its name above it, in a slot as wide as the column, so that no name can cover
//! another at any width. The streams that leave or reach a place lie on each other in the order
//! of the places that they lead to or come from.

use crate::Place;
use crate::canvas::{Area, pixels};
use crate::letters::{Letters, wrapped_to};
use crate::looks::{FLUID_MIDDLE, FLUID_PALE, INK};
use std::fmt::Write;
use sumpwright_engine::numerics::digits::round_to;
use sumpwright_engine::picture::{Flow, Flows};

/// Width of a place.
const NODE: f64 = 10.0;
/// All that is in the widest column, laid on each other.
const TALL: f64 = 190.0;
/// Least height of a place and of a stream, so that it can be seen.
const THIN: f64 = 1.5;
/// Between a place and the name of the next one below it.
const BETWEEN: f64 = 12.0;
/// Height of a line of a name.
const LINE: f64 = 16.0;
/// Most lines of a name.
const LINES_MOST: usize = 2;
/// Between a name and the next column.
const GAP: f64 = 4.0;

/// A place laid out: its lower side, and how far its streams have been laid on each other.
struct Laid {
    area: Area,
    out: f64,
    into: f64,
    lines: Vec<String>,
}

pub(crate) fn draw(flows: &Flows, place: &mut Place<'_>) {
    let columns = flows.nodes.iter().map(|node| node.column + 1).max().unwrap_or(0);
    if columns == 0 || flows.flows.is_empty() {
        return;
    }
    let amount = |node: usize| flows.reaching(node).max(flows.leaving(node));
    let of_column = |column: usize| -> Vec<usize> {
        (0..flows.nodes.len()).filter(|i| flows.nodes[*i].column == column).collect()
    };
    let fullest = (0..columns).map(|column| of_column(column).into_iter().map(amount).sum::<f64>());
    let scale = TALL / fullest.fold(f64::MIN_POSITIVE, f64::max);
    let slot = place.width() / (0..columns).fold(0.0, |sum, _| sum + 1.0);
    let largest = (0..flows.nodes.len()).map(amount).fold(0.0, f64::max);
    let unit = caption(flows, place, largest);
    let mut laid: Vec<Option<Laid>> = flows.nodes.iter().map(|_| None).collect();
    let (mut x, mut deepest) = (place.left, place.top);
    for column in 0..columns {
        let names = |node: usize| {
            wrapped_to(&flows.nodes[node].name, slot - GAP, LINES_MOST, Letters::SMALL)
        };
        let high = |node: usize| (amount(node) * scale).max(THIN);
        let nodes = of_column(column);
        let text = |node: usize| names(node).iter().fold(LINE + 6.0, |sum, _| sum + LINE);
        let tall = nodes.iter().map(|node| text(*node) + high(*node) + BETWEEN).sum::<f64>();
        // Beside what its streams come from, where there is room for that.
        let from = flows.flows.iter().filter(|flow| nodes.contains(&flow.to));
        let from = from.filter_map(|flow| Some((flow.amount, laid[flow.from].as_ref()?.area)));
        let (all, moment) = from.fold((0.0, 0.0), |(all, moment), (amount, area)| {
            (all + amount, moment + amount * (area.y + area.h / 2.0))
        });
        let middle = if all > 0.0 { moment / all } else { place.top };
        let mut y = place.top.max(middle - tall / 2.0);
        for node in nodes {
            let mut lines = names(node);
            let shown = round_to(place.figures.shown(flows.row, amount(node)) / unit, 3);
            lines.push(place.figures.number(shown));
            lines.iter().for_each(|_| y += LINE);
            let h = high(node);
            let area = Area { x, y: y + 6.0, w: NODE, h };
            laid[node] = Some(Laid { area, out: 0.0, into: 0.0, lines });
            y += 6.0 + h + BETWEEN;
        }
        deepest = deepest.max(y - BETWEEN);
        x += slot;
    }
    let mut laid: Vec<Laid> = laid.into_iter().flatten().collect();
    for flow in ordered(flows) {
        stream(flow, place, &mut laid, scale);
    }
    for own in &laid {
        place.canvas.rect(INK, own.area);
        let last = own.lines.len() - 1;
        let mut y = own.area.y - 6.0;
        for (i, line) in own.lines.iter().enumerate().rev() {
            let letters = if i == last { Letters::SMALL_BOLD } else { Letters::SMALL };
            place.canvas.text(own.area.x, y - 2.0, line, letters);
            y -= LINE;
        }
    }
    place.top = deepest;
}

/// Says in what the amounts are, so short that each has room in its slot: in thousands where they
/// are large. Returns how many of the reader's unit that is.
fn caption(flows: &Flows, place: &mut Place<'_>, largest: f64) -> f64 {
    const LARGE: f64 = 1e6;
    let (mut unit, mut words) = (1.0, String::new());
    while place.figures.shown(flows.row, largest) / unit >= LARGE {
        unit *= 1000.0;
        words = format!("{} ", place.figures.number(unit));
    }
    place.top += 14.0;
    let text = format!("Amounts in {words}{}.", place.figures.unit(flows.row));
    place.canvas.text(place.left, place.top, &text, Letters::SOFT);
    place.top += 10.0;
    unit
}

/// The streams in the order in which they are laid on each other at both of their ends.
fn ordered(flows: &Flows) -> Vec<&Flow> {
    let mut ordered: Vec<&Flow> = flows.flows.iter().collect();
    ordered.sort_by_key(|flow| (flow.from, flow.to));
    ordered
}

fn stream(flow: &Flow, place: &mut Place<'_>, laid: &mut [Laid], scale: f64) {
    let thick = (flow.amount * scale).max(THIN);
    let from = &mut laid[flow.from];
    let (x_0, y_0) = (from.area.x + NODE, from.area.y + from.out);
    from.out += flow.amount * scale;
    let to = &mut laid[flow.to];
    let (x_1, y_1) = (to.area.x, to.area.y + to.into);
    to.into += flow.amount * scale;
    let middle = pixels(f64::midpoint(x_0, x_1));
    let [x_0, y_0, x_1, y_1, thick] = [x_0, y_0, x_1, y_1, thick].map(pixels);
    let (under_0, under_1) = (pixels(y_0 + thick), pixels(y_1 + thick));
    let mut path = String::new();
    let _ = write!(
        path,
        "M{x_0} {y_0}C{middle} {y_0} {middle} {y_1} {x_1} {y_1}L{x_1} {under_1}\
         C{middle} {under_1} {middle} {under_0} {x_0} {under_0}Z"
    );
    place.canvas.path(if flow.recycled { FLUID_MIDDLE } else { FLUID_PALE }, &path);
}
