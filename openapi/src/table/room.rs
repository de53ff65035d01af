//! How many rows of a table there is room for: each is answered in so many columns.

use super::state::Table;
use crate::request::problem::{FaultCode, Problem};

/// Values of the answer to one table at most, its rows times the columns of their answers.
pub const VALUES_MOST: usize = 1_000_000_000;

impl Table {
    /// How many rows there is room for.
    #[must_use]
    pub fn rows_most(&self) -> usize {
        rows_most(self.answers.paths.len())
    }

    /// The refusal of a table that has more.
    #[must_use]
    pub fn too_many_rows(&self) -> Problem {
        too_many_rows(self.answers.paths.len())
    }
}

fn rows_most(columns: usize) -> usize {
    VALUES_MOST / columns.max(1)
}

fn too_many_rows(columns: usize) -> Problem {
    let detail = format!(
        "A table whose rows are answered in {columns} columns can have {} rows, {VALUES_MOST} values in \
         all, and this one has more. Send it in parts, or name fewer columns with columns= in the query.",
        rows_most(columns)
    );
    Problem::of_whole(FaultCode::TooMany, detail)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_more_columns_the_fewer_rows() {
        assert_eq!(
            (rows_most(0), rows_most(9), rows_most(40_000)),
            (VALUES_MOST, 111_111_111, 25_000)
        );
        let problem = too_many_rows(40_000);
        assert_eq!(problem.status, 422);
        assert!(problem.detail.contains("40000 columns can have 25000 rows"), "{}", problem.detail);
    }
}
