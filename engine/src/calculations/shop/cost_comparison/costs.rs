//! What a way of working costs in each year, by heading: equations 5 to 7.

use super::answer::CostByHeading;
use super::fluid::FluidYear;
use super::{
    CostBasis, CostComparison, EquipmentRunning, FilterMedia, Purchase, PurchaseServes, ShopPrices,
    WayOfWorking,
};
use crate::handbook::conversions::MONTHS_PER_YEAR;
use crate::numerics::money;
use crate::quantity::{Count, Money, Quantity};
use crate::text::Refusal;

/// Weeks of a year, as a shop counts them.
pub(super) const WEEKS: f64 = 52.0;

/// What money is spent on, in the order of the answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Heading {
    Purchases,
    Labour,
    Downtime,
    Concentrate,
    Water,
    Disposal,
    FilterMedia,
    Energy,
    Upkeep,
    Fees,
}

const HEADINGS: usize = 10;

/// What is spent at the end of each year, now being the end of year 0.
#[derive(Debug, Clone)]
pub(super) struct Costs {
    years: Vec<[f64; HEADINGS]>,
}

impl Costs {
    fn add(&mut self, year: usize, heading: Heading, amount: f64) {
        self.years[year][heading as usize] += amount;
    }

    /// Adds the same in every year after `bought`.
    fn add_yearly(&mut self, bought: usize, heading: Heading, amount: f64) {
        for year in &mut self.years[bought + 1..] {
            year[heading as usize] += amount;
        }
    }

    /// All that is spent in each year.
    pub(super) fn flows(&self) -> Vec<f64> {
        self.years.iter().map(|year| year.iter().sum()).collect()
    }

    /// What is bought in each year.
    pub(super) fn purchases(&self) -> Vec<f64> {
        self.heading(Heading::Purchases)
    }

    /// All that is spent, in money of now.
    pub(super) fn present(&self, rate: f64) -> f64 {
        money::npv(rate, &self.flows())
    }

    fn heading(&self, heading: Heading) -> Vec<f64> {
        self.years.iter().map(|year| year[heading as usize]).collect()
    }

    /// The level yearly amount of each heading that is worth as much.
    pub(super) fn yearly(&self, rate: f64) -> Result<CostByHeading, Refusal> {
        let level = |heading| Money::of(self.level(rate, &self.heading(heading)));
        Ok(CostByHeading {
            purchases: level(Heading::Purchases)?,
            labour: level(Heading::Labour)?,
            downtime: level(Heading::Downtime)?,
            concentrate: level(Heading::Concentrate)?,
            water: level(Heading::Water)?,
            disposal: level(Heading::Disposal)?,
            filter_media: level(Heading::FilterMedia)?,
            energy: level(Heading::Energy)?,
            upkeep: level(Heading::Upkeep)?,
            fees: level(Heading::Fees)?,
        })
    }

    /// The level yearly amount that is worth as much as `flows`.
    #[expect(clippy::cast_precision_loss, reason = "at most 100 years")]
    pub(super) fn level(&self, rate: f64, flows: &[f64]) -> f64 {
        let horizon = (self.years.len() - 1) as f64;
        money::npv(rate, flows) * money::capital_recovery(rate, horizon)
    }
}

impl CostComparison {
    pub(super) fn costs(&self, way: &WayOfWorking, fluid: &FluidYear) -> Costs {
        let horizon = self.horizon();
        let mut costs = Costs { years: vec![[0.0; HEADINGS]; horizon + 1] };
        let prices = self.prices.overridden(way.prices.as_ref());
        let machines = self.machine_count();
        let times = |per| match per {
            CostBasis::CleanOut => fluid.clean_outs,
            CostBasis::MachineYear => machines,
            CostBasis::Month => MONTHS_PER_YEAR,
            CostBasis::Year => 1.0,
        };
        let price = |price: Option<f64>| price.unwrap_or(0.0);
        let wage = price(prices.labour.map(Quantity::get));
        for work in way.labour.iter().flatten() {
            costs.add_yearly(0, Heading::Labour, work.hours.get() * times(work.per) * wage);
        }
        for fee in way.fees.iter().flatten() {
            costs.add_yearly(0, Heading::Fees, fee.amount.get() * times(fee.per));
        }
        let idle = way.idle_hours.map_or(0.0, Quantity::get) * fluid.clean_outs;
        let idle = idle * price(prices.idle_machine.map(Quantity::get));
        costs.add_yearly(0, Heading::Downtime, idle);
        let concentrate = fluid.bought.concentrate * price(prices.concentrate.map(Quantity::get));
        costs.add_yearly(0, Heading::Concentrate, concentrate);
        let water = fluid.bought.water * price(prices.water.map(Quantity::get));
        costs.add_yearly(0, Heading::Water, water);
        let disposal = fluid.disposed() * price(prices.disposal.map(Quantity::get));
        costs.add_yearly(0, Heading::Disposal, disposal);
        for purchase in way.purchases.iter().flatten() {
            let pieces = purchase.pieces(machines);
            purchase.buy(pieces, &mut costs);
            if let Some(running) = purchase.running.as_ref().filter(|_| pieces > 0.0) {
                let bought = purchase.bought_after_years.map_or(0, Count::whole);
                running.run(pieces, fluid.clean_outs, &prices, bought, &mut costs);
            }
        }
        costs
    }
}

