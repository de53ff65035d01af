//! The shape of a sump, compartment by compartment, and what stands in it.

use crate::quantity::{Length, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A part of a sump.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "form", rename_all = "snake_case")]
pub enum Compartment {
    /// A box.
    Box(BoxCompartment),
    /// A box with a corner cut out, as seen from above.
    L(LCompartment),
    /// A cylinder that lies on its side.
    LyingCylinder(LyingCylinder),
    /// A trough with a half-round bottom and straight walls.
    RoundBottom(RoundBottom),
}

/// A box.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct BoxCompartment {
    /// Its length inside.
    #[schema(example = 1200.0)]
    pub length: Length,
    /// Its width inside.
    #[schema(example = 500.0)]
    pub width: Length,
    /// From its floor to its brim.
    #[schema(example = 400.0)]
    pub depth: Length,
    /// How far its floor lies above the sump's lowest point; 0 when left out. Several
    /// boxes with floors of different heights make a stepped sump.
    pub floor: Option<Length>,
}

/// A box with a corner cut out.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LCompartment {
    /// The length of the whole, inside.
    #[schema(example = 1600.0)]
    pub length: Length,
    /// The width of the whole, inside.
    #[schema(example = 900.0)]
    pub width: Length,
    /// The length of the corner that is missing.
    #[schema(example = 700.0)]
    pub cut_length: Length,
    /// The width of the corner that is missing.
    #[schema(example = 400.0)]
    pub cut_width: Length,
    /// From its floor to its brim.
    #[schema(example = 350.0)]
    pub depth: Length,
    /// How far its floor lies above the sump's lowest point; 0 when left out.
    pub floor: Option<Length>,
}

/// A cylinder that lies on its side, with flat ends.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LyingCylinder {
    /// Its diameter inside.
    #[schema(example = 800.0)]
    pub diameter: Length,
    /// Its length inside.
    #[schema(example = 1500.0)]
    pub length: Length,
    /// How far its lowest line lies above the sump's lowest point; 0 when left out.
    pub floor: Option<Length>,
}

/// A trough with a half-round bottom.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RoundBottom {
    /// Its length inside.
    #[schema(example = 1500.0)]
    pub length: Length,
    /// Its width between the walls: the diameter of the bottom.
    #[schema(example = 500.0)]
    pub width: Length,
    /// From its lowest line to its brim.
    #[schema(example = 600.0)]
    pub depth: Length,
    /// How far its lowest line lies above the sump's lowest point; 0 when left out.
    pub floor: Option<Length>,
}

/// Something that stands in the sump and takes up room.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Displaced {
    /// What it is: a pump, a weir, a pipe.
    #[serde(deserialize_with = "crate::text::names::name")]
    #[schema(example = "pump", min_length = 1, max_length = 128)]
    pub name: String,
    /// The room it takes up, all of it.
    #[schema(example = 6.0)]
    pub volume: Volume,
    /// How far its foot lies above the sump's lowest point; 0 when left out.
    pub foot: Option<Length>,
    /// How tall it is.
    #[schema(example = 350.0)]
    pub height: Length,
}
