//! A job sheet walked through with tanks and basket in hand: what any round
//! must keep at any moment.

use std::collections::{BTreeMap, BTreeSet};
use sumpwright_engine::calculations::recharge::{
    Recharge, RechargeAnswer, SheetAction, SheetStep, SumpToClean,
};
use sumpwright_engine::quantity::Quantity;

/// The share by which a sum of rounded numbers may miss what it stands for.
const ROUNDING: f64 = 1e-9;

pub(crate) fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= ROUNDING * (1.0 + a.abs().max(b.abs()))
}

fn within(amount: f64, limit: f64) -> bool {
    amount <= limit * (1.0 + ROUNDING)
}

#[derive(Default)]
struct Carried {
    clean: f64,
    /// The batch in the clean tank.
    batch: Option<f64>,
    dirty: f64,
    dirty_products: BTreeSet<String>,
    chips: f64,
    sucked: BTreeMap<String, f64>,
    fetched: BTreeMap<String, f64>,
    flushed: BTreeMap<String, f64>,
    refilled: BTreeMap<String, f64>,
    minutes: f64,
}

/// Walks through the answer's sheet and panics where the round breaks a law.
pub(crate) fn holds(question: &Recharge, answer: &RechargeAnswer) {
    let usable = question.carrier.dirty_tank.get() * question.carrier.usable_share.get() / 100.0;
    let mut carried = Carried::default();
    for step in &answer.sheet {
        carried.take(question, answer, step);
        assert!(within(carried.clean, question.carrier.clean_tank.get()), "clean tank: {step:?}");
        assert!(within(carried.dirty, usable), "dirty tank {}: {step:?}", carried.dirty);
        assert!(within(carried.chips, question.carrier.solids_basket.get()), "basket: {step:?}");
        let may_mix = question.mixing_dirty.unwrap_or(false);
        assert!(may_mix || carried.dirty_products.len() <= 1, "dirty products meet: {step:?}");
    }
    assert!(carried.clean.abs() < 1e-6 && carried.dirty == 0.0 && carried.chips == 0.0);
    carried.adds_up(question, answer);
}

impl Carried {
    fn take(&mut self, question: &Recharge, answer: &RechargeAnswer, step: &SheetStep) {
        let volume = step.volume.map_or(0.0, Quantity::get);
        let mass = step.mass.map_or(0.0, Quantity::get);
        let batch = step.batch.map(Quantity::get);
        let sump = step.sump.clone().unwrap_or_default();
        self.minutes += step.minutes.map_or(0.0, Quantity::get);
        match step.action {
            SheetAction::LoadClean => {
                assert!(self.clean.abs() < 1e-6, "loaded on top of {}", self.clean);
                (self.clean, self.batch) = (volume, batch);
            }
            SheetAction::SuckOut => {
                self.dirty += volume;
                self.chips += mass;
                if volume > 0.0 {
                    let product = named(question, &sump).product.clone();
                    self.dirty_products.insert(product);
                }
                assert_eq!(self.refilled.get(&sump), None, "sucked out after the refill");
                *self.sucked.entry(sump.clone()).or_default() += volume;
                *self.fetched.entry(sump).or_default() += mass;
            }
            SheetAction::Flush => *self.flushed.entry(sump).or_default() += volume,
            SheetAction::Refill => {
                assert_eq!(batch, self.batch, "refilled from another batch than was loaded");
                let of = batch_of(answer, batch).product.clone();
                assert_eq!(of, named(question, &sump).product, "products meet");
                self.clean -= volume;
                *self.refilled.entry(sump).or_default() += volume;
            }
            SheetAction::EmptyBasket => {
                let on_the_way = question.times.basket_emptying_minutes.is_some();
                assert!(on_the_way || step.sump.is_none(), "emptied on the way: {step:?}");
                assert!(same(mass, self.chips));
                self.chips = 0.0;
            }
            SheetAction::EmptyDirtyTank => {
                assert!(same(volume, self.dirty));
                self.dirty = 0.0;
                self.dirty_products.clear();
            }
            _ => {}
        }
    }

    /// What was moved sump by sump is what the trips carried and what the answer
    /// says of each sump.
    fn adds_up(&self, question: &Recharge, answer: &RechargeAnswer) {
        let of =
            |moved: &BTreeMap<String, f64>, name: &str| moved.get(name).copied().unwrap_or(0.0);
        for (sump, done) in question.sumps.iter().zip(&answer.sumps) {
            let name = &sump.name;
            let removed = done.removed.get() + done.flushed.get();
            assert!(same(of(&self.sucked, name), removed), "{name} was not sucked out");
            assert!(same(of(&self.flushed, name), done.flushed.get()), "{name} was not flushed");
            assert!(same(of(&self.fetched, name), sump.solids.get()), "chips stay in {name}");
            assert!(same(of(&self.refilled, name), done.refill.volume.get()), "{name} is not full");
            let after = sump.residue.get() + done.refill.volume.get();
            assert!(same(after, done.after.volume.get()) && same(after, sump.volume.get()));
        }
        let all = |moved: &BTreeMap<String, f64>| moved.values().sum::<f64>();
        let hauled = |of: fn(&sumpwright_engine::calculations::recharge::Haul) -> f64| {
            answer.hauls.iter().map(of).sum::<f64>()
        };
        assert!(same(all(&self.sucked), hauled(|haul| haul.dirty.get())));
        assert!(same(all(&self.refilled), hauled(|haul| haul.clean.get())));
        assert!(same(all(&self.fetched), hauled(|haul| haul.solids.get())));
        assert!(same(self.minutes, hauled(|haul| haul.minutes.get())));
        assert!(same(self.minutes / 60.0, answer.crew_hours.get()));
        let made: f64 = answer.batches.iter().map(|batch| batch.volume.get()).sum();
        assert!(same(made, all(&self.refilled)), "batches do not add up to the refills");
        stocks_keep_to_their_products(question, answer);
    }
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
) -> &sumpwright_engine::calculations::recharge::Batch {
    let found = answer.batches.iter().zip(1..).find(|(_, n)| number == Some(f64::from(*n)));
    found.expect("a batch of the round").0
}
