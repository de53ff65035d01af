//! The course itself, from event to event.

use super::amounts::Amounts;
use super::edge::{Edge, EdgeCrossing};
use super::feeding::{FeedingHabit, Portion, SumpFeed};
use super::segment::{Segment, SteadyFlow};
use super::tally::Tally;
use super::working_calendar::WorkTurn;
use crate::numerics::cut_off::look;

/// More feedings than anybody does in the time that a course may last.
pub const FEEDINGS_MOST: u32 = 20_000;

/// A sump is taken to have run dry when it is down to this share of what it held
/// at first: the pump has long drawn air.
const DRY: f64 = 0.01;

/// Everything that a course follows from.
#[derive(Debug, Clone, PartialEq)]
pub struct CoursePlan {
    /// The sump as it is on day 0.
    pub start: Amounts,
    /// What comes and goes all the time, what is fed all the time included.
    pub flow: SteadyFlow,
    /// What comes and goes on days on which the shop does not work; none where every day is
    /// like any other.
    pub rest: Option<RestDays>,
    /// How it is fed at set times.
    pub habit: FeedingHabit,
    /// What else is done to it, by day.
    pub additions: Vec<CourseAddition>,
    /// The ends of bands that are watched.
    pub edges: Vec<Edge>,
    /// The last day.
    pub days: f64,
}

/// Days on which the shop does not work.
#[derive(Debug, Clone, PartialEq)]
pub struct RestDays {
    /// What then comes and goes all the time.
    pub flow: SteadyFlow,
    /// When work begins and ends; the first is of day 0.
    pub turns: Vec<WorkTurn>,
}

impl RestDays {
    /// Days of work and of rest from day 0 to `day`.
    #[must_use]
    pub fn split(&self, day: f64) -> (f64, f64) {
        let ends = self.turns.iter().skip(1).map(|turn| turn.day).chain([f64::INFINITY]);
        let worked = self.turns.iter().zip(ends).filter(|(turn, _)| turn.works);
        let worked: f64 = worked.map(|(turn, end)| (end.min(day) - turn.day).max(0.0)).sum();
        (worked, (day - worked).max(0.0))
    }
}

/// Something done to the sump on a day: first taken out, then put in.
#[derive(Debug, Clone, PartialEq)]
pub struct CourseAddition {
    /// The day.
    pub day: f64,
    /// What is taken out, L.
    pub removed: f64,
    /// What is put in.
    pub added: Option<Amounts>,
}

/// A feeding.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fed {
    /// The day.
    pub day: f64,
    /// How much.
    pub portion: Portion,
}

/// From one event to the next.
#[derive(Debug, Clone, PartialEq)]
pub struct Leg {
    /// The day it begins, after what is done on that day.
    pub from: f64,
    /// The day it ends, before what is done on that day.
    pub to: f64,
    /// Whether it is the last.
    pub last: bool,
    /// What happens in between.
    pub segment: Segment,
}

/// Why a course cannot be told.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CourseStop {
    /// It would be fed more often than anybody does.
    FedTooOften,
    /// More is to be taken out than there is, L.
    RemovesMore {
        /// Which of the additions.
        addition: usize,
        /// What there is, L.
        there_is: f64,
    },
}

/// A sump on its way.
#[derive(Debug, Clone)]
pub struct Course<'a> {
    plan: &'a CoursePlan,
    edges: Vec<Edge>,
    /// Whether it has come down to the level at which it is fed.
    low: bool,
    visits: u32,
    done: usize,
    /// Which turn of work and rest it has come to.
    turn: usize,
    /// The day it has come to.
    pub day: f64,
    /// What is in it.
    pub sump: Amounts,
    /// What has come and gone.
    pub tally: Tally,
    /// Each feeding.
    pub fed: Vec<Fed>,
    /// Each time that something left its band.
    pub crossings: Vec<EdgeCrossing>,
    /// The day on which it ran dry, if it did.
    pub dry: Option<f64>,
}

impl<'a> Course<'a> {
    /// A sump on day 0, before anything is done to it. The additions of the plan
    /// are in the order of their days.
    #[must_use]
    pub fn new(plan: &'a CoursePlan) -> Self {
        let mut course = Self {
            plan,
            edges: plan.edges.clone(),
            low: false,
            visits: 0,
            done: 0,
            turn: 0,
            day: 0.0,
            sump: plan.start.clone(),
            tally: Tally::nothing(plan.start.matter.len()),
            fed: Vec::new(),
            crossings: Vec::new(),
            dry: None,
        };
        course.jump();
        course
    }

