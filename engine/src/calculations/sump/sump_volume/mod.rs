//! What a sump holds, from its shape, from a dilution, or from both.
//!
//! *Nobody knows what this sump holds. I can measure it with a rule, or pour 20 L
//! of water in and read the strength before and after.*
//!
//! 1. by shape: the compartments up to the level, less what stands in them, and
//!    what is in the pipes ([`shape`]); its uncertainty from that of the lengths
//! 2. by dilution: V·c₀ + A·c_A = (V + A)·c₁, so V = A·(c_A − c₁)/(c₁ − c₀), with V
//!    what circulated before (L), A what was added (L), c₀, c_A and c₁ the strengths
//!    before, of the addition and after (% by volume)
//! 3. both agree where |V₁ − V₂| ≤ 1.96·√(u₁² + u₂²), and then
//!    V = (V₁/u₁² + V₂/u₂²)/(1/u₁² + 1/u₂²), u² = 1/(1/u₁² + 1/u₂²). Where they do not,
//!    they are not of one thing, and there is no V: both are told, with their ratio.
//!
//! Assumes a level sump, and fluid that is well mixed before each reading. A
//! dilution tells what circulates, pipes and machine bed included; a shape, what is
//! in the sump up to the level. Measure both at the same level, before the addition.
//! Source: geometry; balance of the concentrate; weighted mean, as textbooks have it.

use crate::calculation::{Calculation, Outcome};
use crate::fluid::Fluid;
use crate::fluid::balance::{Balance, Way};
use crate::fluid::practice::{LARGE_SUMP, read_with_pumps_off};
use crate::fluid::properties::Properties;
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::numerics::distribution::NORMAL_95;
use crate::quantity::{Concentration, Length, Quantity, Ratio, Share, Volume, VolumeDifference};
use crate::text::{Assumption, Caution, Refusal};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

mod checks;
mod estimate;
mod filled;
mod findings;
pub mod shape;

pub use shape::{BoxCompartment, Compartment, Displaced, LCompartment, LyingCylinder, RoundBottom};

/// What there is to tell a sump's volume from: its shape, a dilution, or both.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpVolume {
    /// The sump measured with a rule.
    pub shape: Option<SumpShape>,
    /// Strengths before and after a known addition.
    pub dilution: Option<Dilution>,
}

/// A sump measured with a rule.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpShape {
    /// The compartments that it is made of.
    #[schema(min_items = 1, max_items = 20000)]
    pub compartments: Vec<Compartment>,
    /// What stands in it and takes up room.
    #[schema(min_items = 1, max_items = 20000)]
    pub displaced: Option<Vec<Displaced>>,
    /// How high the fluid stands above the sump's lowest point.
    #[schema(example = 300.0)]
    pub level: Length,
    /// Fluid in pipes, pumps and the machine's bed while it circulates; none when
    /// left out.
    pub in_pipes: Option<Volume>,
    /// How well each length and the level were measured (standard uncertainty).
    #[schema(example = 3.0)]
    pub length_u: Option<Length>,
    /// From one line of the dip table to the next; a twentieth of the depth when
    /// left out.
    #[schema(example = 20.0)]
    pub dip_step: Option<Length>,
}

/// Strengths before and after a known addition.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Dilution {
    /// How strong the fluid was. Where water was added only the ratio of both
    /// strengths counts, so a factor that is a little off does no harm.
    #[schema(example = 8.0)]
    pub before: Concentration,
    /// How much was added.
    #[schema(example = 20.0)]
    pub added: Volume,
    /// How strong the addition was; 0, plain water, when left out.
    pub added_concentration: Option<Concentration>,
    /// How strong the fluid is once it is well mixed again.
    #[schema(example = 7.2)]
    pub after: Concentration,
    /// How good each of both strengths is (standard uncertainty, points of %).
    #[schema(example = 0.05)]
    pub strength_u: Option<Share>,
    /// How well the addition was measured (standard uncertainty); exactly when left
    /// out.
    #[schema(example = 0.2)]
    pub added_u: Option<Volume>,
}

