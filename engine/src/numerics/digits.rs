//! Rounding for a reader: so many significant digits, free of binary noise.

/// `number` rounded to so many significant digits, free of binary noise.
#[must_use]
pub fn round_to(number: f64, digits: i32) -> f64 {
    if number == 0.0 || !number.is_finite() {
        return number;
    }
    #[expect(clippy::cast_possible_truncation, reason = "the exponent of an f64 is small")]
    let exponent = number.abs().log10().floor() as i32;
    let places = digits - 1 - exponent;
    // A power of ten up to 22 is exact, and so one division rounds correctly;
    // beyond that the last bit is not worth a thought.
    if places >= 0 {
        let scale = 10_f64.powi(places);
        let rounded = (number * scale).round() / scale;
        if rounded.is_finite() { rounded } else { number }
    } else {
        let scale = 10_f64.powi(-places);
        (number / scale).round() * scale
    }
}

/// How many significant digits it takes to show that two numbers are not the same, from
/// three on.
#[must_use]
pub fn digits_apart(a: f64, b: f64) -> i32 {
    const MOST: i32 = 12;
    (3..MOST).find(|digits| round_to(a, *digits) != round_to(b, *digits)).unwrap_or(MOST)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_close_is_shown_to_more_digits() {
        assert_eq!(digits_apart(6.0, 7.0), 3);
        assert_eq!(digits_apart(5.4996, 5.5), 5);
    }

    #[test]
    fn rounding_leaves_no_binary_noise() {
        assert_eq!(round_to(11.0 - 10.8, 12), 0.2);
        assert_eq!(round_to(53.800000000000004, 6), 53.8);
        assert_eq!(round_to(19.999999999999996, 4), 20.0);
        assert_eq!(round_to(-0.000123456, 3), -0.000123);
        assert_eq!(round_to(378541.1784, 4), 378500.0);
        assert_eq!(round_to(0.0, 4), 0.0);
    }
}
