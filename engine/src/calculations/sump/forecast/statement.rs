//! The forecast in two sentences: when somebody has to go there and why, and what leaves
//! its band all the same.

use super::{
    BandCrossing, FeedStock, Feeding, Forecast, ForecastAnswer, NextVisit, PlannedChange,
    SumpFeeding, VisitReason,
};
use crate::dynamics::BandSide;
use crate::fluid::measuring::MeasuringStep;
use crate::fluid::properties::{TRAMP_OIL, spoken};
use crate::quantity::{Concentration, Content, Days, Measure, Quantity, Volume};
use crate::sentence;
use crate::text::Sentence;

impl Forecast {
    pub(super) fn in_short(&self, answer: &ForecastAnswer) -> Sentence {
        let crossing = answer.crossings.first();
        let Some(visit) = &answer.next_visit else {
            return sentence!(
                "Nobody has to go there until day {}: the sump stays within its limits.",
                day_number(answer.after.day)
            );
        };
        let go = sentence!("Go there {}", on_day(visit.day));
        let leaves = crossing.map(|crossing| self.leaves(crossing));
        match (visit.reason, leaves) {
            (VisitReason::LeavesBand, Some(leaves)) => sentence!("{}: {}.", go, leaves),
            (VisitReason::LeavesBand | VisitReason::RunsDry, _) => {
                sentence!("{}: the sump runs dry.", go)
            }
            (VisitReason::Feeding | VisitReason::Change, _) => {
                let why = self.reason(visit, answer);
                sentence!("{} {}. {}", go, why, self.then(answer))
            }
        }
    }

    /// What is to be done on a visit that leaves nothing out of its band.
    fn reason(&self, visit: &NextVisit, answer: &ForecastAnswer) -> Sentence {
        match answer.feedings.first() {
            Some(fed) if visit.reason == VisitReason::Feeding => {
                sentence!("to {}", self.feeding_up(fed))
            }
            _ => {
                let changes = self.changes.iter().flatten();
                let first = changes.min_by(|a, b| a.day.get().total_cmp(&b.day.get()));
                match first.and_then(|change| self.changing(change)) {
                    Some(change) => sentence!("to {}", change),
                    None => sentence!("for the planned change"),
                }
            }
        }
    }

    /// What is done at a feeding, without its full stop.
    pub(super) fn feeding_up(&self, fed: &SumpFeeding) -> Sentence {
        let (volume, concentrate) = (fed.volume.get(), fed.concentrate.get());
        match self.feeding.as_ref().map(Feeding::with) {
            Some(FeedStock::Premix(premix)) if premix.concentration.get() > 0.0 => {
                let step = MeasuringStep::of(self.measures_to, [volume]);
                sentence!(
                    "fill it up with {} of premix at {}",
                    step.measure(step.round(volume)),
                    premix.concentration.roughly()
                )
            }
            Some(FeedStock::WaterAndConcentrate(_)) if concentrate > 0.0 => {
                let water = (volume - concentrate).max(0.0);
                let step = MeasuringStep::of(self.measures_to, [concentrate, water]);
                let litres = |litres: f64| step.measure(step.round(litres));
                if water > 0.0 {
                    sentence!(
                        "fill it up with {} of concentrate stirred into {} of water",
                        litres(concentrate),
                        litres(water)
                    )
                } else {
                    sentence!("fill it up with {} of concentrate, no water", litres(concentrate))
                }
            }
            _ => {
                let step = MeasuringStep::of(self.measures_to, [volume]);
                sentence!("fill it up with {} of water", step.measure(step.round(volume)))
            }
        }
    }

    /// What is done at a planned change; nothing where it says nothing.
    pub(super) fn changing(&self, change: &PlannedChange) -> Option<Sentence> {
        let removed = change.removed.as_ref().map(|removed| removed.volume.get());
        let added = change.added.as_ref();
        let step = MeasuringStep::of(
            self.measures_to,
            removed.into_iter().chain(added.map(|added| added.volume.get())),
        );
        let litres = |litres: f64| step.measure(step.round(litres));
        Some(match (removed, added) {
            (Some(removed), Some(added)) => sentence!(
                "drain {} and pour in {} at {}",
                litres(removed),
                litres(added.volume.get()),
                added.concentration.roughly()
            ),
            (None, Some(added)) => sentence!(
                "pour in {} at {}",
                litres(added.volume.get()),
                added.concentration.roughly()
            ),
            (Some(removed), None) => sentence!("drain {}", litres(removed)),
            (None, None) => return None,
        })
    }

    /// What comes of the sump with everything that is planned.
    fn then(&self, answer: &ForecastAnswer) -> Sentence {
        if let Some(crossing) = answer.crossings.first() {
            let when = start_on_day(crossing.day);
            return sentence!("{} {} all the same.", when, self.leaves(crossing));
        }
        if let Some(day) = answer.runs_dry_day {
            sentence!("{} the sump runs dry all the same.", start_on_day(day))
        } else {
            sentence!("It then stays within its limits until day {}.", day_number(answer.after.day))
        }
    }

