//! Times of the plan as a person reads them off a clock.

use crate::quantity::{Days, Quantity};

/// A time of the plan: "day 4, 13:06".
pub(super) fn moment(word: &str, day: Days) -> String {
    const MINUTES_PER_DAY: f64 = 24.0 * 60.0;
    let minutes = (day.get() * MINUTES_PER_DAY).round();
    let of_day = minutes % MINUTES_PER_DAY;
    let (hour, minute) = ((of_day / 60.0).floor(), of_day % 60.0);
    format!("{word} {}, {hour:02}:{minute:02}", (minutes / MINUTES_PER_DAY).floor())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_of_the_plan_is_a_day_and_a_clock() {
        let at = |day: f64| moment("Day", Days::of(day).expect("a day"));
        assert_eq!(at(0.25), "Day 0, 06:00");
        // By hand: 0.546 days are 13 h and 6.24 min.
        assert_eq!(at(4.546), "Day 4, 13:06");
        assert_eq!(at(1.999_99), "Day 2, 00:00");
    }
}
