//! Linear programmes that are answered only with their proof.
//!
//! minimise c·x over A x {=, ≤, ≥} b, 0 ≤ x ≤ u.
//!
//! The simplex solver is asked twice: for the programme and for its dual,
//! maximise b·y − u·z over Aᵀy − z ≤ c, z ≥ 0, with y ≥ 0 on a ≥ row and y ≤ 0
//! on a ≤ row. By weak duality no feasible x costs less than any feasible (y, z)
//! is worth, so when both are feasible and their values meet, both are optimal,
//! whatever the solver did on the way. An infeasible programme is proven so by a
//! certificate of Farkas: y and z with Aᵀy − z ≤ 0 and b·y − u·z > 0.
//!
//! Rows and columns are first scaled by powers of two towards entries near 1,
//! which rounds nothing.

use crate::numerics::balancing::EntrySizes;
use crate::numerics::cut_off::look;
use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOptions, SolveOutcome, Variable};
use std::time::Duration;

/// How far a scaled constraint may be missed, and how far a scaled primal and dual
/// value may lie apart, for an answer to count as proven.
const PROOF_TOLERANCE: f64 = 1e-9;
/// The tightest feasibility tolerance that the simplex solver accepts.
const SIMPLEX_TOLERANCE: f64 = 1e-10;

/// So long the simplex solver works before it lets somebody look up.
const SLICE: Duration = Duration::from_millis(250);

/// How a constraint's sum relates to its bound.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sense {
    /// Exactly the bound.
    Equal,
    /// The bound or less.
    AtMost,
    /// The bound or more.
    AtLeast,
}

/// A constraint: a weighted sum and what it must come to.
#[derive(Debug, Clone, PartialEq)]
pub struct Constraint {
    /// The variables that have a weight, in their order, each with its weight: of a large programme
    /// a constraint sees only a few.
    pub terms: Vec<(usize, f64)>,
    /// How the sum relates to the bound.
    pub sense: Sense,
    /// What the sum is held to.
    pub bound: f64,
}

impl Constraint {
    /// A constraint with a weight for each variable.
    #[must_use]
    pub fn new(weights: impl IntoIterator<Item = f64>, sense: Sense, bound: f64) -> Self {
        let terms = weights.into_iter().enumerate().filter(|(_, weight)| *weight != 0.0);
        Self { terms: terms.collect(), sense, bound }
    }

    /// The weight of each of so many variables.
    #[must_use]
    pub fn weights(&self, variables: usize) -> Vec<f64> {
        let mut weights = vec![0.0; variables];
        for (j, weight) in &self.terms {
            weights[*j] = *weight;
        }
        weights
    }

    fn sum(&self, values: &[f64]) -> f64 {
        self.terms.iter().map(|(j, weight)| weight * values[*j]).sum()
    }
}

/// A linear programme in variables from 0 to `most`.
#[derive(Debug, Clone, PartialEq)]
pub struct LinearProgram {
    /// What a unit of each variable costs.
    pub costs: Vec<f64>,
    /// The most each variable may be; infinite when nothing holds it.
    pub most: Vec<f64>,
    /// What the variables must satisfy.
    pub constraints: Vec<Constraint>,
}

/// A proven optimum.
#[derive(Debug, Clone, PartialEq)]
pub struct Optimum {
    /// The variables.
    pub values: Vec<f64>,
    /// How the least cost changes with a unit more of each constraint's bound.
    pub constraint_prices: Vec<f64>,
    /// How the least cost changes with a unit more of each variable's `most`.
    pub most_prices: Vec<f64>,
}

/// What became of a linear programme.
#[derive(Debug, Clone, PartialEq)]
pub enum Solution {
    /// An optimum with its proof.
    Optimal(Optimum),
    /// Proven to have no solution.
    Infeasible,
    /// Neither an optimum nor infeasibility could be proven.
    Unproven,
}

impl LinearProgram {
    /// Solves the programme and proves the answer.
    #[must_use]
    pub fn solve(&self) -> Solution {
        let scaled = Scaled::new(self);
        match scaled.solve_primal() {
            Ok(x) => match scaled.solve_dual() {
                Ok((y, z)) if scaled.proves(&x, &y, &z) => {
                    Solution::Optimal(scaled.unscale(&x, &y, &z))
                }
                _ => Solution::Unproven,
            },
            Err(microlp::Error::Infeasible) if scaled.is_provably_infeasible() => {
                Solution::Infeasible
            }
            Err(_) => Solution::Unproven,
        }
    }
}

/// The programme with row i multiplied by `row[i]` and x[j] = `column[j]`·x'[j].
struct Scaled {
    program: LinearProgram,
    row: Vec<f64>,
    column: Vec<f64>,
    cost: f64,
}

