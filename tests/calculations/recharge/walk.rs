//! Follows a job sheet step by step with its vessels, and checks each step.

use std::collections::{BTreeMap, BTreeSet};
use sumpwright_engine::calculations::shop::recharge::{
    Recharge, RechargeAnswer, RoundTrip, SheetAction, SheetStep, SumpToClean, Vessel, VesselUse,
};
use sumpwright_engine::quantity::Quantity;

/// Relative tolerance of a sum of rounded numbers.
const ROUNDING: f64 = 1e-9;

pub(crate) fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= ROUNDING * (1.0 + a.abs().max(b.abs()))
}

fn within(amount: f64, limit: f64) -> bool {
    amount <= limit * (1.0 + ROUNDING)
}

#[derive(Default)]
struct Carried {
    /// The contents of each vessel by name; under an empty name if there is no vessel.
    vessels: BTreeMap<Option<String>, f64>,
    /// The batch in the vessels for clean fluid.
    batch: Option<f64>,
    /// The product that hoses and vessels were last used for.
    product: Option<String>,
    dirty_products: BTreeSet<String>,
    taken_out: BTreeMap<String, f64>,
    fetched: BTreeMap<String, f64>,
    rinsed: BTreeMap<String, f64>,
    refilled: BTreeMap<String, f64>,
    scraped: BTreeSet<String>,
    /// Chips collected and not emptied yet.
    chips: f64,
    chips_emptied: f64,
    minutes: f64,
}

/// Walks through the answer's sheet and panics if the round breaks a law.
pub(crate) fn holds(question: &Recharge, answer: &RechargeAnswer) {
    let mut carried = Carried::default();
    let has_chip_vessel = for_chips(question).next().is_some();
    for step in &answer.sheet {
        carried.take(question, answer, step);
        for vessel in question.vessels.iter().flatten().filter(|v| v.holds != VesselUse::Chips) {
            let share = vessel.usable_share.map_or(100.0, Quantity::get) / 100.0;
            let usable = vessel.capacity.expect("a capacity").get() * share;
            let inside =
                carried.vessels.get(&Some(vessel.name.to_string())).copied().unwrap_or(0.0);
            assert!(within(inside, usable), "{} holds {inside}: {step:?}", vessel.name);
        }
        let load: f64 = for_chips(question).filter_map(|v| v.rated_load).map(Quantity::get).sum();
        assert!(!has_chip_vessel || within(carried.chips, load), "chips: {step:?}");
        let may_mix = question.mixing_dirty.unwrap_or(false);
        assert!(may_mix || carried.dirty_products.len() <= 1, "dirty products meet: {step:?}");
    }
    let left = carried.vessels.iter().filter(|(name, _)| name.is_some());
    left.for_each(|(name, volume)| assert!(volume.abs() < 1e-6, "{name:?} is left with {volume}"));
    assert!(!has_chip_vessel || carried.chips == 0.0);
    carried.adds_up(question, answer);
}

fn for_chips(question: &Recharge) -> impl Iterator<Item = &Vessel> {
    question.vessels.iter().flatten().filter(|vessel| vessel.holds == VesselUse::Chips)
}

impl Carried {
    fn take(&mut self, question: &Recharge, answer: &RechargeAnswer, step: &SheetStep) {
        let volume = step.volume.map_or(0.0, Quantity::get);
        let mass = step.mass.map_or(0.0, Quantity::get);
        let batch = step.batch.map(Quantity::get);
        let sump = step.sump.clone().unwrap_or_default();
        self.minutes += step.minutes.map_or(0.0, Quantity::get);
        let inside = self.vessels.entry(step.vessel.clone()).or_default();
        match step.action {
            SheetAction::Wash => self.product.clone_from(&step.product),
            SheetAction::Load => {
                *inside += volume;
                self.batch = batch;
            }
            SheetAction::TakeOut => {
                *inside += volume;
                self.chips += mass;
                if volume > 0.0 && step.vessel.is_some() {
                    let product = named(question, &sump).product.to_string();
                    self.dirty_products.insert(product);
                }
                assert_eq!(self.refilled.get(&sump), None, "taken out after the refill");
                *self.taken_out.entry(sump.clone()).or_default() += volume;
                *self.fetched.entry(sump).or_default() += mass;
            }
            SheetAction::Scrape => {
                let done = self.taken_out.get(&sump).copied().unwrap_or(0.0);
                let removed = answer.sumps.iter().find(|s| s.name == sump).expect("it").removed;
                assert!(same(done, removed.get()), "{sump} is scraped before it is empty");
                assert_eq!(self.rinsed.get(&sump), None, "{sump} is scraped after its rinse");
                assert!(self.scraped.insert(sump), "scraped twice");
            }
            SheetAction::Rinse => *self.rinsed.entry(sump).or_default() += volume,
            SheetAction::Refill => {
                let of = batch_of(answer, batch).product.clone();
                assert_eq!(named(question, &sump).product, of, "products meet");
                if step.vessel.is_some() {
                    assert_eq!(batch, self.batch, "refilled from another batch than was loaded");
                    *inside -= volume;
                }
                if step.trip.is_some() {
                    let last = self.product.get_or_insert_with(|| of.clone());
                    assert_eq!(*last, of, "hoses were not washed between products");
                }
                *self.refilled.entry(sump).or_default() += volume;
            }
            SheetAction::EmptyChips => {
                let on_the_way = for_chips(question).all(|v| v.emptied_on_the_way == Some(true));
                assert!(on_the_way || step.sump.is_none(), "emptied on the way: {step:?}");
                self.chips -= mass;
                self.chips_emptied += mass;
                if self.chips.abs() < 1e-9 * (1.0 + self.chips_emptied) {
                    self.chips = 0.0;
                }
            }
            SheetAction::EmptyDirty => {
                assert!(same(volume, *inside));
                *inside = 0.0;
                let dirty =
                    question.vessels.iter().flatten().filter(|v| v.holds == VesselUse::Dirty);
                let empty = dirty
                    .map(|v| self.vessels.get(&Some(v.name.to_string())).copied().unwrap_or(0.0))
                    .all(|left| left.abs() < 1e-9);
                if empty {
                    self.dirty_products.clear();
                }
            }
            _ => {}
        }
    }

