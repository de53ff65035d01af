//! What to make of internal rates of return that are not exactly one, and of a choice
//! that is close.

use super::{CostComparisonAnswer, CostSensitivity, WayCost};
use crate::quantity::{Count, Quantity};
use crate::sentence;
use crate::text::{Finding, Severity};

/// The findings about an answer, the worst first.
pub(super) fn findings(answer: &CostComparisonAnswer) -> Vec<Finding> {
    let close = answer.sensitivity.as_ref().and_then(choice_changes);
    let rates = answer.ways.iter().enumerate();
    let rates = rates.filter_map(|(place, way)| rate(place, way, &answer.baseline));
    let mut findings: Vec<Finding> = close.into_iter().chain(rates).collect();
    findings.sort_by_key(|finding| finding.severity);
    findings
}

fn choice_changes(sensitivity: &CostSensitivity) -> Option<Finding> {
    let turns = sensitivity.inputs.iter().filter(|input| {
        let other = input.cheapest_low.as_ref().or(input.cheapest_high.as_ref());
        other.is_some()
    });
    let mut turns = turns.peekable();
    let first = turns.peek()?.what.clone();
    let text = sentence!(
        "{} of the inputs, each off by {} alone, make another way than \"{}\" the cheapest, first \
         of all \"{}\". Make sure of these numbers before you choose.",
        Count::from_usize(turns.count()).ok()?,
        sensitivity.varied_by,
        &sensitivity.cheapest,
        first
    );
    Some(Finding::watch("choice-is-close", "/ways", text))
}

/// What to make of the internal rates of return of a way, where there is not exactly one.
fn rate(place: usize, way: &WayCost, baseline: &str) -> Option<Finding> {
    let against = way.against_baseline.as_ref()?;
    let rate = &against.internal_rate;
    let saves = || against.saves.iter().map(|saves| saves.get());
    let (gains, costs) = (saves().any(|saved| saved > 0.0), saves().any(|saved| saved < 0.0));
    let name = &way.name;
    let (severity, code, text) = if !rate.proven {
        (
            Severity::Watch,
            "internal-rates-not-proven",
            sentence!(
                "\"{}\": two of its internal rates of return lie too near each other to be told \
                 apart, or one lies beyond what can be written, so their number is not proven. \
                 Decide by the net present value.",
                name
            ),
        )
    } else if rate.rates.len() > 1 {
        (
            Severity::Watch,
            "several-internal-rates",
            sentence!(
                "\"{}\": the savings change sign more than once and there are several internal \
                 rates, so none of them is the return on the money. Decide by the net present \
                 value.",
                name
            ),
        )
    } else if let Some(only) = rate.rates.first() {
        if saves().find(|saved| *saved != 0.0).is_none_or(|first| first < 0.0) {
            return None;
        }
        (
            Severity::Note,
            "internal-rate-of-borrowing",
            sentence!(
                "\"{}\" saves first and costs later: its internal rate of {} is that of money \
                 borrowed, and it pays where money costs more than that.",
                name,
                *only
            ),
        )
    } else if !gains && !costs {
        (
            Severity::Note,
            "no-internal-rate",
            sentence!(
                "\"{}\" costs the same as \"{}\" in every year, so it has no internal rate of \
                 return.",
                name,
                baseline
            ),
        )
    } else if !costs {
        (
            Severity::Note,
            "no-internal-rate",
            sentence!(
                "\"{}\" costs no more than \"{}\" in any year, so it has no internal rate of \
                 return: it pays at any discount rate.",
                name,
                baseline
            ),
        )
    } else if !gains {
        (
            Severity::Note,
            "no-internal-rate",
            sentence!(
                "\"{}\" costs no less than \"{}\" in any year, so it has no internal rate of \
                 return: it pays at no discount rate.",
                name,
                baseline
            ),
        )
    } else {
        (
            Severity::Note,
            "no-internal-rate",
            sentence!(
                "\"{}\" has no internal rate of return: its net present value against \"{}\" never \
                 crosses zero.",
                name,
                baseline
            ),
        )
    };
    Some(Finding::new(severity, code, format!("/ways/{place}"), text))
}
