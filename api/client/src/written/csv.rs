//! The answers as a file of text, written like the one that was read: what is the caller's goes
//! out byte for byte, unless a spreadsheet would execute it.

use super::{Answered, Line};
use crate::sheet::{Notation, Row, Sheet};
use sumpwright_openapi::table::harmless;

/// A file of text.
pub(super) fn written(sheet: &Sheet, answered: &Answered) -> Vec<u8> {
    let notation = sheet.notation();
    let mut file = notation.before.clone();
    for Line { own, more, .. } in answered.lines(sheet) {
        if let Some(row) = own {
            let width = if more.is_empty() { row.cells.len() } else { sheet.headings.len() };
            write_own(row, width, &notation, &mut file);
        }
        for (column, text) in more.iter().enumerate() {
            if column > 0 || own.is_some() {
                file.push(notation.dialect.separator);
            }
            write_cell(text, &notation, &mut file);
        }
        file.extend_from_slice(notation.line_end.as_bytes());
    }
    file
}

/// The cells of a row that was read.
fn write_own(row: &Row, width: usize, notation: &Notation, file: &mut Vec<u8>) {
    let is_harmless = row.cells.iter().all(|cell| {
        let text = cell.text();
        harmless(&text).len() == text.len()
    });
    if row.cells.len() == width && is_harmless && !row.bytes.is_empty() {
        return file.extend_from_slice(&row.bytes);
    }
    for column in 0..width {
        if column > 0 {
            file.push(notation.dialect.separator);
        }
        let text = row.cells.get(column).map(|cell| cell.text());
        write_cell(&harmless(text.as_deref().unwrap_or_default()), notation, file);
    }
}

/// A cell, in quotation marks if it needs them (RFC 4180).
fn write_cell(text: &str, notation: &Notation, file: &mut Vec<u8>) {
    let encoded = notation.encoded(text);
    let separator = notation.dialect.separator;
    if !encoded.iter().any(|byte| *byte == separator || b"\"\r\n".contains(byte)) {
        return file.extend_from_slice(&encoded);
    }
    file.push(b'"');
    for byte in encoded.iter() {
        file.extend(std::iter::repeat_n(*byte, if *byte == b'"' { 2 } else { 1 }));
    }
    file.push(b'"');
}
