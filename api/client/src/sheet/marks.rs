//! What the values of a sheet alone do not tell: which numbers are percentages, which formulas
//! have no value, and which cells are merged.

use super::letters;
use std::collections::{HashMap, HashSet};

/// A cell by row and column, counted from 0.
pub(super) type At = (usize, usize);

/// What is special about cells.
#[derive(Debug, Default)]
pub(super) struct Marks {
    /// Numbers shown as percentages: 6 % that contains 0.06.
    pub(super) percentages: HashSet<At>,
    /// Formulas of which the file has no value.
    pub(super) unstored: HashSet<At>,
    /// Formulas that came to nothing, where the reader of values does not say so.
    pub(super) errors: HashMap<At, String>,
    /// Merged cells, each by its first and its last.
    pub(super) merged: Vec<(At, At)>,
    /// The number of a cell's style in an Excel workbook, if it is not the first.
    pub(super) styles: HashMap<At, usize>,
}

impl Marks {
    /// The name of the cell that `at` is merged with, if that is not the first one itself.
    pub(super) fn merged_with(&self, at: At) -> Option<String> {
        let holds = |(first, last): &&(At, At)| {
            (first.0..=last.0).contains(&at.0) && (first.1..=last.1).contains(&at.1)
        };
        let (first, _) = self.merged.iter().find(holds).filter(|(first, _)| *first != at)?;
        Some(format!("{}{}", letters(first.1), first.0 + 1))
    }
}
