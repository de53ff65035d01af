//! A round done step by step: each step written down, its time passed, what it
//! moves taken from one vessel to another.

use super::dilution::Cleaned;
use super::mixed::Mixed;
use super::trips::{Load, Trip};
use super::{Recharge, SheetAction, SheetStep, count};
use crate::numerics::packing::fits;
use crate::quantity::{Concentration, Count, Mass, Minutes, Quantity, Volume};
use crate::refusal::Refusal;
use crate::stock::Stock;

/// What there is to suck out of a sump, in its order.
#[derive(Debug, Clone, Copy)]
enum Portion {
    Old(f64),
    /// A flush that is still to be hosed in.
    ToFlush(f64),
    /// What is left of one that was.
    Flushed(f64),
}

/// A round on the way: where the clock stands and what tanks and basket hold.
pub(super) struct Walk<'a> {
    round: &'a Recharge,
    pub(super) steps: Vec<SheetStep>,
    pub(super) clock: f64,
    basket: f64,
    pub(super) basket_emptyings: f64,
    dirty_tank: f64,
    /// What is still to be sucked out of each sump, the first last.
    to_suck: Vec<Vec<Portion>>,
    /// When each sump was locked out and when it was full again, min.
    pub(super) out_of_service: Vec<Option<(f64, f64)>>,
    haul: Option<Count>,
}

impl<'a> Walk<'a> {
    pub(super) fn new(round: &'a Recharge, cleaned: &[Cleaned]) -> Self {
        let portions = round.sumps.iter().zip(cleaned).map(|(sump, cleaned)| {
            let mut portions = Vec::new();
            if let Some(flush) = &sump.flush {
                portions.resize(flush.whole_times(), Portion::ToFlush(flush.volume.get()));
            }
            if cleaned.pumped.volume > 0.0 {
                portions.push(Portion::Old(cleaned.pumped.volume));
            }
            portions
        });
        Self {
            round,
            steps: Vec::new(),
            clock: 0.0,
            basket: 0.0,
            basket_emptyings: 0.0,
            dirty_tank: 0.0,
            to_suck: portions.collect(),
            out_of_service: vec![None; cleaned.len()],
            haul: None,
        }
    }

    /// Writes down a step of the trip, and lets its time pass.
    fn step(&mut self, minutes: f64, step: SheetStep) -> Result<(), Refusal> {
        self.clock += minutes;
        self.steps.push(SheetStep {
            haul: self.haul,
            minutes: Some(Minutes::of(minutes)?),
            ..step
        });
        Ok(())
    }

    /// Writes down how a batch is made, the weakest stock first.
    pub(super) fn prepare(
        &mut self,
        number: usize,
        batch: &Mixed,
        stocks: &[Stock],
    ) -> Result<(), Refusal> {
        let of_batch = |action: SheetAction| {
            let (number, product) = (Some(count(number + 1)?), Some(batch.product.clone()));
            Ok(SheetStep { batch: number, product, ..action.step() })
        };
        for (place, (stock, v)) in batch.poured(stocks).into_iter().enumerate() {
            let action = if place == 0 { SheetAction::Pour } else { SheetAction::StirIn };
            self.steps.push(SheetStep {
                stock: Some(stock.name.clone()),
                volume: Some(Volume::of(v)?),
                concentration: Some(stock.concentration),
                ..of_batch(action)?
            });
        }
        self.steps.push(SheetStep {
            volume: Some(Volume::of(batch.fluid.volume)?),
            concentration: Some(Concentration::of(batch.concentration)?),
            ..of_batch(SheetAction::CheckBatch)?
        });
        Ok(())
    }

    pub(super) fn trip(
        &mut self,
        number: usize,
        trip: &Trip,
        batch: &Mixed,
        empties_dirty_tank: bool,
    ) -> Result<(), Refusal> {
        let times = &self.round.times;
        self.haul = Some(count(number + 1)?);
        if trip.clean() > 0.0 {
            let minutes = times.loading_minutes.map_or(0.0, Quantity::get);
            let step = SheetStep {
                batch: Some(count(trip.batch + 1)?),
                product: Some(batch.product.clone()),
                volume: Some(Volume::of(trip.clean())?),
                concentration: Some(Concentration::of(batch.concentration)?),
                ..SheetAction::LoadClean.step()
            };
            self.step(minutes, step)?;
        }
        for load in &trip.loads {
            self.serve(load, trip.batch, batch)?;
        }
        self.step(times.travel_minutes.get(), SheetAction::DriveBack.step())?;
        if self.basket > 0.0 {
            self.empty_basket(None)?;
        }
        if empties_dirty_tank {
            let product = (!self.round.may_mix_dirty()).then(|| batch.product.clone());
            let volume = Some(Volume::of(std::mem::take(&mut self.dirty_tank))?);
            let step = SheetStep { product, volume, ..SheetAction::EmptyDirtyTank.step() };
            self.step(times.tank_emptying_minutes.get(), step)?;
        }
        Ok(())
    }

