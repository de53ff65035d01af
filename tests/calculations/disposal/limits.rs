//! Each month's waste keeps the rules of its own generator category.

use super::{assert_pickups_keep_the_limits, example, solved};
use crate::{assert_near, number};
use serde_json::{Value, json};

const MONTH: f64 = 365.0 / 12.0;

/// A given mass drained in each month, all of it counted, spread over its days.
fn drained(monthly: &[f64], storage: &Value) -> Value {
    let groups = monthly.iter().zip(1..).map(|(mass, month)| {
        json!({
            "name": format!("month {month}"),
            "volume": mass / 0.9982072,
            "concentration": 0,
            "losses": { "evaporation": 0, "carry_off": 0 },
            "change": { "habit": "calendar", "every_months": 240, "first_month": month },
        })
    });
    json!({
        "units": "metric",
        "months": monthly.len(),
        "groups": groups.collect::<Value>(),
        "storage": storage,
    })
}

fn codes(record: &Value) -> Vec<(&str, &str)> {
    let findings = record["findings"].as_array().expect("findings");
    findings
        .iter()
        .map(|f| (f["severity"].as_str().expect("one"), f["code"].as_str().expect("one")))
        .collect()
}

fn text_of(record: &Value, code: &str) -> String {
    let findings = record["findings"].as_array().expect("findings");
    let own = findings.iter().find(|finding| finding["code"] == code);
    own.unwrap_or_else(|| panic!("no {code} in {findings:#?}"))["text"]
        .as_str()
        .expect("a text")
        .into()
}

/// Days from the beginning of a month to the first pickup after it.
fn waits(record: &Value, month: f64) -> f64 {
    let begins = (month - 1.0) * MONTH;
    let pickups = record["answer"]["pickups"].as_array().expect("pickups");
    let after = pickups.iter().map(|pickup| number(pickup, "/day")).find(|day| *day > begins);
    after.unwrap_or(f64::INFINITY) - begins
}

/// 40 CFR 262.17: the waste of a month from 1000 kg is gone within 90 days, whatever
/// rules the request names; 262.16: that of the others within 180.
#[test]
fn waste_of_a_large_month_is_gone_within_90_days() {
    let mut monthly = [300.0; 12];
    monthly[8] = 2009.0;
    for rules in ["by_month", "very_small", "small"] {
        let record = solved(&drained(&monthly, &json!({ "rules": rules })));
        assert!(waits(&record, 9.0) <= 90.0, "{rules}: {}", record["answer"]["pickups"]);
        assert_pickups_keep_the_limits(&record);
        let laxer = codes(&record).contains(&("act", "months-of-a-large-generator"));
        assert_eq!(laxer, rules != "by_month", "{rules}");
        if laxer {
            let text = text_of(&record, "months-of-a-large-generator");
            assert!(text.contains("month 9") && text.contains("90 days"), "{text}");
            assert!(text.contains("40 CFR 262.17"), "{text}");
        }
    }
    // All months small: by 180 days, as before.
    let record = solved(&drained(&[300.0; 12], &json!({ "rules": "small" })));
    assert_eq!(number(&record, "/answer/pickups/0/day"), 180.0);
    assert_eq!(record["answer"]["storage"]["months_above_rules"], 0);
}

/// 40 CFR 262.14: a very small quantity generator that has 1000 kg or more on site
/// falls under more rules, so that it has less.
#[test]
fn a_very_small_generator_has_less_than_1000_kilograms() {
    let monthly = [100.0; 24];
    let record = solved(&drained(&monthly, &json!({ "rules": "very_small" })));
    let most = record["answer"]["pickups"].as_array().expect("pickups").iter();
    let most = most.map(|pickup| number(pickup, "/mass")).fold(0.0, f64::max);
    assert!(most < 1000.0 && most > 990.0, "{most}");
    assert_eq!(codes(&record), [("note", "us-codes-by-determination")]);
}

