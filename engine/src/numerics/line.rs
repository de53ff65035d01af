//! A straight line through points, and what it says of points to come.
//!
//! 1. y = a + b·x through n points, or y = b·x; x̄, ȳ their means (nothing for a
//!    line through the origin), S = Σ(x − x̄)²
//! 2. s² = Σ(y − a − b·x)²/ν, with ν = n − 2 or n − 1: the scatter of one y
//! 3. u(b)² = s²/S, u(a)² = s²·(1/n + x̄²/S), cov(a, b) = −s²·x̄/S
//! 4. leverage hᵢ = 1/n + (xᵢ − x̄)²/S, without 1/n through the origin; residual
//!    studentised from without: eᵢ/(s₍ᵢ₎·√(1 − hᵢ)), s₍ᵢ₎ from all points but i
//! 5. the x that a future y₀, the mean of m, stands for, at confidence 95 %: all
//!    x for which (y₀ − a − b·x)² ≤ t²·s²·(1/m + 1/n + (x − x̄)²/S), t of ν
//!    (Fieller). It is bounded where b differs from nothing by more than t·u(b).
//! 6. F = (R₀ − R)/s², of 1 and ν, with R₀ and R the sums of squares left by a line
//!    through the origin and by one with an offset
//!
//! Assumes that x is known and that every y scatters alike and normally.
//! Source: JCGM 100:2008, H.3; Draper and Smith, Applied Regression Analysis, for
//! 4 to 6 (from memory).

use super::least_squares::{self, Unfit};
use nalgebra::{DMatrix, DVector};
use statrs::distribution::{Continuous, ContinuousCDF, FisherSnedecor, StudentsT};

/// Where a line goes through.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Through {
    /// The origin.
    Origin,
    /// Wherever the points put it.
    Offset,
}

/// A fitted line.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// b.
    pub slope: f64,
    /// a; nothing through the origin.
    pub offset: f64,
    /// What is left of each point.
    pub residuals: Vec<f64>,
    /// ν.
    pub degrees_of_freedom: usize,
    /// Sum of the squares of the residuals.
    pub left: f64,
    x: Vec<f64>,
    x_mean: f64,
    /// S.
    spread: f64,
    /// 1/n, or nothing through the origin.
    of_mean: f64,
}

impl Line {
    /// Fits a line, or says why there is none.
    #[expect(clippy::cast_precision_loss, reason = "far fewer points than 2^52")]
    pub fn fit(x: &[f64], y: &[f64], through: Through) -> Result<Self, Unfit> {
        let n = x.len();
        let (x_mean, of_mean) = match through {
            Through::Origin => (0.0, 0.0),
            Through::Offset => (x.iter().sum::<f64>() / n as f64, 1.0 / n as f64),
        };
        // About the mean the two unknowns have nothing to do with each other.
        let design = match through {
            Through::Origin => DMatrix::from_column_slice(n, 1, x),
            Through::Offset => DMatrix::from_fn(n, 2, |i, j| [x[i] - x_mean, 1.0][j]),
        };
        let ones = DVector::from_element(n, 1.0);
        let fit = least_squares::fit(&design, &DVector::from_column_slice(y), &ones)?;
        let slope = fit.parameters[0];
        let middle = fit.parameters.get(1).copied().unwrap_or(0.0);
        Ok(Self {
            slope,
            offset: middle - slope * x_mean,
            residuals: fit.residuals.iter().copied().collect(),
            degrees_of_freedom: fit.degrees_of_freedom,
            left: fit.chi_squared,
            x: x.to_vec(),
            x_mean,
            spread: x.iter().map(|x| (x - x_mean).powi(2)).sum(),
            of_mean,
        })
    }

    /// s; none when no point is left over.
    #[must_use]
    pub fn scatter(&self) -> Option<f64> {
        let degrees = self.degrees()?;
        Some((self.left / degrees).sqrt())
    }

    /// u(b).
    #[must_use]
    pub fn u_slope(&self) -> Option<f64> {
        Some(self.scatter()? / self.spread.sqrt())
    }

    /// u(a).
    #[must_use]
    pub fn u_offset(&self) -> Option<f64> {
        Some(self.scatter()? * self.near(0.0).sqrt())
    }

    /// The correlation of a and b; none through the origin.
    #[must_use]
    pub fn correlation(&self) -> Option<f64> {
        (self.of_mean > 0.0).then(|| -self.x_mean / (self.spread * self.near(0.0)).sqrt())
    }

    /// The line at `x`, and the standard uncertainty of the line there.
    #[must_use]
    pub fn at(&self, x: f64) -> (f64, Option<f64>) {
        let u = self.scatter().map(|s| s * self.near(x).sqrt());
        (self.offset + self.slope * x, u)
    }

    /// The leverage that a point at `x` has or would have.
    fn near(&self, x: f64) -> f64 {
        let leverage = self.of_mean + (x - self.x_mean).powi(2) / self.spread;
        // Through the origin the offset is exactly nothing.
        if self.of_mean == 0.0 && x == 0.0 { 0.0 } else { leverage }
    }

