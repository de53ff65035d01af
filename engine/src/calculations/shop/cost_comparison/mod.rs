//! Ways of working side by side on the same shop: what each costs, and what the
//! choice between them depends on.
//!
//! *Do we go on with pump and drums, hire a tanker, treat on site, or put machines on a
//! shared central system? What does a year cost, when is a dearer way paid for, and at
//! which price of disposal or life of the fluid does the choice turn?*
//!
//! For each group of n machines with sumps of V (L) at c (as a share), cleaned
//! out k times a year by plan and ρ·k times in this way, with r of what is taken
//! out recovered, w wash water a clean-out (L), and E evaporated and W carried off
//! a working day (L), of which d·c is concentrate, on D working days a year:
//!
//! 1. clean-outs a year: N = n·k·ρ
//! 2. concentrate bought (L): N·V·(1 − r)·c + n·D·W·d·c
//! 3. water (L): N·V·(1 − r)·(1 − c) + N·w + n·D·(E + W·(1 − d·c))
//! 4. disposed of (L): N·V·(1 − r) + N·w
//!
//! With p the prices, h the hours of work and s those of standing a clean-out, and
//! H the running hours of a piece of equipment that draws P (kW) or F (L/h):
//!
//! 5. in each year: Σ volumes·p + h·N·p + s·N·p + H·(P·p + F·p + upkeep) +
//!    media·(52/weeks or H/hours)·p + fees
//! 6. a purchase is paid at the end of year y and every life L after it while the
//!    comparison of T years lasts; its residual value is won back at the end of each
//!    life. What is left at T counts on the straight line from price to residual.
//! 7. present cost: Σ f_t/(1 + i)^t; yearly cost: that, times i/(1 − (1 + i)^−T)
//! 8. against the baseline: payback, net present value and internal rates of the
//!    differences of f_t, as in [`money`](crate::numerics::money)
//! 9. break-even: the input at which two present costs are equal
//!
//! Assumes steady years at prices of today, with sumps kept at their level and
//! strength, and payments at the end of each year. Valid for whole years, up to
//! 100. Taxes are left out. Source: the usual equations of engineering economy
//! (payback as investment over net yearly saving: Water Environment Federation
//! manual). What belongs to a way of working, and every figure of it, is the caller's.

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::quantity::{Count, Quantity, Share};
use crate::text::{Refusal, Sentence, filed, said};
use costs::Costs;
use fluid::FluidYear;
use levers::{Levers, Trials};

mod amount;
mod answer;
mod assumptions;
mod break_even;
mod cautions;
mod checks;
mod compare;
mod costs;
mod findings;
mod fluid;
mod levers;
mod picture;
mod question;
mod search;
mod sensitivity;
mod statement;

pub use amount::Amount;
pub use answer::{
    AgainstBaseline, BreakEven, BreakEvenPoint, BreakEvenVerdict, CostByHeading,
    CostComparisonAnswer, CostCrossing, CostSensitivity, FluidPerYear, InputVaried, InternalRate,
    PaybackTime, PaybackVerdict, WayCost, YearOfCosts,
};
pub use question::{
    BreakEvenQuestion, CostBasis, CostComparison, CrewLabour, EquipmentRunning, Fee, FilterMedia,
    MachineGroup, Purchase, PurchaseServes, ShopPrices, WayOfWorking,
};

