//! Rounding for a reader: so many significant digits, free of binary noise.

use std::fmt;

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

/// Writes a number rounded to so many significant digits, at most 15: as [`f64`] shows it, and
/// several times as quickly where it needs no exponent.
pub fn write_rounded(number: f64, digits: i32, out: &mut dyn fmt::Write) -> fmt::Result {
    const PLAIN: std::ops::Range<f64> = 1e-4..1e15;
    let rounded = round_to(number, digits);
    if !PLAIN.contains(&rounded.abs()) {
        return write!(out, "{rounded}");
    }
    let mut buffer = zmij::Buffer::new();
    let written = buffer.format_finite(rounded);
    out.write_str(written.strip_suffix(".0").unwrap_or(written))
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
    fn a_number_is_written_as_the_standard_library_writes_it() {
        let ladder = (-400..400_i32).map(|power| 1.1_f64.powi(power));
        let odd = [0.0, -0.0, 1e-4, 9.999e-5, 1e15, 9e14, 0.1 + 0.2, 1e22, f64::NAN, f64::INFINITY];
        let whole = (0..2000).map(f64::from);
        let numbers = ladder.chain(whole).flat_map(|number| [number, -number]).chain(odd);
        for (number, digits) in numbers.flat_map(|number| [3, 6, 12].map(|digits| (number, digits)))
        {
            let mut written = String::new();
            write_rounded(number, digits, &mut written).expect("a string takes everything");
            assert_eq!(written, round_to(number, digits).to_string());
        }
    }

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
