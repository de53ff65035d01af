//! The order of the trips: one that washes seldom and empties the dirty fluid seldom.

use super::Recharge;
use super::mixed::Mixed;
use super::trips::{Block, Trip};
use crate::numerics::packing::{Packing, fits};

/// Puts the trips in order. Products come one after the other, so that hoses are
/// washed once between two of them; among the trips of one, those are put together
/// that fill the vessels for dirty fluid well.
pub(super) fn route(round: &Recharge, blocks: Vec<Block>, batches: &[Mixed]) -> Vec<Trip> {
    let mut groups: Vec<(&str, Vec<Block>)> = Vec::new();
    for block in blocks {
        let product = batches[block.shared.batch].product.as_str();
        match groups.iter_mut().find(|(name, _)| *name == product) {
            Some((_, group)) => group.push(block),
            None => groups.push((product, vec![block])),
        }
    }
    let dirty = round.hold().dirty;
    groups.into_iter().flat_map(|(_, group)| in_order(group, dirty)).collect()
}

fn in_order(group: Vec<Block>, hold: f64) -> Vec<Trip> {
    let (large, single): (Vec<Block>, Vec<Block>) =
        group.into_iter().partition(|block| !block.before.is_empty() || !block.after.is_empty());
    let dirty: Vec<f64> = single.iter().map(|block| block.shared.dirty()).collect();
    let mut bins = fills(&dirty, hold).solve().bins;
    bins.iter_mut().for_each(|bin| bin.sort_unstable());
    bins.sort_unstable();
    let mut trips: Vec<Trip> = Vec::new();
    for block in large {
        trips.extend(block.before);
        trips.push(block.shared);
        trips.extend(block.after);
    }
    trips.extend(bins.into_iter().flatten().map(|place| single[place].shared.clone()));
    trips
}

/// For each trip whether the vessels for dirty fluid are emptied at its end: where the
/// next trip's would not fit on top or must be kept apart, and when all is done.
pub(super) fn emptyings(round: &Recharge, trips: &[Trip], batches: &[Mixed]) -> Vec<bool> {
    let hold = round.hold().dirty;
    if hold.is_infinite() {
        return vec![false; trips.len()];
    }
    let mut held = 0.0;
    let fluid = |trip: &Trip| round.dirty_fluid(&batches[trip.batch].product);
    // Whose dirty fluid is in them: that of the last trip that fetched any.
    let mut of = "";
    let mut emptied = Vec::with_capacity(trips.len());
    for (place, trip) in trips.iter().enumerate() {
        if trip.dirty() > 0.0 {
            held += trip.dirty();
            of = fluid(trip);
        }
        let stays = trips.get(place + 1).is_some_and(|next| {
            let kept_apart = next.dirty() > 0.0 && fluid(next) != of;
            fits(held + next.dirty(), hold) && !kept_apart
        });
        let empties = held > 0.0 && !stays;
        if empties {
            held = 0.0;
        }
        emptied.push(empties);
    }
    emptied
}

/// How often the vessels for dirty fluid must be emptied at least, whichever sumps share a
/// trip: between two emptyings they hold whole loads of one kind.
pub(super) fn emptyings_at_least(round: &Recharge, trips: &[Trip], batches: &[Mixed]) -> usize {
    let hold = round.hold().dirty;
    if hold.is_infinite() {
        return 0;
    }
    let mut loads: Vec<(&str, Vec<f64>)> = Vec::new();
    for trip in trips {
        let fluid = round.dirty_fluid(&batches[trip.batch].product);
        let fetched = trip.loads.iter().map(|load| load.dirty).filter(|dirty| *dirty > 0.0);
        match loads.iter_mut().find(|(name, _)| *name == fluid) {
            Some((_, group)) => group.extend(fetched),
            None => loads.push((fluid, fetched.collect())),
        }
    }
    loads.into_iter().map(|(_, group)| fills(&group, hold).bins_at_least()).sum()
}

/// Loads of dirty fluid, to be packed into as few fills of its vessels as can be.
fn fills(dirty: &[f64], hold: f64) -> Packing {
    Packing {
        items: dirty.iter().map(|litres| [*litres, 0.0, 0.0]).collect(),
        capacity: [hold, f64::INFINITY, f64::INFINITY],
        charge: None,
    }
}

impl Recharge {
    /// What dirty fluid of `product` may share the vessels with, by name: its own
    /// kind, or all where mixing is allowed.
    pub(super) fn dirty_fluid<'a>(&self, product: &'a str) -> &'a str {
        if self.may_mix_dirty() { "" } else { product }
    }
}
