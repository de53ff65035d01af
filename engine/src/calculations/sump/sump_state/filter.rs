//! The estimate, its covariance, and what a stretch, an event and a reading do to them.

use crate::dynamics::stretch::{CourseRates, HeldFluid, Stretch, flow};
use crate::numerics::small_square::{FewNumbers, SmallSquare, dot};
use smallvec::smallvec;

/// Places in the estimate: volume, evaporation, carry-off, evaporation at rest, concentrate, and
/// from here on what else is followed.
pub(super) const VOLUME: usize = 0;
pub(super) const EVAPORATION: usize = 1;
pub(super) const CARRY_OFF: usize = 2;
pub(super) const STANDING: usize = 3;
pub(super) const CONCENTRATE: usize = 4;
pub(super) const MATTER: usize = 5;

/// An estimate and its covariance.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Belief {
    pub(super) x: FewNumbers,
    pub(super) p: SmallSquare,
}

/// A reading against what the estimate makes of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Innovation {
    /// What was read.
    pub(super) value: f64,
    /// What was read less what was to be read.
    pub(super) off: f64,
    /// The same in its own standard uncertainties.
    pub(super) z: f64,
}

/// How the losses wander, and what leaves with what is carried off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Wandering {
    /// Share of the loss in 30 days.
    pub(super) drift: f64,
    pub(super) depletion: f64,
}

impl Belief {
    /// Nothing known of so many things.
    pub(super) fn nothing(places: usize) -> Self {
        Self { x: smallvec![0.0; places], p: SmallSquare::zeros(places) }
    }

    /// The standard uncertainty of one place.
    pub(super) fn u(&self, place: usize) -> f64 {
        self.p[(place, place)].max(0.0).sqrt()
    }

    /// What a litre holds of a content, with its standard uncertainty, and its slope by each place.
    pub(super) fn per_litre(&self, place: usize) -> (f64, f64, FewNumbers) {
        let (v, amount) = (self.x[VOLUME], self.x[place]);
        let mut h: FewNumbers = smallvec![0.0; self.x.len()];
        h[VOLUME] = -amount / (v * v);
        h[place] = 1.0 / v;
        let variance = dot(&self.p.row_times(&h), &h);
        (amount / v, variance.max(0.0).sqrt(), h)
    }

    /// Equations 1, 2 and 4; none where the sump would run dry.
    pub(super) fn through(
        &self,
        stretch: Stretch,
        wandering: Wandering,
    ) -> Option<(Self, SmallSquare)> {
        let n = self.x.len();
        let (e, d, s) = (self.x[EVAPORATION], self.x[CARRY_OFF], self.x[STANDING]);
        let mut f = SmallSquare::identity(n);
        let mut x = self.x.clone();
        for place in CONCENTRATE..n {
            let k = if place == CONCENTRATE { wandering.depletion } else { 1.0 };
            let rates = CourseRates { loss: e + d, clearance: k * d, ingress: 0.0, standing: s };
            let from = HeldFluid { v: self.x[VOLUME], c: self.x[place] };
            let leads = flow(from, rates, stretch)?;
            (x[VOLUME], x[place]) = (leads.to.v, leads.to.c);
            f[(place, VOLUME)] = leads.c_by_v;
            f[(place, place)] = leads.c_by_c;
            f[(place, EVAPORATION)] = leads.by_loss[1];
            f[(place, CARRY_OFF)] = leads.by_loss[1] + k * leads.c_by_clearance;
            f[(place, STANDING)] = leads.by_standing[1];
        }
        f[(VOLUME, EVAPORATION)] = -stretch.worked;
        f[(VOLUME, CARRY_OFF)] = -stretch.worked;
        f[(VOLUME, STANDING)] = -stretch.stood;
        let mut p = f.around(&self.p);
        let per_day = wandering.drift * wandering.drift / 30.0 * stretch.days;
        p[(EVAPORATION, EVAPORATION)] += per_day * (e + d) * (e + d);
        p[(CARRY_OFF, CARRY_OFF)] += per_day * (e + d) * (e + d);
        p[(STANDING, STANDING)] += per_day * s * s;
        p.even_out();
        Some((Self { x, p }, f))
    }

    /// Takes a reading of the volume.
    pub(super) fn read_volume(&mut self, volume: f64, u: f64) -> Innovation {
        let mut h: FewNumbers = smallvec![0.0; self.x.len()];
        h[VOLUME] = 1.0;
        self.read((volume, self.x[VOLUME]), &h, u, VOLUME)
    }

    /// Takes a reading of what a litre holds.
    pub(super) fn read_per_litre(&mut self, place: usize, value: f64, u: f64) -> Innovation {
        let (expected, _, h) = self.per_litre(place);
        self.read((value, expected), &h, u, place)
    }

    /// Equation 6. What is farther off than chance goes is an unwritten step at `place`, of which
    /// nothing was known before.
    fn read(
        &mut self,
        (value, expected): (f64, f64),
        h: &[f64],
        u: f64,
        place: usize,
    ) -> Innovation {
        let off = value - expected;
        let s = dot(h, &self.p.times(h)) + u * u;
        let z = if s > 0.0 { off / s.sqrt() } else { 0.0 };
        if z.abs() > STEP {
            // As unsure as what was seen makes it, and the reading decides.
            self.p[(place, place)] += (off * off - s) / (h[place] * h[place]) * STEP_WEIGHT;
        }
        let ph = self.p.times(h);
        let s = dot(h, &ph) + u * u;
        if s > 0.0 {
            self.x.iter_mut().zip(&ph).for_each(|(x, ph)| *x += ph * (off / s));
            self.p.change(|a, b, p| p - ph[a] * ph[b] / s);
            self.p.even_out();
        }
        Innovation { value, off, z }
    }
}

/// A reading off by more than so many standard uncertainties is no chance: one in 16,000.
pub(super) const STEP: f64 = 4.0;
/// How many times the square of what was seen an unwritten step may have been.
const STEP_WEIGHT: f64 = 10.0;
