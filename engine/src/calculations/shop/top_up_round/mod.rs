//! Today's round of top-ups: who gets what, from as few strengths of premix as can be.
//!
//! *Fourteen sumps were read this morning. What do I mix, how much of it goes where, and
//! which sump can help out another?*
//!
//! With V and c what is in a sump (L, % by volume), F and C the level that it must have and
//! may have, l and h the ends of its band, A litres of premix of s % by volume and g litres
//! that are moved at c_g (σ = 1 into it, −1 out of it):
//!
//! 1. level: F ≤ V + σ·g + A ≤ C
//! 2. strength: l·(V + σ·g + A) ≤ c·V + σ·c_g·g + s·A ≤ h·(V + σ·g + A)
//! 3. concentrate: Σ s·A/100, least among plans with the fewest strengths s
//!
//! Wanted are, in this order, as many sumps in their bands as can be, the fewest strengths,
//! the least concentrate, and the fewest trips. A sump gets premix of one strength, and it is
//! moved from one sump to one other of the same product at most, out of one that is too
//! strong into one that is too weak.
//!
//! Each sump is served by one stretch of strengths, so that without moving the fewest are
//! found by going up the line, and the least concentrate by dynamic programming, both exactly
//! for any number of sumps. With moving, sets of strengths are gone through, each with the
//! best moves for it; where that is not done for every set, `proven` says so, and
//! `strengths_at_least` is the number for the sumps that neither give nor take. Moving never
//! raises what is bought: a plan with moves is taken only where its concentrate is no more
//! than that of the plan without. Trips are a packing, exact up to fourteen stops of a premix.
//!
//! A sump that no premix brings into its band stays out of it and is said; nothing is drained.
//! What is too strong is filled up with the weakest premix in use.
//!
//! Assumes that sumps are well mixed and volumes add. Valid for sumps at their machines, each of
//! one product. Source: the Pearson square, as in [`batch`](crate::fluid::batch); a weaker or
//! stronger premix instead of neat water or neat concentrate is guidance of the UK's HSE and
//! lubricant trade, at second hand; how strong a premix may be is common practice, no source.

mod answer;
mod assumptions;
mod cautions;
mod checks;
mod filled;
mod findings;
mod job_sheet;
mod measured;
mod moving;
mod need;
mod outcome;
mod picture;
mod plan;
mod premixes;
mod product_plan;
mod question;
mod search;
mod statement;
mod step;
mod steps;
mod strengths;
mod trips;

pub use answer::{
    FluidMove, PremixShare, PremixToMake, PremixTrip, RoundOutcome, RoundStockUse, SumpOnRound,
    TopUpRoundAnswer, TripStop,
};
pub use question::{MovingFluid, PremixMaker, PremixMaking, PremixVessel, SumpFound, TopUpRound};
pub use step::{TopUpRoundAction, TopUpRoundStep};

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::fluid::practice::{OIL_DISTURBS_FROM, nitrite_in};
use crate::job_sheet::MakeSheet;
use crate::quantity::{Concentration, Count, Minutes, Quantity, Volume};
use crate::text::{Refusal, Sentence, filed, said};
use need::Need;
use premixes::PlannedProduct;
use product_plan::ProductPlan;

