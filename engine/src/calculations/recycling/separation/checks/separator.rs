//! The checks of a separator: stage, fluid and particles.

use super::super::CONCENTRATE;
use super::super::question::{
    ParticleSizes, Particles, SeparatingStage, Separator, SizeGrade, TankTurbulence,
};
use crate::fluid::properties::{TRAMP_OIL, spoken};
use crate::quantity::{Quantity, Share};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal, Sentence, with_nearest};
use std::collections::BTreeSet;

/// By how many points the shares of listed sizes may miss 100 %; they are then
/// scaled to it.
const SHARES_OFF_BY: f64 = 0.5;

impl Separator {
    /// Refuses what contradicts itself, then what is missing; `at` is where the
    /// separator lies in the request.
    pub(in super::super) fn check(&self, at: &str) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        self.note_contradictions(at, &mut faults);
        faults.or_refuse(Kind::Inconsistent)?;
        let mut faults = Faults::default();
        self.note_missing(at, &mut faults);
        faults.or_refuse(Kind::NotIdentifiable)
    }

    /// Notes what contradicts itself.
    pub(super) fn note_contradictions(&self, at: &str, faults: &mut Faults) {
        self.check_stage(&format!("{at}/stage"), faults);
        self.check_particles(at, faults);
    }

    fn check_stage(&self, at: &str, faults: &mut Faults) {
        match &self.stage {
            SeparatingStage::Settling(tank) => {
                if tank.turbulence.is_some() && tank.turbulence_factor.is_some() {
                    let detail = sentence!(
                        "Turbulence is given twice, by a practice and by a factor of the tank's \
                         own. Give one of them."
                    );
                    faults.add(format!("{at}/turbulence_factor"), detail);
                }
            }
            SeparatingStage::TubularCentrifuge(bowl) => {
                if bowl.surface_radius.get() >= bowl.bowl_radius.get() {
                    let detail = sentence!(
                        "The fluid's surface lies at a radius of {}, outside the bowl with its \
                         radius of {}. Give the radius of the surface that the fluid has in the \
                         turning bowl.",
                        bowl.surface_radius,
                        bowl.bowl_radius
                    );
                    faults.add(format!("{at}/surface_radius"), detail);
                }
            }
            SeparatingStage::DiscCentrifuge(bowl) => {
                if bowl.inner_radius.get() >= bowl.outer_radius.get() {
                    let detail = sentence!(
                        "The discs begin at a radius of {} and end at {}. The inner radius must be \
                         the smaller one.",
                        bowl.inner_radius,
                        bowl.outer_radius
                    );
                    faults.add(format!("{at}/inner_radius"), detail);
                }
                if bowl.gaps.get() == 0.0 {
                    let detail = sentence!(
                        "A stack without gaps lets no fluid through. Give the number of gaps \
                         between the discs."
                    );
                    faults.add(format!("{at}/gaps"), detail);
                }
            }
            SeparatingStage::Filter(filter) => {
                check_grades(filter.efficiency, filter.grades.as_deref(), at, faults);
            }
            SeparatingStage::Coalescer(coalescer) => {
                check_grades(coalescer.efficiency, coalescer.grades.as_deref(), at, faults);
            }
            SeparatingStage::Ultrafiltration(membrane) => {
                let known = || self.particles.iter().map(|p| p.property.as_str());
                let mut seen = BTreeSet::new();
                for (i, rejection) in membrane.rejections.iter().flatten().enumerate() {
                    let (name, at) = (&rejection.property, format!("{at}/rejections/{i}/property"));
                    if !seen.insert(name.as_str()) {
                        let detail = sentence!(
                            "The rejection of {} is given twice. Give it once.",
                            spoken(name)
                        );
                        faults.add(at, detail);
                    } else if name != CONCENTRATE && !known().any(|own| own == name) {
                        faults.add(at, unknown(name, known().chain([CONCENTRATE])));
                    }
                }
            }
        }
    }

    fn check_particles(&self, at: &str, faults: &mut Faults) {
        let mut seen = BTreeSet::new();
        for (i, particles) in self.particles.iter().enumerate() {
            let at = format!("{at}/particles/{i}");
            if !seen.insert(particles.property.as_str()) {
                let detail = sentence!(
                    "The particles of {} are given twice. Give each property one entry, with all \
                     of its sizes.",
                    spoken(&particles.property)
                );
                faults.add(format!("{at}/property"), detail);
            }
            check_sizes(particles, &format!("{at}/sizes"), faults);
        }
    }

    /// Notes what is missing.
    pub(super) fn note_missing(&self, at: &str, faults: &mut Faults) {
        let moves = self.moves();
        let by_size = moves || self.grades().is_some();
        let oil_only = matches!(self.stage, SeparatingStage::Coalescer(_));
        for (i, particles) in self.particles.iter().enumerate() {
            let (name, at) = (&particles.property, format!("{at}/particles/{i}"));
            if oil_only && name != TRAMP_OIL {
                continue;
            }
            if moves && particles.density.is_none() {
                let detail = sentence!(
                    "The density of {} is missing. It says how fast it sinks or rises.",
                    spoken(name)
                );
                faults.add(format!("{at}/density"), detail);
            }
            if by_size && particles.sizes.is_none() {
                let detail = sentence!(
                    "What this stage takes out depends on size, and the sizes of {} are missing. \
                     Give their distribution, or a list of sizes and shares.",
                    spoken(name)
                );
                faults.add(format!("{at}/sizes"), detail);
            }
            if let Some(ParticleSizes::LogNormal(sizes)) = &particles.sizes
                && sizes.geometric_standard_deviation.is_none()
                && sizes.span.is_none()
            {
                let detail = sentence!(
                    "The spread of the sizes of {} is missing. Give their geometric standard \
                     deviation, or their span.",
                    spoken(name)
                );
                let member = "geometric_standard_deviation";
                faults.add(format!("{at}/sizes/{member}"), detail);
            }
        }
        match &self.stage {
            SeparatingStage::Settling(tank)
                if tank.turbulence == Some(TankTurbulence::SeparatorPractice)
                    && tank.depth.is_none() =>
            {
                let detail = sentence!(
                    "The depth of the fluid is missing. The turbulence factor of separator practice \
                     depends on the flow along the tank."
                );
                faults.add(format!("{at}/stage/depth"), detail);
            }
            SeparatingStage::Filter(_) | SeparatingStage::Coalescer(_)
                if self.grades().is_none() && self.efficiency().is_none() =>
            {
                let detail = sentence!(
                    "The share that the stage takes out in one pass is missing. Give its \
                     efficiency, or its grades by size."
                );
                faults.add(format!("{at}/stage/efficiency"), detail);
            }
            _ => {}
        }
    }
}

