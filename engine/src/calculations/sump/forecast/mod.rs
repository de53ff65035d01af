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
//! event. A day of the series is the sump as it is found on that day, before what is
//! fed on it.
//!
//! Assumes what [`dynamics`](crate::dynamics) assumes, and that the rates stay what
//! they are. The concentrate is assumed to bring as much of each followed property
//! as the water it replaces, unless its own is given: a guess on the safe side for
//! what must not rise. Valid until the sump runs dry; the forecast
//! ends there. Source: the balances of water, concentrate and matter; the
//! dilution of salts is the cooling-tower balance (UFC 3-240-13FN).

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::dynamics::Course;
use crate::job_sheet::MakeSheet;
use crate::quantity::Quantity;
use crate::text::{Refusal, Sentence, filed, said, try_said};

mod answer;
mod assumptions;
mod balance;
mod cautions;
mod checks;
mod findings;
mod from_course;
mod job_sheet;
mod picture;
mod plan;
mod question;
mod statement;

pub use answer::{
    BandCrossing, FeedToPrepare, ForecastAnswer, Leaving, NextVisit, SumpFeeding, SumpOnDay,
    VisitReason,
};
pub use question::{
    FeedAlways, FeedBelow, FeedEvery, FeedStock, Feeding, Forecast, LevelBand, MixedFeed,
    PlannedAddition, PlannedChange, PlannedRemoval, PremixFeed,
};

impl Calculation for Forecast {
    const NAME: &'static str = "forecast";
    const SUMMARY: &'static str = "What a sump will hold day by day, when it leaves its band, what \
                                   to prepare for it, and when somebody must go there";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/forecast.json");
    type Answer = ForecastAnswer;
    const SHEET: Option<MakeSheet<Self, ForecastAnswer>> = Some(Self::job_sheet);
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);

    fn calculate(&self) -> Result<Outcome<ForecastAnswer>, Refusal> {
        let planned = self.plan()?;
        let mut course = Course::new(&planned.plan);
        let mut series = from_course::Series::new(&planned);
        series.note(0.0, &course.sump)?;
        while let Some(leg) = course.step().map_err(|stop| self.refused(stop))? {
            series.follow(&leg, &course.sump)?;
        }
        let balance = balance::balance(&planned, &course)?;
        let answer = from_course::answer(&planned, &course, series.days)?;
        Ok(Outcome {
            findings: try_said(|| self.findings(&answer))?,
            answer,
            balance: Some(balance),
            assumptions: filed(|| self.assumptions(&planned)),
            cautions: said(|| self.cautions(&planned)),
        })
    }

    /// A line a day, in which each property is followed.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "3660 days at most"
    )]
    fn work_ahead(&self) -> usize {
        /// A day besides its properties, in handled numbers.
        const A_DAY: usize = 10;
        self.days.get().ceil() as usize * (A_DAY + self.known().len())
    }

    fn statement(&self, answer: &ForecastAnswer) -> Sentence {
        self.in_short(answer)
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
        from_course::leaving(&planned, &course)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::{Layer, Shows};

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
        let drawn = question.drawn(&answer).unwrap();
        let Shows::Panels(chart) = drawn.shows else { panic!("{drawn:?}") };
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
        // Each time that something is out of bounds is a stretch in its panel.
        let stretches = chart.panels.iter().flat_map(|panel| &panel.layers);
        let stretches = stretches.filter(|layer| matches!(layer, Layer::Stretch { .. }));
        assert_eq!(stretches.count(), answer.crossings.len());
    }
}
