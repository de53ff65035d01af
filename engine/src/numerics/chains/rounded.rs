//! Limits that say more of whole events than their sums do.
//!
//! With k a whole number and x = a/M the share of a limit that an event takes, events that fit
//! together satisfy Σ u(x) ≤ 1 with u(x) = x where (k + 1)·x is whole, else ⌊(k + 1)·x⌋/k. So of
//! what takes more than half of a day there is one a day, whatever is left of its hours.
//!
//! Source: the dual feasible functions of Fekete and Schepers (Mathematical Programming 91, 2001,
//! 11–31).

use super::{Chains, ROUNDING, SharedLimit};
use std::collections::BTreeMap;

/// The numbers k that are looked at.
const ROUNDS: [f64; 2] = [1.0, 2.0];

impl Chains {
    /// Adds to each plain limit what rounding tells of it. They hold wherever the limits themselves
    /// do.
    pub(super) fn with_rounded(&self) -> Self {
        let mut chains = self.clone();
        // The kinds that are there already, by the kind they come from, the limit's size and k.
        let mut kinds: BTreeMap<(usize, u64, usize), Option<usize>> = BTreeMap::new();
        let mut added: BTreeMap<(usize, usize), usize> = BTreeMap::new();
        for slot in &mut chains.slots {
            let own = slot.limits.clone();
            for (limit, kind) in own {
                let room = self.limits[limit].most - self.limits[limit].base;
                if self.limits[limit].whole || !room.is_finite() || room <= 0.0 {
                    continue;
                }
                for (place, k) in ROUNDS.into_iter().enumerate() {
                    let key = (kind, room.to_bits(), place);
                    let rounded = *kinds
                        .entry(key)
                        .or_insert_with(|| rounded_kind(&mut chains.chains, kind, room, k));
                    let Some(rounded) = rounded else { continue };
                    let limits = &mut chains.limits;
                    let new = *added.entry((limit, place)).or_insert_with(|| {
                        limits.push(SharedLimit::plain(1.0));
                        limits.len() - 1
                    });
                    slot.limits.push((new, rounded));
                }
            }
        }
        chains
    }
}

/// Adds a kind of amount that is another one rounded; none where that tells nothing new.
fn rounded_kind(chains: &mut [super::Chain], kind: usize, room: f64, k: f64) -> Option<usize> {
    let shares: Vec<f64> = chains.iter().map(|chain| chain.amounts[kind] / room).collect();
    let rounded: Vec<f64> = shares.iter().map(|share| rounded(*share, k)).collect();
    let tells = rounded.iter().zip(&shares).any(|(rounded, share)| rounded > share);
    if !tells {
        return None;
    }
    for (chain, rounded) in chains.iter_mut().zip(rounded) {
        chain.amounts.push(rounded);
    }
    chains.first().map(|chain| chain.amounts.len() - 1)
}

fn rounded(share: f64, k: f64) -> f64 {
    let times = (k + 1.0) * share;
    if (times - times.round()).abs() <= 4.0 * ROUNDING { share } else { times.floor() / k }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..Default::default() })]

        /// What fits together still fits when it is rounded.
        #[test]
        fn what_fits_still_fits(
            amounts in proptest::collection::vec(1..40_u32, 1..12),
            most in 5..60_u32,
        ) {
            let (mut sum, mut fits) = (0, Vec::new());
            for amount in amounts {
                if sum + amount <= most {
                    sum += amount;
                    fits.push(f64::from(amount) / f64::from(most));
                }
            }
            for k in [1.0, 2.0, 3.0] {
                let all: f64 = fits.iter().map(|share| rounded(*share, k)).sum();
                prop_assert!(all <= 1.0 + 1e-9, "{:?} {} {}", fits, k, all);
            }
        }
    }
}
