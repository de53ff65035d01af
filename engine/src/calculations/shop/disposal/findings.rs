//! What to look at before the pickups of a projection are followed.

use super::category::GeneratorCategory;
use super::{Disposal, DisposalAnswer};
use crate::quantity::{Count, Days, Mass, Measure, Quantity};
use crate::sentence;
use crate::text::{Finding, Sentence, listed};

/// Months named in a text before it says how many more there are.
const NAMED: usize = 12;

impl Disposal {
    pub(super) fn findings(&self, answer: &DisposalAnswer) -> Vec<Finding> {
        let mut findings = Vec::new();
        for category in [GeneratorCategory::Small, GeneratorCategory::Large] {
            findings.extend(self.above_rules(answer, category));
        }
        findings.extend(days_above(answer));
        findings.extend(events(answer));
        if self.storage.is_some_and(|storage| storage.rules.is_some()) {
            findings.push(Finding::note(
                "us-codes-by-determination",
                "/facts",
                sentence!(
                    "No US waste code is proposed. Determine first whether each stream is \
                     hazardous (40 CFR 262.11): listed, or by a characteristic; for toxicity \
                     (metals from what is cut, D004 to D043) by analysis or by knowledge of the \
                     process (40 CFR 261.24). State rules may ask for more."
                ),
            ));
        }
        findings
    }

    /// Months of a higher category than the rules asked for are made for.
    fn above_rules(&self, answer: &DisposalAnswer, category: GeneratorCategory) -> Option<Finding> {
        let storage = self.storage.as_ref().filter(|storage| storage.is_above_rules(category))?;
        let months = answer.months.iter().filter(|month| month.category == category);
        let months: Vec<Count> = months.map(|month| month.month).collect();
        let named = in_words(&months)?;
        let limits = storage.limits(category);
        let gone = Days::measure_of(limits.days.unwrap_or_default());
        let kept = if let Some(mass) = limits.mass {
            let mass = Mass::measure_of(mass);
            sentence!("gone within {}, and never more than {} on site", gone, mass)
        } else {
            sentence!("gone within {}", gone)
        };
        let text = sentence!(
            "The rules asked for do not hold in every month: {} count as those of a {}. The \
             pickups keep {} for their waste: {}. Keep that category's other conditions as well, \
             or share the changes out over more months.",
            named,
            category.words(),
            category.section(),
            kept
        );
        let code = match category {
            GeneratorCategory::Large => "months-of-a-large-generator",
            _ => "months-of-a-small-generator",
        };
        Some(Finding::act(code, "/storage/rules", text))
    }
}

/// "months 4, 9 and 11"; none of no months.
fn in_words(months: &[Count]) -> Option<Sentence> {
    let mut named: Vec<Sentence> =
        months.iter().take(NAMED).map(|month| sentence!("{}", *month)).collect();
    if months.len() > NAMED {
        named.push(sentence!("{} more", Count::from_usize(months.len() - NAMED).ok()?));
    }
    match months {
        [] => None,
        [one] => Some(sentence!("month {}", *one)),
        _ => Some(sentence!("months {}", listed(named))),
    }
}

fn days_above(answer: &DisposalAnswer) -> Option<Finding> {
    let storage = answer.storage.as_ref()?;
    let first = storage.days_above.first()?;
    let picked = answer.pickups.iter().find(|pickup| pickup.day == *first)?;
    let text = sentence!(
        "On {} of the days more waste arises than may be on site, the first time on day {} with \
         {}, so that no day of pickup keeps the limit. The plan has a pickup at the end of each \
         of them and nothing else on site. Share the changes out over more months, let them fall \
         over the month, or have the waste taken away as it is drained.",
        Count::from_usize(storage.days_above.len()).ok()?,
        Measure::bare(first.get()),
        picked.mass
    );
    Some(Finding::act("day-above-limit", "/storage", text))
}

fn events(answer: &DisposalAnswer) -> impl Iterator<Item = Finding> {
    answer.episodic_events.iter().map(|event| {
        let late = if event.notify_by.is_none() {
            sentence!(" For that notice the clean-out has to be put off.")
        } else {
            sentence!("")
        };
        let others = if event.others_above.get() > 0.0 {
            sentence!(
                " Other months above in that year, which it does not help: {}.",
                event.others_above
            )
        } else {
            sentence!("")
        };
        let text = sentence!(
            "In month {} the clean-outs alone lift the shop from a {} to a {}. A planned episodic \
             event ({}), once a calendar year, could keep the category: notify the authority {} \
             before, have the {} of the event gone by day {}, keep the records.{}{} The authority \
             decides whether it may be used.",
            event.month,
            event.usual.words(),
            event.without.words(),
            event.section.clone(),
            Days::measure_of(super::episodic::NOTICE),
            event.mass.measure().rounded(4),
            Measure::bare(event.gone_by.get()),
            late,
            others
        );
        Finding::watch("episodic-event-possible", "/storage", text)
    })
}
