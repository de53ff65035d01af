//! What is taken for granted of a separator, and of what goes through it.

use super::CONCENTRATE;
use super::question::{ParticleSizes, SeparatingStage, Separation, Separator, TankTurbulence};
use super::treated::Treated;
use crate::fluid::properties::{TRAMP_OIL, spoken};
use crate::fluid::stock;
use crate::handbook::oil_separator;
use crate::quantity::{Quantity, Temperature};
use crate::sentence;
use crate::text::Assumption;
use std::collections::BTreeSet;

/// Up to this Reynolds number Stokes is right to within a sixth.
const STOKES_TO: f64 = 1.0;

impl Separator {
    /// What is taken for granted of a separator that lies at `at` in a request.
    #[must_use]
    pub fn assumptions(&self, at: &str) -> Vec<Assumption> {
        let mut assumptions = Vec::new();
        let fluid = self.fluid.as_ref();
        let temperature = fluid.and_then(|fluid| fluid.temperature);
        let density = fluid.and_then(|fluid| fluid.density);
        let viscosity = fluid.and_then(|fluid| fluid.viscosity);
        let unsaid = density.is_none() || viscosity.is_none();
        if self.moves() && temperature.is_none() && unsaid {
            let text =
                sentence!("The fluid was assumed to be at {}.", Temperature::measure_of(20.0));
            assumptions.push(Assumption::new(format!("{at}/fluid/temperature"), text));
        }
        let mut note = |pointer: String, text: &'static str| {
            assumptions.push(Assumption::new(pointer, text));
        };
        if self.moves() {
            if density.is_none() {
                note(format!("{at}/fluid/density"), "Density: that of water at the temperature.");
            }
            if viscosity.is_none() {
                let text = "Viscosity: that of water at the temperature; a strong emulsion is thicker, and \
                            separates more slowly.";
                note(format!("{at}/fluid/viscosity"), text);
            }
            let text = "Particles and drops were assumed to be spheres too few to hinder each other, \
                        and to stay where they have settled or floated up.";
            note(format!("{at}/particles"), text);
        }
        match &self.stage {
            SeparatingStage::Settling(tank)
                if tank.turbulence_factor.is_none()
                    && tank.turbulence != Some(TankTurbulence::SeparatorPractice) =>
            {
                let text = "The tank was assumed to be quiet and evenly fed; no real one is, and a real \
                            one takes out less.";
                note(format!("{at}/stage/turbulence"), text);
            }
            SeparatingStage::TubularCentrifuge(bowl) if bowl.sigma_reached.is_none() => {
                note(format!("{at}/stage/sigma_reached"), SIGMA_REACHED);
            }
            SeparatingStage::DiscCentrifuge(bowl) if bowl.sigma_reached.is_none() => {
                note(format!("{at}/stage/sigma_reached"), SIGMA_REACHED);
            }
            SeparatingStage::Coalescer(_)
                if self.particles.iter().any(|p| p.property != TRAMP_OIL) =>
            {
                let text = "The coalescer was assumed to take out tramp oil and nothing else.";
                note(format!("{at}/stage"), text);
            }
            SeparatingStage::Ultrafiltration(membrane) => {
                let listed =
                    |name: &str| membrane.rejections.iter().flatten().any(|r| r.property == name);
                let names = self.particles.iter().map(|p| p.property.as_str());
                let mut all = names.chain([CONCENTRATE]);
                if all.any(|name| !listed(name)) {
                    let text = "The membrane was assumed to hold back entirely whatever has no \
                                rejection of its own, the concentrate included.";
                    note(format!("{at}/stage/rejections"), text);
                }
            }
            _ => {}
        }
        if self.efficiency().is_some() {
            let text = "The stage was assumed to take out the same share of every size.";
            note(format!("{at}/stage/efficiency"), text);
        }
        for (i, particles) in self.particles.iter().enumerate() {
            if let Some(ParticleSizes::List(list)) = &particles.sizes {
                let whole: f64 = list.classes.iter().map(|class| class.share.get()).sum();
                if (whole - 100.0).abs() > 1e-9 {
                    let text =
                        "The shares of the sizes were scaled so that they come to all of it.";
                    note(format!("{at}/particles/{i}/sizes/classes"), text);
                }
            }
        }
        assumptions
    }
}

