//! What a calendar loads, walked through day by day from the question and the days alone: by hand, and
//! by the calculations that know tanks and waste.

use super::{day_of, planned};
use crate::support::example;
use crate::{assert_near, number, solve};
use serde_json::{Value, json};
use std::collections::BTreeMap;

const DAYS: [&str; 7] =
    ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];

/// The day of the week of a day since 1970, which was a Thursday.
fn weekday(day: i64) -> &'static str {
    DAYS[usize::try_from((day + 3).rem_euclid(7)).expect("0 to 6")]
}

/// Monday of its week.
fn week(day: i64) -> i64 {
    day - (day + 3).rem_euclid(7)
}

fn within(spans: &Value, day: i64) -> bool {
    spans.as_array().into_iter().flatten().any(|span| {
        let from = day_of(&span["from"]);
        let to = if span["to"].is_null() { from } else { day_of(&span["to"]) };
        (from..=to).contains(&day)
    })
}

fn on(list: &Value, usual: &[&str], day: i64) -> bool {
    match list.as_array() {
        Some(own) => own.iter().any(|own| own == weekday(day)),
        None => usual.contains(&weekday(day)),
    }
}

fn or(value: &Value, default: f64) -> f64 {
    value.as_f64().unwrap_or(default)
}

/// The clean-outs of a sump, in order.
fn days_of(answer: &Value, name: &Value) -> Vec<i64> {
    let all = answer["clean_outs"].as_array().expect("a list").iter();
    all.filter(|own| own["sump"] == *name).map(|own| day_of(&own["day"])).collect()
}

/// No interval is passed and no limit.
#[track_caller]
pub(super) fn holds(question: &Value, answer: &Value) {
    let from = day_of(&question["from"]);
    let end = from + 7 * question["weeks"].as_i64().unwrap_or(52);
    for sump in question["sumps"].as_array().expect("sumps") {
        #[expect(clippy::cast_possible_truncation, reason = "days of a few years")]
        let whole = |days: f64| days as i64;
        let longest = whole(or(&sump["longest_days"], 365.0));
        let shortest = whole(or(&sump["shortest_days"], 1.0)).max(1);
        let mut due = day_of(&sump["cleaned_on"]) + longest;
        if !sump["due_by"].is_null() {
            due = due.min(day_of(&sump["due_by"]));
        }
        if due < from {
            due = from + whole(or(&question["overdue_within_days"], 14.0)) - 1;
        }
        let days = days_of(answer, &sump["name"]);
        for day in &days {
            assert!((from..end).contains(day) && *day <= due, "{sump}: {day} of {days:?}, {due}");
            due = day + longest;
        }
        assert!(due >= end, "{sump}: past its interval at the end");
        assert!(days.windows(2).all(|pair| pair[1] - pair[0] >= shortest), "{sump}: {days:?}");
    }
    crews(question, answer);
    tank(question, answer, from, end);
}

fn crews(question: &Value, answer: &Value) {
    let mut hours: BTreeMap<(String, i64), f64> = BTreeMap::new();
    let mut fluid = hours.clone();
    let mut weeks = hours.clone();
    let sumps = question["sumps"].as_array().expect("sumps");
    for own in answer["clean_outs"].as_array().expect("a list") {
        let sump = sumps.iter().find(|sump| sump["name"] == own["sump"]).expect("a sump");
        let (crew, day) = (own["crew"].as_str().expect("a crew").to_owned(), day_of(&own["day"]));
        *hours.entry((crew.clone(), day)).or_default() += number(sump, "/hours");
        *weeks.entry((crew.clone(), week(day))).or_default() += number(sump, "/hours");
        *fluid.entry((crew.clone(), day)).or_default() += number(sump, "/volume");
        if sump["only_standing"] == true {
            assert!(
                on(&sump["stands_on"], &DAYS[5..], day)
                    || within(&sump["stands"], day)
                    || within(&question["standing"], day)
                    || within(&question["closed"], day),
                "{own}"
            );
        }
    }
    for crew in question["crews"].as_array().expect("crews") {
        let name = crew["name"].as_str().expect("a name");
        let own = |load: &BTreeMap<(String, i64), f64>| -> Vec<(i64, f64)> {
            let own = load.iter().filter(|((crew, _), _)| crew == name);
            own.map(|((_, day), load)| (*day, *load)).collect()
        };
        let most = |load: &BTreeMap<(String, i64), f64>, member: &str| {
            let limit = or(&crew[member], f64::INFINITY) * (1.0 + 1e-9);
            assert!(own(load).iter().all(|(_, load)| *load <= limit), "{name}: {member}");
        };
        most(&hours, "hours_a_day");
        most(&weeks, "hours_a_week");
        most(&fluid, "fluid_a_day");
        for (day, _) in own(&hours) {
            let works = on(&crew["works_on"], &DAYS[..5], day);
            assert!(works && !within(&crew["away"], day) && !within(&question["closed"], day));
        }
    }
}

