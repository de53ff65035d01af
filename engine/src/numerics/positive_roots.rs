//! All positive roots of a polynomial, with a proof of how many there are.
//!
//! A polynomial is written in Bernstein's basis on [0, 1], where a root can lie
//! only if its coefficients change sign: no change, no root; one change, exactly
//! one (Descartes' rule). Where there are more changes the interval is halved,
//! which in this basis only ever takes means (de Casteljau), and so keeps its
//! digits, and a coefficient that rounding could have made has no sign. Roots above 1 are those of the polynomial read backwards.
//!
//! A root of even multiplicity never comes down to one change; it is given once,
//! and the count as not proven.
//!
//! Source: Lane and Riesenfeld, Bounds on a polynomial, BIT 21 (1981), 112–117
//! (from memory); Descartes' rule of signs.
//!
//! **Internal rates are counted, not guessed.** `numerics/positive_roots.rs` isolates every positive root
//! by the sign changes of Bernstein coefficients. All rates are given; where two are too near to be
//! told apart the count is `proven: false`.

/// The roots above nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct PositiveRoots {
    /// The roots, in no order.
    pub roots: Vec<f64>,
    /// Whether it is proven that these are all, each of them once.
    pub proven: bool,
}

/// Beyond so many halvings an interval is as narrow as the numbers are fine.
const HALVINGS: u32 = 52;

/// Finds where Σ aᵢ·xⁱ is nothing for x above nothing.
#[must_use]
pub fn positive_roots(a: &[f64]) -> PositiveRoots {
    let mut found = PositiveRoots { roots: Vec::new(), proven: true };
    let Some(first) = a.iter().position(|a| *a != 0.0) else {
        return PositiveRoots { proven: a.is_empty(), ..found };
    };
    let last = a.iter().rposition(|a| *a != 0.0).unwrap_or(first);
    let a = &a[first..=last];
    let size: f64 = a.iter().map(|a| a.abs()).sum();
    #[expect(clippy::cast_precision_loss, reason = "a polynomial of a few hundred terms")]
    let rounding = f64::EPSILON * a.len() as f64 * size;
    let backwards: Vec<f64> = a.iter().rev().copied().collect();
    for (a, above_one) in [(a, false), (&backwards, true)] {
        let mut search = Search { a, rounding, roots: Vec::new(), flat: Vec::new() };
        search.isolate(bernstein(a), 0.0, 1.0, HALVINGS);
        found.proven &= search.flat.is_empty();
        let flat = search.flat.iter().map(|(low, high)| match high {
            1.0 => 1.0,
            high => low.midpoint(*high),
        });
        for x in search.roots.iter().copied().chain(flat) {
            let root = if above_one { 1.0 / x } else { x };
            if !found.roots.contains(&root) {
                found.roots.push(root);
            }
        }
    }
    found
}

/// The coefficients in Bernstein's basis on [0, 1]: bⱼ = Σ C(j, i)/C(n, i)·aᵢ.
fn bernstein(a: &[f64]) -> Vec<f64> {
    let n = a.len() - 1;
    let mut choose = 1.0;
    let mut b = Vec::with_capacity(a.len());
    for (i, a) in a.iter().enumerate() {
        b.push(a / choose);
        #[expect(clippy::cast_precision_loss, reason = "a polynomial of a few hundred terms")]
        let (i, n) = (i as f64, n as f64);
        choose *= (n - i) / (i + 1.0);
    }
    for k in 1..=n {
        for j in (k..=n).rev() {
            b[j] += b[j - 1];
        }
    }
    b
}

/// The same polynomial on the two halves of its interval.
fn halves(mut b: Vec<f64>) -> (Vec<f64>, Vec<f64>) {
    let n = b.len();
    let mut left = Vec::with_capacity(n);
    for k in 0..n {
        left.push(b[0]);
        for j in 0..n - 1 - k {
            b[j] = b[j].midpoint(b[j + 1]);
        }
    }
    (left, b)
}

/// A search of one half of the axis.
struct Search<'a> {
    a: &'a [f64],
    rounding: f64,
    roots: Vec<f64>,
    /// Stretches on which the polynomial is nothing to within its rounding.
    flat: Vec<(f64, f64)>,
}

