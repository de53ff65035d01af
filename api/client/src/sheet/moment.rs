//! Dates and times of cells, such as 2026-03-02 06:30:00, as a person writes them.

/// A moment without a time at midnight, and without seconds on the minute.
pub(super) fn shown(moment: &str) -> &str {
    let day = moment.strip_suffix(" 00:00:00");
    day.or_else(|| moment.strip_suffix(":00")).unwrap_or(moment)
}

/// Its day and month with a point between them, as a number that became a date was typed.
pub(super) fn day_and_month(moment: &str) -> String {
    let mut parts = moment.split(['-', ' ']).skip(1).map(|part| part.trim_start_matches('0'));
    let (month, day) = (parts.next().unwrap_or_default(), parts.next().unwrap_or_default());
    format!("{day}.{month}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_moment_is_shown_as_a_person_writes_it() {
        assert_eq!(shown("2026-01-04 00:00:00"), "2026-01-04");
        assert_eq!(shown("2026-01-04 06:30:00"), "2026-01-04 06:30");
        assert_eq!(shown("2026-01-04 06:30:15"), "2026-01-04 06:30:15");
        assert_eq!(day_and_month("2026-01-04 00:00:00"), "4.1");
    }
}
