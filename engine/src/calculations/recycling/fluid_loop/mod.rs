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

use crate::calculation::{Calculation, Outcome};
use crate::chart::{Chart, Layer, Panel};
use crate::fluid::practice::names_nitrite;
use crate::fluid::properties::{Limits, Name};
use crate::quantity::{Concentration, Content, Count, Density, Quantity, Share};
use crate::text::{Caution, Refusal};
use exchange::Exchange;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use shop::Shop;
use steady::{Levers, Steady};
use utoipa::ToSchema;

mod answer;
mod assumptions;
mod checks;
mod cycle;
mod exchange;
mod findings;
mod ledger;
mod limit;
mod limit_words;
mod outcome;
mod question;
mod settled;
mod shop;
mod start;
mod steady;
mod sump;
mod way;
mod words;

pub use answer::{
    FluidLoopAnswer, GroupSettled, HeldBy, LimitSide, LoopDay, MakeUpFlow, MatterSettles,
    OilSettles, Purge, RecyclingLimit, RefillMix, Remark, Settles, Verdict, Yearly,
};
pub use question::{
    DeionisedShare, Gains, GroupCleanOut, LoopConcentrate, LoopRecycler, LoopTank, LoopTanks,
    LoopWater, MatterGain, RecycledUse, Removed, SumpGroup,
};

/// A shop whose fluid goes round.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FluidLoop {
    /// The sumps, alike ones together.
    #[schema(min_items = 1, max_items = 20000)]
    pub groups: Vec<SumpGroup>,
    /// What is done with the fluid that is drained; when left out, all of it is
    /// disposed of.
    pub recycler: Option<LoopRecycler>,
    /// The share of what the recycler gives that is deliberately discarded;
    /// nothing when left out.
    pub purge: Option<Share>,
    /// The tanks before and after the recycler; they matter for the way there,
    /// not for where it leads. None when left out.
    pub tanks: Option<LoopTanks>,
    /// The water that is mixed with.
    pub water: LoopWater,
    /// The concentrate that is bought; it carries nothing of what is followed
    /// when left out.
    pub concentrate: Option<LoopConcentrate>,
    /// The density of tramp oil; that of water at 20 °C when left out.
    pub oil_density: Option<Density>,
    /// What the fluid in a sump may carry of each property on any day of its
    /// life.
    #[serde(skip_serializing_if = "Limits::is_empty", default)]
    pub limits: Limits,
    /// How many days of the way there to tell; 365 when left out, or as many as
    /// a large shop allows.
    #[schema(example = 365)]
    pub days: Option<Count>,
}

impl Calculation for FluidLoop {
    const NAME: &'static str = "fluid-loop";
    const SUMMARY: &'static str = "A whole shop's fluid going round: where every property settles, \
                                   how far recycling can go, and what a year takes";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/fluid-loop.json");
    type Answer = FluidLoopAnswer;
    const HAS_CHART: bool = true;

    fn calculate(&self) -> Result<Outcome<FluidLoopAnswer>, Refusal> {
        self.check()?;
        let shop = Shop::of(self);
        self.check_against(&shop)?;
        let exchange = Exchange::of(&shop, 1.0);
        let back = shop.fed * (1.0 - shop.purge);
        let levers = Levers { back, deionised: shop.deionised };
        let steady = Steady::of(&shop, &exchange, levers);
        checks::check_settled(&steady)?;
        let ledger = ledger::Ledger::of(&steady, shop.deionised);
        let days = checks::days_told(self.days, &shop);
        let way = way::walk(&steady, &self.start(&steady), days);
        let (answer, deionised) = outcome::answer(&steady, &ledger, &way, levers)?;
        Ok(Outcome {
            findings: self.findings(&shop, &answer, &deionised),
            balance: Some(ledger.balance()?),
            assumptions: self.assumptions(&shop, days),
            cautions: self.cautions(&shop),
            answer,
        })
    }

    /// The way there of each property that has a limit.
    fn chart(&self, answer: &FluidLoopAnswer) -> Option<Chart> {
        let limits = &self.limits;
        let oil = limits.tramp_oil.map(|limit| {
            let of = |day: &LoopDay, recycled: bool| {
                let properties = if recycled { &day.recycled } else { &day.highest };
                properties.tramp_oil.map(Quantity::get)
            };
            let ends = (limit.min.map(Quantity::get), limit.max.map(Quantity::get));
            let label = "tramp oil".into();
            Panel {
                label,
                row: Concentration::ROW,
                from_zero: true,
                layers: layers(answer, ends, of),
            }
        });
        let matter = limits.matter.iter().map(|(name, limit)| {
            let of = |day: &LoopDay, recycled: bool| {
                let properties = if recycled { &day.recycled } else { &day.highest };
                properties.matter.get(name).map(|content| content.get())
            };
            let ends = (limit.min.map(Quantity::get), limit.max.map(Quantity::get));
            let label = name.to_string().into();
            Panel { label, row: Content::ROW, from_zero: true, layers: layers(answer, ends, of) }
        });
        let panels: Vec<Panel> = oil.into_iter().chain(matter).collect();
        let drawn = !panels.is_empty() && answer.series.len() > 1;
        let title = "What the sumps carry on the way to where it settles".into();
        drawn.then(|| Chart { title, across: "day".into(), panels })
    }
}

impl FluidLoop {
    /// What can hurt in running the loop as it is told.
    fn cautions(&self, shop: &Shop) -> Vec<Caution> {
        let mut cautions = vec![Caution::MACHINE, Caution::SKIN_AND_MIST, Caution::BREATHING];
        let mut when = |told: bool, caution| {
            if told {
                cautions.push(caution);
            }
        };
        when(shop.recycles && self.groups.len() > 1, Caution::INCOMPATIBLE_FLUIDS);
        when(self.tanks.is_some(), Caution::OVERFILLING);
        let cleaned = self.groups.iter().any(|group| group.clean_out.is_some());
        when(cleaned, Caution::DRAINED_FLUID);
        when(shop.recycles, Caution::SKIMMINGS_AND_SLUDGE);
        when(names_nitrite(shop.names.iter().map(Name::as_str)), Caution::NITROSAMINES);
        cautions
    }
}

/// A property's limits and its way, in the sumps and in the clean tank.
fn layers(
    answer: &FluidLoopAnswer,
    (min, max): (Option<f64>, Option<f64>),
    of: impl Fn(&LoopDay, bool) -> Option<f64>,
) -> Vec<Layer> {
    let line = |recycled: bool| {
        let points = answer.series.iter();
        let points = points.filter_map(|day| Some((day.day.get(), of(day, recycled)?)));
        points.collect::<Vec<_>>()
    };
    let limit = |label: &'static str, at: f64| Layer::Limit { label: label.into(), at };
    let mut layers = Vec::with_capacity(4);
    layers.extend(min.map(|at| limit("least", at)));
    layers.extend(max.map(|at| limit("most", at)));
    for (label, recycled) in [("recycled fluid", true), ("worst sump", false)] {
        let points = line(recycled);
        if !points.is_empty() {
            layers.push(Layer::Line { label: label.into(), points });
        }
    }
    layers
}
