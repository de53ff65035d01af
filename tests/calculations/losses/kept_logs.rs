//! Logs as people keep them: dates alone, filled up, by the dipstick, weekends; and what they hide.

use crate::support::findings;
use crate::{assert_near, number, solve};
use serde_json::{Value, json};

/// A shop that works from Monday to Friday but for a holiday, and reads its sump in the morning of
/// each day of work: 9 L evaporate and 6 L go out on a day of work, 2 L evaporate on another.
/// Exact, in closed form: the volume falls evenly within a day.
fn shop(date: impl Fn(i8, i8) -> String, write: impl Fn(&mut Value, f64, f64)) -> Vec<Value> {
    const LENGTHS: [i8; 2] = [28, 31];
    let (mut v, mut c) = (194.0_f64, 15.52_f64);
    let mut entries = Vec::new();
    let mut day = 0;
    for (month, length) in [2, 3].into_iter().zip(LENGTHS) {
        for of_month in 1..=length {
            // 2026-02-01 was a Sunday.
            let works = !matches!(day % 7, 0 | 6) && (month, of_month) != (2, 18);
            day += 1;
            if works {
                let mut entry =
                    json!({ "at": date(month, of_month), "concentration": 100.0 * c / v });
                write(&mut entry, v, 200.0 - v);
                if v < 170.0 {
                    entry["added"]["of"] = if day % 2 == 0 { "weak" } else { "water" }.into();
                    let strength = if day % 2 == 0 { 0.03 } else { 0.0 };
                    (v, c) = (200.0, c + (200.0 - v) * strength);
                }
                entries.push(entry);
            }
            let (lost, kept) = if works { (15.0, 0.4) } else { (2.0, 0.0) };
            c *= ((v - lost) / v).powf(kept);
            v -= lost;
        }
    }
    entries
}

#[expect(clippy::needless_pass_by_value, reason = "made where it is handed over")]
fn asked(log: Vec<Value>) -> Value {
    json!({
        "units": "metric", "sump": { "capacity": 200 }, "log": log,
        "reading_uncertainty": { "volume": 2, "concentration": 0.12 },
        "fluids": [{ "name": "weak", "concentration": 3 }],
        "calendar": { "holidays": ["2026-02-18"], "hours": 15 },
    })
}

fn iso(month: i8, day: i8) -> String {
    format!("2026-{month:02}-{day:02}")
}

/// A level every day, or only "filled to full" and the litres: both show the losses of a day of work,
/// and what evaporates over a weekend by itself.
#[test]
fn a_log_of_working_days_shows_what_a_working_day_loses() {
    let by_level = shop(iso, |entry, v, room| {
        entry["volume"] = v.into();
        if v < 170.0 {
            entry["added"] = json!({ "volume": room });
        }
    });
    let by_filling = shop(iso, |entry, v, room| {
        if v < 170.0 {
            entry["added"] = json!({ "volume": room });
            entry["filled_to"] = "full".into();
        }
    });
    for log in [by_level, by_filling] {
        let record = solve("losses", &asked(log)).expect("it is answered");
        for (rate, truth) in [("evaporation", 9.0), ("carry_off", 6.0), ("standing", 2.0)] {
            assert_near(number(&record, &format!("/answer/{rate}/value")), truth, 0.02);
        }
        assert_eq!(record["answer"]["of_a_day"], "day_of_work");
        assert_near(number(&record, "/answer/per_running_hour/evaporation/value"), 0.6, 0.002);
        assert_eq!(record["answer"]["suspects"], json!([]));
        let statement = record["statement"].as_str().expect("a statement");
        assert!(statement.contains("on a day of work, and 2"), "{statement}");
    }
}

/// Where the litres that filled it up are not written down, the levels read in between show the loss,
/// and where there are none, what water and premix in turn do to the strengths, less surely.
#[test]
fn a_log_that_only_says_filled_up_shows_the_loss_by_levels_or_by_strengths() {
    let filled = |with_levels: bool| {
        shop(iso, move |entry, v, _| {
            if with_levels && v >= 170.0 {
                entry["volume"] = v.into();
            }
            if v < 170.0 {
                entry["added"] = json!({});
                entry["filled_to"] = "full".into();
            }
        })
    };
    let record = solve("losses", &asked(filled(true))).expect("it is answered");
    assert_near(number(&record, "/answer/evaporation/value"), 9.0, 0.05);
    assert_near(number(&record, "/answer/carry_off/value"), 6.0, 0.05);
    let sure = number(&record, "/answer/evaporation/u");
    let record = solve("losses", &asked(filled(false))).expect("it is answered");
    for (rate, truth) in [("evaporation", 9.0), ("carry_off", 6.0), ("standing", 2.0)] {
        assert_near(number(&record, &format!("/answer/{rate}/value")), truth, 0.05);
    }
    let unsure = number(&record, "/answer/evaporation/u");
    assert!(2.0 * sure < unsure && unsure < 1.0, "{sure}, {unsure}");
}

