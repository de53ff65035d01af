//! From the first entry, or from the state, through the log to now.

use super::alarms::{KeptSums, StateAlarm, WatchedReading};
use super::checks::Taken;
use super::estimate::moment;
use super::filter::{
    Belief, CARRY_OFF, CONCENTRATE, EVAPORATION, Innovation, STANDING, VOLUME, Wandering,
};
use super::question::SumpState;
use crate::dynamics::log::{LogTimes, ReadEntry, TakenOut};
use crate::dynamics::stretch::Stretch;
use crate::fluid::properties::PropertyName;
use crate::fluid::reading::Reading;
use crate::numerics::cut_off::look;
use crate::numerics::small_square::SmallSquare;
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::{Kind, Refusal};

/// What came of the log.
#[derive(Debug)]
pub(super) struct Run {
    pub(super) steps: Vec<Step>,
    /// What is in the sump after the last entry, and at the moment that is asked about.
    pub(super) last: Belief,
    pub(super) now: Belief,
    /// The days of both.
    pub(super) last_day: f64,
    pub(super) now_day: f64,
    pub(super) sums: KeptSums,
    pub(super) alarms: Vec<StateAlarm>,
    pub(super) names: Vec<PropertyName>,
    pub(super) instrument: Option<Reading>,
    pub(super) wandering: Wandering,
    /// Whether the machine stands since the last entry.
    pub(super) stands: bool,
    pub(super) times: LogTimes,
    /// Entries that were passed over, since no strength had been read yet.
    pub(super) passed_over: usize,
    /// Whether the level at the first entry was assumed.
    pub(super) assumed_level: bool,
    pub(super) entries_before: f64,
}

/// An entry on the way.
#[derive(Debug)]
pub(super) struct Step {
    /// Its place in the log.
    pub(super) entry: usize,
    pub(super) day: f64,
    /// Before it is read.
    pub(super) expected: Belief,
    /// After it is read, and before anything is done.
    pub(super) read: Belief,
    /// How what was read before leads to what is expected here.
    pub(super) led_here: SmallSquare,
    pub(super) volume: Option<Innovation>,
    pub(super) strength: Option<Innovation>,
    /// How what is there after what is done hangs on what was read.
    pub(super) event_slope: SmallSquare,
}

/// Follows the log.
pub(super) fn run(question: &SumpState) -> Result<Run, Refusal> {
    let Taken { times, entries, before } = question.taken()?;
    let names = question.names();
    let wandering = question.wandering();
    let begun = question.begin(&entries, &names, &times)?;
    let mut run = Run {
        steps: Vec::with_capacity(entries.len()),
        last: begun.belief.clone(),
        now: begun.belief,
        last_day: begun.day,
        now_day: begun.day,
        sums: begun.sums,
        alarms: begun.alarms,
        names,
        instrument: begun.instrument,
        wandering,
        stands: begun.stands,
        passed_over: begun.from,
        assumed_level: begun.assumed_level,
        entries_before: begun.entries_before,
        times,
    };
    let mut clock = begun.clock;
    let mut untold = UntoldLevel::of(question, &run.last);
    for (i, entry) in entries.iter().enumerate().skip(begun.from) {
        look();
        let is_first = i == begun.from && question.state.is_none();
        let (day, to) = (run.times.days[i + before], moment(&run.times, i + before));
        let stretch = question.stretch((run.last_day, day), (clock, to), run.stands);
        let (expected, led) =
            run.last.through(stretch, wandering).ok_or_else(|| untold.dry_by(question, i))?;
        untold.pass(question, stretch, entry);
        let led_here = match run.steps.last() {
            Some(step) => led.after(&step.event_slope),
            None => led,
        };
        let mut read = expected.clone();
        let (mut volume, mut strength) = (None, None);
        if !is_first {
            volume = entry
                .volume
                .map(|level| read.read_volume(level.value, level.u.unwrap_or(question.volume_u())));
            strength = entry.strength.map(|strength| {
                let u = entry.strength_u.unwrap_or(question.points());
                read.read_per_litre(CONCENTRATE, strength / 100.0, u / 100.0)
            });
            question.read_contents(i, &run.names, &mut read);
        }
        run.watch(day, volume, strength, entry.taken == TakenOut::All)?;
        let done = question.done(i, entry, &run.names, read.clone());
        let (after, event_slope) = done.ok_or_else(|| untold.dry_by(question, i))?;
        run.last = after.clone();
        (run.last_day, clock, run.stands) = (day, to, entry.stood);
        run.steps.push(Step {
            entry: i,
            day,
            expected,
            read,
            led_here,
            volume,
            strength,
            event_slope,
        });
        if let Some(reading) = &question.log[i].reading {
            run.instrument = Some(reading.clone());
        }
    }
    if untold.is_open(question) {
        return Err(untold_level());
    }
    let end = run.times.days.len() - 1;
    run.now_day = run.times.days[end];
    let clocks = (clock, moment(&run.times, end));
    let stretch = question.stretch((run.last_day, run.now_day), clocks, run.stands);
    let at_now = run.last.through(stretch, wandering);
    run.now = at_now.ok_or_else(|| untold.dry_by(question, entries.len().saturating_sub(1)))?.0;
    Ok(run)
}

