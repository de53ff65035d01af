//! The notation of a table: its separator, its decimal mark, its encoding, and the
//! ends of its rows.
//!
//! A first line such as `sep=;`, by which some spreadsheets are told the separator, belongs to the
//! row of headings below it.

use super::refused::utf_16;
use crate::request::problem::Problem;
use crate::request::tree::BYTE_ORDER_MARK;
use memchr::{memchr2, memchr3_iter};
use std::borrow::Cow;
use std::io::{self, Read};

/// The notation of a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dialect {
    /// The separator between two cells.
    pub separator: u8,
    /// Whether numbers have a decimal comma.
    pub decimal_comma: bool,
    /// Whether the encoding is windows-1252 (Latin-1) instead of UTF-8.
    pub latin: bool,
}

/// Possible separators, the most likely first.
const SEPARATORS: [u8; 3] = [b',', b';', b'\t'];

impl Dialect {
    /// The dialect of a table whose first line is `headings`: the candidate that occurs
    /// most often there is the separator, unless a line above them names it.
    pub fn of(headings: &[u8], latin: bool) -> Result<Self, Problem> {
        if headings.starts_with(b"\xff\xfe") || headings.starts_with(b"\xfe\xff") {
            return Err(utf_16());
        }
        Ok(Self { separator: Self::separator_of(headings), decimal_comma: false, latin })
    }

    fn separator_of(headings: &[u8]) -> u8 {
        if let Some((separator, _)) = separator_line(headings) {
            return separator;
        }
        // In `Sump holds, L;Strength wanted` the comma is one of the words: what separates
        // cells seldom has a blank after it.
        let mut counts = [(0_usize, 0_usize); SEPARATORS.len()];
        let mut quoted = false;
        for (at, byte) in headings.iter().enumerate() {
            match SEPARATORS.iter().position(|separator| separator == byte) {
                _ if *byte == b'"' => quoted = !quoted,
                Some(i) if !quoted => {
                    counts[i].0 += usize::from(headings.get(at + 1) != Some(&b' '));
                    counts[i].1 += 1;
                }
                _ => {}
            }
        }
        let most = (0..SEPARATORS.len()).rev().max_by_key(|i| counts[*i]).unwrap_or(0);
        SEPARATORS[most]
    }

    /// The same table read as windows-1252, in which every byte is a character.
    #[must_use]
    pub fn in_latin(self) -> Self {
        Self { latin: true, ..self }
    }

    /// A reader of rows. Its positions include the empty line that it reads first.
    #[must_use]
    pub fn reader<'r>(&self, rows: &'r [u8]) -> csv::Reader<io::Chain<&'r [u8], &'r [u8]>> {
        csv::ReaderBuilder::new()
            .delimiter(self.separator)
            .has_headers(false)
            .flexible(true)
            .from_reader(BEFORE_ROWS.chain(rows))
    }

    /// A cell as text, if its bytes are text in this dialect.
    #[must_use]
    pub fn text<'a>(&self, cell: &'a [u8]) -> Option<Cow<'a, str>> {
        if self.latin && !cell.is_ascii() {
            let (text, _) = encoding_rs::WINDOWS_1252.decode_without_bom_handling(cell);
            return Some(text);
        }
        std::str::from_utf8(cell).ok().map(Cow::Borrowed)
    }
}

/// The row of headings itself, without a byte order mark or a line that names the separator
/// before it.
#[must_use]
pub fn row_of_headings(headings: &[u8]) -> &[u8] {
    let headings = headings.strip_prefix(BYTE_ORDER_MARK).unwrap_or(headings);
    separator_line(headings).map_or(headings, |(_, end)| &headings[end..])
}

/// The separator that a first line such as `sep=;` names, and where that line ends.
fn separator_line(table: &[u8]) -> Option<(u8, usize)> {
    let mark = if table.starts_with(BYTE_ORDER_MARK) { BYTE_ORDER_MARK.len() } else { 0 };
    let line = &table[mark..];
    let line = &line[..memchr2(b'\n', b'\r', line)?];
    let end = mark + line.len();
    let end = end + if is_cr_before_lf(&table[end..]) { 2 } else { 1 };
    let quoted = line.strip_prefix(b"\"").and_then(|line| line.strip_suffix(b"\""));
    let (named, rest) = quoted.unwrap_or(line).split_at_checked(b"sep=".len())?;
    let is_named = named.eq_ignore_ascii_case(b"sep=");
    match rest {
        [separator] if is_named && b",;\t|".contains(separator) => Some((*separator, end)),
        _ => None,
    }
}

