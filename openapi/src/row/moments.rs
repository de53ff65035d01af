//! Dates and times as spreadsheets write them into cells.
//!
//! A document has moments as RFC 3339 writes them. A cell has `2026-03-02 06:30`, `02.03.2026` or `3/2/2026
//! 6:30 AM`, without an offset from UTC: such a moment is taken as one of UTC. Between two of them lies the same
//! time as between the clocks, but for the hour by which clocks change twice a year.

/// A moment in a cell as RFC 3339 writes it. What is no date at all stays as it is; a date
/// that can be read in two ways is a fault, in a sentence.
pub(crate) fn read(typed: &str) -> Result<String, String> {
    let text = typed.trim();
    let (date, time) = match text.find([' ', 'T', 't']) {
        Some(at) => (&text[..at], text[at + 1..].trim()),
        None => (text, ""),
    };
    let Some((year, month, day)) = date_of(date)? else { return Ok(text.to_owned()) };
    let Some(time) = time_of(time) else { return Ok(text.to_owned()) };
    Ok(format!("{year:04}-{month:02}-{day:02}T{time}"))
}

/// A day in a cell as ISO 8601 writes it; a spreadsheet may have put midnight behind it. What is no
/// day stays as it is; one that can be read in two ways is a fault, in a sentence.
pub(crate) fn day(typed: &str) -> Result<String, String> {
    let moment = read(typed)?;
    Ok(moment.strip_suffix("T00:00:00Z").map_or_else(|| typed.trim().to_owned(), str::to_owned))
}

/// Year, month and day; nothing where it is no date.
fn date_of(date: &str) -> Result<Option<(u16, u16, u16)>, String> {
    let Some(mark) = date.chars().find(|letter| "-./".contains(*letter)) else { return Ok(None) };
    let parts: Option<Vec<u16>> = date.split(mark).map(number).collect();
    let Some([first, second, third]) = parts.as_deref() else { return Ok(None) };
    let (first, second, third) = (*first, *second, *third);
    let begins_with_year = date.find(mark) == Some(4);
    let ends_with_year = date.rfind(mark).is_some_and(|at| date.len() == at + 5);
    Ok(match mark {
        _ if begins_with_year => Some((first, second, third)),
        _ if !ends_with_year => None,
        '.' => Some((third, second, first)),
        _ if first > 12 => Some((third, second, first)),
        _ if second > 12 || first == second => Some((third, first, second)),
        _ => {
            return Err(format!(
                "{date:?} can be {third:04}-{first:02}-{second:02} or \
                 {third:04}-{second:02}-{first:02}. Write the year first, then month and day."
            ));
        }
    })
}

/// A time of day with its offset: midnight where none is given, UTC where there is no offset.
fn time_of(time: &str) -> Option<String> {
    if time.is_empty() {
        return Some("00:00:00Z".to_owned());
    }
    let lower = time.to_lowercase();
    let half = [("am", 0), ("pm", 12)].into_iter().find(|(half, _)| lower.ends_with(half));
    let clock = half.map_or(time, |(half, _)| time[..time.len() - half.len()].trim_end());
    let end = clock.find(|letter: char| !letter.is_ascii_digit() && !":.".contains(letter));
    let (clock, offset) = clock.split_at(end.unwrap_or(clock.len()));
    let offset = offset.trim();
    let mut parts = clock.split(':');
    let (hour, minute) = (number(parts.next()?)?, number(parts.next()?)?);
    let seconds = parts.next().unwrap_or("00");
    if parts.next().is_some() || !seconds.starts_with(|letter: char| letter.is_ascii_digit()) {
        return None;
    }
    let hour = match half {
        Some((_, later)) if (1..=12).contains(&hour) => hour % 12 + later,
        Some(_) => return None,
        None => hour,
    };
    let offset = if offset.is_empty() { "Z" } else { offset };
    Some(format!("{hour:02}:{minute:02}:{seconds}{offset}"))
}

/// A number of at most four digits.
fn number(digits: &str) -> Option<u16> {
    let sound = (1..=4).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit());
    sound.then(|| digits.parse().ok())?
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_date_is_read_as_it_is_written() {
        for (typed, moment) in [
            ("2026-03-02T06:30:00+01:00", "2026-03-02T06:30:00+01:00"),
            ("2026-03-02T06:30:00.5Z", "2026-03-02T06:30:00.5Z"),
            ("2026-03-02", "2026-03-02T00:00:00Z"),
            ("2026-03-02 6:30", "2026-03-02T06:30:00Z"),
            ("2026/3/2 06:30:15", "2026-03-02T06:30:15Z"),
            ("02.03.2026 06:30", "2026-03-02T06:30:00Z"),
            ("3/25/2026 6:30 PM", "2026-03-25T18:30:00Z"),
            ("25/3/2026 12:30 am", "2026-03-25T00:30:00Z"),
            ("3-3-2026", "2026-03-03T00:00:00Z"),
            ("2026-03-02 06:30 +01:00", "2026-03-02T06:30:00+01:00"),
        ] {
            assert_eq!(read(typed).as_deref(), Ok(moment), "{typed}");
        }
    }

    /// A day has no time of day, but for the midnight that a spreadsheet puts behind it.
    #[test]
    fn a_day_is_read_as_it_is_written() {
        for (typed, read) in [
            ("2026-11-30", "2026-11-30"),
            ("30.11.2026", "2026-11-30"),
            ("11/30/2026 12:00 AM", "2026-11-30"),
            (" 2026-11-30 00:00:00", "2026-11-30"),
            ("2026-11-30 06:30", "2026-11-30 06:30"),
            ("Monday", "Monday"),
        ] {
            assert_eq!(day(typed).as_deref(), Ok(read), "{typed}");
        }
        assert!(day("3/2/2026").expect_err("it may be two").contains("2026-03-02 or 2026-02-03"));
    }

    #[test]
    fn what_is_no_date_stays_and_what_may_be_two_is_asked_back() {
        for typed in ["", "yesterday", "4.1", "2.3.26", "2026-03", "1.2.3.4", "2026-03-02 noon"] {
            assert_eq!(read(typed).as_deref(), Ok(typed));
        }
        let asked = read("3/2/2026 6:30").expect_err("it may be two");
        assert!(asked.contains("2026-03-02 or 2026-02-03"), "{asked}");
    }
}
