//! The answer: what is taken out of each property and what is left of it.

use super::answer::{
    CarrierProperties, InflowSettling, SeparatedProperty, SeparationAnswer, SinksOrRises,
    SizeQuantiles,
};
use super::distribution::SizeDistribution;
use super::grading::{PASCAL_SECONDS, PER_CUBIC_METRE};
use super::question::SeparatingStage;
use super::streams::Streams;
use super::treated::{Treated, left_of_inflow};
use super::{RemovedShares, Separation};
use crate::fluid::properties::TRAMP_OIL;
use crate::handbook::conversions::{
    CUBIC_METRES_PER_SECOND, METRES_PER_MICROMETRE, MILLIGRAMS_PER_KILOGRAM, SECONDS_PER_HOUR,
};
use crate::quantity::{
    Area, Concentration, Content, Density, Hours, Multiple, ParticleSize, Quantity, Ratio, Share,
    SurfaceLoading, Velocity, Viscosity,
};
use crate::text::Refusal;

impl Separation {
    pub(super) fn answer(
        &self,
        treated: &[Treated<'_>],
        streams: Option<&Streams>,
    ) -> Result<SeparationAnswer, Refusal> {
        let (rho, mu) = self.separator.carrier("/separator")?;
        let q = self.throughput.get() * CUBIC_METRES_PER_SECOND;
        let mut removed = RemovedShares::default();
        for property in treated {
            let share = percent(property.removed)?;
            let name = &property.graded.particles.property;
            if name == TRAMP_OIL {
                removed.tramp_oil = Some(share);
            } else {
                removed.matter.insert(name.into(), share);
            }
        }
        let tank = match &self.separator.stage {
            SeparatingStage::Settling(tank) => Some(tank),
            _ => None,
        };
        let loading = tank.map(|tank| SurfaceLoading::of(q / tank.area() * SECONDS_PER_HOUR));
        let flow = tank.and_then(|tank| tank.flow(q));
        let parts = streams.map(Streams::parts).transpose()?;
        let (cleaned, retentate, taken_out) = parts.unwrap_or_default();
        Ok(SeparationAnswer {
            removed,
            separated: treated.iter().map(|t| self.separated(t)).collect::<Result<_, _>>()?,
            fluid: CarrierProperties {
                density: Density::of(rho / PER_CUBIC_METRE)?,
                viscosity: Viscosity::of(mu / PASCAL_SECONDS)?,
            },
            surface_loading: loading.transpose()?,
            horizontal_velocity: flow.map(|v| Velocity::of(v * SECONDS_PER_HOUR)).transpose()?,
            sigma: self.separator.sigma().map(Area::of).transpose()?,
            times_gravity: self.separator.times_gravity().map(Ratio::of).transpose()?,
            turnovers: self.turnovers().map(Ratio::of).transpose()?,
            cleaned,
            retentate,
            taken_out,
        })
    }

    fn separated(&self, treated: &Treated<'_>) -> Result<SeparatedProperty, Refusal> {
        let graded = &treated.graded;
        let direction = graded.suspension.map(|suspension| {
            if suspension.floats() {
                SinksOrRises::Stays
            } else if suspension.rises() {
                SinksOrRises::Rises
            } else {
                SinksOrRises::Sinks
            }
        });
        let median = graded.distribution.as_ref().map(SizeDistribution::median);
        let moving = graded.suspension.zip(median);
        let velocity = moving.and_then(|(suspension, d)| suspension.velocity(d));
        let reynolds = moving.zip(velocity).map(|((suspension, d), v)| suspension.reynolds(d, v));
        let size = |d: f64| ParticleSize::of(d / METRES_PER_MICROMETRE);
        let factor = graded.turbulence_factor.map(Multiple::of).transpose()?;
        let in_the_end = self.turnovers().map(|_| percent(treated.removed_in_the_end()));
        Ok(SeparatedProperty {
            property: graded.particles.property.clone(),
            removed: percent(treated.removed)?,
            removed_in_the_end: in_the_end.transpose()?,
            direction,
            velocity: velocity.map(|v| Velocity::of(v * SECONDS_PER_HOUR)).transpose()?,
            reynolds: reynolds.map(Ratio::of).transpose()?,
            turbulence_factor: factor,
            flow_to_rise: graded.flow_to_rise.map(Ratio::of).transpose()?,
            // A cut beyond every size that there is is no cut to speak of.
            half_from: graded.grade.half_from().and_then(|d| size(d).ok()),
            all_from: graded.grade.all_from().and_then(|d| size(d).ok()),
            left: self.left(treated).and_then(|[d10, d50, d90]| {
                let [d10, d50, d90] = [size(d10).ok()?, size(d50).ok()?, size(d90).ok()?];
                Some(SizeQuantiles { d10, d50, d90 })
            }),
            settles_at: self.settles_at(treated),
        })
    }

    /// The sizes (m) of what is left: a tenth, half and nine tenths are smaller.
    fn left(&self, treated: &Treated<'_>) -> Option<[f64; 3]> {
        let graded = &treated.graded;
        let distribution = graded.distribution.as_ref()?;
        let n = self.turnovers();
        let weigh = |d: f64| {
            let g = graded.grade.share(d);
            let Some(n) = n else { return 1.0 - g };
            let (of_there, of_inflow) = ((-g * n).exp(), left_of_inflow(g * n).0);
            if treated.came_in_to_there.is_finite() {
                of_there + treated.came_in_to_there * of_inflow
            } else {
                of_inflow
            }
        };
        distribution.quantiles(&treated.points, [0.1, 0.5, 0.9], weigh)
    }

    fn settles_at(&self, treated: &Treated<'_>) -> Option<InflowSettling> {
        let volume = self.feed.as_ref()?.volume.get();
        if treated.rate == 0.0 || self.recirculation.is_none() {
            return None;
        }
        let grade = &treated.graded.grade;
        let slow: f64 = treated.points.all.iter().map(|(d, w)| w / grade.share(*d)).sum();
        let hours = volume / self.throughput.get() * slow;
        // kg over L.
        let settled = treated.rate * hours / volume;
        let particles = treated.graded.particles;
        let is_oil = particles.property == TRAMP_OIL;
        let oil = particles.density.filter(|_| is_oil).map(|density| settled / density.get());
        let concentration = oil.and_then(|share| Concentration::of_fraction(share).ok());
        let content =
            (!is_oil).then(|| Content::of(settled * MILLIGRAMS_PER_KILOGRAM).ok()).flatten();
        if concentration.is_none() && content.is_none() {
            return None;
        }
        let time_constant_hours = Hours::of(hours).ok()?;
        Some(InflowSettling { content, concentration, time_constant_hours })
    }
}

fn percent(share: f64) -> Result<Share, Refusal> {
    Ok(Share::of_fraction(share.clamp(0.0, 1.0))?)
}