impl ShopPrices {
    /// These prices, but for those that `own` has.
    pub(super) fn overridden(&self, own: Option<&Self>) -> Self {
        let Some(own) = own else { return *self };
        Self {
            concentrate: own.concentrate.or(self.concentrate),
            water: own.water.or(self.water),
            disposal: own.disposal.or(self.disposal),
            labour: own.labour.or(self.labour),
            idle_machine: own.idle_machine.or(self.idle_machine),
            electricity: own.electricity.or(self.electricity),
            fuel: own.fuel.or(self.fuel),
        }
    }
}

impl Purchase {
    fn pieces(&self, machines: f64) -> f64 {
        let each = match self.serves {
            Some(PurchaseServes::EachMachine) => machines,
            Some(PurchaseServes::Shop) | None => 1.0,
        };
        each * self.count.map_or(1.0, Quantity::get)
    }

    /// Buys it, again at the end of each life, and wins back what it is worth.
    #[expect(clippy::cast_precision_loss, reason = "at most 100 years")]
    fn buy(&self, pieces: f64, costs: &mut Costs) {
        let end = costs.years.len() - 1;
        let residual = self.residual.map_or(0.0, Quantity::get);
        let first = self.bought_after_years.map_or(0, Count::whole);
        let Some(life) = self.life_years.map(Count::whole) else {
            costs.add(first, Heading::Purchases, pieces * self.price.get());
            costs.add(end, Heading::Purchases, -pieces * residual);
            return;
        };
        for bought in (first..end).step_by(life) {
            costs.add(bought, Heading::Purchases, pieces * self.price.get());
            let until = (bought + life).min(end);
            let worn = (until - bought) as f64 / life as f64;
            let worth = self.price.get() + (residual - self.price.get()) * worn;
            costs.add(until, Heading::Purchases, -pieces * worth);
        }
    }
}

impl EquipmentRunning {
    fn run(
        &self,
        pieces: f64,
        clean_outs: f64,
        prices: &ShopPrices,
        bought: usize,
        costs: &mut Costs,
    ) {
        let hours = self.hours_per_clean_out.map_or(0.0, Quantity::get) * clean_outs
            + self.hours_per_year.map_or(0.0, Quantity::get) * pieces;
        let power = self.power.map_or(0.0, Quantity::get);
        let fuel = self.fuel.map_or(0.0, Quantity::get);
        let hourly = power * prices.electricity.map_or(0.0, Quantity::get)
            + fuel * prices.fuel.map_or(0.0, Quantity::get);
        costs.add_yearly(bought, Heading::Energy, hours * hourly);
        costs.add_yearly(bought, Heading::Upkeep, hours * self.upkeep.map_or(0.0, Quantity::get));
        let media = self.media.iter().flatten().map(|media| media.yearly(pieces, hours)).sum();
        costs.add_yearly(bought, Heading::FilterMedia, media);
    }
}

impl FilterMedia {
    /// Its cost per year on all pieces of equipment, which run `hours` together.
    fn yearly(&self, pieces: f64, hours: f64) -> f64 {
        let changes = match (self.life_weeks, self.life_hours) {
            (Some(weeks), _) => pieces * WEEKS / weeks.get(),
            (None, Some(life)) => hours / life.get(),
            (None, None) => 0.0,
        };
        changes * self.count.map_or(1.0, Quantity::get) * self.price.get()
    }
}
