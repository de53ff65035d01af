//! A sump between two clean-outs, in closed form.
//!
//! At constant level a sump of V litres that takes up m of something in a day
//! and loses d litres of fluid in a day follows V·ds/dt = m − d·s, so with
//! λ = d/V and the functions φ₁ and φ₂ of [`phi`](crate::numerics::phi):
//!
//! 1. after t days: s = s₀·e^(−λt) + (m/V)·t·φ₁(−λt)
//! 2. on average over T days: s₀·φ₁(−λT) + (m/V)·T·φ₂(−λT)
//!
//! Both hold at d = 0 as they stand, since φ₁(0) = 1 and φ₂(0) = ½.

use super::shop::LoopGroup;
use crate::numerics::phi::{phi_1, phi_2};

/// A sump's life from refill to clean-out as a straight line: what it ends with
/// is `alpha` times what it starts with, and `beta` for each unit taken up in a
/// day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Cycle {
    /// e^(−λT).
    pub(super) alpha: f64,
    /// Content at the end for each unit taken up in a day, 1/(L/day).
    pub(super) beta: f64,
    /// The share of the sump that stays at a clean-out.
    pub(super) eta: f64,
    /// What is drained from the whole group in a day, L.
    pub(super) drained: f64,
    /// What of a litre of refill is still there at the end, residue on residue
    /// counted in.
    pub(super) gamma: f64,
    /// Content at the end for each unit taken up in a day, the same counted in.
    pub(super) own: f64,
}

impl Cycle {
    /// The life of a group's sumps when every interval is `life` times as long.
    pub(super) fn of(group: &LoopGroup, life: f64) -> Self {
        let (v, d) = (group.v, group.d);
        let Some(days) = group.t else {
            // Never drained: what counts is where it ends.
            let beta = 1.0 / d;
            return Self { alpha: 0.0, beta, eta: 0.0, drained: 0.0, gamma: 0.0, own: beta };
        };
        let t = days * life;
        let x = -d / v * t;
        let (alpha, beta) = (x.exp(), t * phi_1(x) / v);
        let eta = group.h / v;
        let again = 1.0 - alpha * eta;
        Self {
            alpha,
            beta,
            eta,
            drained: group.n * (v - group.h) / t,
            gamma: alpha * (1.0 - eta) / again,
            own: beta / again,
        }
    }

    /// What a sump has after its refill, from what it had before and the content
    /// of the refill.
    pub(super) fn refilled(&self, before: f64, refill: f64) -> f64 {
        self.eta * before + (1.0 - self.eta) * refill
    }
}

/// What a sump carries on average over its life, as a straight line in what it
/// starts with and what it takes up in a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LifeAverage {
    start: f64,
    taken: f64,
}

impl LifeAverage {
    /// Over the life that was asked for.
    pub(super) fn over(group: &LoopGroup) -> Self {
        let Some(t) = group.t else {
            return Self { start: 0.0, taken: 1.0 / group.d };
        };
        let x = -group.d / group.v * t;
        Self { start: phi_1(x), taken: t * phi_2(x) / group.v }
    }

    /// The average of a sump that starts with `start` and takes up `m` in a day.
    pub(super) fn of(&self, start: f64, m: f64) -> f64 {
        self.start * start + self.taken * m
    }
}
