//! A round done step by step: each step written down, its time passed, what it
//! moves taken from one vessel to another.

use super::dilution::Cleaned;
use super::held::{Held, VesselPart};
use super::mixed::Mixed;
use super::trips::{Load, Trip};
use super::{Recharge, SheetAction, SheetStep, Vessel, VesselUse};
use crate::numerics::order;
use crate::numerics::packing::fits;
use crate::quantity::{Concentration, Count, Hours, Mass, Minutes, Quantity, Volume};
use crate::text::Refusal;

/// What there is to do at a sump before its refill, in its order.
#[derive(Debug, Clone, Copy)]
enum Portion {
    /// Old fluid to take out, L.
    Old(f64),
    Scrape,
    /// A rinse that is still to go in, L.
    ToRinse(f64),
    /// What is left of one that went in, L.
    Rinsed(f64),
}

/// Minutes that hang on which vessel is used for what.
#[derive(Debug, Default)]
pub(super) struct Spent {
    pub(super) filling: f64,
    pub(super) emptying: f64,
    pub(super) emptying_chips: f64,
    pub(super) pumping: f64,
}

/// A round on the way: where the clock stands and what the vessels hold.
pub(super) struct RoundUnderWay<'a> {
    round: &'a Recharge,
    pub(super) steps: Vec<SheetStep>,
    pub(super) clock: f64,
    pub(super) spent: Spent,
    pub(super) chip_emptyings: f64,
    /// The most chips that were in the vessels for them, kg.
    pub(super) most_chips: f64,
    chips: f64,
    /// What the vessels for chips take together, kg.
    chips_hold: f64,
    clean: Held,
    dirty: Held,
    /// What is still to be done at each sump, the first last.
    to_do: Vec<Vec<Portion>>,
    /// When each sump was locked out and when it was full again, min.
    pub(super) out_of_service: Vec<Option<(f64, f64)>>,
    trip: Option<Count>,
}

