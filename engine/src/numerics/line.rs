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
//! 7. where y is read off a scale that tells no less than a step d, each y has an
//!    error of reading besides, of u_d = d/2/√3 (rectangular, half width d/2). It is
//!    the same for all n_g points that lie at the same x, so it does not average out
//!    by reading the same thing again: with p_g = n_g·(x_g − x̄)/S and q_g = n_g/n (0
//!    through the origin) the line at x has u² = s²·h + u_d²·Σ(q_g + (x − x̄)·p_g)²,
//!    the slope u_d²·Σp_g² more, and a mean of m readings s²/m + u_d². In 4 to 6 s²
//!    becomes s² + u_d², and t in 5 is that of ν·(1 + u_d²/s²)² degrees of freedom
//!    (Welch and Satterthwaite, as for a single y), but so large that t·√(s² + u_d²) is
//!    no less than the t of ν times s: s may well be steps of the scale and nothing else
//!
//! Assumes that x is known and that every y scatters alike and normally. Where the
//! scatter already shows the steps of the scale, 7 counts them twice: the figures are
//! then a little too wide, and never too narrow where the points happen to lie on a
//! line. Source: JCGM 100:2008, H.3, and for 7 4.3.7 and G.4.1; Draper and Smith,
//! Applied Regression Analysis, for 4 to 6 (from memory).

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
    /// What the steps of the scale add.
    steps: Steps,
}

/// u_d and the sums of equation 7.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
struct Steps {
    u: f64,
    /// Σq_g².
    mean: f64,
    /// Σq_g·p_g.
    both: f64,
    /// Σp_g².
    slope: f64,
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
            steps: Steps::default(),
        })
    }

    /// The same line through readings of a scale that is read to steps of `step`.
    #[must_use]
    pub fn read_in_steps_of(mut self, step: f64) -> Self {
        let mut x = self.x.clone();
        x.sort_by(f64::total_cmp);
        let mut steps = Steps { u: step / 2.0 / 3_f64.sqrt(), ..Steps::default() };
        for alike in x.chunk_by(|a, b| a == b) {
            #[expect(clippy::cast_precision_loss, reason = "far fewer points than 2^52")]
            let n = alike.len() as f64;
            let (q, p) = (n * self.of_mean, n * (alike[0] - self.x_mean) / self.spread);
            steps.mean += q * q;
            steps.both += q * p;
            steps.slope += p * p;
        }
        self.steps = steps;
        self
    }

    /// s; none when no point is left over.
    #[must_use]
    pub fn scatter(&self) -> Option<f64> {
        let degrees = self.degrees()?;
        Some((self.left / degrees).sqrt())
    }

    /// What a future y, the mean of `repeats`, has of its own.
    #[must_use]
    pub fn u_reading(&self, repeats: f64) -> Option<f64> {
        Some((self.scatter()?.powi(2) / repeats + self.steps.u.powi(2)).sqrt())
    }

    /// u(b).
    #[must_use]
    pub fn u_slope(&self) -> Option<f64> {
        let Steps { u, slope, .. } = self.steps;
        Some((self.scatter()?.powi(2) / self.spread + u * u * slope).sqrt())
    }

    /// u(a).
    #[must_use]
    pub fn u_offset(&self) -> Option<f64> {
        Some(self.variance_at(0.0)?.sqrt())
    }

    /// The correlation of a and b; none through the origin, or where nothing is
    /// known of both.
    #[must_use]
    pub fn correlation(&self) -> Option<f64> {
        if self.of_mean == 0.0 {
            return None;
        }
        let Steps { u, both, slope, .. } = self.steps;
        let s = self.scatter().filter(|s| *s > 0.0 || u > 0.0).unwrap_or(1.0);
        let together = -self.x_mean * (s * s / self.spread + u * u * slope) + u * u * both;
        let near = s * s * self.near(0.0) + self.steps_at(0.0);
        Some(together / (near * (s * s / self.spread + u * u * slope)).sqrt())
    }

    /// The line at `x`, and the standard uncertainty of the line there.
    #[must_use]
    pub fn at(&self, x: f64) -> (f64, Option<f64>) {
        (self.offset + self.slope * x, self.variance_at(x).map(f64::sqrt))
    }

    fn variance_at(&self, x: f64) -> Option<f64> {
        Some(self.scatter()?.powi(2) * self.near(x) + self.steps_at(x))
    }

    /// What the steps of the scale add to the variance of the line at `x`.
    fn steps_at(&self, x: f64) -> f64 {
        let Steps { u, mean, both, slope } = self.steps;
        let d = x - self.x_mean;
        // Through the origin the offset is exactly nothing.
        if self.of_mean == 0.0 && x == 0.0 {
            return 0.0;
        }
        u * u * (mean + 2.0 * d * both + d * d * slope).max(0.0)
    }

    /// s² + u_d².
    fn variance_of_one(&self) -> Option<f64> {
        Some(self.scatter()?.powi(2) + self.steps.u.powi(2))
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
            let others = (self.left - e * e / free) / degrees? + self.steps.u.powi(2);
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
        let s_2 = self.scatter()?.powi(2);
        let Steps { u, mean, both, slope } = self.steps;
        let u_2 = u * u;
        let t_2 = self.coverage_factor()?.powi(2);
        let b = self.slope;
        // With d = x − x̄ and e = y₀ − ȳ: (e − b·d)² is no more than t² times a variance
        // that is quadratic in d.
        let e = y_0 - self.at(self.x_mean).0;
        let curve = b * b - t_2 * (s_2 / self.spread + u_2 * slope);
        let tilt = b * e + t_2 * u_2 * both;
        let rest = e * e - t_2 * (s_2 * (1.0 / repeats + self.of_mean) + u_2 * (1.0 + mean));
        let root = tilt * tilt - curve * rest;
        if curve <= 0.0 || root < 0.0 {
            return None;
        }
        let end = |side: f64| self.x_mean + (tilt + side * root.sqrt()) / curve;
        Some((end(-1.0), end(1.0)))
    }

    #[expect(clippy::cast_precision_loss, reason = "far fewer points than 2^52")]
    fn degrees(&self) -> Option<f64> {
        (self.degrees_of_freedom > 0).then_some(self.degrees_of_freedom as f64)
    }

    /// What to multiply uncertainties by for 95 %.
    fn coverage_factor(&self) -> Option<f64> {
        let (degrees, s_2) = (self.degrees()?, self.scatter()?.powi(2));
        let known = self.steps.u.powi(2);
        let t = t_quantile(0.975, degrees);
        if known == 0.0 {
            return Some(t);
        }
        let effective = (degrees * (1.0 + known / s_2).powi(2)).min(DEGREES_MOST);
        Some(t_quantile(0.975, effective).max(t * (s_2 / (s_2 + known)).sqrt()))
    }

    /// How large the fitted values are.
    fn size(&self) -> f64 {
        self.x.iter().map(|x| self.at(*x).0.abs()).fold(0.0, f64::max)
    }

    /// F and its p for whether this line, which has an offset, is better than
    /// `other`, one through the origin; none where nothing is left over to tell by.
    #[must_use]
    pub fn offset_test(&self, other: &Self) -> Option<(f64, f64)> {
        let (one, degrees) = (self.variance_of_one()?, self.degrees()?);
        if one.sqrt() <= ROUNDING * self.size() {
            return None;
        }
        let f = (other.left - self.left).max(0.0) / one;
        let distribution = FisherSnedecor::new(1.0, degrees).ok()?;
        Some((f, distribution.sf(f)))
    }
}

