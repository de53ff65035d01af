//! What a recycler recovers, and what it leaves as waste.

use crate::calculations::recycling::recycler::StageWasteKind;
use crate::fluid::properties::{Carried, Properties};
use crate::quantity::{BacterialCount, Concentration, Hours, Mass, Share, Volume};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The fluid that comes out of the recycler.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RecoveredFluid {
    /// # Volume
    ///
    /// Volume recovered from all of the feed.
    pub volume: Volume,
    /// # Share of the feed
    ///
    /// That volume as a share of the feed.
    pub share: Share,
    /// # Concentration
    ///
    /// Strength of the recovered fluid.
    pub concentration: Concentration,
    /// # Still in the fluid
    ///
    /// Content of the recovered fluid.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// Waste of one stage.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StageWaste {
    /// # Stage
    ///
    /// Stage that it comes from.
    #[schema(example = "centrifuge")]
    pub stage: String,
    /// # Kind
    ///
    /// Kind of waste.
    pub kind: StageWasteKind,
    /// # Volume
    ///
    /// Volume: oil and the fluid with it. Solids by themselves are followed by mass alone.
    pub volume: Volume,
    /// # Mass
    ///
    /// Mass of all of it.
    pub mass: Mass,
    /// # Concentrate lost
    ///
    /// Concentrate lost with it.
    pub concentrate: Volume,
    /// # Amounts in it
    ///
    /// Amount of each property in it: tramp oil by volume, anything else by mass.
    #[serde(skip_serializing_if = "Carried::is_empty", default)]
    pub carried: Carried,
}

/// Bacteria after the treatment.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TreatedBacteria {
    /// # Count
    ///
    /// Count after the treatment.
    pub count: BacterialCount,
    /// # Band
    ///
    /// Band of the UK's HSE for that count.
    pub band: BacteriaBand,
}

/// Bands of the UK's HSE for dip slides, as they stand now; an older copy, of 2012, began
/// its middle band at 10³ CFU/mL. They are for bacteria and not for fungi.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum BacteriaBand {
    /// Below 10⁴ CFU/mL: good control.
    Good,
    /// From 10⁴ to below 10⁶ CFU/mL: reasonable control, to be reviewed.
    Reasonable,
    /// 10⁶ CFU/mL and more: poor control, act at once.
    Poor,
}

/// Content at which a property settles while a batch is recirculated.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SettlingContent {
    /// # Property
    ///
    /// Property.
    #[schema(example = "solids")]
    pub property: String,
    /// # Settles at
    ///
    /// Content at steady state.
    pub settles_at: Properties,
    /// # Time constant
    ///
    /// Time constant: the time in which the distance to steady state falls to 37 %.
    pub time_constant_hours: Hours,
}
