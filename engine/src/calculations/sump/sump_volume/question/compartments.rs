//! The shape of a sump, compartment by compartment, and what stands in it.

use crate::quantity::{Length, Volume};
use crate::text::Name;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A part of a sump.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "form", rename_all = "snake_case")]
#[schema(as = SumpCompartment)]
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
    /// # Length
    ///
    /// Its length inside.
    #[schema(example = 1200.0)]
    pub length: Length,
    /// # Width
    ///
    /// Its width inside.
    #[schema(example = 500.0)]
    pub width: Length,
    /// # Depth
    ///
    /// From its floor to its brim.
    #[schema(example = 400.0)]
    pub depth: Length,
    /// # Floor above the bottom
    ///
    /// Height of its floor above the sump's lowest point. Default: 0. Several
    /// boxes with floors of different heights make a stepped sump.
    pub floor: Option<Length>,
}

/// A box with a corner cut out.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LCompartment {
    /// # Length
    ///
    /// The length of the whole, inside.
    #[schema(example = 1600.0)]
    pub length: Length,
    /// # Width
    ///
    /// The width of the whole, inside.
    #[schema(example = 900.0)]
    pub width: Length,
    /// # Corner length
    ///
    /// The length of the corner that is missing.
    #[schema(example = 700.0)]
    pub cut_length: Length,
    /// # Corner width
    ///
    /// The width of the corner that is missing.
    #[schema(example = 400.0)]
    pub cut_width: Length,
    /// # Depth
    ///
    /// From its floor to its brim.
    #[schema(example = 350.0)]
    pub depth: Length,
    /// # Floor above the bottom
    ///
    /// Height of its floor above the sump's lowest point. Default: 0.
    pub floor: Option<Length>,
}

/// A cylinder that lies on its side, with flat ends.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LyingCylinder {
    /// # Diameter
    ///
    /// Its diameter inside.
    #[schema(example = 800.0)]
    pub diameter: Length,
    /// # Length
    ///
    /// Its length inside.
    #[schema(example = 1500.0)]
    pub length: Length,
    /// # Floor above the bottom
    ///
    /// Height of its lowest line above the sump's lowest point. Default: 0.
    pub floor: Option<Length>,
}

/// A trough with a half-round bottom.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RoundBottom {
    /// # Length
    ///
    /// Its length inside.
    #[schema(example = 1500.0)]
    pub length: Length,
    /// # Width
    ///
    /// Its width between the walls: the diameter of the bottom.
    #[schema(example = 500.0)]
    pub width: Length,
    /// # Depth
    ///
    /// From its lowest line to its brim.
    #[schema(example = 600.0)]
    pub depth: Length,
    /// # Floor above the bottom
    ///
    /// Height of its lowest line above the sump's lowest point. Default: 0.
    pub floor: Option<Length>,
}

/// Something that stands in the sump and takes up room.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(as = DisplacedRoom)]
pub struct Displaced {
    /// # What stands there
    ///
    /// What it is: a pump, a weir, a pipe.
    pub name: Name,
    /// # Room it takes up
    ///
    /// The room it takes up, all of it.
    #[schema(example = 6.0)]
    pub volume: Volume,
    /// # Foot above the bottom
    ///
    /// Height of its foot above the sump's lowest point. Default: 0.
    pub foot: Option<Length>,
    /// # Height
    ///
    /// Its height.
    #[schema(example = 350.0)]
    pub height: Length,
}
