//! The answer in two sentences: what the stage takes out, and what the cleaned fluid
//! carries.

use super::answer::{SeparatedProperty, SeparationAnswer};
use super::question::{SeparatingStage, Separation};
use crate::fluid::properties::{TRAMP_OIL, spoken};
use crate::quantity::{Quantity, Share};
use crate::sentence;
use crate::text::{Sentence, listed};

/// So many properties are named.
const NAMED: usize = 3;

impl Separation {
    pub(super) fn in_short(&self, answer: &SeparationAnswer) -> Sentence {
        let named = answer.separated.iter().take(NAMED);
        let by_membrane = matches!(self.separator.stage, SeparatingStage::Ultrafiltration(_));
        let shares = listed(named.map(|property| taken_out(property, by_membrane)));
        let taken = match &self.recirculation {
            _ if by_membrane => sentence!("The membrane holds back {}.", shares),
            Some(round) => {
                sentence!("In {} the stage takes out {}.", round.hours.roughly(), shares)
            }
            None => sentence!("One pass takes out {}.", shares),
        };
        let Some(cleaned) = &answer.cleaned else { return taken };
        let carried = answer.separated.iter().take(NAMED).filter_map(|property| {
            let name = property.property.as_str();
            let (content, measure) = if name == TRAMP_OIL {
                let oil = cleaned.properties.tramp_oil?;
                (oil.get(), oil.roughly())
            } else {
                let content = cleaned.properties.matter.get(name)?;
                (content.get(), content.roughly())
            };
            Some(if content == 0.0 {
                sentence!("no {}", spoken(name))
            } else {
                sentence!("{} of {}", measure, spoken(name))
            })
        });
        let carried: Vec<Sentence> = carried.collect();
        match (carried.is_empty(), by_membrane) {
            (true, _) => taken,
            (false, true) => {
                sentence!("{} What goes through still carries {}.", taken, listed(carried))
            }
            (false, false) => {
                sentence!("{} The cleaned fluid still carries {}.", taken, listed(carried))
            }
        }
    }
}

/// "93 % of the tramp oil (half of what is left is 25 µm or smaller)".
fn taken_out(property: &SeparatedProperty, by_membrane: bool) -> Sentence {
    let name = spoken(&property.property);
    let removed = property.removed_in_the_end.unwrap_or(property.removed);
    if removed.get() == 0.0 {
        return sentence!("none of the {}", name);
    }
    let share = share(removed);
    let left = property.left.as_ref().filter(|_| !by_membrane && removed.get() < 100.0);
    if let Some(left) = left {
        sentence!(
            "{} of the {} (half of what is left is {} or smaller)",
            share,
            name,
            left.d50.roughly()
        )
    } else {
        sentence!("{} of the {}", share, name)
    }
}

/// A share in three digits, which never rounds up to all of it.
fn share(share: Share) -> Sentence {
    /// The most that three digits can say beside all of it.
    const ALMOST_ALL: f64 = 99.9;
    /// Rounding of sizes that are added up.
    const ROUNDING: f64 = 1e-9;
    if share.get() > ALMOST_ALL && share.get() < 100.0 - ROUNDING {
        return sentence!("more than {}", Share::measure_of(ALMOST_ALL));
    }
    sentence!("{}", share.roughly())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calculation::Calculation;
    use crate::quantity::UnitSystem;
    use serde_json::{Value, json};

    fn says(changed: impl FnOnce(&mut Value), system: UnitSystem) -> String {
        let mut document: Value = serde_json::from_str(Separation::EXAMPLE).unwrap();
        document.as_object_mut().unwrap().retain(|name, _| name != "units" && name != "reference");
        changed(&mut document);
        let question: Separation = serde_json::from_value(document).unwrap();
        let answer = question.calculate().unwrap().answer;
        question.statement(&answer).show(system)
    }

    #[test]
    fn it_says_what_is_taken_out_and_what_is_left() {
        let metric = UnitSystem::Metric;
        assert_eq!(
            says(|_| {}, metric),
            "One pass takes out 85.4 % of the tramp oil (half of what is left is 23.8 µm \
             or smaller) and 70.2 % of the solids (half of what is left is 5 µm or \
             smaller). The cleaned fluid still carries 0.298 % by volume of tramp oil \
             and 106 mg/L of solids."
        );
        assert_eq!(
            says(|q| q["recirculation"] = json!({ "hours": 24 }), UnitSystem::Us),
            "In 24 h the stage takes out 98.9 % of the tramp oil (half of what is left \
             is 12.8 µm or smaller) and 92.1 % of the solids (half of what is left is 2 \
             µm or smaller). The cleaned fluid still carries 0.0221 % by volume of tramp \
             oil and 28.1 mg/L of solids."
        );
        let membrane = |q: &mut Value| {
            q["separator"]["stage"] = json!({
                "kind": "ultrafiltration", "volume_concentration_factor": 8,
                "rejections": [{ "property": "solids", "share": 90 }],
            });
        };
        assert_eq!(
            says(membrane, metric),
            "The membrane holds back 100 % of the tramp oil and 81.2 % of the solids. \
             What goes through still carries no tramp oil and 75.1 mg/L of solids."
        );
        let coalescer = |q: &mut Value| {
            q["separator"]["stage"] = json!({ "kind": "coalescer", "efficiency": 100 });
            q["feed"] = Value::Null;
        };
        assert_eq!(
            says(coalescer, metric),
            "One pass takes out 100 % of the tramp oil and none of the solids."
        );
    }
}
