//! Several batches from stocks that do not suffice for each to take what it
//! likes best: one linear programme over all of them.

use super::constraints::{limit_constraints, unproven};
use super::recipe::Objective;
use super::{Goal, Stock};
use crate::fluid::properties::Limits;
use crate::numerics::cut_off::look;
use crate::numerics::linear_program::{Constraint, LinearProgram, Sense, Solution};
use crate::quantity::{Count, Quantity, Volume};
use crate::sentence;
use crate::text::{Kind, Reachable, Refusal, VolumeRange};

/// One of several batches.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// How much of it, L.
    pub volume: f64,
    /// How strong, % by volume.
    pub concentration: f64,
    /// The places in the list of the stocks that may go into it.
    pub stocks: Vec<usize>,
}

/// Mixes all of `batches` from stocks on hand that they share: litres of each
/// stock for each batch, in the order of both lists.
pub fn share_out(
    stocks: &[Stock],
    batches: &[Wanted],
    limits: &Limits,
    goal: Option<&Goal>,
) -> Result<Vec<Vec<f64>>, Refusal> {
    check_size(stocks, batches, limits)?;
    let programme = Programme::new(stocks, batches, limits);
    match programme.cheapest(&Objective::of(stocks, goal).costs(stocks)) {
        Solution::Optimal(optimum) => Ok(programme.volumes(&optimum.values)),
        Solution::Infeasible => Err(programme.refuse()),
        Solution::Unproven => Err(unproven()),
    }
}

/// Unknowns times constraints of a programme of batches and stocks at most: half a second or so.
const SIZE_MOST: usize = 10_000_000;

/// Refuses a programme that takes too long, before it is written down.
fn check_size(stocks: &[Stock], batches: &[Wanted], limits: &Limits) -> Result<(), Refusal> {
    let shares: usize = batches.iter().map(|batch| batch.stocks.len()).sum();
    let on_hand = stocks.iter().filter(|stock| stock.volume.is_some()).count();
    let constraints = batches.len() * (2 + limit_constraints(stocks, limits).count()) + on_hand;
    if shares.saturating_mul(constraints) <= SIZE_MOST {
        return Ok(());
    }
    let detail = sentence!(
        "{} batches from {} stocks, {} of them with a volume on hand, are too much to share out at \
         once. Leave out stocks that are not meant for this round, or how much there is of those \
         that do not run short, or plan it in parts.",
        Count::from_usize(batches.len())?,
        Count::from_usize(stocks.len())?,
        Count::from_usize(on_hand)?
    );
    Err(Refusal::new(Kind::OutOfRange, "/stocks", detail))
}

/// Variables are shares of a batch, one for each stock that may go into each
/// batch, so that a small batch is mixed as exactly as a large one.
struct Programme<'a> {
    stocks: &'a [Stock],
    batches: &'a [Wanted],
    /// All batches together, L.
    total: f64,
    /// The batch and the stock of each variable.
    places: Vec<(usize, usize)>,
    /// What each batch must satisfy.
    constraints: Vec<Constraint>,
    on_hand: Vec<Constraint>,
}

impl<'a> Programme<'a> {
    fn new(stocks: &'a [Stock], batches: &'a [Wanted], limits: &Limits) -> Self {
        let total: f64 = batches.iter().map(|batch| batch.volume).sum();
        let places: Vec<(usize, usize)> = batches
            .iter()
            .enumerate()
            .flat_map(|(b, batch)| batch.stocks.iter().map(move |s| (b, *s)))
            .collect();
        let limits: Vec<(Constraint, Vec<f64>)> = limit_constraints(stocks, limits)
            .map(|(_, limit)| {
                let weights = limit.weights(stocks.len());
                (limit, weights)
            })
            .collect();
        let mut constraints = Vec::new();
        let mut of_stocks = vec![Vec::new(); stocks.len()];
        let mut first = 0;
        for batch in batches {
            look();
            // A batch has the variables from its first on, one for each of its stocks.
            let only = |weight: &dyn Fn(usize) -> f64| -> Vec<(usize, f64)> {
                let weights = batch.stocks.iter().map(|s| weight(*s));
                (first..).zip(weights).filter(|(_, weight)| *weight != 0.0).collect()
            };
            let mut held =
                |terms, sense, bound| constraints.push(Constraint { terms, sense, bound });
            held(only(&|_| 1.0), Sense::Equal, 1.0);
            held(only(&|s| stocks[s].concentration.get()), Sense::Equal, batch.concentration);
            for (limit, weights) in &limits {
                held(only(&|s| weights[s]), limit.sense, limit.bound);
            }
            for (place, s) in (first..).zip(&batch.stocks) {
                of_stocks[*s].push((place, batch.volume / total));
            }
            first += batch.stocks.len();
        }
        let finite = of_stocks.into_iter().zip(stocks).filter(|(_, stock)| stock.volume.is_some());
        let on_hand = finite.map(|(terms, stock)| Constraint {
            terms,
            sense: Sense::AtMost,
            bound: stock.on_hand() / total,
        });
        let on_hand = on_hand.collect();
        Self { stocks, batches, total, places, constraints, on_hand }
    }

