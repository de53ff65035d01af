//! When and with what a sump is fed.

use crate::dynamics::{Amounts, FeedingHabit, SumpFeed};
use crate::fluid::hardness::{self, HardnessMeasured};
use crate::fluid::properties::{ByProperty, Properties, PropertyName};
use crate::fluid::supply::{MakeUpWater, NeatConcentrate};
use crate::quantity::{Capacity, Concentration, DailyRate, Days, Quantity};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use std::borrow::Cow;
use utoipa::ToSchema;

/// Time and way in which a sump is fed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "when", rename_all = "snake_case")]
#[schema(as = WayOfFeeding)]
pub enum Feeding {
    /// As soon as it is low.
    Below(FeedBelow),
    /// At regular intervals.
    Every(FeedEvery),
    /// All the time, by a float valve or a metering pump.
    Always(FeedAlways),
}

/// Fed as soon as the sump is down to a level.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FeedBelow {
    /// # Fed below
    ///
    /// Fluid in the sump at the level at which it is fed.
    #[schema(example = 170.0)]
    pub level: Capacity,
    /// # Fed up to
    ///
    /// Fluid in the sump after it is fed. Default: its capacity.
    #[schema(example = 200.0)]
    pub to: Option<Capacity>,
    /// # Fed with
    ///
    /// Fluid that the sump is fed with.
    pub with: FeedStock,
}

/// Fed at regular intervals.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FeedEvery {
    /// # Every
    ///
    /// Number of days from one feeding to the next.
    #[schema(example = 7.0)]
    pub days: Days,
    /// # First on day
    ///
    /// Day of the first feeding, counted from today as day 0. Default: one interval from
    /// today.
    #[schema(example = 3.0)]
    pub first_day: Option<Days>,
    /// # Only below
    ///
    /// Fed only where the sump then holds less than this. Default: every time.
    pub only_below: Option<Capacity>,
    /// # Fed up to
    ///
    /// Fluid in the sump after it is fed. Default: its capacity.
    #[schema(example = 200.0)]
    pub to: Option<Capacity>,
    /// # Fed with
    ///
    /// Fluid that the sump is fed with.
    pub with: FeedStock,
}

/// Fed all the time.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FeedAlways {
    /// # Fed per day
    ///
    /// Volume fed per day. Default: as much as evaporates, is carried off and is drained
    /// off.
    #[schema(example = 15.0)]
    pub rate: Option<DailyRate>,
    /// # Fed with
    ///
    /// Fluid that the sump is fed with.
    pub with: FeedStock,
}

/// Fluid that a sump is fed with.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum FeedStock {
    /// A premix whose strength stays the same; water alone is a premix without concentrate.
    Premix(PremixFeed),
    /// Water and concentrate, mixed each time so that the sump comes to a target strength.
    WaterAndConcentrate(MixedFeed),
}

/// A premix whose strength stays the same.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PremixFeed {
    /// # Strength
    ///
    /// Concentration of the premix; 0 for water alone.
    #[schema(example = 3.0)]
    pub concentration: Concentration,
    /// # Carries
    ///
    /// What else the premix carries, the concentrate's share included.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
    /// # Hardness
    ///
    /// Hardness of the premix or the water with its unit, in place of one among what it carries.
    pub hardness: Option<HardnessMeasured>,
}

impl PremixFeed {
    /// The names of what it carries.
    pub(in super::super) fn names(&self) -> impl Iterator<Item = &str> {
        hardness::names(&self.properties, self.hardness)
    }
}

/// Water and neat concentrate, mixed to bring a sump to a target.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MixedFeed {
    /// # Target
    ///
    /// Concentration of the sump after it is fed. Default: the target of its band.
    #[schema(example = 8.0)]
    pub target: Option<Concentration>,
    /// # Water
    ///
    /// The water. Default: pure water.
    pub water: Option<MakeUpWater>,
    /// # Concentrate
    ///
    /// The concentrate, where its own content of salts is known.
    pub concentrate: Option<NeatConcentrate>,
}

impl Feeding {
    /// What it is done with.
    #[must_use]
    pub fn with(&self) -> &FeedStock {
        match self {
            Self::Below(habit) => &habit.with,
            Self::Every(habit) => &habit.with,
            Self::Always(habit) => &habit.with,
        }
    }

    /// Whether water alone is poured.
    pub(in super::super) fn is_water(&self) -> bool {
        matches!(self.with(), FeedStock::Premix(premix) if premix.concentration.get() == 0.0)
    }

    /// How it is done at set times, up to `full` L where nothing else is said.
    pub(in super::super) fn habit(&self, feed: &SumpFeed, full: f64) -> FeedingHabit {
        let up_to = |to: Option<Capacity>| to.map_or(full, Quantity::get);
        match self {
            Self::Below(habit) => FeedingHabit::Below {
                level: habit.level.get(),
                to: up_to(habit.to),
                feed: feed.clone(),
            },
            Self::Every(habit) => FeedingHabit::Every {
                first: habit.first_day.unwrap_or(habit.days).get(),
                days: habit.days.get(),
                only_below: habit.only_below.map_or(f64::INFINITY, Quantity::get),
                to: up_to(habit.to),
                feed: feed.clone(),
            },
            Self::Always(_) => FeedingHabit::None,
        }
    }
}

impl FeedStock {
    /// The same in litres, with `target` in % by volume where none is given.
    pub(in super::super) fn feed(
        &self,
        target: Option<Concentration>,
        names: &[PropertyName],
    ) -> SumpFeed {
        match self {
            Self::Premix(premix) => SumpFeed {
                weak: Amounts::of(
                    1.0,
                    premix.concentration.get(),
                    &hardness::carried(&premix.properties, premix.hardness),
                    names,
                ),
                strong: Amounts::nothing(names.len()),
                target: None,
            },
            Self::WaterAndConcentrate(mixed) => SumpFeed {
                weak: Amounts::of(1.0, 0.0, &mixed.water(), names),
                strong: Amounts::of(1.0, 100.0, &mixed.brought(), names),
                target: mixed.target.or(target).map(Concentration::fraction),
            },
        }
    }
}

impl MixedFeed {
    fn water(&self) -> Cow<'_, Properties> {
        self.water.as_ref().map_or_else(Cow::default, MakeUpWater::carries)
    }

    /// What the concentrate brings.
    fn brought(&self) -> Properties {
        let own = self.concentrate.as_ref().map(|concentrate| &concentrate.properties);
        brought_by_concentrate(own, &self.water())
    }
}

/// What concentrate brings: its own, and of all else as much as the water.
pub(crate) fn brought_by_concentrate(own: Option<&Properties>, water: &Properties) -> Properties {
    let mut matter = water.matter.clone();
    matter.extend(own.into_iter().flat_map(|own| own.matter.clone()));
    ByProperty { tramp_oil: None, matter }
}
