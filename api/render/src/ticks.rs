//! Where an axis is marked.

use crate::Place;
use crate::letters::Letters;
use crate::looks::OUTLINE;

/// An axis from a lowest to a highest number, and where it lies in the drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Axis {
    pub(crate) low: f64,
    pub(crate) high: f64,
    /// Where the lowest number lies, in pixels.
    pub(crate) begin: f64,
    /// Where the highest number lies.
    pub(crate) end: f64,
    /// Whether equal ratios lie equally far apart.
    pub(crate) by_ratio: bool,
}

impl Place<'_> {
    /// Strokes at round numbers, at most so many, and `below` them those numbers that have room.
    pub(crate) fn write_ticks(&mut self, axis: &Axis, most: f64, floor: f64, below: f64) {
        let mut free = f64::NEG_INFINITY;
        for tick in axis.ticks(most) {
            let (at, text) = (axis.place(tick), self.figures.number(tick));
            let half = Letters::SOFT.width_of(&text) / 2.0;
            let x = at.clamp(self.left + half, self.right - half);
            self.canvas.line(OUTLINE, (at, floor), (at, floor + 4.0));
            if x - half >= free {
                self.canvas.text(x, floor + below, &text, Letters::SOFT.middle());
                free = x + half + 8.0;
            }
        }
    }
}

impl Axis {
    /// An axis of these numbers; a little is added where there is only one.
    pub(crate) fn of(low: f64, high: f64, begin: f64, end: f64) -> Self {
        let (low, high) =
            if low.is_finite() && high.is_finite() { (low, high) } else { (0.0, 1.0) };
        let high = if high > low { high } else { low + low.abs().max(1.0) * 0.5 };
        Self { low, high, begin, end, by_ratio: false }
    }

    /// Where a number lies, in pixels.
    pub(crate) fn place(&self, number: f64) -> f64 {
        let share = if self.by_ratio {
            (number / self.low).ln() / (self.high / self.low).ln()
        } else {
            (number - self.low) / (self.high - self.low)
        };
        self.begin + share * (self.end - self.begin)
    }

    /// The same, kept within the axis.
    pub(crate) fn place_within(&self, number: f64) -> f64 {
        let at = self.place(number);
        at.clamp(self.begin.min(self.end), self.begin.max(self.end))
    }

    /// Round numbers on the axis, at most so many.
    pub(crate) fn ticks(&self, most: f64) -> Vec<f64> {
        if self.by_ratio { self.ticks_by_ratio() } else { even(self.low, self.high, most) }
    }

    fn ticks_by_ratio(&self) -> Vec<f64> {
        let decades = self.low.log10().floor()..self.high.log10().ceil();
        let mut ticks = Vec::new();
        let mut decade = decades.start;
        while decade <= decades.end {
            ticks.extend([1.0, 2.0, 5.0].map(|digit| digit * 10_f64.powf(decade)));
            decade += 1.0;
        }
        let (low, high) = (self.low * (1.0 - 1e-9), self.high * (1.0 + 1e-9));
        ticks.retain(|tick| (low..=high).contains(tick));
        ticks.iter_mut().for_each(|tick| *tick = rounded(*tick));
        ticks
    }
}

/// The step from one round number to the next, so that there are at most so many.
pub(crate) fn round_step(span: f64, most: f64) -> f64 {
    let wanted = span / most.max(1.0);
    let power = 10_f64.powf(wanted.log10().floor());
    let digits = [1.0, 2.0, 2.5, 5.0, 10.0];
    let step = digits.into_iter().find(|digit| digit * power >= wanted * (1.0 - 1e-9));
    step.unwrap_or(10.0) * power
}

/// Round numbers from `low` to `high`, at most so many.
fn even(low: f64, high: f64, most: f64) -> Vec<f64> {
    let step = round_step(high - low, most);
    let first = (low / step - 1e-9).ceil();
    let mut ticks = Vec::new();
    let mut i = first;
    while i * step <= high + step * 1e-9 {
        ticks.push(rounded(i * step));
        i += 1.0;
    }
    ticks
}

/// A round number without binary noise.
fn rounded(number: f64) -> f64 {
    sumpwright_engine::numerics::digits::round_to(number, 12) + 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_axis_is_marked_at_round_numbers() {
        assert_eq!(Axis::of(0.0, 212.0, 0.0, 1.0).ticks(5.0), [0.0, 50.0, 100.0, 150.0, 200.0]);
        assert_eq!(Axis::of(-0.3, 0.31, 0.0, 1.0).ticks(3.0), [-0.25, 0.0, 0.25]);
        let sizes = Axis { by_ratio: true, ..Axis::of(1.5, 60.0, 0.0, 100.0) };
        assert_eq!(sizes.ticks(9.0), [2.0, 5.0, 10.0, 20.0, 50.0]);
        assert!((sizes.place(9.486_832_980_505_138) - 50.0).abs() < 1e-9);
        let lone = Axis::of(7.0, 7.0, 0.0, 100.0);
        assert!(lone.place(7.0).is_finite() && lone.high > lone.low);
    }
}
