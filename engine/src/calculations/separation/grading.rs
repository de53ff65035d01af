//! From a stage and its fluid to the share of each size that is taken out.

use super::distribution::{Distribution, Points};
use super::grade::{Curve, Grade, Moved};
use super::particles::Particles;
use super::stage::{SeparatingStage, Separator, SettlingTank, SizeGrade, Turbulence};
use crate::handbook::sphere::{GRAVITY, Suspension};
use crate::handbook::{oil_separator, water};
use crate::properties::{ByProperty, TRAMP_OIL};
use crate::quantity::{
    ParticleSize, Quantity, Ratio, Share, SurfaceLoading, Temperature, Throughput,
};
use crate::refusal::{Kind, Refusal};
use crate::sentence::{Measure, Sentence};
use std::f64::consts::PI;

/// Cubic metres a second in a litre an hour.
pub(super) const CUBIC_METRES_PER_SECOND: f64 = 1.0 / 3.6e6;
/// Seconds in an hour.
pub(super) const SECONDS_PER_HOUR: f64 = 3600.0;
/// Metres in a millimetre.
const METRES_PER_MILLIMETRE: f64 = 1e-3;
/// Kilograms per cubic metre in a kilogram per litre.
pub(super) const PER_CUBIC_METRE: f64 = 1000.0;
/// Pascal seconds in a millipascal second.
pub(super) const PASCAL_SECONDS: f64 = 1e-3;

/// One property, and what one pass does to it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Graded<'a> {
    pub(super) particles: &'a Particles,
    pub(super) grade: Grade,
    pub(super) distribution: Option<Distribution>,
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
        let any = || Distribution::List(vec![(1.0, 1.0)]);
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
            let share = Share::of(graded.removed() * 100.0)?;
            let name = &graded.particles.property;
            if name == TRAMP_OIL {
                removed.tramp_oil = Some(share);
            } else {
                removed.matter.insert(name.clone(), share);
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
            let detail = "Nothing flows, so nothing is separated. Give a throughput above {}.";
            let detail = Sentence::new(detail).with(throughput.measure());
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
                distribution: particles.sizes.as_ref().and_then(Distribution::of),
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

    /// Density (kg/m³) and viscosity (Pa·s) of the fluid.
    pub(super) fn carrier(&self, at: &str) -> Result<(f64, f64), Refusal> {
        let fluid = self.fluid.as_ref();
        let celsius = fluid.and_then(|f| f.temperature).map_or(20.0, Quantity::get);
        let own_rho = fluid.and_then(|f| f.density).map(|density| density.get() * PER_CUBIC_METRE);
        let own_mu = fluid.and_then(|f| f.viscosity).map(|mu| mu.get() * PASCAL_SECONDS);
        let rho = own_rho.or_else(|| water::density(celsius));
        let mu = own_mu.or_else(|| water::viscosity(celsius));
        rho.zip(mu).ok_or_else(|| {
            let (low, high) = water::LIQUID_CELSIUS;
            let detail = "Density and viscosity of water are known from {} to {}. Give both of \
                          the fluid's own, or a temperature between.";
            let celsius = |c| Measure::of(Temperature::ROW, c);
            let detail = Sentence::new(detail).with(celsius(low)).with(celsius(high));
            Refusal::new(Kind::OutOfRange, format!("{at}/fluid/temperature"), detail)
        })
    }

    /// Whether particles have to sink or rise in it.
    pub(super) fn moves(&self) -> bool {
        matches!(
            self.stage,
            SeparatingStage::Settling(_)
                | SeparatingStage::TubularCentrifuge(_)
                | SeparatingStage::DiscCentrifuge(_)
        )
    }

    pub(super) fn efficiency(&self) -> Option<Share> {
        match &self.stage {
            SeparatingStage::Filter(filter) => filter.efficiency,
            SeparatingStage::Coalescer(coalescer) => coalescer.efficiency,
            _ => None,
        }
    }

    pub(super) fn grades(&self) -> Option<&[SizeGrade]> {
        match &self.stage {
            SeparatingStage::Filter(filter) => filter.grades.as_deref(),
            SeparatingStage::Coalescer(coalescer) => coalescer.grades.as_deref(),
            _ => None,
        }
    }

    fn given_grade(&self) -> Grade {
        let Some(grades) = self.grades() else {
            return Grade::Flat(self.efficiency().map_or(0.0, Quantity::get) / 100.0);
        };
        let metres = super::distribution::METRES_PER_MICROMETRE;
        let point =
            |grade: &SizeGrade| ((grade.size.get() * metres).ln(), grade.share.get() / 100.0);
        Grade::Listed(grades.iter().map(point).collect())
    }

    /// The share of something that a membrane keeps on the side of the feed,
    /// 0 to 1: VCF^(R − 1) for a rejection R, all of it at R = 1.
    pub(super) fn held_back(&self, name: &str) -> f64 {
        self.ln_held_back(name).exp()
    }

    /// The share that goes through, 0 to 1.
    pub(super) fn let_through(&self, name: &str) -> f64 {
        -self.ln_held_back(name).exp_m1()
    }

    fn ln_held_back(&self, name: &str) -> f64 {
        let SeparatingStage::Ultrafiltration(membrane) = &self.stage else { return 0.0 };
        let listed = membrane.rejections.iter().flatten().find(|r| r.property == name);
        let rejection = listed.map_or(1.0, |r| r.share.get() / 100.0);
        (rejection - 1.0) * membrane.volume_concentration_factor.get().ln()
    }

    /// The settling surface (m²) that a centrifuge is worth, with what share of
    /// it the machine reaches.
    pub(super) fn sigma(&self) -> Option<f64> {
        let reached = |share: Option<Share>| share.map_or(1.0, |share| share.get() / 100.0);
        match &self.stage {
            SeparatingStage::TubularCentrifuge(bowl) => {
                let omega = bowl.speed.get() * 2.0 * PI / 60.0;
                let [r_0, r_1, l] = [bowl.bowl_radius, bowl.surface_radius, bowl.bowl_length]
                    .map(|length| length.get() * METRES_PER_MILLIMETRE);
                let ideal =
                    omega * omega * PI * l * (r_0 * r_0 - r_1 * r_1) / (GRAVITY * (r_0 / r_1).ln());
                Some(ideal * reached(bowl.sigma_reached))
            }
            SeparatingStage::DiscCentrifuge(bowl) => {
                let omega = bowl.speed.get() * 2.0 * PI / 60.0;
                let [r_2, r_1] = [bowl.outer_radius, bowl.inner_radius]
                    .map(|length| length.get() * METRES_PER_MILLIMETRE);
                let theta = bowl.half_angle.get().to_radians();
                let ideal = 2.0 * PI * omega * omega * bowl.gaps.get() / theta.tan()
                    * (r_2.powi(3) - r_1.powi(3))
                    / (3.0 * GRAVITY);
                Some(ideal * reached(bowl.sigma_reached))
            }
            _ => None,
        }
    }

    fn curve(&self, rises: bool) -> Curve {
        let SeparatingStage::TubularCentrifuge(bowl) = &self.stage else { return Curve::Straight };
        let ln_k = (bowl.surface_radius.get() / bowl.bowl_radius.get()).ln();
        if rises { Curve::Inwards(ln_k) } else { Curve::Outwards(ln_k) }
    }

    /// The greatest acceleration in a centrifuge against that of gravity.
    pub(super) fn times_gravity(&self) -> Option<f64> {
        let (speed, radius) = match &self.stage {
            SeparatingStage::TubularCentrifuge(bowl) => (bowl.speed, bowl.bowl_radius),
            SeparatingStage::DiscCentrifuge(bowl) => (bowl.speed, bowl.outer_radius),
            _ => return None,
        };
        let omega = speed.get() * 2.0 * PI / 60.0;
        Some(omega * omega * radius.get() * METRES_PER_MILLIMETRE / GRAVITY)
    }
}

