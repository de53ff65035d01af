//! The calendar as a file of events, read by the rules of RFC 5545.

use super::planned;
use crate::server::{header, request};
use crate::support::example;
use crate::{SERVICES, spec};
use reqwest::blocking::Response;
use serde_json::Value;
use std::collections::BTreeSet;

/// The content lines of a calendar, unfolded (RFC 5545, 3.1): name with its parameters, and value.
fn lines(text: &str) -> Vec<(String, String)> {
    assert!(text.ends_with("\r\n") && !text.replace("\r\n", "").contains(['\r', '\n']));
    assert!(text.split("\r\n").all(|line| line.len() <= 75), "a line is too long");
    let whole = text.replace("\r\n ", "");
    let each = whole.trim_end().split("\r\n");
    each.map(|line| {
        let (name, value) = line.split_once(':').expect("a name and a value");
        (name.to_owned(), value.to_owned())
    })
    .collect()
}

/// A text as it was before it was escaped (RFC 5545, 3.3.11).
fn plain(value: &str) -> String {
    let (mut out, mut letters) = (String::new(), value.chars());
    while let Some(letter) = letters.next() {
        match letter {
            '\\' => out.push(match letters.next().expect("something is escaped") {
                'n' | 'N' => '\n',
                other => other,
            }),
            ',' | ';' => panic!("{value} is not escaped"),
            letter => out.push(letter),
        }
    }
    out
}

/// The events: for each its lines.
fn events(text: &str) -> Vec<Vec<(String, String)>> {
    let lines = lines(text);
    let begins = |name: &str| (name.to_owned(), "VCALENDAR".to_owned());
    assert_eq!(lines.first(), Some(&begins("BEGIN")));
    assert_eq!(lines.last(), Some(&begins("END")));
    let mut events: Vec<Vec<(String, String)>> = Vec::new();
    let mut inside = false;
    for (name, value) in lines {
        match (name.as_str(), value.as_str()) {
            ("BEGIN", "VEVENT") => {
                assert!(!inside);
                inside = true;
                events.push(Vec::new());
            }
            ("END", "VEVENT") => inside = false,
            _ if inside => events.last_mut().expect("an event").push((name, value)),
            _ => {}
        }
    }
    events
}

fn of<'a>(event: &'a [(String, String)], name: &str) -> &'a str {
    let found: Vec<_> = event.iter().filter(|(own, _)| own == name).collect();
    assert_eq!(found.len(), 1, "{name} of {event:?}");
    &found[0].1
}

fn asked(calculation: &str, question: &Value) -> String {
    let answered = request("POST", &format!("/v1/{calculation}"))
        .header("accept", "text/calendar")
        .json(question)
        .send()
        .expect("an answer");
    assert_eq!(answered.status(), 200);
    assert_eq!(header(&answered, "content-type"), "text/calendar; charset=utf-8");
    answered.text().expect("a text")
}

#[test]
fn each_clean_out_and_each_pickup_is_an_event_of_its_day() {
    let mut question = example("calendar");
    question["sumps"][1]["name"] =
        "lathe 2, hall; B\\C — für Hülsen mit einem langen Namen dazu".into();
    let record = planned(&question);
    let answer = &record["answer"];
    let text = asked("calendar", &question);
    let events = events(&text);
    let clean_outs = answer["clean_outs"].as_array().expect("a list");
    let pickups = answer["pickups"].as_array().expect("a list");
    assert_eq!(events.len(), clean_outs.len() + pickups.len());
    let uids: BTreeSet<&str> = events.iter().map(|event| of(event, "UID")).collect();
    assert_eq!(uids.len(), events.len());
    for own in clean_outs {
        let title = format!("Clean out {}", own["sump"].as_str().expect("a name"));
        let day = own["day"].as_str().expect("a day").replace('-', "");
        let event = events.iter().find(|event| {
            plain(of(event, "SUMMARY")) == title && of(event, "DTSTART;VALUE=DATE") == day
        });
        let event = event.unwrap_or_else(|| panic!("no {title} on {day} in {text}"));
        assert_eq!(of(event, "DTSTAMP"), "20270104T000000Z");
        assert!(of(event, "DTEND;VALUE=DATE") > day.as_str());
    }
    // The same question has the same events, and one that moves keeps its name.
    assert_eq!(text, asked("calendar", &question));
}

/// The address says it as well, and the document where it may be asked for.
#[test]
fn what_is_dated_is_offered_as_a_calendar_and_nothing_else_is() {
    let spec = spec();
    let mut offered = Vec::new();
    for service in SERVICES.iter() {
        let path = format!("/v1/{}", service.name);
        let answered = &spec["paths"][&path]["post"]["responses"]["200"];
        let answered = answered["$ref"].as_str().expect("a component");
        let content = &spec.pointer(&answered[1..]).expect("what is referred to")["content"];
        assert_eq!(content.get("text/calendar").is_some(), service.has_events(), "{path}");
        let asked = request("POST", &format!("{path}?format=ics"))
            .header("content-type", "application/json")
            .body(service.example)
            .send()
            .expect("an answer");
        assert_eq!(asked.status() == 200, service.has_events(), "{path}");
        if service.has_events() {
            offered.push(service.name);
            assert!(!events(&asked.text().expect("a text")).is_empty());
        }
    }
    assert_eq!(offered, ["test-plan", "calendar"]);
    let none = request("POST", "/v1/losses").header("accept", "text/calendar");
    let none = none.header("content-type", "application/json").body("{}");
    assert_eq!(none.send().expect("an answer").status(), 406);
    let picked = request("GET", "/v1/test-plan?units=metric&format=ics&pick=statement");
    let said = picked.send().and_then(Response::text).expect("a problem");
    assert!(said.contains("no calendar"), "{said}");
}
