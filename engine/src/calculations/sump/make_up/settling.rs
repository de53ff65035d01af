//! Where each property ends, and when it passes its limit.

use super::answer::{ContentSettling, OilSettling, PropertySettlings};
use super::rates::{Followed, MakeUpRates};
use crate::dynamics::BandSide;
use crate::dynamics::pace::{Constituent, Pace};
use crate::fluid::properties::TRAMP_OIL;
use crate::quantity::{Days, Quantity};
use crate::text::Refusal;

/// A value this near to its limit, as a share of it, keeps to it.
const ON_THE_LIMIT: f64 = 1e-9;

impl Followed {
    pub(super) fn course(&self, rates: &MakeUpRates) -> (Constituent, Pace) {
        let course = Constituent { x_0: self.s_0, a: rates.comes(self), kappa: rates.freed(self) };
        (course, Pace { w_0: if self.is_oil() { rates.w } else { rates.v }, r: 0.0 })
    }

    /// What it comes to in the end, if it has one.
    pub(super) fn settles_at(&self, rates: &MakeUpRates) -> Option<f64> {
        let (a, out) = (rates.comes(self), rates.freed(self));
        match (out > 0.0, a > 0.0) {
            (true, _) => Some(a / out),
            (false, true) => None,
            (false, false) => Some(self.s_0),
        }
    }

    /// The first day past a limit, and on which side.
    fn passes(&self, rates: &MakeUpRates) -> Option<(f64, BandSide)> {
        let past = |s: f64| {
            let above = self.most.filter(|most| s > most * (1.0 + ON_THE_LIMIT));
            let below = self.least.filter(|least| s < least * (1.0 - ON_THE_LIMIT));
            above.map(|at| (at, BandSide::Above)).or(below.map(|at| (at, BandSide::Below)))
        };
        if let Some((_, side)) = past(self.s_0) {
            return Some((0.0, side));
        }
        let (limit, side) = past(self.settles_at(rates).unwrap_or(f64::INFINITY))?;
        let (course, pace) = self.course(rates);
        // What is on the very limit passes it at once.
        let tau = course.when(pace, limit).unwrap_or(0.0);
        Some((pace.days(tau) * rates.days, side))
    }

    /// The limit that it comes to pass, if no remedy is found.
    pub(super) fn too_much(&self, rates: &MakeUpRates) -> Option<f64> {
        let end = self.settles_at(rates).unwrap_or(f64::INFINITY);
        self.most.filter(|most| end > most * (1.0 + ON_THE_LIMIT))
    }
}

/// Where a property starts and ends, and when and on which side it passes its limits.
type Settled<Q> = (Q, Option<Q>, Option<Days>, Option<BandSide>);

fn settled<Q: Quantity>(property: &Followed, rates: &MakeUpRates) -> Result<Settled<Q>, Refusal> {
    let end = property.settles_at(rates).and_then(|end| Q::of(property.shown(end)).ok());
    let passes = property.passes(rates);
    let passes = passes.and_then(|(day, side)| Some((Days::of(day).ok()?, side)));
    let (day, side) = passes.unzip();
    Ok((Q::of(property.shown(property.s_0))?, end, day, side))
}

pub(super) fn settlings(
    followed: &[Followed],
    rates: &MakeUpRates,
) -> Result<PropertySettlings, Refusal> {
    let mut settlings = PropertySettlings::default();
    for property in followed {
        if property.name == TRAMP_OIL {
            let (starts_at, settles_at, passes_limit_day, passes) = settled(property, rates)?;
            let oil = OilSettling { starts_at, settles_at, passes_limit_day, passes };
            settlings.tramp_oil = Some(oil);
        } else {
            let (starts_at, settles_at, passes_limit_day, passes) = settled(property, rates)?;
            let matter = ContentSettling { starts_at, settles_at, passes_limit_day, passes };
            settlings.matter.insert(property.name.as_str().into(), matter);
        }
    }
    Ok(settlings)
}
