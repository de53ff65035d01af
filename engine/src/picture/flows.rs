//! Streams between places.

use super::Label;
use crate::quantity::Row;

/// Streams between places, each as wide as what flows in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Flows {
    /// The kind of quantity that flows.
    pub row: &'static Row,
    /// The places, from the top of each column down.
    pub nodes: Vec<FlowNode>,
    /// The streams; each leads to a later column.
    pub flows: Vec<Flow>,
}

/// A place that streams come to or go from.
#[derive(Debug, Clone, PartialEq)]
pub struct FlowNode {
    /// What it is.
    pub name: Label,
    /// Its column, from the left, counted from 0.
    pub column: usize,
}

/// A stream from one place to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flow {
    /// The place in the list of the one it comes from.
    pub from: usize,
    /// The place in the list of the one it goes to.
    pub to: usize,
    /// How much flows.
    pub amount: f64,
    /// Whether it is what is put back to use.
    pub recycled: bool,
}

impl Flows {
    /// How much comes to a place.
    #[must_use]
    pub fn reaching(&self, node: usize) -> f64 {
        self.flows.iter().filter(|flow| flow.to == node).map(|flow| flow.amount).sum()
    }

    /// How much goes from a place.
    #[must_use]
    pub fn leaving(&self, node: usize) -> f64 {
        self.flows.iter().filter(|flow| flow.from == node).map(|flow| flow.amount).sum()
    }
}
