//! What holds of every calendar.

use super::{date, planned, small, total};
use crate::{assert_near, number, solve};
use proptest::prelude::*;
use serde_json::{Value, json};

type Drawn = (Vec<(u32, u32, u32, u32)>, u32, u32, u32);

/// A shop of a few sumps whose crew is busy.
fn any_shop() -> impl Strategy<Value = Drawn> {
    let sump = (1..8_u32, 1..6_u32, 20..90_u32, 0..90_u32);
    (proptest::collection::vec(sump, 2..7), 3..8_u32, 0..3_u32, 4..12_u32)
}

fn question(drawn: &Drawn) -> Value {
    let (sumps, hours, kind, weeks) = drawn;
    let sumps: Vec<Value> = sumps
        .iter()
        .enumerate()
        .map(|(i, (volume, hours, longest, age))| {
            let cleaned = date(&json!("2027-01-04")).later(-i64::from(age % longest));
            json!({
                "name": format!("sump {i}"), "volume": 50 * volume, "product": "product A",
                "hours": f64::from(*hours) / 2.0, "cleaned_on": cleaned,
                "longest_days": longest, "downtime_price": 40 * (i % 3),
            })
        })
        .collect();
    let mut question = small(|q| {
        q["sumps"] = sumps.into();
        q["weeks"] = (*weeks).into();
        q["crews"] = json!([
            { "name": "crew", "works_on": ["tuesday", "friday"], "hours_a_day": hours, "price": 40 },
            { "name": "Saturday", "works_on": ["saturday"], "hours_a_day": 3, "price": 60 },
        ]);
    });
    if *kind > 0 {
        question["recycler"] = json!({ "tank": 500, "throughput": 10, "recovered": 60 });
    }
    if *kind > 1 {
        question["waste"] = json!({
            "density": 1, "price": 0.4, "other_per_month": 30,
            "categories": { "small": 80, "large": 400 },
        });
    }
    question
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..Default::default() })]

    /// No interval is passed and no limit (`planned` walks through every day); the parts are the
    /// whole; no bound is above its plan; the same question has the same answer.
    #[test]
    fn every_plan_holds(drawn in any_shop()) {
        let question = question(&drawn);
        if solve("calendar", &question).is_ok() {
            let record = planned(&question);
            let parts: f64 = ["fluid", "work", "downtime", "waste", "pickups", "categories", "life", "moving"]
                .iter().map(|part| number(&record, &format!("/answer/cost/{part}"))).sum();
            assert_near(parts, total(&record), 1e-6);
            prop_assert!(number(&record, "/answer/at_least") <= total(&record) + 1e-6);
            prop_assert_eq!(record.to_string(), planned(&question).to_string());
        }
    }

    /// More hours never cost more than the plan with fewer, but for what the plan may be dearer than the
    /// cheapest.
    #[test]
    fn more_hours_never_cost_more(drawn in any_shop(), more in 1..4_u32) {
        let question = question(&drawn);
        let Ok(tight) = solve("calendar", &question) else { return Ok(()) };
        let mut relaxed = question.clone();
        for crew in relaxed["crews"].as_array_mut().expect("crews") {
            crew["hours_a_day"] = (crew["hours_a_day"].as_f64().expect("hours") + f64::from(more)).into();
        }
        let relaxed = planned(&relaxed);
        let gap = total(&relaxed) - number(&relaxed, "/answer/at_least");
        prop_assert!(total(&relaxed) <= total(&tight) + gap + 1e-6);
        prop_assert!(number(&relaxed, "/answer/at_least") <= total(&tight) + 1e-6);
    }

    /// A plan that is handed in again stays as it is; where one sump has to come sooner, others move only
    /// where that is worth their price.
    #[test]
    fn an_agreed_plan_is_kept(drawn in any_shop(), which in 0..6_usize) {
        let mut question = question(&drawn);
        let Ok(first) = solve("calendar", &question) else { return Ok(()) };
        let clean_outs = first["answer"]["clean_outs"].as_array().expect("a list");
        if clean_outs.is_empty() {
            return Ok(());
        }
        let agreed: Vec<Value> = clean_outs.iter()
            .map(|own| json!({ "sump": own["sump"], "day": own["day"] })).collect();
        question["agreed"] = agreed.into();
        question["moving_price"] = 1000.into();
        let again = planned(&question);
        prop_assert_eq!(&again["answer"]["moved"], &json!([]));
        prop_assert!(total(&again) <= total(&first) + 1e-6);
        let which = which % question["sumps"].as_array().expect("sumps").len();
        question["sumps"][which]["due_by"] = "2027-01-15".into();
        let Ok(sooner) = solve("calendar", &question) else { return Ok(()) };
        let moved = sooner["answer"]["moved"].as_array().expect("a list").len();
        #[expect(clippy::cast_precision_loss, reason = "a few clean-outs")]
        let paid = 1000.0 * moved as f64;
        assert_near(number(&sooner, "/answer/cost/moving"), paid, 1e-6);
    }

    /// A clean-out may slip to the day that its line says: the plan with it there is kept as it is
    /// agreed.
    #[test]
    fn a_clean_out_may_slip_as_far_as_it_says(drawn in any_shop(), which in 0..20_usize) {
        let mut question = question(&drawn);
        let Ok(first) = solve("calendar", &question) else { return Ok(()) };
        let clean_outs = first["answer"]["clean_outs"].as_array().expect("a list");
        if clean_outs.is_empty() {
            return Ok(());
        }
        let which = which % clean_outs.len();
        let agreed: Vec<Value> = clean_outs.iter().enumerate().map(|(i, own)| {
            let day = if i == which { &own["may_slip_to"] } else { &own["day"] };
            json!({ "sump": own["sump"], "day": day, "fixed": true })
        }).collect();
        question["agreed"] = agreed.into();
        let slipped = planned(&question);
        prop_assert!(number(&slipped, "/answer/at_least") <= total(&slipped) + 1e-6);
    }
}
