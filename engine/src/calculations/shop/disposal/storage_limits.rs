//! What may be on site and for how long, month by month.
//!
//! The waste of a month keeps the rules that were asked for and, where its mass is of
//! a higher category than those are made for, the rules of its own category as well;
//! the shop's own limits hold beside them. Of several limits the tightest holds.

use super::answer::{StorageHeld, StorageLimit};
use super::category::{GeneratorCategory, GeneratorRules, StorageLimits};
use super::track::{Track, count};
use super::{Disposal, WasteStorage};
use crate::numerics::digits::round_to;
use crate::quantity::{Count, Days, Mass, Quantity};
use crate::text::Refusal;
use std::borrow::Cow;

impl WasteStorage {
    /// The limits of a month whose counted mass is of this category.
    pub(super) fn limits(&self, month: GeneratorCategory) -> StorageLimits {
        let own = StorageLimits {
            mass: self.mass.map(Quantity::get),
            days: self.days.map(Quantity::get),
        };
        let of = |category: GeneratorCategory| category.limits(self.is_far_away());
        match self.rules {
            None => own,
            Some(rules) => match rules.category() {
                None => own.and(of(month)),
                Some(least) if month > least => own.and(of(least)).and(of(month)),
                Some(least) => own.and(of(least)),
            },
        }
    }

    fn is_far_away(&self) -> bool {
        self.facility_far_away == Some(true)
    }

    /// The category whose rules a month of this one keeps; none without rules.
    fn keeps_rules_of(&self, month: GeneratorCategory) -> Option<GeneratorCategory> {
        self.rules.map(|rules| rules.category().map_or(month, |least| least.max(month)))
    }

    /// Whether a month is of a higher category than the rules asked for are made for.
    pub(super) fn is_above_rules(&self, month: GeneratorCategory) -> bool {
        self.rules.and_then(GeneratorRules::category).is_some_and(|least| month > least)
    }
}

/// The category of each month.
pub(super) fn categories(counted: &Track, months: usize) -> Vec<GeneratorCategory> {
    (0..months).map(|month| GeneratorCategory::of(counted.in_month(month))).collect()
}

impl Disposal {
    /// The limits that the pickups keep, for each category that there is.
    pub(super) fn storage_held(
        &self,
        categories: &[GeneratorCategory],
        days_above: &[usize],
    ) -> Result<Option<StorageHeld>, Refusal> {
        let Some(storage) = self.storage else { return Ok(None) };
        let mut kinds: Vec<Option<GeneratorCategory>> =
            categories.iter().map(|month| storage.keeps_rules_of(*month)).collect();
        kinds.sort();
        kinds.dedup();
        let limits = kinds.into_iter().map(|kind| {
            let of_kind = |month: &&GeneratorCategory| storage.keeps_rules_of(**month) == kind;
            let months = categories.iter().filter(of_kind).count();
            let limits = storage.limits(kind.unwrap_or(GeneratorCategory::VerySmall));
            Ok(StorageLimit {
                category: kind,
                mass: limits.mass.map(|kg| Mass::of(round_to(kg, 6))).transpose()?,
                days: limits.days.map(Days::of).transpose()?,
                section: kind.map(|kind| Cow::Borrowed(kind.section())),
                months: Count::from_usize(months)?,
            })
        });
        let above = categories.iter().filter(|month| storage.is_above_rules(**month)).count();
        Ok(Some(StorageHeld {
            limits: limits.collect::<Result<_, Refusal>>()?,
            months_above_rules: Count::from_usize(above)?,
            days_above: days_above
                .iter()
                .map(|day| Days::of(count(*day)))
                .collect::<Result<_, _>>()?,
        }))
    }
}