/// What the sump holds.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpVolumeAnswer {
    /// Whether the volumes by shape and by dilution agree, where there are both.
    pub agreement: Option<Agreement>,
    /// What it holds at the level at which it was measured; absent where shape and
    /// dilution disagree, for then nobody knows.
    pub volume: Option<Volume>,
    /// Its standard uncertainty; absent where the request does not say how well was
    /// measured.
    pub u: Option<Volume>,
    /// By its shape.
    pub by_shape: Option<VolumeEstimate>,
    /// By dilution.
    pub by_dilution: Option<VolumeEstimate>,
    /// What it holds when full to the lowest brim, pipes included.
    pub at_brim: Option<Volume>,
    /// What it holds at each level of the dip stick.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub dip_table: Vec<DipLine>,
}

/// A volume and how good it is.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct VolumeEstimate {
    /// The volume.
    pub volume: Volume,
    /// Its standard uncertainty; absent where the request does not say how well was
    /// measured.
    pub u: Option<Volume>,
}

/// Whether two estimates agree.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Agreement {
    /// Whether they agree. Where they do not, a finding says why that may be and what
    /// to measure next.
    pub agree: bool,
    /// By shape less by dilution.
    pub difference: VolumeDifference,
    /// How far both may lie apart at 95 % by their uncertainties.
    pub expected: Volume,
    /// How many times the volume by shape the one by dilution is; absent where the
    /// shape holds next to nothing.
    pub ratio: Option<Ratio>,
}

/// A line of the dip table.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct DipLine {
    /// The level above the sump's lowest point.
    pub level: Length,
    /// What is in it then, without what is in the pipes.
    pub volume: Volume,
}

impl Calculation for SumpVolume {
    const NAME: &'static str = "sump-volume";
    const SUMMARY: &'static str = "What a sump holds, from its shape with a dip table, from a \
                                   dilution, or from both by their uncertainties";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/sump-volume.json");
    const IS_QUICK: bool = true;
    type Answer = SumpVolumeAnswer;

    fn calculate(&self) -> Result<Outcome<SumpVolumeAnswer>, Refusal> {
        self.check()?;
        let by_shape = self.shape.as_ref().map(SumpShape::estimate).transpose()?;
        let by_dilution = self.dilution.as_ref().map(Dilution::estimate).transpose()?;
        let (agreement, combined) = match (&by_shape, &by_dilution) {
            (Some(shape), Some(dilution)) => combine(shape, dilution)?,
            (Some(only), None) | (None, Some(only)) => (None, Some(only.clone())),
            (None, None) => return Err(checks::nothing_to_go_by()),
        };
        let shape = self.shape.as_ref();
        let at_brim = shape.map(|shape| Volume::of(shape.litres_at(shape.brim()) + shape.pipes()));
        let answer = SumpVolumeAnswer {
            agreement,
            volume: combined.as_ref().map(|combined| combined.volume),
            u: combined.and_then(|combined| combined.u),
            by_shape,
            at_brim: at_brim.transpose()?,
            dip_table: shape.map_or(Ok(Vec::new()), SumpShape::dip_table)?,
            by_dilution,
        };
        let dilution = self.dilution.as_ref().zip(answer.by_dilution.as_ref());
        let balance = dilution.map(|(dilution, found)| dilution.balance(found.volume.get()));
        Ok(Outcome {
            findings: self.findings(&answer),
            balance: balance.transpose()?,
            assumptions: self.assumptions(),
            cautions: cautions(&answer),
            answer,
        })
    }
}

