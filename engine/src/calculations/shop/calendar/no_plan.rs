//! Why there is no plan, and what would have to change.

use super::answer::HeldBy;
use super::diary::Diary;
use super::model::CalendarModel;
use super::question::Calendar;
use super::unit::PlannedSump;
use crate::numerics::chains::{NoPlan, Passed};
use crate::quantity::{Hours, Mass, Measure, Quantity, Volume};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal, Sentence};

impl Calendar {
    pub(super) fn no_plan(
        &self,
        diary: &Diary,
        units: &[PlannedSump],
        model: &CalendarModel,
        none: NoPlan,
    ) -> Refusal {
        let mut faults = Faults::default();
        let kind = match none {
            NoPlan::Alone(sumps) => {
                for i in sumps {
                    let (pointer, text) = self.no_day(diary, &units[i], model, i);
                    faults.add(format!("/sumps/{i}{pointer}"), text);
                }
                Kind::Unreachable
            }
            NoPlan::Proven(passed) => {
                self.passed(diary, model, &passed, true, &mut faults);
                Kind::Unreachable
            }
            NoPlan::NotFound(passed) => {
                self.passed(diary, model, &passed, false, &mut faults);
                Kind::Unproven
            }
        };
        match faults.or_refuse(kind) {
            Err(refusal) => refusal,
            Ok(()) => Refusal::new(kind, "", sentence!("No plan keeps all intervals and limits.")),
        }
    }

    /// Why a sump has no day even where it is alone.
    fn no_day(
        &self,
        diary: &Diary,
        unit: &PlannedSump,
        model: &CalendarModel,
        i: usize,
    ) -> (&'static str, Sentence) {
        let sump = &self.sumps[i];
        let hours = self.crews.iter().map(|crew| {
            let week = crew.hours_a_week.map_or(f64::INFINITY, Quantity::get);
            crew.hours_a_day.get().min(week)
        });
        let hours = hours.fold(0.0, f64::max);
        if unit.hours > hours {
            let text = sentence!(
                "{} takes {} of work, and no crew has more than {} on a day. Give a crew that many \
                 hours a day, with all its people counted.",
                &sump.name,
                sump.hours,
                Hours::measure_of(hours)
            );
            return ("/hours", text);
        }
        let vessels = self
            .crews
            .iter()
            .map(|crew| crew.fluid_a_day.map_or(f64::INFINITY, Quantity::get))
            .fold(0.0, f64::max);
        if unit.volume > vessels {
            let text = sentence!(
                "{} holds {}, and no crew's vessels carry more than {} in a day. Give a crew more \
                 vessels or trips (fluid_a_day).",
                &sump.name,
                sump.volume,
                Volume::measure_of(vessels)
            );
            return ("/volume", text);
        }
        if let Some(tank) = self.recycler.as_ref().map(|own| own.tank)
            && unit.volume > tank.get()
        {
            let text = sentence!(
                "{} holds {}, more than the dirty tank with {}. It takes a larger tank, or a tanker of \
                 its own.",
                &sump.name,
                sump.volume,
                tank
            );
            return ("/volume", text);
        }
        let cost = &model.chains.chains[i].costs;
        let free = |from: usize, to: usize| {
            let slots = model.chains.slots.iter().zip(cost);
            let mut days = slots.filter(|(_, cost)| cost.is_finite()).map(|(slot, _)| slot.day);
            days.rfind(|day| (from..=to).contains(day))
        };
        // As late as can be, from one clean-out to the next, until there is no day.
        let (mut from, mut to) = (unit.earliest, unit.first_by);
        while to < diary.days
            && let Some(day) = free(from, to)
        {
            (from, to) = (day + unit.shortest, day + unit.longest_days());
        }
        let to = to.min(diary.days - 1);
        let only = if sump.only_standing == Some(true) {
            sentence!(" It may be cleaned out only while it stands (only_standing).")
        } else {
            sentence!("")
        };
        let text = sentence!(
            "Between {} and {} there is no day on which {} can be cleaned out within its interval: no \
             crew with the hours for it works then, or a fixed day stands against it.{} Give a crew \
             such a day, or a longer interval where the condition of its fluid allows one.",
            diary.date(from.min(to)).said(),
            diary.date(to).said(),
            &sump.name,
            only
        );
        ("/longest_days", text)
    }

