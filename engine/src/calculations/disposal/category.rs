//! The generator categories of 40 CFR part 262 and what each may keep on site.
//!
//! By the mass of hazardous waste of a calendar month (40 CFR 262.13): to 100 kg
//! very small, above 100 and below 1000 kg small, from 1000 kg large. On site:
//! very small to 1000 kg (262.14); small for 180 days, or 270 where the facility
//! that takes the waste is 200 miles or more away, and never more than 6000 kg
//! (262.16); large for 90 days (262.17).

use crate::sentence::round_to;
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

/// The published rules for keeping hazardous waste on site, by generator category.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum GeneratorRules {
    /// Very small quantity generator: never more than 1000 kg on site (40 CFR 262.14).
    VerySmall,
    /// Small quantity generator: 180 days, never more than 6000 kg on site (40 CFR 262.16).
    Small,
    /// Small quantity generator whose waste goes to a facility 200 miles or more
    /// away: 270 days, never more than 6000 kg on site (40 CFR 262.16).
    SmallFarAway,
    /// Large quantity generator: 90 days (40 CFR 262.17).
    Large,
}

impl GeneratorRules {
    /// The most that may be on site, kg.
    #[must_use]
    pub const fn mass(self) -> Option<f64> {
        match self {
            Self::VerySmall => Some(1000.0),
            Self::Small | Self::SmallFarAway => Some(6000.0),
            Self::Large => None,
        }
    }

    /// The longest that waste may stay, days.
    #[must_use]
    pub const fn days(self) -> Option<f64> {
        match self {
            Self::VerySmall => None,
            Self::Small => Some(180.0),
            Self::SmallFarAway => Some(270.0),
            Self::Large => Some(90.0),
        }
    }

    /// Where the rules stand.
    #[must_use]
    pub const fn section(self) -> &'static str {
        match self {
            Self::VerySmall => "40 CFR 262.14",
            Self::Small | Self::SmallFarAway => "40 CFR 262.16",
            Self::Large => "40 CFR 262.17",
        }
    }

    /// The category that they are made for.
    pub(super) const fn category(self) -> GeneratorCategory {
        match self {
            Self::VerySmall => GeneratorCategory::VerySmall,
            Self::Small | Self::SmallFarAway => GeneratorCategory::Small,
            Self::Large => GeneratorCategory::Large,
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
