//! The make-up that holds a sump where it is: how strong, how much a day, and
//! what it does to the salts.
//!
//! *How strong must the premix be that I fill up with, so that the sump stays at
//! 8 %, and how long until the water's chloride is too much?*
//!
//! With e what evaporates, d what is carried off and b what is discharged on
//! purpose (L/day), k the depletion ratio, V the sump's volume (L), c the
//! concentration to hold, s₀ what it carries of a property at first, s_w what the
//! water carries of it and s_k what the concentrate does (mg/L; tramp oil in %):
//!
//! 1. make-up: m = e + d + b, of it concentrate K = (k·d + b)·c, and so
//!    c_m = K/m, which is k·d·c/(e + d) without a discharge
//! 2. what it brings: a = (m − K)·s_w + K·s_k
//! 3. the property: V·ds/dt = a − (d + b)·s, which settles at a/(d + b) and is at a
//!    limit l on day −V/(d + b)·ln((l − s∞)/(s₀ − s∞)); where nothing is carried
//!    off it never settles and rises by a/V a day
//! 4. cycles of concentration: (e + d + b)/(d + b)
//! 5. deionised water with s_i: a share f of the water with
//!    (1 − f)·s_w + f·s_i = (l·(d + b) − K·s_k)/(m − K) ends on l, and where s_k
//!    goes with the water = l·(d + b)/m
//! 6. discharge: b = ((e + d)·s_w + k·d·c·(s_k − s_w) − l·d)/(l − s_w − c·(s_k − s_w))
//!    ends on l, where l is above what the make-up itself carries
//! 7. a remedy keeps every limit, the least and the most of each property: each
//!    bounds f and b on one side by 5 and 6, and the least value within all bounds
//!    is the remedy. Where none is, the two bounds that exclude each other are named.
//!
//! Unless its own content is given, the concentrate is taken to bring as much as
//! the water that it takes the place of, s_k = s_w, and then a = m·s_w: the
//! property settles at s_w times the cycles, as handbooks have it. Concentrate that
//! brings nothing lowers that by the share c_m; give it as 0 to have it so.
//!
//! Assumes that the sump is fed all the time, or so often that its level hardly
//! falls, is well mixed, and that volumes add. Valid while what settles stays
//! dissolved, which hardness does not (the answer says so). Source: the cooling-tower balance, with the carry-off for windage
//! and the discharge for blow-down (UFC 3-240-13FN).

use crate::calculation::{Calculation, Outcome};
use crate::dynamics::MaterialDensities;
use crate::fluid::loss_rates::LossRates;
use crate::fluid::parts_of_water;
use crate::fluid::practice::{self, names_nitrite, read_with_pumps_off};
use crate::fluid::properties::{ByProperty, Limits, Name, Properties};
use crate::fluid::supply::{MakeUpWater, NeatConcentrate};
use crate::quantity::{Capacity, Concentration, Content, DailyRate, Days, Quantity, Ratio, Share};
use crate::text::{Assumption, Caution, Refusal};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

mod checks;
mod day;
mod findings;
mod rates;
mod remedies;
mod settling;

use rates::carried;
pub use settling::{ContentSettling, OilSettling};

/// A sump to be held where it is, and what it is filled up with.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MakeUp {
    /// The sump to hold.
    pub sump: HeldSump,
    /// What it loses in a day.
    pub losses: LossRates,
    /// Fluid discharged on purpose in a day, as it is; none when left out.
    pub discharge: Option<DailyRate>,
    /// The water that it is filled up with; it carries nothing when left out.
    pub water: Option<MakeUpWater>,
    /// The deionised water that could take the place of some of it; it carries
    /// nothing when left out.
    pub deionised: Option<MakeUpWater>,
    /// The concentrate, where what it carries is known.
    pub concentrate: Option<NeatConcentrate>,
    /// What the fluid may come to carry.
    #[serde(skip_serializing_if = "Limits::is_empty", default)]
    pub limits: Limits,
    /// What concentrate and tramp oil weigh; it matters to the masses of the
    /// balance alone.
    pub densities: Option<MaterialDensities>,
}

/// A sump to be held at its level and its strength.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct HeldSump {
    /// What it holds.
    #[schema(example = 180.0)]
    pub volume: Capacity,
    /// The concentration to hold.
    #[schema(example = 8.0)]
    pub concentration: Concentration,
    /// What it carries now; what the make-up carries when left out.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// Where each property ends.
