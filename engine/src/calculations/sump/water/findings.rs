//! What to know of a water before fluid is mixed with it.

use super::{Water, WaterAnswer};
use crate::fluid::practice::{few, nitrate_in_water, soft_water};
use crate::fluid::properties::ContentLimit;
use crate::quantity::{Content, Quantity};
use crate::sentence;
use crate::text::Finding;

/// Two hardnesses of a water that differ by more than this share contradict each other. Common
/// practice, no source.
const DISAGREES: f64 = 0.1;

impl Water {
    pub(super) fn findings(&self, answer: &WaterAnswer) -> Vec<Finding> {
        let waters = self.waters.iter().enumerate();
        let nitrates = waters.clone().flat_map(|(i, water)| {
            let at = format!("/waters/{i}/properties");
            nitrate_in_water(&water.properties, &at).collect::<Vec<_>>()
        });
        let disagree = waters.clone().filter_map(|(i, water)| {
            water.disagrees_by().filter(|share| *share > DISAGREES)?;
            let text = sentence!(
                "{}: its hardness and its calcium and magnesium do not fit together. The hardness was \
                 used; check its unit, since units of hardness are easily taken for each other.",
                &water.name
            );
            Some(Finding::act("hardness-disagrees", format!("/waters/{i}/hardness"), text))
        });
        let softened = waters.filter(|(_, water)| water.softened == Some(true)).map(|(i, water)| {
            let text = sentence!(
                "{} is softened: its hardness is gone and fluid may foam, but chloride and sulphate \
                 stay, and sodium has come in. It salts a sump up as fast as before; for that take \
                 deionised water.",
                &water.name
            );
            Finding::watch("softened-water", format!("/waters/{i}/softened"), text)
        });
        let mut findings = few(disagree);
        findings.extend(few(nitrates));
        findings.extend(few(softened));
        let made = answer.blend.as_ref().and_then(|blend| blend.hardness);
        findings.extend(made.and_then(|made| {
            let own = self.hardness.and_then(|window| {
                let min = window.min?.get() * window.unit.mg_per_litre();
                Some(ContentLimit { min: Content::of(min).ok(), max: None })
            });
            soft_water("hardness", made.mg_per_litre, own.as_ref(), "/hardness/min")
        }));
        findings
    }
}