    /// "the concentration falls below 6.5 % by volume".
    pub(super) fn leaves(&self, crossing: &BandCrossing) -> Sentence {
        let (what, end) = self.what_leaves(&crossing.what, crossing.side);
        let Some(end) = end else { return sentence!("{} leaves its band", what) };
        match (crossing.side, crossing.day.get() == 0.0) {
            (BandSide::Above, true) => sentence!("{} is above {}", what, end),
            (BandSide::Below, true) => sentence!("{} is below {}", what, end),
            (BandSide::Above, false) => sentence!("{} rises above {}", what, end),
            (BandSide::Below, false) => sentence!("{} falls below {}", what, end),
        }
    }

    /// What leaves its band, and the end of the band on that side.
    fn what_leaves(&self, what: &str, side: BandSide) -> (String, Option<Measure>) {
        fn end<Q: Quantity>(min: Option<Q>, max: Option<Q>, side: BandSide) -> Option<Measure> {
            let end = if side == BandSide::Below { min } else { max };
            end.map(Quantity::roughly)
        }
        match what {
            "concentration" => {
                let band = self.band.as_ref();
                let (low, high) = (band.map(|band| band.low), band.map(|band| band.high));
                ("the concentration".to_owned(), end(low, high, side))
            }
            "volume" => {
                let (least, most) = self.levels();
                let level = if side == BandSide::Below { least } else { Some(most) };
                ("the level".to_owned(), level.map(|at| Volume::measure_of(at).rounded(3)))
            }
            TRAMP_OIL => {
                let limit = self.kept().limits.tramp_oil;
                let (min, max) = (limit.and_then(|l| l.min), limit.and_then(|l| l.max));
                (spoken(what), end::<Concentration>(min, max, side))
            }
            name => {
                let limit = self.kept().of(name).copied();
                let (min, max) = (limit.and_then(|l| l.min), limit.and_then(|l| l.max));
                (spoken(name), end::<Content>(min, max, side))
            }
        }
    }
}

fn day_number(day: Days) -> Measure {
    Measure::bare(day.get().floor())
}

/// "today", or "on day 4".
fn on_day(day: Days) -> Sentence {
    if day.get() < 1.0 { sentence!("today") } else { sentence!("on day {}", day_number(day)) }
}

/// The same at the beginning of a sentence.
fn start_on_day(day: Days) -> Sentence {
    if day.get() < 1.0 { sentence!("Today") } else { sentence!("On day {}", day_number(day)) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calculation::Calculation;
    use crate::quantity::UnitSystem;
    use serde_json::{Value, json};

    fn says(changed: impl FnOnce(&mut Value), system: UnitSystem) -> String {
        let mut document: Value = serde_json::from_str(Forecast::EXAMPLE).unwrap();
        document.as_object_mut().unwrap().retain(|name, _| name != "units" && name != "reference");
        changed(&mut document);
        let question: Forecast = serde_json::from_value(document).unwrap();
        let answer = question.calculate().unwrap().answer;
        question.statement(&answer).show(system)
    }

    fn without(members: &'static [&'static str]) -> impl FnOnce(&mut Value) {
        move |q| {
            for member in members {
                q.as_object_mut().unwrap().remove(*member);
            }
        }
    }

    #[test]
    fn it_says_when_to_go_there_and_why() {
        let (metric, us) = (UnitSystem::Metric, UnitSystem::Us);
        assert_eq!(
            says(|_| {}, metric),
            "Go there on day 4 to fill it up with 46 L of premix at 2.7 % by volume. On \
             day 52 hardness rises above 430 mg/L all the same."
        );
        assert_eq!(
            says(|_| {}, us),
            "Go there on day 4 to fill it up with 12.2 US gal of premix at 2.7 % by \
             volume. On day 52 hardness rises above 430 mg/L all the same."
        );
        assert_eq!(
            says(without(&["feeding"]), metric),
            "Go there on day 4: the concentration rises above 8.6 % by volume."
        );
        let quiet = |q: &mut Value| {
            without(&["feeding", "changes", "band", "limits", "levels"])(q);
            q["days"] = 20.into();
        };
        assert_eq!(
            says(quiet, metric),
            "Nobody has to go there until day 20: the sump stays within its limits."
        );
        let mixed = |q: &mut Value| {
            q["feeding"]["with"] = json!({ "kind": "water_and_concentrate" });
            q["measures_to"] = 0.5.into();
            q["limits"] = json!({});
        };
        assert_eq!(
            says(mixed, metric),
            "Go there on day 4 to fill it up with 2 L of concentrate stirred into 44 L \
             of water. On day 9 the concentration rises above 8.6 % by volume all the \
             same."
        );
        let lean = |q: &mut Value| q["sump"]["concentration"] = 6.into();
        assert_eq!(
            says(lean, metric),
            "Go there today: the concentration is below 6.5 % by volume."
        );
        let drained = |q: &mut Value| {
            q["feeding"]["first_day"] = 30.into();
            q["changes"] = json!([{ "day": 1, "removed": { "volume": 5.25 } }]);
            q["limits"] = json!({});
            q["band"] = json!(null);
        };
        assert_eq!(
            says(drained, metric),
            "Go there on day 1 to drain 5.3 L. On day 5 the level falls below 140 L all \
             the same."
        );
    }
}