    fn passed(
        &self,
        diary: &Diary,
        model: &CalendarModel,
        passed: &[Passed],
        proven: bool,
        faults: &mut Faults,
    ) {
        let held =
            |own: &Passed| own.limit.map_or((HeldBy::DirtyTank, 0), |limit| model.held[limit]);
        let sure = if proven {
            sentence!("No plan keeps all intervals and limits, whatever is moved.")
        } else {
            sentence!(
                "No plan was found that keeps all intervals and limits, and none is proven not to be."
            )
        };
        for kind in HeldBy::ALL {
            let own: Vec<&Passed> = passed.iter().filter(|own| held(own).0 == kind).collect();
            let Some(first) = own.iter().map(|own| held(own).1).min() else { continue };
            let by: f64 = own.iter().map(|own| own.by).sum();
            let text = sentence!(
                "{} {} is passed {} in the nearest one, by {} in all, first from {} on. {}",
                sure.clone(),
                kind.words(),
                super::limits::times(own.len()),
                kind.measure(by).rounded(3),
                diary.date(first).said(),
                kind.remedy()
            );
            faults.add(self.pointer(kind), text);
        }
    }

    /// The member of the question that has a limit.
    fn pointer(&self, limit: HeldBy) -> String {
        match limit {
            HeldBy::HoursADay => self.crew_member("hours_a_day"),
            HeldBy::HoursAWeek => self.crew_member("hours_a_week"),
            HeldBy::FluidADay => self.crew_member("fluid_a_day"),
            HeldBy::DirtyTank => "/recycler/tank".to_owned(),
            HeldBy::Throughput => "/recycler/throughput".to_owned(),
            HeldBy::WasteInAMonth => "/waste/most_per_month".to_owned(),
            HeldBy::Categories => "/waste/categories".to_owned(),
            HeldBy::OnSite => "/waste/most_on_site".to_owned(),
        }
    }

    /// The member of the only crew, or all of them.
    fn crew_member(&self, member: &str) -> String {
        if self.crews.len() == 1 { format!("/crews/0/{member}") } else { "/crews".to_owned() }
    }
}

impl HeldBy {
    const ALL: [Self; 8] = [
        Self::HoursADay,
        Self::HoursAWeek,
        Self::FluidADay,
        Self::DirtyTank,
        Self::Throughput,
        Self::WasteInAMonth,
        Self::Categories,
        Self::OnSite,
    ];

    /// So much of what it limits.
    fn measure(self, amount: f64) -> Measure {
        match self {
            Self::HoursADay | Self::HoursAWeek => Hours::measure_of(amount),
            Self::FluidADay | Self::DirtyTank | Self::Throughput => Volume::measure_of(amount),
            Self::WasteInAMonth | Self::Categories | Self::OnSite => Mass::measure_of(amount),
        }
    }

    /// What would have to change.
    const fn remedy(self) -> &'static str {
        match self {
            Self::HoursADay | Self::HoursAWeek => {
                "Give the crews more hours or another day, or sumps a longer interval where their \
                 condition allows one."
            }
            Self::FluidADay => "Give the crews more vessels, or the work to another day.",
            Self::DirtyTank | Self::Throughput => {
                "It takes a larger tank, more hours of the recycler, or longer intervals."
            }
            Self::WasteInAMonth | Self::Categories => {
                "It takes more in a month, more recovered, or longer intervals."
            }
            Self::OnSite => {
                "It takes more room for waste, or a tanker of its own for the large sumps."
            }
        }
    }
}
