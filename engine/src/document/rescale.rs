//! The unit border: numbers rescaled by the units that the schema itself publishes.

use super::pointer::Pointer;
use super::shape::Shape;
use crate::quantity::{Row, UnitSystem};
use serde_json::Value;

/// A number outside the bounds of its kind.
#[derive(Debug, Clone, PartialEq)]
pub struct OutOfBounds {
    /// Where it stands.
    pub pointer: Pointer,
    /// Its kind.
    pub row: &'static Row,
    /// The number as the caller wrote it.
    pub given: f64,
}

impl Shape {
    /// Brings every number of `value`, written in `units`, into the engine's units, and
    /// says which are outside the exact bounds of their kind: so many of them at most.
    pub fn to_metric(&self, value: &mut Value, units: UnitSystem, most: usize) -> Vec<OutOfBounds> {
        self.across(value, units, Direction::In, most)
    }

    /// Brings every number of `value` from the engine's units into `units`.
    pub fn from_metric(&self, value: &mut Value, units: UnitSystem) {
        self.across(value, units, Direction::Out, usize::MAX);
    }

    fn across(
        &self,
        value: &mut Value,
        units: UnitSystem,
        direction: Direction,
        most: usize,
    ) -> Vec<OutOfBounds> {
        let mut border =
            Border { units, direction, most, pointer: Pointer::root(), out: Vec::new() };
        border.cross(self, value);
        border.out
    }
}

/// Which way numbers cross the unit border.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Direction {
    /// From the caller's units to the engine's, checking the exact bounds.
    In,
    /// From the engine's units to the caller's.
    Out,
}

struct Border {
    units: UnitSystem,
    direction: Direction,
    most: usize,
    pointer: Pointer,
    out: Vec<OutOfBounds>,
}

impl Border {
    fn cross(&mut self, shape: &Shape, value: &mut Value) {
        let Some(shape) = shape.fitting(value) else { return };
        match (shape, value) {
            (Shape::Number(Some(row)), Value::Number(number)) => {
                let Some(given) = number.as_f64() else { return };
                let scaled = match self.direction {
                    Direction::In => row.units.to_metric(given, self.units),
                    Direction::Out => row.units.from_metric(given, self.units),
                };
                if self.direction == Direction::In && !row.admits(scaled) {
                    let pointer = self.pointer.clone();
                    self.out.push(OutOfBounds { pointer, row, given });
                } else if !row.whole
                    && let Some(scaled) = serde_json::Number::from_f64(scaled)
                {
                    *number = scaled;
                }
            }
            (Shape::List(entry, _), Value::Array(entries)) => {
                for (place, value) in entries.iter_mut().enumerate() {
                    self.pointer.push_place(place);
                    self.inside(entry, value);
                }
            }
            (shape, Value::Object(members)) => {
                for (name, value) in members {
                    let Some(member) = shape.member(name) else { continue };
                    self.pointer.push(name);
                    self.inside(member, value);
                }
            }
            _ => {}
        }
    }

    fn inside(&mut self, shape: &Shape, value: &mut Value) {
        if self.out.len() < self.most {
            self.cross(shape, value);
        }
        self.pointer.pop();
    }
}

/// Whether numbers of two kinds cross the unit border by the same sum.
#[must_use]
pub fn rescale_alike(a: &Row, b: &Row) -> bool {
    a.units.scale == b.units.scale && a.units.zero == b.units.zero
}
