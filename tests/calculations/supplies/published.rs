//! The reorder point of the textbook, and days by hand.

use super::{answer, plan};
use crate::assert_near;
use serde_json::{Value, json};
use sumpwright_engine::quantity::Quantity;

/// Textbook of stock keeping, recomputed with scipy.stats.norm.ppf: use · lead time + z · σ of a
/// day · √lead time; 6 L a day, 10 days, σ 1.5 L, 95 % (z 1.644854) is 67.80 L.
#[test]
fn the_reorder_point_of_the_textbook() {
    let found = answer(plan(&[])).expect("an answer").answer;
    let own = &found.supplies[0];
    assert_near(own.reorder_point.get(), 67.80, 0.005);
    assert_near(own.safety_stock.get(), 1.644854 * 1.5 * 10_f64.sqrt(), 1e-5);
    // With a look a day the eleventh day is covered too.
    assert_near(own.order_at.get(), 66.0 + 1.644854 * 1.5 * 11_f64.sqrt(), 1e-5);
}

/// The variance of a sum of a varying number of days: L·σ² + μ²·σ_L² (from memory; any textbook
/// of probability has it). By hand: 10·2.25 + 36·4 = 166.5, and 1.644854·√166.5 = 21.224 L.
#[test]
fn a_varying_delivery_takes_more() {
    let found = answer(plan(&[("lead_spread_days", json!(2))])).expect("an answer").answer;
    assert_near(found.supplies[0].safety_stock.get(), 21.2243, 1e-3);
    let mut sure = plan(&[("lead_spread_days", json!(2))]);
    sure["service_level"] = json!(99);
    let sure = answer(sure).expect("an answer").answer;
    // z of 99 % is 2.326348 (scipy.stats.norm.ppf).
    assert_near(sure.supplies[0].safety_stock.get(), 2.326348 * 166.5_f64.sqrt(), 1e-4);
}

/// By hand, at 6 L a day from 300 L and an order at 74.18 L: before the use of day d there are
/// 300 − 6·d, which is 72 L on day 38, 8 January 2027; it comes on day 48, and 30 days are 180 L,
/// one drum. Without it day 50 is the first on which nothing is left for it: 20 January.
#[test]
fn days_by_hand() {
    let found = answer(plan(&[])).expect("an answer").answer;
    let own = &found.supplies[0];
    let next = own.next_order.as_ref().expect("an order");
    assert_eq!(next.order_on.to_string(), "2027-01-08");
    assert_eq!(next.arrives_on.to_string(), "2027-01-18");
    assert_eq!((next.containers.get(), next.volume.get()), (1.0, 205.0));
    assert_eq!(own.runs_out_on.expect("a day").to_string(), "2027-01-20");
    assert!(own.short_on.is_none() && own.wasted.is_empty());
}

/// By hand: weeks of 35, 42, 49 and 42 L are 6 L a day; their standard deviation is
/// √(98/3) = 5.7155 L, that of a day 5.7155/√7 = 2.1602 L.
#[test]
fn past_weeks_tell_the_use_and_its_spread() {
    let changes = [
        ("use_per_day", Value::Null),
        ("use_spread_per_day", Value::Null),
        ("used_per_week", json!([35, 42, 49, 42])),
    ];
    let found = answer(plan(&changes)).expect("an answer").answer;
    assert_near(found.supplies[0].use_per_day.get(), 6.0, 1e-12);
    assert_near(found.supplies[0].use_spread_per_day.get(), 2.160247, 1e-6);
}

/// By hand: of 300 L usable until 20 December, days 0 to 19 use 120 L, and 180 L are thrown
/// away on the 21st; an order must have come by then.
#[test]
fn what_spoils_is_not_counted_on() {
    let found = answer(plan(&[("use_by", json!("2026-12-20"))])).expect("an answer").answer;
    let own = &found.supplies[0];
    assert_eq!(own.wasted.len(), 1);
    assert_eq!(own.wasted[0].on.to_string(), "2026-12-21");
    assert_near(own.wasted[0].volume.get(), 180.0, 1e-9);
    assert!(own.short_on.is_none(), "{own:?}");
    let next = own.next_order.as_ref().expect("an order");
    assert!(next.arrives_on.to_string().as_str() <= "2026-12-21", "{next:?}");
    let codes: Vec<_> =
        answer(plan(&[("use_by", json!("2026-12-20"))])).expect("an answer").findings;
    assert_eq!(codes[0].code, "spoils-before-use");
}

#[test]
fn what_no_order_saves_is_said_first() {
    let mut question = plan(&[("on_hand", json!(20))]);
    question["units"] = "metric".into();
    let record = crate::solve("supplies", &question).expect("an answer");
    let text = record["statement"].as_str().expect("a statement");
    assert_eq!(
        text,
        "concentrate A runs out on Friday 2026-12-04, before an order can come. Order 1 drum of \
         concentrate A (205 L) today."
    );
    assert_eq!(record["findings"][0]["code"], "runs-out-before-delivery");
    question["supplies"][0]["on_hand"] = json!(2000);
    question["days_ahead"] = json!(60);
    let record = crate::solve("supplies", &question).expect("an answer");
    assert_eq!(record["statement"], "Nothing to order in the days ahead.");
}
