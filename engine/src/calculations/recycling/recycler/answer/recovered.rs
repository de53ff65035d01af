//! What a recycler recovers, what it leaves as waste, and what it cannot take out.

use super::super::WasteKind;
use crate::fluid::properties::{Carried, Properties};
use crate::quantity::{BacterialCount, Concentration, Mass, Share, Volume};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The fluid that comes out of the recycler.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Recovered {
    /// How much of it there is, from all of the feed.
    pub volume: Volume,
    /// The same as a share of the feed.
    pub share: Share,
    /// How strong it is.
    pub concentration: Concentration,
    /// What it still carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// A stream of waste.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Waste {
    /// The stage it comes from.
    #[schema(example = "centrifuge")]
    pub stage: String,
    /// What kind of waste it is.
    pub kind: WasteKind,
    /// How much room it takes: oil and the fluid with it. Solids by
    /// themselves are followed by mass alone.
    pub volume: Volume,
    /// What it weighs.
    pub mass: Mass,
    /// Concentrate lost with it.
    pub concentrate: Volume,
    /// What it carries: tramp oil by volume, anything else by mass.
    #[serde(skip_serializing_if = "Carried::is_empty", default)]
    pub carried: Carried,
}

/// Something that keeps the fluid from being recycled as it is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct NotRecyclable {
    /// What it is: a property by its name, or `bacteria`.
    #[schema(example = "chloride")]
    pub property: String,
    /// Why, for programs.
    pub why: Why,
    /// Why, and what can be done.
    pub text: String,
    /// How much of it is left after the treatment.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub left: Properties,
    /// How much there may be.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub most: Properties,
}

/// Why a fluid cannot be recycled as it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Why {
    /// Oil that is emulsified does not separate.
    Emulsified,
    /// No stage removes it.
    NoStageRemovesIt,
    /// It comes in faster than the stages remove it.
    ComesInTooFast,
    /// More microbes than the published band tolerates.
    Microbes,
    /// More than a published limit tolerates, though the request sets none or a laxer
    /// one.
    AbovePublishedLimit,
}

/// What a dip slide says.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Bacteria {
    /// The count after the treatment.
    pub count: BacterialCount,
    /// The band of the UK's HSE that it lies in.
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
