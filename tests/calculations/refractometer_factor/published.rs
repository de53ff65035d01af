//! Straight-line fits and calibrations against published figures, each with its source.

use crate::{assert_near, number, solve};
use serde_json::{Value, json};
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::calculations::sump::refractometer_factor::{
    CalibrationLine, CalibrationSample, RefractometerCalibration,
};
use sumpwright_engine::numerics::distribution::DistributionShape::{Normal, Rectangular};
use sumpwright_engine::numerics::distribution::{Distribution, Joint};
use sumpwright_engine::numerics::line::{Line, Through};
use sumpwright_engine::numerics::monte_carlo::draw;
use sumpwright_engine::quantity::{Brix, Concentration, Quantity, ScaleDivision};

fn straight(x: &[f64], y: &[f64], through: Through) -> Line {
    Line::fit(x, y, through).expect("a line")
}

#[track_caller]
fn assert_ten_digits(found: f64, certified: f64) {
    assert!((found / certified - 1.0).abs() < 1e-10, "{found} is not {certified}");
}

/// NIST StRD NoInt1, certified, to ten digits; and as a calibration, its readings
/// halved so that they fit on the scale.
#[test]
fn nist_no_int_1() {
    let x: Vec<f64> = (60..=70).map(f64::from).collect();
    let y: Vec<f64> = (130..=140).map(f64::from).collect();
    let line = straight(&x, &y, Through::Origin);
    assert_ten_digits(line.slope, 2.07438016528926);
    assert_ten_digits(line.u_slope().expect("known"), 0.0165289256198347);
    assert_ten_digits(line.scatter().expect("known"), 3.56753034006338);

    let samples: Vec<Value> =
        x.iter().zip(&y).map(|(x, y)| json!({ "concentration": x, "brix": y / 2.0 })).collect();
    let question = json!({ "units": "metric", "samples": samples, "line": "through_origin",
                           "division": 1e-9 });
    let record = solve("refractometer-factor", &question).expect("a factor");
    let factor = 2.0 / 2.07438016528926;
    assert_ten_digits(number(&record, "/answer/factor"), factor);
    let u = factor * 0.0165289256198347 / 2.07438016528926;
    assert_ten_digits(number(&record, "/answer/factor_u"), u);
    assert_ten_digits(number(&record, "/answer/scatter"), 3.56753034006338 / 2.0);
}

/// NIST StRD Norris, certified, to ten digits.
#[test]
fn nist_norris() {
    const Y_X: [(f64, f64); 36] = [
        (0.1, 0.2),
        (338.8, 337.4),
        (118.1, 118.2),
        (888.0, 884.6),
        (9.2, 10.1),
        (228.1, 226.5),
        (668.5, 666.3),
        (998.5, 996.3),
        (449.1, 448.6),
        (778.9, 777.0),
        (559.2, 558.2),
        (0.3, 0.4),
        (0.1, 0.6),
        (778.1, 775.5),
        (668.8, 666.9),
        (339.3, 338.0),
        (448.9, 447.5),
        (10.8, 11.6),
        (557.7, 556.0),
        (228.3, 228.1),
        (998.0, 995.8),
        (888.8, 887.6),
        (119.6, 120.2),
        (0.3, 0.3),
        (0.6, 0.3),
        (557.6, 556.8),
        (339.3, 339.1),
        (888.0, 887.2),
        (998.5, 999.0),
        (778.9, 779.0),
        (10.2, 11.1),
        (117.6, 118.3),
        (228.9, 229.2),
        (668.4, 669.1),
        (449.2, 448.9),
        (0.2, 0.5),
    ];
    let (y, x): (Vec<f64>, Vec<f64>) = Y_X.into_iter().unzip();
    let line = straight(&x, &y, Through::Offset);
    assert_ten_digits(line.offset, -0.262323073774029);
    assert_ten_digits(line.u_offset().expect("known"), 0.232818234301152);
    assert_ten_digits(line.slope, 1.00211681802045);
    assert_ten_digits(line.u_slope().expect("known"), 0.000429796848199937);
    assert_ten_digits(line.scatter().expect("known"), 0.884796396144373);
}

/// JCGM 100:2008 (GUM), H.3: calibration of a thermometer, with its correlation and
/// its prediction at 30 °C, which without the correlation would have u 0.0073.
#[test]
fn gum_h_3_calibration_of_a_thermometer() {
    let t =
        [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511];
    let b =
        [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160];
    let line = straight(&t.map(|t| t - 20.0), &b, Through::Offset);
    let (u_offset, u_slope) = (line.u_offset().expect("known"), line.u_slope().expect("known"));
    assert_near(line.offset, -0.17120379, 5e-9);
    assert_near(u_offset, 0.0028776, 5e-8);
    assert_near(line.slope, 0.00218270, 5e-9);
    assert_near(u_slope, 0.00066794, 5e-9);
    assert_near(line.correlation().expect("known"), -0.9304296, 5e-8);
    assert_near(line.scatter().expect("known"), 0.00349756, 5e-9);
    assert_eq!(line.degrees_of_freedom, 9);
    let (prediction, u) = line.at(10.0);
    assert_near(prediction, -0.1494, 5e-5);
    assert_near(u.expect("known"), 0.0041, 5e-5);
    assert_near(u_offset.hypot(10.0 * u_slope), 0.0073, 5e-5);
}

/// In 94 to 96 % of 2,000 simulated calibrations the 95 % interval of a future reading
/// covers the true concentration, through the origin and with an
/// offset. (Coverage, not a published figure; the samples are drawn.)
#[test]
fn the_band_of_a_future_reading_covers_what_it_says() {
    const STRENGTHS: [f64; 6] = [1.0, 2.0, 4.0, 6.0, 8.0, 10.0];
    let errors = vec![Distribution { estimate: 0.0, u: 0.08, shape: Normal }; STRENGTHS.len() + 1];
    let strength = Distribution { estimate: 5.0, u: 4.0 / 3_f64.sqrt(), shape: Rectangular };
    let joint = Joint::independent([errors, vec![strength]].concat());
    for (kind, water) in [(CalibrationLine::ThroughOrigin, 0.0), (CalibrationLine::WithOffset, 0.5)]
    {
        let reads = |c: f64, error: f64| Brix::of(water + c / 1.25 + error);
        let covered = |x: &[f64], y: &mut Vec<f64>| {
            let samples = STRENGTHS.iter().zip(x).map(|(c, error)| {
                let concentration = Concentration::of(*c)?;
                Ok(CalibrationSample { concentration, brix: reads(*c, *error)? })
            });
            let c = x[STRENGTHS.len() + 1];
            let question = RefractometerCalibration {
                samples: samples.collect::<Result<_, sumpwright_engine::text::Refusal>>()?,
                line: Some(kind),
                division: Some(ScaleDivision::of(1e-9)?),
                readings: Some(vec![reads(c, x[STRENGTHS.len()])?]),
                repeats: None,
            };
            let answer = question.calculate()?.answer;
            let found = &answer.readings[0];
            let (low, high) = (found.low.expect("bounded"), found.high.expect("bounded"));
            y.push(f64::from(u8::from((low.get()..=high.get()).contains(&c))));
            Ok::<(), sumpwright_engine::text::Refusal>(())
        };
        let drawn = draw(&joint, (2_000, 1), 1, 2, covered);
        let values = drawn.values(0);
        assert_eq!(values.len(), 2_000, "{:?}", drawn.refused.first());
        let coverage = values.iter().sum::<f64>() / 2_000.0;
        assert!((0.94..=0.96).contains(&coverage), "{kind:?}: {coverage}");
    }
}
