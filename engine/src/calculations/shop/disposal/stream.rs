//! The streams that leave a shop, and the flows that the ledger tells apart.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A stream that leaves the shop other than into the air.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum WasteStream {
    /// Fluid drained at a change that is neither recycled nor treated.
    SpentFluid,
    /// Water that rinsed sumps or washed parts and floors.
    WashWater,
    /// What an ultrafiltration or an evaporator leaves of the fluid it treats.
    Retentate,
    /// Water that passed the membrane, or the vapour that was condensed.
    Permeate,
    /// Tramp oil that was skimmed or split off, with the fluid in it.
    OilPhase,
    /// Fines with the fluid that clings to them.
    Sludge,
    /// Fluid carried off on chips and parts and as mist.
    CarriedOff,
    /// Used filter media with the fluid in them.
    FilterMedia,
    /// Emptied drums of concentrate.
    EmptyDrums,
}

impl WasteStream {
    /// All of them, in the order of an answer.
    pub(super) const ALL: [Self; 9] = [
        Self::SpentFluid,
        Self::WashWater,
        Self::Retentate,
        Self::Permeate,
        Self::OilPhase,
        Self::Sludge,
        Self::CarriedOff,
        Self::FilterMedia,
        Self::EmptyDrums,
    ];

    /// What a person calls it.
    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::SpentFluid => "spent fluid",
            Self::WashWater => "wash water",
            Self::Retentate => "retentate",
            Self::Permeate => "permeate",
            Self::OilPhase => "oil phase",
            Self::Sludge => "sludge",
            Self::CarriedOff => "carried off",
            Self::FilterMedia => "filter media",
            Self::EmptyDrums => "empty drums",
        }
    }

    /// Whether it is kept as waste and counted unless the request says
    /// otherwise. What leaves on chips goes with the chips, permeate through a
    /// pipe, and drums back to the trade.
    pub(super) const fn counts_by_itself(self) -> bool {
        !matches!(self, Self::Permeate | Self::CarriedOff | Self::EmptyDrums)
    }

    const fn place(self) -> usize {
        self as usize
    }
}

/// Everything that moves in a month.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum MonthlyFlow {
    /// Leaves as waste.
    Waste(WasteStream),
    /// Leaves into the air.
    Evaporated,
    /// Concentrate that was used.
    Concentrate,
    /// Water that was used.
    Water,
    /// Tramp oil that leaked in.
    Leaked,
    /// Fines that the fluid picked up.
    Fines,
    /// New filter media.
    NewMedia,
    /// New drums, without what is in them.
    NewDrums,
}

/// How many kinds of flow there are.
pub(super) const FLOWS: usize = WasteStream::ALL.len() + 7;

impl MonthlyFlow {
    pub(super) const fn place(self) -> usize {
        const OTHERS: usize = WasteStream::ALL.len();
        match self {
            Self::Waste(stream) => stream.place(),
            Self::Evaporated => OTHERS,
            Self::Concentrate => OTHERS + 1,
            Self::Water => OTHERS + 2,
            Self::Leaked => OTHERS + 3,
            Self::Fines => OTHERS + 4,
            Self::NewMedia => OTHERS + 5,
            Self::NewDrums => OTHERS + 6,
        }
    }
}

/// Whether something moves all through the month or with the changes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Timing {
    /// A little every day.
    Steady,
    /// When sumps are changed, cleaned or given new filters.
    WithChanges,
}

impl Timing {
    pub(super) const BOTH: [Self; 2] = [Self::Steady, Self::WithChanges];
}
