//! The vessels of one kind on the way, and what is in each of them.

use super::{Recharge, VesselUse};

/// The vessels that clean or dirty fluid goes into; none where nothing is for it.
pub(super) struct Held(Vec<Level>);

struct Level {
    /// Where the vessel stands in the list.
    place: usize,
    /// What it takes, L.
    takes: f64,
    /// What is in it, L.
    holds: f64,
}

/// A part of a volume, and the vessel that it is moved with.
pub(super) type VesselPart = (Option<usize>, f64);

/// Less than this share of a vessel is rounding, and no room to fill.
const ROUNDING: f64 = 1e-12;

impl Held {
    pub(super) fn of(round: &Recharge, holds: VesselUse) -> Self {
        let levels = round.takes(holds).map(|(place, takes)| Level { place, takes, holds: 0.0 });
        Self(levels.collect())
    }

    /// Puts `volume` litres into the vessels, the first first; the last takes what is left.
    pub(super) fn put(&mut self, volume: f64) -> Vec<VesselPart> {
        let last = self.0.len().saturating_sub(1);
        let (mut left, mut parts) = (volume, Vec::new());
        for (i, level) in self.0.iter_mut().enumerate() {
            let room = (level.takes - level.holds).max(0.0);
            let part = if i == last || left <= room { left } else { room };
            let negligible = part <= ROUNDING * level.takes && part < left;
            if !negligible && part > 0.0 {
                level.holds += part;
                left -= part;
                parts.push((Some(level.place), part));
            }
        }
        if parts.is_empty() { vec![(None, volume)] } else { parts }
    }

    /// Draws `volume` litres from the vessels, the first first; the last gives what is left.
    pub(super) fn draw(&mut self, volume: f64) -> Vec<VesselPart> {
        let last = self.0.iter().rposition(|level| level.holds > 0.0);
        let (mut left, mut parts) = (volume, Vec::new());
        for (i, level) in self.0.iter_mut().enumerate() {
            let part = if Some(i) == last { left } else { level.holds.min(left) };
            let negligible = part <= ROUNDING * level.takes && part < left;
            if !negligible && part > 0.0 {
                level.holds = (level.holds - part).max(0.0);
                left -= part;
                parts.push((Some(level.place), part));
            }
        }
        if parts.is_empty() { vec![(None, volume)] } else { parts }
    }

    /// Empties all of them.
    pub(super) fn empty(&mut self) -> Vec<VesselPart> {
        let filled = self.0.iter_mut().filter(|level| level.holds > 0.0);
        filled.map(|level| (Some(level.place), std::mem::take(&mut level.holds))).collect()
    }
}
