//! A sump over the months: what it takes in, what it loses, its changes.

use super::ledger::{CONCENTRATE, MATTER, OIL, SOLIDS, WATER, WasteLedger};
use super::machine::{ChangeRule, Machine, MonthLosses, RecyclerShares, WasteShop};
use super::stream::{MonthlyFlow, Timing, WasteStream};
use crate::numerics::cut_off::look;
use crate::numerics::phi::phi_1;
use crate::quantity::{Mass, Quantity, Volume};
use crate::sentence;
use crate::text::{Kind, Refusal};

/// What a month of mixing does to what is in a sump: with x the share of its
/// volume that is carried off in a month,
/// of the old e^−x stays, and of what comes in all month (1 − e^−x)/x.
struct Mixing {
    old_stays: f64,
    old_leaves: f64,
    new_stays: f64,
}

impl Mixing {
    fn of(x: f64) -> Self {
        Self { old_stays: (-x).exp(), old_leaves: -(-x).exp_m1(), new_stays: phi_1(-x) }
    }

    /// What is there after a month in which `new` comes in, and what has left.
    fn month(&self, old: f64, new: f64) -> (f64, f64) {
        let stays = old * self.old_stays + new * self.new_stays;
        (stays, old * self.old_leaves + new * (1.0 - self.new_stays))
    }
}

/// Sumps of a kind that are changed in the same months, walked through all months.
pub(super) struct SumpMonths<'a> {
    shop: &'a WasteShop,
    machine: &'a Machine,
    n: f64,
    /// Tramp oil and matter in one now, fines settled since they were dug out.
    oil: f64,
    matter: Vec<f64>,
    fines: f64,
    hours: f64,
}

/// Which of what is in a sump leaves with it, and how.
#[derive(Clone, Copy)]
struct Taken {
    stream: WasteStream,
    /// Fluid without its oil, L.
    fluid: f64,
    /// The share of the sump's oil and of its matter.
    oil: f64,
    matter: f64,
}

impl<'a> SumpMonths<'a> {
    pub(super) fn of(shop: &'a WasteShop, machine: &'a Machine, n: f64) -> Self {
        let now = if let ChangeRule::Hours { now, .. } = machine.rule { now } else { 0.0 };
        Self {
            shop,
            machine,
            n,
            oil: machine.oil,
            matter: machine.matter.clone(),
            fines: 0.0,
            hours: now,
        }
    }

    /// Walks through all months; `later` is by how many months these sumps come
    /// after the first of their group.
    pub(super) fn walk(mut self, later: usize, ledger: &mut WasteLedger) -> Result<(), Refusal> {
        ledger_state(&mut ledger.start, &self);
        for month in 0..ledger.months {
            look();
            self.month(month, ledger);
            let changed = self.is_changed(month + 1, later);
            let due =
                self.machine.fines_every.is_some_and(|every| (month + 1).is_multiple_of(every));
            if self.fines > 0.0 && (changed || due) {
                self.dig_out(month, ledger)?;
            }
            self.new_media(month, ledger);
            if self.is_past_limits() {
                ledger.past_limits[month] += self.n;
            }
            if changed {
                ledger.changes[month] += self.n;
                self.change(month, ledger);
            }
        }
        ledger_state(&mut ledger.end, &self);
        ledger.end[SOLIDS] += self.n * self.fines;
        Ok(())
    }

    fn mixing(&self, month: &MonthLosses) -> Mixing {
        Mixing::of((month.carried + month.skimmed_fluid) / self.machine.v)
    }

    /// A month of work: losses, topping up, leaks, fines.
    fn month(&mut self, month: usize, ledger: &mut WasteLedger) {
        let (c, n) = (self.machine.c, self.n);
        let m = self.machine.in_month(self.shop.worked[month]);
        let mixing = self.mixing(&m);
        let lost = m.carried + m.skimmed_fluid;
        let concentrate = m.carried_concentrate + c * m.skimmed_fluid;
        let water = m.evaporated + lost - concentrate;
        ledger.steady(month, MonthlyFlow::Evaporated)[WATER] += n * m.evaporated;
        ledger.steady(month, MonthlyFlow::Concentrate)[CONCENTRATE] += n * concentrate;
        ledger.steady(month, MonthlyFlow::Leaked)[OIL] += n * (m.leak_kept + m.leak_skimmed);
        ledger.steady(month, MonthlyFlow::Fines)[SOLIDS] += n * self.machine.fines;
        let carried = ledger.steady(month, MonthlyFlow::Waste(WasteStream::CarriedOff));
        carried[CONCENTRATE] += n * m.carried_concentrate;
        carried[WATER] += n * (m.carried - m.carried_concentrate);
        let skimmed = ledger.steady(month, MonthlyFlow::Waste(WasteStream::OilPhase));
        skimmed[CONCENTRATE] += n * c * m.skimmed_fluid;
        skimmed[WATER] += n * (1.0 - c) * m.skimmed_fluid;
        skimmed[OIL] += n * m.leak_skimmed;
        // Of the oil and the matter that leave, each stream takes its share.
        let on_chips = if lost > 0.0 { m.carried / lost } else { 0.0 };
        let (oil, oil_left) = mixing.month(self.oil, m.leak_kept);
        self.oil = oil;
        self.fines += self.machine.fines;
        let mut share_out = |column: usize, left: f64| {
            let streams =
                [(WasteStream::CarriedOff, on_chips), (WasteStream::OilPhase, 1.0 - on_chips)];
            for (stream, share) in streams {
                ledger.row_mut(month, MonthlyFlow::Waste(stream), Timing::Steady)[column] +=
                    n * left * share;
            }
        };
        share_out(OIL, oil_left);
        for (i, (matter, in_water)) in self.matter.iter_mut().zip(&self.shop.water).enumerate() {
            let (stays, left) = mixing.month(*matter, water * in_water);
            *matter = stays;
            share_out(MATTER + i, left);
        }
        self.draw_water(water, month, Timing::Steady, ledger);
    }

