//! Months, and the days on which something is taken away.

use super::Label;
use crate::quantity::Row;

/// Months, and the days on which something is taken away.
#[derive(Debug, Clone, PartialEq)]
pub struct PickupYear {
    /// The kind of quantity that is taken away.
    pub row: &'static Row,
    /// What is taken away: "mass".
    pub label: Label,
    /// The months, in order.
    pub months: Vec<MonthDrawn>,
}

/// A month.
#[derive(Debug, Clone, PartialEq)]
pub struct MonthDrawn {
    /// Its number, counted from 1.
    pub number: usize,
    /// What is on site at its end.
    pub left: Option<f64>,
    /// What is taken away in it.
    pub pickups: Vec<PickupDrawn>,
}

/// Something taken away.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PickupDrawn {
    /// The day, counted from 1 at the start of the month.
    pub day_of_month: usize,
    /// How much.
    pub amount: f64,
}
