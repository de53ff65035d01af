//! The ends of bands, and when a sump crosses them.

use super::amounts::Amounts;
use super::segment::Segment;
use crate::numerics::root;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What is watched.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Watched {
    /// The concentration.
    Concentration,
    /// The volume.
    Volume,
    /// The share of tramp oil.
    TrampOil,
    /// One of the things that are followed.
    Matter(usize),
}

/// The side of its band on which something is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum BandSide {
    /// Below the least it may be.
    Below,
    /// Above the most it may be.
    Above,
}

/// One end of a band.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// What is watched.
    pub what: Watched,
    /// The side that is out.
    pub side: BandSide,
    /// Where it lies: L, mg/L, or a share from 0 to 1.
    pub at: f64,
    /// Which crossing it is out by.
    out: Option<usize>,
}

/// Something leaves its band.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeCrossing {
    /// What.
    pub what: Watched,
    /// On which side.
    pub side: BandSide,
    /// When.
    pub day: f64,
    /// When it comes back, if it does.
    pub back: Option<f64>,
}

/// As far beyond its edge as this, as a share of it, is on the edge.
const ON_THE_EDGE: f64 = 1e-9;

impl Edge {
    /// An end of a band that nobody has crossed yet.
    #[must_use]
    pub const fn new(what: Watched, side: BandSide, at: f64) -> Self {
        Self { what, side, at, out: None }
    }

    fn outward(&self, over: f64) -> f64 {
        match self.side {
            BandSide::Above => over,
            BandSide::Below => -over,
        }
    }

    /// How far beyond the edge a sump is.
    fn beyond(&self, sump: &Amounts) -> f64 {
        let value = match self.what {
            Watched::Concentration => sump.per_volume(sump.concentrate),
            Watched::Volume => sump.volume(),
            Watched::TrampOil => sump.per_volume(sump.oil),
            Watched::Matter(i) => sump.per_volume(sump.matter[i]),
        };
        self.outward(value - self.at)
    }

    /// The same within a segment, as a function with at most one turn; for what
    /// is a share of the volume it is counted by the litre of water-mix fluid,
    /// where that is a sum of two exponentials.
    fn beyond_at(&self, segment: &Segment, tau: f64) -> f64 {
        let pace = segment.pace;
        let oil = || segment.oil.at(pace, tau);
        let over = match self.what {
            Watched::Volume => segment.volume(tau) - self.at,
            Watched::TrampOil => oil() * (1.0 - self.at) - self.at,
            Watched::Concentration => segment.concentrate.at(pace, tau) - self.at * (1.0 + oil()),
            Watched::Matter(i) => segment.matter[i].at(pace, tau) - self.at * (1.0 + oil()),
        };
        self.outward(over)
    }

    /// The τ at which [`beyond_at`](Self::beyond_at) turns, if ever.
    fn turns(&self, segment: &Segment) -> Option<f64> {
        let content = match self.what {
            Watched::Volume => return segment.volume_turns(),
            Watched::TrampOil => return None,
            Watched::Concentration => &segment.concentrate,
            Watched::Matter(i) => &segment.matter[i],
        };
        // p·e^(−λτ) + q·e^(−λ_o·τ) = 0; the rise r in both λ drops out.
        let p = content.slope(segment.pace);
        let q = -self.at * segment.oil.slope(segment.pace);
        let apart = content.kappa - segment.oil.kappa;
        (p * q < 0.0 && apart != 0.0).then(|| (-p / q).ln() / apart)
    }

    /// Notes what a change at a stroke has done.
    pub fn jump(&mut self, sump: &Amounts, day: f64, crossings: &mut Vec<EdgeCrossing>) {
        let beyond = self.beyond(sump);
        match self.out {
            None if beyond > ON_THE_EDGE * self.at => self.leaves(day, crossings),
            Some(_) if beyond <= 0.0 => self.comes_back(day, crossings),
            _ => {}
        }
    }

    /// Notes what happens from `day` on, up to `end` in τ, where the sump is
    /// `after`.
    pub fn follow(
        &mut self,
        segment: &Segment,
        (end, after): (f64, &Amounts),
        day: f64,
        crossings: &mut Vec<EdgeCrossing>,
    ) {
        let turn = self.turns(segment).filter(|turn| *turn > 0.0 && *turn < end);
        let turn = turn.map(|turn| (turn, self.beyond_at(segment, turn)));
        let mut from = 0.0;
        for (to, beyond) in turn.into_iter().chain([(end, self.beyond(after))]) {
            let leaves = self.out.is_none() && beyond > ON_THE_EDGE * self.at;
            if leaves || (self.out.is_some() && beyond <= 0.0) {
                let tau = root::between(|tau| self.beyond_at(segment, tau), from, to);
                let when = day + segment.pace.days(tau);
                if leaves {
                    self.leaves(when, crossings);
                } else {
                    self.comes_back(when, crossings);
                }
            }
            from = to;
        }
    }

    fn leaves(&mut self, day: f64, crossings: &mut Vec<EdgeCrossing>) {
        self.out = Some(crossings.len());
        crossings.push(EdgeCrossing { what: self.what, side: self.side, day, back: None });
    }

    fn comes_back(&mut self, day: f64, crossings: &mut [EdgeCrossing]) {
        if let Some(crossing) = self.out.take().and_then(|i| crossings.get_mut(i)) {
            crossing.back = Some(day);
        }
    }
}
