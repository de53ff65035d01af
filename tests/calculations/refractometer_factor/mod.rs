//! Refractometer factor: calibration of an instrument for one fluid.

mod laws;
mod published;
mod refusals;
mod scale;
mod statement;

use serde_json::{Value, json};

/// A calibration of these strengths and readings.
fn calibration(samples: &[(f64, f64)]) -> Value {
    let sample = |(c, b): &(f64, f64)| json!({ "concentration": c, "brix": b });
    let samples: Vec<Value> = samples.iter().map(sample).collect();
    json!({ "units": "metric", "reference": "new drum", "samples": samples })
}
