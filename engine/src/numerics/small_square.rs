//! Square matrices of a few rows, as a filter has them: up to five rows without memory of their own.
//!
//! With more rows products are those of the library, which is then the quicker.

use nalgebra::{DMatrix, DMatrixView};
use smallvec::{SmallVec, smallvec};
use std::ops::{Index, IndexMut};

/// So many rows need no memory of their own.
const FEW: usize = 5;

/// A few numbers.
pub(crate) type FewNumbers = SmallVec<[f64; FEW]>;

/// A square matrix.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct SmallSquare {
    rows: usize,
    /// Column after column.
    entries: SmallVec<[f64; FEW * FEW]>,
}

/// The sum of the products of two rows of numbers.
pub(crate) fn dot(a: &[f64], b: &[f64]) -> f64 {
    sum(a.iter().zip(b).map(|(a, b)| a * b))
}

/// From the first term on, so that nothing is added to it.
fn sum(terms: impl Iterator<Item = f64>) -> f64 {
    terms.reduce(|sum, term| term + sum).unwrap_or(0.0)
}

impl SmallSquare {
    /// Nothing but 0.
    pub(crate) fn zeros(rows: usize) -> Self {
        Self { rows, entries: smallvec![0.0; rows * rows] }
    }

    /// 1 along the diagonal.
    pub(crate) fn identity(rows: usize) -> Self {
        let mut identity = Self::zeros(rows);
        (0..rows).for_each(|place| identity[(place, place)] = 1.0);
        identity
    }

    /// The same as the library has it, which must be square.
    pub(crate) fn of(whole: &DMatrix<f64>) -> Self {
        Self { rows: whole.nrows(), entries: whole.as_slice().into() }
    }

    /// As the library has it.
    pub(crate) fn whole(&self) -> DMatrix<f64> {
        self.view().into_owned()
    }

    fn view(&self) -> DMatrixView<'_, f64> {
        DMatrixView::from_slice(&self.entries, self.rows, self.rows)
    }

    /// self·before.
    pub(crate) fn after(&self, before: &Self) -> Self {
        if self.rows > FEW {
            return Self::of(&(self.view() * before.view()));
        }
        self.product(before)
    }

    /// self·inner·selfᵀ.
    pub(crate) fn around(&self, inner: &Self) -> Self {
        if self.rows > FEW {
            return Self::of(&(self.view() * inner.view() * self.view().transpose()));
        }
        self.product(inner).product(&self.transposed())
    }

    /// Column by column, each term added to those before it.
    fn product(&self, right: &Self) -> Self {
        let mut product = Self::zeros(self.rows);
        let columns = product.entries.chunks_exact_mut(self.rows);
        for (column, by) in columns.zip(right.entries.chunks_exact(self.rows)) {
            for (k, (own, by)) in self.entries.chunks_exact(self.rows).zip(by).enumerate() {
                for (entry, own) in column.iter_mut().zip(own) {
                    *entry = if k == 0 { own * by } else { own * by + *entry };
                }
            }
        }
        product
    }

    fn transposed(&self) -> Self {
        let mut transposed = self.clone();
        transposed.change(|row, column, _| self[(column, row)]);
        transposed
    }

    /// self·column.
    pub(crate) fn times(&self, column: &[f64]) -> FewNumbers {
        (0..self.rows).map(|i| sum((0..self.rows).map(|k| self[(i, k)] * column[k]))).collect()
    }

    /// row·self.
    pub(crate) fn row_times(&self, row: &[f64]) -> FewNumbers {
        (0..self.rows).map(|j| sum((0..self.rows).map(|k| row[k] * self[(k, j)]))).collect()
    }

    /// Makes each entry, told by its row and its column, another.
    pub(crate) fn change(&mut self, to: impl Fn(usize, usize, f64) -> f64) {
        let columns = self.entries.chunks_exact_mut(self.rows);
        for (column, entries) in columns.enumerate() {
            for (row, entry) in entries.iter_mut().enumerate() {
                *entry = to(row, column, *entry);
            }
        }
    }

    /// Makes it symmetric, which rounding alone makes a covariance less than.
    pub(crate) fn even_out(&mut self) {
        for column in 0..self.rows {
            for row in 0..=column {
                let mean = (self[(row, column)] + self[(column, row)]) * 0.5;
                (self[(row, column)], self[(column, row)]) = (mean, mean);
            }
        }
    }

    /// Sets a row to 0.
    pub(crate) fn clear_row(&mut self, row: usize) {
        (0..self.rows).for_each(|column| self[(row, column)] = 0.0);
    }
}

impl Index<(usize, usize)> for SmallSquare {
    type Output = f64;

    fn index(&self, (row, column): (usize, usize)) -> &f64 {
        &self.entries[column * self.rows + row]
    }
}

impl IndexMut<(usize, usize)> for SmallSquare {
    fn index_mut(&mut self, (row, column): (usize, usize)) -> &mut f64 {
        &mut self.entries[column * self.rows + row]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{DVector, RowDVector};

    /// To the last bit, so that a log is followed alike however much is followed in it.
    #[test]
    fn products_are_those_of_the_library() {
        for rows in [1, 4, 5, 6, 9] {
            let drawn = |by: f64| {
                DMatrix::from_fn(rows, rows, |i, j| {
                    (1.0 + by * f64::from(u8::try_from(3 * i + 7 * j).expect("few"))).sin() / by
                })
            };
            let (a, b) = (drawn(0.7), drawn(1.3));
            let (small_a, small_b) = (SmallSquare::of(&a), SmallSquare::of(&b));
            assert_eq!(small_a.after(&small_b).whole(), &a * &b);
            assert_eq!(small_a.around(&small_b).whole(), &a * &b * a.transpose());
            let row: FewNumbers = a.row(0).iter().copied().collect();
            let library = RowDVector::from_row_slice(&row);
            assert_eq!(small_b.row_times(&row).as_slice(), (&library * &b).as_slice());
            let column = DVector::from_column_slice(&row);
            assert_eq!(small_b.times(&row).as_slice(), (&b * &column).as_slice());
            assert_eq!(dot(&row, &small_b.times(&row)), (&library * (&b * &column))[0]);
            let mut even = small_a.clone();
            even.even_out();
            assert_eq!(even.whole(), (&a + a.transpose()) * 0.5);
        }
    }
}
