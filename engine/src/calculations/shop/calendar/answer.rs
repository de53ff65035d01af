//! The answer: which sump on which day, what that loads week by week, and what it costs.

use crate::calculations::shop::disposal::GeneratorCategory;
use crate::dynamics::working_calendar::DayOfWeek;
use crate::quantity::{Count, Days, Hours, Mass, Money, Share, Volume};
use crate::text::{CalendarDate, Name, Sentence};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Which sump is cleaned out on which day, and what that comes to.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CalendarAnswer {
    /// # Clean-outs
    ///
    /// Each clean-out, in the order of the days.
    pub clean_outs: Vec<PlannedCleanOut>,
    /// # Cost
    ///
    /// What the plan costs.
    pub cost: CalendarCost,
    /// # Cost of the habit
    ///
    /// What the same weeks cost where each sump is cleaned out when its interval of today is over,
    /// whatever the day; no limit is held against it.
    pub habit: HabitCost,
    /// # Cost at least
    ///
    /// What any plan costs at least that keeps the intervals and limits: none is cheaper.
    pub at_least: Money,
    /// # Gap
    ///
    /// By what share of its cost the plan may be dearer than the cheapest there is.
    pub gap: Share,
    /// # Proven cheapest
    ///
    /// Whether it is proven that no plan is cheaper.
    pub proven: bool,
    /// # Weeks
    ///
    /// What each week loads, Monday to Sunday.
    pub weeks: Vec<CalendarWeek>,
    /// # Months
    ///
    /// The waste of each calendar month; absent without `waste`.
    pub months: Option<Vec<CalendarMonth>>,
    /// # Pickups
    ///
    /// The days by whose end waste has to be picked up; absent where nothing limits what is on
    /// site.
    pub pickups: Option<Vec<CalendarPickup>>,
    /// # Limits that cost
    ///
    /// What a tenth more of each limit that is reached would save, the dearest first.
    pub limits: Vec<LimitWorth>,
    /// # Agreed ones moved
    ///
    /// Agreed clean-outs that are moved; absent where none is agreed.
    pub moved: Option<Vec<MovedCleanOut>>,
    /// # Next after the plan
    ///
    /// Each sump's number of clean-outs, and by when its next one after the plan is due, in the
    /// order of the request.
    pub sumps: Vec<SumpAhead>,
    /// # Currency
    ///
    /// Currency of the prices, as it was given.
    #[schema(value_type = Option<String>)]
    pub currency: Option<Name>,
}

/// A clean-out on its day.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PlannedCleanOut {
    /// # Sump
    ///
    /// The sump.
    #[schema(value_type = String)]
    pub sump: Name,
    /// # Day
    ///
    /// The day on which it is cleaned out.
    pub day: CalendarDate,
    /// # Day of the week
    ///
    /// The day of the week that this is.
    pub weekday: DayOfWeek,
    /// # Week
    ///
    /// The week of the plan, counted from 1.
    pub week: Count,
    /// # Crew
    ///
    /// The crew that does it.
    #[schema(value_type = String)]
    pub crew: Name,
    /// # Hours of work
    ///
    /// Working hours that it takes.
    pub hours: Hours,
    /// # Drained
    ///
    /// Fluid that is drained and filled in anew.
    pub volume: Volume,
    /// # Product
    ///
    /// The product that is filled in; absent where it was not said.
    #[schema(value_type = Option<String>)]
    pub product: Option<Name>,
    /// # Stands anyway
    ///
    /// Whether the machine stands on that day anyway.
    pub stands: bool,
    /// # Due by
    ///
    /// The last day that its interval or its condition allows.
    pub due_by: CalendarDate,
    /// # May slip to
    ///
    /// The last day to which it may slip alone: crews, vessels, tank, interval and waste of that day
    /// allow it where everything else stays as planned.
    pub may_slip_to: CalendarDate,
    /// # May slip by
    ///
    /// Days until then; 0 where it may not slip.
    pub slip_days: Count,
    /// # Cost
    ///
    /// What it costs: fluid, work, downtime and its waste.
    pub cost: Money,
    /// # Agreed
    ///
    /// Whether it is on a day that was agreed; absent where nothing was agreed for its sump.
    pub agreed: Option<bool>,
}

