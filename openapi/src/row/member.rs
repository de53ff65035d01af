//! A column that is a member of the question, and the numbers in its cells: with a
//! decimal point or comma, in the unit of the heading.

use std::borrow::Cow;
use sumpwright_engine::quantity::{Row, UnitSystem};

/// A column that is a member of the question.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Member {
    /// Its path in the flat form.
    pub(crate) path: String,
    /// The system of units of its heading. Default: that of the row.
    pub(crate) units: Option<UnitSystem>,
    /// The kind of its values.
    pub(crate) kind: CellKind,
}

/// The kind of value in the cells of a column.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum CellKind {
    /// A number, with its quantity.
    Number(Option<&'static Row>),
    /// True or false.
    Truth,
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

    /// The fault of a number with a point in a table with decimal commas: 1.250 may be
    /// one thousand two hundred and fifty, or one and a quarter.
    pub(crate) fn grouped(&self, text: &str) -> Option<String> {
        let mut groups = text.trim().split('.');
        let first = groups.next().unwrap_or_default();
        let digits = |group: &str| group.bytes().all(|byte| byte.is_ascii_digit());
        let mut others = groups.peekable();
        let grouped = self.is_number()
            && others.peek().is_some()
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

    /// The text of a cell, converted to the flat form of a document in `units`.
    pub(crate) fn in_document<'t>(
        &self,
        text: &'t str,
        decimal_comma: bool,
        units: Option<UnitSystem>,
    ) -> Cow<'t, str> {
        let CellKind::Number(row) = self.kind else { return Cow::Borrowed(text) };
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