/// Whether two estimates agree, and their weighted mean where they do.
fn combine(
    shape: &VolumeEstimate,
    dilution: &VolumeEstimate,
) -> Result<(Option<Agreement>, Option<VolumeEstimate>), Refusal> {
    let known = |estimate: &VolumeEstimate| estimate.u.filter(|u| u.get() > 0.0);
    let (Some(u_1), Some(u_2)) = (known(shape), known(dilution)) else {
        return Err(checks::how_good(shape, dilution));
    };
    let (v_1, u_1) = (shape.volume.get(), u_1.get());
    let (v_2, u_2) = (dilution.volume.get(), u_2.get());
    let apart = u_1.hypot(u_2);
    let agree = (v_1 - v_2).abs() <= NORMAL_95 * apart;
    let agreement = Agreement {
        agree,
        difference: VolumeDifference::of(v_1 - v_2)?,
        expected: Volume::of(NORMAL_95 * apart)?,
        ratio: Ratio::of(v_2 / v_1).ok(),
    };
    let (w_1, w_2) = (u_1.powi(-2), u_2.powi(-2));
    let combined = agree.then(|| {
        Ok::<_, Refusal>(VolumeEstimate {
            volume: Volume::of((w_1 * v_1 + w_2 * v_2) / (w_1 + w_2))?,
            u: Some(Volume::of((w_1 + w_2).powf(-0.5))?),
        })
    });
    Ok((Some(agreement), combined.transpose()?))
}

impl SumpVolume {
    fn assumptions(&self) -> Vec<Assumption> {
        let mut assumptions = Vec::new();
        if self.shape.is_some() {
            assumptions.push(read_with_pumps_off("/shape/level"));
        }
        if self.dilution.is_some() {
            let template = "The fluid was taken to have the density of water at {}, {}.";
            assumptions.push(Assumption::like_water("/dilution", template));
        }
        let mut note = |pointer: &'static str, text: &'static str| {
            assumptions.push(Assumption::new(pointer, text));
        };
        if let Some(shape) = &self.shape {
            note("/shape", "The sump was taken to stand level, its walls to be straight.");
            if shape.in_pipes.is_none() {
                note("/shape/in_pipes", "Nothing was taken to be in pipes and the machine's bed.");
            }
            if shape.displaced.is_none() {
                note("/shape/displaced", "Nothing was taken to stand in the sump.");
            }
        }
        if let Some(dilution) = &self.dilution {
            note("", "Volumes add: a mix takes up what its parts took up.");
            let text = "The fluid was taken to be well mixed before and after, and nothing to be \
                        lost in between.";
            note("/dilution", text);
            if dilution.added_concentration.is_none() {
                note("/dilution/added_concentration", "Plain water was taken to be added.");
            }
            if dilution.added_u.is_none() && dilution.strength_u.is_some() {
                note("/dilution/added_u", "The addition was taken to be measured exactly.");
            }
        }
        assumptions
    }
}

fn cautions(answer: &SumpVolumeAnswer) -> Vec<Caution> {
    let mut cautions = vec![Caution::MACHINE, Caution::SKIN_AND_MIST];
    let estimates = [answer.by_shape.as_ref(), answer.by_dilution.as_ref()];
    let found = estimates.into_iter().flatten().map(|estimate| estimate.volume);
    if found.chain(answer.at_brim).any(|volume| volume.get() >= LARGE_SUMP) {
        cautions.push(Caution::CONFINED_SPACE);
    }
    cautions
}

impl Dilution {
    fn strength_added(&self) -> f64 {
        self.added_concentration.map_or(0.0, Quantity::get)
    }

    /// The concentrate that was there and came in against that which is there now.
    fn balance(&self, v: f64) -> Result<Balance, Refusal> {
        let none = Properties::default();
        let fluid = |volume, c| Fluid::of(volume, c, DENSITY_AT_20_CELSIUS, &none);
        let a = self.added.get();
        let before = fluid(v, self.before.get());
        let added = fluid(a, self.strength_added());
        let after = fluid(v + a, self.after.get());
        Balance::close(&[
            ("fluid before", Way::In, &before),
            ("added", Way::In, &added),
            ("fluid after", Way::Stays, &after),
        ])
    }
}
