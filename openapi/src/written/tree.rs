//! A document as a tree, built on the walk through what it is made of.

use serde_json::{Map, Number, Value};
use std::fmt;
use sumpwright_engine::document::LeafSink;
use sumpwright_engine::numerics::cut_off::look;

/// The objects and lists that are not closed yet, the outermost first.
#[derive(Default)]
pub(super) struct JsonTree {
    open: Vec<Value>,
    /// The names of the members that are entered.
    names: Vec<String>,
    done: Value,
}

impl JsonTree {
    /// What was built.
    pub(super) fn finish(self) -> Value {
        self.done
    }

    fn value(&mut self, value: Value) {
        look();
        match self.open.last_mut() {
            None => self.done = value,
            Some(Value::Array(entries)) => entries.push(value),
            Some(Value::Object(members)) => {
                if let Some(name) = self.names.last() {
                    members.insert(name.clone(), value);
                }
            }
            Some(_) => {}
        }
    }

    fn close(&mut self) {
        let closed = self.open.pop().unwrap_or_default();
        self.value(closed);
    }
}

impl LeafSink for JsonTree {
    fn open_members(&mut self) {
        self.open.push(Value::Object(Map::new()));
    }

    fn close_members(&mut self) {
        self.close();
    }

    fn enter(&mut self, name: &str) -> bool {
        self.names.push(name.to_owned());
        true
    }

    fn leave(&mut self) {
        self.names.pop();
    }

    fn open_list(&mut self) {
        self.open.push(Value::Array(Vec::new()));
    }

    fn close_list(&mut self, _: usize) {
        self.close();
    }

    fn enter_entry(&mut self, _: usize) {}

    fn leave_entry(&mut self) {}

    fn number(&mut self, number: f64) {
        self.value(Number::from_f64(number).map_or(Value::Null, Value::Number));
    }

    fn whole(&mut self, number: i128) {
        let number = match (u64::try_from(number), i64::try_from(number)) {
            (Ok(whole), _) => Value::from(whole),
            (_, Ok(negative)) => Value::from(negative),
            _ => Value::Null,
        };
        self.value(number);
    }

    fn word(&mut self, word: &'static str) {
        self.value(word.into());
    }

    fn text(&mut self, text: &str) {
        self.value(text.into());
    }

    fn display(&mut self, text: &dyn fmt::Display) {
        self.value(text.to_string().into());
    }

    fn truth(&mut self, truth: bool) {
        self.value(truth.into());
    }

    fn null(&mut self) {
        self.value(Value::Null);
    }
}
