//! Money that comes and goes by the year: present values, annuities, payback.
//!
//! With f_t what is won at the end of year t (f_0 now), r the rate as a share:
//!
//! 1. net present value: Σ f_t/(1 + r)^t
//! 2. present value of 1 a year for n years: a = (1 − (1 + r)^−n)/r, and n at r = 0
//! 3. capital recovery: 1/a; payment on a loan of p: −p/a
//! 4. payback: the first moment at which Σ f_t, spread evenly inside each year,
//!    comes back to nothing after it was below; discounted, of f_t/(1 + r)^t
//! 5. internal rate: every r above −1 at which 1 is nothing. With v = 1/(1 + r)
//!    it is a positive root of a polynomial, of which there can be several or none
//!
//! Source: the usual definitions; worked values in the tests.

use super::positive_roots::{PositiveRoots, positive_roots};

/// What `flows` are worth now at `rate`, as a share a year: equation 1.
#[must_use]
pub fn npv(rate: f64, flows: &[f64]) -> f64 {
    let v = 1.0 / (1.0 + rate);
    flows.iter().rev().fold(0.0, |later, flow| later * v + flow)
}

/// What 1 at the end of each of `years` years is worth now: equation 2.
#[must_use]
pub fn uniform_present_value(rate: f64, years: f64) -> f64 {
    if rate == 0.0 { years } else { -(-years * rate.ln_1p()).exp_m1() / rate }
}

/// What has to come in each year for 1 spent now: equation 3.
#[must_use]
pub fn capital_recovery(rate: f64, years: f64) -> f64 {
    1.0 / uniform_present_value(rate, years)
}

/// What is paid at the end of each period for `present` received now: equation 3.
#[must_use]
pub fn payment(rate: f64, periods: f64, present: f64) -> f64 {
    -present * capital_recovery(rate, periods)
}

/// Each flow as it counts now.
#[must_use]
pub fn discounted(rate: f64, flows: &[f64]) -> Vec<f64> {
    let v = 1.0 / (1.0 + rate);
    let mut weight = 1.0;
    let each = flows.iter().map(|flow| {
        let now = flow * weight;
        weight *= v;
        now
    });
    each.collect()
}

/// The sums so far.
#[must_use]
pub fn cumulated(flows: &[f64]) -> Vec<f64> {
    let mut sum = 0.0;
    let each = flows.iter().map(|flow| {
        sum += flow;
        sum
    });
    each.collect()
}

/// When what was spent has come back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Payback {
    /// The sum was never below nothing.
    NothingToPayBack,
    /// It came back after so many years.
    After {
        /// Years from now.
        years: f64,
        /// Whether the sum stays at or above nothing from then on.
        for_good: bool,
    },
    /// It has not come back at the end of the last year.
    NotWithinTheYears,
}

/// When the sum of `flows` first comes back to nothing: equation 4.
#[must_use]
pub fn payback(flows: &[f64]) -> Payback {
    let sums = cumulated(flows);
    let size: f64 = flows.iter().map(|flow| flow.abs()).sum();
    let rounding = 4.0 * f64::EPSILON * size;
    let below = |sum: &f64| *sum < -rounding;
    let Some(behind) = sums.iter().position(below) else {
        return Payback::NothingToPayBack;
    };
    let Some(back) = sums[behind..].iter().position(|sum| !below(sum)).map(|i| behind + i) else {
        return Payback::NotWithinTheYears;
    };
    let (owed, won) = (-sums[back - 1], flows[back]);
    #[expect(clippy::cast_precision_loss, reason = "a few years")]
    let years = (back - 1) as f64 + (owed / won).min(1.0);
    Payback::After { years, for_good: !sums[back..].iter().any(below) }
}

