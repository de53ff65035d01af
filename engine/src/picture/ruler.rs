//! A ruler to print in its true size and hold into a sump.

/// A ruler to print in its true size: what the sump holds at each level.
#[derive(Debug, Clone, PartialEq)]
pub struct DipRuler {
    /// Levels above the sump's lowest point, mm, in order, and what it holds there, L.
    pub curve: Vec<(f64, f64)>,
    /// The working level, mm.
    pub working_level: f64,
}

impl DipRuler {
    /// What the sump holds at a level, L, on the straight line between two points of the curve.
    #[must_use]
    pub fn litres_at(&self, level: f64) -> f64 {
        let next = self.curve.partition_point(|(at, _)| *at <= level);
        match (next.checked_sub(1).map(|i| self.curve[i]), self.curve.get(next)) {
            (Some((x_0, y_0)), Some((x_1, y_1))) => y_0 + (level - x_0) / (x_1 - x_0) * (y_1 - y_0),
            (Some((_, litres)), None) | (None, Some(&(_, litres))) => litres,
            (None, None) => 0.0,
        }
    }

    /// The lowest brim, mm.
    #[must_use]
    pub fn brim(&self) -> f64 {
        self.curve.last().map_or(0.0, |(level, _)| *level)
    }
}
