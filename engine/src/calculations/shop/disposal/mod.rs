//! What leaves the shop, month by month, in what, when, and at what cost.
//!
//! *Thirty machines, a recycler, two drums of sludge in the corner. How much waste
//! is that in a year, when does somebody have to fetch it, and which month puts us
//! into the next generator category?*
//!
//! A month is a twelfth of 365 days. With V the working volume of a sump (L), c
//! its strength (% by volume), and in a month E evaporated, W carried off, S fluid
//! in skimmings (L), δ the depletion ratio and λ the tramp oil that stays (L), a
//! sump is topped up to its level and strength every day:
//!
//! 1. concentrate bought: c·(δ·W + S); water bought: E + W + S less that
//! 2. tramp oil and whatever the water brings, a the amount and s what comes in a
//!    month, are evenly mixed in: a(t) = a₀·e^−x + s·(1 − e^−x)/x with
//!    x = (W + S)/V; what does not stay leaves with W and S
//!
//! With a working calendar W and the oil are those of the month's days of work, and E has what
//! evaporates on its other days besides.
//!
//! At the end of a month fines M (kg) are dug out with M·(1/w − 1) of fluid, w their
//! dry share by mass, and filter media take what they hold; both are made up. A
//! change leaves the residue h (L) of all that is in the sump, and of the
//! D = V − h that are drained
//!
//! 3. y·D is recovered and goes back, shares leave with oil and with sludge, and
//!    the rest is spent; a share of the tramp oil is split off
//! 4. n rinses of f (L) leave (h/(h + f))ⁿ of what was in the residue
//! 5. the refill brings the sump to V and c again
//!
//! Spent fluid and wash water may be treated: retentate = feed/VCF, where what is
//! held back in full comes to c·VCF. Pickups are planned by day so that the waste of
//! each month keeps the limits of that month, as few as can be.
//!
//! Assumes that volumes add, that solids take no room, that a sump is well mixed,
//! and that changes fall at the end of their month. Valid for shops whose losses
//! are steady over the months. Sources: full retention by volume reduction; 40 CFR
//! 262.13 to 262.17 for the categories and their limits, 262.230 to 262.233 for the
//! episodic event; Commission Decision
//! 2000/532/EC as amended for the codes; ideal mixing for the rest, common practice
//! with no source.

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::quantity::Quantity;
use crate::text::{Refusal, Sentence, filed, said};
use accounts::Accounts;
use ledger::{MATTER, SOLIDS, WATER, WasteLedger};
use machine::{ChangeRule, Factors, Machine, WasteShop};
use stream::{MonthlyFlow, Timing};
use sump_months::SumpMonths;

mod accounts;
mod answer;
mod assumptions;
mod balance;
mod bands;
mod bought;
mod category;
mod cautions;
mod checks;
mod codes;
mod episodic;
mod figures;
mod findings;
mod given;
mod ledger;
mod machine;
mod pickup_days;
mod pickups;
mod picture;
mod question;
mod statement;
mod storage_limits;
mod stream;
mod sump_months;
mod track;
mod treatment;

pub use answer::{
    CategoryChange, CategoryShares, CodeCandidate, CodesToConfirm, CostBand, DisposalAnswer,
    DisposalCost, EpisodicEvent, FreshBought, MassBand, MonthBands, MonthOfWaste, ProjectionBands,
    StorageHeld, StorageLimit, StreamInMonth, StreamOverall, TreatedOnSite, WastePickup,
};
pub use category::{GeneratorCategory, GeneratorRules, LARGE_LEAST, VERY_SMALL_MOST};
pub(in crate::calculations::shop) use pickups::{Day as DayOfWaste, schedule};
pub use question::{
    ByCalendar, ByForecast, ByRunningHours, ChangeHabit, ChangesFall, ConcentrateBought,
    ConcentrateDrum, Disposal, EvaporatorTreatment, MembraneTreatment, MetalCut, OnSiteTreatment,
    RecyclerYields, SettledFines, SpreadSampling, StreamTerms, SumpFilter, SumpOilLeak, SumpRinse,
    WasteContainer, WasteFacts, WasteGroup, WasteStorage, WaterBought,
};
pub use stream::WasteStream;