/// With so many degrees of freedom Student's t is the normal distribution.
const DEGREES_MOST: f64 = 1e6;

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

    /// By hand, twice the same three strengths: what the scale hides is the same for
    /// both of a pair, so u(b) has u_d²/Σ(x − x̄)² over three points, not six.
    #[test]
    fn reading_the_same_again_does_not_read_finer() {
        let (x, y) = ([2.0, 2.0, 4.0, 4.0, 6.0, 6.0], [1.5, 1.5, 3.0, 3.0, 4.5, 4.5]);
        let line = Line::fit(&x, &y, Through::Offset).expect("a line").read_in_steps_of(0.1);
        let u = 0.05 / 3_f64.sqrt();
        assert!((line.u_slope().expect("known") - u / 8_f64.sqrt()).abs() < 1e-12);
        assert!((line.at(4.0).1.expect("known") - u / 3_f64.sqrt()).abs() < 1e-12);
        assert!((line.u_reading(1e6).expect("known") - u).abs() < 1e-9);
        // a = ȳ − 4·b, and ȳ and b have nothing to do with each other.
        let u_offset = (u * u / 3.0 + 16.0 * u * u / 8.0).sqrt();
        assert!((line.u_offset().expect("known") - u_offset).abs() < 1e-12);
        let r = -4.0 * u * u / 8.0 / (u_offset * u / 8_f64.sqrt());
        assert!((line.correlation().expect("an offset") - r).abs() < 1e-12);
        // The normal 1.959964 takes the place of t where nothing scatters.
        let (low, high) = line.inverse(3.0, 1.0).expect("an interval");
        let half = 1.959964 * u * (1.0 + 1.0 / 3.0_f64).sqrt() / 0.75;
        assert!(((high - low) / 2.0 / half - 1.0).abs() < 1e-3, "{low} to {high}, {half}");
    }

    #[test]
    fn the_interval_of_a_future_reading_is_where_the_line_allows_it() {
        // By the definition: at each end the reading is just t standard deviations
        // from the line.
        let (x, y) = ([0.0, 2.0, 4.0, 6.0, 8.0], [0.3, 1.8, 3.5, 5.0, 6.4]);
        for through in [Through::Origin, Through::Offset] {
            let line = Line::fit(&x, &y, through).expect("a line");
            for line in [line.clone(), line.read_in_steps_of(0.2)] {
                let (low, high) = line.inverse(4.0, 2.0).expect("an interval");
                let reading = line.u_reading(2.0).expect("points are left over");
                let t = line.coverage_factor().expect("points are left over");
                for end in [low, high] {
                    let (fitted, u) = line.at(end);
                    let allowed = t * reading.hypot(u.expect("known"));
                    assert!(((4.0 - fitted).abs() / allowed - 1.0).abs() < 1e-9);
                }
            }
        }
    }
}