    fn draw_water(&self, litres: f64, month: usize, timing: Timing, ledger: &mut WasteLedger) {
        let row = ledger.row_mut(month, MonthlyFlow::Water, timing);
        row[WATER] += self.n * litres;
        for (cell, in_water) in row[MATTER..].iter_mut().zip(&self.shop.water) {
            *cell += self.n * litres * in_water;
        }
    }

    /// Books what leaves one of the sumps with what leaves all of them.
    fn book(&self, taken: Taken, month: usize, ledger: &mut WasteLedger) {
        let c = self.machine.c;
        let row = ledger.row_mut(month, MonthlyFlow::Waste(taken.stream), Timing::WithChanges);
        row[CONCENTRATE] += self.n * c * taken.fluid;
        row[WATER] += self.n * (1.0 - c) * taken.fluid;
        row[OIL] += self.n * self.oil * taken.oil;
        for (cell, matter) in row[MATTER..].iter_mut().zip(&self.matter) {
            *cell += self.n * matter * taken.matter;
        }
    }

    /// Takes fluid out as it is and fills up with fresh.
    fn take_and_fill_up(
        &mut self,
        stream: WasteStream,
        fluid: f64,
        month: usize,
        ledger: &mut WasteLedger,
    ) {
        let share = fluid / self.machine.v;
        self.book(Taken { stream, fluid, oil: share, matter: share }, month, ledger);
        self.oil *= 1.0 - share;
        let water = fluid * (1.0 - self.machine.c);
        for (matter, in_water) in self.matter.iter_mut().zip(&self.shop.water) {
            *matter = *matter * (1.0 - share) + water * in_water;
        }
        let concentrate = ledger.row_mut(month, MonthlyFlow::Concentrate, Timing::WithChanges);
        concentrate[CONCENTRATE] += self.n * fluid * self.machine.c;
        self.draw_water(water, month, Timing::WithChanges, ledger);
    }

    /// Digs out the fines with the fluid that clings to them.
    fn dig_out(&mut self, month: usize, ledger: &mut WasteLedger) -> Result<(), Refusal> {
        let fluid = self.fines * self.machine.fluid_with_fines;
        if fluid > self.machine.v {
            return Err(self.more_sludge_than_sump(fluid));
        }
        let flow = MonthlyFlow::Waste(WasteStream::Sludge);
        ledger.row_mut(month, flow, Timing::WithChanges)[SOLIDS] += self.n * self.fines;
        self.fines = 0.0;
        self.take_and_fill_up(WasteStream::Sludge, fluid, month, ledger);
        Ok(())
    }

    fn more_sludge_than_sump(&self, fluid: f64) -> Refusal {
        let detail = sentence!(
            "The sludge of one of these sumps, {} of dry fines since it was last dug out, would \
             hold {} of fluid, more than the sump. Dig it out more often, or check the fines and \
             their dry share.",
            Mass::measure_of(self.fines),
            Volume::measure_of(fluid)
        );
        Refusal::new(Kind::Inconsistent, format!("/groups/{}/fines", self.machine.place), detail)
    }

    /// Sets of filter media that have lasted their months.
    fn new_media(&mut self, month: usize, ledger: &mut WasteLedger) {
        let m = self.machine;
        let sets = sets_used_up(month + 1, m.media_every) - sets_used_up(month, m.media_every);
        if sets == 0.0 {
            return;
        }
        for flow in [MonthlyFlow::NewMedia, MonthlyFlow::Waste(WasteStream::FilterMedia)] {
            ledger.row_mut(month, flow, Timing::WithChanges)[SOLIDS] += self.n * sets * m.media;
        }
        let fluid = sets * m.fluid_in_media;
        if fluid > 0.0 {
            self.take_and_fill_up(WasteStream::FilterMedia, fluid, month, ledger);
        }
    }

