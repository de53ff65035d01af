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
//! 7. tramp oil x, in litres to a litre of the rest, of which l leaks in and a skimmer frees q litres
//!    a day: W·dx/dt = a + l − (d + b + q)·x, W the sump without its oil; it is x/(1 + x) of the whole
//! 8. a skimmer of q = (a + l)/x_l − (d + b) ends on the limit x_l
//! 9. a remedy keeps every limit, the least and the most of each property: each
//!    bounds f and b on one side by 5 and 6, and the least value within all bounds
//!    is the remedy. Where none is, the two bounds that exclude each other are named.
//!
//! With a working calendar a day is a day of work: the losses, the oil, the discharge and the
//! make-up are its own, and to e is added what evaporates on the days at rest that come to each day
//! of work, s·(365 − n)/n with n days of work in the year from day 0. The day on which a limit is
//! passed is 365/n times as far off as in days of work.
//!
//! Unless its own content is given, the concentrate is taken to bring as much as
//! the water that it takes the place of, s_k = s_w, and then a = m·s_w: the
//! property settles at s_w times the cycles, as handbooks have it. Concentrate that
//! brings nothing lowers that by the share c_m; give it as 0 to have it so.
//!
//! Assumes that the sump is fed all the time, or so often that its level hardly
//! falls, is well mixed, and that volumes add; oil goes off in proportion with the fluid, and its
//! leak raises the level until it settles. Valid while what settles stays
//! dissolved, which hardness does not (the answer says so). Source: the cooling-tower
//! balance, with the carry-off for windage and the discharge for blow-down (UFC
//! 3-240-13FN).

use crate::calculation::{Calculation, Outcome};
use crate::fluid::parts_of_water;
use crate::job_sheet::MakeSheet;
use crate::quantity::{Concentration, Quantity, Ratio};
use crate::text::{Refusal, Sentence, filed, said};

mod answer;
mod assumptions;
mod balance;
mod cautions;
mod checks;
mod findings;
mod job_sheet;
mod question;
mod rates;
mod remedies;
mod settling;
mod statement;

pub use answer::{
    ContentSettling, DailyMakeUp, MakeUpAnswer, OilSettling, PropertySettlings, Remedies,
};
pub use question::{HeldSump, MakeUp};

impl Calculation for MakeUp {
    const NAME: &'static str = "make-up";
    const SUMMARY: &'static str = "The make-up that holds a sump at its strength, and where it \
                                   takes hardness, chloride and whatever else the water brings";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/make-up.json");
    const IS_QUICK: bool = true;
    const SHEET: Option<MakeSheet<Self, MakeUpAnswer>> = Some(Self::job_sheet);
    type Answer = MakeUpAnswer;

    fn calculate(&self) -> Result<Outcome<MakeUpAnswer>, Refusal> {
        self.check()?;
        let rates = self.rates();
        let (m, out) = (rates.volume(), rates.out());
        let c_m = (m > 0.0).then(|| Concentration::of_fraction(rates.concentrate() / m));
        let c_m = c_m.transpose()?;
        let followed = self.followed(&rates);
        let properties = settling::settlings(&followed, &rates)?;
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
        Ok(Outcome {
            findings: said(|| self.findings(&answer.properties, found.conflicts)),
            balance: Some(self.balance_of_a_day(&followed, &rates)?),
            assumptions: filed(|| self.assumptions()),
            cautions: said(|| self.cautions(&answer, &followed)),
            answer,
        })
    }

    fn statement(&self, answer: &MakeUpAnswer) -> Sentence {
        self.in_short(answer)
    }
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
            let share = remedies.deionised_share.unwrap().fraction();
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
