//! A question as numbers: every group, rate and content by the symbol of its
//! equation, with properties by their place in one list.

use super::{FluidLoop, RecycledUse, SumpGroup};
use crate::fluid::hardness::{self, carried};
use crate::fluid::properties::{ByProperty, Properties, PropertyName, TRAMP_OIL};
use crate::fluid::sheet::{self, KeptLimits};
use crate::handbook::conversions::DAYS_PER_MONTH;
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::{Concentration, Content, Quantity, Share};
use crate::text::Refusal;
use std::collections::{BTreeMap, BTreeSet};

/// The place of tramp oil among the properties: a share of the volume, 0 to 1.
/// All others are mg/L.
pub(super) const OIL: usize = 0;

/// A group of sumps.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct LoopGroup {
    /// How many.
    pub(super) n: f64,
    /// Volume of each, L.
    pub(super) v: f64,
    /// What stays in each at a clean-out, L.
    pub(super) h: f64,
    /// Whole days between two clean-outs; none where there are none.
    pub(super) t: Option<f64>,
    /// Strength, 0 to 1.
    pub(super) c: f64,
    /// Water lost to the air by each, L/day.
    pub(super) e: f64,
    /// Fluid carried off from each, L/day.
    pub(super) d: f64,
    /// Concentrate carried off from each and made up, L/day: k·d·c.
    pub(super) m_c: f64,
    /// Everything else that is made up, L/day: e + d − l − m_c.
    pub(super) m_w: f64,
    /// Oil that comes into each and stays in the fluid, L/day.
    pub(super) l: f64,
    /// Whether what is drained goes to the recycler.
    pub(super) returns: bool,
    /// Whether refills take what it gives, and whether make-up does.
    pub(super) refills: bool,
    pub(super) tops_up: bool,
}

/// The whole shop.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct LoopShop {
    pub(super) groups: Vec<LoopGroup>,
    group_names: Vec<String>,
    /// The names of what is followed besides oil, in the order of their places
    /// from 1 on.
    pub(super) names: Vec<PropertyName>,
    /// Whether oil is followed.
    pub(super) oil: bool,
    /// By property and group: what one sump picks up in a day (L or mg).
    gains: Vec<Vec<f64>>,
    /// By property: what concentrate, water and deionised water carry.
    pub(super) f_c: Vec<f64>,
    pub(super) f_tap: Vec<f64>,
    pub(super) f_deionised: Vec<f64>,
    /// The share of deionised water asked for, 0 to 1.
    pub(super) deionised: f64,
    /// By property: what share of it the recycler takes out, 0 to 1.
    pub(super) r: Vec<f64>,
    /// What share of the concentrate it takes out.
    pub(super) r_c: f64,
    /// What share of what it is fed leaves with oil and sludge, as it is.
    pub(super) lost: f64,
    /// Whether there is one.
    pub(super) recycles: bool,
    /// What share of the dirty tank's fluid goes through it.
    pub(super) fed: f64,
    /// What share of what it gives is discarded.
    pub(super) purge: f64,
    /// By property: the least and the most, in its own unit.
    pub(super) limits: Vec<(Option<f64>, Option<f64>)>,
    /// By property: where the least and the most stand in the request.
    pub(super) limit_places: Vec<[String; 2]>,
    /// Density of concentrate and of oil, kg/L.
    pub(super) rho_c: f64,
    pub(super) rho_o: f64,
}