impl SettlingTank {
    /// Surface of the fluid, m².
    pub(super) fn area(&self) -> f64 {
        self.length.get() * self.width.get() * METRES_PER_MILLIMETRE.powi(2)
    }

    /// How fast the fluid flows along it, m/s, at `q` m³/s.
    pub(super) fn flow(&self, q: f64) -> Option<f64> {
        let section = |depth: f64| self.width.get() * depth * METRES_PER_MILLIMETRE.powi(2);
        self.depth.map(|depth| q / section(depth.get()))
    }
}

/// The turbulence factor, and the ratio of flow to rise that it comes from.
fn turbulence(
    tank: &SettlingTank,
    q: f64,
    suspension: Suspension,
    at: &str,
) -> Result<(f64, Option<f64>), Refusal> {
    if let Some(factor) = tank.turbulence_factor {
        return Ok((factor.get(), None));
    }
    let practice = tank.turbulence == Some(Turbulence::SeparatorPractice);
    let rise = suspension.velocity(oil_separator::DESIGN_DROP).filter(|rise| *rise > 0.0);
    let (true, Some(flow), Some(rise)) = (practice, tank.flow(q), rise) else {
        return Ok((1.0, None));
    };
    let flow_to_rise = flow / rise;
    let factor = oil_separator::turbulence_factor(flow_to_rise).ok_or_else(|| {
        let detail = "The fluid flows along the tank {} times as fast as what is {} large rises \
                      or sinks in it, and the published practice ends at {} times. Lower the \
                      throughput, give a wider or deeper tank, or give a turbulence factor that \
                      is known of this tank.";
        let detail = Sentence::new(detail)
            .with(Measure::of(Ratio::ROW, flow_to_rise))
            .with(Measure::of(ParticleSize::ROW, oil_separator::DESIGN_DROP * 1e6))
            .with(Measure::of(Ratio::ROW, oil_separator::FLOW_TO_RISE.1));
        Refusal::new(Kind::OutOfRange, format!("{at}/stage/turbulence"), detail)
    })?;
    Ok((factor, Some(flow_to_rise)))
}

fn moved(
    suspension: Suspension,
    needed: f64,
    with_drag: bool,
    curve: Curve,
    at: &str,
) -> Result<Grade, Refusal> {
    if suspension.floats() {
        return Ok(Grade::Flat(0.0));
    }
    let mut moved = Moved { suspension, with_drag, needed, all_from: f64::INFINITY, curve };
    moved.all_from = moved.size(needed).ok_or_else(|| {
        let detail = "At a surface loading of {} even the largest pieces that the drag law \
                      covers would be carried along. Lower the throughput, or check the \
                      sizes of the tank.";
        let loading = Measure::of(SurfaceLoading::ROW, needed * SECONDS_PER_HOUR);
        let detail = Sentence::new(detail).with(loading);
        Refusal::new(Kind::OutOfRange, format!("{at}/density"), detail)
    })?;
    Ok(Grade::Moved(moved))
}
