//! From one amount to another, change by change.

use super::Label;
use crate::quantity::Row;

/// From one amount to another, change by change.
#[derive(Debug, Clone, PartialEq)]
pub struct Waterfall {
    /// What is measured.
    pub label: Label,
    /// The kind of quantity.
    pub row: &'static Row,
    /// What there was at first: its name and amount.
    pub start: (Label, f64),
    /// What happened to it, in order.
    pub changes: Vec<Change>,
    /// What there was in the end: its name and amount.
    pub end: (Label, f64),
}

/// One change of an amount.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// What it was.
    pub name: Label,
    /// By how much the amount grew; below nothing where it fell.
    pub by: f64,
    /// How it is known.
    pub kind: ChangeKind,
}

/// How a change is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChangeKind {
    /// It was written down.
    Written,
    /// It was worked out.
    WorkedOut,
    /// Nobody wrote it down, and it was found.
    Found,
}
