//! How wide pictures are drawn, and how their numbers are written.

/// The narrowest drawing that can be asked for, in CSS pixels.
pub const WIDTH_LEAST: u16 = 280;
/// The widest drawing that can be asked for.
pub const WIDTH_MOST: u16 = 2000;
/// The width of a drawing where nobody says.
pub const WIDTH_DEFAULT: u16 = 720;

/// How pictures are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Manner {
    /// The width of the drawing, in CSS pixels.
    pub width: u16,
    /// Whether numbers have a decimal comma.
    pub decimal_comma: bool,
}

impl Manner {
    pub(crate) fn width(&self) -> f64 {
        f64::from(self.width.clamp(WIDTH_LEAST, WIDTH_MOST))
    }
}

impl Default for Manner {
    fn default() -> Self {
        Self { width: WIDTH_DEFAULT, decimal_comma: false }
    }
}
