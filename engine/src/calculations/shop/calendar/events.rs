//! What a calendar dates: each clean-out, and each pickup.

use super::answer::{CalendarAnswer, PlannedCleanOut};
use super::question::Calendar;
use crate::dated::{DatedEvent, DatedEvents};
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::Sentence;

impl Calendar {
    /// A clean-out is told from the others by the day that it is due by, which stays the same where
    /// a plan that is made anew moves it.
    pub(super) fn events(&self, answer: &CalendarAnswer) -> Option<DatedEvents> {
        let clean_outs = answer.clean_outs.iter().map(|own| DatedEvent {
            key: format!("clean-out/{}/{}", own.sump.as_str(), own.due_by),
            day: own.day,
            title: sentence!("Clean out {}", &own.sump),
            text: said(own),
        });
        let pickups = answer.pickups.iter().flatten().enumerate().map(|(i, own)| DatedEvent {
            key: format!(
                "pickup/{}/{}",
                self.from.day().map(|d| d.to_string()).unwrap_or_default(),
                i + 1
            ),
            day: own.day,
            title: sentence!("Have waste picked up by the end of the day"),
            text: sentence!("{} are there.", own.mass.roughly()),
        });
        let mut events: Vec<DatedEvent> = clean_outs.chain(pickups).collect();
        events.sort_by_key(|event| event.day);
        Some(DatedEvents { made_on: self.from.day()?, events })
    }
}

fn said(own: &PlannedCleanOut) -> Sentence {
    let product = match &own.product {
        Some(product) => sentence!(" of {}", product),
        None => sentence!(""),
    };
    sentence!(
        "{}: drain, clean out, fill {}{}; {} of work. At the latest on {}; due by {}.",
        &own.crew,
        own.volume.roughly(),
        product,
        own.hours.roughly(),
        own.may_slip_to.said(),
        own.due_by.said()
    )
}
