//! What a group of sumps may not contradict itself in.

use crate::calculations::recycling::fluid_loop::SumpGroup;
use crate::fluid::properties::TRAMP_OIL;
use crate::quantity::{Concentration, DailyRate, Days, Quantity, Volume};
use crate::sentence;
use crate::text::{Faults, Sentence};

impl SumpGroup {
    /// Notes what nobody can work out of the group at place `i` of the list.
    pub(super) fn check_missing(&self, i: usize, faults: &mut Faults) {
        let mut add = |member: &str, detail: Sentence| {
            faults.add(format!("/groups/{i}/{member}"), detail);
        };
        if self.clean_out.is_none() && self.losses.carried_off() == 0.0 && !self.losses.is_silent()
        {
            let detail = sentence!(
                "Nothing ever leaves these sumps but water, so what comes in piles up without \
                 end. Give what is carried off, or when they are drained."
            );
            add("losses/carry_off", detail);
        }
        self.losses.note_missing(&|| format!("/groups/{i}/losses"), faults);
        let mut add = |member: &str, detail: Sentence| {
            faults.add(format!("/groups/{i}/{member}"), detail);
        };
        let silent = self.clean_out.as_ref();
        if silent.is_some_and(|c| c.every_days.is_none() && c.every_months.is_none()) {
            let detail = sentence!(
                "How often these sumps are drained is missing. Give every_days or every_months, \
                 or leave clean_out out where they never are."
            );
            add("clean_out/every_days", detail);
        }
        for (name, gain) in &self.gains.matter {
            if gain.amount.is_none() && gain.rise.is_none() {
                let detail = sentence!(
                    "How much {} the work brings is missing. Give its amount in a day, or by how \
                     much a day raises its content.",
                    name.as_str()
                );
                add(&format!("gains/{name}/amount"), detail);
            }
        }
    }

    /// Checks the group at place `i` of the list.
    pub(super) fn check(&self, i: usize, faults: &mut Faults) {
        let mut add = |member: &str, detail: Sentence| {
            faults.add(format!("/groups/{i}/{member}"), detail);
        };
        if self.count.is_some_and(|count| count.get() == 0.0) {
            add("count", sentence!("There are 0 of these sumps. Leave the group out."));
        }
        if let Some(clean_out) = &self.clean_out {
            if clean_out.every_days.is_some() && clean_out.every_months.is_some() {
                let detail = sentence!(
                    "How often these sumps are drained is given twice, in days and in months. \
                     Give one of them."
                );
                add("clean_out/every_months", detail);
            } else if let Some(days) = self.interval().filter(|days| *days < 1.0) {
                let detail = sentence!(
                    "A sump can be drained once a day at most, and {} is less than one day. What \
                     is discharged all day long belongs to carry_off.",
                    Days::measure_of(days)
                );
                let member = if clean_out.every_days.is_some() { "days" } else { "months" };
                add(&format!("clean_out/every_{member}"), detail);
            }
        }
        if self.residue() >= self.volume.get() {
            let residue = Volume::measure_of(self.residue());
            let detail = sentence!(
                "The residue of {} is all that the sump holds, {}: there is no fluid to drain.",
                residue,
                self.volume
            );
            add("clean_out/residue", detail);
        }
        for (name, gain) in &self.gains.matter {
            if gain.amount.is_some() && gain.rise.is_some() {
                let detail = sentence!(
                    "The {} that the work brings is given twice, as an amount and as a rise. Give \
                     one of them.",
                    name.as_str()
                );
                add(&format!("gains/{name}/rise"), detail);
            }
        }
        self.check_losses(&mut add);
        if let Some(now) = &self.carries_now {
            let filled = self.concentration.get() + now.tramp_oil.map_or(0.0, Quantity::get);
            if filled > 100.0 {
                let detail = sentence!(
                    "Concentrate and tramp oil together come to {} of the fluid, more than all of \
                     it.",
                    Concentration::measure_of(filled)
                );
                add(&format!("carries_now/{TRAMP_OIL}"), detail);
            }
        }
    }

    fn check_losses(&self, add: &mut impl FnMut(&str, Sentence)) {
        let (e, d) = (self.losses.evaporates(), self.losses.carried_off());
        let off = self.losses.depletion() * self.concentration.get();
        let l = self.oil_gained();
        if off > 100.0 {
            let detail = sentence!(
                "What is carried off would be {} concentrate, more than all of it. Lower the \
                 depletion ratio.",
                Concentration::measure_of(off)
            );
            add("losses/depletion_ratio", detail);
        } else if l + d * off / 100.0 > e + d {
            let detail = sentence!(
                "{} of tramp oil and {} of concentrate come in, more than the {} that the sump \
                 loses, so it would run over. Lower the oil that stays in the fluid by what is \
                 skimmed off.",
                DailyRate::measure_of(l),
                DailyRate::measure_of(d * off / 100.0),
                DailyRate::measure_of(e + d)
            );
            add(&format!("gains/{TRAMP_OIL}/amount"), detail);
        }
    }
}
