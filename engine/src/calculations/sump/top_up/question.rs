//! The question: a sump, and what it is to be brought to.

use crate::fluid::loss_rates::LossRates;
use crate::fluid::stock::Stock;
use crate::fluid::sump::Sump;
use crate::quantity::{Capacity, Concentration};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use std::borrow::Cow;
use utoipa::ToSchema;

/// A sump and what it is to be brought to.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct TopUp {
    /// # Sump now
    ///
    /// The sump as it is now.
    pub sump: Sump,
    /// # Target
    ///
    /// What it is to be brought to.
    pub target: SumpTarget,
    /// # Band
    ///
    /// Range of strength that counts as right: such fluid is topped up and never drained.
    /// Default: only the target is right.
    pub band: Option<KeptBand>,
    /// # Stocks
    ///
    /// What there is to add. Default: neat concentrate and water.
    pub stocks: Option<Vec<Stock>>,
    /// # Draining
    ///
    /// Whether fluid may be drained to make room. Default: allowed.
    pub draining: Option<Draining>,
    /// # Vessel
    ///
    /// What is filled up. Default: a machine's sump.
    pub vessel: Option<FilledVessel>,
    /// # Strongest premix
    ///
    /// The strongest premix that may be poured in, below 50 % by volume, as the
    /// fluid's sheet says. Default: 20 (common practice, no source); a tank that is
    /// stirred takes concentrate as it is.
    #[schema(example = 15.0)]
    pub premix_at_most: Option<Concentration>,
    /// # Losses
    ///
    /// What the sump loses per day, to work out when fluid that is too strong is back.
    pub losses: Option<LossRates>,
    /// # Measured out to
    ///
    /// What the amounts are measured out to, for instance half a litre. Default: by their
    /// size.
    #[schema(example = 0.5)]
    pub measures_to: Option<Capacity>,
}

/// The range of strength that a sump is kept in.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct KeptBand {
    /// # Weakest allowed
    ///
    /// The weakest that the fluid may be.
    #[schema(example = 7.0)]
    pub low: Concentration,
    /// # Strongest allowed
    ///
    /// The strongest that the fluid may be.
    #[schema(example = 9.0)]
    pub high: Concentration,
}

/// What is filled up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum FilledVessel {
    /// A machine's sump, into which nothing stronger than a premix is poured.
    Sump,
    /// A mixing tank with a stirrer, which takes concentrate as it is.
    StirredTank,
}

/// What a sump is to be brought to.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpTarget {
    /// # Strength wanted
    ///
    /// Strength to bring the fluid to.
    #[schema(example = 8.0)]
    pub concentration: Concentration,
    /// # Fill to
    ///
    /// Volume to fill the sump to. Default: its capacity.
    pub volume: Option<Capacity>,
}

/// Whether fluid may be drained to make room.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(as = TopUpDraining)]
pub enum Draining {
    /// Only what no addition and no weak make-up brings into its band: fluid that is
    /// too weak in a sump that is too full.
    Allowed,
    /// No fluid leaves the sump; the target is met as nearly as possible.
    NotAllowed,
    /// As much as it takes to be on target at once, of fluid that is out of its band.
    ToTarget,
}

impl TopUp {
    pub(super) fn vessel(&self) -> FilledVessel {
        self.vessel.unwrap_or(FilledVessel::Sump)
    }

    pub(super) fn draining(&self) -> Draining {
        self.draining.unwrap_or(Draining::Allowed)
    }

    /// The stocks given, or the two that every shop has.
    pub(super) fn stocks(&self) -> Cow<'_, [Stock]> {
        match &self.stocks {
            Some(stocks) => Cow::Borrowed(stocks),
            None => Cow::Owned(Stock::neat_and_water()),
        }
    }
}
