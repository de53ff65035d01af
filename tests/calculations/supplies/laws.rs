//! Laws that every plan of supplies keeps.

use super::answer;
use crate::draws::held;
use proptest::prelude::*;
use serde_json::{Value, json};
use std::cell::Cell;
use sumpwright_engine::quantity::Quantity;

prop_compose! {
    fn any_plan()(
        on_hand in 0.0..900.0_f64,
        usage in 0.2..30.0_f64,
        spread in 0.0..0.6_f64,
        drum in prop::sample::select(vec![20.0, 60.0, 205.0, 1000.0]),
        lead in 0.0..30.0_f64,
        late in prop::option::of(0.0..6.0_f64),
        keeps in prop::option::of(20.0..400.0_f64),
        use_by in prop::option::of(0..90_u32),
        planned in prop::collection::vec((0..120_u32, 1.0..200.0_f64), 1..4),
        comes in prop::option::of((0..30_u32, 20.0..600.0_f64)),
        lasts in prop::option::of(1.0..90.0_f64),
        look in prop::option::of(0.0..14.0_f64),
    ) -> Value {
        let date = |day: u32| {
            let (month, day) = match day {
                0..=30 => ("2026-12", day + 1),
                31..=61 => ("2027-01", day - 30),
                62..=89 => ("2027-02", day - 61),
                _ => ("2027-03", (day - 89).min(31)),
            };
            format!("{month}-{day:02}")
        };
        let planned: Vec<Value> = planned
            .into_iter()
            .map(|(day, volume)| json!({ "on": date(day), "volume": volume }))
            .collect();
        let mut item = json!({
            "name": "concentrate A", "on_hand": on_hand, "use_per_day": usage,
            "use_spread_per_day": usage * spread, "planned": planned,
            "container": { "kind": "drum", "volume": drum }, "lead_days": lead,
        });
        let given = [
            ("lead_spread_days", late.map(Value::from)),
            ("shelf_life_days", keeps.map(Value::from)),
            ("use_by", use_by.map(|day| date(day).into())),
            ("order_lasts_days", lasts.map(Value::from)),
            ("on_order", comes.map(|(day, volume)| json!([{ "arrives_on": date(day), "volume": volume }]))),
        ];
        for (member, value) in given {
            if let Some(value) = value {
                item[member] = value;
            }
        }
        let mut plan = json!({ "today": "2026-12-01", "supplies": [item], "days_ahead": 100 });
        if let Some(look) = look {
            plan["look_days"] = json!(look);
        }
        plan
    }
}

/// What is there and what comes is used, thrown away or left; and with a look a day at the mean
/// use nothing runs out that an order could have saved.
#[test]
fn nothing_is_lost_and_nothing_runs_out_that_need_not() {
    let (ordered, wasted, short) = (Cell::new(0), Cell::new(0), Cell::new(0));
    let result = held(600, any_plan(), |plan| {
        let found = answer(plan.clone()).expect("an answer").answer;
        let (item, own) = (&plan["supplies"][0], &found.supplies[0]);
        let number = |member: &str| item[member].as_f64().unwrap_or(0.0);
        let last = "2027-03-11";
        let in_time = |day: &Value| day.as_str().expect("a day") <= last;
        let listed = |list: &Value, day: &str| -> f64 {
            let own = list.as_array().into_iter().flatten().filter(|own| in_time(&own[day]));
            own.map(|own| own["volume"].as_f64().expect("litres")).sum()
        };
        let comes: f64 = found
            .orders
            .iter()
            .filter(|own| own.arrives_on.to_string().as_str() <= last)
            .map(|own| own.volume.get())
            .sum();
        let had = number("on_hand") + listed(&item["on_order"], "arrives_on") + comes;
        let thrown: f64 = own.wasted.iter().map(|own| own.volume.get()).sum();
        let wanted = 101.0 * number("use_per_day") + listed(&item["planned"], "on");
        let used = had - thrown - own.left.get();
        prop_assert!(used <= wanted + 1e-6 && used >= -1e-6, "{used} of {wanted}");
        if own.short_on.is_none() {
            prop_assert!((used - wanted).abs() < 1e-6, "{used} of {wanted}");
        }
        for order in &found.orders {
            prop_assert!(order.containers.get() >= 1.0 && order.arrives_on >= order.order_on);
        }
        if let Some(short) = own.short_on {
            // Nothing that was ordered today could have come before.
            prop_assert!(own.runs_out_on.is_some_and(|day| day <= short));
        }
        ordered.set(ordered.get() + usize::from(!found.orders.is_empty()));
        wasted.set(wasted.get() + usize::from(thrown > 0.0));
        short.set(short.get() + usize::from(own.short_on.is_some()));
        Ok(())
    });
    result.unwrap_or_else(|error| panic!("{error}"));
    let seen = (ordered.get(), wasted.get(), short.get());
    assert!(seen.0 > 300 && seen.1 > 50 && seen.2 > 20, "{seen:?}");
}

/// With a look a day and nothing that spoils, what is on hand for the lead time and a day lasts:
/// at its mean use it never runs out.
#[test]
fn what_is_ordered_at_the_point_never_runs_out_at_its_mean_use() {
    let seen = Cell::new(0);
    let result = held(300, any_plan(), |mut plan| {
        let item = plan["supplies"][0].as_object_mut().expect("a supply");
        for member in ["use_by", "shelf_life_days", "on_order"] {
            item.remove(member);
        }
        plan.as_object_mut().expect("an object").remove("look_days");
        let first = answer(plan.clone()).expect("an answer").answer;
        let item = &mut plan["supplies"][0];
        let planned: f64 = item["planned"]
            .as_array()
            .expect("planned")
            .iter()
            .map(|own| own["volume"].as_f64().expect("litres"))
            .sum();
        let enough = first.supplies[0].order_at.get() + planned;
        item["on_hand"] = json!(item["on_hand"].as_f64().expect("litres") + enough);
        let found = answer(plan).expect("an answer").answer;
        prop_assert!(found.supplies[0].short_on.is_none(), "{found:?}");
        seen.set(seen.get() + found.orders.len());
        Ok(())
    });
    result.unwrap_or_else(|error| panic!("{error}"));
    assert!(seen.get() > 100, "{}", seen.get());
}
