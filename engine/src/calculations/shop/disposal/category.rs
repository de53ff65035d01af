//! The generator categories of 40 CFR part 262 and what each may keep on site.
//!
//! By the mass of hazardous waste of a calendar month (40 CFR 262.13): to 100 kg
//! very small, above 100 and below 1000 kg small, from 1000 kg large. On site:
//! very small less than 1000 kg (262.14: at 1000 kg or more, further rules apply);
//! small for 180 days, or 270 where the facility that takes the waste is 200 miles or
//! more away, and never more than 6000 kg (262.16); large for 90 days (262.17).

use crate::numerics::digits::round_to;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Up to this much in a month, kg, a generator is very small (40 CFR 262.13).
pub const VERY_SMALL_MOST: f64 = 100.0;
/// From this much in a month, kg, a generator is large (40 CFR 262.13).
pub const LARGE_LEAST: f64 = 1000.0;

/// A US generator category.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum GeneratorCategory {
    /// Up to 100 kg of hazardous waste in a calendar month.
    VerySmall,
    /// More than 100 kg and less than 1000 kg.
    Small,
    /// 1000 kg or more.
    Large,
}

/// Digits to which a computed mass is held against a boundary: rounding of the
/// last bits must not move a shop from one category to the next.
const DIGITS: i32 = 12;

impl GeneratorCategory {
    /// The category that the counted mass of a month, kg, falls in.
    #[must_use]
    pub fn of(mass: f64) -> Self {
        let mass = round_to(mass, DIGITS);
        if mass <= VERY_SMALL_MOST {
            Self::VerySmall
        } else if mass < LARGE_LEAST {
            Self::Small
        } else {
            Self::Large
        }
    }

    /// The mass at which a month enters this category, kg.
    pub(super) const fn entered_at(self) -> Option<f64> {
        match self {
            Self::VerySmall => None,
            Self::Small => Some(VERY_SMALL_MOST),
            Self::Large => Some(LARGE_LEAST),
        }
    }
}

/// Which published rules for keeping hazardous waste on site the pickups keep.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum GeneratorRules {
    /// Those of the category that each month's own mass falls in.
    ByMonth,
    /// Very small quantity generator: less than 1000 kg on site (40 CFR 262.14).
    /// Months of a higher category keep theirs as well.
    VerySmall,
    /// Small quantity generator: 180 days, or 270 where the facility is far away,
    /// and never more than 6000 kg on site (40 CFR 262.16). Months of a higher
    /// category keep theirs as well.
    Small,
    /// Large quantity generator: 90 days (40 CFR 262.17).
    Large,
}

impl GeneratorRules {
    /// The category whose rules every month keeps at least.
    pub(super) const fn category(self) -> Option<GeneratorCategory> {
        match self {
            Self::ByMonth => None,
            Self::VerySmall => Some(GeneratorCategory::VerySmall),
            Self::Small => Some(GeneratorCategory::Small),
            Self::Large => Some(GeneratorCategory::Large),
        }
    }
}

/// What pickups have to keep.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::calculations::shop) struct StorageLimits {
    /// The most that may be on site, kg.
    pub mass: Option<f64>,
    /// The longest that any of it may stay, days.
    pub days: Option<f64>,
}

impl StorageLimits {
    /// The tighter of each.
    pub(in crate::calculations::shop) fn and(self, other: Self) -> Self {
        let tighter = |one: Option<f64>, other: Option<f64>| match (one, other) {
            (Some(one), Some(other)) => Some(one.min(other)),
            (one, other) => one.or(other),
        };
        Self { mass: tighter(self.mass, other.mass), days: tighter(self.days, other.days) }
    }
}

/// Less than the mass itself, by less than any scale tells.
const LESS_THAN: f64 = 1.0 - 1e-8;

impl GeneratorCategory {
    /// What the category may keep on site.
    pub(in crate::calculations::shop) const fn limits(self, far_away: bool) -> StorageLimits {
        let (mass, days) = match self {
            // From 1000 kg on, more of the rules apply (262.14(a)(4)).
            Self::VerySmall => (Some(1000.0 * LESS_THAN), None),
            Self::Small if far_away => (Some(6000.0), Some(270.0)),
            Self::Small => (Some(6000.0), Some(180.0)),
            Self::Large => (None, Some(90.0)),
        };
        StorageLimits { mass, days }
    }

    /// Where its rules stand.
    pub(in crate::calculations::shop) const fn section(self) -> &'static str {
        match self {
            Self::VerySmall => "40 CFR 262.14",
            Self::Small => "40 CFR 262.16",
            Self::Large => "40 CFR 262.17",
        }
    }

    /// What a person calls it.
    pub(in crate::calculations::shop) const fn words(self) -> &'static str {
        match self {
            Self::VerySmall => "very small quantity generator",
            Self::Small => "small quantity generator",
            Self::Large => "large quantity generator",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::GeneratorCategory as Category;

    #[test]
    fn a_boundary_is_held_exactly_and_rounding_does_not_cross_it() {
        // 40 CFR 262.13: <= 100 kg, > 100 and < 1000 kg, >= 1000 kg.
        assert_eq!(Category::of(0.0), Category::VerySmall);
        assert_eq!(Category::of(100.0), Category::VerySmall);
        assert_eq!(Category::of(100.0_f64.next_up()), Category::VerySmall);
        assert_eq!(Category::of(100.000001), Category::Small);
        assert_eq!(Category::of(999.999999), Category::Small);
        assert_eq!(Category::of(1000.0_f64.next_down()), Category::Large);
        assert_eq!(Category::of(1000.0), Category::Large);
    }
}
