//! How wide pictures are drawn, and how their numbers are written.

use sumpwright_openapi::picture_width::{DEFAULT, LEAST, MOST};

/// How pictures are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Manner {
    /// The width of the drawing, in CSS pixels; the nearest that is allowed is taken.
    pub width: u16,
    /// Whether numbers have a decimal comma.
    pub decimal_comma: bool,
}

impl Manner {
    pub(crate) fn width(self) -> f64 {
        f64::from(self.width.clamp(LEAST, MOST))
    }
}

impl Default for Manner {
    fn default() -> Self {
        Self { width: DEFAULT, decimal_comma: false }
    }
}