/// Where two sums that run on by the year are the same: the moments at which the
/// line through `sums`, the one less the other, goes through nothing, in years
/// from now. A stretch that stays at nothing is no crossing.
#[must_use]
pub fn crossings(sums: &[f64]) -> Vec<f64> {
    let size = sums.iter().fold(0.0_f64, |most, sum| most.max(sum.abs()));
    let rounding = 1e-12 * size;
    let mut found = Vec::new();
    let mut last: Option<(usize, f64)> = None;
    for (year, sum) in sums.iter().enumerate().filter(|(_, sum)| sum.abs() > rounding) {
        if let Some((since, before)) = last.filter(|(_, before)| before.signum() != sum.signum()) {
            #[expect(clippy::cast_precision_loss, reason = "a few years")]
            let (from, to) = (since as f64, year as f64);
            found.push(from + (to - from) * before / (before - sum));
        }
        last = Some((year, *sum));
    }
    found
}

/// Every internal rate of return of `flows`, the lowest first: equation 5.
#[derive(Debug, Clone, PartialEq)]
pub struct InternalRates {
    /// The rates, as shares a year.
    pub rates: Vec<f64>,
    /// Whether it is proven that these are all there are, each of them once.
    pub proven: bool,
    /// How often the flows change from spending to winning or back: there are
    /// no more rates than that.
    pub sign_changes: usize,
}

/// Finds them.
#[must_use]
pub fn internal_rates(flows: &[f64]) -> InternalRates {
    let PositiveRoots { roots, proven } = positive_roots(flows);
    let mut rates: Vec<f64> = roots.into_iter().map(|v| (1.0 - v) / v).collect();
    rates.sort_by(f64::total_cmp);
    let spent_or_won: Vec<f64> = flows.iter().copied().filter(|flow| *flow != 0.0).collect();
    let changes = spent_or_won.windows(2).filter(|two| two[0].signum() != two[1].signum());
    InternalRates { rates, proven, sign_changes: changes.count() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(found: f64, expected: f64, tolerance: f64) {
        assert!((found - expected).abs() <= tolerance, "{found} is not {expected}");
    }

    #[test]
    fn what_is_spent_later_is_behind_later() {
        // 10 won at once, 30 spent after a year, then 10 a year.
        let flows = [10.0, -30.0, 10.0, 10.0, 10.0];
        assert_eq!(payback(&flows), Payback::After { years: 3.0, for_good: true });
        assert_eq!(payback(&[0.0, 1.0]), Payback::NothingToPayBack);
        assert_eq!(payback(&[-5.0, 1.0]), Payback::NotWithinTheYears);
        let again = [-5.0, 10.0, -10.0, 1.0];
        assert_eq!(payback(&again), Payback::After { years: 0.5, for_good: false });
    }

    #[test]
    fn sums_cross_where_the_line_between_them_does() {
        assert_eq!(crossings(&[-2.0, 2.0, -2.0]), [0.5, 1.5]);
        assert_eq!(crossings(&[0.0, 0.0, 1.0]), [0.0; 0]);
        assert_eq!(crossings(&[-1.0, 0.0, 1.0]), [1.0]);
    }

    #[test]
    fn several_rates_are_all_found_and_none_is_none() {
        // (v − 1/1.1)(v − 1/1.25) multiplied out: 10 % and 25 %.
        let two = internal_rates(&[-1000.0, 2350.0, -1375.0]);
        assert!(two.proven && two.sign_changes == 2);
        near(two.rates[0], 0.10, 1e-12);
        near(two.rates[1], 0.25, 1e-12);
        let none = internal_rates(&[-1000.0, 2350.0, -1500.0]);
        assert!(none.proven && none.rates.is_empty());
        let never = internal_rates(&[5.0, 5.0]);
        assert!(never.proven && never.rates.is_empty() && never.sign_changes == 0);
        // The two coincide at 20 %: the curve touches, and nothing is proven.
        let touching = internal_rates(&[-100.0, 240.0, -144.0]);
        assert!(!touching.proven);
        near(touching.rates[0], 0.2, 1e-6);
        // Nothing is left over at a rate of nothing.
        let even = internal_rates(&[-100.0, 60.0, 40.0]);
        assert!(even.proven);
        near(even.rates[0], 0.0, 1e-12);
    }
}
