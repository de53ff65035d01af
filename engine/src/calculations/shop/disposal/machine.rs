//! A sump of a group in plain numbers, and when it is changed.

use super::Disposal;
use super::question::{ChangeHabit, WasteGroup};
use crate::fluid::properties::{Limits, PropertyName};
use crate::handbook::conversions::{DAYS_PER_MONTH, KILOGRAMS_PER_MILLIGRAM};
use crate::quantity::{Concentration, Count, Quantity, Share};

/// What all sumps of the shop share, in plain numbers.
#[derive(Debug, Clone)]
pub(super) struct WasteShop {
    /// What is followed, by name.
    pub names: Vec<PropertyName>,
    /// What a litre of make-up water carries, kg/L, by place in `names`.
    pub water: Vec<f64>,
    pub densities: super::ledger::LedgerDensities,
    pub recycler: RecyclerShares,
    /// The share of each month that is worked, and of the one after the last.
    pub worked: Vec<f64>,
}

/// What becomes of drained fluid, as shares of 1.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct RecyclerShares {
    pub recovered: f64,
    pub with_oil: f64,
    pub with_sludge: f64,
    pub oil_removed: f64,
}

/// How much more or less than given the uncertain inputs are taken to be.
#[derive(Debug, Clone, Copy)]
pub(super) struct Factors {
    pub evaporation: f64,
    pub carry_off: f64,
    pub leak: f64,
    pub fines: f64,
}

impl Factors {
    /// All as given.
    pub(super) const PLAIN: Self = Self { evaporation: 1.0, carry_off: 1.0, leak: 1.0, fines: 1.0 };
}

/// One sump of a group; volumes in L, masses in kg, time in months.
pub(super) struct Machine {
    /// Its group's place in the request.
    pub place: usize,
    /// Working volume V and strength c, as a share of 1.
    pub v: f64,
    pub c: f64,
    /// Of a month of nothing but work, and what evaporates in one in which it stands.
    pub losses: MonthLosses,
    pub evaporated_at_rest: f64,
    /// Residue of a change, water for a rinse, and the number of rinses.
    pub residue: f64,
    pub rinse: f64,
    pub rinses: f64,
    /// Dry fines, fluid that leaves with a kilogram of them, months between.
    pub fines: f64,
    pub fluid_with_fines: f64,
    pub fines_every: Option<usize>,
    /// Dry filter media, fluid that a set holds, months that it lasts.
    pub media: f64,
    pub fluid_in_media: f64,
    pub media_every: f64,
    /// Tramp oil and matter in it at the start.
    pub oil: f64,
    pub matter: Vec<f64>,
    pub rule: ChangeRule,
}

/// What a sump loses and takes in over a month.
#[derive(Debug, Clone, Copy)]
pub(super) struct MonthLosses {
    /// Evaporated, and carried off, with the concentrate in the latter.
    pub evaporated: f64,
    pub carried: f64,
    pub carried_concentrate: f64,
    /// Oil that stays in the sump, oil that is skimmed, fluid in the skimmings.
    pub leak_kept: f64,
    pub leak_skimmed: f64,
    pub skimmed_fluid: f64,
}

/// When a sump is changed, months counted from 1.
pub(super) enum ChangeRule {
    Never,
    /// Every `every` months from a first one on, shared out over `over` months.
    Calendar {
        every: usize,
        first: usize,
        over: usize,
    },
    /// Before oil (share of the whole) or matter (kg/L) passes its limit.
    Limits {
        oil: f64,
        matter: Vec<f64>,
    },
    /// When the count of hours is full.
    Hours {
        full: f64,
        monthly: f64,
        now: f64,
    },
}

impl Disposal {
    /// What all its sumps share.
    pub(super) fn shop(&self) -> WasteShop {
        let names = self.names();
        let in_water = |name: &PropertyName| {
            let content = self.water.as_ref().and_then(|water| water.properties.matter.get(name));
            content.map_or(0.0, |content| kilograms(content.get()))
        };
        let recycler =
            self.recycler.map_or_else(RecyclerShares::default, |yields| RecyclerShares {
                recovered: yields.recovered.fraction(),
                with_oil: yields.lost_with_oil.map_or(0.0, Share::fraction),
                with_sludge: yields.lost_with_sludge.map_or(0.0, Share::fraction),
                oil_removed: yields.oil_removed.map_or(1.0, Share::fraction),
            });
        WasteShop {
            worked: self.worked(),
            water: names.iter().map(in_water).collect(),
            densities: self.densities(),
            recycler,
            names,
        }
    }
}

