//! What a sump is fed with: make-up water and concentrate.

use crate::fluid::hardness::{self, HardnessMeasured};
use crate::fluid::properties::{Limits, Properties, PropertyName, TRAMP_OIL};
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::{Faults, with_nearest};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use std::borrow::Cow;
use std::collections::BTreeSet;
use utoipa::ToSchema;

/// The water that a sump is fed with.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MakeUpWater {
    /// # Carried by the water
    ///
    /// What the water carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
    /// # Hardness of the water
    ///
    /// Hardness of the water with its unit, in place of one among what it carries.
    pub hardness: Option<HardnessMeasured>,
}

impl MakeUpWater {
    /// What it carries, its hardness included.
    #[must_use]
    pub fn carries(&self) -> Cow<'_, Properties> {
        hardness::carried(&self.properties, self.hardness)
    }

    /// The names of what it carries.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        hardness::names(&self.properties, self.hardness)
    }

    /// Notes it where it is nothing but oil, or its hardness is given twice.
    pub(crate) fn check(&self, pointer: &str, faults: &mut Faults) {
        check_not_all_oil(&self.properties, pointer, faults);
        hardness::check(&self.properties, self.hardness, pointer, faults);
    }
}

/// The concentrate that a sump is fed with.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct NeatConcentrate {
    /// # Carried by the concentrate
    ///
    /// What the concentrate carries of what is followed. Default: as much as the
    /// water whose place it takes.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// Notes the limits on what nothing speaks of: a name misspelt, most likely.
pub(crate) fn check_limits_are_about_something(
    limits: &Limits,
    known: &BTreeSet<&str>,
    faults: &mut Faults,
) {
    let oil = limits.tramp_oil.iter().map(|_| TRAMP_OIL);
    let limited = oil.chain(limits.matter.keys().map(PropertyName::as_str));
    for name in limited.filter(|name| !known.contains(name)) {
        let detail = sentence!(
            "There is a limit on {}, but nothing says how much of it the sump carries or what \
             brings it. Give it among the properties of one of them, if only as 0.",
            name
        );
        let detail = with_nearest(detail, name, known.iter().copied());
        faults.add(format!("/limits/{name}"), detail);
    }
}

/// Notes it where water or a premix is nothing but oil.
pub(crate) fn check_not_all_oil(properties: &Properties, pointer: &str, faults: &mut Faults) {
    if properties.tramp_oil.is_some_and(|oil| oil.get() >= 100.0) {
        let detail = sentence!("This is all tramp oil, and no sump is fed with that.");
        faults.add(format!("{pointer}/properties/{TRAMP_OIL}"), detail);
    }
}

/// Notes it where neat concentrate is said to hold oil from the machine.
pub(crate) fn check_concentrate(
    properties: Option<&Properties>,
    pointer: &str,
    faults: &mut Faults,
) {
    if properties.and_then(|own| own.tramp_oil).is_some_and(|oil| oil.get() > 0.0) {
        let detail =
            sentence!("Neat concentrate has no tramp oil in it: that comes from the machine.");
        faults.add(format!("{pointer}/properties/{TRAMP_OIL}"), detail);
    }
}