impl LoopShop {
    pub(super) fn of(question: &FluidLoop) -> Self {
        let followed = question.followed();
        let names: Vec<PropertyName> = followed
            .iter()
            .copied()
            .filter(|name| *name != TRAMP_OIL)
            .map(PropertyName::from)
            .collect();
        let by_place = |properties: &Properties| {
            let oil = properties.tramp_oil.map_or(0.0, Concentration::fraction);
            let content =
                |name: &PropertyName| properties.matter.get(name).map_or(0.0, |c| c.get());
            std::iter::once(oil).chain(names.iter().map(content)).collect::<Vec<f64>>()
        };
        let recycler = question.recycler.as_ref();
        let none = ByProperty::default();
        let removes = recycler.map_or(&none, |recycler| &recycler.removes);
        let removed = |name: &PropertyName| removes.matter.get(name).map_or(0.0, |r| r.fraction());
        let oil_removed = removes.tramp_oil.map_or(0.0, Share::fraction);
        let deionised = question.water.deionised.as_ref();
        let concentrate = question.concentrate.as_ref();
        let kept = question.kept();
        let oil_limit = kept.limits.tramp_oil.map_or((None, None), |limit| {
            (limit.min.map(Concentration::fraction), limit.max.map(Concentration::fraction))
        });
        let limit = |name: &PropertyName| {
            let limit = kept.of(name);
            limit.map_or((None, None), |l| (l.min.map(Quantity::get), l.max.map(Quantity::get)))
        };
        let groups: Vec<LoopGroup> = question.groups.iter().map(LoopGroup::of).collect();
        let mut gains = vec![groups.iter().map(|group| group.l).collect()];
        gains.resize(1 + names.len(), vec![0.0; groups.len()]);
        for (g, group) in question.groups.iter().enumerate() {
            // Both are in the order of their names.
            let mut places = (OIL + 1..).zip(&names);
            for (name, gain) in &group.gains.matter {
                let place = places.find(|(_, followed)| *followed == name);
                let rise = gain.rise.map_or(0.0, |rise| rise.get() * group.volume.get());
                if let Some((p, _)) = place {
                    gains[p][g] = gain.amount.map_or(0.0, Quantity::get) + rise;
                }
            }
        }
        Self {
            gains,
            f_c: by_place(concentrate.map_or(&Properties::default(), |c| &c.properties)),
            f_tap: by_place(&carried(&question.water.properties, question.water.hardness)),
            f_deionised: deionised.map_or_else(
                || by_place(&Properties::default()),
                |pure| by_place(&carried(&pure.properties, pure.hardness)),
            ),
            deionised: deionised.map_or(0.0, |d| d.share.fraction()),
            r: std::iter::once(oil_removed).chain(names.iter().map(removed)).collect(),
            r_c: recycler.and_then(|r| r.removes_concentrate).map_or(0.0, Share::fraction),
            lost: recycler.map_or(0.0, |r| r.lost.fraction()),
            fed: recycler.map_or(0.0, |r| r.share.map_or(1.0, Share::fraction)),
            purge: question.purge.map_or(0.0, Share::fraction),
            limit_places: std::iter::once(TRAMP_OIL)
                .chain(names.iter().map(PropertyName::as_str))
                .map(|name| [kept.pointer(name, false), kept.pointer(name, true)])
                .collect(),
            limits: std::iter::once(oil_limit).chain(names.iter().map(limit)).collect(),
            rho_c: concentrate.and_then(|c| c.density).map_or(DENSITY_AT_20_CELSIUS, Quantity::get),
            rho_o: question.oil_density.map_or(DENSITY_AT_20_CELSIUS, Quantity::get),
            recycles: recycler.is_some(),
            oil: followed.contains(TRAMP_OIL),
            group_names: question.groups.iter().map(|group| group.name.to_string()).collect(),
            names,
            groups,
        }
    }

    /// What the shop calls a group.
    pub(super) fn group_name(&self, g: usize) -> &str {
        &self.group_names[g]
    }

    /// Whether any property has a limit.
    pub(super) fn has_limits(&self) -> bool {
        self.limits.iter().any(|(min, max)| min.is_some() || max.is_some())
    }

    /// How many properties there are, oil included.
    pub(super) fn properties(&self) -> usize {
        self.names.len() + 1
    }

    /// A property's name on the wire.
    pub(super) fn name(&self, p: usize) -> &str {
        if p == OIL { TRAMP_OIL } else { &self.names[p - 1] }
    }

    /// What the water carries when so much of it is deionised, by property.
    pub(super) fn f_w(&self, deionised: f64) -> Vec<f64> {
        let both = self.f_tap.iter().zip(&self.f_deionised);
        both.map(|(tap, pure)| tap * (1.0 - deionised) + pure * deionised).collect()
    }

    /// What one sump of group `g` picks up of property `p` from the work alone.
    pub(super) fn gain(&self, p: usize, g: usize) -> f64 {
        self.gains[p][g]
    }

    /// What the question says a fluid carries of a property, or else what fresh
    /// fluid of strength `c` carries.
    pub(super) fn carries(&self, p: usize, given: Option<&Properties>, c: f64, f_w: &[f64]) -> f64 {
        let fresh = self.f_c[p] * c + f_w[p] * (1.0 - c);
        let named = |given: &Properties| match p {
            OIL => Some(given.tramp_oil.map_or(0.0, Concentration::fraction)),
            p => given.matter.get(self.name(p)).map(|content| content.get()),
        };
        given.and_then(named).unwrap_or(fresh)
    }

