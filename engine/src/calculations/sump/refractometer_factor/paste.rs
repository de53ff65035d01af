//! The result as a request for `concentration` takes it.

use crate::numerics::line::Line;
use crate::quantity::{
    BrixOffset, CorrelationCoefficient, Deviation, Quantity, RefractometerFactor,
};
use crate::text::Refusal;
use crate::uncertainty::{InputCorrelation, InputUncertainty, Uncertainty};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// Parts of a request for `concentration`: add what the refractometer reads, and
/// the answer says how sure it is.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ForConcentration {
    /// # Into the reading
    ///
    /// Goes into the member `reading`, beside `method` and `brix`.
    pub reading: FactorReading,
    /// # Uncertainty
    ///
    /// Goes into the request as it is; absent when no sample is left over to work out
    /// uncertainties by.
    pub uncertainty: Option<Uncertainty>,
}

/// The factor and the water's reading, for a reading to come.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FactorReading {
    /// # Refractometer factor
    ///
    /// The refractometer factor.
    pub factor: RefractometerFactor,
    /// # Water alone reads
    ///
    /// Reading of the water alone.
    pub water_brix: BrixOffset,
}

const BRIX: &str = "/reading/brix";
const FACTOR: &str = "/reading/factor";
const WATER: &str = "/reading/water_brix";

pub(super) fn paste(line: &Line, repeats: f64) -> Result<ForConcentration, Refusal> {
    let f = 1.0 / line.slope;
    let reading = FactorReading {
        factor: RefractometerFactor::of(f)?,
        water_brix: BrixOffset::of(line.offset)?,
    };
    let (Some(u_reading), Some(u_slope)) = (line.u_reading(repeats), line.u_slope()) else {
        return Ok(ForConcentration { reading, uncertainty: None });
    };
    let normal = |u: f64| {
        Ok::<_, Refusal>(InputUncertainty {
            u: Some(Deviation::of(u)?),
            half_width: None,
            shape: None,
        })
    };
    let mut inputs = BTreeMap::from([
        (BRIX.to_owned(), normal(u_reading)?),
        (FACTOR.to_owned(), normal(f * u_slope / line.slope)?),
    ]);
    let mut correlations = None;
    if let (Some(u_offset), Some(r)) = (line.u_offset(), line.correlation()) {
        inputs.insert(WATER.to_owned(), normal(u_offset)?);
        correlations = Some(vec![InputCorrelation {
            first: FACTOR.to_owned(),
            second: WATER.to_owned(),
            // A steeper line has a smaller factor.
            coefficient: CorrelationCoefficient::of(-r)?,
        }]);
    }
    let uncertainty = Uncertainty { inputs, correlations, draws: None, seed: None };
    Ok(ForConcentration { reading, uncertainty: Some(uncertainty) })
}
