//! The content of a cell: how it is asked, how it is written, and what makes it useless.

use super::moment;
use calamine::Data;
use std::borrow::Cow;

/// The content of a cell.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// An empty cell.
    Blank,
    /// A number.
    Number(f64),
    /// A number shown as a percentage: 0.06 for 6 %.
    Percentage(f64),
    /// A date with its time, such as 2026-03-02 06:30:00.
    Moment(String),
    /// Anything else that a person typed.
    Text(String),
    /// A formula that came to nothing, such as #DIV/0!.
    Error(String),
    /// A formula of which the file has no value.
    Unstored,
    /// A cell that is empty because it is merged with the one of this name, such as D2.
    Merged(String),
}

/// Number of digits of a whole number that a float keeps.
const WHOLE_DIGITS: usize = 15;

/// The day of a time of day, which has none.
const NO_DAY: [&str; 2] = ["1899-12-30 ", "1899-12-31 "];

impl Cell {
    /// A cell of a CSV file, as it came.
    pub(super) fn of_text(text: &str) -> Self {
        if text.trim().is_empty() { Self::Blank } else { Self::Text(text.to_owned()) }
    }

    /// A cell of a CSV file as a workbook holds it: a number where its text is one, with a
    /// decimal comma if the table has `commas`.
    #[must_use]
    pub fn typed(text: &str, commas: bool) -> Self {
        // A text that would change as a number stays text: 007, or a whole number
        // with more digits than a float keeps.
        let number = |text: &str| {
            let whole = text.bytes().all(|byte| byte.is_ascii_digit());
            let found = serde_json::from_str::<f64>(text).ok();
            found.filter(|_| !whole || text.len() <= WHOLE_DIGITS)
        };
        let plain = text.trim();
        let plain = if commas { Cow::Owned(plain.replacen(',', ".", 1)) } else { plain.into() };
        match number(&plain) {
            Some(found) => Self::Number(found),
            None => Self::of_text(text),
        }
    }

    /// Whether nothing is in it.
    #[must_use]
    pub fn is_blank(&self) -> bool {
        matches!(self, Self::Blank | Self::Merged(_))
    }

    /// Its text in a file of text.
    #[must_use]
    pub fn text(&self) -> Cow<'_, str> {
        match self {
            Self::Blank | Self::Unstored | Self::Merged(_) => Cow::Borrowed(""),
            Self::Number(number) => Cow::Owned(number.to_string()),
            Self::Percentage(share) => Cow::Owned(format!("{}%", percent(*share))),
            Self::Moment(moment) => Cow::Borrowed(moment::shown(moment)),
            Self::Text(text) | Self::Error(text) => Cow::Borrowed(text),
        }
    }

    /// Why it cannot be the value of a member, and what to do.
    pub(crate) fn fault(&self, is_number: bool) -> Option<String> {
        match self {
            Self::Percentage(share) if is_number => {
                let shown = percent(*share);
                Some(format!(
                    "this cell is a percentage, which shows {shown}% and holds {share}. Format it \
                     as a number and type {shown}."
                ))
            }
            Self::Moment(moment) if is_number => {
                let day = moment::shown(moment);
                let typed = moment::day_and_month(moment);
                Some(format!(
                    "the spreadsheet made the date {day} of what was typed, {typed} perhaps. \
                     Format the cell as a number and type it again."
                ))
            }
            Self::Error(error) => {
                Some(format!("the formula in this cell comes to {error}. Correct the formula."))
            }
            Self::Unstored => Some(
                "the file has a formula here without its value. Open the file in a spreadsheet \
                 and save it once."
                    .to_owned(),
            ),
            Self::Merged(first) => Some(format!(
                "this cell is merged with {first} and empty. Separate the cells and fill in each."
            )),
            _ => None,
        }
    }
}

/// The number before the percent sign.
fn percent(share: f64) -> f64 {
    // In floating point, 100 × 0.07 is more than 7.
    (share * 1e12).round() / 1e10
}

impl From<&Data> for Cell {
    fn from(data: &Data) -> Self {
        match data {
            Data::Empty => Self::Blank,
            Data::Int(whole) => Self::Text(whole.to_string()),
            Data::Float(number) => Self::Number(*number),
            Data::String(text) => Self::of_text(text),
            Data::Error(error) => Self::Error(error.to_string()),
            Data::DateTimeIso(day) if !day.contains('T') => Self::Moment(format!("{day} 00:00:00")),
            // Dates; booleans as a person would write them.
            other => match calamine::DataType::as_datetime(other) {
                Some(moment) => {
                    let moment = moment.to_string();
                    let time = NO_DAY.iter().find_map(|day| moment.strip_prefix(day));
                    time.map_or_else(|| Self::Moment(moment.clone()), Self::of_text)
                }
                None => Self::Text(other.to_string()),
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use calamine::{ExcelDateTime, ExcelDateTimeType};

    #[test]
    fn a_text_is_a_number_where_nothing_is_lost() {
        assert_eq!(Cell::typed("4.80", false), Cell::Number(4.8));
        assert_eq!(Cell::typed("4,80", true), Cell::Number(4.8));
        for text in ["4,80", "007", "1234567890123456", "6%", "lathe"] {
            assert_eq!(Cell::typed(text, false), Cell::Text(text.to_owned()));
        }
        assert_eq!(Cell::typed(" ", true), Cell::Blank);
    }

    #[test]
    fn a_date_in_a_column_of_numbers_is_told() {
        for data in [
            Data::DateTimeIso("2026-01-04".to_owned()),
            Data::DateTimeIso("2026-01-04T00:00:00".to_owned()),
            Data::DateTime(ExcelDateTime::new(46_026.0, ExcelDateTimeType::DateTime, false)),
        ] {
            let cell = Cell::from(&data);
            assert_eq!(cell.text(), "2026-01-04");
            let fault = cell.fault(true).expect("it is no number");
            assert!(fault.contains("2026-01-04 of what was typed, 4.1 perhaps"), "{fault}");
            assert_eq!(cell.fault(false), None);
        }
        let time = ExcelDateTime::new(0.25, ExcelDateTimeType::DateTime, false);
        assert_eq!(Cell::from(&Data::DateTime(time)).text(), "06:00:00");
    }
}
