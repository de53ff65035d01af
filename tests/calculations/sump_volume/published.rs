//! Sump volumes against published figures, each with its source.

use crate::{assert_near, number, solve};
use serde_json::{Value, json};

fn by_shape(compartment: &Value, level: f64) -> f64 {
    let question = json!({
        "units": "metric",
        "shape": { "compartments": [compartment], "level": level },
    });
    number(&solve("sump-volume", &question).expect("a volume"), "/answer/volume")
}

/// Partial volumes of lying cylinders against fluids 1.3.1 (PyPI):
/// cylinders.py.
#[test]
fn lying_cylinders_agree_with_fluids() {
    let recorded: Value = serde_json::from_str(include_str!("cylinders.json")).expect("JSON");
    let cases = recorded["cases"].as_array().expect("cases");
    assert!(cases.len() >= 50);
    for case in cases {
        let (diameter, length) = (number(case, "/diameter"), number(case, "/length"));
        let whole = number(&case["levels"][6], "/volume");
        for at in case["levels"].as_array().expect("levels") {
            let cylinder =
                json!({ "form": "lying_cylinder", "diameter": diameter, "length": length });
            let found = by_shape(&cylinder, number(at, "/level").min(diameter));
            assert_near(found, number(at, "/volume"), 1e-9 * whole);
        }
    }
}

/// Formulas of plane geometry, from memory: half a cylinder is half of π·r²·l, and a
/// round bottom filled to where its walls begin the same; an L is a box less a box.
#[test]
fn simple_shapes_hold_what_geometry_says() {
    let half = std::f64::consts::PI * 0.25 * 0.25 / 2.0 * 1.5 * 1000.0;
    let cylinder = json!({ "form": "lying_cylinder", "diameter": 500, "length": 1500 });
    assert_near(by_shape(&cylinder, 250.0), half, 1e-9);
    let trough = json!({ "form": "round_bottom", "width": 500, "length": 1500, "depth": 600 });
    assert_near(by_shape(&trough, 250.0), half, 1e-9);
    assert_near(by_shape(&trough, 450.0), half + 0.5 * 1.5 * 0.2 * 1000.0, 1e-9);
    let l = json!({
        "form": "l", "length": 1600, "width": 900, "cut_length": 700, "cut_width": 400, "depth": 350,
    });
    assert_near(by_shape(&l, 100.0), (1.6 * 0.9 - 0.7 * 0.4) * 0.1 * 1000.0, 1e-9);
}

/// Balance of the concentrate, by hand: 225 L at 8 % and 25 L of water are 250 L at
/// 7.2 %.
#[test]
fn a_dilution_tells_what_circulates() {
    let question = json!({
        "units": "metric",
        "dilution": { "before": 8, "added": 25, "after": 7.2, "strength_u": 0.05, "added_u": 0.2 },
    });
    let record = solve("sump-volume", &question).expect("a volume");
    assert_near(number(&record, "/answer/volume"), 225.0, 1e-9);
    // By hand: V = A·c₁/(c₀ − c₁); ∂V/∂A = 9, ∂V/∂c₀ = −V/(c₀ − c₁), ∂V/∂c₁ = A·c₀/(c₀ − c₁)².
    let parts = [9.0 * 0.2, 225.0 / 0.8 * 0.05, 25.0 * 8.0 / 0.64 * 0.05_f64];
    let u = parts.iter().map(|part| part * part).sum::<f64>().sqrt();
    assert_near(number(&record, "/answer/u"), u, 1e-6);
}

/// The weighted mean of two values, by hand from its definition; the example's own
/// figures for the rest.
#[test]
fn shape_and_dilution_are_weighed_against_each_other() {
    let example = crate::service("sump-volume").example;
    let question: Value = serde_json::from_str(example).expect("JSON");
    let record = solve("sump-volume", &question).expect("a volume");
    let part = |path: &str| number(&record, &format!("/answer/{path}"));
    // 1.2·0.5·0.3 and 0.6·0.5·0.15 m³, 6 L of pump wet over 280 of 380 mm, 12 L in pipes.
    assert_near(part("by_shape/volume"), 180.0 + 45.0 - 6.0 * 280.0 / 380.0 + 12.0, 1e-9);
    let (v_1, u_1) = (part("by_shape/volume"), part("by_shape/u"));
    let (v_2, u_2) = (part("by_dilution/volume"), part("by_dilution/u"));
    let (w_1, w_2) = (1.0 / (u_1 * u_1), 1.0 / (u_2 * u_2));
    assert_near(part("volume"), (w_1 * v_1 + w_2 * v_2) / (w_1 + w_2), 1e-9);
    assert_near(part("u"), (1.0 / (w_1 + w_2)).sqrt(), 1e-9);
    assert_eq!(record["answer"]["agreement"]["agree"], true);

    // The dip table rises to the brim, and a log of the sump's own level lies on it.
    let table = record["answer"]["dip_table"].as_array().expect("a table");
    assert_eq!(table.len(), 9);
    assert_near(number(&table[6], "/level"), 300.0, 1e-9);
    assert_near(number(&table[6], "/volume"), v_1 - 12.0, 1e-9);
    assert_near(number(&table[8], "/volume") + 12.0, part("at_brim"), 1e-9);

    let mut apart = question.clone();
    apart["dilution"]["after"] = 5.0.into();
    let record = solve("sump-volume", &apart).expect("a volume");
    let answer = record["answer"].as_object().expect("an answer");
    assert_eq!(record["answer"]["agreement"]["agree"], false);
    assert!(!answer.contains_key("volume") && !answer.contains_key("u"), "{answer:?}");
    let part = |path: &str| number(&record, &format!("/answer/{path}"));
    let (u_1, u_2) = (part("by_shape/u"), part("by_dilution/u"));
    let ratio = part("agreement/difference").abs() / u_1.hypot(u_2);
    assert!(ratio > 1.96);
    // 1.959964 standard deviations hold 95 % of a normal distribution (any table).
    assert_near(part("agreement/expected"), 1.959964 * u_1.hypot(u_2), 1e-4);
}
