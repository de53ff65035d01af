//! What can hurt in separating fluid from what is in it.

use super::question::Separation;
use crate::fluid::properties::TRAMP_OIL;
use crate::quantity::{Quantity, Temperature};
use crate::text::Caution;

/// What is lighter than this, kg/L, and is no oil, may be a light metal.
const LIGHT_METAL: f64 = 3.0;
/// Fluid warmer than this, °C, has been heated.
const HEATED: f64 = 45.0;

impl Separation {
    pub(super) fn cautions(&self) -> Vec<Caution> {
        let mut cautions = vec![Caution::SKIN_AND_MIST, Caution::SKIMMINGS_AND_SLUDGE];
        if self.separator.times_gravity().is_some() {
            cautions.push(Caution::SPINNING_MACHINERY);
        }
        let fines = self.separator.particles.iter().any(|particles| {
            let light = particles.density.is_none_or(|density| density.get() < LIGHT_METAL);
            particles.property != TRAMP_OIL && light
        });
        if fines {
            cautions.push(Caution::METAL_FINES);
        }
        let heavy = self.separator.particles.iter().any(|particles| {
            let heavy = particles.density.is_none_or(|density| density.get() >= LIGHT_METAL);
            particles.property != TRAMP_OIL && heavy
        });
        if heavy {
            cautions.push(Caution::METALS_IN_FLUID);
        }
        let celsius = self.separator.fluid.and_then(|fluid| fluid.temperature);
        if celsius.is_some_and(|celsius: Temperature| celsius.get() > HEATED) {
            cautions.push(Caution::HEAT_AND_BIOCIDE);
        }
        cautions
    }
}
