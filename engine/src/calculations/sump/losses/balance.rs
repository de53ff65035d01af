//! The material balance of a log: what was in the sump at the first entry and went in
//! since, where it went, and what the last entry found.
//!
//! What stays comes from following the sump entry by entry in closed form; what
//! left on the chips is summed up by quadrature along the way, and the volumes by
//! rate and time. So the residual checks the course and not itself.

use super::course::{CARRY_OFF, EVAPORATION, STANDING, rates, richer};
use super::fit::Fitted;
use super::log::Log;
use super::suspect::Suspect;
use crate::dynamics::stretch::{HeldFluid, Stretch, flow};
use crate::fluid::Fluid;
use crate::fluid::balance::{Balance, StreamDirection};
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::text::Refusal;

/// The five-point Gauss–Legendre rule on −1 to 1: nodes and weights (Abramowitz and
/// Stegun, table 25.4).
const RULE: [(f64, f64); 5] = [
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683, 0.478_628_670_499_366_5),
    (-0.538_469_310_105_683, 0.478_628_670_499_366_5),
    (0.906_179_845_938_664, 0.236_926_885_056_189_1),
    (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
];

/// Draws up the balance of a fitted log.
pub(super) fn balance(log: &Log, fitted: &Fitted) -> Result<Balance, Refusal> {
    let course = &fitted.course;
    let last = log.events.len() - 1;
    let (mut added, mut removed) = (HeldFluid { v: 0.0, c: 0.0 }, HeldFluid { v: 0.0, c: 0.0 });
    let (mut unsaid, mut ingress, mut carried) = (HeldFluid { v: 0.0, c: 0.0 }, 0.0, 0.0);
    for i in 0..last {
        let (event, before) = (&log.events[i], course.before[i]);
        let (poured, strength) = (course.poured[i], event.poured.strength / 100.0);
        added.v += poured;
        added.c += poured * strength * richer(log, &fitted.theta, &fitted.suspects, i);
        removed.v += course.taken[i];
        removed.c += course.taken[i] * before.c / before.v;
        let missing = missing(fitted, i);
        added.v -= poured * missing;
        added.c -= poured * strength * missing;
        carried += carried_off(log, fitted, i);
        let rates = rates(&fitted.theta, &fitted.suspects, i);
        ingress += rates.ingress * log.stretch(i).days;
    }
    for (s, suspect) in fitted.suspects.iter().enumerate() {
        match suspect {
            Suspect::Addition { strength, .. } => {
                unsaid.v += fitted.amount(s);
                unsaid.c += fitted.amount(s) * strength / 100.0;
            }
            Suspect::Concentrate { .. } => unsaid.c += fitted.amount(s),
            _ => {}
        }
    }
    let (worked, stood) = log.passed();
    let standing = HeldFluid { v: fitted.theta[STANDING] * stood, c: 0.0 };
    let evaporated = HeldFluid { v: fitted.theta[EVAPORATION] * worked, c: 0.0 };
    let carried = HeldFluid { v: fitted.theta[CARRY_OFF] * worked, c: carried };
    let ingress = HeldFluid { v: ingress, c: 0.0 };
    let (first, stays) = (course.before[0], course.before[last]);
    let streams = [
        ("sump at the first entry", StreamDirection::In, first),
        ("added", StreamDirection::In, added),
        ("added and not written down", StreamDirection::In, unsaid),
        ("water leaked in", StreamDirection::In, ingress),
        ("evaporated", StreamDirection::Out, evaporated),
        ("evaporated while it stood", StreamDirection::Out, standing),
        ("carried off", StreamDirection::Out, carried),
        ("removed", StreamDirection::Out, removed),
        ("sump at the last entry", StreamDirection::Stays, stays),
    ];
    let streams = streams.into_iter().filter(|(_, _, state)| state.v > 0.0);
    let fluids: Vec<(&str, StreamDirection, Fluid)> =
        streams.map(|(name, way, state)| (name, way, fluid(state))).collect();
    let rows: Vec<(&str, StreamDirection, &Fluid)> =
        fluids.iter().map(|(name, way, fluid)| (*name, *way, fluid)).collect();
    Balance::close(&rows)
}

fn fluid(state: HeldFluid) -> Fluid {
    Fluid {
        volume: state.v,
        concentrate: state.c,
        mass: state.v * DENSITY_AT_20_CELSIUS,
        ..Fluid::default()
    }
}

/// The share of an addition written down that never went in.
fn missing(fitted: &Fitted, i: usize) -> f64 {
    let off = fitted.suspects.iter().enumerate().map(|(s, suspect)| match suspect {
        Suspect::Missing { at } if *at == i => fitted.amount(s),
        _ => 0.0,
    });
    off.sum()
}

/// Concentrate carried off from entry `i` to the next: the integral of
/// k·d·C(t)/V(t), piece by piece so short that the rule is exact to the last
/// digits.
fn carried_off(log: &Log, fitted: &Fitted, i: usize) -> f64 {
    /// Over a piece the volume changes by no more than this share, and so does the
    /// concentrate.
    const SHORT: f64 = 0.1;
    const MOST_PIECES: f64 = 1000.0;
    let rates = rates(&fitted.theta, &fitted.suspects, i);
    let stretch = log.stretch(i);
    let (from, to) = (fitted.course.after[i], fitted.course.flows[i].to);
    let least = from.v.min(to.v);
    let change = ((from.v - to.v).abs() + rates.clearance.abs() * stretch.worked) / least;
    let pieces = (change / SHORT).ceil().clamp(1.0, MOST_PIECES);
    let part = |share: f64| Stretch {
        days: stretch.days * share,
        worked: stretch.worked * share,
        stood: stretch.stood * share,
    };
    let mut carried = 0.0;
    let mut piece = 0.0;
    while piece < pieces {
        for (node, weight) in RULE {
            let share = (piece + 0.5 + node / 2.0) / pieces;
            let at = flow(from, rates, part(share));
            let leaving = at.map_or(0.0, |flow| rates.clearance * flow.to.c / flow.to.v);
            carried += leaving * weight / 2.0 * stretch.worked / pieces;
        }
        piece += 1.0;
    }
    carried
}
