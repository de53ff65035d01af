//! Disarms cells that a spreadsheet would execute.

use std::borrow::Cow;

/// Characters that begin a formula in some spreadsheet.
const BEGINS_A_FORMULA: [char; 10] =
    ['=', '+', '-', '@', '\t', '\r', '\u{FF1D}', '\u{FF0B}', '\u{FF0D}', '\u{FF20}'];

/// `text`, with an apostrophe before it if a spreadsheet would take it for a
/// formula. Signed numbers stay unchanged.
#[must_use]
pub fn harmless(text: &str) -> Cow<'_, str> {
    let begins = text.starts_with(BEGINS_A_FORMULA);
    if begins && !is_number(text) { Cow::Owned(format!("'{text}")) } else { Cow::Borrowed(text) }
}

/// A sign, then digits with at most one point or comma and an exponent.
fn is_number(text: &str) -> bool {
    let unsigned = text.trim().trim_start_matches(['+', '-']);
    unsigned.starts_with(|first: char| first.is_ascii_digit())
        && unsigned.replacen(',', ".", 1).parse::<f64>().is_ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formulas_are_disarmed_and_numbers_are_not() {
        for text in ["=cmd", "+A1", "-A1", "@SUM(A1)", "\tx", "-1+1", "＝1", "-inf"] {
            assert_eq!(harmless(text), format!("'{text}"));
        }
        for text in ["-5.2", "+5", "-5,2", "5=4", "", "a", "-1e-3"] {
            assert_eq!(harmless(text), text);
        }
    }
}
