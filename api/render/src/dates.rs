//! Days since the beginning of 1970 as people say them.

const WEEKDAYS: [&str; 7] = ["Thu", "Fri", "Sat", "Sun", "Mon", "Tue", "Wed"];
const MONTHS: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/// A day as weekday and date: "Mon 2 Mar".
pub(crate) fn said(day: i64) -> String {
    let weekday = WEEKDAYS[usize::try_from(day.rem_euclid(7)).unwrap_or_default()];
    let (month, of_month) = month_and_day(day);
    format!("{weekday} {of_month} {}", MONTHS[month])
}

/// The month, counted from 0, and the day of it, counted from 1, by the Gregorian calendar.
fn month_and_day(day: i64) -> (usize, i64) {
    /// Days from the first of March of year 0 to the beginning of 1970.
    const FROM_MARCH_0: i64 = 719_468;
    const IN_400_YEARS: i64 = 146_097;
    let of_era = (day + FROM_MARCH_0).rem_euclid(IN_400_YEARS);
    let year = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year + year / 4 - year / 100);
    let since_march = (5 * of_year + 2) / 153;
    let of_month = of_year - (153 * since_march + 2) / 5 + 1;
    let month = usize::try_from((since_march + 2) % 12).unwrap_or_default();
    (month, of_month)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Dates of which the weekday is known from the calendar.
    #[test]
    fn a_day_is_said_as_the_calendar_has_it() {
        assert_eq!(said(0), "Thu 1 Jan");
        assert_eq!(said(-1), "Wed 31 Dec");
        assert_eq!(said(11_016), "Tue 29 Feb", "2000 is a leap year");
        assert_eq!(said(20_514), "Mon 2 Mar", "2026-03-02");
    }
}
