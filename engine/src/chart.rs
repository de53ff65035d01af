//! A picture of an answer, as data: what is drawn over what, in which kind of
//! quantity. How it looks, and in which system of units its axes read, is the
//! border's affair.

use crate::quantity::Row;
use std::borrow::Cow;

/// Words on a chart, fixed or taken from the question.
pub type Label = Cow<'static, str>;

/// A picture: panels above each other that share what runs across.
#[derive(Debug, Clone, PartialEq)]
pub struct Chart {
    /// What it shows, in a line.
    pub title: Label,
    /// What runs across, as the axis says it: "day".
    pub across: Label,
    /// The panels, from the top down.
    pub panels: Vec<Panel>,
}

/// One panel: everything in it is a quantity of the same kind.
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    /// What is drawn, as the axis says it: "volume".
    pub label: Label,
    /// The kind of quantity, which gives the axis its unit.
    pub row: &'static Row,
    /// Whether the axis has to begin at nothing.
    pub from_zero: bool,
    /// What is drawn, the hindmost first.
    pub layers: Vec<Layer>,
}

/// Something drawn in a panel. Heights are in the metric unit of the panel's
/// kind; what runs across is a bare number.
#[derive(Debug, Clone, PartialEq)]
pub enum Layer {
    /// A shaded band from one height to another, all the way across.
    Band {
        /// What it is, written beside it.
        label: Label,
        /// Its lower edge.
        low: f64,
        /// Its upper edge.
        high: f64,
    },
    /// A shaded band whose edges change across.
    Range {
        /// What it is, written beside it.
        label: Label,
        /// Across, lower edge, upper edge.
        points: Vec<(f64, f64, f64)>,
    },
    /// A height that something is held to, all the way across.
    Limit {
        /// What it is, written beside it.
        label: Label,
        /// Where it lies.
        at: f64,
    },
    /// A line through points.
    Line {
        /// What it is, written at its end.
        label: Label,
        /// Across and height, in order.
        points: Vec<(f64, f64)>,
    },
    /// Bars that stand on those drawn before them in the same panel.
    Bars {
        /// What they are, written beside them.
        label: Label,
        /// Across (the middle of the bar) and height.
        points: Vec<(f64, f64)>,
    },
    /// A moment that something happens, marked on the panel's floor.
    Event {
        /// What happens; moments of the same name are named once.
        label: Label,
        /// When.
        at: f64,
    },
}
