//! What is known at first, and what is done at an entry.

use super::super::losses::EstimatedDailyRate;
use super::alarms::{KeptSums, StateAlarm};
use super::filter::{
    Belief, CARRY_OFF, CONCENTRATE, EVAPORATION, MATTER, STANDING, VOLUME, Wandering,
};
use super::question::{StateLosses, SumpState};
use crate::dynamics::log::{LogTimes, ReadEntry, TakenOut};
use crate::dynamics::stretch::Stretch;
use crate::fluid::properties::{Properties, PropertyName};
use crate::fluid::reading::Reading;
use crate::numerics::small_square::{FewNumbers, SmallSquare};
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::{Kind, Refusal};
use jiff::civil::DateTime;
use smallvec::smallvec;

/// A volume reading whose uncertainty is not said is taken to be this uncertain, as a share of the
/// capacity, and a strength by so many points. Common practice, no source.
pub(super) const VOLUME_SHARE: f64 = 0.02;
pub(super) const POINTS: f64 = 0.2;
/// What is read of anything else is taken to be this uncertain, as a share of what is read.
pub(super) const CONTENT_SHARE: f64 = 0.05;
/// Losses of which nothing is known, as shares of the capacity in a day: the mean, and how far
/// it may be off. So wide that a few readings decide.
const LOSS: (f64, f64) = (0.03, 0.2);
const LOSS_AT_REST: (f64, f64) = (0.01, 0.03);
/// A sump of which no level is known at first, as a share of its capacity. Common practice, no
/// source.
const LEVEL: (f64, f64) = (0.9, 0.1);
/// What a litre may hold of something that was never read, mg.
const UNREAD: f64 = 1000.0;
/// How far a loss wanders in 30 days where nobody says. Common practice, no source.
const DRIFT: f64 = 0.1;

/// Where the way through a log begins.
#[derive(Debug)]
pub(super) struct Begun {
    /// The first entry that is followed.
    pub(super) from: usize,
    pub(super) belief: Belief,
    pub(super) day: f64,
    pub(super) clock: Option<DateTime>,
    pub(super) sums: KeptSums,
    pub(super) alarms: Vec<StateAlarm>,
    pub(super) instrument: Option<Reading>,
    pub(super) stands: bool,
    pub(super) assumed_level: bool,
    pub(super) entries_before: f64,
}

impl SumpState {
    pub(super) fn wandering(&self) -> Wandering {
        let known = self.losses.unwrap_or_default();
        Wandering {
            drift: self.drift.map_or(DRIFT, |drift| drift.get() / 100.0),
            depletion: known.depletion_ratio.map_or(1.0, Quantity::get),
        }
    }

    /// How uncertain a level is, and a mark that is filled up to.
    pub(super) fn volume_u(&self) -> f64 {
        let said = self.reading_uncertainty.and_then(|said| said.volume);
        said.map_or(self.sump.capacity.get() * VOLUME_SHARE, Quantity::get)
    }

    pub(super) fn points(&self) -> f64 {
        let said = self.reading_uncertainty.and_then(|said| said.concentration);
        said.map_or(POINTS, Quantity::get)
    }

    /// What is known before the first entry that is followed.
    pub(super) fn begin(
        &self,
        entries: &[ReadEntry],
        names: &[PropertyName],
        times: &LogTimes,
    ) -> Result<Begun, Refusal> {
        if let Some(state) = &self.state {
            return Ok(Begun {
                from: 0,
                belief: state.belief(names)?,
                day: state.day.get(),
                clock: moment(times, 0),
                sums: state.sums,
                alarms: state.alarms.clone(),
                instrument: state.reading.clone(),
                stands: state.stands,
                assumed_level: false,
                entries_before: state.entries.get(),
            });
        }
        let is_known = |entry: &ReadEntry| entry.strength.is_some() || entry.taken == TakenOut::All;
        let Some(from) = entries.iter().position(is_known) else {
            let detail = sentence!(
                "The log has no strength, so what is in the sump cannot be told. Read the strength \
                 once."
            );
            return Err(Refusal::new(Kind::NotIdentifiable, "/log", detail));
        };
        let first = &entries[from];
        let full = self.sump.capacity.get();
        let (v, u) = match first.volume {
            Some(level) => (level.value, level.u.unwrap_or(self.volume_u())),
            None => (LEVEL.0 * full, LEVEL.1 * full),
        };
        let c = first.strength.unwrap_or(0.0) / 100.0;
        let u_c = first.strength_u.unwrap_or(self.points()) / 100.0;
        let mut belief = Belief::nothing(MATTER + names.len());
        (belief.x[VOLUME], belief.x[CONCENTRATE]) = (v, v * c);
        belief.p[(VOLUME, VOLUME)] = u * u;
        let mut hold = |place: usize, content: f64, u_content: f64| {
            belief.x[place] = v * content;
            belief.p[(place, VOLUME)] = content * u * u;
            belief.p[(VOLUME, place)] = content * u * u;
            belief.p[(place, place)] = (content * u).powi(2) + (v * u_content).powi(2);
        };
        hold(CONCENTRATE, c, u_c);
        for (i, name) in names.iter().enumerate() {
            match self.log[from].properties.matter.get(name) {
                Some(content) => hold(MATTER + i, content.get(), CONTENT_SHARE * content.get()),
                None => hold(MATTER + i, 0.0, UNREAD),
            }
        }
        // All of them were read in one volume, which makes them go together.
        for a in CONCENTRATE..belief.x.len() {
            for b in CONCENTRATE..a {
                let both = belief.x[a] / v * (belief.x[b] / v) * u * u;
                (belief.p[(a, b)], belief.p[(b, a)]) = (both, both);
            }
        }
        let known = self.losses.unwrap_or_default();
        let mut rate = |place, known: Option<EstimatedDailyRate>, usual: (f64, f64)| {
            let (value, u) =
                known.map_or((usual.0 * full, usual.1 * full), |r| (r.value.get(), r.u.get()));
            belief.x[place] = value;
            belief.p[(place, place)] = u * u;
        };
        let StateLosses { evaporation, carry_off, standing, .. } = known;
        rate(EVAPORATION, evaporation, LOSS);
        rate(CARRY_OFF, carry_off, LOSS);
        rate(STANDING, standing, LOSS_AT_REST);
        Ok(Begun {
            from,
            belief,
            day: times.days[from],
            clock: moment(times, from),
            sums: KeptSums::nothing(times.days[from])?,
            alarms: Vec::new(),
            instrument: None,
            stands: false,
            assumed_level: first.volume.is_none() && first.taken != TakenOut::All,
            entries_before: 0.0,
        })
    }

