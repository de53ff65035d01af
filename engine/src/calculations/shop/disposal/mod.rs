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

use crate::calculation::{Calculation, Outcome};
use crate::chart::Chart;
use crate::fluid::practice::LARGE_SUMP;
use crate::quantity::{Count, Density, Money, Quantity, Volume};
use crate::text::{Caution, Refusal};
use accounts::Accounts;
use ledger::{Ledger, MATTER, SOLIDS, WATER};
use machine::{Factors, Habit, Machine, Shop};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use stream::{Flow, Timing};
use utoipa::ToSchema;
use walk::Walk;

mod accounts;
mod answer;
mod assumptions;
mod bands;
mod bought;
mod category;
mod checks;
mod codes;
mod episodic;
mod facts;
mod figures;
mod findings;
mod group_checks;
mod ledger;
mod ledger_balance;
mod limits;
mod machine;
mod pickup_days;
mod pickups;
mod picture;
mod stream;
mod sumps;
mod terms;
mod terms_checks;
mod track;
mod treatment;
mod walk;

pub use answer::{
    CategoryChange, DisposalAnswer, DisposalCost, FreshBought, MonthOfWaste, StorageHeld,
    StorageLimit, StreamInMonth, StreamOverall, TreatedOnSite, WastePickup,
};
pub use bands::{CategoryShares, CostBand, MassBand, MonthBands, ProjectionBands};
pub use category::{GeneratorCategory, GeneratorRules, LARGE_LEAST, VERY_SMALL_MOST};
pub use codes::{CodeCandidate, CodesToConfirm};
pub use episodic::EpisodicEvent;
pub use stream::WasteStream;
pub use sumps::{
    ByCalendar, ByForecast, ByRunningHours, ChangeHabit, SettledFines, SumpFilter, SumpOilLeak,
    SumpRinse, WasteGroup,
};
pub use terms::{
    ChangesFall, ConcentrateBought, ConcentrateDrum, EvaporatorTreatment, MembraneTreatment,
    MetalCut, OnSiteTreatment, RecyclerYields, SpreadSampling, StreamTerms, WasteContainer,
    WasteFacts, WasteStorage, WaterBought,
};

/// Days in a month: a twelfth of a year of 365.
pub(crate) const MONTH_DAYS: f64 = 365.0 / 12.0;

/// A shop, and how long to look ahead.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Disposal {
    /// How many months to look ahead, 1 to 240; 12 when left out.
    #[schema(example = 12)]
    pub months: Option<Count>,
    /// The sumps, in groups that are alike.
    #[schema(min_items = 1, max_items = 20000)]
    pub groups: Vec<WasteGroup>,
    /// The concentrate that is bought.
    pub concentrate: Option<ConcentrateBought>,
    /// The water that is bought.
    pub water: Option<WaterBought>,
    /// Density of the tramp oil; that of water at 20 °C when left out.
    #[schema(example = 0.87)]
    pub oil_density: Option<Density>,
    /// Water for washing parts and floors in a month; none when left out.
    #[schema(example = 300.0)]
    pub wash_water_monthly: Option<Volume>,
    /// What a recycler makes of drained fluid; all of it is spent when left out.
    pub recycler: Option<RecyclerYields>,
    /// Treatment on site of what is left over; none when left out.
    pub treatment: Option<OnSiteTreatment>,
    /// On which terms the streams leave: containers, prices, whether they count.
    #[schema(min_items = 1, max_items = 20000)]
    pub streams: Option<Vec<StreamTerms>>,
    /// How much waste may be on site and for how long; no pickups are planned
    /// when left out.
    pub storage: Option<WasteStorage>,
    /// What each pickup costs, whatever it fetches.
    #[schema(example = 180.0)]
    pub pickup_price: Option<Money>,
    /// What is known of the waste, where it narrows down its codes.
    pub facts: Option<WasteFacts>,
    /// How spreads are carried to the answer; needed where one is given.
    pub sampling: Option<SpreadSampling>,
    /// The currency of the prices, handed back as it is.
    #[serde(deserialize_with = "crate::text::names::optional_name", default)]
    #[schema(example = "EUR", min_length = 1, max_length = 128)]
    pub currency: Option<String>,
}

impl Calculation for Disposal {
    const NAME: &'static str = "disposal";
    const SUMMARY: &'static str = "What leaves the shop month by month, in which containers, when \
                                   it must be fetched, in which generator category, and what it \
                                   costs";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/disposal.json");
    const HAS_CHART: bool = true;
    type Answer = DisposalAnswer;

