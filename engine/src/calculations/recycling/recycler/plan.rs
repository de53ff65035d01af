//! What happens when: deliveries, fetching, and the hours of the recycler.

use super::Recycler;
use super::levels::{Setup, TankHistory, TankRun};
use crate::handbook::conversions::HOURS_PER_DAY;
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::{Kind, Refusal};

/// What happens when, whatever the tanks and the throughput are.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RecyclerPlan {
    /// Where it ends, days.
    end: f64,
    moments: Vec<Moment>,
    arrivals: Vec<PlannedFlow>,
    demand: Vec<PlannedFlow>,
}

/// Fluid that comes or goes, L over so many days; at once when none.
#[derive(Debug, Clone, Copy, PartialEq)]
struct PlannedFlow {
    volume: f64,
    days: f64,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Moment {
    day: f64,
    change: Change,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Change {
    Midnight,
    Stops,
    Starts,
    ArrivalEnds(usize),
    DemandEnds(usize),
    Arrives(usize),
    IsFetched(usize),
}

impl RecyclerPlan {
    /// The plan of `question`, whose recycler needs so many `hours` for all of
    /// the feed.
    pub(super) fn of(question: &Recycler, hours: f64) -> Result<Self, Refusal> {
        let over_days = |hours: Option<f64>| hours.unwrap_or(0.0) / HOURS_PER_DAY;
        let batch = question.feed.volume.map(|v| (0.0, PlannedFlow { volume: v.get(), days: 0.0 }));
        let arrivals = question.arrivals().iter().map(|arrival| {
            let days = over_days(arrival.hours.map(Quantity::get));
            (arrival.day.get(), PlannedFlow { volume: arrival.volume.get(), days })
        });
        let arrivals: Vec<(f64, PlannedFlow)> = batch.into_iter().chain(arrivals).collect();
        let demand = question.demand.iter().flatten().map(|demand| {
            let days = over_days(demand.hours.map(Quantity::get));
            (demand.day.get(), PlannedFlow { volume: demand.volume.get(), days })
        });
        let demand: Vec<(f64, PlannedFlow)> = demand.collect();
        let shift = question.hours_per_day.get() / HOURS_PER_DAY;
        let starts = question.starts_at_hour.map_or(0.0, Quantity::get) / HOURS_PER_DAY;
        let last = arrivals.iter().chain(&demand).map(|(day, flow)| day + flow.days);
        let last = last.fold(0.0, f64::max).floor() + 1.0;
        let given = question.plan_days.map(Quantity::get);
        let end = given.unwrap_or_else(|| {
            let wanted = if question.batch() > 0.0 { hours } else { 0.0 };
            last.max(question.days_for(wanted / HOURS_PER_DAY, starts, shift))
        });

        let mut moments = Vec::new();
        let mut note = |day: f64, change| moments.push(Moment { day, change });
        let mut day = 0.0;
        while day < end {
            note(day, Change::Midnight);
            if question.runs_on_day(day) {
                note(day + starts, Change::Starts);
                note(day + starts + shift, Change::Stops);
            }
            day += 1.0;
        }
        for (i, (day, flow)) in arrivals.iter().enumerate() {
            note(*day, Change::Arrives(i));
            if flow.days > 0.0 {
                note(day + flow.days, Change::ArrivalEnds(i));
            }
        }
        for (i, (day, flow)) in demand.iter().enumerate() {
            note(*day, Change::IsFetched(i));
            if flow.days > 0.0 {
                note(day + flow.days, Change::DemandEnds(i));
            }
        }
        moments.retain(|moment| moment.day < end);
        moments.sort_by(|a, b| a.day.total_cmp(&b.day).then(a.change.cmp(&b.change)));
        let flows =
            |flows: Vec<(f64, PlannedFlow)>| flows.into_iter().map(|(_, flow)| flow).collect();
        let plan = Self { end, moments, arrivals: flows(arrivals), demand: flows(demand) };
        if plan.hours_it_may_run() <= 0.0 {
            let detail = sentence!(
                "The recycler does not run before the plan ends. Give the plan more days, or the \
                 recycler other hours."
            );
            return Err(Refusal::new(Kind::Inconsistent, "/plan_days", detail));
        }
        Ok(plan)
    }

    /// How many moments there are: what a walk through the plan costs.
    pub(super) fn len(&self) -> usize {
        self.moments.len()
    }

    /// How many deliveries there are; a batch at the start is one.
    pub(super) fn deliveries(&self) -> usize {
        self.arrivals.len()
    }

    /// Hours that the recycler may run during the plan.
    pub(super) fn hours_it_may_run(&self) -> f64 {
        let days = self.moments.iter().map(|moment| match moment.change {
            Change::Starts => self.end - moment.day,
            Change::Stops => moment.day - self.end,
            _ => 0.0,
        });
        days.sum::<f64>() * HOURS_PER_DAY
    }

    /// Goes through the plan, each delivery multiplied by its factor where there
    /// are factors, noting every corner where asked to.
    pub(super) fn walk(&self, setup: &Setup, factors: Option<&[f64]>, note: bool) -> TankHistory {
        let mut tanks = TankRun::at_start(setup, note);
        let factor = |i: usize| factors.map_or(1.0, |factors| factors[i]);
        for moment in &self.moments {
            tanks.run_to(moment.day);
            match moment.change {
                Change::Midnight => tanks.corner(),
                Change::Starts => tanks.starts(),
                Change::Stops => tanks.stops(),
                Change::Arrives(i) => {
                    let PlannedFlow { volume, days } = self.arrivals[i];
                    if days > 0.0 {
                        tanks.arriving.begin(volume * factor(i) / days);
                    } else {
                        tanks.pour(volume * factor(i));
                    }
                }
                Change::ArrivalEnds(i) => {
                    let PlannedFlow { volume, days } = self.arrivals[i];
                    tanks.arriving.end(volume * factor(i) / days);
                }
                Change::IsFetched(i) => {
                    let PlannedFlow { volume, days } = self.demand[i];
                    if days > 0.0 {
                        tanks.fetched.begin(volume / days);
                    } else {
                        tanks.fetch(volume);
                    }
                }
                Change::DemandEnds(i) => {
                    let PlannedFlow { volume, days } = self.demand[i];
                    tanks.fetched.end(volume / days);
                }
            }
        }
        tanks.run_to(self.end);
        tanks.end()
    }
}
