//! What would keep every limit at once: less of what the water brings, or more
//! fluid discharged.
//!
//! With either, where a property ends is a limit that is kept on one side of a
//! single value of the remedy (equations 5 and 6 of the calculation), so that all
//! limits together leave a range of it, or none, and then two of them that conflict. Oil against
//! which there may be a skimmer is that one's affair (equation 8), and the rest is the others'.

use super::Remedies;
use super::rates::{Followed, MakeUpRates};
use crate::dynamics::BandSide;
use crate::fluid::properties::{TRAMP_OIL, spoken};
use crate::quantity::{
    Concentration, Content, DailyRate, Measure, Quantity, Row, Share, Throughput,
};
use crate::sentence;
use crate::text::{Finding, Refusal, Sentence};

/// A value this near to its limit, as a share of it, keeps to it.
const ROUNDING: f64 = 1e-9;

/// Hours of a day, all of which a skimmer is taken to run.
const HOURS_PER_DAY: f64 = 24.0;

/// A limit of a property.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Limit<'a> {
    property: &'a Followed,
    side: BandSide,
    at: f64,
}

/// What of a remedy keeps every limit: from the least of it to the most.
#[derive(Debug)]
struct Range<'a> {
    least: (f64, Option<Limit<'a>>),
    most: (f64, Option<Limit<'a>>),
    /// A limit that no amount of it keeps.
    never: Option<Limit<'a>>,
}

/// What would keep all limits, and which conflict where nothing does.
pub(super) struct FoundRemedies {
    pub(super) remedies: Option<Remedies>,
    /// The limits that exclude each other.
    pub(super) conflicts: Vec<Finding>,
}

pub(super) fn remedies(
    followed: &[Followed],
    rates: &MakeUpRates,
) -> Result<FoundRemedies, Refusal> {
    if followed.iter().all(|property| property.too_much(rates).is_none()) {
        return Ok(FoundRemedies { remedies: None, conflicts: Vec::new() });
    }
    let skimmer = skimmer(followed, rates);
    let hourly = skimmer.map(|a_day| Throughput::of(a_day / HOURS_PER_DAY));
    let mut remedies = Remedies {
        skimmer: skimmer.map(DailyRate::of).transpose()?,
        skimmer_per_hour: hourly.transpose()?,
        ..Remedies::default()
    };
    let is_left = |property: &&Followed| skimmer.is_none() || !property.is_oil();
    let left: Vec<&Followed> = followed.iter().filter(is_left).collect();
    if left.iter().all(|property| property.too_much(rates).is_none()) {
        return Ok(FoundRemedies { remedies: Some(remedies), conflicts: Vec::new() });
    }
    let limits: Vec<Limit<'_>> = left.into_iter().flat_map(limits).collect();
    let mut shares = Range::between(0.0, 1.0);
    let mut discharges = Range::between(rates.b, DailyRate::ROW.most);
    for limit in &limits {
        shares.keep(*limit, limit.by_share(rates));
        discharges.keep(*limit, limit.by_discharge(rates));
    }
    let (share, b) = (shares.least_that_does(), discharges.least_that_does());
    let daily = b.map(|b| MakeUpRates { b, ..*rates }.daily());
    remedies.deionised_share = share.map(Share::of_fraction).transpose()?;
    remedies.discharge = b.map(DailyRate::of).transpose()?;
    remedies.daily_with_discharge = daily.transpose()?;
    let mut conflicts = Vec::new();
    if share.is_none() {
        conflicts.extend(shares.conflict(
            "deionised water",
            Share::measure_of_fraction,
            b.is_none(),
        ));
    }
    if b.is_none() {
        conflicts.extend(discharges.conflict(
            "draining off",
            DailyRate::measure_of,
            share.is_none(),
        ));
    }
    Ok(FoundRemedies { remedies: Some(remedies), conflicts })
}

/// Litres a day that a skimmer has to free of oil, in all, for oil that leaks in to end on its most,
/// equation 8; none where it keeps to it, or no skimmer does.
fn skimmer(followed: &[Followed], rates: &MakeUpRates) -> Option<f64> {
    let oil = followed.iter().find(|property| property.is_oil())?;
    let most = oil.too_much(rates).filter(|most| rates.l > 0.0 && *most > 0.0)?;
    let freed = rates.comes(oil) / most - rates.out();
    Some(freed).filter(|freed| *freed > 0.0 && *freed <= DailyRate::ROW.most)
}

fn limits(property: &Followed) -> impl Iterator<Item = Limit<'_>> {
    let least = property.least.map(|at| Limit { property, side: BandSide::Below, at });
    let most = property.most.map(|at| Limit { property, side: BandSide::Above, at });
    least.into_iter().chain(most)
}

