//! What an answer dates as iCalendar (RFC 5545), for the shop's own calendar.
//!
//! Each event lasts the whole of its day. Lines end with CR LF and are folded at 75 octets, never
//! within a character (3.1); texts are escaped (3.3.11). A UID is made of the calculation and the
//! event's key alone, so that an answer that is asked for again changes events and doubles none;
//! DTSTAMP (3.8.7.2) is the day from which the answer looks ahead, for there is no clock here.

use std::fmt::Write as _;
use sumpwright_engine::VERSION;
use sumpwright_engine::dated::DatedEvent;
use sumpwright_engine::text::CalendarDate;
use sumpwright_openapi::dated::EventsToList;

/// The most octets of a line, without its end.
const OCTETS_MOST: usize = 75;

/// The events as a calendar.
#[must_use]
pub fn text(events: &EventsToList) -> String {
    let mut out = Lines::default();
    out.line("BEGIN", "VCALENDAR");
    out.line("VERSION", "2.0");
    out.line("PRODID", &format!("-//Sumpwright//{} {VERSION}//EN", events.calculation));
    out.line("CALSCALE", "GREGORIAN");
    out.line("METHOD", "PUBLISH");
    for event in &events.dated.events {
        one(event, events, &mut out);
    }
    out.line("END", "VCALENDAR");
    out.0
}

fn one(event: &DatedEvent, events: &EventsToList, out: &mut Lines) {
    out.line("BEGIN", "VEVENT");
    let uid = format!("{}/{}@sumpwright", events.calculation, event.key);
    out.line("UID", &escaped(&uid));
    out.line("DTSTAMP", &format!("{}T000000Z", digits(events.dated.made_on)));
    out.line("DTSTART;VALUE=DATE", &digits(event.day));
    if let Some(after) = event.day.later(1) {
        out.line("DTEND;VALUE=DATE", &digits(after));
    }
    out.line("SUMMARY", &escaped(&event.title.show(events.units)));
    out.line("DESCRIPTION", &escaped(&event.text.show(events.units)));
    if let Some(reference) = &events.reference {
        out.line("COMMENT", &escaped(reference));
    }
    // A machine that is cleaned out takes no hour of the calendar's owner.
    out.line("TRANSP", "TRANSPARENT");
    out.line("END", "VEVENT");
}

/// 20270104.
fn digits(day: CalendarDate) -> String {
    day.to_string().replace('-', "")
}

/// A text as a value: 3.3.11.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\\' | ';' | ',' => {
                out.push('\\');
                out.push(letter);
            }
            '\n' => out.push_str("\\n"),
            // Nothing else that controls is allowed in a text.
            letter if letter.is_control() => {}
            letter => out.push(letter),
        }
    }
    out
}

/// Lines of content, folded.
#[derive(Debug, Default)]
struct Lines(String);

impl Lines {
    fn line(&mut self, name: &str, value: &str) {
        let mut octets = 0;
        let mut whole = String::with_capacity(name.len() + value.len() + 1);
        let _ = write!(whole, "{name}:{value}");
        for letter in whole.chars() {
            if octets + letter.len_utf8() > OCTETS_MOST {
                self.0.push_str("\r\n ");
                octets = 1;
            }
            self.0.push(letter);
            octets += letter.len_utf8();
        }
        self.0.push_str("\r\n");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 5545, 3.1: no line is longer than 75 octets, and unfolding gives back what was folded.
    #[test]
    fn long_lines_are_folded_between_characters() {
        let mut lines = Lines::default();
        let long = "Schleifmaschine für Hülsen, ".repeat(9);
        lines.line("SUMMARY", &long);
        assert!(lines.0.split("\r\n").all(|line| line.len() <= OCTETS_MOST), "{}", lines.0);
        assert_eq!(lines.0.replace("\r\n ", ""), format!("SUMMARY:{long}\r\n"));
    }

    /// RFC 5545, 3.3.11.
    #[test]
    fn what_has_a_meaning_in_a_text_is_escaped() {
        assert_eq!(escaped("a\\b; c, d\ne\u{7}"), "a\\\\b\\; c\\, d\\ne");
    }
}