    /// Contents by place as properties by name.
    pub(super) fn named(&self, contents: &[f64]) -> Result<Properties, Refusal> {
        let oil = self.oil.then(|| Concentration::of_fraction(contents[OIL])).transpose()?;
        let mut matter = BTreeMap::new();
        for (name, s) in self.names.iter().zip(&contents[1..]) {
            matter.insert(name.clone(), Content::of(*s)?);
        }
        Ok(ByProperty { tramp_oil: oil, matter })
    }

    /// One content as a property by name.
    pub(super) fn one(&self, p: usize, content: f64) -> Result<Properties, Refusal> {
        let mut properties = Properties::default();
        if p == OIL {
            properties.tramp_oil = Some(Concentration::of_fraction(content)?);
        } else {
            properties.matter.insert(self.name(p).into(), Content::of(content)?);
        }
        Ok(properties)
    }
}

impl LoopGroup {
    fn of(group: &SumpGroup) -> Self {
        let (e, d) = (group.losses.evaporates(), group.losses.carried_off());
        let c = group.concentration.fraction();
        let l = group.oil_gained();
        let m_c = group.losses.depletion() * d * c;
        let uses = group.takes_recycled.unwrap_or(RecycledUse::Refills);
        Self {
            n: group.count.map_or(1.0, Quantity::get),
            v: group.volume.get(),
            h: group.residue(),
            t: group.interval().map(|days| days.round().max(1.0)),
            c,
            e,
            d,
            m_c,
            m_w: e + d - l - m_c,
            l,
            returns: group.returns.unwrap_or(true),
            refills: uses != RecycledUse::Nothing,
            tops_up: uses == RecycledUse::RefillsAndMakeUp,
        }
    }
}

impl SumpGroup {
    /// Days between two clean-outs, as the question says it.
    pub(super) fn interval(&self) -> Option<f64> {
        let clean_out = self.clean_out.as_ref()?;
        let months = clean_out.every_months.map(|months| months.get() * DAYS_PER_MONTH);
        clean_out.every_days.map(Quantity::get).or(months)
    }

    /// Tramp oil that comes into a sump and stays in it, L/day.
    pub(super) fn oil_gained(&self) -> f64 {
        self.gains.tramp_oil.map_or(0.0, |oil| oil.amount.get())
    }

    /// What stays in a sump at a clean-out, L.
    pub(super) fn residue(&self) -> f64 {
        self.clean_out.as_ref().and_then(|c| c.residue).map_or(0.0, Quantity::get)
    }
}

impl FluidLoop {
    /// The names of what water, deionised water and concentrate bring.
    fn mixed(&self) -> impl Iterator<Item = &str> {
        let water = hardness::names(&self.water.properties, self.water.hardness);
        let pure = self.water.deionised.iter();
        let pure = pure.flat_map(|pure| hardness::names(&pure.properties, pure.hardness));
        let concentrate = self.concentrate.iter().flat_map(|own| own.properties.names());
        water.chain(pure).chain(concentrate)
    }

    /// The limits that the fluid keeps to, the stricter of the question's and its sheet's.
    pub(super) fn kept(&self) -> KeptLimits<'_> {
        let followed = self.sheet.iter().flat_map(|_| self.followed());
        sheet::kept(&self.limits, self.sheet.as_ref(), followed)
    }

    /// Whether the question says what brings a property, if only none of it.
    pub(super) fn comes_from_somewhere(&self, name: &str) -> bool {
        // Water and concentrate bring no oil.
        let is_mixed = name != TRAMP_OIL && self.mixed().any(|own| own == name);
        is_mixed || self.groups.iter().any(|group| group.gains.has(name))
    }

    /// The names of everything that any part of the question speaks of.
    pub(super) fn followed(&self) -> BTreeSet<&str> {
        let mut names: BTreeSet<&str> = self.limits.names().collect();
        names.extend(self.mixed().filter(|name| *name != TRAMP_OIL));
        // Most groups gain what the one before them gains.
        let mut gains: Vec<_> = self.groups.iter().map(|group| &group.gains).collect();
        gains.dedup_by(|a, b| a.names().eq(b.names()));
        names.extend(gains.into_iter().flat_map(ByProperty::names));
        let now = self.groups.iter().filter_map(|group| group.carries_now.as_ref());
        let tanks = self.tanks.iter().flat_map(|tanks| tanks.dirty.iter().chain(&tanks.clean));
        let tanks = tanks.filter_map(|tank| tank.carries_now.as_ref());
        names.extend(now.chain(tanks).flat_map(ByProperty::names));
        let recycler = self.recycler.as_ref().map(|recycler| &recycler.removes);
        names.extend(recycler.into_iter().flat_map(ByProperty::names));
        names
    }
}
