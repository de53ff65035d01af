//! What the same weeks cost by the habit of today: each sump when its interval is over.

use super::diary::Diary;
use super::model::CalendarModel;
use super::question::Calendar;

impl Calendar {
    /// The slots by today's habit. A clean-out falls on the last day of its interval on which a
    /// crew works, or the next such day where there is none within it.
    pub(super) fn by_habit(&self, diary: &Diary, model: &CalendarModel) -> Vec<Vec<usize>> {
        // The first crew that works on a day does what falls on it.
        let mut on: Vec<Option<usize>> = vec![None; diary.days];
        for (k, slot) in model.chains.slots.iter().enumerate().rev() {
            on[slot.day] = Some(k);
        }
        let each = self.sumps.iter().map(|sump| {
            let every = sump.habit();
            let cleaned = sump.cleaned_on.day().map_or(0, |day| diary.day(day));
            let first = cleaned.saturating_add(i64::try_from(every).unwrap_or(i64::MAX));
            let mut due = usize::try_from(first).unwrap_or(0);
            let mut slots = Vec::new();
            let mut free_from = 0;
            while due < diary.days {
                let before = (free_from..=due).rev().find_map(|day| on[day]);
                let after = || (due..diary.days).find_map(|day| on[day]);
                let Some(slot) = before.or_else(after) else { break };
                slots.push(slot);
                free_from = model.chains.slots[slot].day + 1;
                due = model.chains.slots[slot].day + every;
            }
            slots
        });
        each.collect()
    }
}
