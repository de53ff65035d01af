//! From the accounts of a shop to the figures of its answer.

use super::Disposal;
use super::accounts::Accounts;
use super::answer::{
    CategoryChange, DisposalAnswer, DisposalCost, FreshBought, MonthOfWaste, StreamInMonth,
    StreamOverall, TreatedOnSite, WastePickup,
};
use super::bought::Fresh;
use super::category::GeneratorCategory;
use super::codes::candidates;
use super::ledger::{CONCENTRATE, OIL, WasteLedger, volume};
use super::pickup_days::month_of_pickup;
use super::question::WasteGroup;
use super::stream::{MonthlyFlow, WasteStream};
use super::track::{Track, count};
use crate::handbook::conversions::DAYS_PER_MONTH;
use crate::quantity::{Concentration, Count, Days, Mass, Money, Quantity, Share, Volume};
use crate::text::Refusal;

impl Accounts {
    pub(super) fn answer(
        &self,
        question: &Disposal,
        ledger: &WasteLedger,
    ) -> Result<DisposalAnswer, Refusal> {
        let months: Vec<MonthOfWaste> = (0..ledger.months)
            .map(|month| self.month(question, ledger, month))
            .collect::<Result<_, _>>()?;
        let facts = question.facts.unwrap_or_default();
        // A shop under US rules has no use for the European list.
        let european = question.storage.is_none_or(|storage| storage.rules.is_none());
        let listed = self.streams.iter().filter(|_| european);
        let codes =
            listed.map(|account| candidates(account.stream, &facts, question.recycler.is_some()));
        let fresh = |amount: fn(&Fresh) -> f64| self.fresh.iter().map(amount).sum();
        Ok(DisposalAnswer {
            streams: self.overall(question, ledger.months)?,
            bought: FreshBought {
                concentrate: Volume::of(fresh(|fresh| fresh.concentrate))?,
                water: Volume::of(fresh(|fresh| fresh.water))?,
            },
            pickups: self.pickups()?,
            storage: question.storage_held(
                &months.iter().map(|month| month.category).collect::<Vec<_>>(),
                &self.days_above,
            )?,
            episodic_events: question.episodic_events(ledger, self)?,
            category_changes: category_changes(&months, &self.counted)?,
            treated: treated(question, ledger)?,
            codes: codes.filter(|codes| !codes.candidates.is_empty()).collect(),
            cost: self.cost(question)?,
            currency: question.currency.clone().map(String::from),
            bands: None,
            months,
        })
    }

    fn month(
        &self,
        question: &Disposal,
        ledger: &WasteLedger,
        month: usize,
    ) -> Result<MonthOfWaste, Refusal> {
        let streams = self.streams.iter().map(|account| {
            Ok(StreamInMonth {
                stream: account.stream,
                volume: Volume::of(account.volume.in_month(month))?,
                mass: Mass::of(account.mass.in_month(month))?,
                bulk_volume: account
                    .bulk_density
                    .map(|_| Volume::of(account.room_in_month(month)))
                    .transpose()?,
                containers: account.containers.as_ref().map(|n| Count::of(n[month])).transpose()?,
            })
        });
        let streams = streams.collect::<Result<_, Refusal>>()?;
        let counted = self.counted.in_month(month);
        let category = GeneratorCategory::of(counted);
        let entered = category.entered_at().map(|mass| self.counted.day_of(month, mass));
        let limited = question.storage.is_some();
        let by_forecast = question.groups.iter().any(WasteGroup::is_by_forecast);
        let end = count(month + 1) * DAYS_PER_MONTH;
        let on_site =
            self.counted.by_month(month + 1) - self.counted.by_day(self.last_pickup(end).min(end));
        Ok(MonthOfWaste {
            month: Count::from_usize(month + 1)?,
            streams,
            mass: Mass::of(self.mass(month))?,
            counted: Mass::of(counted)?,
            category,
            entered_on_day: entered.map(Days::of).transpose()?,
            changes: Count::of(ledger.changes[month])?,
            past_limits: by_forecast.then(|| Count::of(ledger.past_limits[month])).transpose()?,
            concentrate: Volume::of(self.fresh[month].concentrate)?,
            water: Volume::of(self.fresh[month].water)?,
            pickups: limited.then(|| Count::of(self.pickups_in(month))).transpose()?,
            on_site: limited.then(|| Mass::of(on_site.max(0.0))).transpose()?,
            cost: question
                .has_prices()
                .then(|| Money::of(self.cost_in(question, month)))
                .transpose()?,
        })
    }

