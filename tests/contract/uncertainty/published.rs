//! Uncertainty against published figures, each with its source.

mod guides;

use crate::{assert_near, number, solve};
use serde_json::{Value, json};
use std::convert::Infallible;
use sumpwright_engine::numerics::distribution::DistributionShape::{self, Normal};
use sumpwright_engine::numerics::distribution::{Distribution, Joint};
use sumpwright_engine::numerics::first_order::{budget, sensitivities};
use sumpwright_engine::numerics::monte_carlo::{Scatter, draw};

const MILLION: usize = 1_000_000;

/// An input by its estimate, its u and its shape.
fn joint(inputs: &[(f64, f64, DistributionShape)]) -> Joint {
    let input =
        |(estimate, u, shape): &_| Distribution { estimate: *estimate, u: *u, shape: *shape };
    Joint::independent(inputs.iter().map(input).collect())
}

/// The value of a model at its estimates, and u and shares to first order.
fn first_order(joint: &Joint, model: impl Fn(&[f64]) -> f64 + Sync) -> (f64, f64, Vec<f64>) {
    let estimates: Vec<f64> = joint.inputs.iter().map(|input| input.estimate).collect();
    let value = model(&estimates);
    let slopes = sensitivities(joint, &[value], 2, |x, y| {
        y.push(model(x));
        Ok::<(), Infallible>(())
    });
    let slopes: Vec<f64> = slopes.into_iter().flatten().collect();
    let budget = budget(joint, &slopes);
    (value, budget.u, budget.shares)
}

fn monte_carlo(joint: &Joint, draws: usize, model: impl Fn(&[f64]) -> f64 + Sync) -> Scatter {
    let drawn = draw(joint, (draws, 7), 1, 2, |x, y| {
        y.push(model(x));
        Ok::<(), Infallible>(())
    });
    Scatter::of(&mut drawn.values(0)).expect("enough draws")
}

/// The trade's rows, recomputed with uncertainties 3.2.3: factor 1.50 (u 0.05) times
/// reading 5.0 (u 0.1) is 7.50, u 0.2915; V(ct − ca)/(100 − ct) of neat concentrate
/// with V 500 (10), ca 6 (0.2) and ct 8 is 10.87 L, u 1.11.
#[test]
fn in_this_trade() {
    let question = json!({
        "units": "metric",
        "reading": { "method": "refractometer", "brix": 5.0, "factor": 1.5 },
        "uncertainty": {
            "inputs": { "/reading/factor": { "u": 0.05 }, "/reading/brix": { "u": 0.1 } },
            "draws": 100_000,
        },
    });
    let record = solve("concentration", &question).expect("an answer");
    let sure = &record["uncertainty"]["numbers"]["/answer/concentration"];
    assert_near(number(sure, "/value"), 7.5, 1e-12);
    assert_near(number(sure, "/first_order/u"), 0.2915, 5e-5);
    assert_near(number(sure, "/u"), 0.2915, 0.003);
    assert_near(number(sure, "/half_width"), 1.96 * 0.2915, 0.01);
    assert_eq!(sure["first_order"]["standing"], "agrees");

    let joint = joint(&[(500.0, 10.0, Normal), (6.0, 0.2, Normal)]);
    let model = |x: &[f64]| x[0] * (8.0 - x[1]) / 92.0;
    let (value, u, shares) = first_order(&joint, model);
    assert_near(value, 10.87, 0.005);
    assert_near(u, 1.11, 0.005);
    // By hand: (10·2/92)² of the volume against (0.2·500/92)² of the strength.
    assert_near(shares[0], 400.0 / (400.0 + 10_000.0), 1e-9);
    assert_near(monte_carlo(&joint, MILLION, model).u, 1.11, 0.01);
}

/// Two hundred top-ups to first order against uncertainties 3.2.3 (PyPI), with a
/// correlation: first_order.py.
#[test]
fn two_hundred_top_ups_agree_with_uncertainties() {
    let recorded: Value = serde_json::from_str(include_str!("first_order.json")).expect("JSON");
    let cases = recorded["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), 200);
    for case in cases {
        // Neat concentrate goes into the mix.
        let mut question = case["question"].clone();
        question["vessel"] = "stirred_tank".into();
        let record = solve("top-up", &question).expect("it can be done");
        for (pointer, expected) in case["numbers"].as_object().expect("numbers") {
            let sure = &record["uncertainty"]["numbers"][pointer];
            for (found, expected) in [
                (number(sure, "/value"), number(expected, "/value")),
                (number(sure, "/first_order/u"), number(expected, "/u")),
            ] {
                assert!((found / expected - 1.0).abs() < 1e-6, "{pointer}: {found}, {expected}");
            }
        }
    }
}
