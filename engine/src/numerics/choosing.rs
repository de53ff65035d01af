//! The fewest of a row of choices that serve everybody, and of those the cheapest.
//!
//! Choices stand in an order: strengths, sizes, places along a line. Each client is
//! served by some of them, one beside the other, and what it pays falls towards the
//! choice that it likes best and rises after it. So of the choices that are made, the
//! best for a client is one of the two on either side of what it likes best, and with
//! w(p, q) what the clients pay whose best lies from p up to q, none made between:
//!
//! 1. w(p, q) = Σ min(f(p), f(q))
//! 2. D(k, q) = min over p of D(k − 1, p) + w(p, q)
//!
//! is exact for any number of clients and choices. Source: the median of points on a
//! line by dynamic programming, as in Hassin and Tamir, Operations Research Letters 10
//! (1991) 395, from memory.

use crate::numerics::cut_off::look;

/// Clients and what each pays for each choice.
#[derive(Debug, Clone, PartialEq)]
pub struct Choosing {
    /// A row for each client, in the order of the choices; infinite where a choice does not
    /// serve it. Finite costs stand together, and fall before they rise.
    pub costs: Vec<Vec<f64>>,
}

/// Choices that serve everybody.
#[derive(Debug, Clone, PartialEq)]
pub struct Chosen {
    /// Their places, in order; no fewer serve everybody.
    pub choices: Vec<usize>,
    /// What is paid; nobody does it for less with as many.
    pub cost: f64,
}

impl Choosing {
    /// The fewest choices, and of those the cheapest; none where somebody is served by none.
    #[must_use]
    pub fn fewest(&self) -> Option<Chosen> {
        let Some(choices) = self.costs.first().map(Vec::len) else {
            return Some(Chosen { choices: Vec::new(), cost: 0.0 });
        };
        let between = self.between(choices);
        // Place 0 stands before all choices, and `choices + 1` after them.
        let end = choices + 1;
        let mut layers: Vec<Vec<(f64, usize)>> = Vec::new();
        let mut best = vec![f64::INFINITY; end + 1];
        best[0] = 0.0;
        for _ in 0..choices {
            look();
            let (next, from) = step(&best, &between, end);
            best.clone_from(&next);
            layers.push(next.iter().copied().zip(from).collect());
            let (last, cost) = least((1..end).map(|p| best[p] + between[p][end]));
            if cost.is_finite() {
                return Some(Chosen { choices: traced(&layers, last + 1), cost });
            }
        }
        None
    }

    /// What the clients pay whose best choice lies from `p` up to `q`, with none made between.
    fn between(&self, choices: usize) -> Vec<Vec<f64>> {
        let end = choices + 1;
        let mut between = vec![vec![0.0; end + 1]; end];
        for costs in &self.costs {
            look();
            let (best, _) = least(costs.iter().copied());
            let at = |place: usize| {
                place.checked_sub(1).and_then(|c| costs.get(c)).copied().unwrap_or(f64::INFINITY)
            };
            for (p, row) in between.iter_mut().enumerate().take(best + 2) {
                let low = at(p);
                for (q, paid) in row.iter_mut().enumerate().skip(best + 2) {
                    *paid += low.min(at(q));
                }
            }
        }
        between
    }
}

/// One more choice.
fn step(best: &[f64], between: &[Vec<f64>], end: usize) -> (Vec<f64>, Vec<usize>) {
    let mut next = vec![f64::INFINITY; end + 1];
    let mut from = vec![0; end + 1];
    for q in 1..end {
        let (p, cost) = least((0..q).map(|p| best[p] + between[p][q]));
        next[q] = cost;
        from[q] = p;
    }
    (next, from)
}

/// The place of the least, the first of equal ones, and the least.
fn least(costs: impl Iterator<Item = f64>) -> (usize, f64) {
    costs.enumerate().fold(
        (0, f64::INFINITY),
        |best, (place, cost)| {
            if cost < best.1 { (place, cost) } else { best }
        },
    )
}

/// The choices that end with `last`.
fn traced(layers: &[Vec<(f64, usize)>], last: usize) -> Vec<usize> {
    let mut place = last;
    let mut choices = Vec::with_capacity(layers.len());
    for layer in layers.iter().rev() {
        choices.push(place - 1);
        place = layer[place].1;
    }
    choices.reverse();
    choices
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The best of all sets of choices, by going through them.
    fn searched(costs: &[Vec<f64>]) -> Option<(u32, f64)> {
        let choices = costs[0].len();
        let paid = |set: usize| {
            let of = |row: &Vec<f64>| {
                let made = row.iter().enumerate().filter(|(place, _)| set >> place & 1 == 1);
                made.map(|(_, cost)| *cost).fold(f64::INFINITY, f64::min)
            };
            costs.iter().map(of).sum::<f64>()
        };
        let sets = (1..1_usize << choices).map(|set| (set.count_ones(), paid(set)));
        let served = sets.filter(|(_, cost)| cost.is_finite());
        served.min_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)))
    }

    #[test]
    fn no_set_of_choices_does_better() {
        let mut seed = 7_u64;
        let mut draw = |below: u64| {
            seed = seed.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
            (seed >> 33) % below
        };
        let (mut several, mut none) = (0, 0);
        for _ in 0..400 {
            let clients = 1 + draw(7);
            let costs: Vec<Vec<f64>> = (0..clients)
                .map(|_| {
                    let (from, wide, best) = (draw(9), draw(5), draw(9));
                    #[expect(clippy::cast_precision_loss, reason = "a few")]
                    let cost = |at: u64| (at.abs_diff(best) * (1 + from % 3)) as f64;
                    let serves = |at: u64| at >= from && at <= from + wide && wide < 4;
                    (0..9).map(|at| if serves(at) { cost(at) } else { f64::INFINITY }).collect()
                })
                .collect();
            let found = Choosing { costs: costs.clone() }.fewest();
            let Some((fewest, cost)) = searched(&costs) else {
                none += 1;
                assert_eq!(found, None, "{costs:?}");
                continue;
            };
            let found = found.expect("everybody is served");
            assert_eq!((found.choices.len(), found.cost), (fewest as usize, cost), "{costs:?}");
            several += usize::from(fewest > 1);
        }
        assert!(several > 50 && none > 50, "{several} of several, {none} of none");
    }

    #[test]
    fn nobody_needs_nothing() {
        let chosen = Choosing { costs: Vec::new() }.fewest().expect("nobody is left out");
        assert_eq!((chosen.choices.len(), chosen.cost), (0, 0.0));
    }
}
