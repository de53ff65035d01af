//! Who goes with whom, so that all pairs together gain the most.
//!
//! Each row goes with one column at most and each column with one row, and nobody has to
//! go with anybody. Solved by shortest paths with a price on each row and column, which
//! prove the answer: no pair gains more than its two prices, and the prices together come
//! to what the pairs that were made gain. Source: the Hungarian method (Kuhn 1955) in the
//! form with potentials, from memory.

use crate::numerics::cut_off::look;

/// For each row the column that it goes with, where that gains anything.
#[must_use]
pub fn most_gained(gains: &[Vec<f64>]) -> Vec<Option<usize>> {
    let rows = gains.len();
    let columns = gains.first().map_or(0, Vec::len);
    // Going with nobody is going with a column that gains nothing.
    let size = rows + columns;
    let loss = |row: usize, column: usize| {
        let gain = gains.get(row).and_then(|row| row.get(column));
        -gain.copied().unwrap_or(0.0).max(0.0)
    };
    // Row and column 0 are those of nobody; all others count from 1.
    let (mut of_rows, mut of_columns) = (vec![0.0; rows + 1], vec![0.0; size + 1]);
    let mut goes_with = vec![0_usize; size + 1];
    for row in 1..=rows {
        look();
        let mut nearest = vec![f64::INFINITY; size + 1];
        let mut before = vec![0_usize; size + 1];
        let mut done = vec![false; size + 1];
        let mut column = 0;
        goes_with[0] = row;
        loop {
            done[column] = true;
            let own = goes_with[column];
            let (mut step, mut next) = (f64::INFINITY, 0);
            for other in (1..=size).filter(|other| !done[*other]) {
                let left = loss(own - 1, other - 1) - of_rows[own] - of_columns[other];
                if left < nearest[other] {
                    nearest[other] = left;
                    before[other] = column;
                }
                if nearest[other] < step {
                    step = nearest[other];
                    next = other;
                }
            }
            for other in 0..=size {
                if done[other] {
                    of_rows[goes_with[other]] += step;
                    of_columns[other] -= step;
                } else {
                    nearest[other] -= step;
                }
            }
            column = next;
            if goes_with[column] == 0 {
                break;
            }
        }
        while column != 0 {
            let earlier = before[column];
            goes_with[column] = goes_with[earlier];
            column = earlier;
        }
    }
    let mut found = vec![None; rows];
    for (column, row) in goes_with.iter().enumerate().skip(1).take(columns) {
        if *row > 0 && gains[*row - 1][column - 1] > 0.0 {
            found[*row - 1] = Some(column - 1);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The most that rows from `row` on gain with the columns left, by trying all.
    fn searched(gains: &[Vec<f64>], row: usize, taken: usize) -> f64 {
        let Some(own) = gains.get(row) else { return 0.0 };
        let alone = searched(gains, row + 1, taken);
        let free = own.iter().enumerate().filter(|(column, _)| taken >> column & 1 == 0);
        free.map(|(column, gain)| gain + searched(gains, row + 1, taken | 1 << column))
            .fold(alone, f64::max)
    }

    #[test]
    fn no_pairing_gains_more() {
        let mut seed = 11_u64;
        let mut draw = |below: u64| {
            seed = seed.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
            (seed >> 33) % below
        };
        for _ in 0..300 {
            let (rows, columns) = (1 + draw(5), 1 + draw(5));
            #[expect(clippy::cast_precision_loss, reason = "a few")]
            let gains: Vec<Vec<f64>> =
                (0..rows).map(|_| (0..columns).map(|_| draw(20) as f64 - 6.0).collect()).collect();
            let found = most_gained(&gains);
            let mut columns: Vec<usize> = found.iter().copied().flatten().collect();
            let gained: f64 =
                found.iter().zip(&gains).filter_map(|(column, row)| Some(row[(*column)?])).sum();
            assert_eq!(gained, searched(&gains, 0, 0), "{gains:?}");
            columns.sort_unstable();
            assert!(columns.windows(2).all(|pair| pair[0] < pair[1]), "{found:?}");
        }
    }
}
