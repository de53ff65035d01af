//! A whole shop's fluid going round: where it settles, and how far it can go round.
//!
//! *We recycle what we drain. The water goes to the air and its salts stay. How
//! much can we recycle before we have to throw fluid away, and what then?*
//!
//! A shop is groups of n sumps of V litres, each held at its level and its
//! strength c (% by volume). A sump loses e L/day of water to the air and d L/day
//! of fluid, of which concentrate is k·c, and takes up l L/day of oil and p mg/day
//! of anything else from the work. Every T days it is drained to the residue h and
//! refilled. With s what it carries (mg/L, or oil by volume), s_w and s_c what
//! water and concentrate carry:
//!
//! 1. make-up: concentrate m_c = k·d·c, water m_w = e + d − l − m_c (L/day)
//! 2. between clean-outs: V·ds/dt = m − d·s with m = m_w·s_w + m_c·s_c + p, in
//!    closed form: s(T) = s₀·e^(−dT/V) + (m/d)·(1 − e^(−dT/V))
//! 3. clean-out: s₀ = (h·s(T) + (V − h)·s_b)/V with s_b what the refill carries
//! 4. drained in a day: Q = Σ n·(V − h)/T, of which the recycler is fed a share φ,
//!    loses a share λ as it is, takes out a share r of each property, and a share
//!    π of what it gives is discarded: ε = φ·(1 − π) and ρ = (1 − λ)·(1 − r) come
//!    back, S = ρ·ε·Σ Q_g·s_g(T)
//! 5. refills share the recycled stream by the room they have for its concentrate
//!    and for its water, then make-up where it may; what has no room is disposed
//!    of, and what is missing is fresh concentrate and water
//! 6. settled: (1 − ρ·ε·Σ γ_g·χ_g)·A = Σ (what comes fresh), A what returns in a
//!    day, χ_g a group's share of the stream, γ_g what of it is there again when
//!    the sumps are drained
//!
//! In 6 every sump has been eliminated by 2 and 3 from the bordered system of the
//! whole network, so the work grows with the number of sumps and no faster. A salt
//! that only evaporation concentrates settles at (e + d)/d times the make-up: the
//! cycles of concentration.
//!
//! The **recycling limit** is the greatest φ for which the worst sump of every
//! group, on the worst day of its fluid's life, is within every limit. Contents
//! move one way with ε, so the limit is narrowed between two sides that touch, each
//! evaluated.
//!
//! Assumes one product, sumps and tanks that are well mixed, volumes that add,
//! clean-outs spread evenly over the days, make-up fed as it is lost, and that
//! matter takes no room. Valid for any rates and
//! sizes for which make-up water is not negative.
//! Source: the balance of a cooling tower, E evaporated, W carried off, B blown
//! down, cycles (E + W + B)/(W + B) (UFC 3-240-13FN, 2005); the elimination is the
//! Schur complement of linear algebra.

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::fluid::properties::FOLLOWED_MOST;
use crate::quantity::Count;
use crate::text::{Refusal, Sentence, filed, said};
use exchange::Exchange;
use shop::LoopShop;
use steady::{LoopLevers, SteadyLoop};

mod answer;
mod assumptions;
mod cautions;
mod checks;
mod cycle;
mod excess;
mod exchange;
mod findings;
mod ledger;
mod limit;
mod picture;
mod question;
mod settled;
mod settled_sump;
mod shop;
mod solve;
mod start;
mod statement;
mod steady;
mod transient;

pub use answer::{
    BindingLimit, FluidLoopAnswer, GroupMakeUp, GroupRefill, LimitSide, LoopDay, LoopPurge,
    LoopYear, RecyclingLimit, RecyclingVerdict, SettledContents, SettledGroup, SettledMatter,
    SettledOil,
};
pub use question::{
    DeionisedShare, FluidLoop, GroupCleanOut, LoopConcentrate, LoopRecycler, LoopTank, LoopTanks,
    LoopWater, MatterGain, OilGain, RecycledUse, RemovedByRecycler, SumpGains, SumpGroup,
};

impl Calculation for FluidLoop {
    const NAME: &'static str = "fluid-loop";
    const SUMMARY: &'static str = "A whole shop's fluid going round: where every property settles, \
                                   how far recycling can go, and what a year takes";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/fluid-loop.json");
    type Answer = FluidLoopAnswer;
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);

    fn calculate(&self) -> Result<Outcome<FluidLoopAnswer>, Refusal> {
        self.check()?;
        let shop = LoopShop::of(self);
        self.check_against(&shop)?;
        let exchange = Exchange::of(&shop, 1.0);
        let back = shop.fed * (1.0 - shop.purge);
        let levers = LoopLevers { back, deionised: shop.deionised };
        let steady = SteadyLoop::of(&shop, &exchange, levers);
        checks::check_settled(&steady)?;
        let ledger = ledger::LoopLedger::of(&steady, shop.deionised);
        let days = checks::days_followed(self.days, &shop)?;
        let transient = transient::follow(&steady, &self.start(&steady), days);
        let reaches = limit::reaches(&steady, levers);
        let answer = solve::answer(&steady, &ledger, &transient, levers, &reaches)?;
        Ok(Outcome {
            findings: said(|| self.findings(&steady, &answer, &reaches)),
            balance: Some(ledger.balance()?),
            assumptions: filed(|| self.assumptions(&shop, days)),
            cautions: said(|| self.cautions(&shop)),
            answer,
        })
    }

    /// Each group is followed day by day, and each day has a line in the answer.
    fn work_ahead(&self) -> usize {
        /// Steps, each of one group on one day in one property, in the time of a handled number; and
        /// handled numbers of a property in a line.
        const WORK: (usize, usize) = (10, 3);
        let (groups, properties) = (self.groups.len(), 1 + self.followed().len());
        let days = self.days.map_or(365, Count::whole).min(FOLLOWED_MOST / properties);
        days * properties * (groups / WORK.0 + WORK.1)
    }

    fn statement(&self, answer: &FluidLoopAnswer) -> Sentence {
        self.stated(answer)
    }
}
