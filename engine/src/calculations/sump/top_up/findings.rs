//! What whoever tops a sump up has to know first.

use super::answer::{TopUpAnswer, WeakMakeUp};
use super::job::Job;
use super::plan::TopUpPlan;
use super::{FilledVessel, TopUp};
use crate::fluid::{practice, stock};
use crate::quantity::{Concentration, Days, Quantity, Volume};
use crate::sentence;
use crate::text::{Finding, Sentence};

impl TopUp {
    /// `comes_to` is the strength that the amounts as they are measured out make.
    pub(super) fn findings(
        &self,
        job: &Job,
        plan: &TopUpPlan,
        answer: &TopUpAnswer,
        comes_to: Concentration,
    ) -> Vec<Finding> {
        let mut findings = Vec::new();
        if let FilledVessel::Sump = self.vessel() {
            findings.extend(self.unusual(job));
        }
        findings.extend(self.carried(answer));
        findings.extend(off_target(job, plan, comes_to));
        findings.extend(too_rich(answer, comes_to));
        findings.extend(overfull(job, plan));
        findings
    }

    /// What the fluid and the water carry that has to be seen to.
    fn carried(&self, answer: &TopUpAnswer) -> Vec<Finding> {
        let now = &self.sump.properties;
        let mut findings: Vec<Finding> = practice::nitrite_in(now, "/sump/properties").collect();
        if let Some(reading) = &self.sump.reading {
            let oil = now.tramp_oil;
            findings.extend(practice::tramp_oil_in_reading(reading, oil, "/sump/reading"));
        }
        findings.extend(stock::findings(self.stocks.as_deref().unwrap_or_default()));
        for (name, content) in &answer.after.properties.matter {
            findings.extend(practice::soft_water(name, *content, None, "/stocks"));
        }
        findings
    }

    /// A strength that no working sump has.
    fn unusual(&self, job: &Job) -> Option<Finding> {
        let pointer =
            if self.sump.reading.is_some() { "/sump/reading" } else { "/sump/concentration" };
        let now = Concentration::of(job.c_0).ok().filter(|_| job.v_0 > 0.0);
        let now = now.and_then(|c| practice::unusual_strength(c, pointer));
        // Water alone is what some sumps are filled with on purpose.
        let target = Some(self.target.concentration).filter(|c| c.get() > 0.0);
        let target = target.and_then(|c| practice::unusual_strength(c, "/target/concentration"));
        now.or(target)
    }
}

/// The target is missed: by how much, and what meeting it would take.
fn off_target(job: &Job, plan: &TopUpPlan, comes_to: Concentration) -> Option<Finding> {
    let more = Volume::measure_of(plan.would_take?).rounded(3);
    let (is, wanted) = (comes_to.roughly(), Concentration::measure_of(job.c_t).rounded(3));
    if job.is_in_band(plan.comes_to) {
        // Nothing to act on: it is within its band.
        let text = sentence!(
            "It comes to {} and not to {}: within its band, so none is drained for the rest.",
            is,
            wanted
        );
        return Some(Finding::note("in-band-off-target", "/target/concentration", text));
    }
    if plan.comes_to > job.c_t {
        return None;
    }
    let text = if plan.add <= 0.0 {
        sentence!(
            "It is full, so no more can be added: it stays at {}, and {} was asked for. That would \
             take draining {} first.",
            is,
            wanted,
            more
        )
    } else if plan.bounded {
        sentence!(
            "A premix of {} is as strong as one is poured into a sump. It brings this one to {}, \
             and {} was asked for. That would take draining {} first, to have room for more of the \
             premix. Neat concentrate is never poured into a sump.",
            Concentration::measure_of(job.strongest).rounded(3),
            is,
            wanted,
            more
        )
    } else {
        sentence!(
            "It comes to {}, and {} was asked for. That would take draining {} first.",
            is,
            wanted,
            more
        )
    };
    Some(Finding::watch("off-target", "/draining", text))
}

/// More is in it than was asked for, and it stays.
fn overfull(job: &Job, plan: &TopUpPlan) -> Option<Finding> {
    let kept = plan.holds > job.v_t;
    kept.then(|| {
        let text = sentence!(
            "It holds {}, more than the {} asked for. The fluid is in its band, so it is left in \
             and the level falls as the machine works.",
            Volume::measure_of(job.v_0).rounded(4),
            Volume::measure_of(job.v_t).rounded(4)
        );
        Finding::note("level-left-alone", "/target/volume", text)
    })
}

/// Fluid that is too strong is thinned by weak make-up, and none of it thrown away.
fn too_rich(answer: &TopUpAnswer, comes_to: Concentration) -> Option<Finding> {
    let weak = answer.weak_make_up.as_ref()?;
    let (is, with) = (comes_to.roughly(), weak.named());
    let text = match (weak.back_in_days, weak.at_most) {
        (Some(days), Some(at_most)) => sentence!(
            "It is too strong and stays at {} for now. Do not drain it: make up what it loses with \
             a premix weaker than {}. With {} it is back in {}. It is also good fluid for a lean \
             sump of the same product.",
            is,
            at_most.roughly(),
            with,
            Days::measure_of(days.get()).rounded(3)
        ),
        (None, Some(_)) => sentence!(
            "It is too strong and stays at {}, and make-up of {} does not bring it back: hardly any \
             fluid is carried off. Move some into a lean sump of the same product, and make up with \
             water.",
            is,
            with
        ),
        _ => sentence!(
            "It is too strong and stays at {} for now. Do not drain it: make up what it loses with \
             {} until it is back. It is also good fluid for a lean sump of the same product.",
            is,
            with
        ),
    };
    Some(Finding::watch("too-rich", "/sump", text))
}

impl WeakMakeUp {
    /// The make-up by name, within a sentence.
    pub(super) fn named(&self) -> Sentence {
        if self.concentration.get() > 0.0 {
            sentence!("{}", self.concentration.roughly())
        } else {
            sentence!("plain water")
        }
    }
}