impl Calculation for CostComparison {
    const NAME: &'static str = "cost-comparison";
    const SUMMARY: &'static str = "What each way of looking after the sumps costs in a year, when a \
                                   dearer one has paid for itself, and what the choice depends on";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/cost-comparison.json");
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);
    type Answer = CostComparisonAnswer;

    fn calculate(&self) -> Result<Outcome<CostComparisonAnswer>, Refusal> {
        self.check()?;
        let fluids: Vec<FluidYear> = self.ways.iter().map(|way| self.fluid_year(way)).collect();
        let each = self.ways.iter().zip(&fluids);
        let costs: Vec<Costs> = each.map(|(way, fluid)| self.costs(way, fluid)).collect();
        let mut trials = Trials::on(self);
        let levers = Levers::of(&trials);
        let questions = self.break_even_questions(&levers)?;
        let sensitivity = self.sensitivity(&costs, &levers, &mut trials)?;
        let answer = CostComparisonAnswer {
            currency: self.currency.clone().map(String::from),
            machines: Count::of(self.machine_count())?,
            baseline: self.ways[self.baseline_place()].name.to_string(),
            cheapest: self.ways[self.cheapest(&costs)].name.to_string(),
            ways: self.way_costs(&fluids, &costs)?,
            crossings: self.crossings(&costs)?,
            break_even: self.break_even(questions, sensitivity.as_ref(), &levers, &mut trials)?,
            sensitivity,
        };
        Ok(Outcome {
            findings: said(|| findings::findings(&answer)),
            assumptions: filed(|| self.assumptions(&answer)),
            balance: Some(fluid::balance(&self.ways, &fluids)?),
            cautions: said(|| self.cautions()),
            answer,
        })
    }

    fn work_ahead(&self) -> usize {
        let asked = self.break_even.as_ref().map_or(break_even::LOOKED_AT, Vec::len);
        self.tried(Levers::of(&Trials::on(self)).0.len().min(sensitivity::MOST_INPUTS), asked)
    }

    fn work(&self, answer: &CostComparisonAnswer) -> usize {
        let inputs = answer.sensitivity.as_ref().map_or(0, |sensitivity| sensitivity.inputs.len());
        self.tried(inputs, answer.break_even.len())
    }

    fn statement(&self, answer: &CostComparisonAnswer) -> Sentence {
        self.told(answer)
    }
}

/// Working days of a year where the request does not say.
const WORKING_DAYS: f64 = 250.0;

impl CostComparison {
    /// The work where so many inputs are tried, both ways, and so many break-evens searched for.
    fn tried(&self, inputs: usize, break_evens: usize) -> usize {
        (2 * inputs + search::TRIALS * break_evens) * self.ways.len() * self.horizon() / 2
    }

    fn machine_count(&self) -> f64 {
        self.machines.iter().map(|group| group.count.get()).sum()
    }

    fn working_days(&self) -> f64 {
        self.working_days_per_year.map_or(WORKING_DAYS, Quantity::get)
    }

    /// The discount rate as a share a year.
    fn rate(&self) -> f64 {
        self.discount_rate.map_or(0.0, Share::fraction)
    }

    /// Over how many years the ways are compared.
    fn horizon(&self) -> usize {
        self.horizon_years.whole()
    }

    /// Where the way called `name` stands.
    fn place(&self, name: &str) -> Option<usize> {
        self.ways.iter().position(|way| way.name == name)
    }

    fn baseline_place(&self) -> usize {
        self.baseline.as_deref().and_then(|name| self.place(name)).unwrap_or(0)
    }

    /// Where the way stands that costs least, the first of several.
    fn cheapest(&self, costs: &[Costs]) -> usize {
        let present: Vec<f64> = costs.iter().map(|costs| costs.present(self.rate())).collect();
        least(&present)
    }

    /// All that is spent on each way, in money of now, or nothing where the
    /// request would be refused.
    fn present_costs(&self) -> Option<Vec<f64>> {
        self.check().ok()?;
        let cost = |way| self.costs(way, &self.fluid_year(way)).present(self.rate());
        let present: Vec<f64> = self.ways.iter().map(cost).collect();
        present.iter().all(|cost| cost.is_finite()).then_some(present)
    }
}

/// Where the least of `costs` stands, the first of several.
fn least(costs: &[f64]) -> usize {
    let mut places = 0..costs.len();
    let first = places.next().unwrap_or(0);
    places.fold(first, |best, place| if costs[place] < costs[best] { place } else { best })
}
