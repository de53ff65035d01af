//! Removal by single stages against published figures and scipy.

use super::{SECONDS_PER_HOUR, assert_relative, one_size, recorded, velocity, water_as_given};
use crate::{assert_near, number, solve};
use serde_json::json;
use sumpwright_engine::handbook::oil_separator;

/// Removed shares and remaining sizes in tanks, integrated by
/// scipy.integrate.quad over terminal velocities of fluids.
#[test]
fn tanks_take_out_what_scipy_integrates() {
    for case in recorded("tanks") {
        let record = solve("separation", &case["question"]).expect("it is answered");
        let found = |name: &str| number(&record, &format!("/answer/separated/0/{name}"));
        assert_near(found("removed"), number(&case, "/removed"), 1e-6);
        assert_relative(found("all_from"), number(&case, "/all_from"), 1e-6);
        for quantile in ["d10", "d50", "d90"] {
            if let Some(expected) = case[quantile].as_f64() {
                assert_relative(found(&format!("left/{quantile}")), expected, 1e-6);
            }
        }
    }
}

/// Shares caught in plain bowls, by integrating the particles' motion with
/// scipy.integrate.solve_ivp from the wall (or the surface) backwards.
#[test]
fn bowls_catch_what_reaches_the_wall() {
    let mut between = 0;
    for case in recorded("bowls") {
        let sizes = case["sizes"].as_array().expect("sizes");
        for (size, grade) in sizes.iter().zip(case["grades"].as_array().expect("grades")) {
            let mut asked = case["question"].clone();
            asked["separator"]["particles"][0]["sizes"] =
                json!({ "by": "list", "classes": [{ "size": size, "share": 100 }] });
            let record = solve("separation", &asked).expect("it is answered");
            let grade = grade.as_f64().expect("a number");
            assert_near(number(&record, "/answer/removed/solids"), grade, 1e-6);
            between += i32::from(grade > 1.0 && grade < 99.0);
        }
    }
    assert!(between > 50, "only {between} efficiencies lie between 0 and 100 %");
}

/// API Publication 421 (1990): the design drop and the table of turbulence
/// factors.
#[test]
fn turbulence_factors_of_api_421() {
    for (ratio, factor) in [(3.0, 1.28), (6.0, 1.37), (10.0, 1.52), (15.0, 1.64), (20.0, 1.74)] {
        assert_eq!(oil_separator::turbulence_factor(ratio), Some(factor));
    }
    assert_eq!(oil_separator::turbulence_factor(20.001), None);
    assert_eq!(oil_separator::DESIGN_DROP, 0.015e-2);
    assert_eq!(oil_separator::FLOW_MOST, 54.864);

    // Width 2.4 m, depth 1 m, and a flow along the tank at ten times the rise of
    // the design drop: F 1.52, and all of a drop is taken out only where it rises
    // faster than 1.52 times the surface loading.
    let rise = velocity(&water_as_given(), 0.87, 150.0);
    let stage = json!({
        "kind": "settling", "length": 10000, "width": 2400, "depth": 1000,
        "turbulence": "separator_practice",
    });
    let throughput = 10.0 * rise * 2.4 * 3.6e6;
    let asked = one_size(&stage, throughput, &water_as_given(), 0.87, 30.0);
    let record = solve("separation", &asked).expect("it is answered");
    let found = |name: &str| number(&record, &format!("/answer/{name}"));
    assert_near(found("separated/0/flow_to_rise"), 10.0, 1e-9);
    assert_near(found("separated/0/turbulence_factor"), 1.52, 1e-9);
    assert_near(found("horizontal_velocity"), 10.0 * rise * SECONDS_PER_HOUR, 1e-9);
    let loading = found("surface_loading");
    assert_near(loading, rise * SECONDS_PER_HOUR, 1e-9);
    let of_30 = velocity(&water_as_given(), 0.87, 30.0) * SECONDS_PER_HOUR;
    assert_relative(found("removed/solids"), 100.0 * of_30 / (1.52 * loading), 1e-9);
    // 55.1 m/h along the tank is a little more than the practice's 54.864.
    let codes: Vec<&str> =
        record["findings"].as_array().unwrap().iter().filter_map(|f| f["code"].as_str()).collect();
    assert_eq!(codes, ["tank-flow-too-fast"]);
}

/// Tubular bowl of Seader, Henley and Roper: 800 rev/s, radii 0.875 and 0.65 in,
/// 4.5 in long: Σ 688.99 m²; 0.7 µm, 1.04 in 1.01 kg/L, 1.02 mPa·s: v 7.8544e-9
/// m/s and Q 5.4116e-6 m³/s. That Σ is to standard gravity, but that v, and with it
/// Q, to gravity rounded to 9.81 m/s²; a velocity by Stokes goes with gravity, and
/// is brought to the same before it is compared to the digits given.
#[test]
fn tubular_bowl_of_seader_henley_and_roper() {
    let stage = json!({
        "kind": "tubular_centrifuge", "speed": 48000, "bowl_radius": 0.875 * 25.4,
        "surface_radius": 0.65 * 25.4, "bowl_length": 4.5 * 25.4,
    });
    let fluid = json!({ "density": 1.01, "viscosity": 1.02 });
    let ask = |throughput: f64| {
        let asked = one_size(&stage, throughput, &fluid, 1.04, 0.7);
        solve("separation", &asked).expect("it is answered")
    };
    let rounded = 9.81 / 9.80665;
    let record = ask(5.4116e-6 / rounded * 3.6e6);
    let sigma = number(&record, "/answer/sigma");
    assert_near(sigma, 688.99, 0.005);
    let v = number(&record, "/answer/separated/0/velocity") / SECONDS_PER_HOUR * rounded;
    assert_near(v, 7.8544e-9, 0.5e-13);
    assert_near(v * sigma, 5.4116e-6, 0.5e-10);
    assert_relative(number(&record, "/answer/separated/0/all_from"), 0.7, 1e-5);
    // A machine that reaches half of its sigma has the same cut at half the rate.
    let mut asked = one_size(&stage, 0.5 * 5.4116e-6 / rounded * 3.6e6, &fluid, 1.04, 0.7);
    asked["separator"]["stage"]["sigma_reached"] = 50.into();
    let half = solve("separation", &asked).expect("it is answered");
    assert_relative(number(&half, "/answer/separated/0/all_from"), 0.7, 1e-5);
}

/// Disc stack of Ambler (1959): Σ = 2πω²N·cot θ·(r₂³ − r₁³)/(3g), here by the
/// numbers: 100 rev/s, 50 gaps, 45°, 100 and 50 mm.
#[test]
fn disc_stack_of_ambler() {
    let stage = json!({
        "kind": "disc_centrifuge", "speed": 6000, "gaps": 50,
        "outer_radius": 100, "inner_radius": 50, "half_angle": 45,
    });
    let record = solve("separation", &one_size(&stage, 500.0, &water_as_given(), 2.7, 1.0));
    let omega_squared = (200.0 * std::f64::consts::PI).powi(2);
    let expected =
        2.0 * std::f64::consts::PI * omega_squared * 50.0 * (0.001 - 0.000125) / (3.0 * 9.80665);
    assert_relative(number(&record.expect("it is answered"), "/answer/sigma"), expected, 1e-12);
}