    /// Mass of all streams of a month, kg.
    pub(super) fn mass(&self, month: usize) -> f64 {
        self.streams.iter().map(|account| account.mass.in_month(month)).sum()
    }

    /// What a month costs.
    pub(super) fn cost_in(&self, question: &Disposal, month: usize) -> f64 {
        let streams: f64 = self.streams.iter().map(|account| account.cost[month]).sum();
        let fresh = self.fresh[month];
        let pickups = self.pickups_in(month) * question.pickup_price.map_or(0.0, Quantity::get);
        streams + pickups + fresh.concentrate_cost + fresh.water_cost
    }

    fn overall(&self, question: &Disposal, months: usize) -> Result<Vec<StreamOverall>, Refusal> {
        let all: f64 = (0..months).map(|month| self.mass(month)).sum();
        let streams = self.streams.iter().map(|account| {
            let mass = account.mass.by_month(months);
            let containers = account.containers.as_ref();
            Ok(StreamOverall {
                stream: account.stream,
                counts: account.counts,
                volume: Volume::of(account.volume.by_month(months))?,
                mass: Mass::of(mass)?,
                share: Share::of_fraction((mass / all).min(1.0))?,
                containers: containers.map(|n| Count::of(n.iter().sum())).transpose()?,
                cost: question
                    .has_prices()
                    .then(|| Money::of(account.cost.iter().sum()))
                    .transpose()?,
            })
        });
        streams.collect()
    }

    fn pickups(&self) -> Result<Vec<WastePickup>, Refusal> {
        let mut before = 0.0;
        let pickups = self.pickups.iter().enumerate().map(|(i, day)| {
            let by = self.counted.by_day(*day);
            let containers: Vec<f64> = self
                .streams
                .iter()
                .filter_map(|account| account.at_pickup.get(i).copied())
                .collect();
            let pickup = WastePickup {
                day: Days::of(*day)?,
                month: Count::from_usize(month_of_pickup(*day) + 1)?,
                mass: Mass::of((by - before).max(0.0))?,
                containers: (!containers.is_empty())
                    .then(|| Count::of(containers.iter().sum()))
                    .transpose()?,
            };
            before = by;
            Ok(pickup)
        });
        pickups.collect()
    }

    fn cost(&self, question: &Disposal) -> Result<Option<DisposalCost>, Refusal> {
        if !question.has_prices() {
            return Ok(None);
        }
        let streams: f64 = self.streams.iter().flat_map(|account| &account.cost).sum();
        let pickups = count(self.pickups.len()) * question.pickup_price.map_or(0.0, Quantity::get);
        let concentrate: f64 = self.fresh.iter().map(|fresh| fresh.concentrate_cost).sum();
        let water: f64 = self.fresh.iter().map(|fresh| fresh.water_cost).sum();
        Ok(Some(DisposalCost {
            streams: Money::of(streams)?,
            pickups: Money::of(pickups)?,
            concentrate: Money::of(concentrate)?,
            water: Money::of(water)?,
            total: Money::of(streams + pickups + concentrate + water)?,
        }))
    }
}

fn category_changes(
    months: &[MonthOfWaste],
    counted: &Track,
) -> Result<Vec<CategoryChange>, Refusal> {
    let changes =
        months.windows(2).enumerate().filter(|(_, pair)| pair[0].category != pair[1].category);
    let changes = changes.map(|(before, pair)| {
        let (from, to) = (pair[0].category, pair[1].category);
        let day = match to.entered_at().filter(|_| to > from) {
            Some(mass) => counted.day_of(before + 1, mass),
            None => count(before + 1) * DAYS_PER_MONTH,
        };
        Ok(CategoryChange { month: pair[1].month, day: Days::of(day)?, from, to })
    });
    changes.collect()
}

fn treated(question: &Disposal, ledger: &WasteLedger) -> Result<Option<TreatedOnSite>, Refusal> {
    if question.treatment.is_none() {
        return Ok(None);
    }
    let retentate = ledger.in_all(MonthlyFlow::Waste(WasteStream::Retentate));
    let permeate = volume(&ledger.in_all(MonthlyFlow::Waste(WasteStream::Permeate)));
    let left = volume(&retentate);
    let share = |litres: f64| {
        Concentration::of_fraction(if left > 0.0 { (litres / left).min(1.0) } else { 0.0 })
    };
    Ok(Some(TreatedOnSite {
        feed: Volume::of(left + permeate)?,
        retentate: Volume::of(left)?,
        permeate: Volume::of(permeate)?,
        retentate_oil: share(retentate[OIL])?,
        retentate_concentration: share(retentate[CONCENTRATE])?,
    }))
}
