//! The state that an answer hands on: what the next entry needs, and nothing more.

use super::alarms::{KeptSums, StateAlarm};
use super::filter::{Belief, MATTER};
use crate::fluid::properties::PropertyName;
use crate::fluid::reading::Reading;
use crate::handbook::conversions::KILOGRAMS_PER_MILLIGRAM;
use crate::quantity::{
    Correlation, Count, DailyRate, DailyRateDifference, Days, Mass, Quantity, Volume,
};
use crate::sentence;
use crate::text::{Kind, MomentText, Name, Refusal};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A sump after its last entry, to go on from. Hand it back as it is with the entries since.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct KeptState {
    /// # Day
    ///
    /// Day of the last entry, as the log counts.
    pub day: Days,
    /// # At
    ///
    /// Moment of the last entry, as the log wrote it.
    pub at: Option<MomentText>,
    /// # Entries so far
    ///
    /// Number of entries that it comes of.
    pub entries: Count,
    /// # In the sump
    ///
    /// Fluid in the sump after what was done.
    pub volume: KeptVolume,
    /// # Concentrate in it
    ///
    /// Concentrate in the sump.
    pub concentrate: KeptVolume,
    /// # Lost to evaporation
    ///
    /// Evaporation on a day of work.
    pub evaporation: KeptRate,
    /// # Lost on chips and parts
    ///
    /// Carry-off on a day of work.
    pub carry_off: KeptRate,
    /// # Lost while it stands
    ///
    /// Evaporation on a day on which the machine stands.
    pub standing: KeptRate,
    /// # Carried
    ///
    /// What else is followed.
    #[schema(max_items = 100)]
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub properties: Vec<KeptProperty>,
    /// # Correlations
    ///
    /// Correlations of the errors of volume, evaporation, carry-off, evaporation while it stands,
    /// concentrate and the properties, in this order: each with those before it.
    pub correlations: Vec<Correlation>,
    /// # Machine stands
    ///
    /// Whether the machine has stood since.
    pub stands: bool,
    /// # Reading
    ///
    /// The last reading of an instrument, for what it should show next.
    pub reading: Option<Reading>,
    /// # Sums
    ///
    /// Sums of what was read too high or too low.
    pub sums: KeptSums,
    /// # Alarms
    ///
    /// Slow faults that were found. Leave out one whose cause is put right.
    #[schema(max_items = 4)]
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub alarms: Vec<StateAlarm>,
}

/// A volume as the entries show it by now, and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct KeptVolume {
    /// # Volume
    ///
    /// The volume.
    pub value: Volume,
    /// # Standard uncertainty
    ///
    /// Its standard uncertainty.
    pub u: Volume,
}

/// A daily rate as the readings show it by now, and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct KeptRate {
    /// # Rate
    ///
    /// The rate; errors of the readings may carry it below 0.
    pub value: DailyRateDifference,
    /// # Standard uncertainty
    ///
    /// Its standard uncertainty.
    pub u: DailyRate,
}

/// How much of something a sump holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct KeptProperty {
    /// # Name
    ///
    /// Its name.
    pub name: Name,
    /// # Mass
    ///
    /// Mass of it in the sump.
    pub mass: Mass,
    /// # Standard uncertainty
    ///
    /// Standard uncertainty of the mass.
    pub u: Mass,
}

impl KeptState {
    /// The estimate that it stands for, with room for what is followed from now on.
    pub(super) fn belief(&self, names: &[PropertyName]) -> Result<Belief, Refusal> {
        let places = MATTER + names.len();
        let kept = MATTER + self.properties.len();
        if self.correlations.len() != kept * (kept - 1) / 2 || self.volume.value.get() <= 0.0 {
            let detail = sentence!(
                "This is not a state as an answer gave it: some of it is missing. Hand it back as \
                 it is, or the whole log without it."
            );
            return Err(Refusal::new(Kind::Inconsistent, "/state", detail));
        }
        let mut values = vec![
            (self.volume.value.get(), self.volume.u.get()),
            (self.evaporation.value.get(), self.evaporation.u.get()),
            (self.carry_off.value.get(), self.carry_off.u.get()),
            (self.standing.value.get(), self.standing.u.get()),
            (self.concentrate.value.get(), self.concentrate.u.get()),
        ];
        let milligrams = |mass: Mass| mass.get() / KILOGRAMS_PER_MILLIGRAM;
        values.extend(self.properties.iter().map(|own| (milligrams(own.mass), milligrams(own.u))));
        // Where each of them stands among what is followed now.
        let places_of: Vec<usize> = (0..MATTER)
            .chain(self.properties.iter().map(|own| {
                MATTER + names.iter().position(|name| own.name == *name.as_str()).unwrap_or(0)
            }))
            .collect();
        let mut belief = Belief::nothing(places);
        for (own, (value, u)) in values.iter().enumerate() {
            belief.x[places_of[own]] = *value;
            belief.p[(places_of[own], places_of[own])] = u * u;
        }
        let mut correlations = self.correlations.iter();
        for a in 1..kept {
            for b in 0..a {
                let share = correlations.next().map_or(0.0, |share| share.get());
                let both = share * values[a].1 * values[b].1;
                let (a, b) = (places_of[a], places_of[b]);
                (belief.p[(a, b)], belief.p[(b, a)]) = (both, both);
            }
        }
        Ok(belief)
    }
}
