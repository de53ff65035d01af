//! Chains of events under shared limits, at least cost, with the number that no plan can go below.
//!
//! A chain is something that has to be done again and again, no sooner and no later than so many
//! days after the last time. With x_i the days that chain i is given, each with its slot, c_i(k)
//! what slot k costs it, a_i what it takes of each kind of amount, w_i what a day since the last
//! time costs at the end, M_l what a limit holds and s_l(y) what it charges by steps:
//!
//! 1. least of Σ_i [Σ_k c_i(k) + w_i·(days − last day)] + Σ_l s_l(y_l)
//! 2. between two days of a chain: shortest to longest; the first by its own latest day; the
//!    longest is not passed before the end
//! 3. each limit: y_l = b_l + Σ a_i over the slots that it holds ≤ M_l
//! 4. a buffer: what comes in on a day stands on what is left of the days before, and does not
//!    pass what it holds; so much drains each day
//!
//! **The bound.** With a price λ_l ≥ 0 on each limit the chains come apart: each is a shortest path
//! over its days, and
//! Σ_i min path(c_i + λ·a_i) + Σ_l min over y ≤ M_l of [s_l(y) − λ_l·(y − b_l)] is no more than any
//! plan costs, whatever the prices (weak duality). They are moved along the subgradient by
//! a fixed number of steps. Limits are told more of by rounding (`rounded.rs`), and those of whole
//! events by a price for each chain (`knapsack.rs`). Of the buffer the bound knows what its limits
//! are told of it.
//!
//! **The plan.** Chain after chain takes its shortest path through what the others leave, at the
//! prices of the bound, where passing a limit first has a price and then is not allowed; then
//! each is laid anew until nothing is gained, then one that would rather lie elsewhere pushes the
//! others away. All of it is counted in steps, never in time, so that the same chains
//! are planned the same way on any machine.
//!
//! Source: Lagrangian relaxation and the subgradient step of Held, Wolfe and Crowder
//! (Mathematical Programming 6, 1974, 62–88).

mod bound;
mod improve;
mod knapsack;
mod path;
mod plan;
mod repair;
mod rounded;
mod slack;

use crate::numerics::cut_off::look;
use bound::Prices;
use path::Walk;
use plan::Laid;

/// The share by which a sum may pass a limit before it counts: rounding.
pub(crate) const ROUNDING: f64 = 1e-9;

/// Chains, the slots they may be laid in, and what they share.
#[derive(Debug, Clone, PartialEq)]
pub struct Chains {
    /// How many days are planned.
    pub days: usize,
    /// The slots in the order of their days.
    pub slots: Vec<ChainSlot>,
    /// What the slots share.
    pub limits: Vec<SharedLimit>,
    /// What all that is taken out goes through.
    pub buffer: Option<Buffer>,
    /// The chains.
    pub chains: Vec<Chain>,
}

/// A day, and who works on it.
#[derive(Debug, Clone, PartialEq)]
pub struct ChainSlot {
    /// The day, counted from 0.
    pub day: usize,
    /// The limits that it is under, each with the kind of amount that counts there.
    pub limits: Vec<(usize, usize)>,
}

/// Something that holds only so much.
#[derive(Debug, Clone, PartialEq)]
pub struct SharedLimit {
    /// What is in it anyway.
    pub base: f64,
    /// What it holds; infinite where it only charges.
    pub most: f64,
    /// What it charges from where on, in order.
    pub steps: Vec<LimitStep>,
    /// Whether the bound looks at the events in it as a whole: where few of them fill it, or where
    /// it charges by steps.
    pub whole: bool,
}

/// A charge that is due above a boundary, instead of the one before it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LimitStep {
    /// Above this it is due.
    pub above: f64,
    /// What is charged.
    pub charge: f64,
}

/// A tank that drains.
#[derive(Debug, Clone, PartialEq)]
pub struct Buffer {
    /// The kind of amount that comes in.
    pub kind: usize,
    /// What it holds.
    pub most: f64,
    /// What is in it before the first day.
    pub start: f64,
    /// What drains by the end of each day.
    pub drains: Vec<f64>,
}

/// Something to do again and again.
#[derive(Debug, Clone, PartialEq)]
pub struct Chain {
    /// The first day it may be done on.
    pub earliest: usize,
    /// The last day it may first be done on; `days` or later where that is beyond the plan.
    pub first_by: usize,
    /// Days from one to the next, at least; 1 or more.
    pub shortest: usize,
    /// Days from one to the next, at most.
    pub longest: usize,
    /// What it takes of each kind.
    pub amounts: Vec<f64>,
    /// What each slot costs; infinite where it may not be.
    pub costs: Vec<f64>,
    /// What a day since the last time costs at the end.
    pub left: f64,
    /// Days from the last time to the first day of the plan.
    pub age: f64,
    /// Days on which it has to be done, in order.
    pub fixed: Vec<usize>,
}

