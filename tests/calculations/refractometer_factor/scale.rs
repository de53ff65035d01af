//! No result is more certain than the divisions of the scale allow.

use super::calibration;
use crate::support::{changed, findings, found};
use crate::{assert_near, number, solve};
use serde_json::json;
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::calculations::sump::refractometer_factor::{
    CalibrationLine, CalibrationSample, RefractometerCalibration,
};
use sumpwright_engine::numerics::distribution::DistributionShape::{Normal, Rectangular};
use sumpwright_engine::numerics::distribution::{Distribution, Joint};
use sumpwright_engine::numerics::monte_carlo::draw;
use sumpwright_engine::quantity::{Brix, Concentration, Quantity, ScaleDivision};
use sumpwright_engine::text::Refusal;

/// JCGM 100:2008 (GUM), 4.3.7: half a division either way is rectangular, d/2/√3. Four
/// mixes that happen to lie on a line: by hand for two unknowns, S = 20 about the mean.
#[test]
fn a_line_without_scatter_promises_no_more_than_the_scale() {
    let mut question = calibration(&[(2.0, 0.9), (4.0, 1.3), (6.0, 1.7), (8.0, 2.1)]);
    question["readings"] = json!([1.2]);
    let record = solve("refractometer-factor", &question).expect("a factor");
    let u = 0.05 / 3_f64.sqrt();
    let slope = 0.2;
    assert_near(number(&record, "/answer/factor_u"), u / 20_f64.sqrt() / slope / slope, 1e-9);
    assert_near(number(&record, "/answer/paste/uncertainty/inputs/~1reading~1brix/u"), u, 1e-9);
    let (low, high) =
        (number(&record, "/answer/readings/0/low"), number(&record, "/answer/readings/0/high"));
    assert!(high - low > 2.0 * 1.95 * u / slope, "{low} to {high}");
    assert!(low < 3.5 && 3.5 < high);
    let band = record["answer"]["band"].as_array().expect("a band");
    assert!(band.iter().all(|at| at["low"].is_number() && at["high"].is_number()));
    let told = record["assumptions"].as_array().expect("assumptions").iter();
    assert_eq!(told.filter(|told| told["pointer"] == "/division").count(), 1);

    question["division"] = 0.2.into();
    let coarse = solve("refractometer-factor", &question).expect("a factor");
    assert_near(
        number(&coarse, "/answer/factor_u") / number(&record, "/answer/factor_u"),
        2.0,
        1e-9,
    );
    question["division"] = 0.into();
    let problem = solve("refractometer-factor", &question).expect_err("no scale has no division");
    assert_eq!(problem.errors[0].pointer, "/division");
}

#[test]
fn few_samples_are_told_to_be_few() {
    let two = calibration(&[(4.0, 3.0), (8.0, 6.1)]);
    assert_eq!(found("refractometer-factor", &two, "few-samples"), ["/samples"]);
    let told = findings("refractometer-factor", &two, "few-samples");
    assert!(told[0]["text"].as_str().expect("a text").contains("Make up five"));
    let five = changed("refractometer-factor", |_| {});
    assert!(found("refractometer-factor", &five, "few-samples").is_empty());
}

/// In at least 95 of 100 of 2,000 simulated calibrations read to the nearest division, with
/// scatter far below it or of its size, the band of a future reading contains the true
/// value. (Coverage, not a published figure.)
#[test]
fn the_band_holds_on_a_scale_that_is_read_to_its_divisions() {
    const STRENGTHS: [f64; 5] = [2.0, 4.0, 6.0, 8.0, 10.0];
    for scatter in [0.005, 0.05, 0.2] {
        let errors = Distribution { estimate: 0.0, u: scatter, shape: Normal };
        let strength = Distribution { estimate: 6.0, u: 4.0 / 3_f64.sqrt(), shape: Rectangular };
        let water = Distribution { estimate: 1.0, u: 0.1, shape: Rectangular };
        let inputs = [vec![errors; STRENGTHS.len() + 1], vec![strength, water]].concat();
        let joint = Joint::independent(inputs);
        let covered = |x: &[f64], y: &mut Vec<f64>| {
            let n = STRENGTHS.len();
            let reads = |c: f64, error: f64| {
                let exact = x[n + 2] + c / 1.27 + error;
                Brix::of((exact / 0.2).round() * 0.2)
            };
            let samples = STRENGTHS.iter().zip(x).map(|(c, error)| {
                let concentration = Concentration::of(*c)?;
                Ok(CalibrationSample { concentration, brix: reads(*c, *error)? })
            });
            let c = x[n + 1];
            let question = RefractometerCalibration {
                samples: samples.collect::<Result<_, Refusal>>()?,
                line: Some(CalibrationLine::WithOffset),
                division: Some(ScaleDivision::of(0.2)?),
                readings: Some(vec![reads(c, x[n])?]),
                repeats: None,
            };
            let answer = question.calculate()?.answer;
            let found = &answer.readings[0];
            let (low, high) = (found.low.map(Quantity::get), found.high.map(Quantity::get));
            let low_holds = low.is_none_or(|low| low <= c);
            let holds = low_holds && high.is_none_or(|high| c <= high);
            y.push(f64::from(u8::from(holds)));
            Ok::<(), Refusal>(())
        };
        let drawn = draw(&joint, (2_000, 1), 1, 2, covered);
        let values = drawn.values(0);
        assert_eq!(values.len(), 2_000, "{:?}", drawn.refused.first());
        let coverage = values.iter().sum::<f64>() / 2_000.0;
        assert!(coverage >= 0.95, "{scatter}: {coverage}");
    }
}