    /// A batch as a share of all.
    fn part(&self, b: usize) -> f64 {
        self.batches[b].volume / self.total
    }

    fn cheapest(&self, costs: &[f64]) -> Solution {
        let programme = LinearProgram {
            costs: self.places.iter().map(|(b, s)| costs[*s] * self.part(*b)).collect(),
            most: vec![f64::INFINITY; self.places.len()],
            constraints: self.constraints.iter().chain(&self.on_hand).cloned().collect(),
        };
        programme.solve()
    }

    fn volumes(&self, values: &[f64]) -> Vec<Vec<f64>> {
        let mut volumes = vec![vec![0.0; self.stocks.len()]; self.batches.len()];
        for ((b, s), share) in self.places.iter().zip(values) {
            volumes[*b][*s] = share.max(0.0) * self.batches[*b].volume;
        }
        for (batch, wanted) in volumes.iter_mut().zip(self.batches) {
            let sum: f64 = batch.iter().sum();
            // The constraints hold to the solver's tolerance; the whole is made exact.
            batch.iter_mut().for_each(|v| *v *= wanted.volume / sum);
        }
        volumes
    }

    /// The largest share of every batch that the stocks on hand make.
    fn largest_share(&self) -> Solution {
        let share = self.places.len();
        let scaled = self.constraints.iter().map(|constraint| {
            let own = (constraint.bound != 0.0).then_some((share, -constraint.bound));
            let terms = constraint.terms.iter().copied().chain(own).collect();
            Constraint { terms, sense: constraint.sense, bound: 0.0 }
        });
        let mut costs = vec![0.0; self.places.len()];
        costs.push(-1.0);
        let mut most = vec![f64::INFINITY; self.places.len()];
        most.push(1.0);
        LinearProgram {
            costs,
            most,
            constraints: scaled.chain(self.on_hand.iter().cloned()).collect(),
        }
        .solve()
    }

    fn refuse(&self) -> Refusal {
        let Solution::Optimal(optimum) = self.largest_share() else { return unproven() };
        let share = optimum.values.last().copied().unwrap_or(0.0).clamp(0.0, 1.0);
        let detail = sentence!(
            "The stocks on hand make each batch by itself but not all of them together: they \
             suffice for {} of the {}. Have more on hand, or leave out a machine.",
            Volume::measure_of(share * self.total),
            Volume::measure_of(self.total)
        );
        let range = |high| Ok(VolumeRange { low: Volume::of(0.0)?, high: Volume::of(high)? });
        match range(share * self.total) {
            Ok(volume) => Refusal::new(Kind::Unreachable, "/stocks", detail)
                .reachable(Reachable { concentration: None, volume: Some(volume) }),
            Err(refusal) => refusal,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Concentration;

    fn stock(name: &str, c: f64, volume: Option<f64>) -> Stock {
        let mut stock = Stock::plain(name, Concentration::of(c).unwrap());
        stock.volume = volume.map(|v| Volume::of(v).unwrap());
        stock
    }

    #[test]
    fn a_stock_that_only_one_batch_can_do_without_goes_to_the_other() {
        // By hand: 100 L at 4 % and 100 L at 10 %, from 100 L of recycled at
        // 4 %, 10 L of concentrate and water. The 10 % batch needs all the
        // concentrate if it takes none of the recycled, so the 4 % batch is
        // the recycled. In the other order of preference it would be stuck.
        let stocks = [
            stock("concentrate", 100.0, Some(10.0)),
            stock("water", 0.0, None),
            stock("recycled", 4.0, Some(100.0)),
        ];
        let all = vec![0, 1, 2];
        let wanted = |concentration| Wanted { volume: 100.0, concentration, stocks: all.clone() };
        let batches = [wanted(4.0), wanted(10.0)];
        let volumes = share_out(&stocks, &batches, &Limits::default(), None).unwrap();
        for (batch, wanted) in volumes.iter().zip(&batches) {
            let strength: f64 =
                batch.iter().zip(&stocks).map(|(v, s)| v * s.concentration.get() / 100.0).sum();
            assert!((strength - wanted.concentration).abs() < 1e-6);
        }
        let taken = |s: usize| volumes.iter().map(|batch| batch[s]).sum::<f64>();
        assert!(taken(0) <= 10.0 + 1e-6 && taken(2) <= 100.0 + 1e-6);
    }

    #[test]
    fn what_suffices_for_half_says_so() {
        // By hand: two batches of 100 L at 10 % want 20 L of concentrate.
        let stocks = [stock("concentrate", 100.0, Some(10.0)), stock("water", 0.0, None)];
        let wanted = Wanted { volume: 100.0, concentration: 10.0, stocks: vec![0, 1] };
        let refusal = share_out(&stocks, &[wanted.clone(), wanted], &Limits::default(), None);
        let refusal = refusal.unwrap_err();
        assert_eq!(refusal.kind, Kind::Unreachable);
        let high = refusal.reachable.and_then(|r| r.volume).unwrap().high.get();
        assert!((high - 100.0).abs() < 1e-6, "{high}");
    }
}