    /// From one moment to another, by the calendar where there is one.
    pub(super) fn stretch(
        &self,
        days: (f64, f64),
        clocks: (Option<DateTime>, Option<DateTime>),
        stands: bool,
    ) -> Stretch {
        let whole = (days.1 - days.0).max(0.0);
        let clocks = clocks.0.zip(clocks.1);
        let worked = match (&self.calendar, clocks) {
            _ if stands => 0.0,
            (Some(calendar), Some((from, to))) => calendar.worked(from, to),
            _ => whole,
        };
        Stretch { days: whole, worked, stood: (whole - worked).max(0.0) }
    }

    /// Takes what else was read at an entry.
    pub(super) fn read_contents(&self, i: usize, names: &[PropertyName], belief: &mut Belief) {
        for (place, name) in names.iter().enumerate() {
            if let Some(content) = self.log[i].properties.matter.get(name) {
                let u = (CONTENT_SHARE * content.get()).max(f64::MIN_POSITIVE);
                belief.read_per_litre(MATTER + place, content.get(), u);
            }
        }
    }

    /// What is taken out and poured in at an entry, and how what is then there hangs on what was
    /// there before; none where there is less to take than was taken.
    pub(super) fn done(
        &self,
        i: usize,
        entry: &ReadEntry,
        names: &[PropertyName],
        before: Belief,
    ) -> Option<(Belief, SmallSquare)> {
        let n = before.x.len();
        let mut slope = SmallSquare::identity(n);
        let mut x = before.x;
        let v = x[VOLUME];
        let taken = match entry.taken {
            TakenOut::Nothing => 0.0,
            TakenOut::Litres(litres) => litres,
            TakenOut::All => v,
        };
        if taken > v {
            return None;
        }
        let share = 1.0 - taken / v;
        for place in CONCENTRATE..n {
            slope[(place, VOLUME)] = x[place] * taken / (v * v);
            slope[(place, place)] = share;
            x[place] *= share;
        }
        x[VOLUME] = v - taken;
        if entry.taken == TakenOut::All {
            slope.clear_row(VOLUME);
            (CONCENTRATE..n).for_each(|place| slope.clear_row(place));
        }
        let litre = self.litre(i, entry, names);
        let mut filling = 0.0;
        let added = match entry.poured.unwritten_up_to() {
            Some(to) => {
                for (place, holds) in litre.iter().enumerate() {
                    for by in 0..n {
                        slope[(CONCENTRATE + place, by)] -= slope[(VOLUME, by)] * holds;
                    }
                }
                slope.clear_row(VOLUME);
                filling = self.volume_u();
                to - x[VOLUME]
            }
            None => entry.poured.litres.unwrap_or(0.0),
        };
        x[VOLUME] += added;
        for (place, holds) in litre.iter().enumerate() {
            x[CONCENTRATE + place] += added * holds;
        }
        let mut p = slope.around(&before.p);
        if filling > 0.0 {
            // Nobody fills up to a mark more exactly than it is read.
            let mut by: FewNumbers = smallvec![0.0; n];
            by[VOLUME] = filling;
            litre
                .iter()
                .enumerate()
                .for_each(|(place, holds)| by[CONCENTRATE + place] = holds * filling);
            p.change(|a, b, p| p + by[a] * by[b]);
        }
        Some((Belief { x, p }, slope))
    }

    /// What a litre of what was poured in holds: concentrate, and what else is followed.
    fn litre(&self, i: usize, entry: &ReadEntry, names: &[PropertyName]) -> Vec<f64> {
        let of = self.log[i].added.as_ref().and_then(|added| added.of.as_ref());
        let fluid =
            self.fluids.iter().flatten().find(|fluid| of.is_some_and(|of| *of == fluid.name));
        let none = Properties::default();
        let carries = fluid.map_or(&none, |fluid| &fluid.properties);
        let contents = names.iter().map(|name| carries.matter.get(name).map_or(0.0, |c| c.get()));
        [entry.poured.strength / 100.0].into_iter().chain(contents).collect()
    }
}

/// What the clock showed at a place in the times.
pub(super) fn moment(times: &LogTimes, i: usize) -> Option<DateTime> {
    times.clocks.as_ref().and_then(|clocks| clocks.get(i)).copied()
}
