//! What eye and nose tell, in words of our own.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// How fluid smells, the worst last.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(as = FluidSmell)]
pub enum Smell {
    /// As it did when it was fresh.
    Fresh,
    /// Musty or sour.
    Musty,
    /// Of rotten eggs, which is hydrogen sulphide.
    RottenEggs,
}

/// How fluid looks, the worst last.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(as = FluidLook)]
pub enum Look {
    /// As it did when it was fresh.
    AsNew,
    /// Oil swims on it.
    OilOnTop,
    /// Darker or grey, with fines in it.
    Darker,
    /// Slime or mats on walls and filters.
    Slimy,
    /// Split into oil and water.
    Split,
}

/// Whether fluid foams.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(as = FoamSeen)]
pub enum Foam {
    /// None that stays.
    None,
    /// Some that stays.
    Some,
    /// It comes over the edge.
    OverTheEdge,
}

/// Whether something rusts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(as = RustSeen)]
pub enum Rust {
    /// Nothing.
    None,
    /// Parts do.
    OnParts,
    /// The machine does.
    OnMachine,
}

/// Growth of fungi and yeasts on a dip slide.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum FungalGrowth {
    /// None.
    None,
    /// Slight.
    Slight,
    /// Moderate.
    Moderate,
    /// Heavy.
    Heavy,
}
