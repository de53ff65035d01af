//! Quantities over time, or over another quantity: panels above each other that share what runs
//! across.

use super::Label;
use crate::quantity::Row;

/// Panels above each other that share what runs across.
#[derive(Debug, Clone, PartialEq)]
pub struct Panels {
    /// What runs across.
    pub across: Across,
    /// The panels, from the top down.
    pub panels: Vec<Panel>,
}

/// What runs across.
#[derive(Debug, Clone, PartialEq)]
pub struct Across {
    /// What the axis is called: "day".
    pub label: Label,
    /// The kind of quantity, where its numbers have a unit that the label does not say.
    pub row: Option<&'static Row>,
    /// Where it has to begin, if not where the first thing drawn does.
    pub from: Option<f64>,
    /// Where it has to end, if not where the last thing drawn does.
    pub to: Option<f64>,
    /// Whether equal ratios lie equally far apart, as sizes of particles do.
    pub by_ratio: bool,
    /// Whether its numbers are those of whole things that begin at them: bars of months.
    pub counts: bool,
    /// Where it runs in days: the date and time of day 0, in days since the beginning of 1970,
    /// as a clock on the wall there shows it.
    pub day_zero: Option<f64>,
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

/// A bar: where it begins and ends across, and how high it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bar {
    /// Where it begins across.
    pub from: f64,
    /// Where it ends across.
    pub to: f64,
    /// Its height.
    pub height: f64,
}

/// Something drawn in a panel. Heights are in the metric unit of the panel's kind, and what runs
/// across in that of its own.
#[derive(Debug, Clone, PartialEq)]
pub enum Layer {
    /// A shaded band from one height to another, all the way across.
    Band {
        /// What it is.
        label: Label,
        /// Its lower edge.
        low: f64,
        /// Its upper edge.
        high: f64,
    },
    /// A shaded band whose edges change across.
    Range {
        /// What it is.
        label: Label,
        /// Across, lower edge, upper edge.
        points: Vec<(f64, f64, f64)>,
    },
    /// A stretch across in which something is not as it should be, shaded from top to bottom.
    Stretch {
        /// What it is; stretches of the same name are named once.
        label: Label,
        /// Where it begins.
        from: f64,
        /// Where it ends.
        to: f64,
    },
    /// From a low to a high height at each place, as a stroke in front of what is drawn.
    Whiskers {
        /// What they are.
        label: Label,
        /// Across, lower end, upper end.
        points: Vec<(f64, f64, f64)>,
    },
    /// A height that something is held to, all the way across.
    Limit {
        /// What it is.
        label: Label,
        /// Where it lies.
        at: f64,
    },
    /// A line through points.
    Line {
        /// What it is.
        label: Label,
        /// Across and height, in order.
        points: Vec<(f64, f64)>,
    },
    /// Single points, such as samples.
    Points {
        /// What they are.
        label: Label,
        /// Across and height.
        points: Vec<(f64, f64)>,
    },
    /// A place read off a line: from across up to the line and over to the axis.
    ReadOff {
        /// What it is; those of the same name are named once.
        label: Label,
        /// Across.
        at: f64,
        /// Height.
        height: f64,
    },
    /// Bars that stand on those drawn before them in the same place.
    Bars {
        /// What they are.
        label: Label,
        /// The bars.
        bars: Vec<Bar>,
    },
    /// A moment that something happens, marked on the panel's floor.
    Event {
        /// What happens; moments of the same name share a mark and are named once.
        label: Label,
        /// When.
        at: f64,
    },
}

impl Across {
    /// Days from the start.
    #[must_use]
    pub fn days() -> Self {
        Self::plain("day")
    }

    /// An axis as long as what is drawn along it.
    #[must_use]
    pub fn plain(label: impl Into<Label>) -> Self {
        Self {
            label: label.into(),
            row: None,
            from: None,
            to: None,
            by_ratio: false,
            counts: false,
            day_zero: None,
        }
    }

    /// The same axis, in the unit of a kind of quantity.
    #[must_use]
    pub fn of(self, row: &'static Row) -> Self {
        Self { row: Some(row), ..self }
    }
}

impl Panel {
    /// A panel of layers, whose axis begins where they do.
    #[must_use]
    pub fn new(label: impl Into<Label>, row: &'static Row, layers: Vec<Layer>) -> Self {
        Self { label: label.into(), row, from_zero: false, layers }
    }

    /// The same panel, its axis beginning at nothing.
    #[must_use]
    pub fn from_zero(self) -> Self {
        Self { from_zero: true, ..self }
    }
}

impl Layer {
    /// A height that something is held to.
    #[must_use]
    pub fn limit(label: impl Into<Label>, at: f64) -> Self {
        Self::Limit { label: label.into(), at }
    }

    /// A line through points.
    #[must_use]
    pub fn line(label: impl Into<Label>, points: Vec<(f64, f64)>) -> Self {
        Self::Line { label: label.into(), points }
    }

    /// A moment that something happens.
    #[must_use]
    pub fn event(label: impl Into<Label>, at: f64) -> Self {
        Self::Event { label: label.into(), at }
    }
}