const SIGMA_REACHED: &str = "The centrifuge was assumed to reach all of its sigma; measured values \
                             are often lower.";

impl Separation {
    pub(super) fn assumptions(&self, treated: &[Treated<'_>]) -> Vec<Assumption> {
        let mut assumptions = self.separator.assumptions("/separator");
        let mut note = |pointer: &str, text: &'static str| {
            assumptions.push(Assumption::new(pointer.to_owned(), text));
        };
        let below = |t: &Treated<'_>| {
            t.graded.flow_to_rise.is_some_and(|ratio| ratio < oil_separator::FLOW_TO_RISE.0)
        };
        if treated.iter().any(below) {
            let text = "The flow is slower, relative to the rise of the oil, than the published table \
                        covers; the turbulence factor of its first entry was used.";
            note("/separator/stage/turbulence", text);
        }
        let sinks = |t: &Treated<'_>| t.graded.suspension.is_some_and(|s| !s.rises());
        if treated.iter().any(|t| t.graded.flow_to_rise.is_some() && sinks(t)) {
            let text = "The turbulence factor, published for oil that rises, was used for what sinks as \
                        well.";
            note("/separator/stage/turbulence", text);
        }
        if self.beyond_stokes(treated) {
            let text = "At the rim the smallest size that is taken out entirely moves faster than \
                        Stokes holds for; the centrifuge takes out somewhat less of the sizes \
                        near it.";
            note("/separator/stage", text);
        }
        if self.recirculation.is_some() {
            let text = "The tank was assumed to be well mixed all the time, and to keep its volume \
                        while it goes round.";
            note("/recirculation", text);
        }
        let Some(feed) = &self.feed else { return assumptions };
        if feed.concentration.is_none() {
            note("/feed/concentration", "The feed was assumed to hold no concentrate.");
        }
        if !matches!(self.separator.stage, SeparatingStage::Ultrafiltration(_)) {
            let text = "No good fluid was assumed to leave with what is taken out.";
            note("/feed", text);
        }
        let followed: BTreeSet<&str> =
            self.separator.particles.iter().map(|p| p.property.as_str()).collect();
        for name in stock::property_names(&feed.properties).filter(|name| !followed.contains(name))
        {
            let text = sentence!(
                "Not among the particles, and so assumed to go with the water: {}.",
                spoken(name)
            );
            assumptions.push(Assumption::new(format!("/feed/properties/{name}"), text));
        }
        let carried: BTreeSet<&str> = stock::property_names(&feed.properties).collect();
        for (i, particles) in self.separator.particles.iter().enumerate() {
            let name = particles.property.as_str();
            if !carried.contains(name) {
                let pointer = format!("/feed/properties/{name}");
                assumptions.push(Assumption::carries_none(pointer, "feed", &spoken(name)));
            } else if name == TRAMP_OIL && particles.density.is_none() {
                let text = "The oil was assumed to be as heavy as the fluid in the balance.";
                assumptions
                    .push(Assumption::new(format!("/separator/particles/{i}/density"), text));
            }
        }
        assumptions
    }

    /// Whether what a centrifuge just takes out moves too fast for Stokes there.
    fn beyond_stokes(&self, treated: &[Treated<'_>]) -> bool {
        let Some(times_gravity) = self.separator.times_gravity() else { return false };
        treated.iter().any(|t| {
            let Some(suspension) = t.graded.suspension else { return false };
            let Some(d) = t.graded.grade.all_from() else { return false };
            suspension.reynolds(d, suspension.stokes(d) * times_gravity) > STOKES_TO
        })
    }
}