impl Calculation for Disposal {
    const NAME: &'static str = "disposal";
    const SUMMARY: &'static str = "What leaves the shop month by month, in which containers, when \
                                   it must be fetched, in which generator category, and what it \
                                   costs";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/disposal.json");
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);
    type Answer = DisposalAnswer;

    fn calculate(&self) -> Result<Outcome<DisposalAnswer>, Refusal> {
        self.check()?;
        let shop = self.shop();
        let machines: Vec<Machine> = self
            .groups
            .iter()
            .enumerate()
            .map(|(i, group)| Machine::of(group, i, &shop, &Factors::PLAIN))
            .collect();
        checks::check_machines(&machines)?;
        let mut ledger = WasteLedger::new(self.horizon(), shop.names.len());
        self.walk(&shop, &machines, &mut ledger)?;
        let accounts = Accounts::of(self, &ledger);
        let mut answer = accounts.answer(self, &ledger)?;
        answer.bands = self.bands(&shop)?;
        let balance = balance::balance(self, &shop.names, &ledger, &accounts)?;
        Ok(Outcome {
            findings: said(|| self.findings(&answer)),
            cautions: said(|| self.cautions(&answer)),
            answer,
            balance: Some(balance),
            assumptions: filed(|| self.assumptions()),
        })
    }

    fn work_ahead(&self) -> usize {
        let draws = self.sampler().ok().flatten().map_or(1, |sampler| sampler.draws());
        draws.saturating_mul(self.steps())
    }

    /// Every group is walked through each month for each draw of its own.
    fn work(&self, answer: &DisposalAnswer) -> usize {
        let draws = answer.bands.as_ref().map_or(1, |bands| bands.draws.whole());
        draws * self.groups.len() * self.horizon()
    }

    fn statement(&self, answer: &DisposalAnswer) -> Sentence {
        self.told(answer)
    }
}

impl Disposal {
    /// Walks all sumps through all months and books what moves.
    fn walk(
        &self,
        shop: &WasteShop,
        machines: &[Machine],
        ledger: &mut WasteLedger,
    ) -> Result<(), Refusal> {
        for (group, machine) in self.groups.iter().zip(machines) {
            let n = group.count();
            let over = if let ChangeRule::Calendar { over, .. } = machine.rule { over } else { 1 };
            for (later, n) in shared_out(n, over) {
                SumpMonths::of(shop, machine, n).walk(later, ledger)?;
            }
        }
        self.wash(shop, ledger);
        if let Some(treatment) = &self.treatment {
            treatment.treat(ledger)?;
        }
        self.book_drums(ledger);
        Ok(())
    }

    /// Water for washing comes in and leaves within the month.
    fn wash(&self, shop: &WasteShop, ledger: &mut WasteLedger) {
        let Some(litres) = self.wash_water_per_month.map(Quantity::get) else { return };
        for month in 0..ledger.months {
            for flow in [MonthlyFlow::Water, MonthlyFlow::Waste(WasteStream::WashWater)] {
                let row = ledger.row_mut(month, flow, Timing::Steady);
                row[WATER] += litres;
                for (cell, in_water) in row[MATTER..].iter_mut().zip(&shop.water) {
                    *cell += litres * in_water;
                }
            }
        }
    }

    fn book_drums(&self, ledger: &mut WasteLedger) {
        let Some(drum) = self.drum() else { return };
        let by_month = bought::drums_by_month(self, ledger).unwrap_or_default();
        for (month, drums) in by_month.into_iter().enumerate() {
            let mass = drum.empty_mass.get();
            let emptied = MonthlyFlow::Waste(WasteStream::EmptyDrums);
            ledger.row_mut(month, MonthlyFlow::NewDrums, Timing::Steady)[SOLIDS] =
                drums.bought * mass;
            ledger.row_mut(month, emptied, Timing::Steady)[SOLIDS] = drums.emptied * mass;
        }
    }
}

/// `n` sumps shared out over `over` months as evenly as whole sumps allow: by how many
/// months each part comes later, and how many it has.
fn shared_out(n: f64, over: usize) -> impl Iterator<Item = (usize, f64)> {
    let parts = track::count(over);
    let up_to = move |part: usize| (n * track::count(part) / parts).round();
    (0..over).map(move |part| (part, up_to(part + 1) - up_to(part))).filter(|(_, n)| *n > 0.0)
}

#[cfg(test)]
mod tests {
    use super::shared_out;

    #[test]
    fn sumps_are_shared_out_whole_and_none_is_lost() {
        let parts: Vec<(usize, f64)> = shared_out(7.0, 3).collect();
        assert_eq!(parts, [(0, 2.0), (1, 3.0), (2, 2.0)]);
        assert_eq!(shared_out(2.0, 6).map(|(_, n)| n).sum::<f64>(), 2.0);
        assert_eq!(shared_out(9.0, 1).collect::<Vec<_>>(), [(0, 9.0)]);
    }
}
