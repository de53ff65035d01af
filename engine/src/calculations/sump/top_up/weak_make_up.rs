//! Make-up that brings fluid back that is too rich, while the machine works.
//!
//! With V the sump (L), E and W what evaporates and is carried off in a day (L), k
//! the depletion ratio, c₁ its strength now, c_h the strongest it may be and c_m the
//! make-up's (% by volume), the level held:
//!
//! 1. it settles at c_∞ = c_m·(E + W)/(k·W)
//! 2. it comes back only with c_m < c_h·k·W/(E + W)
//! 3. and is back after t = V/(k·W)·ln((c₁ − c_∞)/(c_h − c_∞)) days
//!
//! Source: the concentrate balance of a sump that is fed as it loses, as in
//! `make-up` and `forecast`.

use super::answer::WeakMakeUp;
use crate::fluid::loss_rates::LossRates;
use crate::quantity::{Concentration, Days, Quantity};
use crate::text::Refusal;

/// What the sump holds after the top-up, and what it may.
pub(super) struct TooRich {
    pub(super) volume: f64,
    pub(super) c_1: f64,
    pub(super) c_h: f64,
}

impl TooRich {
    /// The make-up of `weakest` % by volume that brings it back.
    pub(super) fn make_up(
        &self,
        weakest: f64,
        losses: Option<&LossRates>,
    ) -> Result<WeakMakeUp, Refusal> {
        let concentration = Concentration::of(weakest)?;
        let Some(losses) = losses else {
            return Ok(WeakMakeUp { concentration, at_most: None, back_in_days: None });
        };
        let (e, w) = (losses.evaporates(), losses.carried_off());
        let k_w = losses.depletion() * w;
        if e + w <= 0.0 {
            return Ok(WeakMakeUp { concentration, at_most: None, back_in_days: None });
        }
        let at_most = Concentration::of((self.c_h * k_w / (e + w)).min(self.c_h))?;
        Ok(WeakMakeUp {
            concentration,
            at_most: Some(at_most),
            back_in_days: self.days(weakest, e + w, k_w).map(Days::of).transpose()?,
        })
    }

    /// After how many days it is back; none where it never is.
    fn days(&self, c_m: f64, fed: f64, k_w: f64) -> Option<f64> {
        if k_w <= 0.0 {
            return None;
        }
        let settles = c_m * fed / k_w;
        if settles >= self.c_h {
            return None;
        }
        let days = self.volume / k_w * ((self.c_1 - settles) / (self.c_h - settles)).ln();
        // Further off than anybody plans is never.
        const PLANNED: f64 = 36_500.0;
        Some(days.max(0.0)).filter(|days| *days <= PLANNED)
    }
}