fn dry_by(entry: usize) -> Refusal {
    let detail = sentence!(
        "By the log, the sump would be dry by here or soon after. An addition is missing, or a \
         volume was misread."
    );
    Refusal::new(Kind::Inconsistent, format!("/log/{entry}"), detail)
}

fn untold_level() -> Refusal {
    let detail = sentence!(
        "The log says at most once how full the sump was, and strengths alone do not show how full it \
         is by now. Where an addition filled it up, write that with it (filled_to: full), and nobody \
         has to measure anything; else read the level again."
    );
    Refusal::new(Kind::NotIdentifiable, "/log", detail)
}

/// How far a level can be trusted that was seen once at most. Nothing but two levels shows what a
/// sump loses in all; each strength that is read makes the estimate surer of it than strengths can.
#[derive(Debug, Clone, Copy)]
struct UntoldLevel {
    /// How often the log says how full it was.
    seen: usize,
    /// Variances: of the level when it was seen, or as it is taken, and of the losses on a day of
    /// work and at rest, as they were known before the log.
    level: f64,
    loss: f64,
    at_rest: f64,
    worked: f64,
    stood: f64,
    /// Of the level at the last strength.
    by_now: f64,
}

impl UntoldLevel {
    fn of(question: &SumpState, begun: &Belief) -> Self {
        /// Losses of which nothing is known are off by so much of the capacity in a day. Common
        /// practice, no source.
        const UNKNOWN: f64 = 0.05;
        let variance = |place| begun.p[(place, place)];
        let unknown = (UNKNOWN * question.sump.capacity.get()).powi(2);
        Self {
            seen: if question.state.is_some() { Self::ENOUGH } else { 0 },
            level: variance(VOLUME),
            loss: (variance(EVAPORATION) + variance(CARRY_OFF)).min(unknown),
            at_rest: variance(STANDING).min(unknown),
            worked: 0.0,
            stood: 0.0,
            by_now: 0.0,
        }
    }

    /// So many levels show a loss.
    const ENOUGH: usize = 2;

    fn pass(&mut self, question: &SumpState, stretch: Stretch, entry: &ReadEntry) {
        self.worked += stretch.worked;
        self.stood += stretch.stood;
        let is_filled = entry.poured.to.is_some() || entry.taken == TakenOut::All;
        if entry.volume.is_some() || is_filled {
            self.seen += 1;
            self.level = question.volume_u().powi(2);
            (self.worked, self.stood) = (0.0, 0.0);
        }
        if entry.strength.is_some() {
            let losses = self.worked.powi(2) * self.loss + self.stood.powi(2) * self.at_rest;
            self.by_now = self.level + losses;
        }
    }

    /// A sump that is dry by an entry: by its log, or since its level was seen too seldom.
    fn dry_by(self, question: &SumpState, entry: usize) -> Refusal {
        if self.is_open(question) { untold_level() } else { dry_by(entry) }
    }

    /// Whether the level was seen too seldom, and by now may be anywhere.
    fn is_open(self, question: &SumpState) -> bool {
        /// A standard uncertainty above this share of the capacity leaves the level open.
        const OPEN: f64 = 0.25;
        let open = OPEN * question.sump.capacity.get();
        self.seen < Self::ENOUGH && self.by_now > open * open
    }
}

impl Run {
    /// Sums the innovations of an entry up. A sump that is emptied begins anew.
    fn watch(
        &mut self,
        day: f64,
        volume: Option<Innovation>,
        strength: Option<Innovation>,
        is_emptied: bool,
    ) -> Result<(), Refusal> {
        for (what, innovation) in
            [(WatchedReading::Volume, volume), (WatchedReading::Strength, strength)]
        {
            let Some(innovation) = innovation else { continue };
            let Some(new) = self.sums.add(what, innovation.z, day)? else { continue };
            let is_same = |own: &&mut StateAlarm| own.what == new.what && own.way == new.way;
            match self.alarms.iter_mut().find(is_same) {
                Some(alarm) => (alarm.raised, alarm.causes) = (new.raised, new.causes),
                None => self.alarms.push(new),
            }
        }
        if is_emptied {
            self.sums = KeptSums::nothing(day)?;
            self.alarms.clear();
        }
        Ok(())
    }
}
