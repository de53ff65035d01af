//! A sump over the coming days: what it will hold, when it leaves its band, what
//! to have ready for it, and when somebody must go there.
//!
//! *I fill it up every Monday. Does it hold its strength until the next one, when
//! is the hardness too high, and how much do I have to mix this week?*
//!
//! The sump follows the equations of [`dynamics`](crate::dynamics), in closed form
//! from event to event. At each feeding, with V and C what is there (L), V_t the
//! level it is fed to and c_t the strength aimed at:
//!
//! 1. fed: A = V_t − V
//! 2. of that concentrate: c_t·V_t − C, but no less than none and no more than A;
//!    a premix is fed as it is
//! 3. fed all the time toward a target, of m litres a day: c_t·(k·d + b + r)
//!    litres of concentrate, with r = m − e − d − b the rise of the level
//!
//! A value leaves its band where the closed form crosses the band's end, at a
//! feeding or between two of them, also where it comes back before the next
//! event. The days of the series tell the sump as it is found on that day, before
//! what is fed on it.
//!
//! Assumes what [`dynamics`](crate::dynamics) assumes, and that the rates stay what
//! they are. The concentrate is taken to bring as much of each followed property
//! as the water it takes the place of, unless its own is given: a guess on the
//! safe side for what must not rise. Valid until the sump runs dry; the forecast
//! ends there. Source: the balances of water, concentrate and matter; the
//! dilution of salts is the cooling-tower balance (UFC 3-240-13FN).

use crate::calculation::{Calculation, Outcome};
use crate::chart::Chart;
use crate::dynamics::{Course, MaterialDensities};
use crate::fluid::band::Band;
use crate::fluid::loss_rates::LossRates;
use crate::fluid::practice::names_nitrite;
use crate::fluid::properties::{Limits, Name};
use crate::fluid::sump::Sump;
use crate::quantity::{DailyRate, Days, Quantity, Volume};
use crate::text::{Caution, Refusal};
use plan::Planned;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

mod answer;
mod assumptions;
mod checks;
mod feeding;
mod findings;
mod ledger;
mod outcome;
mod picture;
mod plan;

pub use answer::{
    BandCrossing, FeedToPrepare, ForecastAnswer, Leaving, NextVisit, SumpFeeding, SumpOnDay,
    VisitReason,
};
pub use feeding::{FeedAlways, FeedBelow, FeedEvery, FeedStock, Feeding, MixedFeed, PremixFeed};
pub use plan::{PlannedAddition, PlannedChange, PlannedRemoval};

/// A sump, what it loses and gains, and how it is fed.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Forecast {
    /// The sump as it is on day 0.
    pub sump: Sump,
    /// What it loses in a day.
    pub losses: LossRates,
    /// Fluid discharged on purpose in a day, as it is; none when left out.
    pub discharge: Option<DailyRate>,
    /// Oil that the machine leaks into the sump in a day; none when left out.
    #[schema(example = 0.2)]
    pub oil_leak: Option<DailyRate>,
    /// How much fluid a skimmer frees of its oil in a day. Gather what it brings in a
    /// day, and divide the oil in it by the share of oil in the sump: the less oil there
    /// is, the less it finds. None when left out.
    #[schema(example = 20.0)]
    pub skimmer: Option<DailyRate>,
    /// How the sump is fed; not at all when left out.
    pub feeding: Option<Feeding>,
    /// What else will be done to the sump, by day.
    #[schema(min_items = 1, max_items = 20000)]
    pub changes: Option<Vec<PlannedChange>>,
    /// The band the fluid is to be kept in.
    pub band: Option<Band>,
    /// The levels the sump is to be kept between.
    pub levels: Option<LevelBand>,
    /// What the fluid may come to carry.
    #[serde(skip_serializing_if = "Limits::is_empty", default)]
    pub limits: Limits,
    /// What concentrate and tramp oil weigh; it matters to the masses of the
    /// balance alone.
    pub densities: Option<MaterialDensities>,
    /// How many days to look ahead, up to 3660.
    #[schema(example = 30.0)]
    pub days: Days,
}

/// The levels a sump is to be kept between, as what it holds at them.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LevelBand {
    /// The least that the pump needs.
    #[schema(example = 150.0)]
    pub min: Option<Volume>,
    /// The most that it should hold; its capacity when left out.
    pub max: Option<Volume>,
}

impl Calculation for Forecast {
    const NAME: &'static str = "forecast";
    const SUMMARY: &'static str = "What a sump will hold day by day, when it leaves its band, what \
                                   to prepare for it, and when somebody must go there";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/forecast.json");
    type Answer = ForecastAnswer;
    const HAS_CHART: bool = true;

