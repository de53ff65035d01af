//! Weeks with their days: what is done on each, and how much of it is taken.

use super::Label;

/// Weeks below each other, Monday to Sunday.
#[derive(Debug, Clone, PartialEq)]
pub struct CalendarYear {
    /// The weeks, in order.
    pub weeks: Vec<WeekDrawn>,
}

/// A week.
#[derive(Debug, Clone, PartialEq)]
pub struct WeekDrawn {
    /// Its first day: "2027-01-04".
    pub from: Label,
    /// The month, where it is the first week drawn of it: "January 2027".
    pub month: Option<Label>,
    /// Its seven days.
    pub days: Vec<DayDrawn>,
    /// What is done, each with its day counted from 0 on Monday.
    pub names: Vec<(usize, Label)>,
}

/// A day.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct DayDrawn {
    /// Whether the plan has it.
    pub in_plan: bool,
    /// The share of the hours there are that is taken; none where nobody works.
    pub load: Option<f64>,
}
