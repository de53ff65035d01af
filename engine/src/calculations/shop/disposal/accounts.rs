//! From the ledger of a shop to its store, its containers and its money.

use super::Disposal;
use super::bought::{Fresh, bought};
use super::ledger::{WasteLedger, volume};
use super::pickup_days::{month_of_pickup, plan_pickups};
use super::pickups::Schedule;
use super::question::{ChangesFall, StreamTerms};
use super::stream::{MonthlyFlow, Timing, WasteStream};
use super::track::{Track, count};
use crate::handbook::conversions::DAYS_PER_MONTH;
use crate::quantity::{Quantity, Share};

/// What a stream comes to.
pub(super) struct StreamAccount {
    pub stream: WasteStream,
    pub counts: bool,
    pub volume: Track,
    pub mass: Track,
    /// Mass per volume as it lies in its containers, kg/L; none where solids are taken
    /// to need no room.
    pub bulk_density: Option<f64>,
    /// Containers begun in each month; none where no container is given.
    pub containers: Option<Vec<f64>>,
    /// Containers at each pickup.
    pub at_pickup: Vec<f64>,
    /// Cost by month.
    pub cost: Vec<f64>,
}

/// What a shop comes to.
pub(super) struct Accounts {
    pub streams: Vec<StreamAccount>,
    /// What is kept and counted, kg.
    pub counted: Track,
    /// Days of the pickups, counted from 1; none without limits.
    pub pickups: Vec<f64>,
    /// Days on which more arises than may be on site.
    pub days_above: Vec<usize>,
    pub fresh: Vec<Fresh>,
}

impl Accounts {
    pub(super) fn of(question: &Disposal, ledger: &WasteLedger) -> Self {
        let mut accounts = Self::unplanned(question, ledger);
        let Schedule { pickups, above } = plan_pickups(question, ledger.months, &accounts.counted);
        accounts.pickups = pickups.into_iter().map(count).collect();
        accounts.days_above = above;
        accounts.settle(question);
        accounts
    }

    /// The accounts as they are when nothing is ever taken away.
    pub(super) fn without_pickups(question: &Disposal, ledger: &WasteLedger) -> Self {
        let mut accounts = Self::unplanned(question, ledger);
        accounts.settle(question);
        accounts
    }

    /// Containers and prices.
    fn settle(&mut self, question: &Disposal) {
        for account in &mut self.streams {
            if let Some(terms) = question.terms(account.stream) {
                account.fill_containers(terms, &self.pickups);
                account.price(terms);
            }
        }
    }

    fn unplanned(question: &Disposal, ledger: &WasteLedger) -> Self {
        let densities = question.densities();
        let last_day = question.changes_fall() == ChangesFall::OnTheLastDay;
        let tracks = |stream, amount: &dyn Fn(&[f64]) -> f64| {
            Track::of((0..ledger.months).map(|month| {
                let [steady, lump] = Timing::BOTH
                    .map(|timing| amount(ledger.row(month, MonthlyFlow::Waste(stream), timing)));
                if last_day { (steady, lump) } else { (steady + lump, 0.0) }
            }))
        };
        let streams: Vec<StreamAccount> = WasteStream::ALL
            .into_iter()
            .map(|stream| StreamAccount {
                stream,
                counts: question.counts(stream),
                volume: tracks(stream, &volume),
                mass: tracks(stream, &|row| densities.mass(row)),
                bulk_density: question
                    .terms(stream)
                    .and_then(|terms| terms.bulk_density)
                    .map(Quantity::get),
                containers: None,
                at_pickup: Vec::new(),
                cost: vec![0.0; ledger.months],
            })
            .filter(|account| account.mass.by_month(ledger.months) > 0.0)
            .collect();
        let counted = Track::of((0..ledger.months).map(|month| {
            let all = streams.iter().filter(|account| account.counts);
            let parts = all.map(|account| {
                let (evenly, all) = (account.mass.evenly(month), account.mass.in_month(month));
                (evenly, all - evenly)
            });
            parts.fold((0.0, 0.0), |sum, part| (sum.0 + part.0, sum.1 + part.1))
        }));
        Self {
            streams,
            counted,
            pickups: Vec::new(),
            days_above: Vec::new(),
            fresh: bought(question, ledger),
        }
    }

