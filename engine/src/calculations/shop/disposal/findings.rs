//! What to look at before the pickups of a projection are followed.

use super::Disposal;
use super::answer::DisposalAnswer;
use super::category::GeneratorCategory;
use crate::quantity::{Days, Mass, Measure, Quantity};
use crate::text::{Finding, Sentence};

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
                "No US waste code is proposed. Determine first whether each stream is hazardous \
                 (40 CFR 262.11): listed, or by a characteristic; for toxicity (metals from what \
                 is cut, D004 to D043) by analysis or by knowledge of the process (40 CFR 261.24). \
                 State rules may ask for more.",
            ));
        }
        findings
    }

    /// Months of a higher category than the rules asked for are made for.
    fn above_rules(&self, answer: &DisposalAnswer, category: GeneratorCategory) -> Option<Finding> {
        let storage = self.storage.as_ref().filter(|storage| storage.is_above_rules(category))?;
        let months = answer.months.iter().filter(|month| month.category == category);
        let months: Vec<String> = months.map(|month| month.month.get().to_string()).collect();
        if months.is_empty() {
            return None;
        }
        let limits = storage.limits(category);
        let mut sentence = Sentence::new(match (limits.days, limits.mass) {
            (Some(_), Some(_)) => {
                "The rules asked for do not hold in every month: {} count as those of a {}. The \
                 pickups keep {} for their waste: gone within {}, and never more than {} on site. \
                 Keep that category's other conditions as well, or share the changes out over more \
                 months."
            }
            _ => {
                "The rules asked for do not hold in every month: {} count as those of a {}. The \
                 pickups keep {} for their waste: gone within {}. Keep that category's other \
                 conditions as well, or share the changes out over more months."
            }
        })
        .say(listed(&months))
        .say(category.words())
        .say(category.section());
        sentence = sentence.with(Days::measure_of(limits.days.unwrap_or_default()));
        if let Some(mass) = limits.mass {
            sentence = sentence.with(Mass::measure_of(mass));
        }
        let code = match category {
            GeneratorCategory::Large => "months-of-a-large-generator",
            _ => "months-of-a-small-generator",
        };
        Some(Finding::act(code, "/storage/rules", sentence))
    }
}

/// "months 4, 9 and 11"
fn listed(months: &[String]) -> String {
    match months {
        [] => String::new(),
        [one] => format!("month {one}"),
        [first @ .., last] if months.len() <= NAMED => {
            format!("months {} and {last}", first.join(", "))
        }
        _ => format!("months {} and {} more", months[..NAMED].join(", "), months.len() - NAMED),
    }
}

fn days_above(answer: &DisposalAnswer) -> Option<Finding> {
    let storage = answer.storage.as_ref()?;
    let first = storage.days_above.first()?;
    let picked = answer.pickups.iter().find(|pickup| pickup.day == *first)?;
    let text = Sentence::new(
        "On {} of the days more waste arises than may be on site, the first time on day {} with \
         {}, so that no day of pickup keeps the limit. The plan has a pickup at the end of each of \
         them and nothing else on site. Share the changes out over more months, let them fall over \
         the month, or have the waste taken away as it is drained.",
    );
    let text = text
        .with(Measure::bare(super::track::count(storage.days_above.len())))
        .with(Measure::bare(first.get()))
        .with(picked.mass.measure());
    Some(Finding::act("day-above-limit", "/storage", text))
}

fn events(answer: &DisposalAnswer) -> impl Iterator<Item = Finding> {
    answer.episodic_events.iter().map(|event| {
        let others = event.others_above.get();
        let mut text = String::from(
            "In month {} the clean-outs alone lift the shop from a {} to a {}. A planned episodic \
             event ({}), once a calendar year, could keep the category: notify the authority 30 \
             days before, have the {} of the event gone by day {}, keep the records.",
        );
        if event.notify_by.is_none() {
            text.push_str(" For that notice the clean-out has to be put off.");
        }
        if others > 0.0 {
            text.push_str(" Other months above in that year, which it does not help: {}.");
        }
        text.push_str(" The authority decides whether it may be used.");
        let mut text = Sentence::new(text)
            .with(Measure::bare(event.month.get()))
            .say(event.usual.words())
            .say(event.without.words())
            .say(event.section.clone())
            .with(event.mass.measure().rounded(4))
            .with(Measure::bare(event.gone_by.get()));
        if others > 0.0 {
            text = text.with(Measure::bare(others));
        }
        Finding::watch("episodic-event-possible", "/storage", text)
    })
}
