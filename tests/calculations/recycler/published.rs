//! The recycler against published figures and independent solutions.

use crate::support::found;
use crate::{assert_near, number, solve};
use serde_json::{Value, json};

/// A tank recirculated through one filter, its solids limited to `most` mg/L of
/// the 1000 that it starts with.
fn recirculated(efficiency: f64, most: f64) -> Value {
    json!({
        "units": "metric",
        "feed": { "volume": 400, "concentration": 5, "properties": { "solids": 1000 } },
        "stages": [{ "name": "filter", "throughput": 60, "removes": { "solids": efficiency } }],
        "mode": "recirculate",
        "hours_per_day": 24,
        "target": { "concentration": 5, "limits": { "solids": { "max": most } } },
    })
}

/// Gage and Bidwell (J. Water Health 16:449): of a well-mixed tank that is
/// recirculated, 63, 86 and 95 % is treated after 1, 2 and 3 turnovers.
#[test]
fn treated_shares_of_gage_and_bidwell() {
    for (turnovers, treated) in [(1.0_f64, 63.0), (2.0, 86.0), (3.0, 95.0)] {
        let record = solve("recycler", &recirculated(100.0, 1000.0 * (-turnovers).exp()));
        let record = record.expect("it is answered");
        assert_near(number(&record, "/answer/passes"), turnovers, 1e-11);
        assert_near(number(&record, "/answer/hours"), turnovers * 400.0 / 60.0, 1e-10);
        let left = number(&record, "/answer/recovered/properties/solids");
        assert_eq!((100.0 - left / 10.0).round(), treated);
    }
}

/// The same with an efficiency η: 1 − exp(−η·n) is removed.
#[test]
fn removal_with_an_efficiency_is_one_less_the_exponential() {
    for (efficiency, most) in [(80.0, 100.0), (35.0, 20.0), (7.5, 333.0)] {
        let record = solve("recycler", &recirculated(efficiency, most)).expect("it is answered");
        let turnovers = (1000.0 / most).ln() / (efficiency / 100.0);
        assert_near(number(&record, "/answer/passes"), turnovers, 1e-9);
        assert_near(number(&record, "/answer/hours"), turnovers * 400.0 / 60.0, 1e-8);
    }
}

/// Recomputed from the definitions: 20 g/h into 400 L that go at 60 L/h through
/// a filter of efficiency 0.8 settle at 416.667 mg/L, with a time constant of
/// 8.3333 h.
#[test]
fn a_source_settles_where_feeding_and_filtering_meet() {
    let mut question = recirculated(80.0, 500.0);
    question["sources"] = json!([{ "property": "solids", "rate": 0.02 }]);
    let record = solve("recycler", &question).expect("it is answered");
    let settles = number(&record, "/answer/settling/0/settles_at/solids");
    assert_near(settles, 416.667, 5e-4);
    assert_near(number(&record, "/answer/settling/0/time_constant_hours"), 8.3333, 5e-5);
    // The transient by the same definitions: c(t) − c∞ falls by a factor of e per time constant.
    let (c_0, c_end) = (1000.0_f64, 0.02e6 / 48.0);
    let hours = (400.0 / 48.0) * ((c_0 - c_end) / (500.0 - c_end)).ln();
    assert_near(number(&record, "/answer/hours"), hours, 1e-9);

    // A limit below the steady state is never met.
    question["target"]["limits"]["solids"]["max"] = 400.into();
    let pointers = found("recycler", &question, "comes-in-too-fast");
    assert_eq!(pointers, ["/target/limits/solids/max"]);
}

/// UK HSE: below 10⁴ CFU/mL good, 10⁴ to 10⁶ reasonable, from 10⁶ poor.
#[test]
fn dip_slides_lie_in_the_bands_of_the_hse() {
    let cases =
        [(9.9e3, "good"), (1e4, "reasonable"), (9.9e5, "reasonable"), (1e6, "poor"), (1e8, "poor")];
    for (count, band) in cases {
        let mut question = recirculated(100.0, 500.0);
        question["feed"]["dip_slide"] = count.into();
        let record = solve("recycler", &question).expect("it is answered");
        assert_eq!(record["answer"]["bacteria"]["band"], band, "{count}");
        let stay = found("recycler", &question, "bacteria-stay");
        assert_eq!(!stay.is_empty(), band == "poor", "{count}");
        let codes: Vec<_> =
            record["cautions"].as_array().unwrap().iter().map(|c| c["code"].clone()).collect();
        for code in ["biocide-by-label", "bad-air-from-a-dead-sump", "asthma-and-alveolitis"] {
            assert_eq!(codes.contains(&json!(code)), band == "poor", "{count}: {codes:?}");
        }
    }
}

/// TRGS 611 (2007): above 20 mg/L of nitrite in used fluid, act.
#[test]
fn nitrite_is_held_to_trgs_611_where_the_request_sets_no_limit() {
    for (nitrite, listed) in [(20.0, false), (20.5, true)] {
        let mut question = recirculated(100.0, 500.0);
        question["feed"]["properties"]["nitrite"] = nitrite.into();
        let stays = found("recycler", &question, "nitrite-stays");
        assert_eq!(!stays.is_empty(), listed, "{nitrite}");
    }
}

fn recorded() -> Value {
    serde_json::from_str(include_str!("recycler.json")).expect("JSON")
}

