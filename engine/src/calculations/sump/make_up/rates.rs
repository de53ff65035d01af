//! What is lost and made up in a day.

use super::{DailyMakeUp, MakeUp};
use crate::fluid::properties::{Properties, PropertyName, TRAMP_OIL};
use crate::fluid::supply::MakeUpWater;
use crate::handbook::conversions::DAYS_PER_YEAR;
use crate::quantity::{DailyRate, Quantity};
use crate::text::Refusal;
use std::collections::BTreeSet;

/// The rates of the equations, L/day, and the sump they hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct MakeUpRates {
    /// The sump, L.
    pub(super) v: f64,
    /// The share of concentrate to hold, 0 to 1.
    pub(super) c: f64,
    /// Evaporation.
    pub(super) e: f64,
    /// Carry-off.
    pub(super) d: f64,
    /// Depletion ratio.
    pub(super) k: f64,
    /// Discharge.
    pub(super) b: f64,
    /// Oil that leaks in.
    pub(super) l: f64,
    /// Fluid that a skimmer frees of its oil.
    pub(super) q: f64,
    /// The sump without the oil in it, L.
    pub(super) w: f64,
    /// How many days there are to a day of work: 1 where all are alike.
    pub(super) days: f64,
}

/// A property, in mg/L; tramp oil in litres to a hundred litres of the rest.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Followed {
    pub(super) name: String,
    /// What the sump carries at first.
    pub(super) s_0: f64,
    /// What the water carries.
    pub(super) s_w: f64,
    /// What the concentrate carries.
    pub(super) s_k: f64,
    /// Whether the concentrate's own content is known; it goes with the water's
    /// otherwise.
    pub(super) own: bool,
    /// What deionised water carries.
    pub(super) s_i: f64,
    pub(super) least: Option<f64>,
    pub(super) most: Option<f64>,
}

impl MakeUpRates {
    /// The make-up, m.
    pub(super) fn volume(&self) -> f64 {
        self.e + self.d + self.b
    }

    /// The concentrate in it, K.
    pub(super) fn concentrate(&self) -> f64 {
        (self.k * self.d + self.b) * self.c
    }

    /// What leaves with what is dissolved in it.
    pub(super) fn out(&self) -> f64 {
        self.d + self.b
    }

    /// What the make-up brings of a property in a day.
    pub(super) fn brought(&self, property: &Followed) -> f64 {
        let (m, concentrate) = (self.volume(), self.concentrate());
        m * property.s_w + concentrate * (property.s_k - property.s_w)
    }

    /// All that comes of a property in a day, a.
    pub(super) fn comes(&self, property: &Followed) -> f64 {
        self.brought(property) + self.leaks(property)
    }

    /// What leaks in of it besides the make-up.
    pub(super) fn leaks(&self, property: &Followed) -> f64 {
        if property.is_oil() { 100.0 * self.l } else { 0.0 }
    }

    /// How many litres a day are freed of it.
    pub(super) fn freed(&self, property: &Followed) -> f64 {
        self.out() + self.skims(property)
    }

    /// How many of them by a skimmer.
    pub(super) fn skims(&self, property: &Followed) -> f64 {
        if property.is_oil() { self.q } else { 0.0 }
    }

    pub(super) fn daily(&self) -> Result<DailyMakeUp, Refusal> {
        let (m, concentrate) = (self.volume(), self.concentrate());
        Ok(DailyMakeUp {
            volume: DailyRate::of(m)?,
            concentrate: DailyRate::of(concentrate)?,
            water: DailyRate::of((m - concentrate).max(0.0))?,
        })
    }
}

/// What is all oil has no rest; a billionth of one stands for none.
const ALL_OIL: f64 = 100.0 * (1.0 - 1e-9);

/// Litres of oil to a hundred litres of the rest, at so many per cent of the whole.
pub(super) fn to_the_rest(share: f64) -> f64 {
    let share = share.min(ALL_OIL);
    share / (1.0 - share / 100.0)
}

/// Per cent of the whole, at so many litres of oil to a hundred litres of the rest.
pub(super) fn of_the_whole(parts: f64) -> f64 {
    parts / (1.0 + parts / 100.0)
}

impl Followed {
    pub(super) fn is_oil(&self) -> bool {
        self.name == TRAMP_OIL
    }

