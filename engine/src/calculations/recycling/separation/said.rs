//! What the whole question may not contradict itself in, what is taken for
//! granted, and what to beware of.

use super::Separation;
use super::checks::unknown;
use super::stage::SeparatingStage;
use super::treated::Treated;
use crate::fluid::properties::TRAMP_OIL;
use crate::fluid::stock;
use crate::handbook::oil_separator;
use crate::quantity::{Quantity, Temperature};
use crate::text::{Assumption, Caution, Faults, Kind, Refusal, Sentence};
use std::collections::BTreeSet;

/// Up to this Reynolds number Stokes is right to within a sixth.
const STOKES_TO: f64 = 1.0;
/// What is lighter than this, kg/L, and is no oil, may be a light metal.
const LIGHT_METAL: f64 = 3.0;
/// Fluid warmer than this, °C, has been heated.
const HEATED: f64 = 45.0;

impl Separation {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        self.separator.note_contradictions("/separator", &mut faults);
        if let Some(feed) = &self.feed
            && let Some(concentration) = feed.concentration
        {
            stock::check_volume_shares(concentration, &feed.properties, "/feed", &mut faults);
        }
        if let Some(recirculation) = &self.recirculation {
            if matches!(self.separator.stage, SeparatingStage::Ultrafiltration(_)) {
                let detail = "A membrane run down by a volume concentration factor goes round by \
                              itself. Leave out the recirculation.";
                faults.add("/recirculation", Sentence::new(detail));
            }
            let known = || self.separator.particles.iter().map(|p| p.property.as_str());
            let mut seen = BTreeSet::new();
            for (i, inflow) in recirculation.inflows.iter().flatten().enumerate() {
                let (name, at) = (&inflow.property, format!("/recirculation/inflows/{i}/property"));
                if !seen.insert(name.as_str()) {
                    let detail = format!("The inflow of {name} is given twice. Add them up.");
                    faults.add(at, Sentence::new(detail));
                } else if !known().any(|own| own == name) {
                    faults.add(at, unknown(name, known()));
                }
            }
        }
        faults.or_refuse(Kind::Inconsistent)?;

        let mut faults = Faults::default();
        self.separator.note_missing("/separator", &mut faults);
        if let (None, Some(_)) = (&self.feed, &self.recirculation) {
            let detail = "How often the tank goes round depends on what is in it. Give the feed \
                          with its volume.";
            faults.add("/feed", Sentence::new(detail));
        }
        let inflows = self.recirculation.iter().flat_map(|r| r.inflows.iter().flatten());
        let oil_comes_in = inflows.into_iter().any(|inflow| inflow.property == TRAMP_OIL);
        for (i, particles) in self.separator.particles.iter().enumerate() {
            let needs = oil_comes_in && particles.property == TRAMP_OIL;
            if needs && particles.density.is_none() && !self.separator.moves() {
                let detail = "How much room the oil takes that comes in goes by its density, \
                              which is missing.";
                faults.add(format!("/separator/particles/{i}/density"), Sentence::new(detail));
            }
        }
        faults.or_refuse(Kind::NotIdentifiable)
    }

    pub(super) fn assumptions(&self, treated: &[Treated<'_>]) -> Vec<Assumption> {
        let mut said = self.separator.assumptions("/separator");
        let mut say = |pointer: &str, text: &'static str| {
            said.push(Assumption::new(pointer.to_owned(), text));
        };
        let below = |t: &Treated<'_>| {
            t.graded.flow_to_rise.is_some_and(|ratio| ratio < oil_separator::FLOW_TO_RISE.0)
        };
        if treated.iter().any(below) {
            let text = "The fluid flows more slowly against the rise than the published table \
                        begins with; the turbulence factor of its first entry was taken.";
            say("/separator/stage/turbulence", text);
        }
        let sinks = |t: &Treated<'_>| t.graded.suspension.is_some_and(|s| !s.rises());
        if treated.iter().any(|t| t.graded.flow_to_rise.is_some() && sinks(t)) {
            let text = "The turbulence factor, published for oil that rises, was taken for what \
                        sinks as well.";
            say("/separator/stage/turbulence", text);
        }
        if self.beyond_stokes(treated) {
            let text = "At the rim the smallest size that is taken out entirely moves faster than \
                        Stokes holds for; the centrifuge takes out somewhat less of the sizes \
                        near it.";
            say("/separator/stage", text);
        }
        if self.recirculation.is_some() {
            let text = "The tank was taken to be well mixed all the time, and to keep its volume \
                        while it goes round.";
            say("/recirculation", text);
        }
        let Some(feed) = &self.feed else { return said };
        if feed.concentration.is_none() {
            say("/feed/concentration", "The feed was taken to hold no concentrate.");
        }
        if !matches!(self.separator.stage, SeparatingStage::Ultrafiltration(_)) {
            let text = "No good fluid was taken to leave with what is taken out.";
            say("/feed", text);
        }
        let followed: BTreeSet<&str> =
            self.separator.particles.iter().map(|p| p.property.as_str()).collect();
        for name in stock::property_names(&feed.properties).filter(|name| !followed.contains(name))
        {
            let text = format!("{name} is not among the particles and goes with the water.");
            said.push(Assumption::new(format!("/feed/properties/{name}"), text));
        }
        let carried: BTreeSet<&str> = stock::property_names(&feed.properties).collect();
        for (i, particles) in self.separator.particles.iter().enumerate() {
            let name = particles.property.as_str();
            if !carried.contains(name) {
                let text = format!("The feed was taken to carry no {name} to begin with.");
                said.push(Assumption::new(format!("/feed/properties/{name}"), text));
            } else if name == TRAMP_OIL && particles.density.is_none() {
                let text = "The oil was taken to be as heavy as the fluid in the balance.";
                said.push(Assumption::new(format!("/separator/particles/{i}/density"), text));
            }
        }
        said
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
