//! The figures of a stage that its grades follow from.

use super::grade::{Curve, Grade};
use super::grading::{PASCAL_SECONDS, PER_CUBIC_METRE};
use super::question::{SeparatingStage, Separator, SettlingTank, SizeGrade};
use crate::handbook::conversions::{METRES_PER_MICROMETRE, METRES_PER_MILLIMETRE};
use crate::handbook::sphere::GRAVITY;
use crate::handbook::water;
use crate::quantity::{Quantity, Share, Temperature};
use crate::sentence;
use crate::text::{Kind, Refusal};
use std::f64::consts::PI;

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

impl Separator {
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
            let detail = sentence!(
                "Density and viscosity of water are known from {} to {}. Give both of the fluid's \
                 own, or a temperature between.",
                Temperature::measure_of(low),
                Temperature::measure_of(high)
            );
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

    pub(super) fn given_grade(&self) -> Grade {
        let Some(grades) = self.grades() else {
            return Grade::Flat(self.efficiency().map_or(0.0, Share::fraction));
        };
        let point = |grade: &SizeGrade| {
            ((grade.size.get() * METRES_PER_MICROMETRE).ln(), grade.share.fraction())
        };
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
        let rejection = listed.map_or(1.0, |r| r.share.fraction());
        (rejection - 1.0) * membrane.volume_concentration_factor.get().ln()
    }

    /// The settling surface (m²) that a centrifuge is worth, by the share of it that the
    /// machine reaches.
    pub(super) fn sigma(&self) -> Option<f64> {
        let reached = |share: Option<Share>| share.map_or(1.0, Share::fraction);
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

    pub(super) fn curve(&self, rises: bool) -> Curve {
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
