//! The strengths of premix that come into question for a product.
//!
//! Each sump is served by one stretch of strengths ([`need`](super::need)). The fewest that
//! serve all are found by going up the line: a strength at the end of the stretch that ends
//! first, and on with those that it does not serve. That number no plan goes below. Strengths
//! are then looked for a tenth of a point apart, and at the ends of the stretches where the
//! tenths do not do it with as few.

use super::need::Need;
use super::question::TopUpRound;
use crate::fluid::practice::{NEAT_FROM, PREMIX_AT_MOST};
use crate::numerics::choosing::{Choosing, Chosen};
use crate::quantity::Quantity;

/// Steps to a point of strength.
pub(super) const STEPS_PER_POINT: f64 = 10.0;
/// Up to so many sumps of a product the ends of all stretches are looked at.
const ALL_ENDS_TO: usize = 60;

/// What premix of a product can be.
#[derive(Debug, Clone)]
pub(super) struct Makeable {
    /// The weakest and the strongest, % by volume.
    pub(super) weakest: f64,
    pub(super) strongest: f64,
    /// The notches of the proportioner that lie between; none where it has none.
    pub(super) settings: Option<Vec<f64>>,
    /// What of the stocks may be poured as it is.
    pub(super) ready: Vec<f64>,
}

impl TopUpRound {
    /// The places of the stocks that premix of a product is made of.
    pub(super) fn stocks_for(&self, product: &str) -> Vec<usize> {
        let draws = |c: f64| c <= 0.0 || c >= NEAT_FROM;
        let stocks = self.stocks.iter().enumerate();
        stocks
            .filter(|(_, stock)| stock.goes_with(product))
            .filter(|(_, stock)| !self.has_proportioner() || draws(stock.concentration.get()))
            .map(|(place, _)| place)
            .collect()
    }

    /// What premix of a product can be; none where nothing lies within its bounds.
    pub(super) fn makeable(&self, product: &str) -> Option<Makeable> {
        let stocks = self.stocks_for(product);
        let strengths = || stocks.iter().map(|s| self.stocks[*s].concentration.get());
        let least = self.premix_at_least.map_or(0.0, Quantity::get);
        let most = self.premix_at_most.map_or(PREMIX_AT_MOST, Quantity::get);
        let weakest = strengths().fold(f64::INFINITY, f64::min).max(least);
        let strongest = strengths().fold(0.0, f64::max).min(most);
        let within = |c: &f64| (weakest..=strongest).contains(c);
        let settings = self.mixing.as_ref().and_then(|mixing| mixing.settings.as_ref());
        let settings: Option<Vec<f64>> = settings.map(|all| {
            let mut own: Vec<f64> = all.iter().map(|c| c.get()).filter(within).collect();
            own.sort_unstable_by(f64::total_cmp);
            own.dedup();
            own
        });
        let (weakest, strongest) = match &settings {
            Some(own) => (*own.first()?, *own.last()?),
            None => (weakest, strongest),
        };
        let ready = if settings.is_none() { strengths().filter(within).collect() } else { vec![] };
        (weakest <= strongest).then_some(Makeable { weakest, strongest, settings, ready })
    }
}

/// The fewest strengths, however fine, that each stretch holds one of; which they are, as
/// the stretches that the sumps have in common.
pub(super) fn stabbed(stretches: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut by_end = stretches.to_vec();
    by_end.sort_unstable_by(|a, b| a.1.total_cmp(&b.1));
    let mut groups: Vec<(f64, f64)> = Vec::new();
    for (from, to) in by_end {
        match groups.last_mut() {
            Some(group) if from <= group.1 => group.0 = group.0.max(from),
            _ => groups.push((from, to)),
        }
    }
    groups
}

impl Makeable {
    /// Whether some premix brings a sump into its band.
    pub(super) fn serves(&self, need: &Need) -> bool {
        match &self.settings {
            Some(settings) => settings.iter().any(|s| need.least(*s).is_some()),
            None => need.strengths(self.weakest, self.strongest).is_some(),
        }
    }

    /// The strengths to choose among for sumps that are served by these stretches, the
    /// weakest first.
    pub(super) fn candidates(&self, stretches: &[(f64, f64)]) -> Vec<f64> {
        if let Some(settings) = &self.settings {
            return settings.clone();
        }
        let from = stretches.iter().map(|own| own.0).fold(f64::INFINITY, f64::min);
        let to = stretches.iter().map(|own| own.1).fold(f64::NEG_INFINITY, f64::max);
        let (from, to) = (from.max(self.weakest), to.min(self.strongest));
        let mut all = vec![self.weakest, self.strongest];
        all.extend(&self.ready);
        let mut step = (from * STEPS_PER_POINT).ceil();
        while step <= to * STEPS_PER_POINT {
            all.push(step / STEPS_PER_POINT);
            step += 1.0;
        }
        sorted(all.into_iter().filter(|c| (from..=to).contains(c)))
    }

    /// The same with the ends of the stretches, where tenths do not do it with as few.
    pub(super) fn with_ends(&self, candidates: &[f64], stretches: &[(f64, f64)]) -> Vec<f64> {
        if self.settings.is_some() {
            return candidates.to_vec();
        }
        let groups = stabbed(stretches);
        let own = if stretches.len() <= ALL_ENDS_TO { stretches } else { &groups };
        let ends = groups.iter().chain(own).flat_map(|(from, to)| {
            // No finer than a hundredth where that still serves.
            let (up, down) = ((from * 100.0).ceil() / 100.0, (to * 100.0).floor() / 100.0);
            if up <= down { [up, down] } else { [*from, *to] }
        });
        sorted(candidates.iter().copied().chain(ends))
    }
}

fn sorted(strengths: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut all: Vec<f64> = strengths.collect();
    all.sort_unstable_by(f64::total_cmp);
    all.dedup();
    all
}

/// What each sump costs with each strength, L of concentrate; infinite where it does not serve.
pub(super) fn costs(needs: &[Need], strengths: &[f64]) -> Vec<Vec<f64>> {
    let cost = |need: &Need, s: f64| need.least(s).map_or(f64::INFINITY, |a| s * a / 100.0);
    needs.iter().map(|need| strengths.iter().map(|s| cost(need, *s)).collect()).collect()
}

/// The fewest strengths for sumps that are all within reach of pouring alone, proven.
pub(super) fn fewest(makeable: &Makeable, needs: &[Need]) -> (Vec<f64>, Option<Chosen>) {
    let (weakest, strongest) = (makeable.weakest, makeable.strongest);
    let stretches: Vec<(f64, f64)> =
        needs.iter().filter_map(|need| need.strengths(weakest, strongest)).collect();
    let candidates = makeable.candidates(&stretches);
    let chosen = Choosing { costs: costs(needs, &candidates) }.fewest();
    let at_least = stabbed(&stretches).len();
    if chosen.as_ref().is_some_and(|own| own.choices.len() <= at_least) {
        return (candidates, chosen);
    }
    let finer = makeable.with_ends(&candidates, &stretches);
    let chosen = Choosing { costs: costs(needs, &finer) }.fewest();
    (finer, chosen)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stretches_in_common_share_a_strength() {
        // By hand: 7.2 serves the first three, the last needs its own.
        let stretches = [(4.0, 8.0), (7.0, 7.2), (6.5, 12.0), (9.0, 11.0)];
        assert_eq!(stabbed(&stretches), [(7.0, 7.2), (9.0, 11.0)]);
        assert_eq!(stabbed(&[]), []);
    }
}