    fn calculate(&self) -> Result<Outcome<ForecastAnswer>, Refusal> {
        let planned = self.plan()?;
        let mut course = Course::new(&planned.plan);
        let mut series = outcome::Series::new(&planned);
        series.note(0.0, &course.sump)?;
        while let Some(leg) = course.step().map_err(|stop| self.refused(stop))? {
            series.follow(&leg, &course.sump)?;
        }
        let balance = ledger::balance(&planned, &course)?;
        let answer = outcome::answer(&planned, &course, series.days)?;
        Ok(Outcome {
            findings: self.findings(&answer)?,
            answer,
            balance: Some(balance),
            assumptions: self.assumptions(&planned),
            cautions: self.cautions(&planned),
        })
    }

    fn chart(&self, _: &ForecastAnswer) -> Option<Chart> {
        self.picture().ok()
    }
}

impl Forecast {
    /// When this sump first leaves its band, its levels or its limits under its
    /// feeding habit, or runs dry, within the days looked ahead; none where it
    /// keeps within all of them. It costs nothing beyond that day.
    pub fn first_leaving(&self) -> Result<Option<Leaving>, Refusal> {
        let planned = self.plan()?;
        let mut course = Course::new(&planned.plan);
        while course.crossings.is_empty() {
            if course.step().map_err(|stop| self.refused(stop))?.is_none() {
                break;
            }
        }
        outcome::leaving(&planned, &course)
    }

    fn cautions(&self, planned: &Planned) -> Vec<Caution> {
        let mut cautions = vec![Caution::MACHINE, Caution::SKIN_AND_MIST, Caution::BREATHING];
        if self.feeding.as_ref().is_some_and(|feeding| !feeding.is_water()) {
            cautions.push(Caution::CONCENTRATE);
        }
        if names_nitrite(planned.names.iter().map(Name::as_str)) {
            cautions.push(Caution::NITROSAMINES);
        }
        let changes = self.changes.iter().flatten();
        let removes = changes.into_iter().any(|change| change.removed.is_some());
        if removes || self.discharge.is_some_and(|rate| rate.get() > 0.0) {
            cautions.push(Caution::DRAINED_FLUID);
        }
        cautions
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::chart::Layer;

    fn question(changed: impl FnOnce(&mut serde_json::Value)) -> Forecast {
        let mut document: serde_json::Value = serde_json::from_str(Forecast::EXAMPLE).unwrap();
        let members = document.as_object_mut().unwrap();
        members.retain(|name, _| name != "units" && name != "reference");
        changed(&mut document);
        serde_json::from_value(document).unwrap()
    }

    /// A level that is fed at as soon as it is reached is not left.
    #[test]
    fn a_sump_fed_at_its_least_level_keeps_to_it() {
        let question = question(|document| {
            let with = document["feeding"]["with"].clone();
            document["feeding"] =
                serde_json::json!({ "when": "below", "level": 140, "with": with });
            document["changes"] = serde_json::Value::Null;
        });
        let answer = question.calculate().unwrap().answer;
        assert!(answer.feedings.len() > 4);
        assert!(answer.crossings.iter().all(|crossing| crossing.what != "volume"));
    }

    /// The short way to the first leaving is the first of the long list.
    #[test]
    fn the_first_leaving_is_the_first_crossing() {
        let question = question(|_| {});
        let crossings = question.calculate().unwrap().answer.crossings;
        let leaving = question.first_leaving().unwrap().unwrap();
        let first = (crossings[0].day, crossings[0].what.clone(), crossings[0].side);
        assert_eq!((leaving.day, leaving.what, leaving.side), first);
    }

    /// A panel for the strength, the volume, and each of the three limits; no
    /// line leaves the days looked ahead, and each feeding is marked.
    #[test]
    fn the_picture_shows_what_the_answer_says() {
        let question = question(|_| {});
        let answer = question.calculate().unwrap().answer;
        let chart = question.chart(&answer).unwrap();
        assert_eq!(chart.panels.len(), 5);
        let lines = chart.panels.iter().flat_map(|panel| &panel.layers).filter_map(|layer| {
            if let Layer::Line { points, .. } = layer { Some(points) } else { None }
        });
        for line in lines {
            assert!(line.is_sorted_by(|a, b| a.0 <= b.0));
            assert_eq!((line[0].0, line[line.len() - 1].0), (0.0, 60.0));
        }
        let fed = chart.panels[1]
            .layers
            .iter()
            .filter(|layer| matches!(layer, Layer::Event { label, .. } if label == "fed"));
        assert_eq!(fed.count(), answer.feedings.len());
    }
}
