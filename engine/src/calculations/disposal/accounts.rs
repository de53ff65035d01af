//! From the ledger of a shop to its store, its containers and its money.

use super::pickups;
use super::stream::{Flow, Ledger, Timing, WasteStream, volume};
use super::terms::{ChangesFall, StreamTerms};
use super::track::{Track, count};
use super::{Disposal, MONTH_DAYS};
use crate::quantity::{Mass, Quantity};
use crate::refusal::{Kind, Refusal};
use crate::sentence::{Measure, Sentence};

/// What a stream comes to.
pub(super) struct StreamAccount {
    pub stream: WasteStream,
    pub counts: bool,
    pub volume: Track,
    pub mass: Track,
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
    pub fresh: Vec<Fresh>,
}

/// What is bought in a month.
#[derive(Debug, Clone, Copy)]
pub(super) struct Fresh {
    pub concentrate: f64,
    pub water: f64,
    pub concentrate_cost: f64,
    pub water_cost: f64,
}

impl Accounts {
    pub(super) fn of(question: &Disposal, ledger: &Ledger) -> Result<Self, Refusal> {
        let mut accounts = Self::unplanned(question, ledger);
        accounts.pickups = plan_pickups(question, ledger.months, &accounts.counted)?;
        accounts.settle(question);
        Ok(accounts)
    }

    /// The accounts as they are when nothing is ever taken away.
    pub(super) fn without_pickups(question: &Disposal, ledger: &Ledger) -> Self {
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

    fn unplanned(question: &Disposal, ledger: &Ledger) -> Self {
        let densities = question.densities();
        let last_day = question.changes_fall() == ChangesFall::OnTheLastDay;
        let tracks = |stream, amount: &dyn Fn(&[f64]) -> f64| {
            Track::of((0..ledger.months).map(|month| {
                let [steady, lump] = Timing::BOTH
                    .map(|timing| amount(ledger.row(month, Flow::Waste(stream), timing)));
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
        Self { streams, counted, pickups: Vec::new(), fresh: bought(question, ledger) }
    }

    /// The last pickup by the end of a month, day 0 where there was none.
    pub(super) fn last_pickup(&self, month_end: f64) -> f64 {
        let before = self.pickups.iter().filter(|day| **day <= month_end + 1e-9 * MONTH_DAYS);
        before.copied().fold(0.0, f64::max)
    }

    /// Pickups in a month, counted from 0.
    pub(super) fn pickups_in(&self, month: usize) -> f64 {
        count(self.pickups.iter().filter(|day| month_of_pickup(**day) == month).count())
    }
}

/// The month, counted from 0, in which a day lies that is over at the end of it.
pub(super) fn month_of_pickup(day: f64) -> usize {
    super::track::month_of(day - 0.5).0
}

fn plan_pickups(question: &Disposal, months: usize, counted: &Track) -> Result<Vec<f64>, Refusal> {
    let Some(limits) = question.storage_limits() else { return Ok(Vec::new()) };
    let end = count(months) * MONTH_DAYS;
    let mut daily = Vec::new();
    let mut before = 0.0;
    let mut day = 1.0;
    while day < end + 1.0 - 1e-6 {
        let by = counted.by_day(f64::min(day, end));
        // Beyond rounding, or a day on which nothing arises would count.
        let arising = by - before;
        daily.push(if arising > 1e-12 * by { arising } else { 0.0 });
        before = by;
        day += 1.0;
    }
    let most = limits.mass.unwrap_or(f64::INFINITY);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "at most a million"
    )]
    let days = limits.days.map_or(usize::MAX, |days| days.floor() as usize);
    let planned = pickups::schedule(&daily, most, days)
        .map_err(|day| too_much_in_a_day(day, daily[day - 1], most))?;
    Ok(planned.into_iter().map(count).collect())
}

fn too_much_in_a_day(day: usize, arising: f64, most: f64) -> Refusal {
    let detail = "On day {} alone {} of waste arises, more than the {} that may be on site, so \
                  that no day of pickup keeps the limit. Share the changes out over more months, \
                  let them fall over the month, or leave the storage limits out to see the \
                  projection without pickups.";
    let detail = Sentence::new(detail)
        .with(Measure::bare(count(day)))
        .with(Measure::of(Mass::ROW, arising))
        .with(Measure::of(Mass::ROW, most));
    Refusal::new(Kind::Unreachable, "/storage", detail)
}

impl StreamAccount {
    /// Counts the containers that are begun. A pickup takes away those that are
    /// not full; without pickups they stand until they are.
    fn fill_containers(&mut self, terms: &StreamTerms, pickups: &[f64]) {
        let Some(container) = &terms.container else { return };
        let fill = container.fill.map_or(1.0, super::share);
        let by_volume = container.volume.map_or(f64::INFINITY, |v| v.get() * fill);
        let by_mass = container.mass.map_or(f64::INFINITY, Quantity::get);
        let begun = |volume: f64, mass: f64| {
            let full = (volume / by_volume).max(mass / by_mass);
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
        for (month, cost) in self.cost.iter_mut().enumerate() {
            let containers = self.containers.as_ref().map_or(0.0, |begun| begun[month]);
            *cost = self.volume.in_month(month) * by_volume
                + self.mass.in_month(month) * by_mass
                + containers * by_container;
        }
    }
}

/// What is bought in each month.
fn bought(question: &Disposal, ledger: &Ledger) -> Vec<Fresh> {
    let price = question.concentrate.and_then(|concentrate| concentrate.price);
    let water_price = question.water.as_ref().and_then(|water| water.price);
    let drums = drums_by_month(question, ledger);
    let months = (0..ledger.months).map(|month| {
        let concentrate = match (question.drum(), &drums) {
            (Some(drum), Some(drums)) => drums[month].bought * drum.volume.get(),
            _ => volume(&ledger.in_month(month, Flow::Concentrate)),
        };
        let water = volume(&ledger.in_month(month, Flow::Water));
        Fresh {
            concentrate,
            water,
            concentrate_cost: concentrate * price.map_or(0.0, Quantity::get),
            water_cost: water * water_price.map_or(0.0, Quantity::get),
        }
    });
    months.collect()
}

/// Drums that are opened and emptied in a month.
#[derive(Debug, Clone, Copy)]
pub(super) struct Drums {
    pub bought: f64,
    pub emptied: f64,
}

/// The drums of each month, where concentrate comes in drums: one is bought when
/// the last is used up.
pub(super) fn drums_by_month(question: &Disposal, ledger: &Ledger) -> Option<Vec<Drums>> {
    let holds = question.drum()?.volume.get();
    let (mut used, mut opened, mut emptied) = (0.0, 0.0, 0.0);
    let months = (0..ledger.months).map(|month| {
        used += volume(&ledger.in_month(month, Flow::Concentrate));
        let drums = used / holds;
        // A drum that is used up to the last bit is empty, and no other is open.
        let rounding = 1e-10 * drums;
        let (open, empty) = ((drums - rounding).ceil(), (drums + rounding).floor());
        let month = Drums { bought: open - opened, emptied: empty - emptied };
        (opened, emptied) = (open, empty);
        month
    });
    Some(months.collect())
}