    /// The residuals studentised from without; none where the other points leave no
    /// scatter to tell by.
    #[must_use]
    pub fn studentised(&self) -> Vec<Option<f64>> {
        let degrees = self.degrees().map(|degrees| degrees - 1.0).filter(|rest| *rest > 0.0);
        let rounding = ROUNDING * self.size();
        let of_point = |(e, x): (&f64, &f64)| {
            let free = 1.0 - self.near(*x);
            let others = (self.left - e * e / free) / degrees?;
            let studentised = e / (others * free).sqrt();
            // A perfect fit has residuals of rounding alone.
            let told = free > f64::EPSILON && others > rounding.powi(2);
            told.then_some(studentised).filter(|t| t.is_finite())
        };
        self.residuals.iter().zip(&self.x).map(of_point).collect()
    }

    /// Beyond this a studentised residual is not to be expected of any of the
    /// points at 95 % (Bonferroni).
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "far fewer points than 2^52")]
    pub fn studentised_most(&self) -> Option<f64> {
        let degrees = self.degrees()? - 1.0;
        (degrees > 0.0).then(|| t_quantile(1.0 - 0.025 / self.x.len() as f64, degrees))
    }

    /// The interval of x for which a future y₀, the mean of `repeats`, may stand at
    /// 95 %; none where the points scatter too much to bound it, or none is left over.
    #[must_use]
    pub fn inverse(&self, y_0: f64, repeats: f64) -> Option<(f64, f64)> {
        let s = self.scatter()?;
        let t = t_quantile(0.975, self.degrees()?);
        let b = self.slope;
        // With d = x − x̄ and e = y₀ − ȳ: d²·(b² − t²s²/S) − 2·b·e·d + e² − t²s²·(1/m + 1/n) ≤ 0.
        let e = y_0 - self.at(self.x_mean).0;
        let curve = b * b - (t * s).powi(2) / self.spread;
        let rest = e * e - (t * s).powi(2) * (1.0 / repeats + self.of_mean);
        let root = b * b * e * e - curve * rest;
        if curve <= 0.0 || root < 0.0 {
            return None;
        }
        let end = |side: f64| self.x_mean + (b * e + side * root.sqrt()) / curve;
        Some((end(-1.0), end(1.0)))
    }

    #[expect(clippy::cast_precision_loss, reason = "far fewer points than 2^52")]
    fn degrees(&self) -> Option<f64> {
        (self.degrees_of_freedom > 0).then_some(self.degrees_of_freedom as f64)
    }

    /// How large the fitted values are.
    fn size(&self) -> f64 {
        self.x.iter().map(|x| self.at(*x).0.abs()).fold(0.0, f64::max)
    }

    /// F and its p for whether this line, which has an offset, is better than
    /// `other`, one through the origin; none where nothing is left over to tell by.
    #[must_use]
    pub fn offset_test(&self, other: &Self) -> Option<(f64, f64)> {
        let (s, degrees) = (self.scatter()?, self.degrees()?);
        if s <= ROUNDING * self.size() {
            return None;
        }
        let f = (other.left - self.left).max(0.0) / (s * s);
        let distribution = FisherSnedecor::new(1.0, degrees).ok()?;
        Some((f, distribution.sf(f)))
    }
}

/// A scatter of no more than this share of what is fitted is rounding.
const ROUNDING: f64 = 1e-12;

/// The quantile of Student's t at `p` for `degrees` of freedom.
#[must_use]
pub fn t_quantile(p: f64, degrees: f64) -> f64 {
    let Ok(student) = StudentsT::new(0.0, 1.0, degrees) else { return f64::NAN };
    let mut t = student.inverse_cdf(p);
    // The library's inverse is a few digits short; its distribution is not.
    for _ in 0..3 {
        let step = (student.cdf(t) - p) / student.pdf(t);
        if !step.is_finite() {
            break;
        }
        t -= step;
    }
    t
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_of_student_are_the_tabulated_ones() {
        // Any table of Student's t, two-sided 95 %: 1, 2, 5, 10, 30 degrees.
        for (degrees, t) in
            [(1.0, 12.7062), (2.0, 4.30265), (5.0, 2.57058), (10.0, 2.22814), (30.0, 2.04227)]
        {
            assert!((t_quantile(0.975, degrees) / t - 1.0).abs() < 1e-5, "{degrees}");
        }
    }

    #[test]
    fn the_interval_of_a_future_reading_is_where_the_line_allows_it() {
        // By the definition: at each end the reading is just t standard deviations
        // from the line.
        let (x, y) = ([0.0, 2.0, 4.0, 6.0, 8.0], [0.3, 1.8, 3.5, 5.0, 6.4]);
        for through in [Through::Origin, Through::Offset] {
            let line = Line::fit(&x, &y, through).expect("a line");
            let (low, high) = line.inverse(4.0, 2.0).expect("an interval");
            let s = line.scatter().expect("points are left over");
            let t = t_quantile(0.975, line.degrees().expect("some"));
            for end in [low, high] {
                let (fitted, u) = line.at(end);
                let allowed = t * (s * s / 2.0 + u.expect("known").powi(2)).sqrt();
                assert!(((4.0 - fitted).abs() / allowed - 1.0).abs() < 1e-9);
            }
        }
    }
}