    /// The volumes moved sump by sump equal those that the trips carried and those in the
    /// answer for each sump.
    fn adds_up(&self, question: &Recharge, answer: &RechargeAnswer) {
        let of =
            |moved: &BTreeMap<String, f64>, name: &str| moved.get(name).copied().unwrap_or(0.0);
        for (sump, done) in question.sumps.iter().zip(&answer.sumps) {
            let name = &sump.name;
            let removed = done.removed.get() + done.rinsed.get();
            assert!(same(of(&self.taken_out, name), removed), "{name} was not emptied");
            assert!(same(of(&self.rinsed, name), done.rinsed.get()), "{name} was not rinsed");
            let chips = sump.chips.map_or(0.0, Quantity::get);
            assert!(same(of(&self.fetched, name), chips), "chips stay in {name}");
            assert!(same(of(&self.refilled, name), done.refill.volume.get()), "{name} is not full");
            assert_eq!(
                self.scraped.contains(name.as_str()),
                sump.scraping_minutes.is_some(),
                "{name}"
            );
            let after = sump.residue.map_or(0.0, Quantity::get) + done.refill.volume.get();
            assert!(same(after, done.after.volume.get()) && same(after, sump.volume.get()));
        }
        let all = |moved: &BTreeMap<String, f64>| moved.values().sum::<f64>();
        let made: f64 = answer.batches.iter().map(|batch| batch.volume.get()).sum();
        assert!(same(made, all(&self.refilled)), "batches do not add up to the refills");
        let mixed: f64 = answer.rinse_mixes.iter().map(|mix| mix.volume.get()).sum();
        let rinsed_with_mixes =
            question.sumps.iter().zip(&answer.sumps).filter(|(sump, _)| {
                sump.rinse.as_ref().is_some_and(|rinse| rinse.strength.is_some())
            });
        assert!(same(mixed, rinsed_with_mixes.map(|(_, done)| done.rinsed.get()).sum()));
        if let Some(trips) = &answer.trips {
            let trips = |of: fn(&RoundTrip) -> f64| trips.iter().map(of).sum::<f64>();
            assert!(same(all(&self.taken_out), trips(|trip| trip.dirty.get())));
            assert!(same(all(&self.refilled), trips(|trip| trip.clean.get())));
            assert!(same(all(&self.fetched), trips(|trip| trip.chips.get())));
            let minutes = |trip: &RoundTrip| trip.minutes.map_or(0.0, Quantity::get);
            assert!(same(self.minutes, trips(minutes)));
        }
        assert!(same(self.minutes / 60.0, answer.crew_hours.map_or(0.0, Quantity::get)));
        batches_are_made_as_they_say(answer);
        stocks_keep_to_their_products(question, answer);
    }
}

/// The quantities poured and stirred, mix by mix, are those of the batches; only concentrate
/// is stirred in, and nothing is poured onto it.
fn batches_are_made_as_they_say(answer: &RechargeAnswer) {
    let mut made = 0.0;
    for step in &answer.sheet {
        let times = step.times.map_or(1.0, Quantity::get);
        let strength = step.concentration.map_or(0.0, Quantity::get);
        match step.action {
            SheetAction::PourOn => assert!(strength <= 20.0, "{step:?}"),
            SheetAction::StirIn => assert!(strength > 20.0, "{step:?}"),
            SheetAction::Pour => {}
            _ => continue,
        }
        made += step.volume.map_or(0.0, Quantity::get) * times;
    }
    let mixes = answer.batches.iter().chain(&answer.rinse_mixes);
    assert!(same(made, mixes.map(|mix| mix.volume.get()).sum()));
}

fn stocks_keep_to_their_products(question: &Recharge, answer: &RechargeAnswer) {
    for batch in &answer.batches {
        for take in batch.take.iter().filter(|take| take.volume.get() > 0.0) {
            let stock = question.stocks.iter().find(|stock| stock.name == take.name).unwrap();
            assert!(stock.product.as_ref().is_none_or(|own| *own == batch.product));
        }
    }
}

fn named<'a>(question: &'a Recharge, name: &str) -> &'a SumpToClean {
    question.sumps.iter().find(|sump| sump.name == name).expect("a sump of the round")
}

fn batch_of(
    answer: &RechargeAnswer,
    number: Option<f64>,
) -> &sumpwright_engine::calculations::shop::recharge::RoundBatch {
    let found = answer.batches.iter().zip(1..).find(|(_, n)| number == Some(f64::from(*n)));
    found.expect("a batch of the round").0
}
