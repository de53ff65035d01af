//! The year's clean-outs at least cost: which sump on which day, by whom.
//!
//! *Eighty sumps, two people who clean out on Fridays, a dirty tank that holds four of them, a
//! shutdown in August. Which sump when, so that none is past its time, and what does it cost us that
//! we have no more hours?*
//!
//! With V the volume of a sump (L), x its days of clean-out, r the share that is recovered, p the
//! price of a fill (/L), m its waste (kg), q the price of waste (/kg), h hours of work, w the price of
//! an hour, D downtime, L its longest interval and c its clean-out at its cheapest:
//!
//! 1. least of Σ [(1 − r)·V·p + m·q + h·w + D where the machine should work] + life used up + pickups
//!    + categories + agreed clean-outs that are moved
//! 2. between two clean-outs of a sump: its shortest to its longest interval, in days; the first by the
//!    day that interval or condition asks for; at the end none is past its interval
//! 3. life used up: Σ c·(age at the end − age at the beginning)/L, so that nothing is gained by putting
//!    off to the day after the plan
//! 4. on each day: Σ h ≤ hours of the crew, Σ V ≤ what its vessels carry; in each week Σ h ≤ its hours
//! 5. dirty tank: what is in it + Σ V of the day ≤ what it holds; the recycler takes throughput·hours
//!    on each of its days
//! 6. waste of a month: its own limit, and what the US generator category costs that it makes
//!    (40 CFR 262.13); waste of a day ≤ what may be on site; pickups as in
//!    [`disposal`](super::disposal), as few as can be
//!
//! The plan is found by [`numerics::chains`](crate::numerics::chains), with a number beside it that no
//! plan goes below. The search knows of a pickup what its share by mass costs; the pickups themselves are
//! planned at the end.
//!
//! Assumes that a clean-out is done by one crew on one day, that all of the volume is drained into the
//! tank, and that waste arises on its day. Valid for shops whose sumps are cleaned out within a day.
//! Source: 40 CFR 262.13 to 262.17 for the categories; the rest is bookkeeping, common practice with no
//! source.

mod accounts;
mod answer;
mod assumptions;
mod cautions;
mod checks;
mod diary;
mod events;
mod findings;
mod habit;
mod job_sheet;
mod limits;
mod model;
mod no_plan;
mod picture;
mod planned;
mod question;
mod statement;
mod unit;

pub use answer::{
    CalendarAnswer, CalendarCost, CalendarMonth, CalendarPickup, CalendarWeek, HabitCost, HeldBy,
    LimitWorth, MovedCleanOut, PlannedCleanOut, SumpAhead,
};
pub use question::{
    AgreedCleanOut, Calendar, CategoryPrices, CleaningCrew, DaySpan, ProductPrice,
    RecyclerInCalendar, SumpInCalendar, WasteInCalendar,
};

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::dated::ListEvents;
use crate::job_sheet::MakeSheet;
use crate::numerics::chains::SearchEffort;
use crate::quantity::Quantity;
use crate::text::{Refusal, Sentence, filed, said};
use diary::DAYS_A_WEEK;
use model::Relaxed;

/// So many slots are looked at in the time that a number is handled in.
const SLOTS_A_NUMBER: usize = 20;

impl Calculation for Calendar {
    const NAME: &'static str = "calendar";
    const SUMMARY: &'static str = "Which sump is cleaned out on which day of the year, by whom, so \
                                   that none is past its time and all of it costs the least";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/calendar.json");
    const LIST: Option<&'static str> = Some("sumps");
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);
    const SHEET: Option<MakeSheet<Self, CalendarAnswer>> =
        Some(|_, answer| Self::job_sheet(answer));
    const EVENTS: Option<ListEvents<Self, CalendarAnswer>> = Some(Self::events);
    type Answer = CalendarAnswer;

    fn calculate(&self) -> Result<Outcome<CalendarAnswer>, Refusal> {
        let diary = self.check()?;
        let units = self.units(&diary);
        let model = self.model(&diary, &units, Relaxed::NOTHING);
        let plan = model
            .chains
            .plan(None, SearchEffort::of(&model.chains))
            .map_err(|none| self.no_plan(&diary, &units, &model, none))?;
        let accounts = self.accounts(&diary, &units, &model, &plan.slots);
        let answer = self.planned(&diary, &units, &model, &plan, &accounts)?;
        Ok(Outcome {
            findings: said(|| self.findings(&diary, &units, &accounts, &answer)),
            cautions: said(|| self.cautions()),
            answer,
            balance: None,
            assumptions: filed(|| self.assumptions()),
        })
    }

    fn work_ahead(&self) -> usize {
        self.searched(self.weeks_at_most())
    }

    fn work(&self, answer: &CalendarAnswer) -> usize {
        self.searched(answer.weeks.len())
    }

    fn statement(&self, answer: &CalendarAnswer) -> Sentence {
        self.in_short(answer)
    }
}

impl Calendar {
    /// The search over so many weeks, which is a plan's work, whatever comes of it.
    fn searched(&self, weeks: usize) -> usize {
        let slots = DAYS_A_WEEK * weeks * self.crews.len();
        let sumps = self.sumps.len();
        SearchEffort::of_size(slots, sumps).looks_at(slots, sumps) / SLOTS_A_NUMBER
    }
}

/// Things as a number to compute with.
#[expect(clippy::cast_precision_loss, reason = "there are far fewer than 2^53")]
const fn count(things: usize) -> f64 {
    things as f64
}

/// Days from the first of the plan, those before it less than 0, as a number to compute with.
#[expect(clippy::cast_precision_loss, reason = "the calendar has fewer days than a float counts")]
const fn signed(days: i64) -> f64 {
    days as f64
}

impl Calendar {
    /// Whether anything that is planned is drained into a tank of the shop's own.
    fn has_recycler(&self) -> bool {
        self.recycler.as_ref().is_some_and(|own| own.recovered.get() > 0.0)
    }
}
