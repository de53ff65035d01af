//! The answer in two sentences: the make-up, and the first limit that it breaks.

use super::{MakeUp, MakeUpAnswer, Remedies};
use crate::dynamics::BandSide;
use crate::fluid::properties::{TRAMP_OIL, spoken};
use crate::quantity::{Concentration, Content, Days, Measure, Quantity, Volume};
use crate::sentence;
use crate::text::Sentence;

impl MakeUp {
    pub(super) fn in_short(&self, answer: &MakeUpAnswer) -> Sentence {
        let a_day = if self.calendar.is_some() { "on each day of work" } else { "a day" };
        let make_up = make_up(answer, a_day);
        let Some(passing) = self.first_passing(answer) else {
            if self.limits.is_empty() {
                return make_up;
            }
            return sentence!("{} No limit is passed.", make_up);
        };
        if let Some(remedy) = answer.remedies.as_ref().and_then(|found| remedy(found, a_day)) {
            sentence!("{} {}: {}.", make_up, passing, remedy)
        } else {
            sentence!("{} {}.", make_up, passing)
        }
    }

    /// What is past its limit first, as a sentence without its full stop.
    fn first_passing(&self, answer: &MakeUpAnswer) -> Option<Sentence> {
        let properties = &answer.properties;
        let oil = properties.tramp_oil.iter().filter_map(|oil| {
            let limit = self.limits.tramp_oil.as_ref()?;
            let at = ends(limit.min, limit.max, oil.passes?)?;
            Some((oil.passes_limit_day?, oil.passes?, TRAMP_OIL, Concentration::roughly(at)))
        });
        let matter = properties.matter.iter().filter_map(|(name, end)| {
            let limit = self.limits.matter.get(name)?;
            let at = ends(limit.min, limit.max, end.passes?)?;
            Some((end.passes_limit_day?, end.passes?, name.as_str(), Content::roughly(at)))
        });
        let (day, side, name, at) =
            oil.chain(matter).min_by(|a, b| a.0.get().total_cmp(&b.0.get()))?;
        Some(passes(day, side, &spoken(name), at))
    }
}

fn make_up(answer: &MakeUpAnswer, a_day: &'static str) -> Sentence {
    let Some(c_m) = answer.concentration else {
        return sentence!("Nothing to fill up with: the sump loses nothing.");
    };
    let daily = Volume::measure_of(answer.daily.volume.get()).rounded(3);
    if c_m.get() == 0.0 {
        return sentence!("Fill up with plain water, {} {}.", daily, a_day);
    }
    match answer.parts_of_water {
        Some(parts) if parts.get() > 0.0 => sentence!(
            "Fill up with {} {} at {} (one part of concentrate to {} of water).",
            daily,
            a_day,
            c_m.roughly(),
            parts.roughly()
        ),
        _ => sentence!("Fill up with {} {} at {}.", daily, a_day, c_m.roughly()),
    }
}

/// The end of a limit on the side that is passed.
fn ends<Q>(min: Option<Q>, max: Option<Q>, side: BandSide) -> Option<Q> {
    match side {
        BandSide::Below => min,
        BandSide::Above => max,
    }
}

fn passes(day: Days, side: BandSide, name: &str, at: Measure) -> Sentence {
    let when = Measure::bare(day.get().floor());
    match (side, day.get() == 0.0) {
        (BandSide::Above, true) => sentence!("The sump is above {} of {} already", at, name),
        (BandSide::Below, true) => sentence!("The sump is below {} of {} already", at, name),
        (BandSide::Above, false) => {
            sentence!("The sump passes {} of {} on day {}", at, name, when)
        }
        (BandSide::Below, false) => {
            sentence!("The sump falls below {} of {} on day {}", at, name, when)
        }
    }
}

/// What keeps every limit, where something does.
fn remedy(remedies: &Remedies, a_day: &'static str) -> Option<Sentence> {
    let discharge = remedies.discharge.map(|rate| Volume::measure_of(rate.get()).rounded(3));
    let skimmed = remedies
        .skimmer_per_hour
        .map(|rate| sentence!("let a skimmer free {} of its oil, day and night", rate.roughly()));
    let water = match (remedies.deionised_share, discharge) {
        (Some(share), Some(discharge)) => Some(sentence!(
            "deionise {} of the water, or drain off {} {} in all",
            share.roughly(),
            discharge,
            a_day
        )),
        (Some(share), None) => Some(sentence!("deionise {} of the water", share.roughly())),
        (None, Some(discharge)) => Some(sentence!("drain off {} {} in all", discharge, a_day)),
        (None, None) => None,
    };
    match (skimmed, water) {
        (Some(skimmed), Some(water)) => Some(sentence!("{}; against the rest {}", skimmed, water)),
        (skimmed, water) => skimmed.or(water),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calculation::Calculation;
    use crate::quantity::UnitSystem;
    use serde_json::json;

    fn says(changed: impl FnOnce(&mut serde_json::Value), system: UnitSystem) -> String {
        let mut document: serde_json::Value = serde_json::from_str(MakeUp::EXAMPLE).unwrap();
        document.as_object_mut().unwrap().retain(|name, _| name != "units" && name != "reference");
        changed(&mut document);
        let question: MakeUp = serde_json::from_value(document).unwrap();
        let answer = question.calculate().unwrap().answer;
        question.statement(&answer).show(system)
    }

    #[test]
    fn it_says_what_to_fill_up_with_and_what_breaks_first() {
        assert_eq!(
            says(|_| {}, UnitSystem::Metric),
            "Fill up with 7.5 L a day at 3.33 % by volume (one part of concentrate to 29 \
             of water). The sump passes 430 mg/L of hardness on day 42: deionise 22.6 % \
             of the water, or drain off 1.66 L a day in all."
        );
        assert_eq!(
            says(|_| {}, UnitSystem::Us),
            "Fill up with 1.98 US gal a day at 3.33 % by volume (one part of concentrate \
             to 29 of water). The sump passes 430 mg/L of hardness on day 42: deionise \
             22.6 % of the water, or drain off 0.438 US gal a day in all."
        );
        let kept = |q: &mut serde_json::Value| q["limits"] = json!({ "hardness": { "max": 900 } });
        assert_eq!(
            says(kept, UnitSystem::Metric),
            "Fill up with 7.5 L a day at 3.33 % by volume (one part of concentrate to 29 \
             of water). No limit is passed."
        );
        let still = |q: &mut serde_json::Value| {
            q["losses"] = json!({ "evaporation": 0, "carry_off": 0 });
            q["limits"] = json!({ "hardness": { "min": 400 } });
        };
        assert_eq!(
            says(still, UnitSystem::Metric),
            "Nothing to fill up with: the sump loses nothing. The sump is below 400 mg/L \
             of hardness already."
        );
        let water = |q: &mut serde_json::Value| {
            q["losses"] = json!({ "evaporation": 3, "carry_off": 0 });
            q["limits"] = json!({});
        };
        assert_eq!(says(water, UnitSystem::Metric), "Fill up with plain water, 3 L a day.");
    }
}
