//! What a pass, or a tank that goes round, leaves of each property.

use super::Separation;
use super::distribution::Points;
use super::grading::Graded;
use crate::fluid::properties::TRAMP_OIL;
use crate::handbook::conversions::KILOGRAMS_PER_MILLIGRAM;
use crate::numerics::phi::{phi_1, phi_2};
use crate::quantity::{Concentration, Quantity};
use crate::text::Refusal;

/// What becomes of one property.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Treated<'a> {
    pub(super) graded: Graded<'a>,
    pub(super) points: Points,
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
    pub(super) came_in_to_there: f64,
}

/// What is left of what came in evenly during y turnovers, and what is gone of it.
pub(super) fn left_of_inflow(y: f64) -> (f64, f64) {
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
}

impl Treated<'_> {
    /// The share taken out by the end, of what was there and what came in.
    pub(super) fn removed_in_the_end(&self) -> f64 {
        if self.came_in_to_there.is_finite() {
            (self.there.1 + self.came_in_to_there * self.came_in.1) / (1.0 + self.came_in_to_there)
        } else {
            self.came_in.1
        }
    }
}
