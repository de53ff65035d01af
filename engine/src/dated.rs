//! What happens on days, as data: an answer that a calendar can show. How it is written is the
//! border's affair.

use crate::text::{CalendarDate, Sentence};

/// The days on which something is to be done.
#[derive(Debug, Clone, PartialEq)]
pub struct DatedEvents {
    /// The day from which the answer looks ahead: that of the question, for the engine has no clock.
    pub made_on: CalendarDate,
    /// What is to be done, in the order of the days.
    pub events: Vec<DatedEvent>,
}

/// Something to be done on a day.
#[derive(Debug, Clone, PartialEq)]
pub struct DatedEvent {
    /// What tells it from all others of this calculation, and stays the same where only its day
    /// changes.
    pub key: String,
    /// The day.
    pub day: CalendarDate,
    /// What it is, in a line.
    pub title: Sentence,
    /// What has to be known of it.
    pub text: Sentence,
}

/// Lists what an answer dates.
pub type ListEvents<Question, Answer> = fn(&Question, &Answer) -> Option<DatedEvents>;
