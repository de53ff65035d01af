//! Weighted linear least squares by singular value decomposition.
//!
//! With X the n × p design, y the n observations and σ their standard
//! uncertainties, the rows of X and y are divided by σ and
//!
//! 1. β = argmin ‖y − Xβ‖ by the decomposition of X, never by X'X
//! 2. s² = ‖y − Xβ‖²/(n − p), the scatter about the fit in units of σ
//! 3. cov β = (X'X)⁻¹ from the same decomposition, to be multiplied by s² where
//!    σ is known only up to a factor
//!
//! Source: the usual linear model; certified answers of NIST StRD in the tests.

use nalgebra::{DMatrix, DVector, SVD};

/// A fit with all that is needed to say how good it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The unknowns.
    pub parameters: DVector<f64>,
    /// Their covariance when every σ is as given: (X'X)⁻¹.
    pub covariance: DMatrix<f64>,
    /// What is left of each observation, in its own unit.
    pub residuals: DVector<f64>,
    /// Sum of the squares of residual/σ.
    pub chi_squared: f64,
    /// Observations less unknowns.
    pub degrees_of_freedom: usize,
}

/// Why there is no fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unfit {
    /// Fewer observations than unknowns.
    TooFew,
    /// Some combination of unknowns leaves no trace in the observations, or the
    /// observations are too far apart to compute with.
    Undetermined,
}

/// A singular value below this share of the largest leaves no trace. Columns
/// are brought to one size first, so that units do not decide.
const TRACE: f64 = 1e-10;

/// Fits `y` to `x`, each row weighed by 1/σ².
pub fn fit(x: &DMatrix<f64>, y: &DVector<f64>, sigma: &DVector<f64>) -> Result<Fit, Unfit> {
    let (n, p) = x.shape();
    if n < p || p == 0 {
        return Err(Unfit::TooFew);
    }
    let weighed = DMatrix::from_fn(n, p, |i, j| x[(i, j)] / sigma[i]);
    let z = y.component_div(sigma);
    if !weighed.iter().chain(&z).all(|value| value.is_finite()) {
        return Err(Unfit::Undetermined);
    }
    let size: Vec<f64> = weighed.column_iter().map(|column| column.norm()).collect();
    if size.iter().any(|size| *size == 0.0 || !size.is_finite()) {
        return Err(Unfit::Undetermined);
    }
    let design = DMatrix::from_fn(n, p, |i, j| weighed[(i, j)] / size[j]);
    let svd = SVD::new(design, true, true);
    let (Some(u), Some(v_t)) = (&svd.u, &svd.v_t) else { return Err(Unfit::Undetermined) };
    let largest = svd.singular_values.max();
    if svd.singular_values.iter().any(|s| *s <= TRACE * largest || !s.is_finite()) {
        return Err(Unfit::Undetermined);
    }
    let scaled = (u.transpose() * &z).component_div(&svd.singular_values);
    let mut parameters = v_t.transpose() * scaled;
    let half = DMatrix::from_fn(p, p, |i, j| v_t[(j, i)] / svd.singular_values[j] / size[i]);
    for (parameter, size) in parameters.iter_mut().zip(&size) {
        *parameter /= size;
    }
    let residuals = y - x * &parameters;
    let chi_squared = residuals.component_div(sigma).norm_squared();
    Ok(Fit {
        parameters,
        covariance: &half * half.transpose(),
        residuals,
        chi_squared,
        degrees_of_freedom: n - p,
    })
}

impl Fit {
    /// The scatter about the fit in units of σ; none when every observation
    /// was needed for an unknown.
    #[must_use]
    pub fn scatter(&self) -> Option<f64> {
        #[expect(clippy::cast_precision_loss, reason = "far fewer observations than 2^52")]
        let degrees = self.degrees_of_freedom as f64;
        (self.degrees_of_freedom > 0).then(|| (self.chi_squared / degrees).sqrt())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nist_noint1() {
        // NIST StRD NoInt1: a line through the origin, certified values.
        let x = DMatrix::from_iterator(11, 1, (60..=70).map(f64::from));
        let y = DVector::from_iterator(11, (130..=140).map(f64::from));
        let fit = fit(&x, &y, &DVector::from_element(11, 1.0)).expect("it is determined");
        let close = |found: f64, certified: f64| (found / certified - 1.0).abs() < 1e-12;
        assert!(close(fit.parameters[0], 2.07438016528926));
        let scatter = fit.scatter().expect("ten degrees of freedom");
        assert!(close(scatter, 3.56753034006338));
        assert!(close(fit.covariance[(0, 0)].sqrt() * scatter, 0.0165289256198347));
    }

    #[test]
    fn unknowns_that_leave_no_trace_are_not_fitted() {
        let x = DMatrix::from_iterator(5, 2, [1, 2, 3, 4, 5, 2, 4, 6, 8, 10].map(f64::from));
        let y = DVector::from_element(5, 1.0);
        let sigma = DVector::from_element(5, 1.0);
        assert_eq!(fit(&x, &y, &sigma), Err(Unfit::Undetermined));
        assert_eq!(fit(&x.rows(0, 1).into_owned(), &y, &sigma), Err(Unfit::TooFew));
        let surest = DVector::from_element(5, 5e-324);
        assert_eq!(fit(&x, &y, &surest), Err(Unfit::Undetermined));
    }
}
