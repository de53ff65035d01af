//! What a stage takes out, and what it leaves.

use crate::fluid::properties::{ByProperty, Carried, Properties};
use crate::quantity::{
    Area, Concentration, Content, Density, Hours, Multiple, ParticleSize, Ratio, Share,
    SurfaceLoading, Velocity, Viscosity, Volume,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The share of each property that is removed.
pub type RemovedShares = ByProperty<Share, Share>;

/// What the stage takes out, and what it leaves.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SeparationAnswer {
    /// The share of each property that one pass takes out, by mass.
    pub removed: RemovedShares,
    /// The same with what is behind it, an entry for each property.
    pub separated: Vec<Separated>,
    /// The fluid as it was reckoned with.
    pub fluid: CarrierProperties,
    /// Throughput over the surface of a tank (overflow rate).
    pub surface_loading: Option<SurfaceLoading>,
    /// How fast the fluid flows along a tank whose depth is given.
    pub horizontal_velocity: Option<Velocity>,
    /// What of the tank lies outside the published practice for oil separators,
    /// where its turbulence was asked for.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub outside_practice: Vec<PracticeLimit>,
    /// The surface of a still tank that would do what the centrifuge does.
    pub sigma: Option<Area>,
    /// How many times the force of gravity acts at the rim of a centrifuge.
    pub times_gravity: Option<Ratio>,
    /// How often the tank's volume goes through, where it is recirculated.
    pub turnovers: Option<Ratio>,
    /// The cleaned fluid, or the tank afterwards; behind a membrane what went
    /// through. Absent without a feed.
    pub cleaned: Option<FluidState>,
    /// What a membrane leaves of the feed. Absent without a feed.
    pub retentate: Option<FluidState>,
    /// What was taken out of the feed: oil by volume, everything else by mass.
    #[serde(skip_serializing_if = "Carried::is_empty", default)]
    pub taken_out: Carried,
}

/// What happens to one property.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Separated {
    /// The property.
    #[schema(example = "tramp_oil")]
    pub property: String,
    /// The share that one pass takes out, by mass.
    pub removed: Share,
    /// The share that is taken out by the end of a recirculation, of what was
    /// there and what came in.
    pub removed_in_the_end: Option<Share>,
    /// Whether it sinks or rises in the fluid. Absent where its density is not
    /// given.
    pub direction: Option<Direction>,
    /// How fast its median size sinks or rises in the still fluid by its own
    /// weight.
    pub velocity: Option<Velocity>,
    /// The Reynolds number at that velocity: up to about 0.1 it obeys Stokes.
    pub reynolds: Option<Ratio>,
    /// How many times as much surface turbulence asks for, in a tank.
    pub turbulence_factor: Option<Multiple>,
    /// Flow along the tank against the velocity of a drop of 150 µm of this
    /// material, from which separator practice takes the turbulence factor.
    pub flow_to_rise: Option<Ratio>,
    /// The size of which half is taken out in one pass (d50).
    pub half_from: Option<ParticleSize>,
    /// The size from which all is taken out in one pass (d100).
    pub all_from: Option<ParticleSize>,
    /// The sizes of what is left. Absent where no sizes are given, and where
    /// nothing is left.
    pub left: Option<SizeQuantiles>,
    /// Where its content settles if the recirculation goes on for ever, for what
    /// keeps coming in. Absent where some of it is never taken out.
    pub settles_at: Option<SettlesAt>,
}

/// Which way something goes in a fluid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Direction {
    /// It is heavier than the fluid.
    Sinks,
    /// It is lighter than the fluid.
    Rises,
    /// It is as heavy as the fluid, and stays where it is.
    Stays,
}

/// Three sizes that tell a distribution by mass.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SizeQuantiles {
    /// A tenth of the mass is no larger than this.
    pub d10: ParticleSize,
    /// Half of the mass is no larger than this.
    pub d50: ParticleSize,
    /// Nine tenths of the mass are no larger than this.
    pub d90: ParticleSize,
}

/// Where something that keeps coming in settles.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SettlesAt {
    /// Its content, for everything but tramp oil.
    pub content: Option<Content>,
    /// Its share of the volume, for tramp oil.
    pub concentration: Option<Concentration>,
    /// How long what comes in stays in the tank on average; with one share for
    /// all sizes the way left to go falls to 37 % in this time.
    pub time_constant_hours: Hours,
}

/// The fluid that carries the particles, as it was reckoned with.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CarrierProperties {
    /// Its density.
    pub density: Density,
    /// Its viscosity.
    pub viscosity: Viscosity,
}

/// A fluid with what it carries.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FluidState {
    /// How much of it there is.
    pub volume: Volume,
    /// How strong it is.
    pub concentration: Concentration,
    /// What it carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// A limit of the published practice for oil separators.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum PracticeLimit {
    /// The fluid flows along the tank faster than the practice allows.
    Flow,
    /// The fluid flows along the tank too fast against the rise of the oil.
    FlowToRise,
    /// The fluid is shallower or deeper than in the practice.
    Depth,
    /// The tank is narrower or wider than in the practice.
    Width,
    /// The fluid's depth does not suit the tank's width.
    DepthToWidth,
}
