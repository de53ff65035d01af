//! Where each property ends, and when it passes its limit.

use super::rates::{Followed, Rates};
use super::{Settlings, content, days};
use crate::dynamics::BandSide;
use crate::dynamics::pace::{Constituent, Pace};
use crate::fluid::properties::{ByProperty, TRAMP_OIL};
use crate::quantity::{Concentration, Content, Days, Quantity};
use crate::text::Refusal;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// Where tramp oil that comes with the make-up ends.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct OilSettling {
    /// What the sump carries at first.
    pub starts_at: Concentration,
    /// What it comes to; absent where it has no end.
    pub settles_at: Option<Concentration>,
    /// When it passes its limit; absent when it does not, or not within a million
    /// days. 0 where it is past it already.
    pub passes_limit_day: Option<Days>,
    /// On which side of its limits it passes.
    pub passes: Option<BandSide>,
}

/// Where something dissolved ends.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ContentSettling {
    /// What the sump carries at first.
    pub starts_at: Content,
    /// What it comes to; absent where it has no end, because nothing is carried
    /// off, or would be more than a litre can hold.
    pub settles_at: Option<Content>,
    /// When it passes its limit; absent when it does not, or not within a million
    /// days. 0 where it is past it already.
    pub passes_limit_day: Option<Days>,
    /// On which side of its limits it passes.
    pub passes: Option<BandSide>,
}

/// A value this near to its limit, as a share of it, keeps to it.
const ON_THE_LIMIT: f64 = 1e-9;

impl Followed {
    pub(super) fn course(&self, rates: &Rates) -> (Constituent, Pace) {
        let course = Constituent { x_0: self.s_0, a: rates.brought(self), kappa: rates.out() };
        (course, Pace { w_0: rates.v, r: 0.0 })
    }

    /// What it comes to in the end, if it has one.
    pub(super) fn settles_at(&self, rates: &Rates) -> Option<f64> {
        let (a, out) = (rates.brought(self), rates.out());
        match (out > 0.0, a > 0.0) {
            (true, _) => Some(a / out),
            (false, true) => None,
            (false, false) => Some(self.s_0),
        }
    }

    /// The first day past a limit, and on which side.
    fn passes(&self, rates: &Rates) -> Option<(f64, BandSide)> {
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
        Some((pace.days(tau), side))
    }

    /// The limit that it comes to pass, if no remedy is found.
    pub(super) fn too_much(&self, rates: &Rates) -> Option<f64> {
        let end = self.settles_at(rates).unwrap_or(f64::INFINITY);
        self.most.filter(|most| end > most * (1.0 + ON_THE_LIMIT))
    }
}

pub(super) fn properties(followed: &[Followed], rates: &Rates) -> Result<Settlings, Refusal> {
    let mut settling = ByProperty { tramp_oil: None, matter: BTreeMap::new() };
    for property in followed {
        let end = property.settles_at(rates);
        let passes = property.passes(rates).and_then(|(day, side)| Some((days(day)?, side)));
        let (passes_limit_day, passes) = passes.unzip();
        if property.name == TRAMP_OIL {
            settling.tramp_oil = Some(OilSettling {
                starts_at: Concentration::of(property.s_0)?,
                settles_at: end.and_then(|end| Concentration::of(end).ok()),
                passes_limit_day,
                passes,
            });
        } else {
            let settled = ContentSettling {
                starts_at: Content::of(property.s_0)?,
                settles_at: end.and_then(content),
                passes_limit_day,
                passes,
            };
            settling.matter.insert(property.name.as_str().into(), settled);
        }
    }
    Ok(settling)
}
