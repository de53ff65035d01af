//! Refuses names of properties that do not mix in a straight line.
//!
//! The schema restricts the characters of a name; the engine says which names stand
//! for something that does not mix. Every place that names a property is found by
//! its shape, so no calculation has to check its own.

use crate::request::problem::{FaultCode, Problem, RequestFault};
use serde_json::Value;
use sumpwright_engine::document::{Pointer, Shape};
use sumpwright_engine::fluid::properties::{TRAMP_OIL, why_it_does_not_mix};
use sumpwright_engine::quantity::UnitSystem;

/// Accepts a document if all its properties mix in a straight line.
pub(crate) fn check(document: &Value, shape: &Shape) -> Result<(), Problem> {
    let mut faults = Vec::new();
    look(document, shape, &Pointer::root(), &mut faults);
    if faults.is_empty() {
        return Ok(());
    }
    Err(Problem::with_faults(faults))
}

fn look(value: &Value, shape: &Shape, pointer: &Pointer, faults: &mut Vec<RequestFault>) {
    let Some(shape) = shape.fitting(value) else { return };
    match (shape, value) {
        (Shape::PropertyName, Value::String(name)) => {
            faults.extend(fault(name, pointer.clone()));
        }
        (Shape::List(entry, _), Value::Array(entries)) => {
            for (i, value) in entries.iter().enumerate() {
                look(value, entry, &pointer.join(&i.to_string()), faults);
            }
        }
        (shape, Value::Object(members)) => {
            let by_property = names_properties(shape);
            for (name, value) in members {
                let at = pointer.join(name);
                if by_property && let Some(fault) = fault(name, at.clone()) {
                    faults.push(fault);
                } else if let Some(member) = shape.member(name) {
                    look(value, member, &at, faults);
                }
            }
        }
        _ => {}
    }
}

/// Whether the members of an object here are properties.
fn names_properties(shape: &Shape) -> bool {
    let Shape::Record(members, Some(_)) = shape else { return false };
    members.iter().any(|member| member.name == TRAMP_OIL)
}

fn fault(name: &str, pointer: Pointer) -> Option<RequestFault> {
    let why = why_it_does_not_mix(name)?;
    Some(RequestFault::new(FaultCode::Inconsistent, pointer, why.show(UnitSystem::Metric)))
}