/// The same log with its dates as a spreadsheet writes them, and as moments with their offset; a
/// clock that is set forward makes one day an hour shorter.
#[test]
fn dates_are_taken_as_they_are_written() {
    let by_level = |date: fn(i8, i8) -> String| {
        let mut question = asked(shop(date, |entry, v, room| {
            entry["volume"] = v.into();
            if v < 170.0 {
                entry["added"] = json!({ "volume": room });
            }
        }));
        question["date_order"] = "month_first".into();
        question
    };
    let rate = |question: &Value| {
        let record = solve("losses", question).expect("it is answered");
        number(&record, "/answer/evaporation/value")
    };
    let plain = rate(&by_level(iso));
    assert_near(rate(&by_level(|month, day| format!("{month}/{day}/2026"))), plain, 1e-12);
    assert_near(rate(&by_level(|month, day| format!("{month}/{day}/2026 6:00 AM"))), plain, 1e-12);
    let zoned = |date| {
        let mut question = by_level(date);
        question["time_zone"] = "Europe/Berlin".into();
        question
    };
    // On 2026-03-29 clocks went from 2 to 3.
    let offset: fn(i8, i8) -> String = |month, day| {
        let hours = if (month, day) >= (3, 29) { 2 } else { 1 };
        format!("2026-{month:02}-{day:02}T06:00:00+0{hours}:00")
    };
    let summer = rate(&zoned(iso));
    assert_near(rate(&by_level(offset)), summer, 1e-9);
    assert!((summer - plain).abs() > 1e-6, "the hour is not counted");
}

/// No noise, 3 L of neat concentrate that nobody wrote down after day 10: the rates are right, and it
/// is named.
#[test]
fn unwritten_concentrate_is_named_and_does_not_bend_the_rates() {
    for litres in [2.0, 3.0, 4.0] {
        let (mut v, mut c) = (190.0_f64, 15.2_f64);
        let mut log = Vec::new();
        for day in 0..22 {
            let mut entry = json!({ "day": day, "volume": v, "concentration": 100.0 * c / v });
            if day % 5 == 3 {
                entry["added"] = json!({ "volume": 40, "concentration": 4 });
                (v, c) = (v + 40.0, c + 1.6);
            }
            log.push(entry);
            if day == 10 {
                (v, c) = (v + litres, c + litres);
            }
            c *= ((v - 8.0) / v).powf(3.0 / 8.0);
            v -= 8.0;
        }
        let question = json!({
            "units": "metric", "sump": { "capacity": 220 }, "log": log,
            "reading_uncertainty": { "volume": 2, "concentration": 0.12 },
        });
        let record = solve("losses", &question).expect("it is answered");
        let found = &record["answer"]["suspects"][0];
        assert_eq!(found["kind"], "unrecorded_addition", "{litres} L: {record:#}");
        assert_near(number(&record, "/answer/evaporation/value"), 5.0, 0.3);
        assert_near(number(&record, "/answer/carry_off/value"), 3.0, 0.3);
    }
}