fn check_grades(
    efficiency: Option<Share>,
    grades: Option<&[SizeGrade]>,
    at: &str,
    faults: &mut Faults,
) {
    if efficiency.is_some() && grades.is_some() {
        let detail = sentence!(
            "What the stage takes out is given twice, as one efficiency and by size. Give one of \
             them."
        );
        faults.add(format!("{at}/grades"), detail);
    }
    for (i, pair) in grades.unwrap_or_default().windows(2).enumerate() {
        let [before, after] = [pair[0], pair[1]];
        if after.size.get() <= before.size.get() {
            let detail = sentence!(
                "The sizes must rise from entry to entry, and {} follows on {}.",
                after.size,
                before.size
            );
            faults.add(format!("{at}/grades/{}/size", i + 1), detail);
        }
        if after.share.get() < before.share.get() {
            let detail = sentence!(
                "A stage that takes out {} of a size takes out no less of a larger one, and {} is \
                 less.",
                before.share,
                after.share
            );
            faults.add(format!("{at}/grades/{}/share", i + 1), detail);
        }
    }
}

fn check_sizes(particles: &Particles, at: &str, faults: &mut Faults) {
    match &particles.sizes {
        Some(ParticleSizes::LogNormal(sizes))
            if sizes.geometric_standard_deviation.is_some() && sizes.span.is_some() =>
        {
            let detail = sentence!(
                "The spread of the sizes is given twice, as a geometric standard deviation and as a \
                 span. Give one of them."
            );
            faults.add(format!("{at}/span"), detail);
        }
        Some(ParticleSizes::List(list)) => {
            let whole: f64 = list.classes.iter().map(|class| class.share.get()).sum();
            if (whole - 100.0).abs() > SHARES_OFF_BY {
                let detail = sentence!(
                    "The shares of the sizes come to {}. They must come to {}.",
                    Share::measure_of(whole),
                    Share::measure_of(100.0)
                );
                faults.add(format!("{at}/classes"), detail);
            }
        }
        _ => {}
    }
}

/// A property that nothing else in the request speaks of.
pub(super) fn unknown<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> Sentence {
    let detail = sentence!("\"{}\" is not among the particles of the separator.", name);
    with_nearest(detail, name, known)
}
