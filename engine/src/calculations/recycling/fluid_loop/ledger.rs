//! A year of the settled loop: what comes in and where it goes.

use super::LoopYear;
use super::cycle::LifeAverage;
use super::shop::{LoopShop, OIL};
use super::steady::SteadyLoop;
use crate::fluid::Fluid;
use crate::fluid::balance::{Balance, StreamDirection};
use crate::handbook::conversions::{DAYS_PER_YEAR, MILLIGRAMS_PER_KILOGRAM};
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::{Quantity, Volume};
use crate::text::Refusal;

/// A smaller share of the recycled fluid than this is not left over.
const LEFT_OVER_AT_LEAST: f64 = 1e-12;

/// A day's stream: litres of each liquid and the amount of each property, oil
/// in litres at its place and matter in mg.
#[derive(Debug, Clone, PartialEq)]
struct LoopStream {
    c: f64,
    w: f64,
    amounts: Vec<f64>,
}

impl LoopStream {
    fn none(shop: &LoopShop) -> Self {
        Self { c: 0.0, w: 0.0, amounts: vec![0.0; shop.properties()] }
    }

    fn volume(&self) -> f64 {
        self.c + self.w + self.amounts[OIL]
    }

    fn add(&mut self, other: &Self) {
        self.c += other.c;
        self.w += other.w;
        self.amounts.iter_mut().zip(&other.amounts).for_each(|(a, b)| *a += b);
    }

    fn times(&self, share: f64) -> Self {
        let amounts = self.amounts.iter().map(|amount| amount * share);
        Self { c: self.c * share, w: self.w * share, amounts: amounts.collect() }
    }

    /// A year of it. Dissolved and suspended matter weighs what it weighs, so
    /// the liquids count without theirs.
    fn year(&self, shop: &LoopShop) -> Fluid {
        let year = self.times(DAYS_PER_YEAR);
        let kilograms: Vec<f64> =
            year.amounts[1..].iter().map(|mg| mg / MILLIGRAMS_PER_KILOGRAM).collect();
        let in_concentrate = shop.f_c[1..].iter().sum::<f64>() / MILLIGRAMS_PER_KILOGRAM;
        let liquids = (shop.rho_c - in_concentrate) * year.c
            + DENSITY_AT_20_CELSIUS * year.w
            + shop.rho_o * year.amounts[OIL];
        Fluid {
            volume: year.volume(),
            concentrate: year.c,
            tramp_oil: shop.oil.then_some(year.amounts[OIL]),
            mass: liquids + kilograms.iter().sum::<f64>(),
            matter: shop.names.iter().cloned().zip(kilograms).collect(),
        }
    }
}

/// Every stream of a settled day.
pub(super) struct LoopLedger<'a> {
    shop: &'a LoopShop,
    concentrate: LoopStream,
    water: LoopStream,
    deionised: LoopStream,
    oil: LoopStream,
    picked_up: LoopStream,
    evaporated: LoopStream,
    carried_off: LoopStream,
    drained: f64,
    reused: f64,
    unrecycled: LoopStream,
    oil_and_sludge: LoopStream,
    purged: LoopStream,
    surplus: LoopStream,
}

