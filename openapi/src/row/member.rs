//! A member of a question that a column holds, and numbers as its cells write them:
//! with a point or a comma, in the unit of the heading.

use std::borrow::Cow;
use sumpwright_engine::quantity::{Row, UnitSystem};

/// A column that is a member of the question.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Member {
    /// Its path in the flat form.
    pub(crate) path: String,
    /// The system of units its heading names; that of the row when it names none.
    pub(crate) units: Option<UnitSystem>,
    /// What it holds.
    pub(crate) kind: CellKind,
}

/// What the cells of a column are read as.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum CellKind {
    /// A number, and the kind of quantity it is.
    Number(Option<&'static Row>),
    /// True or false.
    Truth,
    /// Text, or one of a few words.
    Text,
}

/// A number's text with a point for its decimals.
pub(crate) fn plain_number(text: &str, decimal_comma: bool) -> Cow<'_, str> {
    let text = text.trim();
    // With both marks nobody can tell which of them groups thousands.
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

    /// Whether a cell writes a number's decimals with a comma.
    pub(crate) fn has_comma(&self, text: &str) -> bool {
        self.is_number() && text.contains(',') && plain_number(text, true).parse::<f64>().is_ok()
    }

    /// What is wrong with a number in a table with decimal commas: 1.250 may be a
    /// thousand and a quarter, or one and a quarter.
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
                "This table writes decimals with a comma, so {text:?} can be read in two ways. \
                 Write it without a point."
            )
        })
    }

    /// A cell's text as the flat form of a document in `units` has it.
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
