//! The planned episodic event: a month that a clean-out alone lifts into a higher
//! generator category.
//!
//! 40 CFR part 262 subpart L: a very small or a small quantity generator may keep its
//! category for the waste of an event that does not normally occur in its work, tank
//! clean-outs named among them (262.231), once a calendar year unless a petition is
//! granted (262.233). It notifies the authority at least 30 days before a planned one
//! begins, and has all its waste treated or sent off within 60 days of the beginning
//! (262.232). What the event is and whether it may be used, the authority decides.

use super::Disposal;
use super::accounts::Accounts;
use super::answer::EpisodicEvent;
use super::category::GeneratorCategory;
use super::ledger::WasteLedger;
use super::question::ChangesFall;
use super::storage_limits::categories;
use super::stream::{MonthlyFlow, Timing, WasteStream};
use super::track::count;
use crate::handbook::conversions::DAYS_PER_MONTH;
use crate::quantity::{Count, Days, Mass, Quantity};
use crate::sentence;
use crate::text::{Refusal, Sentence};

/// Days before a planned event by which it is notified (262.232(a)(2), (b)(2)).
pub(super) const NOTICE: f64 = 30.0;
/// Days from the beginning of the event by which its waste is gone (262.232).
const GONE_WITHIN: f64 = 60.0;
/// Months of a year; the projection is taken to begin with a calendar year.
const YEAR: usize = 12;

/// What the generator has to do. Titles of forms and the words of the label as
/// 262.232 has them; the years of record keeping are from memory for the event, read
/// for the petition (262.233(d)).
fn steps() -> Vec<Sentence> {
    vec![
        sentence!(
            "Ask the authority first: some states have not taken over this rule or ask for more."
        ),
        sentence!(
            "Notify it at least {} before the clean-out begins, on EPA form 8700-12, with the \
             beginning and the end, the reason, and the kinds and estimated amounts of waste.",
            Days::measure_of(NOTICE)
        ),
        sentence!(
            "Keep the event's waste apart in closed containers or tanks, marked Episodic \
             Hazardous Waste with its hazards and the day on which the event began."
        ),
        sentence!(
            "Have all of it treated or on its way under a hazardous waste manifest, to a facility \
             that may take it, within {} of the beginning.",
            Days::measure_of(GONE_WITHIN)
        ),
        sentence!("Keep the records of the event for three years after its end."),
    ]
}

impl Disposal {
    /// The counted mass of a month that its clean-outs bring: what is drained, split
    /// off and rinsed out at changes, and the sludge where it is dug out at changes only.
    fn clean_out(&self, ledger: &WasteLedger, month: usize) -> f64 {
        let regular = self
            .groups
            .iter()
            .any(|group| group.fines.as_ref().is_some_and(|fines| fines.every_months.is_some()));
        let mut streams = vec![
            WasteStream::SpentFluid,
            WasteStream::WashWater,
            WasteStream::OilPhase,
            WasteStream::Retentate,
        ];
        if !regular {
            streams.push(WasteStream::Sludge);
        }
        let densities = self.densities();
        let counted = streams.into_iter().filter(|stream| self.counts(*stream));
        let mass = |stream| {
            densities.mass(ledger.row(month, MonthlyFlow::Waste(stream), Timing::WithChanges))
        };
        if ledger.changes[month] > 0.0 { counted.map(mass).sum() } else { 0.0 }
    }

    /// The events that could be planned, one a year at most.
    pub(super) fn episodic_events(
        &self,
        ledger: &WasteLedger,
        accounts: &Accounts,
    ) -> Result<Vec<EpisodicEvent>, Refusal> {
        if self.storage.is_none_or(|storage| storage.rules.is_none()) {
            return Ok(Vec::new());
        }
        let categories = categories(&accounts.counted, ledger.months);
        let years = categories.chunks(YEAR).enumerate();
        let events = years.filter_map(|(year, months)| {
            let usual = usual(months)?;
            let above = (0..months.len()).filter(|month| months[*month] > usual);
            let above: Vec<usize> = above.map(|month| year * YEAR + month).collect();
            let helped = above.iter().copied().filter(|month| {
                let rest = accounts.counted.in_month(*month) - self.clean_out(ledger, *month);
                GeneratorCategory::of(rest.max(0.0)) <= usual
            });
            let most = helped.max_by(|a, b| {
                let mass = |month: &usize| accounts.counted.in_month(*month);
                mass(a).total_cmp(&mass(b))
            })?;
            Some(self.event(ledger, accounts, (most, usual), above.len() - 1))
        });
        events.collect()
    }

    fn event(
        &self,
        ledger: &WasteLedger,
        accounts: &Accounts,
        (month, usual): (usize, GeneratorCategory),
        others: usize,
    ) -> Result<EpisodicEvent, Refusal> {
        let counted = accounts.counted.in_month(month);
        let mass = self.clean_out(ledger, month).min(counted);
        let begins = match self.changes_fall() {
            ChangesFall::OverTheMonth => count(month) * DAYS_PER_MONTH,
            ChangesFall::OnTheLastDay => count(month + 1) * DAYS_PER_MONTH - 1.0,
        };
        let notify = begins - NOTICE;
        let section = match usual {
            GeneratorCategory::VerySmall => "40 CFR 262.232(a)",
            _ => "40 CFR 262.232(b)",
        };
        Ok(EpisodicEvent {
            month: Count::from_usize(month + 1)?,
            usual,
            without: GeneratorCategory::of(counted),
            mass: Mass::of(mass)?,
            rest: Mass::of(counted - mass)?,
            notify_by: (notify >= 0.0).then(|| Days::of(notify.floor())).transpose()?,
            gone_by: Days::of((begins + GONE_WITHIN).floor())?,
            others_above: Count::from_usize(others)?,
            section: section.into(),
            steps: steps(),
        })
    }
}

/// The category that more than half of the months are in or below; none where that is
/// the large one, which has no event.
fn usual(months: &[GeneratorCategory]) -> Option<GeneratorCategory> {
    [GeneratorCategory::VerySmall, GeneratorCategory::Small]
        .into_iter()
        .find(|category| 2 * months.iter().filter(|own| **own <= *category).count() > months.len())
}
