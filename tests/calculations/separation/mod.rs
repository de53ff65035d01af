//! Separation: properties of every stage.

mod published;
mod refusals;

use crate::{number, service, solve};
use proptest::prelude::*;
use serde_json::{Value, json};

fn example() -> Value {
    serde_json::from_str(service("separation").example).expect("an example is JSON")
}

fn stage() -> impl Strategy<Value = Value> {
    let tank = (100.0..5000.0, 100.0..3000.0, 1.0..3.0).prop_map(|(length, width, factor)| {
        json!({
            "kind": "settling", "length": length, "width": width, "turbulence_factor": factor,
        })
    });
    let bowl = (1e3..2e4, 20.0..200.0, 0.2..0.98, 100.0..900.0).prop_map(|(speed, r, k, l)| {
        json!({
            "kind": "tubular_centrifuge", "speed": speed, "bowl_radius": r,
            "surface_radius": r * k, "bowl_length": l,
        })
    });
    let discs = (1e3..1e4, 5..100, 40.0..200.0, 0.2..0.9, 30.0..60.0).prop_map(
        |(speed, gaps, r, k, angle)| {
            json!({
                "kind": "disc_centrifuge", "speed": speed, "gaps": gaps, "outer_radius": r,
                "inner_radius": r * k, "half_angle": angle,
            })
        },
    );
    prop_oneof![tank, bowl, discs]
}

fn question() -> impl Strategy<Value = Value> {
    let material = prop_oneof![0.7..0.99_f64, 1.02..9.0_f64];
    let sizes = (0.5..300.0_f64, 1.0..5.0_f64);
    (stage(), 10.0..5000.0_f64, material, sizes, 5.0..60.0_f64).prop_map(
        |(stage, throughput, density, (median, gsd), celsius)| {
            let sizes = json!({
                "by": "log_normal", "median": median, "geometric_standard_deviation": gsd,
            });
            json!({
                "units": "metric",
                "throughput": throughput,
                "separator": {
                    "stage": stage,
                    "fluid": { "temperature": celsius },
                    "particles": [{ "property": "solids", "density": density, "sizes": sizes }],
                },
                "feed": { "volume": 800, "properties": { "solids": 400 } },
            })
        },
    )
}

fn removed(question: &Value) -> f64 {
    number(&solve("separation", question).expect("it is answered"), "/answer/removed/solids")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..Default::default() })]

    /// Rounding in the last digits aside, more throughput never removes more and
    /// larger particles are never removed less.
    #[test]
    fn more_throughput_and_smaller_sizes_remove_no_more(
        question in question(), more in 1.0..5.0_f64,
    ) {
        let before = removed(&question);
        let mut faster = question.clone();
        faster["throughput"] = (number(&question, "/throughput") * more).into();
        prop_assert!(removed(&faster) <= before + 1e-9);
        let mut larger = question.clone();
        let median = "/separator/particles/0/sizes/median";
        *larger.pointer_mut(median).unwrap() = (number(&question, median) * more).into();
        prop_assert!(removed(&larger) >= before - 1e-9);
    }

    /// Removed and remaining particles add up to the original ones; the remaining
    /// sizes are in order and no larger than the cut.
    #[test]
    fn shares_come_to_the_whole_and_what_is_left_is_below_the_cut(question in question()) {
        let record = solve("separation", &question).expect("it is answered");
        let fed = 800.0 * 400.0 * 1e-6;
        let out = number(&record, "/answer/taken_out/solids");
        let left = number(&record, "/balance/streams/1/carried/solids");
        prop_assert!((out + left - fed).abs() <= 1e-12 * fed, "{} and {}", out, left);
        prop_assert!((out / fed * 100.0 - number(&record, "/answer/removed/solids")).abs() < 1e-9);
        let separated = &record["answer"]["separated"][0];
        if separated["left"].is_object() {
            let of = |name: &str| number(&separated["left"], &format!("/{name}"));
            prop_assert!(of("d10") <= of("d50") && of("d50") <= of("d90"));
            prop_assert!(of("d90") <= number(separated, "/all_from") * (1.0 + 1e-9));
        }
        prop_assert!(number(separated, "/half_from") < number(separated, "/all_from"));
    }

    /// The span of a log-normal distribution says the same as its geometric
    /// standard deviation, and a list of one size the same as no spread.
    #[test]
    fn the_same_sizes_said_otherwise_get_the_same_answer(question in question()) {
        let sizes = &question["separator"]["particles"][0]["sizes"];
        let gsd = number(sizes, "/geometric_standard_deviation");
        let z = 1.2815515655446004 * gsd.ln();
        let mut other = question.clone();
        other["separator"]["particles"][0]["sizes"] =
            json!({ "by": "log_normal", "median": sizes["median"], "span": z.exp() - (-z).exp() });
        prop_assert!((removed(&other) - removed(&question)).abs() < 1e-9);
        let mut one = question.clone();
        one["separator"]["particles"][0]["sizes"]["geometric_standard_deviation"] = 1.into();
        let mut list = question.clone();
        list["separator"]["particles"][0]["sizes"] =
            json!({ "by": "list", "classes": [{ "size": sizes["median"], "share": 100 }] });
        prop_assert_eq!(removed(&one), removed(&list));
    }
}

/// What a bowl reaches of its Σ is taken for granted where it is not said, and only there.
#[test]
fn a_bowl_is_assumed_to_reach_its_sigma_where_nothing_else_is_said() {
    for stage in [
        json!({
            "kind": "tubular_centrifuge", "speed": 9000, "bowl_radius": 60, "surface_radius": 30,
            "bowl_length": 500,
        }),
        json!({
            "kind": "disc_centrifuge", "speed": 6000, "gaps": 60, "outer_radius": 100,
            "inner_radius": 45, "half_angle": 40,
        }),
    ] {
        let mut question = example();
        question["separator"]["stage"] = stage;
        let assumed = |question: &Value| {
            let record = solve("separation", question).expect("an answer");
            let assumptions = record["assumptions"].as_array().expect("a list").clone();
            assumptions.iter().any(|one| one["pointer"] == "/separator/stage/sigma_reached")
        };
        assert!(assumed(&question), "{question}");
        question["separator"]["stage"]["sigma_reached"] = json!(60);
        assert!(!assumed(&question), "{question}");
    }
}
