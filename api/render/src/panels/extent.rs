//! The ranges of the axes of panels.

use sumpwright_engine::picture::{Layer, Panel, Panels};

/// From the first to the last thing drawn across.
pub(super) fn across(panels: &Panels) -> (f64, f64) {
    let (mut from, mut to) = (f64::INFINITY, f64::NEG_INFINITY);
    let mut note = |at: f64| (from, to) = (from.min(at), to.max(at));
    for layer in panels.panels.iter().flat_map(|panel| &panel.layers) {
        match layer {
            Layer::Line { points, .. } | Layer::Points { points, .. } => {
                points.iter().for_each(|point| note(point.0));
            }
            Layer::Range { points, .. } | Layer::Whiskers { points, .. } => {
                points.iter().for_each(|point| note(point.0));
            }
            Layer::Bars { bars, .. } => bars.iter().for_each(|bar| {
                note(bar.from);
                note(bar.to);
            }),
            Layer::Event { at, .. } | Layer::ReadOff { at, .. } => note(*at),
            Layer::Stretch { from, to, .. } => {
                note(*from);
                note(*to);
            }
            Layer::Band { .. } | Layer::Limit { .. } => {}
        }
    }
    if from.is_finite() { (from, to) } else { (0.0, 1.0) }
}

/// The lowest and the highest value of a panel, with a small margin.
pub(super) fn heights(panel: &Panel, height: impl Fn(f64) -> f64) -> (f64, f64) {
    let mut all: Vec<f64> = Vec::new();
    let mut tops = Tops::default();
    for layer in &panel.layers {
        match layer {
            Layer::Band { low, high, .. } => all.extend([*low, *high]),
            Layer::Limit { at, .. } => all.push(*at),
            Layer::ReadOff { height, .. } => all.push(*height),
            Layer::Line { points, .. } | Layer::Points { points, .. } => {
                all.extend(points.iter().map(|point| point.1));
            }
            Layer::Range { points, .. } | Layer::Whiskers { points, .. } => {
                all.extend(points.iter().flat_map(|(_, low, high)| [*low, *high]));
            }
            Layer::Bars { bars, .. } => {
                all.extend(bars.iter().map(|bar| tops.raise(bar.from, bar.height).1));
            }
            Layer::Event { .. } | Layer::Stretch { .. } => {}
        }
    }
    let from_zero = panel.from_zero || !tops.0.is_empty();
    if from_zero {
        all.push(0.0);
    }
    let shown = || all.iter().map(|metric| height(*metric));
    let low = shown().fold(f64::INFINITY, f64::min);
    let high = shown().fold(f64::NEG_INFINITY, f64::max);
    if !low.is_finite() {
        return (0.0, 1.0);
    }
    let room = if high > low { 0.06 * (high - low) } else { 0.05 * high.abs().max(1.0) };
    let floor = if low >= 0.0 && (from_zero || low < room) { 0.0 } else { low - room };
    (floor, high + room)
}

/// The height of the stacked bars so far, at each place.
#[derive(Default)]
pub(super) struct Tops(Vec<(f64, f64)>);

impl Tops {
    /// Stacks a bar on those at the same place; returns where it begins and ends.
    pub(super) fn raise(&mut self, place: f64, tall: f64) -> (f64, f64) {
        let found = self.0.iter().position(|(at, _)| *at == place);
        let index = found.unwrap_or_else(|| {
            self.0.push((place, 0.0));
            self.0.len() - 1
        });
        let begins = self.0[index].1;
        self.0[index].1 += tall;
        (begins, begins + tall)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use sumpwright_engine::picture::Bar;
    use sumpwright_engine::quantity::{Quantity, Volume};

    #[test]
    fn stacked_bars_reach_as_high_as_their_sum() {
        let bars = |heights: [f64; 2]| Layer::Bars {
            label: "x".into(),
            bars: heights
                .into_iter()
                .zip([1.0, 2.0])
                .map(|(height, from)| Bar { from, to: from + 1.0, height })
                .collect(),
        };
        let panel = Panel::new("volume", Volume::ROW, vec![bars([30.0, 5.0]), bars([20.0, 70.0])]);
        let (low, high) = heights(&panel, |metric| metric);
        assert_eq!(low, 0.0);
        assert!((high - 79.5).abs() < 1e-12, "{high}");
    }
}
