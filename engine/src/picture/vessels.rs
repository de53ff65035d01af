//! Tanks beside each other on one scale, and what is in them.

use super::Label;
use crate::text::Sentence;

/// Tanks beside each other, all drawn to one scale of litres.
#[derive(Debug, Clone, PartialEq)]
pub struct Vessels {
    /// The tanks, from left to right: what comes before and what comes after.
    pub vessels: Vec<VesselDrawn>,
    /// Whether each becomes the next, so that an arrow leads from one to the other.
    pub in_order: bool,
}

/// A tank and what is in it.
#[derive(Debug, Clone, PartialEq)]
pub struct VesselDrawn {
    /// What it is: "now", "afterwards".
    pub name: Label,
    /// How much it holds, L; absent for what is only measured out.
    pub holds: Option<f64>,
    /// What is in it, from the bottom up.
    pub contents: Vec<VesselContent>,
    /// What there is to know of it, a line each: its strength, what the instrument must read.
    pub notes: Vec<Sentence>,
}

/// A part of what is in a tank.
#[derive(Debug, Clone, PartialEq)]
pub struct VesselContent {
    /// What it is.
    pub name: Label,
    /// Its volume, L.
    pub volume: f64,
    /// What kind of fluid it is.
    pub kind: ContentKind,
}

/// The kinds of fluid that are told apart in a tank.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ContentKind {
    /// Water, or next to nothing else.
    Water,
    /// Fluid as it is used.
    Fluid,
    /// Neat concentrate, or nearly so.
    Concentrate,
}

impl ContentKind {
    /// The kind of a fluid of so much concentrate, % by volume.
    #[must_use]
    pub fn of(concentration: f64) -> Self {
        /// Stronger than any fluid that a machine runs on.
        const NEARLY_NEAT: f64 = 50.0;
        if concentration <= 0.0 {
            Self::Water
        } else if concentration < NEARLY_NEAT {
            Self::Fluid
        } else {
            Self::Concentrate
        }
    }
}
