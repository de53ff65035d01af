//! Where each property ends, when it passes its limit, and what would help.

use super::rates::{Followed, Rates};
use super::{Remedies, Settlings, content, days};
use crate::course::Side;
use crate::course::pace::{Content as Course, Pace};
use crate::properties::{ByProperty, TRAMP_OIL};
use crate::quantity::{Concentration, Content, DailyRate, Days, Quantity, Share};
use crate::refusal::Refusal;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// Where tramp oil that comes with the make-up ends.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct OilSettling {
    /// What the sump carries at first.
    pub starts_at: Concentration,
    /// What it comes to; absent where it has no end.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub settles_at: Option<Concentration>,
    /// When it passes its limit; absent when it does not, or not within a million
    /// days. 0 where it is past it already.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub passes_limit_day: Option<Days>,
    /// On which side of its limits it passes.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub passes: Option<Side>,
    /// The share of the water that would have to be deionised to keep it under
    /// its limit; absent where that is not needed or not enough.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub deionised_share: Option<Share>,
    /// What would have to be discharged in a day, in all, to keep it under its
    /// limit; absent where that is not needed or not enough.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub discharge: Option<DailyRate>,
}

/// Where something dissolved ends.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ContentSettling {
    /// What the sump carries at first.
    pub starts_at: Content,
    /// What it comes to; absent where it has no end, because nothing is carried
    /// off, or would be more than a litre can hold.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub settles_at: Option<Content>,
    /// When it passes its limit; absent when it does not, or not within a million
    /// days. 0 where it is past it already.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub passes_limit_day: Option<Days>,
    /// On which side of its limits it passes.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub passes: Option<Side>,
    /// The share of the water that would have to be deionised to keep it under
    /// its limit; absent where that is not needed or not enough.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub deionised_share: Option<Share>,
    /// What would have to be discharged in a day, in all, to keep it under its
    /// limit; absent where that is not needed or not enough.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub discharge: Option<DailyRate>,
}

/// A value this near to its limit, as a share of it, keeps to it.
const ON_THE_LIMIT: f64 = 1e-9;

impl Followed {
    pub(super) fn course(&self, rates: &Rates) -> (Course, Pace) {
        let course = Course { x_0: self.s_0, a: rates.brought(self), kappa: rates.out() };
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
    fn passes(&self, rates: &Rates) -> Option<(f64, Side)> {
        let past = |s: f64| {
            let above = self.most.filter(|most| s > most * (1.0 + ON_THE_LIMIT));
            let below = self.least.filter(|least| s < least * (1.0 - ON_THE_LIMIT));
            above.map(|at| (at, Side::Above)).or(below.map(|at| (at, Side::Below)))
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
    fn too_much(&self, rates: &Rates) -> Option<f64> {
        let end = self.settles_at(rates).unwrap_or(f64::INFINITY);
        self.most.filter(|most| end > most * (1.0 + ON_THE_LIMIT))
    }

    /// The share of the water to be deionised, 0 to 1, to end at `most`.
    fn deionised_share(&self, rates: &Rates, most: f64) -> Option<f64> {
        let (m, concentrate, out) = (rates.volume(), rates.concentrate(), rates.out());
        let wanted = if self.own {
            (most * out - concentrate * self.s_k) / (m - concentrate)
        } else {
            most * out / m
        };
        let share = (self.s_w - wanted) / (self.s_w - self.s_i);
        (self.s_w > self.s_i && share <= 1.0).then_some(share)
    }

    /// What to discharge in a day, in all, to end at `most`.
    fn discharge(&self, rates: &Rates, most: f64) -> Option<f64> {
        let Rates { c, e, d, k, .. } = rates;
        let by_concentrate = self.s_k - self.s_w;
        let room = most - self.s_w - c * by_concentrate;
        let b = ((e + d) * self.s_w + k * d * c * by_concentrate - most * d) / room;
        (room > 0.0 && b <= DailyRate::ROW.most).then_some(b)
    }
}

pub(super) fn properties(followed: &[Followed], rates: &Rates) -> Result<Settlings, Refusal> {
    let mut settling = ByProperty { tramp_oil: None, matter: BTreeMap::new() };
    for property in followed {
        let end = property.settles_at(rates);
        let passes = property.passes(rates).and_then(|(day, side)| Some((days(day)?, side)));
        let (passes_limit_day, passes) = passes.unzip();
        let most = property.too_much(rates);
        let share = most.and_then(|most| property.deionised_share(rates, most));
        let deionised_share = share.map(|share| Share::of(share * 100.0)).transpose()?;
        let discharge = most.and_then(|most| property.discharge(rates, most));
        let discharge = discharge.map(DailyRate::of).transpose()?;
        if property.name == TRAMP_OIL {
            settling.tramp_oil = Some(OilSettling {
                starts_at: Concentration::of(property.s_0)?,
                settles_at: end.and_then(|end| Concentration::of(end).ok()),
                passes_limit_day,
                passes,
                deionised_share,
                discharge,
            });
        } else {
            let settled = ContentSettling {
                starts_at: Content::of(property.s_0)?,
                settles_at: end.and_then(content),
                passes_limit_day,
                passes,
                deionised_share,
                discharge,
            };
            settling.matter.insert(property.name.as_str().into(), settled);
        }
    }
    Ok(settling)
}

/// What serves every property that comes to be too much.
pub(super) fn remedies(followed: &[Followed], rates: &Rates) -> Result<Option<Remedies>, Refusal> {
    let too_much: Vec<(&Followed, f64)> = followed
        .iter()
        .filter_map(|property| Some((property, property.too_much(rates)?)))
        .collect();
    if too_much.is_empty() {
        return Ok(None);
    }
    let greatest = |remedy: &dyn Fn(&Followed, f64) -> Option<f64>| {
        too_much.iter().try_fold(0.0, |greatest: f64, (property, most)| {
            Some(greatest.max(remedy(property, *most)?))
        })
    };
    let share = greatest(&|property, most| property.deionised_share(rates, most));
    let b = greatest(&|property, most| property.discharge(rates, most));
    let daily = b.map(|b| Rates { b, ..*rates }.daily());
    Ok(Some(Remedies {
        deionised_share: share.map(|share| Share::of(share * 100.0)).transpose()?,
        discharge: b.map(DailyRate::of).transpose()?,
        daily_with_discharge: daily.transpose()?,
    }))
}
