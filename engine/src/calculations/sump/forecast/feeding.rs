//! How a sump is fed, as a shop says it.

use crate::dynamics::{Amounts, FeedingHabit, SumpFeed};
use crate::fluid::properties::{ByProperty, Name, Properties};
use crate::fluid::supply::{MakeUpWater, NeatConcentrate};
use crate::quantity::{Capacity, Concentration, DailyRate, Days, Quantity};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// When a sump is fed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "when", rename_all = "snake_case")]
pub enum Feeding {
    /// As soon as it is low.
    Below(FeedBelow),
    /// By the calendar.
    Every(FeedEvery),
    /// All the time, by a float valve or a metering pump.
    Always(FeedAlways),
}

/// Fed as soon as the sump is down to a level.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FeedBelow {
    /// What it holds at that level.
    #[schema(example = 170.0)]
    pub level: Capacity,
    /// How much it is to hold after it is fed; its capacity when left out.
    #[schema(example = 200.0)]
    pub to: Option<Capacity>,
    /// What it is fed with.
    pub with: FeedStock,
}

/// Fed every so many days.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FeedEvery {
    /// Days from one feeding to the next.
    #[schema(example = 7.0)]
    pub days: Days,
    /// The day of the first feeding; the first after so many days when left out.
    #[schema(example = 3.0)]
    pub first_day: Option<Days>,
    /// Fed only where it then holds less than this; always when left out.
    pub only_below: Option<Capacity>,
    /// How much it is to hold after it is fed; its capacity when left out.
    #[schema(example = 200.0)]
    pub to: Option<Capacity>,
    /// What it is fed with.
    pub with: FeedStock,
}

/// Fed all the time.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FeedAlways {
    /// How much is fed in a day; as much as evaporates, is carried off and is
    /// discharged when left out.
    #[schema(example = 15.0)]
    pub rate: Option<DailyRate>,
    /// What it is fed with.
    pub with: FeedStock,
}

/// What a sump is fed with.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum FeedStock {
    /// A premix of always the same strength; water alone is one of 0 %.
    Premix(PremixFeed),
    /// Water and concentrate, mixed each time so that the sump comes to a target.
    WaterAndConcentrate(MixedFeed),
}

/// A premix of always the same strength.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PremixFeed {
    /// How strong it is: 0 for water alone.
    #[schema(example = 3.0)]
    pub concentration: Concentration,
    /// What else it carries, the concentrate's share included.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// Water and neat concentrate, mixed to bring a sump to a target.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MixedFeed {
    /// How strong the sump is to be after it is fed; the target of its band when
    /// left out.
    #[schema(example = 8.0)]
    pub target: Option<Concentration>,
    /// The water; it carries nothing when left out.
    pub water: Option<MakeUpWater>,
    /// The concentrate, where what it carries is known.
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

    /// Whether nothing but water is poured.
    pub(super) fn is_water(&self) -> bool {
        matches!(self.with(), FeedStock::Premix(premix) if premix.concentration.get() == 0.0)
    }

    /// How it is done at set times, up to `full` L where nothing else is said.
    pub(super) fn habit(&self, feed: &SumpFeed, full: f64) -> FeedingHabit {
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
    pub(super) fn feed(&self, target: Option<Concentration>, names: &[Name]) -> SumpFeed {
        match self {
            Self::Premix(premix) => SumpFeed {
                weak: Amounts::of(1.0, premix.concentration.get(), &premix.properties, names),
                strong: Amounts::nothing(names.len()),
                target: None,
            },
            Self::WaterAndConcentrate(mixed) => SumpFeed {
                weak: Amounts::of(1.0, 0.0, mixed.water(), names),
                strong: Amounts::of(1.0, 100.0, &mixed.brought(), names),
                target: mixed.target.or(target).map(|target| target.get() / 100.0),
            },
        }
    }
}

impl MixedFeed {
    fn water(&self) -> &Properties {
        const NOTHING: &Properties =
            &Properties { tramp_oil: None, matter: std::collections::BTreeMap::new() };
        self.water.as_ref().map_or(NOTHING, |water| &water.properties)
    }

    /// What the concentrate brings.
    fn brought(&self) -> Properties {
        let own = self.concentrate.as_ref().map(|concentrate| &concentrate.properties);
        brought_by_concentrate(own, self.water())
    }
}

/// What concentrate brings: its own, and of all else as much as the water.
pub(crate) fn brought_by_concentrate(own: Option<&Properties>, water: &Properties) -> Properties {
    let mut matter = water.matter.clone();
    matter.extend(own.into_iter().flat_map(|own| own.matter.clone()));
    ByProperty { tramp_oil: None, matter }
}
