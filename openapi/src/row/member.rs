//! A column that is a member of the question, and the numbers in its cells: with a
//! decimal point or comma, in the unit of the heading; its words, as people type them.

use super::words;
use std::borrow::Cow;
use sumpwright_engine::quantity::{Row, UnitSystem};
use sumpwright_engine::text::day_in_cell;

/// A column that is a member of the question.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Member {
    /// Its path in the flat form.
    pub(crate) path: String,
    /// The system of units of its heading. Default: that of the row.
    pub(crate) units: Option<UnitSystem>,
    /// The kind of its values.
    pub(crate) kind: CellKind,
    /// The words that there are, where it is one of a few.
    pub(crate) words: Vec<String>,
}

/// The kind of value in the cells of a column.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum CellKind {
    /// A number, with its quantity.
    Number(Option<&'static Row>),
    /// True or false.
    Truth,
    /// A day of the calendar, as a spreadsheet writes dates.
    Day,
    /// Text, or one of a few words.
    Text,
}

/// The text of a number, with a decimal point.
pub(crate) fn plain_number(text: &str, decimal_comma: bool) -> Cow<'_, str> {
    let text = text.trim();
    // With both marks, nobody can know which of them groups thousands.
    if decimal_comma && text.contains(',') && !text.contains('.') {
        Cow::Owned(text.replacen(',', ".", 1))
    } else {
        Cow::Borrowed(text)
    }
}

impl Member {
    fn is_number(&self) -> bool {
        matches!(self.kind, CellKind::Number(_))
    }

    /// Whether the number in a cell has a decimal comma.
    pub(crate) fn has_comma(&self, text: &str) -> bool {
        self.is_number() && text.contains(',') && plain_number(text, true).parse::<f64>().is_ok()
    }

    /// The fault of a cell that can be read in two ways.
    pub(crate) fn ambiguity(&self, text: &str, decimal_comma: bool) -> Option<String> {
        match self.kind {
            CellKind::Number(_) if decimal_comma => grouped(text),
            CellKind::Day => day_in_cell(text).err().map(|said| said.show(UnitSystem::Metric)),
            _ => None,
        }
    }

    /// Text that is one of a few words in the spelling of a document; any other as it is.
    pub(crate) fn word<'t>(&'t self, text: &'t str) -> &'t str {
        if self.words.is_empty() || self.words.iter().any(|word| word == text) {
            return text;
        }
        words::meant(text, self.words.iter().map(String::as_str)).unwrap_or(text)
    }

    /// The text of a cell, converted to the flat form of a document in `units`.
    pub(crate) fn in_document<'t>(
        &'t self,
        text: &'t str,
        decimal_comma: bool,
        units: Option<UnitSystem>,
    ) -> Cow<'t, str> {
        let row = match self.kind {
            CellKind::Number(row) => row,
            CellKind::Day => {
                return day_in_cell(text).ok().flatten().map_or(text.into(), Cow::Owned);
            }
            CellKind::Text => return self.word(text).into(),
            CellKind::Truth => return text.into(),
        };
        let text = plain_number(text, decimal_comma);
        match (row, self.units, units, text.parse::<f64>()) {
            (Some(row), Some(own), Some(units), Ok(given)) if own != units => {
                let metric = row.units.to_metric(given, own);
                Cow::Owned(row.units.from_metric(metric, units).to_string())
            }
            _ => text,
        }
    }
}

/// The fault of a number with a point in a table with decimal commas: 1.250 may be
/// one thousand two hundred and fifty, or one and a quarter.
fn grouped(text: &str) -> Option<String> {
    let mut groups = text.trim().split('.');
    let first = groups.next().unwrap_or_default();
    let digits = |group: &str| group.bytes().all(|byte| byte.is_ascii_digit());
    let mut others = groups.peekable();
    let grouped = others.peek().is_some()
        && (1..=3).contains(&first.len())
        && digits(first)
        && others.all(|group| group.len() == 3 && digits(group));
    grouped.then(|| {
        format!(
            "This table has decimal commas, so {text:?} can be read in two ways. \
             Write it without a point."
        )
    })
}
