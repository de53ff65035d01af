//! The answer: what a stage takes out, and what it leaves.

use crate::fluid::properties::{ByProperty, Carried, Properties};
use crate::quantity::{
    Area, Concentration, Content, Density, Hours, Multiple, ParticleSize, Ratio, Share,
    SurfaceLoading, Velocity, Viscosity, Volume,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Share of each property that is taken out.
pub type RemovedShares = ByProperty<Share, Share>;

/// Result of a separation: what the stage takes out, and what it leaves.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SeparationAnswer {
    /// # Taken out in one pass
    ///
    /// Share of each property that one pass takes out, by mass.
    pub removed: RemovedShares,
    /// # By property
    ///
    /// The same with the figures behind it, an entry for each property.
    pub separated: Vec<SeparatedProperty>,
    /// # Fluid
    ///
    /// Properties of the fluid as used in the calculation.
    pub fluid: CarrierProperties,
    /// # Surface loading
    ///
    /// Throughput divided by the surface of the tank (overflow rate).
    pub surface_loading: Option<SurfaceLoading>,
    /// # Flow along the tank
    ///
    /// Velocity of the fluid along a tank whose depth is given.
    pub horizontal_velocity: Option<Velocity>,
    /// # Sigma
    ///
    /// Surface of a still tank that would do what the centrifuge does.
    pub sigma: Option<Area>,
    /// # Times gravity
    ///
    /// Acceleration at the rim of a centrifuge, divided by that of gravity.
    pub times_gravity: Option<Ratio>,
    /// # Turnovers
    ///
    /// Number of times that the tank's volume goes through, where it is recirculated.
    pub turnovers: Option<Ratio>,
    /// # Cleaned fluid
    ///
    /// The cleaned fluid, or the tank afterwards; behind a membrane what went through. Absent
    /// without a feed.
    pub cleaned: Option<TreatedFluid>,
    /// # Retentate
    ///
    /// What a membrane leaves of the feed; absent without a feed.
    pub retentate: Option<TreatedFluid>,
    /// # Taken out in all
    ///
    /// What was taken out of the feed: oil by volume, everything else by mass.
    #[serde(skip_serializing_if = "Carried::is_empty", default)]
    pub taken_out: Carried,
}

/// One property, and what happens to it.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SeparatedProperty {
    /// # Property
    ///
    /// The property.
    #[schema(example = "tramp_oil")]
    pub property: String,
    /// # Taken out in one pass
    ///
    /// Share that one pass takes out, by mass.
    pub removed: Share,
    /// # Taken out in the end
    ///
    /// Share taken out by the end of a recirculation, of what was there and what came in.
    pub removed_in_the_end: Option<Share>,
    /// # Sinks or rises
    ///
    /// Whether it sinks or rises in the fluid; absent where its density is not given.
    pub direction: Option<SinksOrRises>,
    /// # Settling velocity
    ///
    /// Velocity at which its median size sinks or rises in the still fluid.
    pub velocity: Option<Velocity>,
    /// # Reynolds number
    ///
    /// Reynolds number at that velocity: up to about 0.1 it obeys Stokes.
    pub reynolds: Option<Ratio>,
    /// # Turbulence factor
    ///
    /// Factor by which turbulence enlarges the surface that is needed, in a tank.
    pub turbulence_factor: Option<Multiple>,
    /// # Flow to rise
    ///
    /// Velocity of the fluid along the tank, divided by that of a drop of 150 µm of this
    /// material; separator practice takes the turbulence factor from it.
    pub flow_to_rise: Option<Ratio>,
    /// # Half taken out from
    ///
    /// Size of which half is taken out in one pass (d50).
    pub half_from: Option<ParticleSize>,
    /// # All taken out from
    ///
    /// Size from which all is taken out in one pass (d100).
    pub all_from: Option<ParticleSize>,
    /// # Sizes left
    ///
    /// Sizes of what is left; absent where no sizes are given, and where all of it is taken
    /// out.
    pub left: Option<SizeQuantiles>,
    /// # Settles at
    ///
    /// Content that it settles at if the recirculation goes on for ever, for what keeps coming
    /// in; absent where some of it is never taken out.
    pub settles_at: Option<InflowSettling>,
}

/// Whether a material sinks or rises in a fluid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum SinksOrRises {
    /// It is heavier than the fluid.
    Sinks,
    /// It is lighter than the fluid.
    Rises,
    /// It is as heavy as the fluid, and stays where it is.
    Stays,
}

/// Three sizes that describe a distribution by mass.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SizeQuantiles {
    /// # A tenth is under
    ///
    /// A tenth of the mass is no larger than this.
    pub d10: ParticleSize,
    /// # Half is under
    ///
    /// Half of the mass is no larger than this.
    pub d50: ParticleSize,
    /// # Nine tenths are under
    ///
    /// Nine tenths of the mass are no larger than this.
    pub d90: ParticleSize,
}

/// Content at which something that keeps coming in settles.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct InflowSettling {
    /// # Content
    ///
    /// Its content, for everything but tramp oil.
    pub content: Option<Content>,
    /// # Tramp oil
    ///
    /// Its share of the volume, for tramp oil.
    pub concentration: Option<Concentration>,
    /// # Time constant
    ///
    /// Average time that what comes in stays in the tank. Where all sizes are taken out alike,
    /// the difference from the final content falls to 37 % in this time.
    pub time_constant_hours: Hours,
}

/// Properties of the fluid that carries the particles.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CarrierProperties {
    /// # Density
    ///
    /// Density of the fluid.
    pub density: Density,
    /// # Viscosity
    ///
    /// Viscosity of the fluid.
    pub viscosity: Viscosity,
}

/// A fluid with what it carries.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TreatedFluid {
    /// # Volume
    ///
    /// Volume of the fluid.
    pub volume: Volume,
    /// # Strength
    ///
    /// Concentration of the fluid.
    pub concentration: Concentration,
    /// # Carries
    ///
    /// What the fluid carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}