impl<'a> RoundUnderWay<'a> {
    pub(super) fn new(round: &'a Recharge, cleaned: &[Cleaned]) -> Self {
        let portions = round.sumps.iter().zip(cleaned).map(|(sump, cleaned)| {
            let mut portions = Vec::new();
            if let Some(rinse) = &sump.rinse {
                portions.resize(rinse.whole_times(), Portion::ToRinse(rinse.volume.get()));
            }
            if sump.scraping_minutes.is_some() {
                portions.push(Portion::Scrape);
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
            spent: Spent::default(),
            chip_emptyings: 0.0,
            most_chips: 0.0,
            chips: 0.0,
            chips_hold: round.hold().chips,
            clean: Held::of(round, VesselUse::Clean),
            dirty: Held::of(round, VesselUse::Dirty),
            to_do: portions.collect(),
            out_of_service: vec![None; cleaned.len()],
            trip: None,
        }
    }

    /// Writes down a step of the round, and lets its time pass.
    fn step(&mut self, minutes: f64, step: SheetStep) -> Result<(), Refusal> {
        self.clock += minutes;
        let minutes = self.round.is_timed().then(|| Minutes::of(minutes)).transpose()?;
        self.steps.push(SheetStep { trip: self.trip, minutes, ..step });
        Ok(())
    }

    /// Writes down which sumps get cleaner beforehand, the longest first.
    pub(super) fn circulate(&mut self, cleaned: &[Cleaned]) -> Result<(), Refusal> {
        let sumps = self.round.sumps.iter().zip(cleaned);
        let mut steps: Vec<SheetStep> = Vec::new();
        for (sump, cleaned) in sumps {
            let Some(cleaner) = sump.cleaner else { continue };
            steps.push(SheetStep {
                sump: Some(sump.name.to_string()),
                volume: Some(Volume::of(cleaned.cleaner.volume)?),
                hours: Some(cleaner.hours),
                ..SheetAction::CirculateCleaner.step()
            });
        }
        let longest = |step: &SheetStep| step.hours.map_or(0.0, Hours::get);
        order::greatest_first(&mut steps, longest);
        self.steps.extend(steps);
        Ok(())
    }

    /// Writes down steps of making a batch or a mix.
    pub(super) fn prepare(&mut self, steps: Vec<SheetStep>) {
        self.steps.extend(steps);
    }

    /// Serves sumps without any vessel: what they take, and no more.
    pub(super) fn serve_all(&mut self, trip: &Trip, batch: &Mixed) -> Result<(), Refusal> {
        trip.loads.iter().try_for_each(|load| self.serve(load, trip.batch, batch))
    }

    pub(super) fn trip(
        &mut self,
        number: usize,
        trip: &Trip,
        batch: &Mixed,
        (washes, empties_dirty): (bool, bool),
    ) -> Result<(), Refusal> {
        self.trip = Some(Count::from_usize(number + 1)?);
        if washes {
            let minutes = self.round.time(|times| times.washing_minutes);
            let product = Some(batch.product.clone());
            self.step(minutes, SheetStep { product, ..SheetAction::Wash.step() })?;
        }
        if trip.clean() > 0.0 && self.round.has_vessel_for(VesselUse::Clean) {
            for part in self.clean.put(trip.clean()) {
                let minutes = self.of_vessel(part, Vessel::filling);
                self.spent.filling += minutes;
                let step = SheetStep {
                    batch: Some(Count::from_usize(trip.batch + 1)?),
                    product: Some(batch.product.clone()),
                    concentration: Some(Concentration::of(batch.concentration)?),
                    ..self.moving(SheetAction::Load, part)?
                };
                self.step(minutes, step)?;
            }
        }
        self.serve_all(trip, batch)?;
        self.step(self.round.time(|times| times.drive_minutes), SheetAction::DriveBack.step())?;
        if self.chips > 0.0 {
            self.empty_chips(None)?;
        }
        if empties_dirty {
            for part in self.dirty.empty() {
                let minutes = self.of_vessel(part, Vessel::emptying);
                self.spent.emptying += minutes;
                let product = (!self.round.may_mix_dirty()).then(|| batch.product.clone());
                let step = self.moving(SheetAction::EmptyDirty, part)?;
                self.step(minutes, SheetStep { product, ..step })?;
            }
        }
        Ok(())
    }

    /// All that a trip does at one machine.
    fn serve(&mut self, load: &Load, number: usize, batch: &Mixed) -> Result<(), Refusal> {
        let drive = self.round.time(|times| times.drive_minutes);
        let setup = self.round.time(|times| times.setup_minutes);
        let arrival = self.clock + drive;
        self.step(drive + setup, self.at(load.sump, SheetAction::SetUp.step()))?;
        self.empty_out(load)?;
        if load.clean > 0.0 {
            for part in self.clean.draw(load.clean) {
                let minutes = self.of_vessel(part, |vessel| vessel.pumping(part.1));
                self.spent.pumping += minutes;
                let step = SheetStep {
                    batch: Some(Count::from_usize(number + 1)?),
                    product: Some(batch.product.clone()),
                    concentration: Some(Concentration::of(batch.concentration)?),
                    ..self.moving(SheetAction::Refill, part)?
                };
                self.step(minutes, self.at(load.sump, step))?;
            }
        }
        let locked = &mut self.out_of_service[load.sump];
        let from = locked.map_or(arrival, |(from, _)| from);
        *locked = Some((from, self.clock));
        Ok(())
    }

    /// Takes a load out of its sump, portion by portion; chips come along evenly.
    fn empty_out(&mut self, load: &Load) -> Result<(), Refusal> {
        // With the refill at hand nothing may stay behind, not even what
        // rounding left over.
        let all = load.clean > 0.0;
        let mut left = load.dirty;
        if load.dirty <= 0.0 && load.chips > 0.0 {
            self.take_out(load.sump, 0.0, load.chips)?;
        }
        while let Some(portion) = self.to_do[load.sump].pop() {
            let waits = matches!(portion, Portion::Scrape | Portion::ToRinse(_));
            if waits && !all && left <= 0.0 {
                self.to_do[load.sump].push(portion);
                break;
            }
            let there = match portion {
                Portion::Scrape => {
                    let minutes = self.round.sumps[load.sump].scraping_minutes;
                    let minutes = minutes.map_or(0.0, Quantity::get);
                    self.step(minutes, self.at(load.sump, SheetAction::Scrape.step()))?;
                    continue;
                }
                Portion::ToRinse(volume) => {
                    self.rinse(load.sump, volume)?;
                    volume
                }
                Portion::Old(volume) | Portion::Rinsed(volume) => volume,
            };
            let taken = if all || fits(there, left) { there } else { left };
            if taken > 0.0 {
                self.take_out(load.sump, taken, load.chips * taken / load.dirty)?;
            }
            left -= taken;
            if taken < there {
                let rest = there - taken;
                self.to_do[load.sump].push(match portion {
                    Portion::Old(_) => Portion::Old(rest),
                    _ => Portion::Rinsed(rest),
                });
                break;
            }
        }
        Ok(())
    }

    fn rinse(&mut self, sump: usize, volume: f64) -> Result<(), Refusal> {
        let round = self.round;
        let minutes = round.time(|times| times.rinse_minutes);
        let rinse = round.sumps[sump].rinse.as_ref();
        let step = SheetStep {
            stock: rinse.and_then(|rinse| rinse.stock.clone()),
            concentration: rinse.and_then(|rinse| rinse.strength),
            volume: Some(Volume::of(volume)?),
            ..SheetAction::Rinse.step()
        };
        self.step(minutes, self.at(sump, step))
    }

    /// Takes out fluid with its chips, emptying the vessels for chips as often as they
    /// are full.
    fn take_out(&mut self, sump: usize, volume: f64, chips: f64) -> Result<(), Refusal> {
        let (mut volume, mut chips) = (volume, chips);
        while !fits(self.chips + chips, self.chips_hold) {
            let room = self.chips_hold - self.chips;
            if room > 0.0 {
                let part = volume * room / chips;
                self.take_out_at_once(sump, part, room)?;
                (volume, chips) = (volume - part, chips - room);
            }
            self.empty_chips(Some(sump))?;
        }
        self.take_out_at_once(sump, volume, chips)
    }

    fn take_out_at_once(&mut self, sump: usize, volume: f64, chips: f64) -> Result<(), Refusal> {
        if self.chips_hold.is_finite() {
            self.chips += chips;
            self.most_chips = self.most_chips.max(self.chips);
        }
        for part in self.dirty.put(volume) {
            let share = if volume > 0.0 { part.1 / volume } else { 1.0 };
            let minutes = self.of_vessel(part, |vessel| vessel.pumping(part.1));
            self.spent.pumping += minutes;
            let mass = Some(Mass::of(chips * share)?);
            let step = SheetStep { mass, ..self.moving(SheetAction::TakeOut, part)? };
            self.step(minutes, self.at(sump, step))?;
        }
        Ok(())
    }

    /// Empties the vessels for chips, one after the other, as far as they are filled.
    fn empty_chips(&mut self, sump: Option<usize>) -> Result<(), Refusal> {
        self.chip_emptyings += 1.0;
        let round = self.round;
        let mut left = std::mem::take(&mut self.chips);
        for (place, takes) in round.takes(VesselUse::Chips) {
            let mass = left.min(takes);
            // The last of them has what rounding put on top.
            let mass = if fits(left, takes) { left } else { mass };
            if mass <= 0.0 {
                break;
            }
            left -= mass;
            let minutes = self.of_vessel((Some(place), 0.0), Vessel::emptying);
            self.spent.emptying_chips += minutes;
            let step = SheetStep {
                vessel: round.vessel_name(Some(place)),
                mass: Some(Mass::of(mass)?),
                ..SheetAction::EmptyChips.step()
            };
            let step = sump.map_or_else(|| step.clone(), |sump| self.at(sump, step.clone()));
            self.step(minutes, step)?;
        }
        Ok(())
    }

    fn at(&self, sump: usize, step: SheetStep) -> SheetStep {
        SheetStep { sump: Some(self.round.sumps[sump].name.to_string()), ..step }
    }

    /// A step that moves a volume with a vessel.
    fn moving(
        &self,
        action: SheetAction,
        (vessel, volume): VesselPart,
    ) -> Result<SheetStep, Refusal> {
        let vessel = self.round.vessel_name(vessel);
        Ok(SheetStep { vessel, volume: Some(Volume::of(volume)?), ..action.step() })
    }

    /// What a vessel takes its time for, min; no time where there is none.
    fn of_vessel(&self, (vessel, _): VesselPart, of: impl Fn(&Vessel) -> f64) -> f64 {
        let vessel = vessel.and_then(|place| self.round.vessels.as_ref()?.get(place));
        vessel.map_or(0.0, of)
    }
}

impl Recharge {
    fn vessel_name(&self, place: Option<usize>) -> Option<String> {
        place.and_then(|place| Some(self.vessels.as_ref()?.get(place)?.name.to_string()))
    }
}
