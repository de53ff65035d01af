//! The hardness of a water in the unit that it was measured in.
//!
//! Among the properties of a fluid hardness is mg/L as calcium carbonate. Who measured it in degrees
//! or grains gives it beside them, with its unit, and it is followed as `hardness` all the same.

use crate::fluid::practice::is_hardness;
use crate::fluid::properties::{Properties, PropertyName};
use crate::handbook::water::hardness::{
    ENGLISH_DEGREE, FRENCH_DEGREE, GERMAN_DEGREE, GRAIN_PER_US_GALLON, MILLIMOLE,
};
use crate::quantity::{Content, Measure, Number, Quantity};
use crate::sentence;
use crate::text::Faults;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use utoipa::ToSchema;

/// What hardness is called among the properties.
pub const HARDNESS: &str = "hardness";

/// A hardness with its unit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct HardnessMeasured {
    /// # Hardness in its unit
    ///
    /// The hardness, in the unit named beside it.
    #[schema(example = 14.0)]
    pub value: Number,
    /// # Unit of the hardness
    ///
    /// Its unit.
    pub unit: HardnessUnit,
}

/// The units of hardness in use.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum HardnessUnit {
    /// mg/L, or ppm, as calcium carbonate.
    MgPerLitre,
    /// German degrees, °dH.
    GermanDegrees,
    /// French degrees, °fH.
    FrenchDegrees,
    /// English degrees, °e or Clark.
    EnglishDegrees,
    /// Grains per US gallon, gpg.
    GrainsPerUsGallon,
    /// Millimoles per litre, mmol/L.
    MillimolesPerLitre,
}

impl HardnessUnit {
    /// mg/L of calcium carbonate in one of the unit.
    #[must_use]
    pub const fn mg_per_litre(self) -> f64 {
        match self {
            Self::MgPerLitre => 1.0,
            Self::GermanDegrees => GERMAN_DEGREE,
            Self::FrenchDegrees => FRENCH_DEGREE,
            Self::EnglishDegrees => ENGLISH_DEGREE,
            Self::GrainsPerUsGallon => GRAIN_PER_US_GALLON,
            Self::MillimolesPerLitre => MILLIMOLE,
        }
    }

    /// How people write it.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::MgPerLitre => "mg/L",
            Self::GermanDegrees => "°dH",
            Self::FrenchDegrees => "°fH",
            Self::EnglishDegrees => "°e",
            Self::GrainsPerUsGallon => "gpg",
            Self::MillimolesPerLitre => "mmol/L",
        }
    }
}

impl HardnessMeasured {
    /// mg/L as calcium carbonate.
    #[must_use]
    pub fn mg_per_litre(self) -> f64 {
        self.value.get() * self.unit.mg_per_litre()
    }
}

/// What a water carries, with its hardness among the properties.
#[must_use]
pub fn carried(properties: &Properties, hardness: Option<HardnessMeasured>) -> Cow<'_, Properties> {
    // What no water can carry is refused before.
    let content = hardness.and_then(|hardness| Content::of(hardness.mg_per_litre()).ok());
    let Some(content) = content else { return Cow::Borrowed(properties) };
    let mut all = properties.clone();
    all.matter.insert(PropertyName::new_static(HARDNESS), content);
    Cow::Owned(all)
}

/// The names of what a water carries, its hardness among them.
pub(crate) fn names(
    properties: &Properties,
    hardness: Option<HardnessMeasured>,
) -> impl Iterator<Item = &str> + use<'_> {
    properties.names().chain(hardness.map(|_| HARDNESS))
}

/// Notes a hardness that is given twice, or is more than a water can carry; `pointer` is where the
/// water lies.
pub(crate) fn check(
    properties: &Properties,
    hardness: Option<HardnessMeasured>,
    pointer: &str,
    faults: &mut Faults,
) {
    let Some(hardness) = hardness else { return };
    if let Some(name) = properties.matter.keys().find(|name| is_hardness(name)) {
        let text = sentence!(
            "The hardness is given twice: with its unit, and among the properties. Leave out one."
        );
        faults.add(format!("{pointer}/properties/{name}"), text);
    }
    let content = hardness.mg_per_litre();
    if Content::of(content).is_err() {
        let text = sentence!(
            "{} {} of hardness is more than a water can carry. Check the value and its unit.",
            Measure::bare(hardness.value.get()),
            hardness.unit.symbol()
        );
        faults.add(format!("{pointer}/hardness/value"), text);
    }
}
