//! The °Brix scale: sucrose in water at 20 °C and 589 nm.
//!
//! A cutting fluid is not sucrose. The tables are exact for the instrument's
//! scale and an approximation for the fluid.

/// Cubic through the five-decimal refractive indices of sucrose solutions,
/// 0 to 30 % by mass, at 20 °C and 589 nm; it misses none of them by more than
/// 5.2e-6 (nominal values of certified refractometer solutions, OIML R 142).
const INDEX_CUBIC: [f64; 4] = [1.33298661, 1.42790053e-3, 5.39138109e-6, 1.75551564e-8];

/// The strongest solution that the cubic was fitted to, °Brix.
pub const INDEX_BRIX_MOST: f64 = 30.0;

/// Refractive index at 20 °C of a solution of `brix` °Brix, 0 to 30.
#[must_use]
pub fn index_from_brix(brix: f64) -> f64 {
    let [a, b, c, d] = INDEX_CUBIC;
    a + brix * (b + brix * (c + brix * d))
}

/// °Brix of a solution with refractive index `index` at 20 °C. The cubic rises
/// all the way, so it has one answer; Newton from the straight line finds it.
#[must_use]
pub fn brix_from_index(index: f64) -> f64 {
    let [a, b, c, d] = INDEX_CUBIC;
    let mut brix = (index - a) / b;
    // The start is within 4 °Brix over the whole range, and each step squares
    // the error: six steps are more than enough for the last bit.
    for _ in 0..8 {
        let slope = b + brix * (2.0 * c + brix * 3.0 * d);
        brix -= (index_from_brix(brix) - index) / slope;
    }
    brix
}

/// Temperatures of the rows of [`CORRECTION`], °C.
const ROWS: [f64; 10] = [10.0, 12.0, 15.0, 17.0, 19.0, 20.0, 21.0, 22.0, 25.0, 30.0];
/// Readings of the columns of [`CORRECTION`], °Brix.
const COLUMNS: [f64; 5] = [0.0, 5.0, 10.0, 15.0, 20.0];
/// What to add to a reading made without temperature compensation. The
/// international temperature table of 1936, as GOST table A.1 prints it; the
/// rows for 25 and 30 °C are from memory. The table of the OIV differs by
/// about 0.01.
const CORRECTION: [[f64; 5]; 10] = [
    [-0.50, -0.54, -0.58, -0.61, -0.64],
    [-0.42, -0.45, -0.48, -0.50, -0.52],
    [-0.27, -0.29, -0.31, -0.33, -0.34],
    [-0.17, -0.18, -0.19, -0.20, -0.21],
    [-0.06, -0.06, -0.06, -0.07, -0.07],
    [0.0; 5],
    [0.06, 0.07, 0.07, 0.07, 0.07],
    [0.13, 0.13, 0.14, 0.14, 0.15],
    [0.33, 0.35, 0.36, 0.37, 0.38],
    [0.72, 0.74, 0.77, 0.78, 0.79],
];

/// The coldest and warmest the correction covers, °C.
pub const CORRECTION_CELSIUS: (f64, f64) = (10.0, 30.0);
/// The highest reading the correction covers, °Brix.
pub const CORRECTION_BRIX_MOST: f64 = 20.0;

/// What to add to a reading of `brix` °Brix taken at `celsius` by a
/// refractometer without compensation; straight lines between the table's
/// entries.
#[must_use]
pub fn temperature_correction(brix: f64, celsius: f64) -> f64 {
    let (row, down) = between(&ROWS, celsius);
    let (column, across) = between(&COLUMNS, brix);
    let along = |row: usize| {
        let [left, right] = [CORRECTION[row][column], CORRECTION[row][column + 1]];
        left + across * (right - left)
    };
    along(row) + down * (along(row + 1) - along(row))
}

/// The reading that a refractometer without compensation shows at `celsius`
/// for a fluid of `brix` °Brix: [`temperature_correction`] read backwards.
#[must_use]
pub fn reading_at(brix: f64, celsius: f64) -> f64 {
    let mut reading = brix;
    // The correction changes by less than a hundredth of what the reading
    // changes by, so each round gains two digits.
    for _ in 0..12 {
        reading = brix - temperature_correction(reading, celsius);
    }
    reading
}

/// The interval of `marks` that holds `x`, and how far along it lies. Beyond
/// the ends the last interval goes on.
fn between(marks: &[f64], x: f64) -> (usize, f64) {
    let i = marks.partition_point(|mark| *mark <= x).clamp(1, marks.len() - 1) - 1;
    (i, (x - marks[i]) / (marks[i + 1] - marks[i]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn index_and_brix_are_inverse() {
        for tenths in 0..=300 {
            let brix = f64::from(tenths) / 10.0;
            assert!((brix_from_index(index_from_brix(brix)) - brix).abs() < 1e-11);
        }
    }

    #[test]
    fn correction_and_reading_are_inverse() {
        for celsius in [10.0, 13.7, 20.0, 24.4, 30.0] {
            for reading in [0.6, 4.9, 12.3, 20.0] {
                let brix = reading + temperature_correction(reading, celsius);
                assert!((reading_at(brix, celsius) - reading).abs() < 1e-12);
            }
        }
    }
}