    /// The last pickup by the end of a month, day 0 where there was none.
    pub(super) fn last_pickup(&self, month_end: f64) -> f64 {
        let before = self.pickups.iter().filter(|day| **day <= month_end + 1e-9 * DAYS_PER_MONTH);
        before.copied().fold(0.0, f64::max)
    }

    /// Pickups in a month, counted from 0.
    pub(super) fn pickups_in(&self, month: usize) -> f64 {
        count(self.pickups.iter().filter(|day| month_of_pickup(**day) == month).count())
    }
}

impl StreamAccount {
    /// The room that a month of it takes up, L.
    pub(super) fn room_in_month(&self, month: usize) -> f64 {
        room(self.bulk_density, self.volume.in_month(month), self.mass.in_month(month))
    }

    /// Counts the containers that are begun. A pickup takes away those that are
    /// not full; without pickups they stand until they are.
    fn fill_containers(&mut self, terms: &StreamTerms, pickups: &[f64]) {
        let Some(container) = &terms.container else { return };
        let fill = container.fill.map_or(1.0, Share::fraction);
        let by_volume = container.volume.map_or(f64::INFINITY, |v| v.get() * fill);
        let by_mass = container.mass.map_or(f64::INFINITY, Quantity::get);
        let bulk_density = self.bulk_density;
        let begun = |volume: f64, mass: f64| {
            let full = (room(bulk_density, volume, mass) / by_volume).max(mass / by_mass);
            // A container that is full to the last bit is not two.
            (full - 1e-9 * full.max(1.0)).ceil().max(0.0)
        };
        let mut containers = vec![0.0; self.cost.len()];
        let mut pickups = if self.counts { pickups } else { &[] }.iter();
        let mut next = pickups.next();
        let (mut volume, mut mass, mut so_far) = (0.0, 0.0, 0.0);
        for (month, containers) in containers.iter_mut().enumerate() {
            while let Some(day) = next.filter(|day| month_of_pickup(**day) == month) {
                let (v, m) = (self.volume.by_day(*day), self.mass.by_day(*day));
                let taken = begun(v - volume, m - mass);
                *containers += taken - so_far;
                self.at_pickup.push(taken);
                (volume, mass, so_far) = (v, m, 0.0);
                next = pickups.next();
            }
            let (v, m) = (self.volume.by_month(month + 1), self.mass.by_month(month + 1));
            let now = begun(v - volume, m - mass).max(so_far);
            *containers += now - so_far;
            so_far = now;
        }
        self.containers = Some(containers);
    }

    fn price(&mut self, terms: &StreamTerms) {
        let by_volume = terms.price_per_volume.map_or(0.0, Quantity::get);
        let by_mass = terms.price_per_mass.map_or(0.0, Quantity::get);
        let by_container = terms.price_per_container.map_or(0.0, Quantity::get);
        let rooms: Vec<f64> = (0..self.cost.len()).map(|month| self.room_in_month(month)).collect();
        for (month, cost) in self.cost.iter_mut().enumerate() {
            let containers = self.containers.as_ref().map_or(0.0, |begun| begun[month]);
            *cost = rooms[month] * by_volume
                + self.mass.in_month(month) * by_mass
                + containers * by_container;
        }
    }
}

/// The room that an amount of a stream takes up, L: never less than the fluid in it.
fn room(bulk_density: Option<f64>, volume: f64, mass: f64) -> f64 {
    bulk_density.map_or(volume, |density| (mass / density).max(volume))
}
