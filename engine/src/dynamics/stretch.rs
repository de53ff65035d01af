//! A stretch without events, and how where it leads depends on where it begins and on the rates.
//!
//! With V the volume and C the concentrate (L), e + d what is lost of the volume in a day of the
//! losses' time, s what evaporates on a day on which the machine stands, w what runs in, k·d the
//! litres of fluid that are freed of their concentrate in a day:
//!
//! 1. V₁ = V₀ − (e + d)·t − s·t_s + w·t_w
//! 2. C₁ = C₀·e^(−k·d·t·φ), φ = ln(V₁/V₀)/(V₁ − V₀), which is 1/V at constant V
//!
//! The losses are taken to be spread evenly over the stretch. With its slopes it serves whoever fits
//! rates to readings.

/// From an entry to the next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// By the calendar.
    pub days: f64,
    /// By the losses' time.
    pub worked: f64,
    /// Days on which the machine stands.
    pub stood: f64,
}

/// What a sump holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeldFluid {
    /// Volume, L.
    pub v: f64,
    /// Concentrate in it, L.
    pub c: f64,
}

/// What the sump loses and what runs into it, in a day.
#[derive(Debug, Clone, Copy)]
pub struct CourseRates {
    /// e + d, of the volume.
    pub loss: f64,
    /// k·d, of fluid freed of its concentrate.
    pub clearance: f64,
    /// Water that runs in.
    pub ingress: f64,
    /// What evaporates on a day on which the machine stands.
    pub standing: f64,
}

/// A stretch without events: where it leads, and how that depends on what.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StretchFlow {
    /// What it leads to.
    pub to: HeldFluid,
    /// Concentrate at the end by the volume at the beginning.
    pub c_by_v: f64,
    /// Concentrate at the end by the concentrate at the beginning.
    pub c_by_c: f64,
    /// Volume and concentrate by the loss.
    pub by_loss: [f64; 2],
    /// Concentrate by the clearance.
    pub c_by_clearance: f64,
    /// Volume and concentrate by the ingress.
    pub by_ingress: [f64; 2],
    /// Volume and concentrate by what evaporates while the machine stands.
    pub by_standing: [f64; 2],
}

/// Equations 1 and 2, with water running in; none where the sump would run dry.
///
/// The concentrate falls by exp(−k·d·t·φ) with φ the mean of 1/V along the
/// stretch, which is (V₁/V₀)^(k·d/(e + d)) where no water runs in, and whole at
/// constant V.
#[must_use]
pub fn flow(from: HeldFluid, rates: CourseRates, stretch: Stretch) -> Option<StretchFlow> {
    let v_1 = from.v - rates.loss * stretch.worked - rates.standing * stretch.stood
        + rates.ingress * stretch.days;
    if !(from.v > 0.0 && v_1 > 0.0) {
        return None;
    }
    let [phi, phi_0, phi_1] = mean_inverse(from.v, v_1);
    let cleared = rates.clearance * stretch.worked;
    let kept = (-cleared * phi).exp();
    let c_1 = from.c * kept;
    Some(StretchFlow {
        to: HeldFluid { v: v_1, c: c_1 },
        c_by_v: -cleared * c_1 * (phi_0 + phi_1),
        c_by_c: kept,
        by_loss: [-stretch.worked, cleared * c_1 * phi_1 * stretch.worked],
        c_by_clearance: -stretch.worked * phi * c_1,
        by_ingress: [stretch.days, -cleared * c_1 * phi_1 * stretch.days],
        by_standing: [-stretch.stood, cleared * c_1 * phi_1 * stretch.stood],
    })
}

/// The mean of 1/V where V runs evenly from `v_0` to `v_1`, ln(v_1/v_0)/(v_1 − v_0),
/// and its derivatives by both.
fn mean_inverse(v_0: f64, v_1: f64) -> [f64; 3] {
    /// Below this change the logarithm is taken by its series, whose next term is
    /// less than the last bit.
    const SMALL: f64 = 1e-3;
    let x = (v_1 - v_0) / v_0;
    let (f, slope) = if x.abs() < SMALL {
        let series = |terms: [f64; 6]| terms.iter().rev().fold(0.0, |sum, term| sum * x + term);
        (
            series([1.0, -1.0 / 2.0, 1.0 / 3.0, -1.0 / 4.0, 1.0 / 5.0, -1.0 / 6.0]),
            series([-1.0 / 2.0, 2.0 / 3.0, -3.0 / 4.0, 4.0 / 5.0, -5.0 / 6.0, 6.0 / 7.0]),
        )
    } else {
        let f = x.ln_1p() / x;
        (f, (1.0 / (1.0 + x) - f) / x)
    };
    [f / v_0, -f / (v_0 * v_0) - slope * v_1 / v_0.powi(3), slope / (v_0 * v_0)]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Equation 2 as it is printed, and its limit at constant volume.
    #[test]
    fn the_closed_form_is_the_printed_one() {
        let from = HeldFluid { v: 200.0, c: 16.0 };
        let stretch = Stretch { days: 3.0, worked: 3.0, stood: 0.0 };
        let (e, d, k) = (9.0, 6.0, 1.2);
        let rates = CourseRates { loss: e + d, clearance: k * d, ingress: 0.0, standing: 0.0 };
        let to = flow(from, rates, stretch).expect("it holds enough").to;
        assert!((to.v - 155.0).abs() < 1e-12);
        let printed = 16.0 * (155.0_f64 / 200.0).powf(k * d / (e + d));
        assert!((to.c - printed).abs() < 1e-12, "{} is not {printed}", to.c);
        let level = CourseRates { ingress: e + d, ..rates };
        let to = flow(from, level, stretch).expect("it holds enough").to;
        assert!((to.c - 16.0 * (-k * d * 3.0 / 200.0).exp()).abs() < 1e-12);
    }

    #[test]
    fn the_mean_is_smooth_where_its_series_begins() {
        for x in [0.999e-3, 1.001e-3, -0.999e-3, -1.001e-3] {
            let [phi, by_0, by_1] = mean_inverse(100.0, 100.0 * (1.0 + x));
            let step = 1e-3;
            let numeric = |v_0: f64, v_1: f64| mean_inverse(v_0, v_1)[0];
            let to = 100.0 * (1.0 + x);
            let slope_0 = (numeric(100.0 + step, to) - numeric(100.0 - step, to)) / (2.0 * step);
            let slope_1 = (numeric(100.0, to + step) - numeric(100.0, to - step)) / (2.0 * step);
            assert!((phi * 100.0 - (1.0 - x / 2.0)).abs() < 1e-6);
            assert!((by_0 - slope_0).abs() < 1e-9 && (by_1 - slope_1).abs() < 1e-9);
        }
    }
}
