//! What does the separating: the stages, and the separator that a stage makes
//! with the fluid and what is in it.

use super::particles::Particles;
use crate::quantity::{
    Count, Density, Dimension, HalfAngle, Multiple, ParticleSize, RotationalSpeed, Share,
    Temperature, Viscosity,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A stage, the fluid that goes through it, and what is to be taken out.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Separator {
    /// What does the separating.
    pub stage: SeparatingStage,
    /// The fluid itself; water at 20 °C when left out.
    pub fluid: Option<CarrierFluid>,
    /// What is to be taken out of the fluid, an entry for each property.
    #[schema(min_items = 1, max_items = 20000)]
    pub particles: Vec<Particles>,
}

/// The fluid that carries the particles, free of them.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct CarrierFluid {
    /// Its temperature; 20 °C when left out. Density and viscosity are those of
    /// water at this temperature unless they are given.
    #[schema(example = 25.0)]
    pub temperature: Option<Temperature>,
    /// Its own density at this temperature.
    pub density: Option<Density>,
    /// Its own viscosity at this temperature: a strong emulsion is thicker than
    /// water.
    pub viscosity: Option<Viscosity>,
}

/// What does the separating.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum SeparatingStage {
    /// A tank in which solids sink and oil rises.
    Settling(SettlingTank),
    /// A centrifuge with a long plain bowl.
    TubularCentrifuge(TubularCentrifuge),
    /// A centrifuge with a stack of discs.
    DiscCentrifuge(DiscCentrifuge),
    /// A filter.
    Filter(Filter),
    /// A coalescer.
    Coalescer(Coalescer),
    /// A membrane.
    Ultrafiltration(Ultrafiltration),
}

/// A tank through which fluid flows slowly along its length: solids sink to its
/// floor, oil rises to its surface.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SettlingTank {
    /// Length of the fluid's surface, along the flow.
    #[schema(example = 2000.0)]
    pub length: Dimension,
    /// Width of the fluid's surface, across the flow.
    #[schema(example = 800.0)]
    pub width: Dimension,
    /// How deep the fluid is. Needed for the turbulence of separator practice.
    #[schema(example = 600.0)]
    pub depth: Option<Dimension>,
    /// What is made of turbulence; `quiet` when left out.
    pub turbulence: Option<Turbulence>,
    /// How many times as much surface turbulence and short-circuiting ask for,
    /// where it is known of this tank.
    pub turbulence_factor: Option<Multiple>,
}

/// What is made of turbulence in a tank.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Turbulence {
    /// None: the ideal tank, which no real one reaches.
    Quiet,
    /// The turbulence factor of the published practice for oil separators (API
    /// Publication 421), by the flow along the tank against the rise of a drop
    /// of 150 µm.
    SeparatorPractice,
}

/// A centrifuge with a long plain bowl.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct TubularCentrifuge {
    /// How fast the bowl turns.
    #[schema(example = 15000.0)]
    pub speed: RotationalSpeed,
    /// Inner radius of the bowl, from the axis to the wall.
    #[schema(example = 50.0)]
    pub bowl_radius: Dimension,
    /// From the axis to the fluid's surface in the turning bowl.
    #[schema(example = 30.0)]
    pub surface_radius: Dimension,
    /// Length of the bowl.
    #[schema(example = 600.0)]
    pub bowl_length: Dimension,
    /// What share of its sigma the machine reaches in practice; all of it when
    /// left out.
    pub sigma_reached: Option<Share>,
}

/// A centrifuge with a stack of discs.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DiscCentrifuge {
    /// How fast the bowl turns.
    #[schema(example = 7000.0)]
    pub speed: RotationalSpeed,
    /// How many gaps there are between the discs.
    #[schema(example = 60)]
    pub gaps: Count,
    /// From the axis to the outer edge of the discs.
    #[schema(example = 90.0)]
    pub outer_radius: Dimension,
    /// From the axis to the inner edge of the discs.
    #[schema(example = 40.0)]
    pub inner_radius: Dimension,
    /// Angle between the discs and the axis (half the angle of their cone).
    #[schema(example = 40.0)]
    pub half_angle: HalfAngle,
    /// What share of its sigma the machine reaches in practice; all of it when
    /// left out.
    pub sigma_reached: Option<Share>,
}

/// A filter: the share that it takes out in one pass, for all sizes or by size.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Filter {
    /// The share that it takes out in one pass, whatever the size. Give this or
    /// the grades.
    pub efficiency: Option<Share>,
    /// The share that it takes out of each size in one pass, in the order of size.
    #[schema(min_items = 1, max_items = 20000)]
    pub grades: Option<Vec<SizeGrade>>,
}

/// A coalescer, which takes out tramp oil and nothing else: the share in one
/// pass, for all sizes or by size.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Coalescer {
    /// The share of the oil that it takes out in one pass, whatever the size of
    /// the drops. Give this or the grades.
    #[schema(example = 85.0)]
    pub efficiency: Option<Share>,
    /// The share that it takes out of each size of drop in one pass, in the
    /// order of size.
    #[schema(min_items = 1, max_items = 20000)]
    pub grades: Option<Vec<SizeGrade>>,
}

/// What share of one size is taken out; between the sizes given the share runs
/// along with the logarithm of the size, beyond them it stays as it is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SizeGrade {
    /// The size.
    #[schema(example = 20.0)]
    pub size: ParticleSize,
    /// The share of this size that is taken out in one pass.
    #[schema(example = 90.0)]
    pub share: Share,
}

/// A membrane that lets water through and holds back the rest, run until the
/// fluid is down to a part of its volume.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Ultrafiltration {
    /// The volume of the feed against what is left of it (the retentate): 1,000 L
    /// brought down to 50 L is 20.
    #[schema(example = 20.0)]
    pub volume_concentration_factor: Multiple,
    /// What the membrane holds back, by property and for the concentrate; all of
    /// what is not listed.
    #[schema(min_items = 1, max_items = 20000)]
    pub rejections: Option<Vec<Rejection>>,
}

/// How much of something a membrane holds back.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Rejection {
    /// What it holds back: `concentrate`, `tramp_oil`, or another property.
    #[serde(deserialize_with = "crate::fluid::properties::name")]
    #[schema(example = "concentrate", pattern = "^[A-Za-z][A-Za-z0-9_]{0,63}$")]
    pub property: String,
    /// 100 % lets none of it through; 0 % lets it through with the water.
    #[schema(example = 98.0)]
    pub share: Share,
}