    fn is_changed(&mut self, month: usize, later: usize) -> bool {
        match &self.machine.rule {
            ChangeRule::Never => false,
            ChangeRule::Calendar { every, first, .. } => {
                month >= first + later && (month - first - later).is_multiple_of(*every)
            }
            ChangeRule::Hours { full, monthly, .. } => {
                self.hours += monthly;
                let is_full = self.hours >= *full;
                if is_full {
                    self.hours = 0.0;
                }
                is_full
            }
            ChangeRule::Limits { .. } => {
                // The month to come, counted from 0.
                let m = self.machine.in_month(self.shop.worked[month]);
                let mixing = self.mixing(&m);
                let water = m.evaporated
                    + (1.0 - self.machine.c) * m.skimmed_fluid
                    + (m.carried - m.carried_concentrate);
                let next = |old: f64, new: f64| mixing.month(old, new).0;
                let matter = self.matter.iter().zip(&self.shop.water);
                let matter = matter.map(|(kg, in_water)| next(*kg, water * in_water));
                self.passes_limits(next(self.oil, m.leak_kept), matter)
            }
        }
    }

    fn is_past_limits(&self) -> bool {
        self.passes_limits(self.oil, self.matter.iter().copied())
    }

    fn passes_limits(&self, oil: f64, matter: impl Iterator<Item = f64>) -> bool {
        let ChangeRule::Limits { oil: oil_most, matter: most } = &self.machine.rule else {
            return false;
        };
        let whole = self.machine.v + oil;
        // What keeps exactly at its limit for years must not flicker by rounding.
        let passes = |amount: f64, most: f64| amount > most * whole * (1.0 + 1e-9);
        passes(oil, *oil_most) || matter.zip(most).any(|(kg, most)| passes(kg, *most))
    }

    /// Empties, recycles, rinses, refills.
    fn change(&mut self, month: usize, ledger: &mut WasteLedger) {
        let (v, h) = (self.machine.v, self.machine.residue);
        let (d, r) = (v - h, h / v);
        let RecyclerShares { recovered, with_oil, with_sludge, oil_removed: x } =
            self.shop.recycler;
        let y = recovered.min(self.machine.recovered_most()).max(0.0);
        let rest = (1.0 - y - with_oil - with_sludge).max(0.0);
        let part = |stream, share: f64, split_off: f64| Taken {
            stream,
            fluid: share * d,
            oil: (1.0 - r) * (split_off + (1.0 - x) * share),
            matter: (1.0 - r) * share,
        };
        self.book(part(WasteStream::SpentFluid, rest, 0.0), month, ledger);
        self.book(part(WasteStream::OilPhase, with_oil, x), month, ledger);
        self.book(part(WasteStream::Sludge, with_sludge, 0.0), month, ledger);
        let back = part(WasteStream::SpentFluid, y, 0.0);
        let rinsed_to = self.machine.rinsed_to();
        self.rinse(r, rinsed_to, month, ledger);

        let concentrate = self.machine.c * (v - h * rinsed_to - y * d);
        let water = (d - y * d - concentrate).max(0.0);
        self.oil *= r * rinsed_to + back.oil;
        let fresh = water + h * (1.0 - rinsed_to);
        for (matter, in_water) in self.matter.iter_mut().zip(&self.shop.water) {
            *matter = *matter * (r * rinsed_to + back.matter) + fresh * in_water;
        }
        let flow = MonthlyFlow::Concentrate;
        ledger.row_mut(month, flow, Timing::WithChanges)[CONCENTRATE] += self.n * concentrate;
        self.draw_water(water, month, Timing::WithChanges, ledger);
    }

    /// Rinses the residue, of which the share `rinsed_to` is left afterwards.
    fn rinse(&self, r: f64, rinsed_to: f64, month: usize, ledger: &mut WasteLedger) {
        let m = self.machine;
        let used = m.rinse * m.rinses;
        if used == 0.0 {
            return;
        }
        let gone = 1.0 - rinsed_to;
        let row =
            ledger.row_mut(month, MonthlyFlow::Waste(WasteStream::WashWater), Timing::WithChanges);
        row[CONCENTRATE] += self.n * m.residue * m.c * gone;
        row[WATER] += self.n * (used - m.residue * m.c * gone);
        row[OIL] += self.n * self.oil * r * gone;
        let matter = self.matter.iter().zip(&self.shop.water);
        for (cell, (kg, in_water)) in row[MATTER..].iter_mut().zip(matter) {
            *cell += self.n * (kg * r * gone + (used - m.residue * gone) * in_water);
        }
        self.draw_water(used, month, Timing::WithChanges, ledger);
    }
}

/// Sets used up by the end of a month.
#[expect(clippy::cast_precision_loss, reason = "a few hundred months")]
fn sets_used_up(month: usize, lasts: f64) -> f64 {
    // Rounding must not put a set off to the next month.
    (month as f64 / lasts + 1e-9).floor()
}

/// Adds what is in the sumps to a row, without the fines.
fn ledger_state(row: &mut [f64], walk: &SumpMonths) {
    let (n, v, c) = (walk.n, walk.machine.v, walk.machine.c);
    row[CONCENTRATE] += n * v * c;
    row[WATER] += n * v * (1.0 - c);
    row[OIL] += n * walk.oil;
    for (cell, matter) in row[MATTER..].iter_mut().zip(&walk.matter) {
        *cell += n * matter;
    }
}