/// What comes in on a day stands on what is left; so much drains by its end.
fn tank(question: &Value, answer: &Value, from: i64, end: i64) {
    let recycler = &question["recycler"];
    if recycler.is_null() {
        return;
    }
    let mut level = or(&recycler["level"], 0.0);
    let mut fullest: BTreeMap<i64, f64> = BTreeMap::new();
    for day in from..end {
        let own = answer["clean_outs"].as_array().expect("a list").iter();
        let own = own.filter(|own| day_of(&own["day"]) == day);
        level += own.map(|own| number(own, "/volume")).sum::<f64>();
        assert!(level <= number(recycler, "/tank") * (1.0 + 1e-9), "day {day}: {level}");
        let most = fullest.entry(week(day)).or_default();
        *most = most.max(level);
        if on(&recycler["runs_on"], &DAYS[..5], day) && !within(&question["closed"], day) {
            let drains = number(recycler, "/throughput") * or(&recycler["hours_a_day"], 8.0);
            level = (level - drains).max(0.0);
        }
    }
    let weeks = answer["weeks"].as_array().expect("weeks");
    assert_eq!(weeks.len(), fullest.len());
    for (week, most) in weeks.iter().zip(fullest.values()) {
        assert_near(number(week, "/tank"), *most, 1e-6);
    }
}

/// `recycler` finds the same smallest dirty tank for what the calendar drains: no arrival on a closed day
/// shifts it, since the recycler of that calculation knows days of the week alone.
#[test]
fn the_recycler_finds_the_same_fullest_tank() {
    let mut question = example("calendar");
    question.as_object_mut().expect("members").remove("closed");
    let record = planned(&question);
    let from = day_of(&question["from"]);
    let clean_outs = record["answer"]["clean_outs"].as_array().expect("a list");
    let arrivals: Vec<Value> = clean_outs
        .iter()
        .map(|own| json!({ "day": day_of(&own["day"]) - from, "volume": own["volume"] }))
        .collect();
    let recycler = &question["recycler"];
    let asked = json!({
        "units": "metric",
        "feed": { "arrivals": arrivals, "concentration": 6 },
        "stages": [{ "name": "recycler", "throughput": recycler["throughput"] }],
        "mode": "single_pass",
        "hours_per_day": recycler["hours_a_day"],
        "starts_at_hour": 8,
        "runs_on": [0, 1, 2, 3, 4],
        "plan_days": 7 * question["weeks"].as_i64().expect("weeks"),
        "tanks": {
            "dirty": { "capacity": recycler["tank"], "level": recycler["level"] },
            "clean": { "capacity": 1e6 },
        },
        "target": { "concentration": 6 },
    });
    let walked = solve("recycler", &asked).unwrap_or_else(|problem| panic!("{problem:?}"));
    let weeks = record["answer"]["weeks"].as_array().expect("weeks").iter();
    let fullest = weeks.map(|week| number(week, "/tank")).fold(0.0, f64::max);
    assert_near(number(&walked, "/answer/smallest/dirty"), fullest, 1e-6);
    assert!(walked["answer"]["first_overflow"].is_null());
}

/// The months' waste by hand, and the category that the shop's own calculation of waste gives it.
#[test]
fn the_waste_of_the_months_is_what_its_clean_outs_leave() {
    let question = example("calendar");
    let record = planned(&question);
    let recovered = number(&question, "/recycler/recovered") / 100.0;
    let sumps = question["sumps"].as_array().expect("sumps");
    let end = day_of(&question["from"]) + 7 * question["weeks"].as_i64().expect("weeks");
    let months = record["answer"]["months"].as_array().expect("months");
    for (i, month) in months.iter().enumerate() {
        let from = day_of(&month["from"]);
        let to = months.get(i + 1).map_or(end, |next| day_of(&next["from"]));
        let own = record["answer"]["clean_outs"].as_array().expect("a list").iter();
        let own = own.filter(|own| (from..to).contains(&day_of(&own["day"])));
        let of_clean_outs: f64 = own
            .map(|own| {
                let sump = sumps.iter().find(|sump| sump["name"] == own["sump"]).expect("a sump");
                number(sump, "/sludge") + (1.0 - recovered) * number(sump, "/volume")
            })
            .sum();
        #[expect(clippy::cast_precision_loss, reason = "days of a month")]
        let other = number(&question, "/waste/other_per_month") / 30.0 * (to - from) as f64;
        let mass = of_clean_outs + other;
        assert_near(number(month, "/mass"), mass, 1e-6);
        // 40 CFR 262.13: to 100 kg very small, from 1000 kg large.
        let category = match mass {
            mass if mass <= 100.0 => "very_small",
            mass if mass < 1000.0 => "small",
            _ => "large",
        };
        assert_eq!(month["category"], category, "{month}");
    }
}
