//! The sensitivity of the choice: each input varied by itself, the rest as given.

use super::CostComparison;
use super::answer::{CostSensitivity, InputVaried};
use super::checks::varied_by;
use super::costs::Costs;
use super::least;
use super::levers::{Lever, Levers, Trials};
use crate::numerics::order;
use crate::quantity::{Money, Quantity, Share};
use crate::text::Refusal;

/// Numbers of a request that are varied at most.
pub(super) const MOST_INPUTS: usize = 1000;
/// A swing of less than this share of the costs is what rounding leaves.
const NO_SWING: f64 = 1e-12;

/// The cheapest way and the next, by their places.
struct Pair {
    cheapest: usize,
    next: usize,
}

impl Pair {
    fn margin(&self, costs: &[f64]) -> f64 {
        costs[self.next] - costs[self.cheapest]
    }

    /// The way that is the cheapest at other costs, where it is another.
    fn flipped(&self, costs: &[f64]) -> Option<usize> {
        let now = least(costs);
        let rounding = NO_SWING * costs[self.cheapest].abs();
        (costs[now] < costs[self.cheapest] - rounding).then_some(now)
    }
}

impl CostComparison {
    /// What the choice between the cheapest way and the next depends on; none where
    /// there is no choice, or too much to vary.
    pub(super) fn sensitivity(
        &self,
        costs: &[Costs],
        levers: &Levers,
        trials: &mut Trials,
    ) -> Result<Option<CostSensitivity>, Refusal> {
        if self.ways.len() < 2 || levers.0.len() > MOST_INPUTS {
            return Ok(None);
        }
        let present: Vec<f64> = costs.iter().map(|costs| costs.present(self.rate())).collect();
        let cheapest = least(&present);
        let mut others = (0..present.len()).filter(|place| *place != cheapest);
        let first = others.next().unwrap_or(cheapest);
        let next = others.fold(first, |a, b| if present[b] < present[a] { b } else { a });
        let pair = Pair { cheapest, next };
        let size = present[cheapest].abs() + present[next].abs();
        let mut inputs = Vec::new();
        let mut choice_changes = false;
        for lever in levers.0.iter().filter(|lever| lever.given != 0.0 && !lever.is_a_date()) {
            let (low, high) = ends(trials, lever, &present, varied_by(self.vary_by));
            let varied = self.varied(lever, &pair, &present, low.as_deref(), high.as_deref())?;
            let flipped = varied.cheapest_low.is_some() || varied.cheapest_high.is_some();
            choice_changes |= flipped;
            if varied.swing.get() > NO_SWING * size || flipped {
                inputs.push(varied);
            }
        }
        order::greatest_first(&mut inputs, |input| input.swing.get());
        Ok(Some(CostSensitivity {
            cheapest: self.ways[cheapest].name.to_string(),
            next: self.ways[next].name.to_string(),
            margin: Money::of(pair.margin(&present))?,
            varied_by: Share::of_fraction(varied_by(self.vary_by))?,
            choice_changes,
            inputs,
        }))
    }

    fn varied(
        &self,
        lever: &Lever,
        pair: &Pair,
        given: &[f64],
        low: Option<&[f64]>,
        high: Option<&[f64]>,
    ) -> Result<InputVaried, Refusal> {
        let margin = |costs: &[f64]| Money::of(pair.margin(costs));
        let name =
            |costs: &[f64]| pair.flipped(costs).map(|place| self.ways[place].name.to_string());
        let swing = pair.margin(high.unwrap_or(given)) - pair.margin(low.unwrap_or(given));
        Ok(InputVaried {
            input: lever.pointer.clone(),
            what: lever.what.clone(),
            given: lever.amount(lever.given)?,
            margin_low: low.map(margin).transpose()?,
            margin_high: high.map(margin).transpose()?,
            swing: Money::of(swing.abs())?,
            cheapest_low: low.and_then(name),
            cheapest_high: high.and_then(name),
        })
    }
}

/// What every way costs with `lever` made smaller and larger by `share`, held to
/// what the number can be; nothing where the request would be refused. Between
/// whole numbers costs run in a straight line.
fn ends(
    trials: &mut Trials,
    lever: &Lever,
    given: &[f64],
    share: f64,
) -> (Option<Vec<f64>>, Option<Vec<f64>>) {
    let step = lever.given.abs() * share;
    let mut at = |number: f64| trials.present_costs(&[(lever, number)]);
    let mut end = |way: f64| {
        if lever.row.whole {
            let neighbour = at(lever.given + way)?;
            let straight = neighbour.iter().zip(given).map(|(to, from)| from + (to - from) * step);
            return Some(straight.collect());
        }
        let number = (lever.given + way * step).clamp(lever.row.least, lever.row.most);
        if number == lever.given { None } else { at(number) }
    };
    (end(-1.0), end(1.0))
}
