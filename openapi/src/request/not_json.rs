//! Why a text is not JSON, in a sentence for whoever wrote it.

use serde_json::error::Category;

/// Why a document cannot be read at all: it is empty, or its letters are not UTF-8.
pub(super) fn why_empty_or_not_utf_8(bytes: &[u8]) -> Option<String> {
    if bytes.trim_ascii().is_empty() {
        let detail = "The document is empty. Send a JSON object; the example of the calculation is \
                      one that works.";
        return Some(detail.to_owned());
    }
    // A letter of UTF-16 that is ASCII has a zero byte, which no JSON has.
    let marked = bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff");
    if marked || bytes.iter().take(2).any(|byte| *byte == 0) {
        return Some("The document is in UTF-16. Save it as UTF-8.".to_owned());
    }
    let valid = std::str::from_utf8(bytes).err()?.valid_up_to();
    let before = &bytes[..valid];
    let line = 1 + memchr::memchr_iter(b'\n', before).count();
    let from = memchr::memrchr(b'\n', before).map_or(0, |end| end + 1);
    let column = 1 + String::from_utf8_lossy(&before[from..]).chars().count();
    Some(format!(
        "The document is not in UTF-8: line {line}, column {column} has a letter in another \
         encoding. Save it as UTF-8."
    ))
}

/// The bytes of the line at which reading stopped, and the place in it.
pub(super) fn stopped_at<'b>(bytes: &'b [u8], error: &serde_json::Error) -> (&'b [u8], usize) {
    let line = bytes.split(|byte| *byte == b'\n').nth(error.line().saturating_sub(1));
    let line = line.unwrap_or_default();
    (line, error.column().saturating_sub(1).min(line.len()))
}

/// Whether reading stopped because lists and objects lie deeper in each other than is read.
pub(super) fn lies_too_deep(error: &serde_json::Error) -> bool {
    error.to_string().starts_with("recursion limit exceeded")
}

/// Why reading stopped at a place.
pub(super) fn why_not_json(bytes: &[u8], error: &serde_json::Error) -> String {
    let (line, column) = (error.line(), error.column());
    if error.classify() == Category::Eof {
        return format!(
            "The document ends too soon, at line {line}, column {column}: a bracket or a quotation \
             mark is not closed."
        );
    }
    let (text, at) = stopped_at(bytes, error);
    if let Some(number) = with_decimal_comma(text, at) {
        return format!(
            "This is not JSON: see line {line}, column {column}. Is {} written with a decimal \
             comma? Write {number}.",
            number.replacen('.', ",", 1)
        );
    }
    let found = text[at..].utf8_chunks().next().and_then(|chunk| chunk.valid().chars().next());
    let found = found.map_or_else(String::new, |found| format!(" {found:?} is not allowed there."));
    format!("This is not JSON: see line {line}, column {column}.{found}")
}

/// The number, with a point, that has a decimal comma just before a place.
fn with_decimal_comma(line: &[u8], at: usize) -> Option<String> {
    let whole = line[..at].trim_ascii_end().strip_suffix(b",")?;
    let from = whole.iter().rposition(|byte| !byte.is_ascii_digit()).map_or(0, |i| i + 1);
    let from = if from > 0 && whole[from - 1] == b'-' { from - 1 } else { from };
    // Between entries of a list a comma has a blank after it, or is right as it stands.
    let touches = whole.len() + 1 == at && whole[from..].last().is_some_and(u8::is_ascii_digit);
    let decimals = line[at..].iter().take_while(|byte| byte.is_ascii_digit()).count();
    let number = [&whole[from..], b".", &line[at..at + decimals]].concat();
    String::from_utf8(number).ok().filter(|_| touches && decimals > 0)
}