/// An empty line, which is not a row, read before the rows: at the very beginning the
/// reader would drop a byte order mark, and where the beginning is depends on how the
/// table is cut.
pub(super) const BEFORE_ROWS: &[u8] = b"\n";

/// Finds the ends of rows in a stream of bytes, exactly as the reader of rows does: LF,
/// CR or both end a row, except inside quotation marks. A quotation mark opens a quoted
/// cell only at the beginning of the cell; elsewhere it is an ordinary character.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RowEnds {
    separators: [u8; SEPARATORS.len()],
    quoted: bool,
    /// The last byte examined.
    previous: u8,
    /// Whether that byte closed the quotation marks; another one right after it reopens them.
    closed: bool,
}

impl RowEnds {
    /// The ends of the rows below these headings, starting with the first row.
    #[must_use]
    pub fn below(headings: &[u8]) -> Self {
        let separator = Dialect::separator_of(headings);
        Self { separators: [separator; SEPARATORS.len()], ..Self::of_headings() }
    }

    fn of_headings() -> Self {
        Self { separators: SEPARATORS, quoted: false, previous: b'\n', closed: false }
    }

    /// The number of `bytes`, which continue where the last call stopped, that belong to
    /// whole rows, if a row ends among them.
    pub fn last(&mut self, bytes: &[u8]) -> Option<usize> {
        let mut last = None;
        self.visit(bytes, |end| {
            last = Some(end);
            true
        });
        last
    }

    /// The same of `most` rows at most, which are counted down.
    pub fn last_of(&mut self, bytes: &[u8], most: &mut usize) -> Option<usize> {
        let mut last = None;
        self.visit(bytes, |end| {
            let has_room = *most > 0;
            if has_room {
                last = Some(end);
                *most -= 1;
            }
            has_room
        });
        last
    }

    /// Calls `see` at the end of each row.
    pub(super) fn each(&mut self, bytes: &[u8], mut see: impl FnMut(usize)) {
        self.visit(bytes, |end| {
            see(end);
            true
        });
    }

    /// The number of `bytes` in so many rows above the headings, if those rows end among them.
    #[must_use]
    pub fn above(bytes: &[u8], rows: usize) -> Option<usize> {
        (0..rows).try_fold(0, |at, _| Some(at + Self::first(&bytes[at..])?))
    }

    /// The number of `bytes` in the row of headings, if the row ends among them.
    #[must_use]
    pub fn first(bytes: &[u8]) -> Option<usize> {
        let mark = if bytes.starts_with(BYTE_ORDER_MARK) { BYTE_ORDER_MARK.len() } else { 0 };
        let mark = separator_line(bytes).map_or(mark, |(_, end)| end);
        let mut first = None;
        Self::of_headings().visit(&bytes[mark..], |end| {
            first = Some(mark + end);
            false
        });
        first
    }

    /// Calls `see` at the end of each row until it returns false.
    fn visit(&mut self, bytes: &[u8], mut see: impl FnMut(usize) -> bool) {
        let Some(final_byte) = bytes.last() else { return };
        let mut closed_at = if self.closed { Some(0) } else { None };
        for at in memchr3_iter(b'"', b'\n', b'\r', bytes) {
            if bytes[at] == b'"' {
                if self.quoted {
                    self.quoted = false;
                    closed_at = Some(at + 1);
                } else {
                    let before = if at == 0 { self.previous } else { bytes[at - 1] };
                    let begins =
                        matches!(before, b'\n' | b'\r') || self.separators.contains(&before);
                    self.quoted = begins || closed_at == Some(at);
                }
            } else if !self.quoted && !is_cr_before_lf(&bytes[at..]) && !see(at + 1) {
                break;
            }
        }
        self.previous = *final_byte;
        self.closed = closed_at == Some(bytes.len());
    }