    /// All that a trip does at one machine.
    fn serve(&mut self, load: &Load, number: usize, batch: &Mixed) -> Result<(), Refusal> {
        let round = self.round;
        let at_sump = |action: SheetAction| SheetStep {
            sump: Some(round.sumps[load.sump].name.clone()),
            ..action.step()
        };
        let (travel, setup) = (round.times.travel_minutes.get(), round.times.setup_minutes.get());
        let arrival = self.clock + travel;
        self.step(travel + setup, at_sump(SheetAction::SetUp))?;
        self.suck_out(load)?;
        if load.clean > 0.0 {
            let step = SheetStep {
                batch: Some(count(number + 1)?),
                product: Some(batch.product.clone()),
                volume: Some(Volume::of(load.clean)?),
                concentration: Some(Concentration::of(batch.concentration)?),
                ..at_sump(SheetAction::Refill)
            };
            self.step(load.clean / round.carrier.discharge_rate.get(), step)?;
        }
        let locked = &mut self.out_of_service[load.sump];
        let from = locked.map_or(arrival, |(from, _)| from);
        *locked = Some((from, self.clock));
        Ok(())
    }

    /// Sucks a load out of its sump, portion by portion; chips come along evenly.
    fn suck_out(&mut self, load: &Load) -> Result<(), Refusal> {
        // With the refill on board nothing may stay behind, not even what
        // rounding left over.
        let all = load.clean > 0.0;
        let mut left = load.dirty;
        if load.dirty <= 0.0 && load.solids > 0.0 {
            self.suck(load.sump, 0.0, load.solids)?;
        }
        while let Some(portion) = self.to_suck[load.sump].pop() {
            let there = match portion {
                Portion::ToFlush(volume) => {
                    if !all && left <= 0.0 {
                        self.to_suck[load.sump].push(portion);
                        break;
                    }
                    self.flush(load.sump, volume)?;
                    volume
                }
                Portion::Old(volume) | Portion::Flushed(volume) => volume,
            };
            let taken = if all || fits(there, left) { there } else { left };
            if taken > 0.0 {
                self.suck(load.sump, taken, load.solids * taken / load.dirty)?;
            }
            left -= taken;
            if taken < there {
                let rest = there - taken;
                self.to_suck[load.sump].push(match portion {
                    Portion::Old(_) => Portion::Old(rest),
                    _ => Portion::Flushed(rest),
                });
                break;
            }
        }
        Ok(())
    }

    fn flush(&mut self, sump: usize, volume: f64) -> Result<(), Refusal> {
        let round = self.round;
        let pumping = volume / round.carrier.discharge_rate.get();
        let minutes = round.times.flush_minutes.map_or(pumping, Quantity::get);
        let step = SheetStep {
            sump: Some(round.sumps[sump].name.clone()),
            stock: round.sumps[sump].flush.as_ref().map(|flush| flush.stock.clone()),
            volume: Some(Volume::of(volume)?),
            ..SheetAction::Flush.step()
        };
        self.step(minutes, step)
    }

    /// Sucks out fluid with its chips, emptying the basket as often as it is full.
    fn suck(&mut self, sump: usize, volume: f64, solids: f64) -> Result<(), Refusal> {
        let basket = self.round.carrier.solids_basket.get();
        let (mut volume, mut solids) = (volume, solids);
        while !fits(self.basket + solids, basket) {
            let room = basket - self.basket;
            if room > 0.0 {
                let part = volume * room / solids;
                self.suck_at_once(sump, part, room)?;
                (volume, solids) = (volume - part, solids - room);
            }
            self.empty_basket(Some(sump))?;
        }
        self.suck_at_once(sump, volume, solids)
    }

    fn suck_at_once(&mut self, sump: usize, volume: f64, solids: f64) -> Result<(), Refusal> {
        self.basket += solids;
        self.dirty_tank += volume;
        let step = SheetStep {
            sump: Some(self.round.sumps[sump].name.clone()),
            volume: Some(Volume::of(volume)?),
            mass: Some(Mass::of(solids)?),
            ..SheetAction::SuckOut.step()
        };
        self.step(volume / self.round.carrier.suction_rate.get(), step)
    }

    fn empty_basket(&mut self, sump: Option<usize>) -> Result<(), Refusal> {
        self.basket_emptyings += 1.0;
        let mass = Some(Mass::of(std::mem::take(&mut self.basket))?);
        let sump = sump.map(|sump| self.round.sumps[sump].name.clone());
        let minutes = self.round.times.basket_emptying_minutes.map_or(0.0, Quantity::get);
        self.step(minutes, SheetStep { sump, mass, ..SheetAction::EmptyBasket.step() })
    }
}
