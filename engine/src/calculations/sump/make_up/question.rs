//! The question: a sump to be held where it is, what it loses, and what it is filled up
//! with.

use crate::dynamics::MaterialDensities;
use crate::dynamics::working_calendar::WorkingCalendar;
use crate::fluid::loss_rates::LossRates;
use crate::fluid::oil::OilRates;
use crate::fluid::properties::{Limits, Properties};
use crate::fluid::supply::{MakeUpWater, NeatConcentrate};
use crate::quantity::{Capacity, Concentration, DailyRate};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A sump to be held where it is, and what it is filled up with.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MakeUp {
    /// # Sump
    ///
    /// The sump to hold.
    pub sump: HeldSump,
    /// # Lost per day
    ///
    /// Losses of the sump per day.
    pub losses: LossRates,
    /// # Working calendar
    ///
    /// Days on which the shop works, with the date of day 0 (day 0 is). The losses, the oil, what
    /// is drained off and the make-up are then those of a day of work, and the make-up replaces
    /// what was lost while the machine stood too. Default: every day is like any other.
    pub calendar: Option<WorkingCalendar>,
    /// # Lost while it stands
    ///
    /// Water lost to evaporation per day on which the shop does not work. Default: 0.
    #[schema(example = 2.0)]
    pub standing: Option<DailyRate>,
    /// # Drained off on purpose
    ///
    /// Fluid drained off on purpose per day, as it is in the sump. Default: 0.
    pub discharge: Option<DailyRate>,
    /// # Tramp oil
    ///
    /// Oil that leaks into the sump, and a skimmer against it. Default: none.
    pub oil: Option<OilRates>,
    /// # Water
    ///
    /// The water that the sump is filled up with. Default: pure water.
    pub water: Option<MakeUpWater>,
    /// # Deionised water
    ///
    /// The deionised water that could replace some of it. Default: pure
    /// water.
    pub deionised: Option<MakeUpWater>,
    /// # Concentrate
    ///
    /// The concentrate, where its own content of salts is known.
    pub concentrate: Option<NeatConcentrate>,
    /// # Limits
    ///
    /// Limits that the fluid must keep to.
    #[serde(skip_serializing_if = "Limits::is_empty", default)]
    pub limits: Limits,
    /// # Densities
    ///
    /// Densities of concentrate and tramp oil; they change only the masses of
    /// the balance.
    pub densities: Option<MaterialDensities>,
}

/// A sump to be held at its level and its strength.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct HeldSump {
    /// # In the sump
    ///
    /// Fluid in the sump.
    #[schema(example = 180.0)]
    pub volume: Capacity,
    /// # Strength to hold
    ///
    /// Concentration to hold.
    #[schema(example = 8.0)]
    pub concentration: Concentration,
    /// # Carries now
    ///
    /// What the fluid carries now. Default: what the make-up carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}
