//! How a table is written: its separator, its decimal mark, its letters, and
//! where one row ends and the next begins.

use super::Refused;
use memchr::memchr2_iter;
use std::borrow::Cow;

/// How a table is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dialect {
    /// What stands between two cells.
    pub separator: u8,
    /// Whether decimals are written with a comma.
    pub decimal_comma: bool,
    /// Whether letters are those of windows-1252 (Latin-1) instead of UTF-8.
    pub latin: bool,
}

/// What may stand between two cells, the likelier first.
const SEPARATORS: [u8; 3] = [b',', b';', b'\t'];

impl Dialect {
    /// The dialect of a table whose first line is `headings`: what stands there
    /// most often between cells is the separator.
    pub fn of(headings: &[u8], latin: bool) -> Result<Self, Refused> {
        if headings.starts_with(b"\xff\xfe") || headings.starts_with(b"\xfe\xff") {
            return Err(Refused::not_understood(
                "The table is in UTF-16. Save it as CSV in UTF-8.",
            ));
        }
        let mut counts = [0_usize; SEPARATORS.len()];
        let mut quoted = false;
        for byte in headings {
            match SEPARATORS.iter().position(|separator| separator == byte) {
                _ if *byte == b'"' => quoted = !quoted,
                Some(i) if !quoted => counts[i] += 1,
                _ => {}
            }
        }
        let most = (0..SEPARATORS.len()).rev().max_by_key(|i| counts[*i]).unwrap_or(0);
        Ok(Self { separator: SEPARATORS[most], decimal_comma: false, latin })
    }

    /// The same table, taken for windows-1252: every byte of it is a letter.
    #[must_use]
    pub fn in_latin(self) -> Self {
        Self { latin: true, ..self }
    }

    /// Reads rows.
    #[must_use]
    pub fn reader<'r>(&self, rows: &'r [u8]) -> csv::Reader<&'r [u8]> {
        csv::ReaderBuilder::new()
            .delimiter(self.separator)
            .has_headers(false)
            .flexible(true)
            .from_reader(rows)
    }

    /// A cell as text; none where its bytes are no text of this dialect.
    #[must_use]
    pub fn text<'a>(&self, cell: &'a [u8]) -> Option<Cow<'a, str>> {
        if self.latin && !cell.is_ascii() {
            let (text, _) = encoding_rs::WINDOWS_1252.decode_without_bom_handling(cell);
            return Some(text);
        }
        std::str::from_utf8(cell).ok().map(Cow::Borrowed)
    }
}

/// The mark that some programs put before UTF-8.
pub const BYTE_ORDER_MARK: &[u8] = b"\xef\xbb\xbf";

/// Finds the ends of rows in a stream of bytes: a line end inside quotation
/// marks does not end a row.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct RowEnds {
    quoted: bool,
}

impl RowEnds {
    /// How many of `bytes`, which go on where the last call stopped, belong to
    /// whole rows; none when no row ends among them.
    pub fn last(&mut self, bytes: &[u8]) -> Option<usize> {
        let mut last = None;
        for at in memchr2_iter(b'"', b'\n', bytes) {
            if bytes[at] == b'"' {
                self.quoted = !self.quoted;
            } else if !self.quoted {
                last = Some(at + 1);
            }
        }
        last
    }

    /// How many of `bytes` the first row takes; none when it does not end there.
    #[must_use]
    pub fn first(bytes: &[u8]) -> Option<usize> {
        let mut quoted = false;
        memchr2_iter(b'"', b'\n', bytes)
            .find(|at| {
                if bytes[*at] == b'"' {
                    quoted = !quoted;
                    return false;
                }
                !quoted
            })
            .map(|at| at + 1)
    }

    /// Whether a quotation mark is still open.
    #[must_use]
    pub fn is_open(self) -> bool {
        self.quoted
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_separator_is_what_separates_and_not_what_is_quoted() {
        let separator =
            |line: &str| Dialect::of(line.as_bytes(), false).expect("a table").separator;
        assert_eq!(separator("a,b,c\n"), b',');
        assert_eq!(separator("a;b;\"c,d,e,f\"\n"), b';');
        assert_eq!(separator("a\tb\n"), b'\t');
        assert_eq!(separator("a\n"), b',');
    }

    #[test]
    fn a_line_end_inside_quotation_marks_ends_no_row() {
        let mut ends = RowEnds::default();
        assert_eq!(ends.last(b"a,\"b\nc"), None);
        assert!(ends.is_open());
        assert_eq!(ends.last(b"\"\nd"), Some(2));
        assert_eq!(RowEnds::first(b"\"a\n\",b\nc\n"), Some(7));
    }
}