/// A plan and the number that none can go below.
#[derive(Debug, Clone, PartialEq)]
pub struct ChainPlan {
    /// The slots of each chain, in order.
    pub slots: Vec<Vec<usize>>,
    /// What it costs.
    pub cost: f64,
    /// No plan costs less.
    pub at_least: f64,
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq)]
pub enum NoPlan {
    /// These chains have no path even where they are alone.
    Alone(Vec<usize>),
    /// Proven: no plan keeps the limits. What the nearest one found passes.
    Proven(Vec<Passed>),
    /// None was found that keeps the limits. What the nearest one passes.
    NotFound(Vec<Passed>),
}

/// A limit that the nearest plan passes; none of `limit` is the buffer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Passed {
    /// The limit.
    pub limit: Option<usize>,
    /// By how much.
    pub by: f64,
}

/// How hard to look: numbers of steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SearchEffort {
    /// Steps of the prices.
    pub prices: usize,
    /// Orders in which a few chains are laid anew.
    pub orders: usize,
}

/// More steps of the prices than this win little.
const PRICES_MOST: usize = 400;
/// More other orders than this for each chain win little.
const ORDERS_A_CHAIN: usize = 120;

impl SearchEffort {
    /// So many slots are looked at for the prices, and as many for other orders, of a plan of any size.
    pub const SLOTS_LOOKED_AT: usize = 20_000_000;

    /// As hard as that many slots allow.
    #[must_use]
    pub fn of(chains: &Chains) -> Self {
        Self::of_size(chains.slots.len().max(chains.days), chains.chains.len())
    }

    /// The same for so many slots or days and chains.
    #[must_use]
    pub fn of_size(slots: usize, chains: usize) -> Self {
        let a_path = slots.max(1);
        let a_step = a_path * chains.max(1);
        Self {
            prices: (Self::SLOTS_LOOKED_AT / a_step).clamp(40, PRICES_MOST),
            orders: (Self::SLOTS_LOOKED_AT / (8 * a_path)).min(ORDERS_A_CHAIN * chains),
        }
    }

    /// How many slots are then looked at.
    #[must_use]
    pub const fn looks_at(self, slots: usize, chains: usize) -> usize {
        slots * (chains * self.prices + 8 * self.orders)
    }

    /// The share of it with which a plan that is there already is looked at again.
    #[must_use]
    pub const fn again(self) -> Self {
        Self { prices: self.prices / 8, orders: self.orders / 8 }
    }
}

impl Chains {
    /// The best plan found and the number that none can go below. A plan that keeps everything
    /// may be handed in: what is found costs no more.
    pub fn plan(
        &self,
        from: Option<&[Vec<usize>]>,
        effort: SearchEffort,
    ) -> Result<ChainPlan, NoPlan> {
        let mut walk = Walk::of(self);
        let alone = self.without_path();
        if !alone.is_empty() {
            return Err(NoPlan::Alone(alone));
        }
        let mut best = from.map(|slots| Laid::of(self, slots.to_vec())).filter(Laid::keeps_all);
        let mut nearest: Option<Laid<'_>> = None;
        let rounded = self.with_rounded();
        let mut prices = Prices::of(&rounded);
        // Plans are tried again and again on the way, since the best prices seldom make the best one.
        let tries = (effort.prices / 25).clamp(2, 12);
        let a_try = effort.prices.div_ceil(tries);
        for _ in 0..tries {
            look();
            prices.step(&mut walk, best.as_ref().map(Laid::cost), a_try);
            let mut laid = Laid::empty(self);
            laid.lay_all(&mut walk, &prices);
            if laid.keeps_all() {
                laid.lay_anew(&mut walk);
                if best.as_ref().is_none_or(|best| laid.cost() < best.cost()) {
                    best = Some(laid);
                }
            } else if nearest.as_ref().is_none_or(|nearest| laid.passes() < nearest.passes()) {
                nearest = Some(laid);
            }
            if best.as_ref().is_some_and(|best| prices.at_least() >= best.cost() * (1.0 - 1e-9)) {
                break;
            }
        }
        let Some(mut best) = best else {
            let passed = nearest.map(|nearest| nearest.passed()).unwrap_or_default();
            let proven = Prices::show_no_plan(&rounded, &mut walk, effort.prices);
            return Err(if proven { NoPlan::Proven(passed) } else { NoPlan::NotFound(passed) });
        };
        best.lay_in_other_orders(&mut walk, &prices, effort.orders);
        let cost = best.cost();
        Ok(ChainPlan { cost, at_least: prices.at_least().min(cost), slots: best.into_slots() })
    }
}

impl SharedLimit {
    /// One that holds so much and charges nothing.
    #[must_use]
    pub const fn plain(most: f64) -> Self {
        Self { base: 0.0, most, steps: Vec::new(), whole: false }
    }

    /// What is charged for that much in it.
    pub(crate) fn charge(&self, amount: f64) -> f64 {
        let due = |step: &&LimitStep| amount > step.above * (1.0 + ROUNDING);
        self.steps.iter().rev().find(due).map_or(0.0, |step| step.charge)
    }
}
