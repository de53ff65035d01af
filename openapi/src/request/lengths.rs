//! Checks the lengths of a document's lists and maps before anything else reads
//! them.

use crate::request::problem::{FaultCode, RequestFault};
use serde_json::Value;
use std::collections::BTreeSet;
use sumpwright_engine::document::{Lengths, Pointer, Shape};
use sumpwright_engine::fluid::properties::{FOLLOWED_MOST, PROPERTIES_MOST, TRAMP_OIL};
use sumpwright_engine::text::FAULTS_LISTED;

/// The lists and maps of `document` that are too long; none of them is read.
pub(crate) fn too_long(document: &Value, shape: &Shape) -> Vec<RequestFault> {
    let (mut pointer, names) = (Pointer::root(), BTreeSet::from([TRAMP_OIL]));
    let mut measured = Measured { faults: Vec::new(), names, fluids: 0 };
    measured.measure(document, shape, &mut pointer);
    let Measured { mut faults, names, fluids } = measured;
    if names.len() > PROPERTIES_MOST {
        let detail = format!(
            "There are more than {PROPERTIES_MOST} properties, the maximum, tramp oil included. \
             Leave out those that do not matter."
        );
        faults.push(RequestFault::new(FaultCode::TooMany, "", detail));
    } else if names.len() * fluids > FOLLOWED_MOST {
        let detail = format!(
            "{fluids} fluids with {} properties each make more than {FOLLOWED_MOST} values, the \
             maximum. Send fewer fluids at a time, or leave out properties that do not matter.",
            names.len()
        );
        faults.push(RequestFault::new(FaultCode::TooMany, "", detail));
    }
    faults
}

struct Measured<'a> {
    faults: Vec<RequestFault>,
    /// The properties named, and always tramp oil.
    names: BTreeSet<&'a str>,
    /// Entries of lists whose entries may have properties.
    fluids: usize,
}

impl<'a> Measured<'a> {
    fn measure(&mut self, value: &'a Value, shape: &Shape, pointer: &mut Pointer) {
        if self.faults.len() > FAULTS_LISTED {
            return;
        }
        let Some(fitting) = shape.fitting(value) else { return };
        match (fitting, value) {
            (Shape::List(_, Lengths { most, .. }), Value::Array(entries))
                if entries.len() > *most =>
            {
                let detail = format!("This list is too long: the maximum is {most} entries.");
                self.faults.push(RequestFault::new(FaultCode::TooMany, pointer.clone(), detail));
            }
            (Shape::Record(_, Some(others)), Value::Object(members)) => {
                let most = others.most;
                if members.len() > most {
                    let detail = format!("There are too many members here: the maximum is {most}.");
                    return self.faults.push(RequestFault::new(
                        FaultCode::TooMany,
                        pointer.as_str(),
                        detail,
                    ));
                }
                if others.are_properties && self.names.len() <= PROPERTIES_MOST {
                    self.names.extend(members.keys().map(String::as_str));
                }
            }
            (Shape::List(entry, _), Value::Array(entries)) => {
                self.fluids += if entry.carries_properties() { entries.len() } else { 0 };
                for (place, value) in entries.iter().enumerate() {
                    self.inside(&place.to_string(), value, entry, pointer);
                }
            }
            (shape, Value::Object(members)) => {
                for (name, value) in members {
                    if let Some(shape) = shape.member(name) {
                        self.inside(name, value, shape, pointer);
                    }
                }
            }
            _ => {}
        }
    }

    fn inside(&mut self, step: &str, value: &'a Value, shape: &Shape, pointer: &mut Pointer) {
        pointer.push(step);
        self.measure(value, shape, pointer);
        pointer.pop();
    }
}
