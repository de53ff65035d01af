//! What to look at before a make-up is mixed.

use super::{MakeUp, PropertySettlings};
use crate::fluid::practice;
use crate::quantity::Quantity;
use crate::text::Finding;

impl MakeUp {
    /// What is found of the request and of where it leads, beside `conflicts` of limits.
    pub(super) fn findings(
        &self,
        ends: &PropertySettlings,
        conflicts: Vec<Finding>,
    ) -> Vec<Finding> {
        let mut findings = conflicts;
        let strength = self.sump.concentration;
        findings.extend(practice::unusual_strength(strength, "/sump/concentration"));
        for (name, end) in &ends.matter {
            let pointer = format!("/sump/properties/{name}");
            let last = end.settles_at.unwrap_or(end.starts_at);
            let (least, most) = if last.get() < end.starts_at.get() {
                (last, end.starts_at)
            } else {
                (end.starts_at, last)
            };
            findings.extend(match end.settles_at {
                Some(_) => practice::nitrite(name, most, &pointer),
                None => practice::nitrite_without_end(name, &pointer),
            });
            let limit = self.limits.matter.get(name);
            findings.extend(practice::soft_water(name, least, limit, &pointer));
        }
        for (water, pointer) in
            [(&self.water, "/water/properties"), (&self.deionised, "/deionised/properties")]
        {
            if let Some(water) = water {
                findings.extend(practice::nitrate_in_water(&water.properties, pointer));
            }
        }
        findings
    }
}
