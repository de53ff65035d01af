//! What stocks, limits and a goal may not contradict each other in.

use super::Goal;
use crate::fluid::properties::{Limits, PropertyName, TRAMP_OIL};
use crate::fluid::stock::{self, Stock};
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::{Faults, with_nearest};
use std::collections::BTreeSet;

/// Notes what contradicts itself among stocks, limits and goal.
pub fn check_mixing(stocks: &[Stock], limits: &Limits, goal: Option<&Goal>, faults: &mut Faults) {
    stock::check(stocks, faults);
    if let Some(Goal::Use(goal)) = goal {
        let names = || stocks.iter().map(|stock| stock.name.as_str());
        if !names().any(|name| name == goal.most_of) {
            let detail = sentence!("No stock is called \"{}\".", &goal.most_of);
            faults.add("/goal/most_of", with_nearest(detail, &goal.most_of, names()));
        }
    }
    check_limits(limits, faults);
}

/// Notes the limits of which the least is above the most.
pub fn check_limits(limits: &Limits, faults: &mut Faults) {
    if let Some(limit) = &limits.tramp_oil {
        check_limit(TRAMP_OIL, limit.min, limit.max, faults);
    }
    for (name, limit) in &limits.matter {
        check_limit(name, limit.min, limit.max, faults);
    }
}

/// Notes the limits on what no stock says it carries.
pub fn check_limits_are_about_something(stocks: &[Stock], limits: &Limits, faults: &mut Faults) {
    let known: BTreeSet<&str> = stocks.iter().flat_map(Stock::names).collect();
    let limited = limits.tramp_oil.iter().map(|_| TRAMP_OIL);
    let limited = limited.chain(limits.matter.keys().map(PropertyName::as_str));
    for name in limited.filter(|name| !known.contains(name)) {
        let detail = sentence!(
            "There is a limit on {}, but no stock says how much of it it carries. Give it among \
             the properties of at least one stock.",
            name
        );
        let detail = with_nearest(detail, name, known.iter().copied());
        faults.add(format!("/limits/{name}"), detail);
    }
}

fn check_limit<Q: Quantity + PartialOrd>(
    name: &str,
    min: Option<Q>,
    max: Option<Q>,
    faults: &mut Faults,
) {
    if let (Some(min), Some(max)) = (min, max)
        && min > max
    {
        let detail =
            sentence!("The least {} that is wanted, {}, is above the most, {}.", name, min, max);
        faults.add(format!("/limits/{name}/min"), detail);
    }
}