impl Scaled {
    fn new(original: &LinearProgram) -> Self {
        let mut program = original.clone();
        let mut row = vec![1.0; program.constraints.len()];
        let mut column = vec![1.0; program.costs.len()];
        for _ in 0..4 {
            for (r, scale) in program.constraints.iter_mut().zip(&mut row) {
                let factor = EntrySizes::of(r.terms.iter().map(|(_, w)| *w)).balancing_factor();
                r.terms.iter_mut().for_each(|(_, w)| *w *= factor);
                r.bound *= factor;
                *scale *= factor;
            }
            let mut extents = vec![EntrySizes::NONE; column.len()];
            for (j, weight) in program.constraints.iter().flat_map(|r| &r.terms) {
                extents[*j] = extents[*j].with(*weight);
            }
            let factors: Vec<f64> = extents.into_iter().map(EntrySizes::balancing_factor).collect();
            for (j, weight) in program.constraints.iter_mut().flat_map(|r| &mut r.terms) {
                *weight *= factors[*j];
            }
            for (j, factor) in factors.into_iter().enumerate() {
                program.costs[j] *= factor;
                program.most[j] /= factor;
                column[j] *= factor;
            }
        }
        let cost = EntrySizes::of(program.costs.iter().copied()).balancing_factor();
        program.costs.iter_mut().for_each(|c| *c *= cost);
        Self { program, row, column, cost }
    }

    fn solve_primal(&self) -> Result<Vec<f64>, microlp::Error> {
        let p = &self.program;
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let variables: Vec<Variable> = p
            .costs
            .iter()
            .zip(&p.most)
            .map(|(cost, most)| problem.add_var(*cost, (0.0, *most)))
            .collect();
        for constraint in &p.constraints {
            let terms = constraint.terms.iter().map(|(j, weight)| (variables[*j], *weight));
            let sense = match constraint.sense {
                Sense::Equal => ComparisonOp::Eq,
                Sense::AtMost => ComparisonOp::Le,
                Sense::AtLeast => ComparisonOp::Ge,
            };
            problem.add_constraint(terms, sense, constraint.bound);
        }
        solve(&problem, &variables)
    }

    /// The prices y of the constraints and the prices z of the variables' upper ends.
    fn solve_dual(&self) -> Result<(Vec<f64>, Vec<f64>), microlp::Error> {
        self.solve_dual_like(&self.program.costs, f64::INFINITY)
    }

    /// Maximises b·y − u·z over Aᵀy − z ≤ `costs`, with |y| no more than `reach`.
    fn solve_dual_like(
        &self,
        costs: &[f64],
        reach: f64,
    ) -> Result<(Vec<f64>, Vec<f64>), microlp::Error> {
        let p = &self.program;
        let mut problem = Problem::new(OptimizationDirection::Maximize);
        let mut variables: Vec<Variable> = Vec::with_capacity(p.constraints.len() + p.costs.len());
        for constraint in &p.constraints {
            let range = match constraint.sense {
                Sense::Equal => (-reach, reach),
                Sense::AtMost => (-reach, 0.0),
                Sense::AtLeast => (0.0, reach),
            };
            variables.push(problem.add_var(constraint.bound, range));
        }
        let mut columns = vec![Vec::new(); costs.len()];
        for (i, constraint) in p.constraints.iter().enumerate() {
            for (j, weight) in &constraint.terms {
                columns[*j].push((variables[i], *weight));
            }
        }
        for (j, (cost, mut terms)) in costs.iter().zip(columns).enumerate() {
            if p.most[j].is_finite() {
                let z = problem.add_var(-p.most[j], (0.0, f64::INFINITY));
                variables.push(z);
                terms.push((z, -1.0));
            }
            problem.add_constraint(terms, ComparisonOp::Le, *cost);
        }
        let values = solve(&problem, &variables)?;
        let (y, held) = values.split_at(p.constraints.len());
        let mut held = held.iter().copied();
        let z = p.most.iter().map(
            |most| {
                if most.is_finite() { held.next().unwrap_or(0.0) } else { 0.0 }
            },
        );
        Ok((y.to_vec(), z.collect()))
    }

    /// Whether x and (y, z) are feasible and their values meet.
    fn proves(&self, x: &[f64], y: &[f64], z: &[f64]) -> bool {
        let p = &self.program;
        let constraints_hold = p.constraints.iter().all(|constraint| {
            let sum = constraint.sum(x);
            let slack = PROOF_TOLERANCE * (1.0 + constraint.bound.abs());
            match constraint.sense {
                Sense::Equal => (sum - constraint.bound).abs() <= slack,
                Sense::AtMost => sum <= constraint.bound + slack,
                Sense::AtLeast => sum >= constraint.bound - slack,
            }
        });
        let ends_hold = x
            .iter()
            .zip(&p.most)
            .all(|(x, most)| *x >= -PROOF_TOLERANCE && *x <= most + PROOF_TOLERANCE);
        let columns_hold = self.column_values(y).iter().enumerate().all(|(j, value)| {
            let slack = PROOF_TOLERANCE * (1.0 + p.costs[j].abs());
            value - z[j] <= p.costs[j] + slack
        });
        let (primal, dual) = (dot(&p.costs, x), self.dual_value(y, z));
        let gap = (primal - dual).abs();
        constraints_hold
            && ends_hold
            && columns_hold
            && signs_hold(p, y, z)
            && gap <= PROOF_TOLERANCE * (1.0 + primal.abs())
    }

