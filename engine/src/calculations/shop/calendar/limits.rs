//! What each limit costs: the plan made anew with a tenth more of it.

use super::answer::{HeldBy, LimitWorth};
use super::diary::Diary;
use super::model::{CalendarModel, Relaxed};
use super::question::Calendar;
use super::unit::PlannedSump;
use super::unit::{FLUID, HOURS};
use crate::numerics::chains::{ChainPlan, SearchEffort};
use crate::numerics::order::greatest_first;
use crate::quantity::{Count, Measure, Money, Quantity};
use crate::sentence;
use crate::text::{Refusal, Sentence};

/// By what share a limit is made larger.
const MORE: f64 = 1.1;
/// The limits, in the order in which they are looked at.
const LOOKED_AT: [HeldBy; 7] = [
    HeldBy::HoursADay,
    HeldBy::HoursAWeek,
    HeldBy::FluidADay,
    HeldBy::DirtyTank,
    HeldBy::Throughput,
    HeldBy::WasteInAMonth,
    HeldBy::Categories,
];

impl Calendar {
    pub(super) fn limits(
        &self,
        diary: &Diary,
        units: &[PlannedSump],
        model: &CalendarModel,
        plan: &ChainPlan,
    ) -> Result<Vec<LimitWorth>, Refusal> {
        let mut worths = Vec::new();
        for limit in LOOKED_AT {
            let reached = reached(limit, units, model, plan);
            if reached == 0 {
                continue;
            }
            let relaxed = Relaxed { limit: Some(limit), factor: MORE };
            let relaxed = self.model(diary, units, relaxed).chains;
            let effort = SearchEffort::of(&relaxed).again();
            let cost = relaxed.plan(Some(&plan.slots), effort).map_or(plan.cost, |own| own.cost);
            let saved = Money::of((plan.cost - cost).max(0.0))?;
            let reached = Count::from_usize(reached)?;
            let text = self.limit_said(limit, saved, reached);
            worths.push(LimitWorth { limit, saved, reached, text });
        }
        greatest_first(&mut worths, |own| own.saved.get());
        Ok(worths)
    }

    fn limit_said(&self, limit: HeldBy, saved: Money, reached: Count) -> Sentence {
        let amount = Measure::bare(saved.get()).rounded(3);
        let what = limit.words();
        let times = times(reached.whole());
        match &self.currency {
            _ if saved.get() <= 0.0 => {
                sentence!("{}: reached {}; a tenth more saves nothing.", what, times)
            }
            Some(currency) => sentence!(
                "{}: reached {}; a tenth more would save {} {}.",
                what,
                times,
                amount,
                currency
            ),
            None => {
                sentence!("{}: reached {}; a tenth more would save {}.", what, times, amount)
            }
        }
    }
}

/// "once" or "3 times".
pub(super) fn times(many: usize) -> String {
    if many == 1 { "once".to_owned() } else { format!("{many} times") }
}

/// How often there is no room in a limit for half of the smallest clean-out.
fn reached(limit: HeldBy, units: &[PlannedSump], model: &CalendarModel, plan: &ChainPlan) -> usize {
    let smallest = |of: fn(&PlannedSump) -> f64| units.iter().map(of).fold(f64::INFINITY, f64::min);
    let half = match limit {
        HeldBy::HoursADay | HeldBy::HoursAWeek => smallest(|unit| unit.amounts()[HOURS]) / 2.0,
        HeldBy::FluidADay | HeldBy::DirtyTank | HeldBy::Throughput => {
            smallest(|unit| unit.amounts()[FLUID]) / 2.0
        }
        _ => smallest(|unit| unit.waste) / 2.0,
    };
    match (limit, &model.chains.buffer) {
        (HeldBy::DirtyTank | HeldBy::Throughput, Some(buffer)) => {
            let levels = model.chains.levels(&plan.slots);
            levels.iter().filter(|(level, _)| buffer.most - level < half).count()
        }
        (HeldBy::DirtyTank | HeldBy::Throughput, None) => 0,
        _ => {
            let used = model.chains.used(&plan.slots);
            let is_reached = |l: &usize| {
                let own = &model.chains.limits[*l];
                let charged =
                    own.steps.iter().any(|step| step.above < used[*l] && step.charge > 0.0);
                model.held[*l].0 == limit && (own.most - used[*l] < half || charged)
            };
            (0..used.len()).filter(is_reached).count()
        }
    }
}

impl HeldBy {
    /// What a person calls it, to begin a sentence with.
    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::HoursADay => "Hours of the crews on a day",
            Self::HoursAWeek => "Hours of the crews in a week",
            Self::FluidADay => "What the vessels carry away in a day",
            Self::DirtyTank => "The dirty tank",
            Self::Throughput => "The recycler's throughput",
            Self::WasteInAMonth => "Waste of a month",
            Self::Categories => "The boundaries of the generator categories",
            Self::OnSite => "Waste on site",
        }
    }
}
