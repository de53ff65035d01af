//! What holds of every plan.

use crate::solve;
use proptest::prelude::*;
use serde_json::{Value, json};

fn day(number: u32) -> String {
    format!("2026-11-{:02}", 1 + number % 30)
}

fn machine(i: usize, days: &[u32]) -> Value {
    let mut machine = json!({ "name": format!("machine {i}") });
    let members = ["looked_at", "strength_on", "ph_on", "nitrite_on", "slide_on", "cleaned_on"];
    for (member, number) in members.iter().zip(days) {
        // Every fifth was never done.
        if number % 5 != 0 {
            machine[*member] = day(*number).into();
        }
    }
    machine
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Every test of every machine that works is due or comes within the longest interval, once;
    /// what is due comes in order, and a day later nothing that was due is due no longer.
    #[test]
    fn nothing_is_forgotten(days in proptest::collection::vec(proptest::collection::vec(0_u32..30, 6), 1..6)) {
        let machines: Vec<Value> = days.iter().enumerate().map(|(i, days)| machine(i, days)).collect();
        let plan = |today: &str| {
            let question = json!({
                "units": "metric", "today": today, "machines": machines, "days_ahead": 366,
            });
            solve("test-plan", &question).expect("an answer")["answer"].take()
        };
        let today = plan("2026-11-30");
        let named = |answer: &Value, list: &str| -> Vec<String> {
            let list = answer[list].as_array().expect("a list").iter();
            list.map(|one| format!("{} {}", one["machine"], one["test"])).collect()
        };
        let (due, coming) = (named(&today, "due"), named(&today, "coming"));
        let mut all: Vec<_> = due.iter().chain(&coming).collect();
        all.sort();
        all.dedup();
        prop_assert_eq!(all.len(), 6 * machines.len());
        prop_assert_eq!(all.len(), due.len() + coming.len());
        let overdue: Vec<f64> = today["due"].as_array().expect("a list").iter()
            .map(|one| one["overdue_days"].as_f64().unwrap_or(f64::INFINITY)).collect();
        prop_assert!(overdue.windows(2).all(|pair| pair[0] >= pair[1]), "{overdue:?}");
        let later = named(&plan("2026-12-01"), "due");
        prop_assert!(due.iter().all(|test| later.contains(test)));
    }
}
