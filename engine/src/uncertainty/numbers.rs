//! The numbers of an answer, taken out of it without writing it.
//!
//! The plain answer leaves a trace: the names and places in the order in which
//! they are written, and the JSON pointer of each number. An answer of the same
//! shape, which nearly every draw gives, is told by following the trace, and its
//! numbers then are those of the trace one by one. Of one of another shape the
//! numbers are matched by their keys. A key is the pointer with, for each list
//! on the way, its length and the words in the entry: entries of a list that has
//! grown, or that says something else, are other things at the same place.

use crate::document::{LeafSink, Pointer, write_leaves};
use serde::Serialize;
use std::collections::BTreeMap;

#[derive(Debug, PartialEq)]
enum Mark {
    Enter(String),
    Leave,
    CloseList(usize),
    Entry,
    LeaveEntry,
    Word(&'static str),
    Number,
}

/// The trace of an answer.
#[derive(Debug)]
pub(super) struct Trace {
    marks: Vec<Mark>,
    /// The pointer and value of each number.
    pub(super) numbers: Vec<(String, f64)>,
    places: BTreeMap<String, usize>,
}

impl Trace {
    /// The trace of `answer`, which lies at `pointer`.
    pub(super) fn of(answer: &impl Serialize, pointer: &str) -> Self {
        let marked = Marker::walk(answer, pointer);
        let places = marked.keys.into_iter().zip(0..).collect();
        Self { marks: marked.marks, numbers: marked.numbers, places }
    }

    /// Appends the numbers of another `answer` in the order of this one, NaN for
    /// those that it does not have.
    pub(super) fn follow(&self, answer: &impl Serialize, pointer: &str, numbers: &mut Vec<f64>) {
        let before = numbers.len();
        let trace = self.marks.iter();
        let mut follower = Follower { trace, in_lists: 0, follows: true, numbers };
        write_leaves(answer, &mut follower);
        if follower.follows && follower.trace.next().is_none() {
            return;
        }
        numbers.truncate(before);
        numbers.resize(before + self.numbers.len(), f64::NAN);
        let other = Marker::walk(answer, pointer);
        for (key, (_, number)) in other.keys.iter().zip(other.numbers) {
            if let Some(place) = self.places.get(key) {
                numbers[before + place] = number;
            }
        }
    }
}

/// Leaves a trace.
#[derive(Default)]
struct Marker {
    marks: Vec<Mark>,
    pointer: Pointer,
    numbers: Vec<(String, f64)>,
    /// One for each number.
    keys: Vec<String>,
    /// The first number of each entry on the way, and the words in it.
    entries: Vec<(usize, String)>,
}

impl Marker {
    fn walk(answer: &impl Serialize, pointer: &str) -> Self {
        let mut marker = Self { pointer: Pointer::from(pointer), ..Self::default() };
        write_leaves(answer, &mut marker);
        marker
    }

    /// Tells apart what now lies at the same pointer.
    fn tell_apart(&mut self, first: usize, by: &str) {
        for key in &mut self.keys[first..] {
            key.push_str(by);
        }
    }
}

impl LeafSink for Marker {
    fn enter(&mut self, name: &str) -> bool {
        self.marks.push(Mark::Enter(name.to_owned()));
        self.pointer.push(name);
        true
    }

    fn leave(&mut self) {
        self.marks.push(Mark::Leave);
        self.pointer.pop();
    }

    fn close_list(&mut self, entries: usize) {
        self.marks.push(Mark::CloseList(entries));
        let inside = format!("{}/", self.pointer);
        let of_list = self.numbers.iter().rev().take_while(|(path, _)| path.starts_with(&inside));
        let first = self.numbers.len() - of_list.count();
        self.tell_apart(first, &format!("#{entries}"));
    }

    fn enter_entry(&mut self, place: usize) {
        self.marks.push(Mark::Entry);
        self.pointer.push_place(place);
        self.entries.push((self.numbers.len(), String::new()));
    }

    fn leave_entry(&mut self) {
        self.marks.push(Mark::LeaveEntry);
        self.pointer.pop();
        if let Some((first, words)) = self.entries.pop() {
            self.tell_apart(first, &words);
        }
    }