    /// Looks for a certificate of Farkas and checks it by arithmetic alone.
    fn is_provably_infeasible(&self) -> bool {
        let p = &self.program;
        let no_costs = vec![0.0; p.costs.len()];
        let Ok((y, _)) = self.solve_dual_like(&no_costs, 1.0) else {
            return false;
        };
        // The cheapest z that makes the columns hold; where a variable has no
        // upper end, its column has to hold by itself.
        let z: Vec<f64> = self.column_values(&y).iter().map(|value| value.max(0.0)).collect();
        let free_columns_hold =
            z.iter().zip(&p.most).all(|(z, most)| most.is_finite() || *z <= SIMPLEX_TOLERANCE);
        free_columns_hold && signs_hold(p, &y, &z) && self.dual_value(&y, &z) > PROOF_TOLERANCE
    }

    /// What each column comes to at the prices y: Aᵀy.
    fn column_values(&self, y: &[f64]) -> Vec<f64> {
        let mut values = vec![0.0; self.program.costs.len()];
        for (constraint, y) in self.program.constraints.iter().zip(y) {
            for (j, weight) in &constraint.terms {
                values[*j] += weight * y;
            }
        }
        values
    }

    fn dual_value(&self, y: &[f64], z: &[f64]) -> f64 {
        let p = &self.program;
        let constraints: f64 =
            p.constraints.iter().zip(y).map(|(constraint, y)| constraint.bound * y).sum();
        let ends: f64 =
            p.most.iter().zip(z).filter(|(most, _)| most.is_finite()).map(|(u, z)| u * z).sum();
        constraints - ends
    }

    fn unscale(&self, x: &[f64], y: &[f64], z: &[f64]) -> Optimum {
        let each = |values: &[f64], scale: &dyn Fn(usize) -> f64| -> Vec<f64> {
            values.iter().enumerate().map(|(i, value)| value * scale(i)).collect()
        };
        Optimum {
            values: each(x, &|j| self.column[j]),
            constraint_prices: each(y, &|i| self.row[i] / self.cost),
            most_prices: each(z, &|j| -1.0 / (self.column[j] * self.cost)),
        }
    }
}

fn signs_hold(p: &LinearProgram, y: &[f64], z: &[f64]) -> bool {
    let constraints = p.constraints.iter().zip(y).all(|(constraint, y)| match constraint.sense {
        Sense::Equal => y.is_finite(),
        Sense::AtMost => *y <= PROOF_TOLERANCE,
        Sense::AtLeast => *y >= -PROOF_TOLERANCE,
    });
    constraints && z.iter().all(|z| *z >= -PROOF_TOLERANCE)
}

fn solve(problem: &Problem, variables: &[Variable]) -> Result<Vec<f64>, microlp::Error> {
    let mut options = SolveOptions::default();
    options.tolerances.feasibility = SIMPLEX_TOLERANCE;
    options.time_limit = Some(SLICE);
    let mut outcome = problem.solve_with(options)?;
    loop {
        look();
        // Where one slice ends the next goes on, so that a clock decides nothing.
        match outcome {
            SolveOutcome::Solution(found) => {
                return Ok(variables.iter().map(|variable| found.var_value(*variable)).collect());
            }
            SolveOutcome::Interrupted(_) => outcome = outcome.resume()?,
        }
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn program(costs: &[f64], most: &[f64], constraints: &[(&[f64], Sense, f64)]) -> LinearProgram {
        let constraints = constraints.iter().map(|(weights, sense, bound)| {
            Constraint::new(weights.iter().copied(), *sense, *bound)
        });
        LinearProgram {
            costs: costs.to_vec(),
            most: most.to_vec(),
            constraints: constraints.collect(),
        }
    }

    #[test]
    fn prices_are_what_relaxing_a_bound_is_worth() {
        let limited = |bound| {
            let constraints: &[(&[f64], Sense, f64)] =
                &[(&[1.0, 1.0], Sense::Equal, 1.0), (&[3.0, 0.0], Sense::AtMost, bound)];
            let Solution::Optimal(optimum) =
                program(&[1.0, 5.0], &[f64::INFINITY; 2], constraints).solve()
            else {
                panic!("no optimum")
            };
            let cost = optimum.values[0] + 5.0 * optimum.values[1];
            (cost, optimum.constraint_prices[1])
        };
        let (cost, price) = limited(1.5);
        let (relaxed, _) = limited(1.6);
        assert!((price - (relaxed - cost) / 0.1).abs() < 1e-9);
    }

    #[test]
    fn infeasible_is_said_only_with_a_certificate() {
        let constraints: &[(&[f64], Sense, f64)] =
            &[(&[1.0, 1.0], Sense::Equal, 1.0), (&[8.0, 2.0], Sense::Equal, 9.0)];
        let program = program(&[1.0, 1.0], &[f64::INFINITY; 2], constraints);
        assert_eq!(program.solve(), Solution::Infeasible);
    }
}
