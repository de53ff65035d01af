//! Answers that give instructions step by step.

use sumpwright_engine::document::Shape;

/// Members of an answer that hold steps, the most likely first.
const STEPS: [&str; 2] = ["sheet", "steps"];

/// The member of a record's answer that holds steps, and the shape of a step.
/// Such an answer is also available as a job sheet for printing.
#[must_use]
pub fn steps_of(record: &Shape) -> Option<(&'static str, &Shape)> {
    let answer = record.member("answer")?;
    STEPS.iter().find_map(|name| match answer.member(name)? {
        Shape::List(step, _) => Some((*name, step.as_ref())),
        _ => None,
    })
}
