//! What is done to the sumps of a product, and how one plan is better than another.

use super::moving::{MovedBetween, cheapest};
use super::need::Need;
use super::strengths::{Makeable, stabbed};
use crate::fluid::band::Standing;

/// What a sump gets of a premix.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct PremixPour {
    /// How strong the premix is, % by volume.
    pub(super) strength: f64,
    /// How much of it, L.
    pub(super) litres: f64,
}

/// A move between two sumps of a product by their places in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct PlannedMove {
    pub(super) giver: usize,
    pub(super) taker: usize,
    pub(super) litres: f64,
}

/// What is done to the sumps of a product.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct ProductPlan {
    /// What each sump gets, in their order.
    pub(super) pours: Vec<Option<PremixPour>>,
    pub(super) moves: Vec<PlannedMove>,
    /// Whether each sump is then in its band and at its level.
    pub(super) served: Vec<bool>,
    /// Whether some plan that buys no more may serve more sumps.
    pub(super) may_serve_more: bool,
    /// The fewest strengths that any such plan has.
    pub(super) strengths_at_least: usize,
    /// The least concentrate that any such plan with as few takes, L.
    pub(super) concentrate_at_least: f64,
}

impl ProductPlan {
    /// The concentrate that sumps take which are served, L.
    pub(super) fn concentrate(&self) -> f64 {
        let pours = self.pours.iter().zip(&self.served);
        pours
            .filter(|(_, served)| **served)
            .filter_map(|(pour, _)| *pour)
            .fold(0.0, |sum, pour| sum + pour.strength * pour.litres / 100.0)
    }

    /// The concentrate in all that is poured, L.
    fn bought(&self) -> f64 {
        self.pours.iter().flatten().fold(0.0, |sum, pour| sum + pour.strength * pour.litres / 100.0)
    }

    /// The strengths in use, the weakest first.
    pub(super) fn strengths(&self) -> Vec<f64> {
        let mut own: Vec<f64> = self.pours.iter().flatten().map(|pour| pour.strength).collect();
        own.sort_unstable_by(f64::total_cmp);
        own.dedup();
        own
    }

    pub(super) fn unserved(&self) -> usize {
        self.served.iter().filter(|served| !**served).count()
    }
}

/// The pour that takes the least concentrate, of premix of one of these strengths.
pub(super) fn cheapest_pour(need: &Need, strengths: &[f64]) -> Option<PremixPour> {
    let pours =
        strengths.iter().filter_map(|s| Some(PremixPour { strength: *s, litres: need.least(*s)? }));
    pours.min_by(|a, b| (a.strength * a.litres).total_cmp(&(b.strength * b.litres)))
}

/// Fills up what is too strong and stays so with the weakest premix in use, which brings it
/// nearer to its band.
pub(super) fn thin_the_rich(plan: &mut ProductPlan, needs: &[Need], makeable: &Makeable) {
    let weakest = plan.strengths().first().copied().unwrap_or(makeable.weakest);
    for (i, need) in needs.iter().enumerate() {
        let room = need.floor - need.v;
        let helps = need.standing == Standing::Above && weakest < need.high;
        let comes_to = (need.k + weakest * room) / (need.v + room);
        if !plan.served[i] && plan.pours[i].is_none() && room > 0.0 && helps && comes_to > need.high
        {
            plan.pours[i] = Some(PremixPour { strength: weakest, litres: room });
        }
    }
}

/// The fewest strengths that any plan has, whatever is moved: those for the sumps that
/// neither give nor take.
pub(super) fn fewest_fixed(needs: &[Need], makeable: &Makeable, moving: &[usize]) -> usize {
    let (weakest, strongest) = (makeable.weakest, makeable.strongest);
    let fixed = (0..needs.len()).filter(|i| !moving.contains(i) && !needs[*i].is_met());
    let stretches: Vec<(f64, f64)> =
        fixed.filter_map(|i| needs[i].strengths(weakest, strongest)).collect();
    stabbed(&stretches).len()
}

/// A plan out of a set of strengths and the moves that go with it.
pub(super) fn of_set(
    needs: &[Need],
    strengths: &[f64],
    moves: &[(usize, usize, MovedBetween, f64, Option<f64>)],
) -> ProductPlan {
    let mut plan = ProductPlan {
        pours: needs
            .iter()
            .map(|need| if need.is_met() { None } else { cheapest_pour(need, strengths) })
            .collect(),
        ..ProductPlan::default()
    };
    plan.served =
        needs.iter().zip(&plan.pours).map(|(need, p)| need.is_met() || p.is_some()).collect();
    let poured = |strength: f64, litres: f64| {
        // A billionth of a drop is rounding, and nobody is to pour it.
        (litres > 1e-9).then_some(PremixPour { strength, litres })
    };
    for (giver, taker, moved, s, t) in moves {
        plan.moves.push(PlannedMove { giver: *giver, taker: *taker, litres: moved.g });
        plan.pours[*giver] = poured(*s, moved.into_giver);
        plan.pours[*taker] = t.and_then(|t| poured(t, moved.into_taker));
        plan.served[*giver] = true;
        plan.served[*taker] = true;
    }
    plan
}

/// Whether a plan is better than another: more sumps served, then fewer strengths, then less
/// concentrate; never with more concentrate in all that is poured.
pub(super) fn is_better(one: &ProductPlan, other: &ProductPlan) -> bool {
    let rank = |plan: &ProductPlan| (plan.unserved(), plan.strengths().len());
    let same = 1e-9 * (1.0 + other.bought());
    let less = one.concentrate() < other.concentrate() - same;
    let better = rank(one) < rank(other) || rank(one) == rank(other) && less;
    better && one.bought() <= other.bought() + same
}

/// The cheapest move for a set of strengths, with which premix for the giver and the taker.
pub(super) fn best_move(
    (giver, taker): (&Need, &Need),
    strengths: &[f64],
    at_least: f64,
) -> Option<(MovedBetween, f64, Option<f64>)> {
    let takers = || strengths.iter().map(|t| Some(*t)).chain([None]);
    let pairs = strengths.iter().flat_map(|s| takers().map(move |t| (*s, t)));
    let moves = pairs.filter_map(|(s, t)| Some((cheapest(giver, taker, (s, t), at_least)?, s, t)));
    let cost = |(moved, s, t): &(MovedBetween, f64, Option<f64>)| {
        s * moved.into_giver + t.unwrap_or(0.0) * moved.into_taker
    };
    moves.min_by(|a, b| cost(a).total_cmp(&cost(b)))
}
