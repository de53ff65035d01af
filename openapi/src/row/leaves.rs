//! An answer written straight into the columns of a table, without a document
//! in between.

use serde::Serialize;
use std::fmt;
use std::io::Write as _;
use sumpwright_engine::document::{LeafSink, write_leaves};

/// The columns of an answer.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Columns {
    /// The places of the answer that have one.
    pub(crate) node: Node,
    /// Whether one lies outside `answer`, so that the whole record has to be written.
    pub(crate) of_record: bool,
    /// Whether one may hold words, so that sentences have to be made.
    pub(crate) of_words: bool,
    /// Whether nothing else is looked at: the caller chose them.
    pub(crate) chosen: bool,
}

/// A place in an answer, and the column for its value.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Node {
    members: Vec<(String, Node)>,
    column: Option<usize>,
    passed_over: bool,
}

impl Node {
    /// Assigns the value at `path` to a column.
    pub(crate) fn insert(&mut self, path: &str, column: usize) {
        let mut node = self;
        for step in path.split('.') {
            let place = node.members.iter().position(|(name, _)| name == step);
            let place = place.unwrap_or_else(|| {
                node.members.push((step.to_owned(), Self::default()));
                node.members.len() - 1
            });
            node = &mut node.members[place].1;
        }
        node.column = Some(column);
    }

    /// Skips a member on purpose, so that it does not count as left out.
    pub(crate) fn pass_over(&mut self, name: &str) {
        self.members.push((name.to_owned(), Self { passed_over: true, ..Self::default() }));
    }

    /// Skips those of `names` that have no column.
    pub(crate) fn pass_over_the_others(&mut self, names: &[&str]) {
        for name in names {
            if self.member(name).is_none() {
                self.pass_over(name);
            }
        }
    }

    /// The node of the member `name`, mutable.
    pub(crate) fn member_mut(&mut self, name: &str) -> Option<&mut Self> {
        self.members.iter_mut().find(|(own, _)| own == name).map(|(_, node)| node)
    }

    /// The node of the member `name`.
    #[must_use]
    pub(crate) fn member(&self, name: &str) -> Option<&Self> {
        self.members.iter().find(|(own, _)| own == name).map(|(_, node)| node)
    }
}

/// The cells of one row while its answer is written.
#[derive(Debug, Default)]
pub(crate) struct Leaves {
    written: Vec<u8>,
    spans: Vec<Option<Span>>,
    decimal_comma: bool,
    /// Number of values that have no column and were not skipped on purpose.
    pub(crate) left_out: usize,
}

#[derive(Debug, Clone, Copy)]
struct Span {
    from: usize,
    to: usize,
    is_text: bool,
}

impl Leaves {
    /// Prepares a row with this number of columns.
    pub(crate) fn clear(&mut self, columns: usize, decimal_comma: bool) {
        self.written.clear();
        self.spans.clear();
        self.spans.resize(columns, None);
        self.decimal_comma = decimal_comma;
        self.left_out = 0;
    }

    /// The cell of a column, and whether it is text rather than a number.
    #[must_use]
    pub(crate) fn cell(&self, column: usize) -> (&[u8], bool) {
        match self.spans[column] {
            Some(Span { from, to, is_text }) => (&self.written[from..to], is_text),
            None => (b"", false),
        }
    }

    /// Writes the leaves of `answer` that have a column.
    pub(crate) fn write(&mut self, answer: &impl Serialize, columns: &Columns) {
        let way = vec![Some(&columns.node)];
        write_leaves(answer, &mut Filler { way, leaves: self, chosen: columns.chosen });
    }
}

/// Writes each value that has a column into its cell.
struct Filler<'a> {
    /// The nodes from the root to the present place; absent if nothing below has a
    /// column.
    way: Vec<Option<&'a Node>>,
    leaves: &'a mut Leaves,
    /// Whether what has no column is passed over.
    chosen: bool,
}

impl<'a> Filler<'a> {
    fn node(&self) -> Option<&'a Node> {
        self.way.last().copied().flatten()
    }

    fn leaf(&mut self, is_text: bool, write: impl FnOnce(&mut Vec<u8>)) {
        let node = self.node();
        let Some(Node { column: Some(column), .. }) = node else {
            if node.is_none() {
                self.leaves.left_out += 1;
            }
            return;
        };
        let from = self.leaves.written.len();
        write(&mut self.leaves.written);
        let to = self.leaves.written.len();
        self.leaves.spans[*column] = Some(Span { from, to, is_text });
    }
}

impl LeafSink for Filler<'_> {
    fn enter(&mut self, name: &str) -> bool {
        let node = self.node().and_then(|node| node.member(name));
        let enters = node.map_or(!self.chosen, |node| !node.passed_over);
        if enters {
            self.way.push(node);
        }
        enters
    }

    fn leave(&mut self) {
        self.way.pop();
    }

    fn enter_entry(&mut self, place: usize) {
        let node = self.node().and_then(|node| {
            // Entries are usually complete and in order.
            let is = |(name, _): &&(String, Node)| name.parse() == Ok(place);
            let likely = node.members.get(place).filter(is);
            likely.or_else(|| node.members.iter().find(is)).map(|(_, node)| node)
        });
        self.way.push(node);
    }

    fn leave_entry(&mut self) {
        self.way.pop();
    }

    fn number(&mut self, number: f64) {
        let decimal_comma = self.leaves.decimal_comma;
        self.leaf(false, |out| {
            let from = out.len();
            let _ = serde_json::to_writer(&mut *out, &number);
            if decimal_comma && let Some(point) = memchr::memchr(b'.', &out[from..]) {
                out[from + point] = b',';
            }
        });
    }

    fn whole(&mut self, number: i128) {
        self.leaf(false, |out| drop(write!(out, "{number}")));
    }

    fn word(&mut self, word: &'static str) {
        self.text(word);
    }

    fn text(&mut self, text: &str) {
        self.leaf(true, |out| out.extend_from_slice(text.as_bytes()));
    }

    fn display(&mut self, text: &dyn fmt::Display) {
        self.leaf(true, |out| drop(write!(out, "{text}")));
    }

    fn truth(&mut self, truth: bool) {
        self.leaf(false, |out| drop(write!(out, "{truth}")));
    }
}
