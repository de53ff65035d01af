//! Fits of logs against statsmodels.

use crate::{assert_near, number, solve};
use serde_json::{Value, json};

/// Forty logs fitted by statsmodels' WLS on exact derivatives, iterated until it
/// converges (fits.py writes them): rates, uncertainties and
/// their correlation to 1e-9. With the concentrations given no weight, only the
/// volumes are left, and their loss is that of statsmodels' GLS on the differences of
/// neighbouring volumes with the covariance of a shared reading.
#[test]
fn fits_are_those_of_statsmodels() {
    let recorded: Value = serde_json::from_str(include_str!("fits.json")).expect("recorded fits");
    let cases = recorded["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), 40);
    let (mut by_wls, mut by_gls) = (0, 0);
    for case in cases {
        let record = solve("losses", &case["question"]).expect("it is answered");
        if record["answer"]["suspects"] == json!([]) {
            by_wls += 1;
            let wls = |member: &str| number(case, &format!("/wls/{member}"));
            for rate in ["evaporation", "carry_off"] {
                let found = |member: &str| number(&record, &format!("/answer/{rate}/{member}"));
                assert_near(found("value") / wls(rate), 1.0, 1e-9);
                assert_near(found("u") / wls(&format!("u_{rate}")), 1.0, 1e-9);
            }
            let found = number(&record, "/answer/correlation/evaporation_carry_off");
            assert_near(found, wls("correlation"), 1e-9);
        }
        let mut volumes = case["question"].clone();
        volumes["reading_uncertainty"]["concentration"] = 100.into();
        let record = solve("losses", &volumes).expect("it is answered");
        if record["answer"]["suspects"] == json!([]) {
            by_gls += 1;
            let u = number(case, "/gls/u_loss");
            let found = |member: &str| number(&record, &format!("/answer/make_up/daily/{member}"));
            assert_near(found("value"), number(case, "/gls/loss"), 1e-3 * u);
            assert_near(found("u") / u, 1.0, 1e-3);
        }
    }
    assert!(by_wls >= 36 && by_gls >= 36, "only {by_wls} and {by_gls} of 40 without findings");
}
