//! Worked examples of the guides to uncertainty, each with its source.

use super::{MILLION, first_order, joint, monte_carlo};
use crate::assert_near;
use sumpwright_engine::numerics::distribution::DistributionShape::{
    Normal, Rectangular, Triangular,
};

fn sum(x: &[f64]) -> f64 {
    x.iter().sum()
}

/// JCGM 101:2008, 9.2.2: four normal ones added: u 2.00, 95 % ±3.92, both ways.
#[test]
fn jcgm_101_four_normal_ones_added() {
    let joint = joint(&[(0.0, 1.0, Normal); 4]);
    assert_near(first_order(&joint, sum).1, 2.0, 1e-9);
    let scatter = monte_carlo(&joint, MILLION, sum);
    assert_near(scatter.u, 2.0, 0.005);
    assert_near(scatter.low, -3.92, 0.02);
    assert_near(scatter.high, 3.92, 0.02);
}

/// JCGM 101:2008, 9.2.3: four rectangular ones of standard deviation 1: u 2.00,
/// 95 % ±3.88, where the first-order way says ±3.92.
#[test]
fn jcgm_101_four_rectangular_ones_added() {
    let joint = joint(&[(0.0, 1.0, Rectangular); 4]);
    let scatter = monte_carlo(&joint, MILLION, sum);
    assert_near(scatter.u, 2.0, 0.005);
    assert_near(scatter.low, -3.88, 0.015);
    assert_near(scatter.high, 3.88, 0.015);
}

/// Eurachem/CITAC QUAM A1: a calibration standard, 1002.7 mg/L, u 0.835199.
#[test]
fn quam_a1_a_calibration_standard() {
    let rectangular = |half_width: f64| half_width / 3_f64.sqrt();
    let joint = joint(&[
        (100.28, 0.05, Normal),
        (0.9999, rectangular(0.0001), Rectangular),
        (100.0, 0.1 / 6_f64.sqrt(), Triangular),
        (0.0, 0.02, Normal),
        (0.0, rectangular(0.084), Rectangular),
    ]);
    let model = |x: &[f64]| 1000.0 * x[0] * x[1] / (x[2] + x[3] + x[4]);
    let (value, u, shares) = first_order(&joint, model);
    assert_near(value, 1002.7, 0.01);
    assert_near(u, 0.835199, 1e-6);
    assert_near(shares.iter().sum(), 1.0, 1e-9);
    assert_near(monte_carlo(&joint, MILLION, model).u, 0.8352, 0.003);
}

/// NPL DEM-ES-011: ln x with x rectangular on (0.1, 1.1): first order −0.511 and 0.481,
/// in truth −0.6649 and 0.6062.
#[test]
fn npl_the_logarithm_of_a_rectangular_number() {
    let joint = joint(&[(0.6, 1.0 / 12_f64.sqrt(), Rectangular)]);
    let model = |x: &[f64]| x[0].ln();
    let (value, u, _) = first_order(&joint, model);
    assert_near(value, -0.511, 5e-4);
    assert_near(u, 0.481, 5e-4);
    let scatter = monte_carlo(&joint, MILLION, model);
    assert_near(scatter.mean, -0.6649, 0.002);
    assert_near(scatter.u, 0.6062, 0.002);
}

/// NIST TN 1900, E13: a coefficient of thermal expansion, 1.7266e-5, u 1.76e-6.
#[test]
fn nist_thermal_expansion() {
    let joint = joint(&[
        (1.4999, 0.0001, Normal),
        (288.15, 0.02, Normal),
        (1.5021, 0.0002, Normal),
        (373.10, 0.05, Normal),
    ]);
    let model = |x: &[f64]| (x[2] - x[0]) / (x[0] * (x[3] - x[1]));
    let (value, u, _) = first_order(&joint, model);
    assert_near(value, 1.7266e-5, 5e-10);
    assert_near(u, 1.76e-6, 5e-9);
}