pub type Settlings = ByProperty<OilSettling, ContentSettling>;

/// The make-up that holds a sump where it is.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MakeUpAnswer {
    /// How strong the make-up is; absent where nothing is lost and so nothing
    /// made up.
    pub concentration: Option<Concentration>,
    /// Parts of water to one part of concentrate; absent where it is plain water.
    #[schema(example = 30.25)]
    pub parts_of_water: Option<Ratio>,
    /// What is fed in a day.
    pub daily: DailyMakeUp,
    /// Cycles of concentration: how many times what the make-up carries the sump
    /// comes to carry. Absent where nothing is carried off or discharged, or
    /// hardly anything: it has no end then.
    pub cycles: Option<Ratio>,
    /// Where each property ends, and when it passes its limit.
    pub properties: Settlings,
    /// What would keep every property within its limits; absent when none comes to
    /// pass the most it may be. A finding names the limits that conflict where a
    /// remedy keeps not all of them.
    pub remedies: Option<Remedies>,
}

/// What is fed in a day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct DailyMakeUp {
    /// All of it.
    pub volume: DailyRate,
    /// Concentrate in it.
    pub concentrate: DailyRate,
    /// Water in it.
    pub water: DailyRate,
}

/// What would keep every property within all its limits, the least and the most: one
/// or the other.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Remedies {
    /// The share of the water that would have to be deionised; absent where no share
    /// keeps every limit.
    pub deionised_share: Option<Share>,
    /// What would have to be discharged in a day, in all; absent where no
    /// discharge keeps every limit, for one because the make-up itself carries too much.
    pub discharge: Option<DailyRate>,
    /// What would have to be fed in a day with that discharge.
    pub daily_with_discharge: Option<DailyMakeUp>,
}

impl Calculation for MakeUp {
    const NAME: &'static str = "make-up";
    const SUMMARY: &'static str = "The make-up that holds a sump at its strength, and where it \
                                   takes hardness, chloride and whatever else the water brings";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/make-up.json");
    const IS_QUICK: bool = true;
    type Answer = MakeUpAnswer;

    fn calculate(&self) -> Result<Outcome<MakeUpAnswer>, Refusal> {
        self.check()?;
        let rates = self.rates();
        let (m, out) = (rates.volume(), rates.out());
        let c_m = (m > 0.0).then(|| Concentration::of(rates.concentrate() / m * 100.0));
        let c_m = c_m.transpose()?;
        let followed = self.followed(&rates);
        let properties = settling::properties(&followed, &rates)?;
        self.check_room_for_oil(&followed)?;
        let found = remedies::remedies(&followed, &rates)?;
        let answer = MakeUpAnswer {
            concentration: c_m,
            parts_of_water: c_m.and_then(|c_m| parts_of_water(c_m.get())),
            daily: rates.daily()?,
            // What is beyond the greatest ratio there is has no end either.
            cycles: Ratio::of(m / out).ok(),
            remedies: found.remedies,
            properties,
        };
        let mut cautions = vec![Caution::MACHINE, Caution::SKIN_AND_MIST, Caution::BREATHING];
        if answer.concentration.is_some_and(|c_m| c_m.get() > 0.0) {
            cautions.push(Caution::CONCENTRATE);
        }
        if names_nitrite(followed.iter().map(|property| property.name.as_str())) {
            cautions.push(Caution::NITROSAMINES);
        }
        let discharges = answer.remedies.is_some_and(|remedies| remedies.discharge.is_some());
        if discharges || self.discharge.is_some_and(|rate| rate.get() > 0.0) {
            cautions.push(Caution::DRAINED_FLUID);
        }
        Ok(Outcome {
            findings: self.findings(&answer.properties, found.findings),
            balance: Some(self.balance_of_a_day(&followed, &rates)?),
            assumptions: self.assumptions(),
            answer,
            cautions,
        })
    }
}