/// A level by the dip table, a mark, and a clean-out after which nothing is as before.
#[test]
fn levels_marks_and_clean_outs_are_understood() {
    let entry = |day: i32, more: Value| {
        let mut entry = json!({ "day": day });
        entry.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        entry
    };
    // 100 L a decimetre; 10 L of water a day evaporate, 5 L go out on chips.
    let after = |from: (f64, f64), days: f64| {
        let v = from.0 - 15.0 * days;
        (v, from.1 * (v / from.0).powf(1.0 / 3.0))
    };
    let (first, second) = ((200.0, 16.0), (180.0, 10.8));
    let read = |(v, c): (f64, f64)| json!({ "level": v, "concentration": 100.0 * c / v });
    let mut cleaned = read(after(first, 4.0));
    cleaned["happened"] = "cleaned_out".into();
    cleaned["added"] = json!({ "concentration": 6 });
    cleaned["filled_to"] = "upper bolt".into();
    let log = json!([
        entry(0, read(first)),
        entry(2, read(after(first, 2.0))),
        entry(4, cleaned),
        entry(6, read(after(second, 2.0))),
        entry(9, read(after(second, 5.0))),
    ]);
    let question = json!({
        "units": "metric", "log": log,
        "sump": {
            "capacity": 200,
            "dip_table": [{ "level": 0, "volume": 0 }, { "level": 250, "volume": 250 }],
            "marks": [{ "name": "upper bolt", "volume": 180 }],
        },
        "reading_uncertainty": { "volume": 2, "concentration": 0.12 },
    });
    let record = solve("losses", &question).expect("it is answered");
    assert_near(number(&record, "/answer/evaporation/value"), 10.0, 1e-6);
    assert_near(number(&record, "/answer/carry_off/value"), 5.0, 1e-6);
}

/// Drained on one day and filled on another, it loses nothing in between.
#[test]
fn a_sump_stands_empty_until_it_is_filled() {
    let after = |from: (f64, f64), days: f64| {
        let v = from.0 - 15.0 * days;
        (v, from.1 * (v / from.0).powf(1.0 / 3.0))
    };
    let read = |day: i32, (v, c): (f64, f64)| json!({ "day": day, "volume": v, "concentration": 100.0 * c / v });
    let (first, second) = ((200.0, 16.0), (190.0, 11.4));
    let mut drained = read(4, after(first, 4.0));
    drained["happened"] = "drained".into();
    let filled = json!({ "day": 7, "added": { "volume": 190, "concentration": 6 } });
    let log = json!([
        read(0, first),
        read(2, after(first, 2.0)),
        drained,
        filled,
        read(9, after(second, 2.0)),
        read(12, after(second, 5.0)),
    ]);
    let question = json!({
        "units": "metric", "log": log, "sump": { "capacity": 200 },
        "reading_uncertainty": { "volume": 2, "concentration": 0.12 },
    });
    let record = solve("losses", &question).expect("it is answered");
    assert_near(number(&record, "/answer/evaporation/value"), 10.0, 1e-5);
    assert_near(number(&record, "/answer/carry_off/value"), 5.0, 1e-5);
    let record = solve("sump-state", &question).expect("it is answered");
    assert_near(number(&record, "/answer/now/volume/value"), 115.0, 3.0);
}

/// Twelve litres of water a day leave no sump of a third of a square metre through its surface:
/// 15.4 L/day a square metre at 35 °C by the handbook, three times that at most.
#[test]
fn what_cannot_evaporate_leaks() {
    let asked = |surface: f64| {
        let entries = (0..12).map(|day| {
            let v = 200.0 - 12.0 * f64::from(day);
            json!({ "day": day, "volume": v, "concentration": 1600.0 / v })
        });
        json!({
            "units": "metric", "sump": { "capacity": 200, "surface": surface },
            "log": entries.collect::<Vec<_>>(),
            "reading_uncertainty": { "volume": 1, "concentration": 0.1 },
        })
    };
    assert_eq!(findings("losses", &asked(0.2), "more-than-evaporates").len(), 1);
    assert!(findings("losses", &asked(0.35), "more-than-evaporates").is_empty());
}

/// What a wrong factor throughout would do is said where the carry-off hangs on it.
#[test]
fn what_a_log_cannot_tell_of_the_factor_is_said() {
    let (mut v, mut c) = (195.0_f64, 15.6_f64);
    let mut log = Vec::new();
    for day in 0..25 {
        let mut entry = json!({ "day": day, "volume": v, "concentration": 100.0 * c / v });
        if v < 170.0 {
            entry["added"] = json!({ "volume": 30, "concentration": 3.2 });
            (v, c) = (v + 30.0, c + 0.96);
        }
        log.push(entry);
        c *= ((v - 15.0) / v).powf(0.4);
        v -= 15.0;
    }
    let question = json!({
        "units": "metric", "sump": { "capacity": 200 }, "log": log,
        "reading_uncertainty": { "volume": 2, "concentration": 0.12 },
    });
    let record = solve("losses", &question).expect("it is answered");
    let said = record["assumptions"].to_string();
    assert!(said.contains("had all strengths been read"), "{said}");
}
