//! The trips of a round, one after the other.

use super::Label;

/// The trips of a round, one after the other, and how full the vessels are on each.
#[derive(Debug, Clone, PartialEq)]
pub struct Trips {
    /// Whether the trips are timed; else each is one step long.
    pub timed: bool,
    /// The trips, in order.
    pub trips: Vec<TripDrawn>,
    /// How much clean fluid the vessels take, L, where they have a bound.
    pub clean_holds: Option<f64>,
    /// How much dirty fluid the vessels take, L, where they have a bound.
    pub dirty_holds: Option<f64>,
}

/// One trip.
#[derive(Debug, Clone, PartialEq)]
pub struct TripDrawn {
    /// What it carries, or whose machines it serves.
    pub name: Label,
    /// The machines that it goes to, in order.
    pub machines: Vec<Label>,
    /// When it begins, in hours of work from the start of the round.
    pub from: f64,
    /// When it ends.
    pub to: f64,
    /// Clean fluid that it carries out, L.
    pub clean: f64,
    /// Dirty fluid that it takes away, L.
    pub dirty: f64,
    /// Chips that it takes away, kg.
    pub chips: f64,
}
