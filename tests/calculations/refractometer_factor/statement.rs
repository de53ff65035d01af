//! The statement of a calibration: the factor, and the concentration of a reading.

use super::calibration;
use crate::solve;

/// By hand: b = c/1.25 + 0.4.
#[test]
fn the_factor_is_said_and_how_sure_a_reading_is() {
    let said = |samples: &[(f64, f64)]| {
        let mut question = calibration(samples);
        question["line"] = "with_offset".into();
        let record = solve("refractometer-factor", &question).expect("a factor");
        record["statement"].as_str().expect("a statement").to_owned()
    };
    let exact = said(&[(0.0, 0.4), (2.5, 2.4), (5.0, 4.4), (10.0, 8.4)]);
    let factor = "The refractometer factor is 1.25, and the water alone reads 0.4 °Brix.";
    let reading = "A reading of 4.4 °Brix stands for 5 % by volume, and at 95 % for anything from";
    assert!(exact.starts_with(&format!("{factor} {reading} ")), "{exact}");
    assert!(said(&[(4.0, 3.2), (8.0, 6.4)]).ends_with("make up more mixes."));
}
