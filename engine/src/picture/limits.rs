//! Values between the least and the most that they may come to.

use super::Label;
use crate::quantity::Row;

/// A value and its limits, in the metric unit of its kind.
#[derive(Debug, Clone, PartialEq)]
pub struct LimitBar {
    /// What is limited.
    pub name: Label,
    /// The kind of quantity.
    pub row: &'static Row,
    /// What it comes to.
    pub value: f64,
    /// The least that is wanted.
    pub min: Option<f64>,
    /// The most that is allowed.
    pub max: Option<f64>,
}