/// 40 CFR 262.230 to 262.233: the one month that its clean-out lifts could be an
/// episodic event of a generator that is very small or small; notified 30 days before
/// and gone within 60 days of its beginning.
#[test]
fn a_clean_out_month_is_offered_as_an_episodic_event() {
    for (usually, section, usual) in
        [(80.0, "40 CFR 262.232(a)", "very_small"), (400.0, "40 CFR 262.232(b)", "small")]
    {
        let mut question = drained(&[0.0; 12], &json!({ "rules": "by_month" }));
        question["groups"] = json!([
            {
                "name": "a press", "volume": 100, "concentration": 5,
                "losses": { "evaporation": 0, "carry_off": 0 },
                "filter": { "dry_mass": usually, "every_months": 1 },
            },
            {
                "name": "all sumps", "volume": 1500, "concentration": 0,
                "losses": { "evaporation": 0, "carry_off": 0 },
                "change": { "habit": "calendar", "every_months": 240, "first_month": 8 },
            },
        ]);
        let record = solved(&question);
        let events = record["answer"]["episodic_events"].as_array().expect("events");
        let [event] = &events[..] else { panic!("{events:#?}") };
        assert_eq!((number(event, "/month"), event["usual"].as_str()), (8.0, Some(usual)));
        assert_eq!(event["section"], section);
        assert_near(number(event, "/mass"), 1500.0 * 0.9982072, 1e-6);
        assert_near(number(event, "/rest"), usually, 1e-6);
        assert_near(number(event, "/notify_by"), (7.0 * MONTH - 30.0).floor(), 1e-9);
        assert_near(number(event, "/gone_by"), (7.0 * MONTH + 60.0).floor(), 1e-9);
        assert!(codes(&record).contains(&("watch", "episodic-event-possible")));
        let text = text_of(&record, "episodic-event-possible");
        assert!(text.contains(section) && text.contains("authority"), "{text}");
        // The plan does not use it.
        assert!(waits(&record, 8.0) <= 90.0);

        // A month that is large without its clean-outs is none, nor is any without rules.
        let mut always = question.clone();
        always["groups"][0]["filter"]["dry_mass"] = 1200.into();
        assert_eq!(solved(&always)["answer"]["episodic_events"], json!([]));
        question["storage"] = json!({ "days": 90 });
        assert_eq!(solved(&question)["answer"]["episodic_events"], json!([]));
    }
}

/// A clean-out in the first weeks leaves no time to give notice.
#[test]
fn an_event_too_soon_to_be_notified_says_so() {
    let mut monthly = [300.0; 12];
    monthly[0] = 2500.0;
    let record = solved(&drained(&monthly, &json!({ "rules": "small" })));
    let event = &record["answer"]["episodic_events"][0];
    assert_eq!(number(event, "/month"), 1.0);
    assert!(event.get("notify_by").is_none());
    assert!(text_of(&record, "episodic-event-possible").contains("put off"));
}

/// A day whose own waste exceeds the limit is reported, and the projection is still given.
#[test]
fn a_day_above_the_limit_is_said() {
    let mut question = example();
    question["storage"] = json!({ "mass": 300, "changes_fall": "on_the_last_day" });
    let record = solved(&question);
    let above = record["answer"]["storage"]["days_above"].as_array().expect("days");
    assert!(!above.is_empty());
    let picked: Vec<&Value> = record["answer"]["pickups"]
        .as_array()
        .expect("pickups")
        .iter()
        .map(|p| &p["day"])
        .collect();
    assert!(above.iter().all(|day| picked.contains(&day)));
    assert_eq!(codes(&record)[0], ("act", "day-above-limit"));
}

/// Loose waste fills its drums by volume.
#[test]
fn solids_fill_a_drum_by_volume_where_their_bulk_density_is_told() {
    let mut question = example();
    let drums = |record: &Value| {
        let streams = record["answer"]["streams"].as_array().expect("streams");
        let sludge = streams.iter().find(|own| own["stream"] == "sludge").expect("sludge");
        number(sludge, "/containers")
    };
    question["streams"] = json!([
        { "stream": "sludge", "container": { "name": "drum", "volume": 100 }, "bulk_density": 0.8 },
    ]);
    let loose = solved(&question);
    let month = loose["answer"]["months"][0]["streams"].as_array().expect("streams");
    let sludge = month.iter().find(|own| own["stream"] == "sludge").expect("sludge");
    assert_near(number(sludge, "/bulk_volume"), number(sludge, "/mass") / 0.8, 1e-9);
    question["streams"][0].as_object_mut().expect("terms").remove("bulk_density");
    let unsaid = solved(&question);
    assert!(drums(&loose) > drums(&unsaid));
    let assumptions = unsaid["assumptions"].to_string();
    assert!(assumptions.contains("fill up earlier than is said here"), "{assumptions}");
}
