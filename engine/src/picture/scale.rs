//! A number line with a band, and what lies where on it.

use super::Label;
use crate::quantity::Row;
use crate::text::Sentence;

/// A number line with a band, and what lies where on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Scale {
    /// What is measured.
    pub label: Label,
    /// The kind of quantity.
    pub row: &'static Row,
    /// The ends of the band that it is kept in.
    pub band: Option<(f64, f64)>,
    /// What lies where.
    pub marks: Vec<ScaleMark>,
}

/// Something on a number line.
#[derive(Debug, Clone, PartialEq)]
pub struct ScaleMark {
    /// What it is: "now", "aim for".
    pub name: Label,
    /// Where it lies.
    pub at: f64,
    /// Whether it is where the fluid is, and not where it ought to be.
    pub is_here: bool,
    /// What the instrument reads there.
    pub reads: Option<Sentence>,
}
