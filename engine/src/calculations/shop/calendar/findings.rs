//! What to look at before a calendar is followed.

use super::accounts::PlanAccounts;
use super::answer::CalendarAnswer;
use super::diary::Diary;
use super::question::Calendar;
use super::unit::{PlannedSump, YEARLY};
use crate::quantity::{Days, Measure, Quantity};
use crate::sentence;
use crate::text::{Finding, Sentence, listed};

/// No more sumps than this are named.
const NAMED: usize = 4;

impl Calendar {
    pub(super) fn findings(
        &self,
        diary: &Diary,
        units: &[PlannedSump],
        accounts: &PlanAccounts,
        answer: &CalendarAnswer,
    ) -> Vec<Finding> {
        let mut findings: Vec<Finding> = self.overdue(units).into_iter().collect();
        findings.extend(above(diary, accounts));
        findings.extend(self.longer_than_a_year());
        findings.extend(moved(answer));
        findings.extend(self.past(diary));
        findings.extend(tight(answer));
        findings.sort_by_key(|finding| finding.severity);
        findings
    }

    fn overdue(&self, units: &[PlannedSump]) -> Option<Finding> {
        let late: Vec<usize> = (0..units.len()).filter(|i| units[*i].overdue).collect();
        let first = *late.first()?;
        let text = sentence!(
            "The interval of {} is over when the plan begins. Each is planned within {} all the same: \
             look at its fluid first, and clean it out sooner where it smells, splits or reads off.",
            self.named(&late),
            Days::measure_of(self.overdue_within().floor())
        );
        Some(Finding::act("overdue", format!("/sumps/{first}/cleaned_on"), text))
    }

    /// "a, b and 3 more".
    fn named(&self, places: &[usize]) -> Sentence {
        let names = places.iter().take(NAMED).map(|i| sentence!("{}", &self.sumps[*i].name));
        let more = places.len().saturating_sub(NAMED);
        listed(names.chain((more > 0).then(|| sentence!("{} more", more))))
    }

    /// DGUV Regel 109-003, example in Annex 5: cleaned out at least yearly.
    fn longer_than_a_year(&self) -> Option<Finding> {
        let longer = |i: &usize| self.sumps[*i].longest() > YEARLY;
        let longer: Vec<usize> = (0..self.sumps.len()).filter(longer).collect();
        let first = *longer.first()?;
        let text = sentence!(
            "The longest interval of {} is more than the published year (DGUV Regel 109-003, Annex \
             5). Have its condition checked in between.",
            self.named(&longer)
        );
        Some(Finding::watch("longer-than-a-year", format!("/sumps/{first}/longest_days"), text))
    }

    /// Agreed days that do not lie in the plan.
    fn past(&self, diary: &Diary) -> Option<Finding> {
        let agreed = self.agreed.iter().flatten().enumerate();
        let mut outside =
            agreed.filter(|(_, agreed)| diary.planned_day(&agreed.day).is_none()).map(|(i, _)| i);
        let first = outside.next()?;
        let text = sentence!(
            "{} of the agreed clean-outs are before the plan or after it, and were left out. One that \
             has been done belongs in cleaned_on of its sump.",
            Measure::bare(1.0 + super::count(outside.count()))
        );
        Some(Finding::watch("agreed-outside", format!("/agreed/{first}/day"), text))
    }
}

/// Days whose waste alone is more than may be on site.
fn above(diary: &Diary, accounts: &PlanAccounts) -> Option<Finding> {
    let first = *accounts.days_above.first()?;
    let text = sentence!(
        "On {} of the days more waste arises than its month's generator category may have on site, \
         first on {}. Have it fetched as it is drained, or give most_on_site.",
        Measure::bare(super::count(accounts.days_above.len())),
        diary.date(first).said()
    );
    Some(Finding::act("day-above-limit", "/waste/categories", text))
}

fn moved(answer: &CalendarAnswer) -> Option<Finding> {
    let moved = answer.moved.as_ref().filter(|moved| !moved.is_empty())?;
    let first = &moved[0];
    let now = match first.now {
        Some(day) => sentence!("to {}", day.said()),
        None => sentence!("out of the plan"),
    };
    let rest = match moved.len() - 1 {
        0 => sentence!(""),
        1 => sentence!(" One more is moved as well."),
        more => sentence!(" {} more are moved as well.", more),
    };
    let text = sentence!(
        "{} moves from {} {}.{} Tell who counts on these days.",
        &first.sump,
        first.agreed.said(),
        now,
        rest
    );
    Some(Finding::watch("agreed-moved", "/agreed", text))
}

/// Clean-outs that may not slip by a day within the first weeks.
fn tight(answer: &CalendarAnswer) -> Option<Finding> {
    let at_its_end = |own: &&super::PlannedCleanOut| own.due_by == own.day;
    let tight = answer.clean_outs.iter().filter(at_its_end).count();
    if tight == 0 {
        return None;
    }
    let which = match tight {
        1 => sentence!("1 of the clean-outs is on the last day of its interval."),
        many => sentence!("{} of the clean-outs are on the last day of their interval.", many),
    };
    let text = sentence!(
        "{} Where a day may be lost to sickness or a rush order, give a longest interval that has \
         that day in hand.",
        which
    );
    Some(Finding::note("no-day-in-hand", "/sumps", text))
}