    /// A value of it as it crosses the wire.
    pub(super) fn shown(&self, value: f64) -> f64 {
        if self.is_oil() { of_the_whole(value) } else { value }
    }
}

/// How much of `name` there is in `properties`, where they say so.
pub(super) fn carried(name: &str, properties: &Properties) -> Option<f64> {
    if name == TRAMP_OIL {
        properties.tramp_oil.map(Quantity::get)
    } else {
        properties.matter.get(name).map(|content| content.get())
    }
}

impl MakeUp {
    /// The rates of a day of work, to which what evaporates until the next is counted.
    pub(super) fn rates(&self) -> MakeUpRates {
        let days = self.days_to_one_of_work().unwrap_or(1.0);
        let at_rest = (days - 1.0) * self.standing.map_or(0.0, Quantity::get);
        let (v, oil) = (self.sump.volume.get(), self.oil.unwrap_or_default());
        let share = self.sump.properties.tramp_oil.map_or(0.0, |share| share.get().min(ALL_OIL));
        MakeUpRates {
            v,
            l: oil.leaks(),
            q: oil.skims(),
            w: v - v * share / 100.0,
            c: self.sump.concentration.fraction(),
            e: self.losses.evaporates() + at_rest,
            days,
            d: self.losses.carried_off(),
            k: self.losses.depletion(),
            b: self.discharge.map_or(0.0, Quantity::get),
        }
    }

    /// How many days there are to a day of work, over the year from day 0; none where that has no
    /// day of work, or nobody says when the shop works.
    pub(super) fn days_to_one_of_work(&self) -> Option<f64> {
        let worked = self.calendar.as_ref()?.worked_between(0.0, DAYS_PER_YEAR)?;
        (worked > 0.0).then_some(DAYS_PER_YEAR / worked)
    }

    /// The names of all that the question speaks of, limits aside, tramp oil first.
    pub(super) fn names(&self) -> Vec<PropertyName> {
        let water = [&self.water, &self.deionised].into_iter().flatten();
        let mut names: BTreeSet<&str> = water.flat_map(MakeUpWater::names).collect();
        names.extend(self.sump.properties.names());
        names.extend(self.concentrate.iter().flat_map(|own| own.properties.names()));
        let oil = names.take(TRAMP_OIL).or_else(|| self.oil.map(|_| TRAMP_OIL));
        oil.into_iter().chain(names).map(PropertyName::from).collect()
    }

    /// Every property, tramp oil first.
    pub(super) fn followed(&self, rates: &MakeUpRates) -> Vec<Followed> {
        self.names().iter().map(|name| self.follow(name, rates)).collect()
    }

    fn follow(&self, name: &str, rates: &MakeUpRates) -> Followed {
        let turned = |value: f64| if name == TRAMP_OIL { to_the_rest(value) } else { value };
        let of = |properties: &Properties| carried(name, properties).map(turned);
        let water = |water: &MakeUpWater| of(&water.carries());
        let s_w = self.water.as_ref().and_then(water).unwrap_or(0.0);
        let own = self.concentrate.as_ref().and_then(|concentrate| of(&concentrate.properties));
        // No oil comes with neat concentrate.
        let own = if name == TRAMP_OIL { Some(0.0) } else { own };
        let (least, most) = if name == TRAMP_OIL {
            let limit = self.limits.tramp_oil.as_ref();
            (number(limit.and_then(|l| l.min)), number(limit.and_then(|l| l.max)))
        } else {
            let limit = self.limits.matter.get(name);
            (number(limit.and_then(|l| l.min)), number(limit.and_then(|l| l.max)))
        };
        let mut followed = Followed {
            s_0: 0.0,
            s_w,
            s_k: own.unwrap_or(s_w),
            own: own.is_some(),
            s_i: self.deionised.as_ref().and_then(water).unwrap_or(0.0),
            least: least.map(turned),
            most: most.map(turned),
            name: name.to_owned(),
        };
        let m = rates.volume();
        let fresh = if m > 0.0 { rates.brought(&followed) / m } else { s_w };
        followed.s_0 = of(&self.sump.properties).unwrap_or(fresh);
        followed
    }
}

fn number<Q: Quantity>(given: Option<Q>) -> Option<f64> {
    given.map(Quantity::get)
}
