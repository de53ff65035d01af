//! What a question about separation may not contradict itself in.

use super::particles::{Particles, Sizes};
use super::stage::{SeparatingStage, Separator, SizeGrade, Turbulence};
use super::{CONCENTRATE, SHARES_OFF_BY};
use crate::fluid::properties::TRAMP_OIL;
use crate::quantity::{Measure, Quantity, Share};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal, Sentence, with_nearest};
use std::collections::BTreeSet;

impl Separator {
    /// Refuses what contradicts itself, then what is missing; `at` is where the
    /// separator lies in the request.
    pub(super) fn check(&self, at: &str) -> Result<(), Refusal> {
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
                    let detail = "Turbulence is given twice, by a practice and by a factor of the \
                                  tank's own. Give one of them.";
                    faults.add(format!("{at}/turbulence_factor"), Sentence::new(detail));
                }
            }
            SeparatingStage::TubularCentrifuge(bowl) => {
                if bowl.surface_radius.get() >= bowl.bowl_radius.get() {
                    let detail = "The fluid's surface lies at a radius of {}, outside the bowl \
                                  with its radius of {}. Give the radius of the surface that \
                                  the fluid has in the turning bowl.";
                    let detail = Sentence::new(detail).with(bowl.surface_radius.measure());
                    faults.add(
                        format!("{at}/surface_radius"),
                        detail.with(bowl.bowl_radius.measure()),
                    );
                }
            }
            SeparatingStage::DiscCentrifuge(bowl) => {
                if bowl.inner_radius.get() >= bowl.outer_radius.get() {
                    let detail = "The discs begin at a radius of {} and end at {}. The inner \
                                  radius must be the smaller one.";
                    let detail = Sentence::new(detail).with(bowl.inner_radius.measure());
                    faults.add(
                        format!("{at}/inner_radius"),
                        detail.with(bowl.outer_radius.measure()),
                    );
                }
                if bowl.gaps.get() == 0.0 {
                    let detail = "A stack without gaps lets nothing through. Give the number of \
                                  gaps between the discs.";
                    faults.add(format!("{at}/gaps"), Sentence::new(detail));
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
                        let detail = format!("The rejection of {name} is given twice.");
                        faults.add(at, Sentence::new(detail));
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
                let detail = format!(
                    "{} is given twice. Give each property one entry, with all of its sizes.",
                    particles.property
                );
                faults.add(format!("{at}/property"), Sentence::new(detail));
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
                let detail = format!(
                    "How fast {name} sinks or rises goes by the density of its material, which is \
                     missing."
                );
                faults.add(format!("{at}/density"), Sentence::new(detail));
            }
            if by_size && particles.sizes.is_none() {
                let detail = format!(
                    "What this stage takes out goes by size, and the sizes of {name} are missing. \
                     Give their distribution, or a list of sizes and shares."
                );
                faults.add(format!("{at}/sizes"), Sentence::new(detail));
            }
            if let Some(Sizes::LogNormal(sizes)) = &particles.sizes
                && sizes.geometric_standard_deviation.is_none()
                && sizes.span.is_none()
            {
                let detail = format!(
                    "How wide the sizes of {name} are spread is missing. Give their geometric \
                     standard deviation, or their span."
                );
                let member = "geometric_standard_deviation";
                faults.add(format!("{at}/sizes/{member}"), Sentence::new(detail));
            }
        }
        match &self.stage {
            SeparatingStage::Settling(tank)
                if tank.turbulence == Some(Turbulence::SeparatorPractice)
                    && tank.depth.is_none() =>
            {
                let detail = "The turbulence factor of separator practice goes by the flow along \
                              the tank, and the depth of the fluid is missing.";
                faults.add(format!("{at}/stage/depth"), Sentence::new(detail));
            }
            SeparatingStage::Filter(_) | SeparatingStage::Coalescer(_)
                if self.grades().is_none() && self.efficiency().is_none() =>
            {
                let detail = "What the stage takes out in one pass is missing. Give its \
                              efficiency, or its grades by size.";
                faults.add(format!("{at}/stage/efficiency"), Sentence::new(detail));
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
        let detail = "What the stage takes out is given twice, as one efficiency and by size. \
                      Give one of them.";
        faults.add(format!("{at}/grades"), Sentence::new(detail));
    }
    for (i, pair) in grades.unwrap_or_default().windows(2).enumerate() {
        let [before, after] = [pair[0], pair[1]];
        if after.size.get() <= before.size.get() {
            let detail = "The sizes must rise from entry to entry, and {} follows on {}.";
            let detail = Sentence::new(detail).with(after.size.measure());
            faults.add(format!("{at}/grades/{}/size", i + 1), detail.with(before.size.measure()));
        }
        if after.share.get() < before.share.get() {
            let detail = "A stage that takes out {} of a size takes out no less of a larger one, \
                          and {} is less.";
            let detail = Sentence::new(detail).with(before.share.measure());
            faults.add(format!("{at}/grades/{}/share", i + 1), detail.with(after.share.measure()));
        }
    }
}

fn check_sizes(particles: &Particles, at: &str, faults: &mut Faults) {
    match &particles.sizes {
        Some(Sizes::LogNormal(sizes))
            if sizes.geometric_standard_deviation.is_some() && sizes.span.is_some() =>
        {
            let detail = "How wide the sizes are spread is given twice, as a geometric standard \
                          deviation and as a span. Give one of them.";
            faults.add(format!("{at}/span"), Sentence::new(detail));
        }
        Some(Sizes::List(list)) => {
            let whole: f64 = list.classes.iter().map(|class| class.share.get()).sum();
            if (whole - 100.0).abs() > SHARES_OFF_BY {
                let detail = "The shares of the sizes come to {} and not to {}.";
                let percent = |share| Measure::of(Share::ROW, share);
                let detail = Sentence::new(detail).with(percent(whole)).with(percent(100.0));
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
