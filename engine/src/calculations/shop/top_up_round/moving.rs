//! Moving good fluid from a sump that is too strong to one that is too weak.
//!
//! For premix of s % by volume into the sump that gives and of t into the one that takes,
//! the least of each is the largest of a few straight lines over g, what is moved (see
//! [`need`](super::need)). What both cost in concentrate,
//!
//! 1. s·A(g) + t·B(g)
//!
//! is so convex and bent at the places where two lines cross, and its least is at one of
//! them or at an end of what may be moved.

use super::need::{Flowing, Need, PremixBounds, Slope};

/// What is moved, and what is poured afterwards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct MovedBetween {
    /// What is moved, L.
    pub(super) g: f64,
    /// What the sump that gave gets of its premix, L.
    pub(super) into_giver: f64,
    /// What the sump that took gets of its premix, L.
    pub(super) into_taker: f64,
}

/// The cheapest move of `at_least` litres or more between the two, with premix of `s` for the
/// giver and of `t` for the taker, or none for it; none where no move brings both into their
/// bands.
pub(super) fn cheapest(
    giver: &Need,
    taker: &Need,
    (s, t): (f64, Option<f64>),
    at_least: f64,
) -> Option<MovedBetween> {
    let strength = giver.strength();
    let out = giver.bounds(s, Flowing { way: -1.0, strength });
    let middle = f64::midpoint(taker.low, taker.high);
    let mut into = taker.bounds(t.unwrap_or(middle), Flowing { way: 1.0, strength });
    if t.is_none() {
        into.upper = vec![Slope { at: 0.0, by: 0.0 }];
        let level = Slope { at: taker.v - taker.cap, by: 1.0 };
        into.held.push(level);
    }
    let (mut from, mut to) = (at_least, giver.v);
    for own in held(&out).chain(held(&into)) {
        narrow(own, &mut from, &mut to);
    }
    if from > to {
        return None;
    }
    let poured = |g: f64| {
        let most = |own: &PremixBounds| own.lower.iter().map(|l| l.value(g)).fold(0.0, f64::max);
        (most(&out), most(&into))
    };
    let cost = |(a, b): (f64, f64)| s * a + t.unwrap_or(0.0) * b;
    let mut best = (f64::INFINITY, from);
    let bends = crossings(&out.lower).chain(crossings(&into.lower));
    for g in [from, to].into_iter().chain(bends.filter(|g| *g > from && *g < to)) {
        let own = cost(poured(g));
        // Of what costs the same the least is moved.
        let same = 1e-9 * giver.cap;
        if own < best.0 - same || (own <= best.0 + same && g < best.1) {
            best = (own, g);
        }
    }
    let g = best.1;
    let (into_giver, into_taker) = poured(g);
    Some(MovedBetween { g, into_giver, into_taker: if t.is_none() { 0.0 } else { into_taker } })
}

/// What must not be above 0 for any premix to be right.
fn held(bounds: &PremixBounds) -> impl Iterator<Item = Slope> {
    let pairs = bounds.lower.iter().flat_map(|l| bounds.upper.iter().map(|u| l.less(*u)));
    pairs.chain(bounds.held.iter().copied())
}

/// Narrows the range of g to where the bound is not above 0.
fn narrow(own: Slope, from: &mut f64, to: &mut f64) {
    const LEVEL: f64 = 1e-12;
    /// Rounding of volumes, L.
    const SLACK: f64 = 1e-9;
    if own.by > LEVEL {
        *to = to.min(-own.at / own.by);
    } else if own.by < -LEVEL {
        *from = from.max(-own.at / own.by);
    } else if own.at > SLACK {
        *to = f64::NEG_INFINITY;
    }
}

/// Where two of the lines cross.
fn crossings(lines: &[Slope]) -> impl Iterator<Item = f64> {
    let pairs =
        lines.iter().enumerate().flat_map(|(i, a)| lines[i + 1..].iter().map(move |b| (a, b)));
    pairs.filter_map(|(a, b)| {
        let apart = a.less(*b);
        (apart.by != 0.0).then(|| -apart.at / apart.by)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fluid::band::Standing;

    fn need(v: f64, c: f64, cap: f64, standing: Standing) -> Need {
        let ends = (5.5, 7.0);
        Need { v, k: c * v, floor: cap, cap, low: 5.5, high: 7.0, ends, standing }
    }

    /// The sump with so much moved.
    fn after(need: &Need, g: f64, Flowing { way, strength }: Flowing) -> Need {
        Need { v: need.v + way * g, k: need.k + way * strength * g, ..*need }
    }

    /// Against going through what may be moved in small steps.
    #[test]
    fn no_other_amount_is_cheaper() {
        let giver = need(170.0, 8.5, 200.0, Standing::Above);
        let lean = need(150.0, 4.0, 200.0, Standing::Below);
        let nearly = need(185.0, 5.4, 200.0, Standing::Below);
        let mut moved = 0;
        let strengths = [(0.0, Some(12.0)), (2.0, Some(12.0)), (0.0, None), (2.0, Some(8.0))];
        for (taker, (s, t)) in
            [&lean, &nearly].into_iter().flat_map(|own| strengths.map(|st| (own, st)))
        {
            let strength = giver.strength();
            let cost = |g: f64| {
                let a = after(&giver, g, Flowing { way: -1.0, strength }).least(s)?;
                let taking = after(taker, g, Flowing { way: 1.0, strength });
                let b = match t {
                    Some(t) => t * taking.least(t)?,
                    None => {
                        let c = taking.strength();
                        let full = taking.v >= taking.floor - 1e-9 && taking.v <= taking.cap;
                        (full && (5.5..=7.0).contains(&c)).then_some(0.0)?
                    }
                };
                Some(s * a + b)
            };
            let steps = (20..=195_000).map(|i| f64::from(i) / 1000.0).filter(|g| *g >= 5.0);
            let least = steps.filter_map(cost).fold(f64::INFINITY, f64::min);
            match cheapest(&giver, taker, (s, t), 5.0) {
                Some(found) => {
                    moved += 1;
                    let own = s * found.into_giver + t.unwrap_or(0.0) * found.into_taker;
                    assert!(own <= least + 1e-6, "{s} {t:?}: {own} {least}");
                    let again = cost(found.g + 1e-9).or_else(|| cost(found.g - 1e-9));
                    let again = again.or_else(|| cost(found.g)).expect("it serves both");
                    assert!((again - own).abs() < 1e-5, "{own} {again}");
                }
                None => assert!(least.is_infinite(), "{s} {t:?}: {least}"),
            }
        }
        assert!(moved >= 3, "{moved}");
    }
}
