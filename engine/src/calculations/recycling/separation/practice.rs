//! What is taken for granted of a separator, and where a tank leaves the practice.

use super::CONCENTRATE;
use super::answer::PracticeLimit;
use super::particles::Sizes;
use super::stage::{SeparatingStage, Separator, SettlingTank, Turbulence};
use super::treated::Treated;
use crate::fluid::properties::TRAMP_OIL;
use crate::handbook::oil_separator;
use crate::quantity::{Quantity, Temperature};
use crate::text::{Assumption, Sentence};

/// Metres in a millimetre.
const METRES_PER_MILLIMETRE: f64 = 1e-3;

impl Separator {
    /// What is taken for granted of a separator that lies at `at` in a request.
    #[must_use]
    pub fn assumptions(&self, at: &str) -> Vec<Assumption> {
        let mut said = Vec::new();
        let fluid = self.fluid.as_ref();
        let temperature = fluid.and_then(|fluid| fluid.temperature);
        let density = fluid.and_then(|fluid| fluid.density);
        let viscosity = fluid.and_then(|fluid| fluid.viscosity);
        let unsaid = density.is_none() || viscosity.is_none();
        if self.moves() && temperature.is_none() && unsaid {
            let text = Sentence::new("The fluid was taken to be at {}.")
                .with(Temperature::measure_of(20.0));
            said.push(Assumption::new(format!("{at}/fluid/temperature"), text));
        }
        let mut say = |pointer: String, text: &'static str| {
            said.push(Assumption::new(pointer, text));
        };
        if self.moves() {
            if density.is_none() {
                say(format!("{at}/fluid/density"), "Taken to be that of water at the temperature.");
            }
            if viscosity.is_none() {
                let text = "Taken to be that of water at the temperature; a strong emulsion is \
                            thicker, and separates more slowly.";
                say(format!("{at}/fluid/viscosity"), text);
            }
            let text = "Particles and drops were taken for spheres too few to hinder each other, \
                        and what has settled or floated up to stay there.";
            say(format!("{at}/particles"), text);
        }
        match &self.stage {
            SeparatingStage::Settling(tank)
                if tank.turbulence_factor.is_none()
                    && tank.turbulence != Some(Turbulence::SeparatorPractice) =>
            {
                let text = "The tank was taken to be quiet and evenly fed; no real one is, and \
                            takes out less.";
                say(format!("{at}/stage/turbulence"), text);
            }
            SeparatingStage::TubularCentrifuge(bowl) if bowl.sigma_reached.is_none() => {
                say(format!("{at}/stage/sigma_reached"), SIGMA_REACHED);
            }
            SeparatingStage::DiscCentrifuge(bowl) if bowl.sigma_reached.is_none() => {
                say(format!("{at}/stage/sigma_reached"), SIGMA_REACHED);
            }
            SeparatingStage::Coalescer(_)
                if self.particles.iter().any(|p| p.property != TRAMP_OIL) =>
            {
                let text = "A coalescer was taken to take out tramp oil and nothing else.";
                say(format!("{at}/stage"), text);
            }
            SeparatingStage::Ultrafiltration(membrane) => {
                let listed =
                    |name: &str| membrane.rejections.iter().flatten().any(|r| r.property == name);
                let names = self.particles.iter().map(|p| p.property.as_str());
                let mut all = names.chain([CONCENTRATE]);
                if all.any(|name| !listed(name)) {
                    let text = "What has no rejection of its own, the concentrate included, was \
                                taken to be held back entirely.";
                    say(format!("{at}/stage/rejections"), text);
                }
            }
            _ => {}
        }
        if self.efficiency().is_some() {
            let text = "The stage was taken to take out the same share of every size.";
            say(format!("{at}/stage/efficiency"), text);
        }
        for (i, particles) in self.particles.iter().enumerate() {
            if let Some(Sizes::List(list)) = &particles.sizes {
                let whole: f64 = list.classes.iter().map(|class| class.share.get()).sum();
                if (whole - 100.0).abs() > 1e-9 {
                    let text =
                        "The shares of the sizes were scaled so that they come to all of it.";
                    say(format!("{at}/particles/{i}/sizes/classes"), text);
                }
            }
        }
        said
    }
}

const SIGMA_REACHED: &str = "The machine was taken to reach all of its sigma; what is measured is \
                             often less.";

/// What of a tank lies outside the practice for oil separators, where its
/// turbulence is asked for.
pub(super) fn outside_practice(
    tank: &SettlingTank,
    q: f64,
    treated: &[Treated<'_>],
) -> Vec<PracticeLimit> {
    let (Some(Turbulence::SeparatorPractice), Some(depth)) = (tank.turbulence, tank.depth) else {
        return Vec::new();
    };
    let [depth, width] = [depth, tank.width].map(|length| length.get() * METRES_PER_MILLIMETRE);
    let outside = |value: f64, (least, most): (f64, f64)| {
        value < least * (1.0 - 1e-12) || value > most * (1.0 + 1e-12)
    };
    let flow = tank.flow(q).unwrap_or_default() * super::grading::SECONDS_PER_HOUR;
    let too_fast = |t: &Treated<'_>| {
        t.graded.flow_to_rise.is_some_and(|ratio| ratio > oil_separator::FLOW_TO_RISE_MOST)
    };
    let limits = [
        (flow > oil_separator::FLOW_MOST, PracticeLimit::Flow),
        (treated.iter().any(too_fast), PracticeLimit::FlowToRise),
        (outside(depth, oil_separator::DEPTH), PracticeLimit::Depth),
        (outside(width, oil_separator::WIDTH), PracticeLimit::Width),
        (outside(depth / width, oil_separator::DEPTH_TO_WIDTH), PracticeLimit::DepthToWidth),
    ];
    limits.into_iter().filter(|(is_so, _)| *is_so).map(|(_, limit)| limit).collect()
}