    fn word(&mut self, word: &'static str) {
        if let Some((_, words)) = self.entries.last_mut() {
            self.marks.push(Mark::Word(word));
            words.push('#');
            words.push_str(word);
        }
    }

    fn number(&mut self, number: f64) {
        self.marks.push(Mark::Number);
        self.numbers.push((self.pointer.as_str().to_owned(), number));
        self.keys.push(self.pointer.as_str().to_owned());
    }
}

/// Follows a trace as long as it can.
struct Follower<'a> {
    trace: std::slice::Iter<'a, Mark>,
    in_lists: usize,
    follows: bool,
    numbers: &'a mut Vec<f64>,
}

impl Follower<'_> {
    fn expect(&mut self, is: impl Fn(&Mark) -> bool) {
        self.follows = self.follows && self.trace.next().is_some_and(is);
    }
}

impl LeafSink for Follower<'_> {
    fn enter(&mut self, name: &str) -> bool {
        self.expect(|mark| matches!(mark, Mark::Enter(own) if own == name));
        true
    }

    fn leave(&mut self) {
        self.expect(|mark| *mark == Mark::Leave);
    }

    fn close_list(&mut self, entries: usize) {
        self.expect(|mark| *mark == Mark::CloseList(entries));
    }

    fn enter_entry(&mut self, _: usize) {
        self.in_lists += 1;
        self.expect(|mark| *mark == Mark::Entry);
    }

    fn leave_entry(&mut self) {
        self.in_lists -= 1;
        self.expect(|mark| *mark == Mark::LeaveEntry);
    }

    fn word(&mut self, word: &'static str) {
        if self.in_lists > 0 {
            self.expect(|mark| matches!(mark, Mark::Word(own) if *own == word));
        }
    }

    fn number(&mut self, number: f64) {
        self.expect(|mark| *mark == Mark::Number);
        self.numbers.push(number);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::UnitSystem;
    use serde_json::{Value, json};

    #[test]
    fn numbers_are_those_of_the_written_answer() {
        let answer = json!({ "a": 1, "b": [{ "c/d": 2.5, "e": "x" }, { "c/d": -1.0 }], "f": null });
        let trace = Trace::of(&answer, "/answer");
        let expected = [("/answer/a", 1.0), ("/answer/b/0/c~1d", 2.5), ("/answer/b/1/c~1d", -1.0)];
        assert_eq!(trace.numbers, expected.map(|(pointer, number)| (pointer.to_owned(), number)));
        for (pointer, number) in &trace.numbers {
            let found = json!({ "answer": answer }).pointer(pointer).and_then(Value::as_f64);
            assert_eq!(found, Some(*number));
        }
    }

    #[test]
    fn an_answer_of_another_shape_is_matched_by_its_pointers() {
        let trace = Trace::of(&json!({ "a": 1, "b": [2, 3], "c": 4 }), "");
        let follow = |answer: Value| {
            let mut numbers = vec![9.0];
            trace.follow(&answer, "", &mut numbers);
            numbers
        };
        assert_eq!(follow(json!({ "a": 5, "b": [6, 7], "c": 8 })), [9.0, 5.0, 6.0, 7.0, 8.0]);
        let other = follow(json!({ "c": 8, "b": [6, 7], "d": 1 }));
        assert!(other[1].is_nan() && other.len() == 5);
        assert_eq!(other[2..], [6.0, 7.0, 8.0]);
        // What lies at the same place of a longer list is not the same thing.
        let longer = follow(json!({ "a": 5, "b": [6, 7, 0], "c": 8 }));
        assert!(longer[2].is_nan() && longer[3].is_nan());
        assert_eq!([longer[1], longer[4]], [5.0, 8.0]);
    }

    #[test]
    fn an_entry_that_says_something_else_is_another_thing() {
        #[derive(Serialize)]
        struct Line {
            word: UnitSystem,
            number: f64,
        }
        let line = |word, number| Line { word, number };
        let trace = Trace::of(&[line(UnitSystem::Metric, 1.0), line(UnitSystem::Us, 2.0)], "");
        let other = [line(UnitSystem::Metric, 3.0), line(UnitSystem::Metric, 4.0)];
        let mut numbers = Vec::new();
        trace.follow(&other, "", &mut numbers);
        assert_eq!(numbers[0], 3.0);
        assert!(numbers[1].is_nan());
    }
}
