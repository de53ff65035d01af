//! The checks of waters and of the water wanted.

use super::Water;
use super::question::WaterSource;
use crate::fluid::batch::check_limits;
use crate::fluid::practice::is_hardness;
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::names::check_unique;
use crate::text::{Faults, Kind, Refusal};

impl Water {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        let names = self.waters.iter().map(|water| water.name.as_str());
        check_unique(names, "waters", "/waters", &mut faults);
        check_limits(&self.limits, &mut faults);
        if let Some((least, most)) = self.hardness.and_then(|w| w.min.zip(w.max))
            && least > most
        {
            let text =
                sentence!("The least hardness wanted, {}, is above the most, {}.", least, most);
            faults.add("/hardness/min", text);
        }
        for (i, water) in self.waters.iter().enumerate() {
            if let Some(name) = water.properties.matter.keys().find(|name| is_hardness(name)) {
                let text = sentence!(
                    "Hardness has a place of its own, with its unit: give it as hardness.value and \
                     hardness.unit of this water."
                );
                faults.add(format!("/waters/{i}/properties/{name}"), text);
            }
            if water.properties.tramp_oil.is_some_and(|oil| oil.get() > 0.0) {
                let text = sentence!("Water with tramp oil in it is no water to mix fluid with.");
                faults.add(format!("/waters/{i}/properties/tramp_oil"), text);
            }
        }
        faults.or_refuse(Kind::Inconsistent)?;
        let mut faults = Faults::default();
        for name in self.limits.matter.keys().filter(|name| is_hardness(name)) {
            let text = sentence!(
                "The hardness wanted has a place of its own, with its unit: give it as hardness.min, \
                 hardness.max and hardness.unit."
            );
            faults.add(format!("/limits/{name}"), text);
        }
        if self.hardness.is_some() {
            let unknown = self.waters.iter().enumerate();
            for (i, water) in unknown.filter(|(_, water)| water.mg_per_litre().is_none()) {
                let text = sentence!(
                    "The hardness of {} is not known, and one is wanted. Give its hardness with the \
                     unit, or its calcium and magnesium.",
                    &water.name
                );
                faults.add(format!("/waters/{i}/hardness"), text);
            }
        }
        faults.or_refuse(Kind::NotIdentifiable)
    }
}

impl WaterSource {
    /// By how much the hardness given and that of its calcium and magnesium differ, as a share of
    /// the larger; none where there are not both.
    pub(super) fn disagrees_by(&self) -> Option<f64> {
        let (given, of_ions) = (self.hardness?.mg_per_litre(), self.of_ions()?);
        let larger = given.max(of_ions);
        (larger > 0.0).then(|| (given - of_ions).abs() / larger)
    }
}
