//! Streams that must close.
//!
//! Every answer that moves material shows where it came from and where it went:
//! a row a stream, a column a material. What goes in, less what goes out, less
//! what stays, is the residual. The streams that stay are built from what was
//! asked for and those that go in from what the calculation found, so the
//! residual is a check of the answer and not of itself.

use crate::fluid::Fluid;
use crate::fluid::properties::{ByProperty, Carried, CarriedDifference};
use crate::quantity::{Mass, MassDifference, Quantity, Volume, VolumeDifference};
use crate::sentence;
use crate::text::{Kind, Refusal, is_filed};
use serde::{Deserialize, Serialize};
use smol_str::SmolStr;
use utoipa::ToSchema;

/// A balance closes when no residual is more than this share of the throughput.
pub const CLOSES_TO: f64 = 1e-9;

/// The material balance behind an answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = MaterialBalance)]
pub struct Balance {
    /// # Streams
    ///
    /// Each stream that goes in, goes out or stays.
    pub streams: Vec<Stream>,
    /// # Residual
    ///
    /// In minus out minus what stays: 0, to a billionth of the throughput.
    pub residual: Residual,
}

/// The direction of a stream.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum StreamDirection {
    /// Was there before, or comes in.
    In,
    /// Leaves.
    Out,
    /// Is there afterwards.
    Stays,
}

/// One stream and the materials it carries.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = BalanceStream)]
pub struct Stream {
    /// # Stream
    ///
    /// Name of the stream: a stock, or where in the job it belongs.
    #[schema(example = "sump before", value_type = String)]
    pub name: SmolStr,
    /// # Goes
    ///
    /// Whether it goes in, goes out or stays.
    pub way: StreamDirection,
    /// # Volume
    ///
    /// Volume of the whole.
    pub volume: Volume,
    /// # Concentrate
    ///
    /// Volume of the concentrate in it.
    pub concentrate: Volume,
    /// # Water
    ///
    /// Volume of the water in it: what is neither concentrate nor tramp oil.
    pub water: Volume,
    /// # Mass
    ///
    /// Mass of the whole.
    pub mass: Mass,
    /// # Carried
    ///
    /// Tramp oil by volume; anything else that is followed, by mass.
    #[serde(skip_serializing_if = "Carried::is_empty", default)]
    pub carried: Carried,
}

/// What is left over of each material.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = BalanceResidual)]
pub struct Residual {
    /// # Volume left over
    ///
    /// Volume left over.
    pub volume: VolumeDifference,
    /// # Concentrate left over
    ///
    /// Concentrate left over.
    pub concentrate: VolumeDifference,
    /// # Water left over
    ///
    /// Water left over.
    pub water: VolumeDifference,
    /// # Mass left over
    ///
    /// Mass left over.
    pub mass: MassDifference,
    /// # Carried left over
    ///
    /// What is left over of anything else that is followed.
    #[serde(skip_serializing_if = "CarriedDifference::is_empty", default)]
    pub carried: CarriedDifference,
}

impl Balance {
    /// Draws up the balance, or refuses the answer behind it when it does not
    /// close. Its rows are made only where a record is filed; it closes always.
    pub fn close(streams: &[(&str, StreamDirection, &Fluid)]) -> Result<Self, Refusal> {
        let mut left_over = Fluid::default();
        let mut throughput = Fluid::default();
        for (_, way, fluid) in streams {
            match way {
                StreamDirection::In => {
                    left_over += fluid;
                    throughput += fluid;
                }
                StreamDirection::Out | StreamDirection::Stays => {
                    left_over += &((*fluid).clone() * -1.0);
                }
            }
        }
        if !closes(&left_over, &throughput) {
            return Err(does_not_close());
        }
        let rows = streams.iter().filter(|_| is_filed());
        let rows = rows.map(|(name, way, fluid)| Stream::of(name, *way, fluid));
        Ok(Self {
            streams: rows.collect::<Result<_, Refusal>>()?,
            residual: Residual::of(&left_over)?,
        })
    }
}

/// Volumes are held to the volume that went through, so that a trace of oil is
/// not asked to close to a billionth of itself; masses likewise.
fn closes(left_over: &Fluid, throughput: &Fluid) -> bool {
    let litres = throughput.volume * CLOSES_TO;
    let kilograms = throughput.mass * CLOSES_TO;
    let carried = left_over.matter.iter().all(|(name, left)| {
        let through = throughput.matter.get(name).copied().unwrap_or(0.0);
        left.abs() <= through * CLOSES_TO
    });
    left_over.volume.abs() <= litres
        && left_over.concentrate.abs() <= litres
        && left_over.tramp_oil.unwrap_or(0.0).abs() <= litres
        && left_over.mass.abs() <= kilograms
        && carried
}

fn does_not_close() -> Refusal {
    let detail = sentence!(
        "An answer was found, but its material balance does not close, so it is not given. The \
         numbers of the request are too far apart to compute with; check their units."
    );
    Refusal::new(Kind::Unproven, "", detail)
}

impl Stream {
    fn of(name: &str, way: StreamDirection, fluid: &Fluid) -> Result<Self, Refusal> {
        let matter = fluid.matter.iter().map(|(name, kg)| Ok((name.clone(), Mass::of(*kg)?)));
        Ok(Self {
            name: name.into(),
            way,
            volume: Volume::of(fluid.volume)?,
            concentrate: Volume::of(fluid.concentrate)?,
            water: Volume::of(above_rounding(fluid.water(), fluid.volume))?,
            mass: Mass::of(fluid.mass)?,
            carried: ByProperty {
                tramp_oil: fluid.tramp_oil.map(Volume::of).transpose()?,
                matter: matter.collect::<Result<_, Refusal>>()?,
            },
        })
    }
}

/// `amount`, taken for nothing where it is negative by no more than the
/// rounding of a whole of size `whole`.
fn above_rounding(amount: f64, whole: f64) -> f64 {
    let rounding = 8.0 * f64::EPSILON * whole;
    if amount < 0.0 && amount >= -rounding { 0.0 } else { amount }
}

impl Residual {
    fn of(left: &Fluid) -> Result<Self, Refusal> {
        let matter =
            left.matter.iter().map(|(name, kg)| Ok((name.clone(), MassDifference::of(*kg)?)));
        Ok(Self {
            volume: VolumeDifference::of(left.volume)?,
            concentrate: VolumeDifference::of(left.concentrate)?,
            water: VolumeDifference::of(left.water())?,
            mass: MassDifference::of(left.mass)?,
            carried: ByProperty {
                tramp_oil: left.tramp_oil.map(VolumeDifference::of).transpose()?,
                matter: matter.collect::<Result<_, Refusal>>()?,
            },
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fluid::properties::Properties;

    fn water(litres: f64) -> Fluid {
        Fluid::of(litres, 0.0, 1.0, &Properties::default())
    }

    #[test]
    fn a_balance_that_does_not_close_is_refused() {
        let (had, added) = (water(40.0), water(60.0));
        let all = [("had", StreamDirection::In, &had), ("added", StreamDirection::In, &added)];
        assert!(
            Balance::close(&[all[0], all[1], ("after", StreamDirection::Stays, &water(100.0))])
                .is_ok()
        );
        let short = water(100.0 * (1.0 - 1e-8));
        let refusal = Balance::close(&[all[0], all[1], ("after", StreamDirection::Stays, &short)]);
        assert_eq!(refusal.unwrap_err().kind, Kind::Unproven);
    }
}