impl Limit<'_> {
    /// a·x ≤ b for a share x of deionised water that keeps the limit.
    fn by_share(&self, rates: &MakeUpRates) -> (f64, f64) {
        let Followed { s_w, s_i, s_k, own, .. } = *self.property;
        let (m, concentrate) = (rates.volume(), rates.concentrate());
        // Concentrate whose content is not known goes with the water.
        let (water, by_concentrate) =
            if own { (m - concentrate, concentrate * s_k) } else { (m, 0.0) };
        let slope = water * (s_i - s_w);
        let (freed, leaks) = (rates.freed(self.property), rates.leaks(self.property));
        self.turned(slope, self.at * freed - leaks - water * s_w - by_concentrate)
    }

    /// The same for a discharge x in a day.
    fn by_discharge(&self, rates: &MakeUpRates) -> (f64, f64) {
        let MakeUpRates { c, e, d, k, .. } = *rates;
        let Followed { s_w, s_k, .. } = *self.property;
        let by_concentrate = s_k - s_w;
        let slope = s_w + c * by_concentrate - self.at;
        let (skims, leaks) = (rates.skims(self.property), rates.leaks(self.property));
        let rest = self.at * (d + skims) - leaks - (e + d) * s_w - k * d * c * by_concentrate;
        self.turned(slope, rest)
    }

    fn turned(&self, slope: f64, rest: f64) -> (f64, f64) {
        match self.side {
            BandSide::Above => (slope, rest),
            BandSide::Below => (-slope, -rest),
        }
    }

    fn row(&self) -> &'static Row {
        if self.property.name == TRAMP_OIL { Concentration::ROW } else { Content::ROW }
    }

    /// "hardness at most 300 mg/L".
    fn words(&self) -> Sentence {
        let (name, at) =
            (spoken(&self.property.name), Measure::of(self.row(), self.property.shown(self.at)));
        match self.side {
            BandSide::Above => sentence!("{} at most {}", name, at),
            BandSide::Below => sentence!("{} at least {}", name, at),
        }
    }

    fn pointer(&self) -> String {
        let end = if self.side == BandSide::Above { "max" } else { "min" };
        format!("/limits/{}/{end}", self.property.name)
    }
}

impl<'a> Range<'a> {
    fn between(least: f64, most: f64) -> Self {
        Self { least: (least, None), most: (most, None), never: None }
    }

    /// Narrows it to what keeps a limit, where slope·x ≤ rest.
    fn keep(&mut self, limit: Limit<'a>, (slope, rest): (f64, f64)) {
        let at = rest / slope;
        if slope > 0.0 && at < self.most.0 {
            self.most = (at, Some(limit));
        } else if slope < 0.0 && at > self.least.0 {
            self.least = (at, Some(limit));
        } else if slope == 0.0 && rest < -ROUNDING * limit.at {
            self.never = Some(limit);
        }
    }

    fn least_that_does(&self) -> Option<f64> {
        let (least, most) = (self.least.0, self.most.0);
        let does = self.never.is_none() && least <= most + ROUNDING * most.abs().max(1.0);
        does.then(|| least.min(most).max(0.0))
    }

    /// Which limits keep it from being a remedy.
    fn conflict(
        &self,
        remedy: &'static str,
        measure: impl Fn(f64) -> Measure,
        nothing_does: bool,
    ) -> Option<Finding> {
        let (text, pointer) = match (self.never, self.least.1, self.most.1) {
            (Some(never), ..) => {
                let text = sentence!(
                    "No amount of {} keeps {}: it makes no difference to it.",
                    remedy,
                    never.words()
                );
                (text, never.pointer())
            }
            (None, Some(low), Some(high)) => {
                let text = sentence!(
                    "No amount of {} keeps both limits: {} needs {} or more, and {} allows {} or \
                     less.",
                    remedy,
                    low.words(),
                    measure(self.least.0).rounded(4),
                    high.words(),
                    measure(self.most.0.max(0.0)).rounded(4)
                );
                (text, high.pointer())
            }
            (None, Some(low), None) => {
                let text = sentence!(
                    "Even the greatest possible amount of {} does not keep {}.",
                    remedy,
                    low.words()
                );
                (text, low.pointer())
            }
            (None, None, Some(high)) => {
                let text = sentence!(
                    "No amount of {} keeps {}: without any, the sump is past it already.",
                    remedy,
                    high.words()
                );
                (text, high.pointer())
            }
            (None, None, None) => return None,
        };
        Some(if nothing_does {
            Finding::act("limits-conflict", pointer, text)
        } else {
            Finding::watch("limits-conflict", pointer, text)
        })
    }
}