impl Calculation for TopUpRound {
    const NAME: &'static str = "top-up-round";
    const SUMMARY: &'static str = "Today's round of top-ups: the fewest premixes that bring every \
                                   sump into its band, what goes where, and what can be moved";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/top-up-round.json");
    const LIST: Option<&'static str> = Some("sumps");
    const SHEET: Option<MakeSheet<Self, TopUpRoundAnswer>> =
        Some(|_, answer| Self::job_sheet(answer));
    type Answer = TopUpRoundAnswer;
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);

    fn calculate(&self) -> Result<Outcome<TopUpRoundAnswer>, Refusal> {
        self.check()?;
        let needs = self.needs()?;
        let planned = self.planned(&needs);
        let made = self.premixes(&planned)?;
        let packed = self.packed(&made)?;
        let filled = self.filled(&needs, &planned, &made);
        let moves = self.moves(&needs, &planned)?;
        let sumps = self.sumps_on_round(&needs, &planned, &made, &filled)?;
        let with_vessels = self.vessels.is_some();
        let count =
            |outcome: RoundOutcome| sumps.iter().filter(|own| own.outcome == outcome).count();
        let (served, in_order) = (count(RoundOutcome::Served), count(RoundOutcome::InOrder));
        let plans = || planned.iter().map(|own| &own.plan);
        let strengths: usize = plans().map(|plan| plan.strengths().len()).sum();
        let at_least: usize = plans().map(|plan| plan.strengths_at_least).sum();
        let concentrate: f64 = made.iter().map(|premix| premix.fluid.concentrate).sum();
        // What thins a sump that stays too strong is none of the plan.
        let thinning = concentrate - plans().map(ProductPlan::concentrate).sum::<f64>();
        let bound: f64 = plans().map(|plan| plan.concentrate_at_least).sum();
        let minutes = self.minutes(&made, &packed.trips, moves.len());
        let trips = packed.trips.iter().map(|loaded| self.trip(loaded));
        let trips = with_vessels.then(|| trips.collect::<Result<Vec<_>, _>>()).transpose()?;
        let at_least_trips = with_vessels.then(|| Count::from_usize(packed.at_least));
        let balance = self.balance(&needs, &made, &filled)?;
        let answer = TopUpRoundAnswer {
            premixes: made.iter().map(|own| self.premix_to_make(own)).collect::<Result<_, _>>()?,
            trips,
            trips_at_least: at_least_trips.transpose()?,
            served: Count::from_usize(served)?,
            in_order: Count::from_usize(in_order)?,
            out_of_reach: Count::from_usize(sumps.len() - served - in_order)?,
            strengths: Count::from_usize(strengths)?,
            strengths_at_least: Count::from_usize(at_least.min(strengths))?,
            proven: at_least >= strengths && !plans().any(|plan| plan.may_serve_more),
            concentrate: Volume::of(concentrate)?,
            concentrate_at_least: Volume::of((bound + thinning.max(0.0)).min(concentrate))?,
            used: self.stocks_used(&made)?,
            cost: self.cost(&made)?,
            minutes: minutes.map(Minutes::of).transpose()?,
            steps: self.steps(&made, &packed.trips, &moves, &sumps)?,
            moves,
            sumps,
        };
        Ok(Outcome {
            findings: said(|| self.findings(&answer)),
            balance: Some(balance),
            assumptions: filed(|| self.assumptions(&answer)),
            cautions: said(|| Self::cautions(&answer)),
            answer,
        })
    }

    fn statement(&self, answer: &TopUpRoundAnswer) -> Sentence {
        self.in_short(answer)
    }

    fn work(&self, _: &TopUpRoundAnswer) -> usize {
        self.work_ahead()
    }

    fn work_ahead(&self) -> usize {
        /// For a sump with each pair of a few hundred strengths, and for going through sets.
        const WORK: (usize, usize) = (40, 30_000);
        WORK.0 * self.sumps.len() + if self.moving.is_some() { WORK.1 } else { 0 }
    }
}

impl TopUpRound {
    /// What each sump needs: to be brought inside its band, or to an end of it where no premix
    /// brings it further.
    fn needs(&self) -> Result<Vec<Need>, Refusal> {
        let products = self.products();
        let makeable: Vec<_> = products.iter().map(|product| self.makeable(product)).collect();
        let needs = self.sumps.iter().map(|found| {
            let need = Need::of(self, found)?;
            let place = products.iter().position(|product| found.product == *product);
            let own = place.and_then(|place| makeable[place].as_ref());
            let is_served = own.is_none_or(|makeable| need.is_met() || makeable.serves(&need));
            Ok(if is_served { need } else { need.to_the_ends() })
        });
        needs.collect()
    }

    /// The plan of each product.
    fn planned(&self, needs: &[Need]) -> Vec<PlannedProduct> {
        let products = self.products().into_iter().map(|product| {
            let of_product = |i: &usize| self.sumps[*i].product == product;
            let sumps: Vec<usize> = (0..self.sumps.len()).filter(of_product).collect();
            let own: Vec<Need> = sumps.iter().map(|i| needs[*i]).collect();
            let good: Vec<bool> = sumps.iter().map(|i| self.is_good(*i)).collect();
            let at_least = self.moving.map(|moving| moving.at_least.get());
            // Checked before: some premix can be made of every product.
            let makeable = self.makeable(product)?;
            let plan = plan::plan(&own, &makeable, &good, at_least);
            Some(PlannedProduct { sumps, plan })
        });
        products.flatten().collect()
    }

    /// Whether the fluid of a sump may be moved: nothing was found against it, and it carries
    /// nothing that would be spread.
    fn is_good(&self, i: usize) -> bool {
        let found = &self.sumps[i];
        let properties = &found.sump.properties;
        let oily = properties.tramp_oil.is_some_and(|oil| oil.get() > OIL_DISTURBS_FROM);
        found.against.is_none() && !oily && nitrite_in(properties, "").next().is_none()
    }

    /// What is moved, in the order of the walk.
    fn moves(&self, needs: &[Need], planned: &[PlannedProduct]) -> Result<Vec<FluidMove>, Refusal> {
        let mut moves = Vec::new();
        for PlannedProduct { sumps, plan } in planned {
            for own in &plan.moves {
                let (from, to) = (sumps[own.giver], sumps[own.taker]);
                let loads = self.loads(&self.sumps[from].product, own.litres);
                moves.push(FluidMove {
                    from: self.sumps[from].name.clone(),
                    to: self.sumps[to].name.clone(),
                    volume: Volume::of(own.litres)?,
                    concentration: Concentration::of(needs[from].strength())?,
                    loads: loads.map(Count::of).transpose()?,
                });
            }
        }
        Ok(moves)
    }
}
