//! Refractive indices of sucrose and their correction by temperature, each with its source.

use crate::{assert_near, number, solve};
use serde_json::json;
use sumpwright_engine::handbook::sucrose;

fn by_index(index: f64) -> f64 {
    let reading = json!({ "method": "refractive_index", "index": index, "factor": 1.0 });
    let record = solve("concentration", &json!({ "units": "metric", "reading": reading }));
    number(&record.expect("it can be read"), "/answer/concentration")
}

/// CRC Handbook, concentrative properties of sucrose, four decimals, held to one
/// unit in the last place: 0.07 °Brix. Half a unit would not do: at 20 % the
/// handbook prints 1.3639 where the five-decimal scale has 1.36384.
#[test]
fn refractive_indices_of_the_crc_handbook() {
    let points = [
        (1.0, 1.3344),
        (2.0, 1.3359),
        (5.0, 1.3403),
        (10.0, 1.3478),
        (15.0, 1.3557),
        (20.0, 1.3639),
    ];
    for (brix, index) in points {
        assert_near(by_index(index), brix, 1e-4 / 1.428e-3);
    }
    // 30 % is the end of the scale, which the handbook's rounded 1.3812 lies just
    // beyond: it is compared as an index.
    assert_near(sucrose::index_from_brix(30.0), 1.3812, 1e-4);
}

/// Nominal values of certified refractometer solutions (OIML R 142), five
/// decimals; the cubic in use misses no tabulated value by more than 5.2e-6,
/// which is 0.004 °Brix.
#[test]
fn refractive_indices_of_certified_solutions() {
    assert_near(by_index(1.33299), 0.0, 0.004);
    assert_near(by_index(1.33659), 2.5, 0.004);
}

fn corrected(brix: f64, celsius: f64) -> f64 {
    let reading =
        json!({ "method": "refractometer", "brix": brix, "factor": 1.0, "temperature": celsius });
    let record = solve("concentration", &json!({ "units": "metric", "reading": reading }));
    number(&record.expect("it can be corrected"), "/answer/concentration")
}

/// The international temperature table of 1936 as GOST table A.1 prints it; the
/// rows for 25 and 30 °C are from memory.
#[test]
fn temperature_corrections_of_the_international_table() {
    let table: &[(f64, [f64; 4])] = &[
        (10.0, [-0.54, -0.58, -0.61, -0.64]),
        (12.0, [-0.45, -0.48, -0.50, -0.52]),
        (15.0, [-0.29, -0.31, -0.33, -0.34]),
        (17.0, [-0.18, -0.19, -0.20, -0.21]),
        (19.0, [-0.06, -0.06, -0.07, -0.07]),
        (20.0, [0.0; 4]),
        (21.0, [0.07, 0.07, 0.07, 0.07]),
        (22.0, [0.13, 0.14, 0.14, 0.15]),
        (25.0, [0.35, 0.36, 0.37, 0.38]),
        (30.0, [0.74, 0.77, 0.78, 0.79]),
    ];
    for (celsius, row) in table {
        for (brix, correction) in [5.0, 10.0, 15.0, 20.0].into_iter().zip(row) {
            assert_near(corrected(brix, *celsius) - brix, *correction, 1e-12);
        }
    }
}

/// Water alone by IAPWS R9-97 (recomputed with the package iapws): an
/// independent look at the column for 0 °Brix, the two rows from memory
/// included. The table is older than the formulation; they differ by 0.02.
#[test]
fn temperature_corrections_of_water_by_iapws() {
    for (celsius, iapws) in [(10.0, -0.500), (15.0, -0.283), (25.0, 0.343), (30.0, 0.741)] {
        assert_near(sucrose::temperature_correction(0.0, celsius), iapws, 0.025);
    }
}

/// Plain arithmetic of the trade: factor 1.50 × reading 5.0 is 7.50.
#[test]
fn a_factor_times_a_reading() {
    let reading = json!({ "method": "refractometer", "brix": 5.0, "factor": 1.5 });
    let record = solve("concentration", &json!({ "units": "metric", "reading": reading }));
    assert_near(number(&record.expect("a reading"), "/answer/concentration"), 7.5, 1e-12);
}

/// Common practice, no source: a factor of 1.0 makes the scale read % by volume.
#[test]
fn a_factor_of_one_reads_percent() {
    assert_near(corrected(6.2, 20.0), 6.2, 1e-12);
}
