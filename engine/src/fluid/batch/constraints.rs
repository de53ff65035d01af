//! The limits on a batch as constraints of a linear programme, and what is said where nothing
//! is proven.

use crate::fluid::properties::{Limits, TRAMP_OIL};
use crate::fluid::stock::Stock;
use crate::numerics::linear_program::{Constraint, Sense};
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::{Kind, Refusal};

/// A constraint for each end of each limit, with the pointer to it.
pub(super) fn limit_constraints(
    stocks: &[Stock],
    limits: &Limits,
) -> impl Iterator<Item = (String, Constraint)> {
    let ends = |name: &str, min: Option<f64>, max: Option<f64>, weights: Vec<f64>| {
        let ends = [("min", Sense::AtLeast, min), ("max", Sense::AtMost, max)];
        let pointer = format!("/limits/{name}");
        ends.into_iter().filter_map(move |(end, sense, bound)| {
            let constraint = |bound| Constraint::new(weights.iter().copied(), sense, bound);
            bound.map(|bound| (format!("{pointer}/{end}"), constraint(bound)))
        })
    };
    let oil = limits.tramp_oil.iter().flat_map(move |limit| {
        let carried = stocks.iter().map(|s| s.properties.tramp_oil.map_or(0.0, Quantity::get));
        let (min, max) = (limit.min.map(Quantity::get), limit.max.map(Quantity::get));
        ends(TRAMP_OIL, min, max, carried.collect())
    });
    let matter = limits.matter.iter().flat_map(move |(name, limit)| {
        let (min, max) = (limit.min.map(Quantity::get), limit.max.map(Quantity::get));
        ends(name, min, max, stocks.iter().map(|stock| stock.content(name)).collect())
    });
    oil.chain(matter)
}

/// An answer of the solver that could not be proven.
pub(super) fn unproven() -> Refusal {
    let detail = sentence!(
        "A batch may exist, but the solver could not prove the one it found, so none is given. The \
         numbers of the stocks and limits are probably too far apart; check their units."
    );
    Refusal::new(Kind::Unproven, "/stocks", detail)
}
