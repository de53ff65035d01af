//! Discounted cash flow against published figures and numpy-financial.

use crate::{assert_near, number, solve};
use serde_json::{Value, json};
use sumpwright_engine::numerics::money::{
    InternalRates, Payback, capital_recovery, discounted, internal_rates, npv, payback, payment,
    uniform_present_value,
};

/// numpy-financial 1.0.0, its own documented examples, recomputed with it. (Two
/// misprints of published net present values are no expectation here.)
#[test]
fn examples_of_numpy_financial() {
    let flows = [-40_000.0, 5_000.0, 8_000.0, 12_000.0, 30_000.0];
    assert_near(npv(0.08, &flows), 3065.2226681795, 5e-11);
    let InternalRates { rates, proven, .. } = internal_rates(&[-100.0, 39.0, 59.0, 55.0, 20.0]);
    assert!(proven && rates.len() == 1);
    assert_near(rates[0], 0.28094842115996, 5e-15);
    assert_near(payment(0.075 / 12.0, 180.0, 200_000.0), -1854.0247200055, 5e-11);
}

/// Uniform present values and a capital recovery factor, as tabled by every
/// handbook of engineering economy; recomputed from their definition with
/// numpy-financial.
#[test]
fn tabled_factors() {
    assert_near(uniform_present_value(0.03, 10.0), 8.530203, 5e-7);
    assert_near(uniform_present_value(0.07, 10.0), 7.023582, 5e-7);
    assert_near(capital_recovery(0.12, 4.0), 0.329234, 5e-7);
}

fn years_of(found: Payback) -> f64 {
    match found {
        Payback::After { years, for_good: true } => years,
        other => panic!("{other:?}"),
    }
}

/// 18 500 against 5 200 a year: simple and discounted at 8 %, linear inside the
/// year (recomputed).
#[test]
fn payback_inside_a_year() {
    let flows = [&[-18_500.0][..], &[5_200.0; 8]].concat();
    assert_near(years_of(payback(&flows)), 3.557692, 5e-7);
    assert_near(years_of(payback(&discounted(0.08, &flows))), 4.360816, 5e-7);
}

/// The same through a whole comparison; and payback is investment over net
/// yearly saving (Water Environment Federation manual).
#[test]
fn payback_of_a_purchase_against_a_fee() {
    let question = json!({
        "units": "metric",
        "machines": [{
            "name": "lathe", "count": 1, "volume": 100, "concentration": 5, "clean_outs_per_year": 0,
        }],
        "prices": {},
        "horizon_years": 8,
        "discount_rate": 8,
        "ways": [
            { "name": "fee", "fees": [{ "name": "fee", "amount": 5200, "per": "year" }] },
            { "name": "tank", "purchases": [{ "name": "tank", "price": 18500 }] },
        ],
    });
    let record = solve("cost-comparison", &question).expect("an answer");
    let bought = "/answer/ways/1/against_baseline";
    let years = |which| number(&record, &format!("{bought}/{which}/years"));
    assert_near(years("payback"), 3.557692, 5e-7);
    assert_near(years("payback"), 18_500.0 / 5_200.0, 1e-12);
    assert_near(years("payback_discounted"), 4.360816, 5e-7);
    let expected = npv(0.08, &[&[-18_500.0][..], &[5_200.0; 8]].concat());
    assert_near(number(&record, &format!("{bought}/npv")), expected, 1e-9);
}

/// By hand: at eight drums of 310 a way that starts 2,480 cheaper has used that up.
#[test]
fn pieces_add_up_to_a_difference_in_price() {
    let question = json!({
        "units": "metric",
        "machines": [{
            "name": "lathes", "count": 8, "volume": 100, "concentration": 5, "clean_outs_per_year": 0,
        }],
        "prices": {},
        "horizon_years": 6,
        "discount_rate": 7,
        "ways": [
            { "name": "one large", "purchases": [{ "name": "tank", "price": 14480 }] },
            { "name": "several small", "purchases": [
                { "name": "tank", "price": 12000 },
                { "name": "drums", "price": 310, "count": 3 },
            ] },
        ],
        "break_even": [{ "inputs": ["/ways/1/purchases/1/count"], "way": "several small" }],
    });
    let record = solve("cost-comparison", &question).expect("an answer");
    let even = &record["answer"]["break_even"][0];
    assert_near(number(even, "/at/0/value/number"), 8.0, 1e-9);
    assert_eq!(even["at"][0]["cheaper_below"], "several small");
    assert_eq!(even["verdict"], "one");
}

fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().expect("a list").iter().filter_map(Value::as_f64).collect()
}

/// 200 random cash flows by numpy-financial, and every rate of each by mpmath
/// with 60 digits (cash_flows.py).
#[test]
fn random_cash_flows_of_numpy_financial() {
    let recorded: Value = serde_json::from_str(include_str!("cash_flows.json")).expect("JSON");
    let cases = recorded["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), 200);
    let mut several = 0;
    for case in cases {
        let flows = numbers(&case["flows"]);
        let size: f64 = flows.iter().map(|flow| flow.abs()).sum();
        let found = npv(number(case, "/rate"), &flows);
        assert_near(found, number(case, "/npv"), 1e-9 * size.min(1e3));
        let found = internal_rates(&flows);
        let rates = numbers(&case["rates"]);
        assert!(found.proven, "{case}");
        assert_eq!(found.rates.len(), rates.len(), "{:?} in {case}", found.rates);
        assert!(rates.len() <= found.sign_changes);
        for (found, rate) in found.rates.iter().zip(&rates) {
            assert_near(*found, *rate, 1e-9);
        }
        match case["irr"].as_f64() {
            Some(irr) => assert!(found.rates.iter().any(|rate| (rate - irr).abs() < 1e-9)),
            None => assert!(rates.is_empty()),
        }
        several += usize::from(rates.len() > 1);
        let loan = |member| number(case, &format!("/loan/{member}"));
        let paid = payment(loan("rate"), loan("periods"), loan("present"));
        assert_near(paid, loan("payment"), 1e-9 * loan("payment").abs().max(1.0));
    }
    assert!(several > 20, "only {several} flows have several rates");
}

/// The demo shop worked out with numpy-financial and scipy's brentq
/// (demo_shop.py).
#[test]
fn the_demo_shop_by_numpy_financial() {
    let recorded: Value = serde_json::from_str(include_str!("demo_shop.json")).expect("JSON");
    let question: Value =
        serde_json::from_str(crate::service("cost-comparison").example).expect("JSON");
    let record = solve("cost-comparison", &question).expect("an answer");
    let answer = &record["answer"];
    let ways = recorded["ways"].as_array().expect("ways");
    for (place, expected) in ways.iter().enumerate() {
        let way = &answer["ways"][place];
        assert_eq!(way["name"], expected["name"]);
        for (heading, amount) in expected["yearly"].as_object().expect("headings") {
            let found = number(way, &format!("/cost_per_year_by_heading/{heading}"));
            assert_near(found, amount.as_f64().expect("money"), 1e-7);
        }
        assert_near(number(way, "/present_cost"), number(expected, "/present_cost"), 1e-6);
        let Some(saves) = expected.get("saves") else { continue };
        let against = &way["against_baseline"];
        for (found, saved) in numbers(&against["saves"]).iter().zip(numbers(saves)) {
            assert_near(*found, saved, 1e-7);
        }
        assert_near(number(against, "/npv"), number(expected, "/npv"), 1e-6);
        let rates = numbers(&against["internal_rate"]["rates"]);
        match expected["irr"].as_f64() {
            Some(irr) => assert_near(rates[0], 100.0 * irr, 1e-9),
            None => assert!(rates.is_empty()),
        }
    }
    let even = |place: usize, kind: &str| {
        number(answer, &format!("/break_even/{place}/at/0/value/{kind}"))
    };
    assert_near(even(0, "money_per_volume"), number(&recorded, "/disposal"), 1e-10);
    assert_near(even(1, "number"), number(&recorded, "/clean_outs"), 1e-9);
    assert_near(even(3, "money"), number(&recorded, "/fee"), 1e-8);
}
