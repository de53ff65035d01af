//! From a stage and its fluid to the share of each size that is taken out.

use super::distribution::{Points, SizeDistribution};
use super::grade::{Curve, Grade};
use super::question::Particles;
use super::question::{SeparatingStage, Separator};
use super::turbulence::{moved, turbulence};
use crate::fluid::properties::{ByProperty, TRAMP_OIL};
use crate::handbook::conversions::CUBIC_METRES_PER_SECOND;
use crate::handbook::sphere::Suspension;
use crate::quantity::{Quantity, Share, Throughput};
use crate::sentence;
use crate::text::{Kind, Refusal};

/// Kilograms per cubic metre in a kilogram per litre.
pub(super) const PER_CUBIC_METRE: f64 = 1000.0;
/// Pascal seconds in a millipascal second.
pub(super) const PASCAL_SECONDS: f64 = 1e-3;

/// One property, and what one pass does to it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Graded<'a> {
    pub(super) particles: &'a Particles,
    pub(super) grade: Grade,
    pub(super) distribution: Option<SizeDistribution>,
    /// The material in the fluid, where its density is known.
    pub(super) suspension: Option<Suspension>,
    /// How many times as much surface turbulence asks for, in a tank.
    pub(super) turbulence_factor: Option<f64>,
    /// Flow along the tank against the rise of the design drop, where the factor
    /// is that of separator practice.
    pub(super) flow_to_rise: Option<f64>,
}

impl Graded<'_> {
    /// The sizes as points; a single one where sizes do not matter.
    pub(super) fn points(&self, fine: bool) -> Points {
        let any = || SizeDistribution::List(vec![(1.0, 1.0)]);
        let distribution = self.distribution.clone().unwrap_or_else(any);
        distribution.points(&self.grade.kinks(), fine)
    }

    /// The share taken out in one pass, 0 to 1.
    pub(super) fn removed(&self) -> f64 {
        let points = self.points(false);
        let removed: f64 = points.all.iter().map(|(d, w)| w * self.grade.share(*d)).sum();
        removed.clamp(0.0, 1.0)
    }
}

impl Separator {
    /// The share of each property that one pass takes out at a throughput.
    ///
    /// `at` is where this separator lies in the request and `throughput_at` where
    /// the throughput does, for what has to be said about them. What is not among
    /// the particles is not removed and not listed.
    pub fn removed(
        &self,
        throughput: Throughput,
        throughput_at: &str,
        at: &str,
    ) -> Result<ByProperty<Share, Share>, Refusal> {
        let mut removed = ByProperty::default();
        for graded in self.graded(throughput, throughput_at, at)? {
            let share = Share::of_fraction(graded.removed())?;
            let name = &graded.particles.property;
            if name == TRAMP_OIL {
                removed.tramp_oil = Some(share);
            } else {
                removed.matter.insert(name.into(), share);
            }
        }
        Ok(removed)
    }

    /// Every property with what one pass does to it.
    pub(super) fn graded(
        &self,
        throughput: Throughput,
        throughput_at: &str,
        at: &str,
    ) -> Result<Vec<Graded<'_>>, Refusal> {
        self.check(at)?;
        if throughput.get() == 0.0 {
            let detail = sentence!(
                "Nothing flows, so nothing is separated. Give a throughput above {}.",
                throughput
            );
            return Err(Refusal::new(Kind::Inconsistent, throughput_at, detail));
        }
        let (rho, mu) = self.carrier(at)?;
        let q = throughput.get() * CUBIC_METRES_PER_SECOND;
        let all = self.particles.iter().enumerate();
        all.map(|(i, particles)| {
            let rho_p = particles.density.map(|density| density.get() * PER_CUBIC_METRE);
            let suspension = rho_p.map(|rho_p| Suspension { rho_p, rho, mu });
            let mut graded = Graded {
                particles,
                grade: Grade::Flat(0.0),
                distribution: particles.sizes.as_ref().and_then(SizeDistribution::of),
                suspension,
                turbulence_factor: None,
                flow_to_rise: None,
            };
            graded.grade = self.grade(q, &mut graded, &format!("{at}/particles/{i}"), at)?;
            Ok(graded)
        })
        .collect()
    }

    fn grade(
        &self,
        q: f64,
        graded: &mut Graded<'_>,
        particles_at: &str,
        at: &str,
    ) -> Result<Grade, Refusal> {
        let is_oil = graded.particles.property == TRAMP_OIL;
        match &self.stage {
            SeparatingStage::Coalescer(_) if !is_oil => Ok(Grade::Flat(0.0)),
            SeparatingStage::Filter(_) | SeparatingStage::Coalescer(_) => Ok(self.given_grade()),
            SeparatingStage::Ultrafiltration(_) => {
                Ok(Grade::Flat(self.held_back(&graded.particles.property)))
            }
            SeparatingStage::Settling(tank) => {
                let Some(suspension) = graded.suspension else { return Ok(Grade::Flat(0.0)) };
                let (factor, flow_to_rise) = turbulence(tank, q, suspension, at)?;
                graded.turbulence_factor = Some(factor);
                graded.flow_to_rise = flow_to_rise;
                moved(suspension, factor * q / tank.area(), true, Curve::Straight, particles_at)
            }
            SeparatingStage::TubularCentrifuge(_) | SeparatingStage::DiscCentrifuge(_) => {
                let Some(suspension) = graded.suspension else { return Ok(Grade::Flat(0.0)) };
                let sigma = self.sigma().unwrap_or_default();
                if sigma <= 0.0 {
                    return Ok(Grade::Flat(0.0));
                }
                let curve = self.curve(suspension.rises());
                moved(suspension, q / sigma, false, curve, particles_at)
            }
        }
    }
}
