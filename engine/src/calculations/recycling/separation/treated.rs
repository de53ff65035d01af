//! What a pass, or a tank that goes round, leaves of each property.

use super::answer::{
    CarrierProperties, InflowSettling, SeparatedProperty, SeparationAnswer, SinksOrRises,
    SizeQuantiles,
};
use super::distribution::{Points, SizeDistribution};
use super::grading::{Graded, PASCAL_SECONDS, PER_CUBIC_METRE};
use super::question::SeparatingStage;
use super::streams::Streams;
use super::{RemovedShares, Separation};
use crate::fluid::properties::TRAMP_OIL;
use crate::handbook::conversions::{
    CUBIC_METRES_PER_SECOND, KILOGRAMS_PER_MILLIGRAM, METRES_PER_MICROMETRE,
    MILLIGRAMS_PER_KILOGRAM, SECONDS_PER_HOUR,
};
use crate::numerics::phi::{phi_1, phi_2};
use crate::quantity::{
    Area, Concentration, Content, Density, Hours, Multiple, ParticleSize, Quantity, Ratio, Share,
    SurfaceLoading, Velocity, Viscosity,
};
use crate::text::Refusal;

/// What becomes of one property.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Treated<'a> {
    pub(super) graded: Graded<'a>,
    points: Points,
    /// What one pass takes out, 0 to 1.
    pub(super) removed: f64,
    /// What is left of what was there, and what is taken out of it, each
    /// integrated by itself.
    pub(super) there: (f64, f64),
    /// The same of what came in.
    pub(super) came_in: (f64, f64),
    /// What comes in, kg/h.
    pub(super) rate: f64,
    /// How much of what came in each size still weighs, against what was there.
    came_in_to_there: f64,
}

/// What is left of what came in evenly during y turnovers, and what is gone of it.
fn left_of_inflow(y: f64) -> (f64, f64) {
    (phi_1(-y), y * phi_2(-y))
}

impl Separation {
    /// Turnovers of the tank, where it goes round.
    pub(super) fn turnovers(&self) -> Option<f64> {
        let volume = self.feed.as_ref()?.volume.get();
        Some(self.throughput.get() * self.recirculation.as_ref()?.hours.get() / volume)
    }

    pub(super) fn treated(&self) -> Result<Vec<Treated<'_>>, Refusal> {
        let graded = self.separator.graded(self.throughput, "/throughput", "/separator")?;
        Ok(graded.into_iter().map(|graded| self.treat(graded)).collect())
    }

    fn treat<'a>(&self, graded: Graded<'a>) -> Treated<'a> {
        let recirculation = self.recirculation.as_ref();
        let inflows = recirculation.and_then(|r| r.inflows.as_deref()).unwrap_or_default();
        let own = inflows.iter().find(|inflow| inflow.property == graded.particles.property);
        let rate = own.map_or(0.0, |inflow| inflow.rate.get());
        let points = graded.points(rate > 0.0);
        let turnovers = self.turnovers();
        let (mut there, mut came_in, mut removed) = ((0.0, 0.0), (0.0, 0.0), 0.0);
        for (d, w) in &points.all {
            let g = graded.grade.share(*d);
            removed += w * g;
            let (left, out) = match turnovers {
                None => (1.0 - g, g),
                Some(n) => ((-g * n).exp(), -(-g * n).exp_m1()),
            };
            there = (there.0 + w * left, there.1 + w * out);
            let (left, out) = left_of_inflow(g * turnovers.unwrap_or_default());
            came_in = (came_in.0 + w * left, came_in.1 + w * out);
        }
        let hours = recirculation.map_or(0.0, |r| r.hours.get());
        let before = self.kilograms(&graded);
        let came_in_to_there = if rate == 0.0 {
            0.0
        } else if before > 0.0 {
            rate * hours / before
        } else {
            f64::INFINITY
        };
        Treated { graded, points, removed, there, came_in, rate, came_in_to_there }
    }

    /// How much of a property the feed carries, kg; 1 where nobody says.
    fn kilograms(&self, graded: &Graded<'_>) -> f64 {
        let Some(feed) = &self.feed else { return 1.0 };
        let name = &graded.particles.property;
        if name == TRAMP_OIL {
            let oil = feed.properties.tramp_oil.map_or(0.0, Concentration::fraction);
            let density = graded.particles.density.map_or(1.0, Quantity::get);
            return feed.volume.get() * oil * density;
        }
        let content =
            feed.properties.matter.get(name.as_str()).map_or(0.0, |content| content.get());
        feed.volume.get() * content * KILOGRAMS_PER_MILLIGRAM
    }

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

impl Treated<'_> {
    /// The share taken out by the end, of what was there and what came in.
    fn removed_in_the_end(&self) -> f64 {
        if self.came_in_to_there.is_finite() {
            (self.there.1 + self.came_in_to_there * self.came_in.1) / (1.0 + self.came_in_to_there)
        } else {
            self.came_in.1
        }
    }
}

fn percent(share: f64) -> Result<Share, Refusal> {
    Ok(Share::of_fraction(share.clamp(0.0, 1.0))?)
}
