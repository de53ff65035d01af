//! What an uncertain number may be: distributions, alone and correlated.
//!
//! A distribution is known by its estimate x, its standard uncertainty u and
//! its shape. It is drawn by its quantile: with p uniform on (0, 1) and Q the
//! quantile of the shape with mean 0 and standard deviation 1,
//!
//! 1. x + u·Q(p), with Q(p) = √3·(2p − 1) rectangular, and for a triangular one
//!    √6·(√(2p) − 1) up to p = ½ and √6·(1 − √(2(1 − p))) beyond it
//! 2. correlated: z = A·Φ⁻¹(p) with A·Aᵀ = R, and then Q(Φ(z))
//!
//! R holds the correlations of the normal scores. Between normal numbers they
//! are the correlations themselves; for other shapes the correlation comes out
//! a little nearer to nothing, by 0.02 at most between rectangular ones.
//!
//! Source: JCGM 101:2008, 6.4 and annex C; the second equation is the Gaussian
//! copula.

use nalgebra::{DMatrix, DVector, SymmetricEigen};
use serde::{Deserialize, Serialize};
use statrs::function::erf::{erf_inv, erfc};
use std::f64::consts::SQRT_2;
use utoipa::ToSchema;

/// The shape of a distribution.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum DistributionShape {
    /// The bell curve: what repeated readings and most certificates give.
    Normal,
    /// Anywhere within the half-width alike: a tolerance, or the resolution of a scale.
    Rectangular,
    /// Within the half-width, the middle likelier than the ends.
    Triangular,
}

/// Half of the interval that holds 95 % of a normal distribution, in standard
/// deviations.
pub const NORMAL_95: f64 = 1.959963984540054;

impl DistributionShape {
    /// Half-widths in a standard uncertainty; of a normal distribution the
    /// half-width is that of the interval that holds 95 % of it.
    #[must_use]
    pub fn half_widths_in_u(self) -> f64 {
        match self {
            Self::Normal => NORMAL_95,
            Self::Rectangular => 3_f64.sqrt(),
            Self::Triangular => 6_f64.sqrt(),
        }
    }

    /// The quantile at `p` of the distribution of mean 0 and standard deviation 1.
    #[must_use]
    pub fn quantile(self, p: f64) -> f64 {
        match self {
            Self::Normal => SQRT_2 * erf_inv(2.0 * p - 1.0),
            Self::Rectangular => 3_f64.sqrt() * (2.0 * p - 1.0),
            Self::Triangular if p <= 0.5 => 6_f64.sqrt() * ((2.0 * p).sqrt() - 1.0),
            Self::Triangular => 6_f64.sqrt() * (1.0 - (2.0 * (1.0 - p)).sqrt()),
        }
    }

    /// The value of this shape that a value of the normal distribution stands
    /// for.
    fn of_score(self, z: f64) -> f64 {
        match self {
            Self::Normal => z,
            _ => self.quantile(0.5 * erfc(-z / SQRT_2)),
        }
    }
}

/// An uncertain number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Distribution {
    /// Its estimate: mean and middle.
    pub estimate: f64,
    /// Its standard uncertainty.
    pub u: f64,
    /// Its shape.
    pub shape: DistributionShape,
}

/// Uncertain numbers and how they go together.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// Each by itself.
    pub inputs: Vec<Distribution>,
    /// Their correlations; none when there are none.
    pub correlation: Option<DMatrix<f64>>,
    mixing: Option<DMatrix<f64>>,
}

/// A correlation matrix has no eigenvalue below nothing; this much is rounding.
const ROUNDING: f64 = 1e-10;

impl Joint {
    /// Numbers that have nothing to do with each other.
    #[must_use]
    pub fn independent(inputs: Vec<Distribution>) -> Self {
        Self { inputs, correlation: None, mixing: None }
    }

    /// Numbers that go together by `correlation`; none when no numbers can go
    /// together so, because the matrix is not positive semi-definite.
    #[must_use]
    pub fn correlated(inputs: Vec<Distribution>, correlation: DMatrix<f64>) -> Option<Self> {
        let eigen = SymmetricEigen::new(correlation.clone());
        if eigen.eigenvalues.iter().any(|value| *value < -ROUNDING) {
            return None;
        }
        let root = eigen.eigenvalues.map(|value| value.max(0.0).sqrt());
        let mixing = &eigen.eigenvectors * DMatrix::from_diagonal(&root);
        Some(Self { inputs, correlation: Some(correlation), mixing: Some(mixing) })
    }

    /// How much two of them go together.
    #[must_use]
    pub fn correlation(&self, i: usize, j: usize) -> f64 {
        match &self.correlation {
            _ if i == j => 1.0,
            Some(correlation) => correlation[(i, j)],
            None => 0.0,
        }
    }

    /// Draws each number once, from a uniform number each, into `x`.
    pub fn draw(&self, uniform: &mut impl FnMut() -> f64, x: &mut Vec<f64>) {
        x.clear();
        let Some(mixing) = &self.mixing else {
            x.extend(self.inputs.iter().map(|d| d.estimate + d.u * d.shape.quantile(uniform())));
            return;
        };
        let scores = self.inputs.iter().map(|_| DistributionShape::Normal.quantile(uniform()));
        let scores = mixing * DVector::from_iterator(self.inputs.len(), scores);
        let values = self.inputs.iter().zip(scores.iter());
        x.extend(values.map(|(d, z)| d.estimate + d.u * d.shape.of_score(*z)));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_have_a_standard_deviation_of_one() {
        let n = 100_000;
        for shape in [
            DistributionShape::Normal,
            DistributionShape::Rectangular,
            DistributionShape::Triangular,
        ] {
            let square = |i: i32| shape.quantile((f64::from(i) + 0.5) / f64::from(n)).powi(2);
            let variance = (0..n).map(square).sum::<f64>() / f64::from(n);
            assert!((variance - 1.0).abs() < 2e-4, "{shape:?} has variance {variance}");
        }
        // Tables of the normal distribution: Φ(1.959964) = 0.975.
        assert!((DistributionShape::Normal.quantile(0.975) - NORMAL_95).abs() < 1e-12);
        assert!(
            (DistributionShape::Rectangular.of_score(NORMAL_95) - 0.95 * 3_f64.sqrt()).abs()
                < 1e-10
        );
    }

    #[test]
    fn numbers_cannot_go_together_just_anyhow() {
        let d = Distribution { estimate: 0.0, u: 1.0, shape: DistributionShape::Normal };
        let matrix = |a: f64, b: f64, c: f64| {
            DMatrix::from_row_slice(3, 3, &[1.0, a, b, a, 1.0, c, b, c, 1.0])
        };
        assert!(Joint::correlated(vec![d; 3], matrix(0.9, 0.9, -0.9)).is_none());
        assert!(Joint::correlated(vec![d; 3], matrix(1.0, 1.0, 1.0)).is_some());
    }
}