impl Machine {
    pub(super) fn of(
        group: &WasteGroup,
        place: usize,
        shop: &WasteShop,
        factors: &Factors,
    ) -> Self {
        let (v, c) = (group.volume.get(), group.concentration.fraction());
        let carried = group.losses.carried_off() * factors.carry_off * DAYS_PER_MONTH;
        let leak =
            group.oil_leak.map_or(0.0, |leak| leak.rate.get() * factors.leak * DAYS_PER_MONTH);
        let standing = group.standing.map_or(0.0, Quantity::get);
        let skimmed = group.oil_leak.and_then(|leak| leak.skimmed).map_or(0.0, Share::fraction);
        let oil_in_skimmings = group
            .oil_leak
            .and_then(|leak| leak.oil_in_skimmings)
            .map_or(1.0, Concentration::fraction);
        let fluid_density = c * shop.densities.concentrate + (1.0 - c) * shop.densities.water;
        let (oil, matter) = at_the_start(group, shop);
        Self {
            place,
            v,
            c,
            losses: MonthLosses {
                evaporated: group.losses.evaporates() * factors.evaporation * DAYS_PER_MONTH,
                carried,
                carried_concentrate: carried * c * group.losses.depletion(),
                leak_kept: leak * (1.0 - skimmed),
                leak_skimmed: leak * skimmed,
                skimmed_fluid: leak * skimmed * (1.0 / oil_in_skimmings - 1.0),
            },
            evaporated_at_rest: standing * factors.evaporation * DAYS_PER_MONTH,
            residue: group.residue.map_or(0.0, Quantity::get),
            rinse: group.rinse.map_or(0.0, |rinse| rinse.volume.get()),
            rinses: group.rinse.map_or(0.0, |rinse| rinse.times.map_or(1.0, Quantity::get)),
            fines: group.fines.map_or(0.0, |fines| fines.mass_per_month.get() * factors.fines),
            fluid_with_fines: group
                .fines
                .map_or(0.0, |fines| (1.0 / fines.dry_share.fraction() - 1.0) / fluid_density),
            fines_every: group.fines.and_then(|fines| fines.every_months).map(Count::whole),
            media: group.filter.map_or(0.0, |filter| filter.dry_mass.get()),
            fluid_in_media: group
                .filter
                .and_then(|filter| filter.fluid_held)
                .map_or(0.0, Quantity::get),
            media_every: group.filter.map_or(f64::INFINITY, |filter| filter.every_months.get()),
            oil,
            matter,
            rule: ChangeRule::of(group.change.as_ref(), &shop.names),
        }
    }

    /// Its losses in a month of which a share is worked.
    pub(super) fn in_month(&self, worked: f64) -> MonthLosses {
        let MonthLosses {
            evaporated,
            carried,
            carried_concentrate,
            leak_kept,
            leak_skimmed,
            skimmed_fluid,
        } = self.losses;
        MonthLosses {
            evaporated: evaporated * worked + self.evaporated_at_rest * (1.0 - worked),
            carried: carried * worked,
            carried_concentrate: carried_concentrate * worked,
            leak_kept: leak_kept * worked,
            leak_skimmed: leak_skimmed * worked,
            skimmed_fluid: skimmed_fluid * worked,
        }
    }

    /// The concentrate that a refill has to bring, beside what is recovered, is
    /// C = c·(V − h·K − y·D); this is the greatest y for which it finds room in
    /// what is left of D = V − h, where K is what rinsing leaves of the residue.
    pub(super) fn recovered_most(&self) -> f64 {
        let d = self.v - self.residue;
        let room = d - self.c * (self.v - self.residue * self.rinsed_to());
        if room >= d * (1.0 - self.c) { 1.0 } else { room / (d * (1.0 - self.c)) }
    }

    /// What rinsing leaves of what was in the residue: (h/(h + f))ⁿ.
    pub(super) fn rinsed_to(&self) -> f64 {
        if self.rinse == 0.0 || self.rinses == 0.0 {
            return 1.0;
        }
        (self.residue / (self.residue + self.rinse)).powf(self.rinses)
    }
}

/// Tramp oil, L, and matter, kg, in a sump at the start.
fn at_the_start(group: &WasteGroup, shop: &WasteShop) -> (f64, Vec<f64>) {
    let v = group.volume.get();
    let p = group.properties.tramp_oil.map_or(0.0, Concentration::fraction);
    let oil = v * p / (1.0 - p);
    let fresh_water = v * (1.0 - group.concentration.fraction());
    let matter = shop.names.iter().zip(&shop.water).map(|(name, in_water)| {
        match group.properties.matter.get(name) {
            Some(content) => (v + oil) * content.get() * KILOGRAMS_PER_MILLIGRAM,
            None => fresh_water * in_water,
        }
    });
    (oil, matter.collect())
}

/// What a litre carries, kg.
fn kilograms(milligrams: f64) -> f64 {
    milligrams * KILOGRAMS_PER_MILLIGRAM
}

impl ChangeRule {
    fn of(change: Option<&ChangeHabit>, names: &[PropertyName]) -> Self {
        match change {
            None => Self::Never,
            Some(ChangeHabit::Calendar(habit)) => Self::Calendar {
                every: habit.every_months.whole(),
                first: habit.first_month.unwrap_or(habit.every_months).whole(),
                over: habit.over_months.map_or(1, Count::whole),
            },
            Some(ChangeHabit::Forecast(habit)) => Self::of_limits(&habit.limits, names),
            Some(ChangeHabit::RunningHours(habit)) => Self::Hours {
                full: habit.hours.get(),
                monthly: habit.hours_per_month.get(),
                now: habit.hours_now.map_or(0.0, Quantity::get),
            },
        }
    }

    fn of_limits(limits: &Limits, names: &[PropertyName]) -> Self {
        let most = limits.tramp_oil.and_then(|limit| limit.max);
        let matter = names.iter().map(|name| {
            let most = limits.matter.get(name).and_then(|limit| limit.max);
            most.map_or(f64::INFINITY, |most| kilograms(most.get()))
        });
        Self::Limits {
            oil: most.map_or(f64::INFINITY, Concentration::fraction),
            matter: matter.collect(),
        }
    }
}
