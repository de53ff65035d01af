//! Pictures of an answer, as data: what is drawn, in which kind of quantity. How it looks, and in
//! which system of units its numbers read, is the border's affair.
//!
//! Every number is in the metric unit of its row. What is said on a picture is a [`Label`], or a
//! [`Sentence`](crate::text::Sentence) where it has amounts.

mod calendar;
mod flows;
mod limits;
mod panels;
mod rows;
mod ruler;
mod scale;
mod trips;
mod vessels;
mod waterfall;
mod year;

pub use calendar::{MonthDrawn, PickupDrawn, PickupYear};
pub use flows::{Flow, FlowNode, Flows};
pub use limits::LimitBar;
pub use panels::{Across, Bar, Layer, Panel, Panels};
pub use rows::{BarRow, BarRows, Varied, WhatMatters};
pub use ruler::DipRuler;
pub use scale::{Scale, ScaleMark};
pub use trips::{TripDrawn, Trips};
pub use vessels::{ContentKind, VesselContent, VesselDrawn, Vessels};
pub use waterfall::{Change, ChangeKind, Waterfall};
pub use year::{CalendarYear, DayDrawn, WeekDrawn};

use std::borrow::Cow;

/// Words on a picture, fixed or taken from the question.
pub type Label = Cow<'static, str>;

/// A picture of an answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// What it shows, in a line.
    pub title: Label,
    /// The currency of its money, where the question names one.
    pub currency: Option<Label>,
    /// What is drawn.
    pub shows: Shows,
}

/// What a picture shows.
#[derive(Debug, Clone, PartialEq)]
pub enum Shows {
    /// Quantities over time, or over another quantity.
    Panels(Panels),
    /// Tanks and what is in them.
    Vessels(Vessels),
    /// A number line with a band.
    Scale(Scale),
    /// Values between their limits.
    Limits(Vec<LimitBar>),
    /// Amounts beside each other, by what they are made up of.
    Rows(BarRows),
    /// What a result depends on, the strongest first.
    WhatMatters(WhatMatters),
    /// From one amount to another, change by change.
    Waterfall(Waterfall),
    /// The trips of a round.
    Trips(Trips),
    /// Streams between places, as wide as what flows in them.
    Flows(Flows),
    /// Months with the days on which something is taken away.
    Pickups(PickupYear),
    /// Weeks with what is done on each of their days.
    Year(CalendarYear),
    /// A ruler to print in its true size.
    Ruler(DipRuler),
}

impl Picture {
    /// A picture without money in it.
    #[must_use]
    pub fn new(title: impl Into<Label>, shows: Shows) -> Self {
        Self { title: title.into(), currency: None, shows }
    }

    /// The same picture, with money in this currency.
    #[must_use]
    pub fn in_currency(self, currency: Option<&str>) -> Self {
        Self { currency: currency.map(|name| Label::Owned(name.to_owned())), ..self }
    }
}