impl Search<'_> {
    /// Finds the roots in [low, high], of which `b` are the coefficients there.
    fn isolate(&mut self, b: Vec<f64>, low: f64, high: f64, halvings: u32) {
        let doubtful = b.iter().any(|b| b.abs() <= self.rounding);
        let changes = b.windows(2).filter(|two| two[0].signum() != two[1].signum()).count();
        if !doubtful && changes == 0 {
            return;
        }
        if (!doubtful && changes == 1) || self.runs_one_way(&b) {
            self.at_most_one(&b, low, high);
        } else if halvings == 0 || b.iter().all(|b| b.abs() <= self.rounding) {
            self.flat_between(low, high);
        } else {
            let middle = low.midpoint(high);
            let (left, right) = halves(b);
            self.isolate(left, low, middle, halvings - 1);
            self.isolate(right, middle, high, halvings - 1);
        }
    }

    /// Whether it only rises or only falls, beyond what rounding could have made.
    fn runs_one_way(&self, b: &[f64]) -> bool {
        let mut steps = b.windows(2).map(|two| two[1] - two[0]);
        let first = steps.next().unwrap_or(0.0);
        let one_way = |step: f64| step.abs() > self.rounding && step.signum() == first.signum();
        one_way(first) && steps.all(one_way)
    }

    /// Finds the root of a stretch that has no more than one.
    fn at_most_one(&mut self, b: &[f64], low: f64, high: f64) {
        let (first, last) = (b[0], b[b.len() - 1]);
        let root = if first.abs() <= self.rounding && low > 0.0 {
            low
        } else if last.abs() <= self.rounding {
            high
        } else if first.signum() != last.signum() {
            self.bisect(low, high, first.signum())
        } else {
            return;
        };
        if self.roots.last() != Some(&root) {
            self.roots.push(root);
        }
    }

    /// Notes a stretch without a sign, as one with the stretch before it.
    fn flat_between(&mut self, low: f64, high: f64) {
        match self.flat.last_mut().filter(|before| before.1 == low) {
            Some(before) => before.1 = high,
            None => self.flat.push((low, high)),
        }
    }

    fn value(&self, x: f64) -> f64 {
        self.a.iter().rev().fold(0.0, |higher, a| higher * x + a)
    }

    /// The one root between `low`, where the sign is `sign`, and `high`.
    fn bisect(&self, mut low: f64, mut high: f64, sign: f64) -> f64 {
        loop {
            let middle = low.midpoint(high);
            if middle <= low || middle >= high {
                return middle;
            }
            let value = self.value(middle);
            if value == 0.0 {
                return middle;
            }
            if value.signum() == sign { low = middle } else { high = middle }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Multiplies out (x − r) for each root.
    fn product(roots: &[f64]) -> Vec<f64> {
        let mut a = vec![1.0];
        for root in roots {
            let mut next = vec![0.0; a.len() + 1];
            for (i, term) in a.iter().enumerate() {
                next[i] -= term * root;
                next[i + 1] += term;
            }
            a = next;
        }
        a
    }

    #[test]
    fn every_root_on_either_side_of_one_is_found_once() {
        let roots = [0.25, 0.5, 0.9, 1.0, 1.3, 4.0];
        let mut found = positive_roots(&product(&roots));
        found.roots.sort_by(f64::total_cmp);
        assert!(found.proven);
        assert_eq!(found.roots.len(), roots.len());
        for (found, root) in found.roots.iter().zip(roots) {
            assert!((found - root).abs() < 1e-11, "{found} is not {root}");
        }
    }

    #[test]
    fn roots_that_are_negative_or_not_real_are_none() {
        assert_eq!(positive_roots(&[1.0, 1.0, 1.0]).roots, [0.0; 0]);
        assert_eq!(positive_roots(&product(&[-0.5, -2.0])).roots, [0.0; 0]);
        // 4x² − 2x + 1: its two roots are complex, though its signs change twice.
        let found = positive_roots(&[1.0, -2.0, 4.0]);
        assert!(found.proven && found.roots.is_empty());
    }

    #[test]
    fn a_double_root_is_found_once_and_not_proven() {
        for root in [0.5, 0.3, 2.5] {
            let found = positive_roots(&product(&[root, root]));
            assert!(!found.proven, "{root}");
            assert!(found.roots.iter().all(|x| (x - root).abs() < 1e-6), "{:?}", found.roots);
            assert!(!found.roots.is_empty());
        }
    }
}
