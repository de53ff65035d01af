//! The ranges of a chart's axes.

use sumpwright_engine::chart::{Chart, Layer, Panel};

/// The horizontal axis, the same for every panel.
pub(super) struct Across {
    pub(super) from: f64,
    pub(super) to: f64,
    /// Half the width of a bar.
    pub(super) half_bar: f64,
}

/// Half the width of a bar, as a fraction of the distance to the next.
const HALF_BAR: f64 = 0.36;

impl Across {
    pub(super) fn of(chart: &Chart) -> Self {
        let (mut from, mut to) = (f64::INFINITY, f64::NEG_INFINITY);
        let mut step = f64::INFINITY;
        for layer in chart.panels.iter().flat_map(|panel| &panel.layers) {
            for place in places(layer) {
                (from, to) = (from.min(place), to.max(place));
            }
            if let Layer::Bars { points, .. } = layer {
                let gaps = points.windows(2).map(|pair| pair[1].0 - pair[0].0);
                step = gaps.filter(|gap| *gap > 0.0).fold(step.min(1.0), f64::min);
            }
        }
        if !from.is_finite() {
            (from, to) = (0.0, 1.0);
        }
        let half_bar = if step.is_finite() { step * HALF_BAR } else { 0.0 };
        (from, to) = (from - half_bar * 1.4, to + half_bar * 1.4);
        if to <= from {
            (from, to) = (from - 0.5, to + 0.5);
        }
        Self { from, to, half_bar }
    }
}

fn places(layer: &Layer) -> Vec<f64> {
    match layer {
        Layer::Line { points, .. } | Layer::Bars { points, .. } => {
            points.iter().map(|point| point.0).collect()
        }
        Layer::Range { points, .. } => points.iter().map(|point| point.0).collect(),
        Layer::Event { at, .. } => vec![*at],
        Layer::Band { .. } | Layer::Limit { .. } => vec![],
    }
}

/// The lowest and the highest value of a panel, with a small margin.
pub(super) fn heights(panel: &Panel, height: impl Fn(f64) -> f64) -> (f64, f64) {
    let mut all: Vec<f64> = Vec::new();
    let mut tops = Tops::default();
    for layer in &panel.layers {
        match layer {
            Layer::Band { low, high, .. } => all.extend([*low, *high]),
            Layer::Limit { at, .. } => all.push(*at),
            Layer::Line { points, .. } => all.extend(points.iter().map(|point| point.1)),
            Layer::Range { points, .. } => {
                all.extend(points.iter().flat_map(|(_, low, high)| [*low, *high]));
            }
            Layer::Bars { points, .. } => {
                all.extend(points.iter().map(|(at, tall)| tops.raise(*at, *tall).1));
            }
            Layer::Event { .. } => {}
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
    use sumpwright_engine::quantity::{Quantity, Volume};

    #[test]
    fn stacked_bars_reach_as_high_as_their_sum() {
        let bars =
            |points: [(f64, f64); 2]| Layer::Bars { label: "x".into(), points: points.into() };
        let layers = vec![bars([(1.0, 30.0), (2.0, 5.0)]), bars([(1.0, 20.0), (2.0, 70.0)])];
        let panel = Panel { label: "volume".into(), row: Volume::ROW, from_zero: false, layers };
        let (low, high) = heights(&panel, |metric| metric);
        assert_eq!(low, 0.0);
        assert!((high - 79.5).abs() < 1e-12, "{high}");
    }
}
