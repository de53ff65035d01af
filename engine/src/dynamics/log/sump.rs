//! The sump that a log is about, and the fluids that it names.

use crate::fluid::properties::Properties;
use crate::quantity::{Area, Capacity, Concentration, Length, Quantity, Volume};
use crate::sentence;
use crate::text::{Faults, Name, names};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What a level that is the sump's capacity is called.
pub const FULL: &str = "full";

/// The sump that the log is about.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LoggedSump {
    /// # Capacity
    ///
    /// Fluid in the sump when full to its working level, by its plate or by the shop's
    /// reckoning.
    #[schema(example = 200.0)]
    pub capacity: Capacity,
    /// # Strength to hold
    ///
    /// Concentration to hold, for the make-up. Default: that of the log's last entry.
    pub concentration: Option<Concentration>,
    /// # Open surface
    ///
    /// Surface of the fluid that is open to the air, to tell what evaporates from what leaks.
    #[schema(example = 0.8)]
    pub surface: Option<Area>,
    /// # Dip table
    ///
    /// Volumes by the height of the fluid, from low to high; between two heights a straight
    /// line holds.
    pub dip_table: Option<Vec<DipMark>>,
    /// # Marks
    ///
    /// Levels that the log fills the sump to by name, besides "full".
    pub marks: Option<Vec<LevelMark>>,
}

/// A height of the fluid, and what is then in the sump.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DipMark {
    /// # Level
    ///
    /// Height of the fluid.
    #[schema(example = 150.0)]
    pub level: Length,
    /// # Volume
    ///
    /// Fluid in the sump at that height.
    #[schema(example = 90.0)]
    pub volume: Volume,
}

/// A level with a name.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LevelMark {
    /// # Name
    ///
    /// Name of the mark.
    #[schema(example = "upper bolt")]
    pub name: Name,
    /// # Volume
    ///
    /// Fluid in the sump at that mark.
    #[schema(example = 180.0)]
    pub volume: Capacity,
}

/// A fluid that the log names.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct NamedFluid {
    /// # Name
    ///
    /// Name that the log has for it.
    #[schema(example = "weak premix")]
    pub name: Name,
    /// # Strength
    ///
    /// Its concentration.
    #[schema(example = 3.0)]
    pub concentration: Concentration,
    /// # Carries
    ///
    /// What else it carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

impl LoggedSump {
    /// What is in the sump by the height of the fluid; none outside the dip table.
    #[must_use]
    pub fn by_dip(&self, level: Length) -> Option<f64> {
        let table = self.dip_table.as_ref()?;
        let at = level.get();
        let pair =
            table.windows(2).find(|pair| pair[0].level <= level && level <= pair[1].level)?;
        let (low, high) = (pair[0], pair[1]);
        let span = high.level.get() - low.level.get();
        let share = if span > 0.0 { (at - low.level.get()) / span } else { 0.0 };
        Some(low.volume.get() + share * (high.volume.get() - low.volume.get()))
    }

    /// What the level of this name holds; none where nothing is called that.
    #[must_use]
    pub fn filled(&self, name: &str) -> Option<f64> {
        if name == FULL {
            return Some(self.capacity.get());
        }
        let mut marks = self.marks.iter().flatten();
        marks.find(|mark| mark.name == name).map(|mark| mark.volume.get())
    }

    /// The names of its levels.
    pub fn levels(&self) -> impl Iterator<Item = &str> {
        [FULL].into_iter().chain(self.marks.iter().flatten().map(|mark| mark.name.as_str()))
    }

    pub(super) fn check(&self, faults: &mut Faults) {
        let marks = self.marks.iter().flatten();
        names::check_unique(marks.map(|mark| mark.name.as_str()), "marks", "/sump/marks", faults);
        for (i, pair) in self.dip_table.iter().flat_map(|table| table.windows(2)).enumerate() {
            if pair[1].level <= pair[0].level || pair[1].volume < pair[0].volume {
                let detail = sentence!(
                    "The dip table goes from low to high: this row is not above the one before it."
                );
                faults.add(format!("/sump/dip_table/{}", i + 1), detail);
            }
        }
    }
}
