//! Where a fit begins: what the levels that are known say of the loss alone.

use super::fit::LogUnfit;
use super::log::{Event, Log, Seen};
use crate::dynamics::log::TakenOut;
use nalgebra::DVector;

/// Where to begin: what went missing between levels that are known, half of it to each side.
pub(super) fn start(log: &Log) -> Result<DVector<f64>, LogUnfit> {
    let levels = Levels::of(log);
    let loss = match (levels.over > 0.0, log.filled_blindly()) {
        (true, _) => levels.lost / levels.over,
        (false, 0) => return Err(LogUnfit::Undetermined),
        (false, _) => supposed_loss(log),
    };
    let v_0 = levels.first.map_or(log.capacity, |(worked, v)| v + loss * worked);
    let strength = log.observations.iter().find_map(|o| match o.seen {
        Seen::Strength(_) => Some(o.value),
        _ => None,
    });
    let known = |wanted| log.observations.iter().find(|o| o.seen == wanted).map(|o| o.value);
    let d = match (known(Seen::CarryOff), known(Seen::Evaporation)) {
        (Some(d), _) => d,
        (None, Some(e)) => (loss - e).max(0.1 * loss),
        (None, None) => 0.5 * loss,
    };
    let c_0 = strength.ok_or(LogUnfit::Undetermined)? * v_0 / 100.0;
    let standing = match (log.tells_standing, known(Seen::Standing)) {
        (false, _) => 0.0,
        (true, known) => known.unwrap_or(0.1 * loss),
    };
    Ok(DVector::from_vec(vec![v_0, c_0, loss - d, d, log.depletion, 1.0, standing]))
}

/// A loss to begin with where no level tells it, so small that no filling comes too late.
fn supposed_loss(log: &Log) -> f64 {
    /// Shares of the capacity: of a day, and at most between two fillings.
    const A_DAY: f64 = 0.03;
    const BETWEEN: f64 = 0.3;
    let (mut since, mut longest) = (0.0, 0.0_f64);
    for event in &log.events {
        longest = longest.max(event.worked - since);
        if event.poured.unwritten_up_to().is_some() {
            since = event.worked;
        }
    }
    log.capacity * A_DAY.min(BETWEEN / longest)
}

/// What levels that are known say of the loss alone.
#[derive(Debug, Default)]
pub(super) struct Levels {
    /// What went missing between them, L.
    lost: f64,
    /// In how much of the losses' time.
    pub(super) over: f64,
    /// The first of them by what was poured in before it: the time and the volume that the sump
    /// began with but for its losses until then.
    first: Option<(f64, f64)>,
}

impl Levels {
    pub(super) fn of(log: &Log) -> Self {
        let mut levels = Self::default();
        let mut known: Option<(f64, f64)> = None;
        let (mut poured, mut is_whole) = (0.0, true);
        for (i, event) in log.events.iter().enumerate() {
            let mut seen = log.observations.iter().filter(|o| o.seen == Seen::Volume(i));
            if let Some(seen) = seen.next() {
                if let Some((since, v)) = known {
                    levels.lost += v - seen.value;
                    levels.over += event.worked - since;
                }
                if levels.first.is_none() && is_whole {
                    levels.first = Some((event.worked, seen.value - poured));
                }
                known = Some((event.worked, seen.value));
            }
            let taken = match event.taken {
                TakenOut::Nothing => 0.0,
                TakenOut::Litres(litres) => litres,
                TakenOut::All => {
                    (known, is_whole) = (Some((event.worked, 0.0)), false);
                    0.0
                }
            };
            poured += event.added() - taken;
            known = known.map(|(since, v)| (since, v - taken + event.added()));
            if let Some(to) = event.poured.unwritten_up_to() {
                (known, is_whole) = (Some((event.worked, to)), false);
            }
        }
        levels
    }
}

impl Log {
    /// How often it is filled up to a mark between its first entry and its last with nobody
    /// writing down how much that took, where no two levels are known: its strengths alone can
    /// then tell what it loses.
    pub(super) fn filled_blindly(&self) -> usize {
        let is_filled = |event: &&Event| event.poured.unwritten_up_to().is_some();
        let before_last = &self.events[..self.events.len().saturating_sub(1)];
        let count = before_last.iter().filter(is_filled).count();
        if Levels::of(self).over > 0.0 { 0 } else { count }
    }
}
