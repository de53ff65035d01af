//! What is lost and made up in a day.

use super::{DailyMakeUp, MakeUp};
use crate::fluid::properties::{Properties, PropertyName, TRAMP_OIL};
use crate::fluid::stock::property_names;
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
}

/// A property, in mg/L or in % of tramp oil.
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

    /// What the make-up brings of a property in a day, a.
    pub(super) fn brought(&self, property: &Followed) -> f64 {
        let (m, concentrate) = (self.volume(), self.concentrate());
        m * property.s_w + concentrate * (property.s_k - property.s_w)
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

/// How much of `name` there is in `properties`, where they say so.
pub(super) fn carried(name: &str, properties: &Properties) -> Option<f64> {
    if name == TRAMP_OIL {
        properties.tramp_oil.map(Quantity::get)
    } else {
        properties.matter.get(name).map(|content| content.get())
    }
}

impl MakeUp {
    pub(super) fn rates(&self) -> MakeUpRates {
        MakeUpRates {
            v: self.sump.volume.get(),
            c: self.sump.concentration.fraction(),
            e: self.losses.evaporation.get(),
            d: self.losses.carry_off.get(),
            k: self.losses.depletion(),
            b: self.discharge.map_or(0.0, Quantity::get),
        }
    }

    /// The names of all that the question speaks of, limits aside, tramp oil first.
    pub(super) fn names(&self) -> Vec<PropertyName> {
        let water = [&self.water, &self.deionised].into_iter().flatten();
        let mut carried: Vec<&Properties> = water.map(|water| &water.properties).collect();
        carried.push(&self.sump.properties);
        carried.extend(self.concentrate.as_ref().map(|concentrate| &concentrate.properties));
        let mut names: BTreeSet<&str> = carried.into_iter().flat_map(property_names).collect();
        let oil = names.take(TRAMP_OIL);
        oil.into_iter().chain(names).map(PropertyName::from).collect()
    }

    /// Every property, tramp oil first.
    pub(super) fn followed(&self, rates: &MakeUpRates) -> Vec<Followed> {
        self.names().iter().map(|name| self.follow(name, rates)).collect()
    }

    fn follow(&self, name: &str, rates: &MakeUpRates) -> Followed {
        let of = |properties: Option<&Properties>| {
            properties.and_then(|properties| carried(name, properties))
        };
        let s_w = of(self.water.as_ref().map(|water| &water.properties)).unwrap_or(0.0);
        let own = of(self.concentrate.as_ref().map(|concentrate| &concentrate.properties));
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
            s_i: of(self.deionised.as_ref().map(|water| &water.properties)).unwrap_or(0.0),
            least,
            most,
            name: name.to_owned(),
        };
        let m = rates.volume();
        let fresh = if m > 0.0 { rates.brought(&followed) / m } else { s_w };
        followed.s_0 = of(Some(&self.sump.properties)).unwrap_or(fresh);
        followed
    }
}

fn number<Q: Quantity>(given: Option<Q>) -> Option<f64> {
    given.map(Quantity::get)
}