impl<'a> LoopLedger<'a> {
    pub(super) fn of(steady: &SteadyLoop<'a>, deionised: f64) -> Self {
        let shop = steady.shop;
        let none = || LoopStream::none(shop);
        let (mut water, mut concentrate) = (0.0, none());
        let (mut oil, mut picked_up, mut evaporated) = (none(), none(), none());
        let (mut carried_off, mut back, mut apart) = (none(), none(), none());
        let (mut off, mut out) = (none(), none());
        let mut taken = 0.0;
        for (g, sump) in steady.sumps().enumerate() {
            let (group, mix, drained) = (sump.group, &sump.mix, sump.cycle.drained);
            let average = LifeAverage::over(group);
            water += group.n * mix.m_w + mix.w;
            concentrate.c += group.n * mix.m_c + mix.y;
            oil.amounts[OIL] += group.n * group.l;
            evaporated.w += group.n * group.e;
            taken += mix.chi + mix.chi_m;
            for p in 0..shop.properties() {
                if p != OIL {
                    picked_up.amounts[p] += group.n * shop.gain(p, g);
                }
                off.amounts[p] = group.n * group.d * sump.mean(p, &average);
                out.amounts[p] = drained * sump.contents(p).1;
            }
            off.c = group.n * group.m_c;
            off.w = group.n * group.d - off.c - off.amounts[OIL];
            carried_off.add(&off);
            out.c = drained * group.c;
            out.w = drained - out.c - out.amounts[OIL];
            if group.returns { back.add(&out) } else { apart.add(&out) }
        }
        let with = |volume: f64, contents: &[f64]| {
            let amounts = contents.iter().map(|f| volume * f).collect();
            LoopStream { c: 0.0, w: volume, amounts }
        };
        concentrate.amounts = shop.f_c.iter().map(|f| concentrate.c * f).collect();
        let drained = back.volume() + apart.volume();
        apart.add(&back.times(1.0 - shop.fed));
        let treated = back.times(shop.fed);
        let good = treated.times(1.0 - shop.lost);
        let mut recovered = good.clone();
        recovered.c *= 1.0 - shop.r_c;
        let kept = recovered.amounts.iter_mut().zip(&shop.r);
        kept.for_each(|(amount, r)| *amount *= 1.0 - r);
        let mut oil_and_sludge = treated.times(shop.lost);
        let mut removed = LoopStream { w: 0.0, ..good };
        removed.c *= shop.r_c;
        removed.amounts.iter_mut().zip(&shop.r).for_each(|(amount, r)| *amount *= r);
        oil_and_sludge.add(&removed);
        let given = recovered.times(1.0 - shop.purge);
        let left = 1.0 - taken;
        Self {
            shop,
            concentrate,
            water: with(water * (1.0 - deionised), &shop.f_tap),
            deionised: with(water * deionised, &shop.f_deionised),
            oil,
            picked_up,
            evaporated,
            carried_off,
            drained,
            reused: given.volume() * taken,
            unrecycled: apart,
            oil_and_sludge,
            purged: recovered.times(shop.purge),
            surplus: given.times(if left > LEFT_OVER_AT_LEAST { left } else { 0.0 }),
        }
    }

    /// In: what was bought, leaked and picked up, from what make-up and refills
    /// need. Out: what left, from what the settled fluid carries.
    pub(super) fn balance(&self) -> Result<Balance, Refusal> {
        let streams = [
            ("concentrate", StreamDirection::In, &self.concentrate),
            ("water", StreamDirection::In, &self.water),
            ("deionised water", StreamDirection::In, &self.deionised),
            ("oil leaked in", StreamDirection::In, &self.oil),
            ("picked up from the work", StreamDirection::In, &self.picked_up),
            ("evaporated", StreamDirection::Out, &self.evaporated),
            ("carried off", StreamDirection::Out, &self.carried_off),
            ("drained and not recycled", StreamDirection::Out, &self.unrecycled),
            ("oil and sludge of the recycler", StreamDirection::Out, &self.oil_and_sludge),
            ("recycled and discarded", StreamDirection::Out, &self.purged),
            ("recycled and without a place", StreamDirection::Out, &self.surplus),
        ];
        let moves = streams.into_iter().map(|(name, way, flow)| (name, way, flow.year(self.shop)));
        let moves: Vec<_> = moves.filter(|(_, _, fluid)| fluid.mass > 0.0).collect();
        let rows: Vec<_> = moves.iter().map(|(name, way, fluid)| (*name, *way, fluid)).collect();
        Balance::close(&rows)
    }

    pub(super) fn per_year(&self) -> Result<LoopYear, Refusal> {
        let year = |litres: f64| Volume::of(litres * DAYS_PER_YEAR);
        Ok(LoopYear {
            concentrate: year(self.concentrate.c)?,
            water: year(self.water.w)?,
            deionised_water: year(self.deionised.w)?,
            oil_leaked: year(self.oil.volume())?,
            drained: year(self.drained)?,
            recycled: year(self.reused)?,
            disposed: year(self.disposed())?,
            oil_and_sludge: year(self.oil_and_sludge.volume())?,
            purged: year(self.purged.volume())?,
            surplus: year(self.surplus.volume())?,
            evaporated: year(self.evaporated.volume())?,
            carried_off: year(self.carried_off.volume())?,
        })
    }

    fn disposed(&self) -> f64 {
        let parts = [&self.unrecycled, &self.oil_and_sludge, &self.purged, &self.surplus];
        parts.iter().map(|flow| flow.volume()).sum()
    }

    /// Fresh fluid that comes in, over liquid that leaves.
    pub(super) fn cycles(&self) -> f64 {
        let fresh = self.concentrate.c + self.water.w + self.deionised.w;
        fresh / (self.carried_off.volume() + self.disposed())
    }

    /// What of the fluid drained comes back into a sump, 0 to 1.
    pub(super) fn share_recycled(&self) -> f64 {
        if self.drained > 0.0 { self.reused / self.drained } else { 0.0 }
    }

    /// What the recycler gives in a day before anything is discarded, L.
    pub(super) fn recovered(&self) -> f64 {
        self.purged.volume() + self.surplus.volume() + self.reused
    }
}
