//! The volumes that make a batch: by the Pearson square where it serves, by
//! linear programme where it does not.

use super::constraints::{limit_constraints, unproven};
use super::{Binding, Goal, any_cost, binding, reach};
use crate::fluid::properties::Limits;
use crate::fluid::stock::Stock;
use crate::numerics::digits::round_to;
use crate::numerics::linear_program::{Constraint, LinearProgram, Sense, Solution};
use crate::quantity::Quantity;
use crate::text::Refusal;

/// How much of each stock goes into a batch.
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    /// Litres of each stock, in the order of the stocks.
    pub volumes: Vec<f64>,
    /// What holds the goal back.
    pub binding: Vec<Binding>,
}

/// Mixes `v_t` litres at `c_t` % by volume from `stocks`.
pub fn recipe(
    stocks: &[Stock],
    v_t: f64,
    c_t: f64,
    limits: &Limits,
    goal: Option<&Goal>,
) -> Result<Recipe, Refusal> {
    if let Some(recipe) = pearson_square(stocks, v_t, c_t, limits) {
        return Ok(recipe);
    }
    let objective = Objective::of(stocks, goal);
    let constraints = constraints(stocks, c_t, limits);
    let most: Vec<f64> = stocks.iter().map(|stock| stock.on_hand() / v_t).collect();
    let program = LinearProgram {
        costs: objective.costs(stocks),
        most: most.clone(),
        constraints: constraints.iter().map(|constraint| constraint.constraint.clone()).collect(),
    };
    match program.solve() {
        Solution::Optimal(optimum) => {
            let mut volumes: Vec<f64> = optimum.values.iter().map(|x| x.max(0.0) * v_t).collect();
            let total: f64 = volumes.iter().sum();
            // The constraints hold to the solver's tolerance; the whole is made exact.
            volumes.iter_mut().for_each(|v| *v *= v_t / total);
            let mut bounds = Vec::new();
            for (constraint, price) in constraints.iter().zip(&optimum.constraint_prices) {
                let Some(what) = &constraint.limit else { continue };
                bounds.extend(objective.limit(what, *price, v_t)?);
            }
            for (i, price) in optimum.most_prices.iter().enumerate() {
                bounds.extend(objective.stock(&format!("/stocks/{i}/volume"), *price)?);
            }
            Ok(Recipe { volumes, binding: bounds })
        }
        Solution::Infeasible => Err(reach::refuse(stocks, v_t, c_t, limits)),
        Solution::Unproven => Err(unproven()),
    }
}

/// Two stocks of different strength, on whose mixing nothing else has a say.
fn pearson_square(stocks: &[Stock], v_t: f64, c_t: f64, limits: &Limits) -> Option<Recipe> {
    let [first, second] = stocks else { return None };
    let (c_1, c_2) = (first.concentration.get(), second.concentration.get());
    let (low, high) = (c_1.min(c_2), c_1.max(c_2));
    if !limits.is_empty() || low == high || !(low..=high).contains(&c_t) {
        return None;
    }
    // What is nearer to the target than the other has the more parts.
    let volumes = [v_t * ((c_t - c_2) / (c_1 - c_2)), v_t * ((c_1 - c_t) / (c_1 - c_2))];
    if volumes[0] > first.on_hand() || volumes[1] > second.on_hand() {
        return None;
    }
    Some(Recipe { volumes: volumes.to_vec(), binding: Vec::new() })
}

/// The parts of two stocks, as on the corners of the square and as a person
/// would write them: the differences, free of what binary fractions add to them.
#[must_use]
pub fn parts(stocks: &[Stock], c_t: f64) -> Option<[f64; 2]> {
    let [first, second] = stocks else { return None };
    let (c_1, c_2) = (first.concentration.get(), second.concentration.get());
    let corner = |c: f64| round_to((c_t - c).abs(), 12);
    (c_1 != c_2).then(|| [corner(c_2), corner(c_1)])
}

/// A constraint of the programme, and the limit it stands for.
struct LimitConstraint {
    constraint: Constraint,
    limit: Option<String>,
}

/// The constraints in shares of the batch, so that a limit's bound is the limit itself.
fn constraints(stocks: &[Stock], c_t: f64, limits: &Limits) -> Vec<LimitConstraint> {
    let concentrations = stocks.iter().map(|stock| stock.concentration.get()).collect();
    let plain = |weights: Vec<f64>, bound| LimitConstraint {
        constraint: Constraint::new(weights, Sense::Equal, bound),
        limit: None,
    };
    let mut constraints = vec![plain(vec![1.0; stocks.len()], 1.0), plain(concentrations, c_t)];
    constraints.extend(
        limit_constraints(stocks, limits)
            .map(|(pointer, constraint)| LimitConstraint { constraint, limit: Some(pointer) }),
    );
    constraints
}

/// What the programme makes least of.
pub(super) enum Objective {
    Cost,
    Order,
    Use(usize),
}

impl Objective {
    pub(super) fn of(stocks: &[Stock], goal: Option<&Goal>) -> Self {
        if let Some(Goal::Use(goal)) = goal
            && let Some(i) = stocks.iter().position(|stock| stock.name == goal.most_of)
        {
            return Self::Use(i);
        }
        if any_cost(stocks) { Self::Cost } else { Self::Order }
    }

    /// The cost of a share of the batch of each stock.
    pub(super) fn costs(&self, stocks: &[Stock]) -> Vec<f64> {
        let cost = |(i, stock): (usize, &Stock)| match self {
            Self::Cost => stock.unit_cost.map_or(0.0, Quantity::get),
            #[expect(clippy::cast_precision_loss, reason = "a list has at most 20,000 entries")]
            Self::Order => i as f64,
            Self::Use(most) => {
                if i == *most {
                    -1.0
                } else {
                    0.0
                }
            }
        };
        stocks.iter().enumerate().map(cost).collect()
    }

    /// What relaxing a limit by one unit would save or win, if anything. The
    /// programme speaks of shares, so a unit of the limit is worth the batch
    /// times the price.
    fn limit(&self, what: &str, price: f64, v_t: f64) -> Result<Option<Binding>, Refusal> {
        match self {
            Self::Cost => binding::limit_cost(what, price.abs() * v_t),
            Self::Use(_) => binding::limit_use(what, price.abs() * v_t),
            Self::Order => Ok(None),
        }
    }

    /// What one litre more on hand would save or win, if anything.
    fn stock(&self, what: &str, price: f64) -> Result<Option<Binding>, Refusal> {
        match self {
            Self::Cost => binding::stock_cost(what, price.abs()),
            Self::Use(_) => binding::stock_use(what, price.abs()),
            Self::Order => Ok(None),
        }
    }
}
