//! The stages, and the separator that a stage makes with the fluid and what is in it.

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
#[schema(as = SeparatorStage)]
pub struct Separator {
    /// # Stage
    ///
    /// The equipment that separates.
    pub stage: SeparatingStage,
    /// # Fluid
    ///
    /// The fluid itself. Default: water at room temperature.
    pub fluid: Option<CarrierFluid>,
    /// # Particles
    ///
    /// Particles and drops to take out of the fluid, an entry for each property.
    pub particles: Vec<Particles>,
}

/// The fluid that carries the particles, free of them.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct CarrierFluid {
    /// # Temperature
    ///
    /// Temperature of the fluid. Default: room temperature. Density and viscosity are those of
    /// water at this temperature unless they are given.
    #[schema(example = 25.0)]
    pub temperature: Option<Temperature>,
    /// # Density
    ///
    /// Density of the fluid at this temperature.
    pub density: Option<Density>,
    /// # Viscosity
    ///
    /// Viscosity of the fluid at this temperature. A strong emulsion is thicker than water.
    pub viscosity: Option<Viscosity>,
}

/// Equipment that separates.
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
    Filter(FilterStage),
    /// A coalescer.
    Coalescer(CoalescerStage),
    /// A membrane.
    Ultrafiltration(Ultrafiltration),
}

/// A tank through which fluid flows slowly along its length: solids sink to its
/// floor, oil rises to its surface.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SettlingTank {
    /// # Length
    ///
    /// Length of the fluid's surface, along the flow.
    #[schema(example = 2000.0)]
    pub length: Dimension,
    /// # Width
    ///
    /// Width of the fluid's surface, across the flow.
    #[schema(example = 800.0)]
    pub width: Dimension,
    /// # Depth
    ///
    /// Depth of the fluid. Needed for the turbulence of separator practice.
    #[schema(example = 600.0)]
    pub depth: Option<Dimension>,
    /// # Turbulence
    ///
    /// How turbulence is allowed for. Default: `quiet`.
    pub turbulence: Option<TankTurbulence>,
    /// # Turbulence factor
    ///
    /// Factor by which turbulence and short-circuiting enlarge the surface that is needed,
    /// where it is known for this tank.
    pub turbulence_factor: Option<Multiple>,
}

/// How turbulence in a tank is allowed for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum TankTurbulence {
    /// No turbulence: the ideal tank, which no real one reaches.
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
    /// # Speed
    ///
    /// Speed of the bowl.
    #[schema(example = 15000.0)]
    pub speed: RotationalSpeed,
    /// # Bowl radius
    ///
    /// Inner radius of the bowl, from the axis to the wall.
    #[schema(example = 50.0)]
    pub bowl_radius: Dimension,
    /// # Surface radius
    ///
    /// Radius from the axis to the fluid's surface in the turning bowl.
    #[schema(example = 30.0)]
    pub surface_radius: Dimension,
    /// # Bowl length
    ///
    /// Length of the bowl.
    #[schema(example = 600.0)]
    pub bowl_length: Dimension,
    /// # Sigma reached
    ///
    /// Share of its sigma that the machine reaches in practice. Default: 100 %.
    pub sigma_reached: Option<Share>,
}

/// A centrifuge with a stack of discs.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DiscCentrifuge {
    /// # Speed
    ///
    /// Speed of the bowl.
    #[schema(example = 7000.0)]
    pub speed: RotationalSpeed,
    /// # Gaps
    ///
    /// Number of gaps between the discs.
    #[schema(example = 60)]
    pub gaps: Count,
    /// # Outer radius
    ///
    /// Radius from the axis to the outer edge of the discs.
    #[schema(example = 90.0)]
    pub outer_radius: Dimension,
    /// # Inner radius
    ///
    /// Radius from the axis to the inner edge of the discs.
    #[schema(example = 40.0)]
    pub inner_radius: Dimension,
    /// # Half angle
    ///
    /// Angle between the discs and the axis (half the angle of their cone).
    #[schema(example = 40.0)]
    pub half_angle: HalfAngle,
    /// # Sigma reached
    ///
    /// Share of its sigma that the machine reaches in practice. Default: 100 %.
    pub sigma_reached: Option<Share>,
}

/// A filter: the share that it takes out in one pass, for all sizes or by size.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FilterStage {
    /// # Efficiency
    ///
    /// Share that the filter takes out in one pass, whatever the size. Give this or the grades.
    pub efficiency: Option<Share>,
    /// # Efficiency by size
    ///
    /// Share that the filter takes out of each size in one pass, in order of size.
    pub grades: Option<Vec<SizeGrade>>,
}

/// A coalescer, which takes out tramp oil only: the share in one pass, for all sizes or
/// by size.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct CoalescerStage {
    /// # Efficiency
    ///
    /// Share of the oil that the coalescer takes out in one pass, whatever the size of the
    /// drops. Give this or the grades.
    #[schema(example = 85.0)]
    pub efficiency: Option<Share>,
    /// # Efficiency by size
    ///
    /// Share that the coalescer takes out of each size of drop in one pass, in order of size.
    pub grades: Option<Vec<SizeGrade>>,
}

/// Share of one size that is taken out. Between the sizes given it is interpolated along
/// the logarithm of the size; beyond them it stays constant.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SizeGrade {
    /// # Size
    ///
    /// The size.
    #[schema(example = 20.0)]
    pub size: ParticleSize,
    /// # Share taken out
    ///
    /// Share of this size that is taken out in one pass.
    #[schema(example = 90.0)]
    pub share: Share,
}

/// A membrane that lets water through and holds back the rest, run until the
/// fluid is down to a part of its volume.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(as = UltrafiltrationStage)]
pub struct Ultrafiltration {
    /// # Volume concentration factor
    ///
    /// Volume of the feed, divided by that of the retentate: a feed brought down to a twentieth
    /// of its volume has a factor of 20.
    #[schema(example = 20.0)]
    pub volume_concentration_factor: Multiple,
    /// # Rejections
    ///
    /// Share that the membrane holds back, by property and for the concentrate. Default: all of
    /// it.
    pub rejections: Option<Vec<MembraneRejection>>,
}

/// Share of one material that a membrane holds back.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MembraneRejection {
    /// # Property
    ///
    /// The material: `concentrate`, `tramp_oil`, or another property.
    #[serde(deserialize_with = "crate::fluid::properties::name")]
    #[schema(example = "concentrate", pattern = "^[A-Za-z][A-Za-z0-9_]{0,63}$")]
    pub property: String,
    /// # Held back
    ///
    /// Share held back: 100 % lets none of it through; 0 % lets it through with the water.
    #[schema(example = 98.0)]
    pub share: Share,
}