    /// Does what is to be done today, and goes on to the next event. None when
    /// the last day has come, or the sump has run dry.
    pub fn step(&mut self) -> Result<Option<Leg>, CourseStop> {
        self.settle()?;
        let left = self.plan.days - self.day;
        if left <= 0.0 || self.dry.is_some() {
            return Ok(None);
        }
        let floor = self.plan.start.mix * DRY;
        if self.sump.mix <= floor {
            self.dry = Some(self.day);
            return Ok(None);
        }
        let flow = self.flow();
        let segment = Segment::new(&self.sump, flow);
        let dry = segment.runs_dry(floor, flow.strongest());
        if dry == Some(0.0) {
            self.dry = Some(self.day);
            return Ok(None);
        }

        let (from, mut to) = (self.day, self.appointment());
        let mut t = to - from;
        if let Some(dry) = dry.filter(|dry| *dry <= t) {
            (t, to) = (dry, from + dry);
            self.dry = Some(to);
        }
        if let FeedingHabit::Below { level, .. } = &self.plan.habit
            && let Some(tau) = segment.falls_to(*level, segment.pace.tau(t))
        {
            t = segment.pace.days(tau);
            to = from + t;
            (self.dry, self.low) = (None, true);
        }
        segment.tally(flow, t, &mut self.tally);
        self.sump = segment.after(t);
        let end = (segment.pace.tau(t), &self.sump);
        for edge in &mut self.edges {
            edge.follow(&segment, end, from, &mut self.crossings);
        }
        self.day = to;
        let last = to >= self.plan.days || self.dry.is_some();
        Ok(Some(Leg { from, to, last, segment }))
    }

    /// The next day on which something is to be done in any case.
    fn appointment(&self) -> f64 {
        let addition = self.plan.additions.get(self.done).map_or(f64::INFINITY, |next| next.day);
        let visit = match &self.plan.habit {
            FeedingHabit::Every { first, days, .. } => first + f64::from(self.visits) * days,
            FeedingHabit::None | FeedingHabit::Below { .. } => f64::INFINITY,
        };
        let turn = self.plan.rest.as_ref().and_then(|rest| rest.turns.get(self.turn + 1));
        let turn = turn.map_or(f64::INFINITY, |turn| turn.day);
        self.plan.days.min(addition).min(visit).min(turn)
    }

    /// What comes and goes today.
    fn flow(&self) -> &'a SteadyFlow {
        match &self.plan.rest {
            Some(rest) if rest.turns.get(self.turn).is_some_and(|turn| !turn.works) => &rest.flow,
            _ => &self.plan.flow,
        }
    }

    /// Does what is to be done today; nothing any more to a sump that is dry.
    fn settle(&mut self) -> Result<(), CourseStop> {
        look();
        if self.dry.is_some() {
            return Ok(());
        }
        let turns = self.plan.rest.iter().flat_map(|rest| &rest.turns).skip(1);
        self.turn = turns.take_while(|turn| turn.day <= self.day).count();
        while let Some(addition) = self.plan.additions.get(self.done) {
            if addition.day > self.day {
                break;
            }
            self.change(addition)?;
            self.done += 1;
        }
        match &self.plan.habit {
            FeedingHabit::None => {}
            FeedingHabit::Below { level, to, feed } => {
                if self.low || self.sump.volume() <= *level {
                    self.low = false;
                    self.feed(feed, *to)?;
                }
            }
            FeedingHabit::Every { first, days, only_below, to, feed } => {
                while first + f64::from(self.visits) * days <= self.day {
                    self.visits += 1;
                    if self.sump.volume() < *only_below {
                        self.feed(feed, *to)?;
                    }
                }
            }
        }
        Ok(())
    }

    fn change(&mut self, addition: &CourseAddition) -> Result<(), CourseStop> {
        /// Rounding of a sump that is emptied.
        const ROUNDING: f64 = 1e-12;
        let there_is = self.sump.volume();
        if addition.removed > there_is * (1.0 + ROUNDING) {
            return Err(CourseStop::RemovesMore { addition: self.done, there_is });
        }
        if addition.removed > 0.0 {
            let share = (addition.removed / there_is).min(1.0);
            self.tally.removed.pour(&self.sump, share);
            self.sump.keep(1.0 - share);
        }
        if let Some(added) = &addition.added {
            self.tally.added.pour(added, 1.0);
            self.sump.pour(added, 1.0);
        }
        self.jump();
        Ok(())
    }

    fn feed(&mut self, feed: &SumpFeed, to: f64) -> Result<(), CourseStop> {
        let Some(portion) = feed.portion(&self.sump, to) else {
            return Ok(());
        };
        if self.fed.len() >= FEEDINGS_MOST as usize {
            return Err(CourseStop::FedTooOften);
        }
        self.tally.weak += portion.weak;
        self.tally.strong += portion.strong;
        self.sump.pour(&feed.weak, portion.weak);
        self.sump.pour(&feed.strong, portion.strong);
        self.fed.push(Fed { day: self.day, portion });
        self.jump();
        Ok(())
    }

    fn jump(&mut self) {
        for edge in &mut self.edges {
            edge.jump(&self.sump, self.day, &mut self.crossings);
        }
    }
}
