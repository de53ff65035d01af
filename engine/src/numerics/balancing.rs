//! Rows and columns of a programme brought towards entries near 1.

/// The smallest and the largest size among entries that are not zero.
#[derive(Debug, Clone, Copy)]
pub(super) struct EntrySizes {
    least: f64,
    most: f64,
}

impl EntrySizes {
    pub(super) const NONE: Self = Self { least: f64::INFINITY, most: 0.0 };

    pub(super) fn of(entries: impl Iterator<Item = f64>) -> Self {
        entries.fold(Self::NONE, Self::with)
    }

    pub(super) fn with(self, entry: f64) -> Self {
        let size = entry.abs();
        if size > 0.0 {
            Self { least: self.least.min(size), most: self.most.max(size) }
        } else {
            self
        }
    }

    /// The power of two that brings the geometric mean of both nearest to 1.
    pub(super) fn balancing_factor(self) -> f64 {
        if self.most == 0.0 {
            return 1.0;
        }
        let middle = f64::midpoint(self.least.log2(), self.most.log2());
        (-middle.round()).exp2()
    }
}