    fn calculate(&self) -> Result<Outcome<DisposalAnswer>, Refusal> {
        self.check()?;
        let mut shop = self.shop();
        let machines: Vec<Machine> = self
            .groups
            .iter()
            .enumerate()
            .map(|(i, group)| Machine::of(group, i, &shop, &Factors::PLAIN))
            .collect();
        group_checks::check_machines(&machines)?;
        let mut ledger = Ledger::new(self.horizon(), shop.names.len());
        self.walk(&shop, &machines, &mut ledger)?;
        let accounts = Accounts::of(self, &ledger);
        let mut answer = accounts.answer(self, &ledger)?;
        answer.bands = self.bands(&mut shop)?;
        let balance = ledger_balance::balance(self, &shop.names, &ledger, &accounts)?;
        Ok(Outcome {
            findings: self.findings(&answer),
            cautions: self.cautions(&answer),
            answer,
            balance: Some(balance),
            assumptions: self.assumptions(),
        })
    }

    /// Every group is walked through each month for each draw of its own.
    fn work(&self, answer: &DisposalAnswer) -> usize {
        let draws = answer.bands.as_ref().map_or(1, |_| self.draws());
        draws * self.groups.len() * self.horizon()
    }

    fn chart(&self, answer: &DisposalAnswer) -> Option<Chart> {
        Some(picture::chart(answer))
    }
}

impl Disposal {
    /// What can hurt in what the projection tells to do.
    fn cautions(&self, answer: &DisposalAnswer) -> Vec<Caution> {
        let has = |stream| answer.streams.iter().any(|overall| overall.stream == stream);
        let fluid = [
            WasteStream::SpentFluid,
            WasteStream::WashWater,
            WasteStream::Retentate,
            WasteStream::OilPhase,
            WasteStream::Sludge,
            WasteStream::FilterMedia,
        ];
        let cuts = self.facts.and_then(|facts| facts.metal);
        let mut cautions = vec![Caution::WASTE_DETERMINATION, Caution::STORAGE_AND_TRANSPORT];
        let mut when = |told: bool, caution| {
            if told {
                cautions.push(caution);
            }
        };
        let to_sewer = [WasteStream::Permeate, WasteStream::WashWater];
        when(to_sewer.into_iter().any(has), Caution::SEWER_PERMIT);
        when(answer.months.iter().any(|month| month.changes.get() > 0.0), Caution::DRAINED_FLUID);
        when(fluid.into_iter().any(has), Caution::SKIN_AND_MIST);
        let sludge = has(WasteStream::Sludge);
        let large = self.groups.iter().any(|group| group.volume.get() >= LARGE_SUMP);
        when(sludge, Caution::BAD_AIR);
        when(sludge && large, Caution::CONFINED_SPACE);
        let chips = has(WasteStream::CarriedOff) || sludge;
        when(chips, Caution::SHARP_CHIPS);
        when(sludge && cuts != Some(MetalCut::NonFerrous), Caution::METALS_IN_FLUID);
        when(chips && cuts != Some(MetalCut::Ferrous), Caution::METAL_FINES);
        cautions
    }

    /// Walks all sumps through all months and books what moves.
    fn walk(&self, shop: &Shop, machines: &[Machine], ledger: &mut Ledger) -> Result<(), Refusal> {
        for (group, machine) in self.groups.iter().zip(machines) {
            let n = group.count();
            let over = if let Habit::Calendar { over, .. } = machine.habit { over } else { 1 };
            for (later, n) in shared_out(n, over) {
                Walk::of(shop, machine, n).walk(later, ledger)?;
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
    fn wash(&self, shop: &Shop, ledger: &mut Ledger) {
        let Some(litres) = self.wash_water_monthly.map(Quantity::get) else { return };
        for month in 0..ledger.months {
            for flow in [Flow::Water, Flow::Waste(WasteStream::WashWater)] {
                let row = ledger.row_mut(month, flow, Timing::Steady);
                row[WATER] += litres;
                for (cell, in_water) in row[MATTER..].iter_mut().zip(&shop.water) {
                    *cell += litres * in_water;
                }
            }
        }
    }

    fn book_drums(&self, ledger: &mut Ledger) {
        let Some(drum) = self.drum() else { return };
        let by_month = bought::drums_by_month(self, ledger).unwrap_or_default();
        for (month, drums) in by_month.into_iter().enumerate() {
            let mass = drum.empty_mass.get();
            let emptied = Flow::Waste(WasteStream::EmptyDrums);
            ledger.row_mut(month, Flow::NewDrums, Timing::Steady)[SOLIDS] = drums.bought * mass;
            ledger.row_mut(month, emptied, Timing::Steady)[SOLIDS] = drums.emptied * mass;
        }
    }
}

/// So many sumps shared out over so many months as evenly as whole sumps allow:
/// by how many months each part comes later, and how many it has.
fn shared_out(n: f64, over: usize) -> impl Iterator<Item = (usize, f64)> {
    let parts = track::count(over);
    let up_to = move |part: usize| (n * track::count(part) / parts).round();
    (0..over).map(move |part| (part, up_to(part + 1) - up_to(part))).filter(|(_, n)| *n > 0.0)
}

/// A percentage as a share of 1.
fn share(percent: impl Quantity) -> f64 {
    percent.get() / 100.0
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