    /// Whether a quoted cell is still open.
    #[must_use]
    pub fn is_open(self) -> bool {
        self.quoted
    }
}

/// Whether the two bytes are one line end, CR LF. If they are separated, the LF alone
/// is an empty line, which is not a row.
fn is_cr_before_lf(bytes: &[u8]) -> bool {
    bytes.starts_with(b"\r\n")
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
        assert_eq!(separator("a, b, c\n"), b',');
        assert_eq!(separator("Sump holds, L;Aim for, %\n"), b';');
        assert_eq!(separator("sep=;\na,b\n"), b';');
    }

    #[test]
    fn a_line_that_names_the_separator_is_no_row() {
        for line in ["sep=;\n", "SEP=;\r\n", "\"sep=;\"\n", "\u{feff}sep=;\r"] {
            let table = format!("{line}a;b\n1;2\n");
            let first = RowEnds::first(table.as_bytes()).expect("it ends");
            assert_eq!(&table[first..], "1;2\n", "{line:?}");
            assert_eq!(row_of_headings(&table.as_bytes()[..first]), b"a;b\n", "{line:?}");
        }
        assert_eq!(RowEnds::first(b"sep=;\n"), None);
        assert_eq!(row_of_headings(b"sep=a\nb\n"), b"sep=a\nb\n");
        assert_eq!(RowEnds::above(b"Sumps\n\nx,y\n1,2\n", 2), Some(7));
        assert_eq!(RowEnds::above(b"Sumps\nx", 2), None);
    }

    #[test]
    fn a_line_end_inside_quotation_marks_ends_no_row() {
        let mut ends = RowEnds::below(b"x,y\n");
        assert_eq!(ends.last(b"a,\"b\nc"), None);
        assert!(ends.is_open());
        assert_eq!(ends.last(b"\"\nd"), Some(2));
        assert_eq!(RowEnds::first(b"\"a\n\",b\nc\n"), Some(7));
        assert_eq!(RowEnds::first(b"\"a\r\",b\rc\r"), Some(7));
        assert_eq!(RowEnds::first(b"a\r\nb\n"), Some(3));
        let (mut ends, mut most) = (RowEnds::below(b"x\n"), 3);
        assert_eq!((ends.last_of(b"1\n\"2\n\"\n", &mut most), most), (Some(7), 1));
        assert_eq!((ends.last_of(b"3\n4\n", &mut most), most), (Some(2), 0));
        assert_eq!((ends.last_of(b"5\n", &mut most), most), (None, 0));
    }

    /// The reader of rows is a library's, so that the two must be held together: on
    /// every text of five such letters.
    #[test]
    fn rows_end_where_the_reader_of_rows_ends_them() {
        const LETTERS: &[u8] = b"a\";\r\n";
        let headings = b"x;y\n";
        let dialect = Dialect::of(headings, false).expect("a table");
        let read = |bytes: &[u8]| -> Vec<csv::ByteRecord> {
            dialect.reader(bytes).into_byte_records().map(|row| row.expect("in memory")).collect()
        };
        for number in 0..LETTERS.len().pow(5) {
            let letter = |i| LETTERS[number / LETTERS.len().pow(i) % LETTERS.len()];
            let bytes: Vec<u8> = (0..5).map(letter).collect();
            let text = String::from_utf8_lossy(&bytes);
            let (mut ends, mut from, mut pieces) = (RowEnds::below(headings), 0, Vec::new());
            for at in 0..bytes.len() {
                if ends.last(&bytes[at..=at]).is_some() {
                    pieces.extend(read(&bytes[from..=at]));
                    from = at + 1;
                }
            }
            pieces.extend(read(&bytes[from..]));
            let whole = read(&bytes);
            assert_eq!(pieces, whole, "{text:?}");
            let mut at_once = RowEnds::below(headings);
            assert_eq!(at_once.last(&bytes), Some(from).filter(|end| *end > 0), "{text:?}");
            assert_eq!(at_once.is_open(), ends.is_open(), "{text:?}");
            let another = read(&[&bytes, &b"\na\n"[..]].concat()).len() > whole.len();
            assert_eq!(ends.is_open(), !another, "{text:?}");
        }
    }
}
