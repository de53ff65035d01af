//! Whether recycler and tanks carry the plan.

use crate::calculations::recycling::recycler::RecyclerAnswer;
use crate::calculations::recycling::recycler::moment::moment;
use crate::quantity::{Hours, Quantity};
use crate::sentence;
use crate::text::{Finding, Sentence};

/// Where the plan fails, the worst first.
pub(super) fn findings(answer: &RecyclerAnswer) -> Vec<Finding> {
    let mut findings = Vec::new();
    if let Some(over) = answer.first_overflow {
        let text = sentence!(
            "The dirty tank runs over from {} on, by {} in all. {}",
            moment("day", over.day),
            over.volume.roughly(),
            enough_for_dirty(answer)
        );
        findings.push(Finding::act("dirty-tank-runs-over", "/tanks/dirty/capacity", text));
    }
    if let Some(short) = answer.first_shortage {
        let text = sentence!(
            "The clean tank has too little from {} on: {} is missing in all. {}",
            moment("day", short.day),
            short.volume.roughly(),
            enough_for_clean(answer)
        );
        findings.push(Finding::act("clean-tank-runs-short", "/tanks/clean/capacity", text));
    }
    if answer.has_too_few_hours() {
        let text = sentence!(
            "The recycler cannot keep up: all of the fluid takes {} of running, and it may \
                 run for {} in the plan. Let it run longer, or let less fluid come.",
            answer.hours.roughly(),
            Hours::measure_of(answer.hours.get() / answer.utilisation.get()).rounded(3)
        );
        findings.push(Finding::act("recycler-cannot-keep-up", "/hours_per_day", text));
    }
    findings
}

fn enough_for_dirty(answer: &RecyclerAnswer) -> Sentence {
    let tank = answer.smallest.dirty.roughly();
    let Some(throughput) = answer.smallest.throughput else {
        return sentence!("A dirty tank of about {} would hold it.", tank);
    };
    sentence!(
        "A dirty tank of about {} would hold it; or a recycler that takes about {} keeps both \
         tanks right.",
        tank,
        throughput.roughly()
    )
}

fn enough_for_clean(answer: &RecyclerAnswer) -> Sentence {
    match (answer.smallest.clean, answer.smallest.throughput) {
        (Some(tank), _) => sentence!(
            "A clean tank of about {} would do, where the dirty tank is large enough.",
            tank.roughly()
        ),
        (None, Some(throughput)) => sentence!(
            "A recycler that takes about {} keeps both tanks right.",
            throughput.roughly()
        ),
        (None, None) => sentence!("No clean tank is large enough: fetch less, or fetch it later."),
    }
}
