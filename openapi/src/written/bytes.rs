//! The bytes of a document, written on the walk through what it is made of.

use std::fmt;
use std::io::Write as _;
use sumpwright_engine::document::LeafSink;
use sumpwright_engine::numerics::cut_off::look;

use super::ANSWER_MOST;

/// JSON, as long as it is no longer than an answer may be.
pub(super) struct JsonBytes<'a> {
    bytes: &'a mut Vec<u8>,
    /// How many of them stood there before.
    before: usize,
    /// Whether the bytes are wanted, or only how many they are.
    kept: bool,
    /// How many there were that are not kept.
    counted: usize,
    /// Whether what comes next follows something in the same object or list.
    follows: bool,
    too_long: bool,
}

impl<'a> JsonBytes<'a> {
    /// Keeps what is written, after what stands there already.
    pub(super) fn after(bytes: &'a mut Vec<u8>) -> Self {
        let before = bytes.len();
        Self { bytes, before, kept: true, counted: 0, follows: false, too_long: false }
    }

    /// Counts what is written, in a place of its own.
    pub(super) fn counted(scratch: &'a mut Vec<u8>) -> Self {
        Self { kept: false, ..Self::after(scratch) }
    }

    /// Whether everything was written: nothing is left of what would be too long.
    pub(super) fn finish(self) -> bool {
        if self.too_long {
            self.bytes.truncate(self.before);
        }
        !self.too_long
    }

    fn comma(&mut self) {
        if self.follows {
            self.bytes.push(b',');
        }
    }

    /// What is looked after at every value.
    fn written(&mut self) {
        look();
        self.follows = true;
        let written = self.bytes.len() - self.before;
        self.too_long |= self.counted + written > ANSWER_MOST;
        if !self.kept || self.too_long {
            self.counted += written;
            self.bytes.truncate(self.before);
        }
    }

    fn open(&mut self, bracket: u8) {
        self.bytes.push(bracket);
        self.follows = false;
    }

    fn close(&mut self, bracket: u8) {
        self.bytes.push(bracket);
        self.written();
    }

    fn quoted(&mut self, text: &str) {
        self.bytes.push(b'"');
        escape(text, self.bytes);
        self.bytes.push(b'"');
    }

    /// Writes what cannot fail to be written into memory.
    fn json(&mut self, value: &(impl serde::Serialize + ?Sized)) {
        let _ = serde_json::to_writer(&mut *self.bytes, value);
        self.written();
    }
}

/// Writes a text without its quotation marks: as it is, where nothing in it has to be escaped.
fn escape(text: &str, bytes: &mut Vec<u8>) {
    // Looked at without a branch for each, many bytes at a time.
    let odd = |byte: u8| byte < b' ' || byte == b'"' || byte == b'\\';
    if text.bytes().fold(false, |any, byte| any | odd(byte)) {
        let quotation_mark = bytes.len();
        let _ = serde_json::to_writer(&mut *bytes, text);
        bytes.remove(quotation_mark);
        bytes.pop();
    } else {
        bytes.extend_from_slice(text.as_bytes());
    }
}

/// Text on its way into the bytes, piece by piece.
struct Escaped<'a>(&'a mut Vec<u8>);

impl fmt::Write for Escaped<'_> {
    fn write_str(&mut self, piece: &str) -> fmt::Result {
        escape(piece, self.0);
        Ok(())
    }
}

impl LeafSink for JsonBytes<'_> {
    fn open_members(&mut self) {
        self.open(b'{');
    }

    fn close_members(&mut self) {
        self.close(b'}');
    }

    fn enter(&mut self, name: &str) -> bool {
        if self.too_long {
            return false;
        }
        self.comma();
        self.quoted(name);
        self.bytes.push(b':');
        true
    }

    fn leave(&mut self) {}

    fn open_list(&mut self) {
        self.open(b'[');
    }

    fn close_list(&mut self, _: usize) {
        self.close(b']');
    }

    fn enter_entry(&mut self, _: usize) {
        self.comma();
    }

    fn leave_entry(&mut self) {}

    fn number(&mut self, number: f64) {
        self.json(&number);
    }

    fn whole(&mut self, number: i128) {
        let _ = write!(self.bytes, "{number}");
        self.written();
    }

    fn word(&mut self, word: &'static str) {
        self.text(word);
    }

    fn text(&mut self, text: &str) {
        self.quoted(text);
        self.written();
    }

    fn display(&mut self, text: &dyn fmt::Display) {
        self.bytes.push(b'"');
        let _ = fmt::write(&mut Escaped(self.bytes), format_args!("{text}"));
        self.bytes.push(b'"');
        self.written();
    }

    fn truth(&mut self, truth: bool) {
        self.json(&truth);
    }

    fn null(&mut self) {
        self.json(&());
    }
}