impl MakeUp {
    fn assumptions(&self) -> Vec<Assumption> {
        let mut assumptions = vec![Assumption::new(
            "",
            "Volumes add: a mix takes up what its parts took up. The sump was taken to be well \
             mixed, and fed so often that its level hardly falls; the balance is that of the \
             first day.",
        )];
        assumptions.push(read_with_pumps_off("/sump/volume"));
        let mut note = |pointer: String, text: String| {
            assumptions.push(Assumption::new(pointer, text));
        };
        if self.losses.depletion_ratio.is_none() {
            let text = "What is carried off was taken to be fluid as it is.";
            note("/losses/depletion_ratio".to_owned(), text.to_owned());
        }
        for name in self.names() {
            if carried(&name, &self.sump.properties).is_none() {
                let text = format!("Taken to begin with what the make-up carries of {name}.");
                note(format!("/sump/properties/{name}"), text);
            }
            let water = self.water.as_ref().and_then(|w| carried(&name, &w.properties));
            if water.is_none() {
                note(format!("/water/properties/{name}"), format!("Taken to carry no {name}."));
            }
            let own = self.concentrate.as_ref().and_then(|k| carried(&name, &k.properties));
            if own.is_none() && water.is_some_and(|water| water > 0.0) {
                let text = format!(
                    "The concentrate was taken to bring as much {name} as the water it takes the \
                     place of."
                );
                note(format!("/concentrate/properties/{name}"), text);
            }
        }
        if self.deionised.is_none() && !self.limits.is_empty() {
            let text = "Deionised water was taken to carry nothing.";
            note("/deionised".to_owned(), text.to_owned());
        }
        let names = self.names();
        assumptions.extend(practice::of_hardness(names.iter().map(Name::as_str)));
        if self.densities.is_none_or(|densities| densities.concentrate.is_none()) {
            let template = "Concentrate was taken to weigh what water weighs at {}, {}.";
            assumptions.push(Assumption::like_water("/densities/concentrate", template));
        }
        assumptions
    }
}

/// Days to a limit, where they can be counted.
fn days(days: f64) -> Option<Days> {
    Days::of(days).ok()
}

/// A content, where a litre can hold so much.
fn content(content: f64) -> Option<Content> {
    Content::of(content).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn question(changed: impl FnOnce(&mut serde_json::Value)) -> MakeUp {
        let mut document: serde_json::Value = serde_json::from_str(MakeUp::EXAMPLE).unwrap();
        let members = document.as_object_mut().unwrap();
        members.retain(|name, _| name != "units" && name != "reference");
        changed(&mut document);
        serde_json::from_value(document).unwrap()
    }

    /// Each remedy, asked back as a question, ends on the limit it was asked for.
    #[test]
    fn a_remedy_ends_on_the_limit() {
        for own in [serde_json::Value::Null, serde_json::json!({ "properties": { "hardness": 9 } })]
        {
            let remedies = question(|q| q["concentrate"] = own.clone());
            let remedies = remedies.calculate().unwrap().answer.remedies.unwrap();
            let discharged = question(|q| {
                q["concentrate"] = own.clone();
                q["discharge"] = remedies.discharge.unwrap().get().into();
            });
            let share = remedies.deionised_share.unwrap().get() / 100.0;
            let deionised = question(|q| {
                q["concentrate"] = own.clone();
                q["water"]["properties"]["hardness"] = ((1.0 - share) * 214.0 + share * 3.0).into();
            });
            for mended in [discharged, deionised] {
                let answer = mended.calculate().unwrap().answer;
                let end = answer.properties.matter["hardness"].settles_at.unwrap();
                assert!((end.get() - 430.0).abs() < 1e-9, "{end:?}");
                assert_eq!(answer.remedies, None);
            }
        }
    }

    /// Nothing carried off: nothing settles, and the day is that of a straight line.
    #[test]
    fn without_carry_off_it_rises_for_ever() {
        let question = question(|q| q["losses"]["carry_off"] = 0.into());
        let answer = question.calculate().unwrap().answer;
        let hardness = answer.properties.matter["hardness"];
        assert_eq!((answer.cycles, hardness.settles_at), (None, None));
        let day = (430.0 - 310.0) * 180.0 / (4.6 * 214.0);
        assert!((hardness.passes_limit_day.unwrap().get() - day).abs() < 1e-10);
        assert_eq!(answer.concentration.unwrap().get(), 0.0);
    }

    #[test]
    fn where_nothing_is_lost_nothing_is_made_up() {
        let question = question(|q| {
            q["losses"]["carry_off"] = 0.into();
            q["losses"]["evaporation"] = 0.into();
        });
        let answer = question.calculate().unwrap().answer;
        assert_eq!((answer.concentration, answer.daily.volume.get()), (None, 0.0));
        assert_eq!(answer.properties.matter["hardness"].settles_at.unwrap().get(), 310.0);
    }
}
