//! Numbers brought into the caller's units while they are written, by the shape of what is
//! written: the same that [`Shape::from_metric`] does to a tree.

use std::fmt;
use sumpwright_engine::document::{LeafSink, Shape};
use sumpwright_engine::quantity::UnitSystem;

/// Tells a sink everything that it is told, with numbers in other units.
pub(super) struct Rescaled<'a> {
    to: &'a mut dyn LeafSink,
    units: UnitSystem,
    /// The shapes from the root to the present place; none where anything may stand.
    way: Vec<Option<&'a Shape>>,
    /// The name of the member at the present place, where it tells a choice apart.
    tells_apart: bool,
}

impl<'a> Rescaled<'a> {
    pub(super) fn new(to: &'a mut dyn LeafSink, shape: &'a Shape, units: UnitSystem) -> Self {
        Self { to, units, way: vec![Some(shape)], tells_apart: false }
    }

    fn here(&self) -> Option<&'a Shape> {
        self.way.last().copied().flatten()
    }

    /// Of several shapes goes on with the one that is meant.
    fn narrow(&mut self, is_meant: impl Fn(&Shape) -> bool) {
        if let Some(Shape::Either(shapes)) = self.here()
            && let Some(here) = self.way.last_mut()
        {
            *here = shapes.iter().find(|shape| is_meant(shape));
        }
    }

    /// A word has been told: in the member that tells a choice apart it names the branch.
    fn told(&mut self, word: &str) {
        if !std::mem::take(&mut self.tells_apart) {
            return;
        }
        let place = self.way.len().checked_sub(2);
        if let Some(around) = place.and_then(|place| self.way.get_mut(place))
            && let Some(Shape::Choice { branches, .. }) = *around
        {
            *around = branches.get(word);
        }
    }
}

impl LeafSink for Rescaled<'_> {
    fn open_members(&mut self) {
        self.narrow(|shape| matches!(shape, Shape::Record(..) | Shape::Choice { .. }));
        self.to.open_members();
    }

    fn close_members(&mut self) {
        self.to.close_members();
    }

    fn enter(&mut self, name: &str) -> bool {
        let enters = self.to.enter(name);
        if enters {
            let here = self.here();
            self.tells_apart = matches!(here, Some(Shape::Choice { tag, .. }) if tag == name);
            self.way.push(here.and_then(|shape| shape.member(name)));
        }
        enters
    }

    fn leave(&mut self) {
        self.way.pop();
        self.to.leave();
    }

    fn open_list(&mut self) {
        self.narrow(|shape| matches!(shape, Shape::List(..)));
        self.to.open_list();
    }

    fn close_list(&mut self, entries: usize) {
        self.to.close_list(entries);
    }

    fn enter_entry(&mut self, place: usize) {
        self.way.push(match self.here() {
            Some(Shape::List(entry, _)) => Some(entry.as_ref()),
            _ => None,
        });
        self.to.enter_entry(place);
    }

    fn leave_entry(&mut self) {
        self.way.pop();
        self.to.leave_entry();
    }

    fn number(&mut self, number: f64) {
        self.narrow(|shape| matches!(shape, Shape::Number(_)));
        self.to.number(match self.here() {
            Some(Shape::Number(Some(row))) if !row.whole => {
                row.units.from_metric(number, self.units)
            }
            _ => number,
        });
    }

    fn whole(&mut self, number: i128) {
        self.narrow(|shape| matches!(shape, Shape::Number(_)));
        match self.here() {
            #[expect(clippy::cast_precision_loss, reason = "as JSON has it")]
            Some(Shape::Number(Some(row))) if !row.whole => self.number(number as f64),
            _ => self.to.whole(number),
        }
    }

    fn word(&mut self, word: &'static str) {
        self.told(word);
        self.to.word(word);
    }

    fn text(&mut self, text: &str) {
        self.told(text);
        self.to.text(text);
    }

    fn display(&mut self, text: &dyn fmt::Display) {
        self.to.display(text);
    }

    fn truth(&mut self, truth: bool) {
        self.to.truth(truth);
    }

    fn null(&mut self) {
        self.to.null();
    }
}