/// The smallest tanks and throughput of 120 plans against the optima of linear
/// programmes over all ways to run the recycler (scipy's HiGHS, whose solutions
/// keep their rows to about 1e-7).
#[test]
fn smallest_tanks_and_throughput_are_the_optima_of_a_linear_programme() {
    let mut compared = 0;
    for plan in recorded()["plans"].as_array().expect("plans") {
        // The programmes take neat concentrate to be poured.
        let mut question = plan["question"].clone();
        question["target"]["mixing"] = "stirred_tank".into();
        let record = solve("recycler", &question).unwrap_or_else(|p| panic!("{p:?}: {question:#}"));
        for what in ["dirty", "clean", "throughput"] {
            let (found, optimum) = (&record["answer"]["smallest"][what], &plan["smallest"][what]);
            match (found.as_f64(), optimum.as_f64()) {
                (Some(found), Some(optimum)) => {
                    compared += 1;
                    let near = (found - optimum).abs() <= 1e-6 * optimum.max(1.0);
                    assert!(near, "{what}: {found} and {optimum} in {question:#}");
                }
                (found, optimum) => {
                    assert_eq!(found, optimum, "{what} in {question:#}");
                }
            }
        }
    }
    assert!(compared > 200, "{compared}");
}

/// Twenty-five recirculated tanks that shrink by what they lose, half of them
/// with a source, against step-by-step integration (scipy's solve_ivp, relative
/// tolerance 1e-12).
#[test]
fn recirculated_tanks_agree_with_integration() {
    let near = |found: f64, expected: f64| {
        let slack = 1e-8 * expected.abs().max(1e-6);
        assert!((found - expected).abs() <= slack, "{found} and {expected}");
    };
    for batch in recorded()["batches"].as_array().expect("batches") {
        let record = solve("recycler", &batch["question"]).expect("it is answered");
        let expected = &batch["answer"];
        near(number(&record, "/answer/hours"), number(expected, "/hours"));
        let left = |i: usize| number(expected, &format!("/left/{i}"));
        let volume = number(&record, "/answer/recovered/volume");
        near(volume, left(0) + left(1) + left(2));
        let oil = number(&record, "/answer/recovered/properties/tramp_oil");
        near(oil * volume / 100.0, left(1) + left(2));
        let chloride = number(&record, "/answer/recovered/properties/chloride");
        near(chloride * volume * 1e-6, left(4));
        for (s, stage) in ["skimmed", "filtered"].iter().enumerate() {
            let waste = &record["answer"]["waste"][s];
            let gone = |i: usize| number(expected, &format!("/{stage}/{i}"));
            near(number(waste, "/volume"), gone(0) + gone(1) + gone(2));
            near(waste["carried"]["solids"].as_f64().unwrap_or(0.0), gone(3));
        }
    }
}

/// The probability that one lognormal delivery does not fit: the closed form
/// lies within four standard errors of 20,000 draws.
#[test]
fn the_risk_of_one_lognormal_delivery_is_the_closed_form() {
    for risk in recorded()["risks"].as_array().expect("risks") {
        let record = solve("recycler", &risk["question"]).expect("it is answered");
        let exact = number(risk, "/exact");
        let found = number(&record, "/answer/overflow_risk/probability") / 100.0;
        let error = (exact * (1.0 - exact) / 20000.0).sqrt();
        assert_near(found, exact, 4.0 * error);
        let own = number(&record, "/answer/overflow_risk/standard_error") / 100.0;
        assert_near(own, (found * (1.0 - found) / 20000.0).sqrt(), 1e-12);
    }
}

/// Five deliveries that are each a quarter more or a quarter less: all 32 weeks
/// are asked for one by one, and the share of those that run over is met by the
/// draws.
#[test]
fn the_risk_of_two_point_deliveries_is_that_of_all_weeks_one_by_one() {
    let volumes = [430.0, 510.0, 380.0, 620.0, 450.0];
    let week = |factors: [f64; 5]| {
        let arrivals = [0.4, 1.4, 2.4, 3.4, 4.4].iter().zip(volumes.iter().zip(factors));
        let arrivals = arrivals.map(
            |(day, (volume, factor))| json!({ "day": day, "volume": volume * factor, "hours": 1 }),
        );
        json!({
            "units": "metric",
            "feed": { "arrivals": arrivals.collect::<Vec<_>>(), "concentration": 6 },
            "stages": [{ "name": "filter", "throughput": 52 }],
            "mode": "single_pass",
            "hours_per_day": 8,
            "starts_at_hour": 8,
            "tanks": { "dirty": { "capacity": 690 }, "clean": { "capacity": 5000 } },
            "target": { "concentration": 6 },
        })
    };
    let mut over = 0;
    for choice in 0..32_u32 {
        let factors = std::array::from_fn(|i| if choice >> i & 1 == 1 { 1.25 } else { 0.75 });
        let record = solve("recycler", &week(factors)).expect("it is answered");
        over += u32::from(record["answer"]["first_overflow"].is_object());
    }
    assert!(
        (4..=28).contains(&over),
        "{over} of 32 weeks run over, too few or too many for the check"
    );
    let exact = f64::from(over) / 32.0;
    let mut question = week([1.0; 5]);
    question["feed"]["spread"] =
        json!({ "share": 25, "distribution": "two_point", "seed": 11, "draws": 20000 });
    let record = solve("recycler", &question).expect("it is answered");
    let found = number(&record, "/answer/overflow_risk/probability") / 100.0;
    assert_near(found, exact, 4.0 * (exact * (1.0 - exact) / 20000.0).sqrt());
    assert!(number(&record, "/answer/overflow_risk/at_least") <= 100.0 * found);
    assert!(number(&record, "/answer/overflow_risk/at_most") >= 100.0 * found);
}
