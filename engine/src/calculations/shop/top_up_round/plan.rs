//! The plan of a product: which strengths, which sump takes which, and what is moved.
//!
//! Without moving, the fewest strengths and of those the least concentrate are found exactly
//! ([`choosing`](crate::numerics::choosing)). With moving, sets of strengths are gone through;
//! for each set the best moves are an assignment of sumps that give to sumps that take, solved
//! exactly ([`assignment`](crate::numerics::assignment)). A plan with moves counts only where it
//! takes no more concentrate than the one without.

use super::need::Need;
use super::product_plan::{ProductPlan, cheapest_pour, thin_the_rich};
use super::search::Search;
use super::strengths::{self, Makeable};
use crate::fluid::band::Standing;

/// Plans the sumps of a product; `may_move` says of each whether its fluid may be moved, and
/// `at_least` is the least that is worth it, where any is moved.
pub(super) fn plan(
    needs: &[Need],
    makeable: &Makeable,
    may_move: &[bool],
    at_least: Option<f64>,
) -> ProductPlan {
    let mut without = by_pouring(needs, makeable);
    thin_the_rich(&mut without, needs, makeable);
    let with = at_least.and_then(|at_least| {
        let givers = places(needs, may_move, Standing::Above);
        let takers = places(needs, may_move, Standing::Below);
        let search = Search::of(needs, makeable, (givers, takers), at_least)?;
        Some(search.better_than(&without))
    });
    let mut plan = with.unwrap_or(without);
    // What only thins a sump that stays too strong takes one premix too.
    let thins = plan.strengths().len().min(1);
    plan.strengths_at_least = plan.strengths_at_least.max(thins);
    plan
}

fn places(needs: &[Need], may_move: &[bool], standing: Standing) -> Vec<usize> {
    let own = |i: &usize| may_move[*i] && needs[*i].standing == standing;
    (0..needs.len()).filter(own).collect()
}

/// The plan without moving.
fn by_pouring(needs: &[Need], makeable: &Makeable) -> ProductPlan {
    let wanting: Vec<usize> =
        (0..needs.len()).filter(|i| !needs[*i].is_met() && makeable.serves(&needs[*i])).collect();
    let own: Vec<Need> = wanting.iter().map(|i| needs[*i]).collect();
    let (candidates, chosen) = strengths::fewest(makeable, &own);
    let mut plan = ProductPlan {
        pours: vec![None; needs.len()],
        served: needs.iter().map(Need::is_met).collect(),
        ..ProductPlan::default()
    };
    let Some(chosen) = chosen else { return plan };
    let choices: Vec<f64> = chosen.choices.iter().map(|place| candidates[*place]).collect();
    for i in wanting {
        plan.pours[i] = cheapest_pour(&needs[i], &choices);
        plan.served[i] = plan.pours[i].is_some();
    }
    plan.strengths_at_least = choices.len();
    plan.concentrate_at_least = plan.concentrate();
    plan
}