/// What a plan costs.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CalendarCost {
    /// # Total
    ///
    /// All of it together; what the plan makes as little as it can.
    pub total: Money,
    /// # Fresh fluid
    ///
    /// Fresh fluid, without what is recovered.
    pub fluid: Money,
    /// # Work
    ///
    /// Work of the crews.
    pub work: Money,
    /// # Downtime
    ///
    /// Downtime of machines that should work.
    pub downtime: Money,
    /// # Waste
    ///
    /// Disposal of what the clean-outs leave.
    pub waste: Money,
    /// # Pickups
    ///
    /// Pickups of waste.
    pub pickups: Money,
    /// # Generator categories
    ///
    /// Months in which the shop is a larger generator.
    pub categories: Money,
    /// # Life used up
    ///
    /// Fluid that is older at the end than at the beginning: each sump's next clean-out, at its
    /// cheapest, by the share of its interval that is over. Negative where it is younger. So a
    /// plan gains nothing by putting off to the day after its end.
    pub life: Money,
    /// # Moving
    ///
    /// Agreed clean-outs that are moved, at the price of moving.
    pub moving: Money,
}

/// What today's habit costs.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HabitCost {
    /// # Clean-outs
    ///
    /// Number of clean-outs.
    pub clean_outs: Count,
    /// # Total
    ///
    /// What it costs, counted as the plan's total is.
    pub total: Money,
    /// # Saved
    ///
    /// By how much the plan is cheaper; negative where it is dearer.
    pub saved: Money,
}

/// What a week loads.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CalendarWeek {
    /// # Week
    ///
    /// The week of the plan, counted from 1.
    pub week: Count,
    /// # From
    ///
    /// Its first day.
    pub from: CalendarDate,
    /// # Clean-outs
    ///
    /// Number of clean-outs.
    pub clean_outs: Count,
    /// # Hours of work
    ///
    /// Working hours of all crews.
    pub hours: Hours,
    /// # Hours there are
    ///
    /// Working hours that the crews have for clean-outs.
    pub hours_there: Hours,
    /// # Drained
    ///
    /// Fluid that is drained.
    pub drained: Volume,
    /// # Dirty tank at its fullest
    ///
    /// The most that is in the dirty tank; absent without a recycler.
    pub tank: Option<Volume>,
    /// # Recycled
    ///
    /// Dirty fluid that the recycler takes; absent without one.
    pub recycled: Option<Volume>,
}

/// The waste of a calendar month.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CalendarMonth {
    /// # From
    ///
    /// The first day of the month that is planned.
    pub from: CalendarDate,
    /// # Waste
    ///
    /// Waste that arises in it, with what comes from elsewhere.
    pub mass: Mass,
    /// # Category
    ///
    /// The US generator category that this makes; absent where it was not asked for.
    pub category: Option<GeneratorCategory>,
    /// # Cost of the category
    ///
    /// What the category costs; absent where it was not asked for.
    pub category_cost: Option<Money>,
}

/// A pickup of waste.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CalendarPickup {
    /// # Day
    ///
    /// The day by whose end it is picked up.
    pub day: CalendarDate,
    /// # Fetched
    ///
    /// Waste that is there.
    pub mass: Mass,
}

/// What holds a plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum HeldBy {
    /// The hours of the crews on a day.
    HoursADay,
    /// The hours of the crews in a week.
    HoursAWeek,
    /// What the vessels of the crews carry in a day.
    FluidADay,
    /// What the dirty tank holds.
    DirtyTank,
    /// What the recycler takes.
    Throughput,
    /// The waste of a month.
    WasteInAMonth,
    /// The boundaries of the generator categories.
    Categories,
    /// The waste that may be on site.
    OnSite,
}

/// What a limit costs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LimitWorth {
    /// # Limit
    ///
    /// The limit.
    pub limit: HeldBy,
    /// # Saved
    ///
    /// What the plan would cost less with a tenth more of it, as far as a plan was found.
    pub saved: Money,
    /// # Times reached
    ///
    /// Number of days, weeks or months in which there is no room for half of the smallest
    /// clean-out more.
    pub reached: Count,
    /// # What it says
    ///
    /// The same in a sentence.
    #[schema(value_type = String)]
    pub text: Sentence,
}

/// An agreed clean-out that is moved.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MovedCleanOut {
    /// # Sump
    ///
    /// The sump.
    #[schema(value_type = String)]
    pub sump: Name,
    /// # Agreed for
    ///
    /// The day that was agreed.
    pub agreed: CalendarDate,
    /// # Now on
    ///
    /// The nearest day on which it is cleaned out instead; absent where it is not at all.
    pub now: Option<CalendarDate>,
    /// # Moved by
    ///
    /// Days by which it is moved; absent where it is left out.
    pub days: Option<Days>,
}

/// What comes of a sump.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpAhead {
    /// # Sump
    ///
    /// The sump.
    #[schema(value_type = String)]
    pub sump: Name,
    /// # Clean-outs
    ///
    /// Number of clean-outs in the plan.
    pub clean_outs: Count,
    /// # Next one by
    ///
    /// The day by which the next one after the plan is due.
    pub next_by: CalendarDate,
}
