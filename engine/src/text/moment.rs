//! A moment of a log, as people and programs write it.
//!
//! `2026-03-02T06:30:00+01:00` is an instant. `2026-03-02 06:30`, `02.03.2026 06:30` and `3/2/2026
//! 6:30 AM` are what a clock on a wall showed, and `2026-03-02` is a day. Which day 3/2/2026 is
//! hangs on where it was written, so that has to be said once.

use crate::sentence;
use crate::text::Sentence;
use jiff::Timestamp;
use jiff::civil::{Date, DateTime, Time};
use serde::{Deserialize, Serialize};
use smol_str::SmolStr;
use utoipa::openapi::schema::{ObjectBuilder, SchemaFormat, Type};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

/// The longest moment, in characters.
const MOMENT_MOST: usize = 40;

/// A moment as a document writes it. Any text is read; a check refuses what is no moment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct MomentText(SmolStr);

/// The order of day and month in a date that ends with its year.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum DateOrder {
    /// 31/12/2026.
    DayFirst,
    /// 12/31/2026.
    MonthFirst,
}

/// What a moment says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WrittenMoment {
    /// An instant, and what a clock showed where it was written.
    Instant(Timestamp, DateTime),
    /// What a clock on the wall showed.
    Clock(DateTime),
    /// A day.
    Day(Date),
}

impl MomentText {
    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// As people say it: date and time of day to the minute.
    #[must_use]
    pub fn said(&self) -> String {
        /// Characters of a moment of RFC 3339 up to its minutes.
        const TO_THE_MINUTE: usize = 16;
        let text = self.0.trim();
        match text.get(..TO_THE_MINUTE) {
            Some(start) if text.find('T') == Some(10) => start.replace('T', " "),
            _ => text.to_owned(),
        }
    }

    /// What it says, or why it says nothing.
    pub fn read(&self, order: Option<DateOrder>) -> Result<WrittenMoment, Sentence> {
        let text = self.0.trim();
        let (date, rest) = parted(text);
        let no_moment = || {
            sentence!(
                "\"{}\" is no moment. Write a day as 2026-03-02, a time of the clock as 2026-03-02 \
                 06:30, or a moment with its offset from UTC as 2026-03-02T06:30:00+01:00.",
                text
            )
        };
        let date = date_of(date, order)?.ok_or_else(no_moment)?;
        if rest.is_empty() {
            return Ok(WrittenMoment::Day(date));
        }
        let (time, offset) = time_of(rest).ok_or_else(no_moment)?;
        let clock = date.to_datetime(time);
        if offset.is_empty() {
            return Ok(WrittenMoment::Clock(clock));
        }
        let instant = format!("{date}T{time}{offset}").parse().map_err(|_| no_moment())?;
        Ok(WrittenMoment::Instant(instant, clock))
    }
}

/// The day that a cell of a table has, as ISO 8601 writes it; a spreadsheet may have put midnight
/// behind it. None where it is no day.
///
/// # Errors
///
/// A day that can be read in two ways.
pub fn day_in_cell(text: &str) -> Result<Option<String>, Sentence> {
    let (date, time) = parted(text.trim());
    let midnight = Some((Time::midnight(), String::new()));
    if !time.is_empty() && time_of(time) != midnight {
        return Ok(None);
    }
    let Ok(read) = date_of(date, None) else {
        let day = |order| {
            let read = date_of(date, Some(order))?;
            Ok::<_, Sentence>(read.map_or(String::new(), |day| day.to_string()))
        };
        return Err(sentence!(
            "\"{}\" can be {} or {}. Write the year first, then month and day.",
            date,
            day(DateOrder::MonthFirst)?,
            day(DateOrder::DayFirst)?
        ));
    };
    Ok(read.map(|day| day.to_string()))
}

/// The date, and the time of day behind it.
fn parted(text: &str) -> (&str, &str) {
    match text.find([' ', 'T', 't', ',']) {
        Some(at) => (&text[..at], text[at + 1..].trim()),
        None => (text, ""),
    }
}

/// The day; none where it is no date.
fn date_of(date: &str, order: Option<DateOrder>) -> Result<Option<Date>, Sentence> {
    let Some(mark) = date.chars().find(|letter| "-./".contains(*letter)) else { return Ok(None) };
    let parts: Option<Vec<i16>> = date.split(mark).map(number).collect();
    let Some([first, second, third]) = parts.as_deref() else { return Ok(None) };
    let (first, second, third) = (*first, *second, *third);
    let day = |year: i16, month: i16, day: i16| {
        let small = |number: i16| i8::try_from(number).ok();
        Date::new(year, small(month)?, small(day)?).ok()
    };
    if date.find(mark) == Some(4) {
        return Ok(day(first, second, third));
    }
    if date.rfind(mark).is_none_or(|at| date.len() != at + 5) {
        return Ok(None);
    }
    Ok(match (mark, order) {
        (_, Some(DateOrder::DayFirst)) | ('.', None) => day(third, second, first),
        (_, Some(DateOrder::MonthFirst)) => day(third, first, second),
        _ if first > 12 => day(third, second, first),
        _ if second > 12 || first == second => day(third, first, second),
        _ => {
            return Err(sentence!(
                "\"{}\" can be day or month first. Write the year first, then month and day, or \
                 say once how the dates are written (date_order).",
                date
            ));
        }
    })
}

/// A time of day, and its offset as it is written.
fn time_of(time: &str) -> Option<(Time, String)> {
    let lower = time.to_lowercase();
    let half = [("am", 0), ("pm", 12)].into_iter().find(|(half, _)| lower.ends_with(half));
    let clock = half.map_or(time, |(half, _)| time[..time.len() - half.len()].trim_end());
    let end = clock.find(|letter: char| !letter.is_ascii_digit() && !":.".contains(letter));
    let (clock, offset) = clock.split_at(end.unwrap_or(clock.len()));
    let mut parts = clock.split(':');
    let (hour, minute) = (number(parts.next()?)?, number(parts.next()?)?);
    let seconds: f64 = parts.next().unwrap_or("0").parse().ok()?;
    let hour = match half {
        Some((_, later)) if (1..=12).contains(&hour) => hour % 12 + later,
        Some(_) => return None,
        None => hour,
    };
    if parts.next().is_some() || !(0.0..60.0).contains(&seconds) {
        return None;
    }
    let small = |number: i16| i8::try_from(number).ok();
    #[expect(clippy::cast_possible_truncation, reason = "less than a minute")]
    let (whole, nanoseconds) = (seconds as i8, (seconds.fract() * 1e9) as i32);
    let time = Time::new(small(hour)?, small(minute)?, whole, nanoseconds).ok()?;
    Some((time, offset.trim().to_owned()))
}

/// A number of at most four digits.
fn number(digits: &str) -> Option<i16> {
    let sound = (1..=4).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit());
    sound.then(|| digits.parse().ok())?
}

impl PartialSchema for MomentText {
    fn schema() -> RefOr<Schema> {
        let text = ObjectBuilder::new().schema_type(Type::String);
        let text = text.format(Some(SchemaFormat::Custom("moment".to_owned())));
        text.min_length(Some(1)).max_length(Some(MOMENT_MOST)).into()
    }
}

impl ToSchema for MomentText {}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::UnitSystem;
    use jiff::civil::{date, datetime};

    fn read(text: &str, order: Option<DateOrder>) -> Result<WrittenMoment, String> {
        let read = MomentText(text.into()).read(order);
        read.map_err(|sentence| sentence.show(UnitSystem::Metric))
    }

    #[test]
    fn a_moment_is_read_as_it_is_written() {
        for (typed, clock) in [
            ("2026-03-02 6:30", datetime(2026, 3, 2, 6, 30, 0, 0)),
            ("2026/3/2 06:30:15", datetime(2026, 3, 2, 6, 30, 15, 0)),
            ("02.03.2026 06:30", datetime(2026, 3, 2, 6, 30, 0, 0)),
            ("02.03.2026, 06:30", datetime(2026, 3, 2, 6, 30, 0, 0)),
            ("3/25/2026 6:30 PM", datetime(2026, 3, 25, 18, 30, 0, 0)),
            ("25/3/2026 12:30 am", datetime(2026, 3, 25, 0, 30, 0, 0)),
        ] {
            assert_eq!(read(typed, None), Ok(WrittenMoment::Clock(clock)), "{typed}");
        }
        for (typed, day) in [
            ("2026-03-02", date(2026, 3, 2)),
            ("02.03.2026", date(2026, 3, 2)),
            ("3-3-2026", date(2026, 3, 3)),
        ] {
            assert_eq!(read(typed, None), Ok(WrittenMoment::Day(day)), "{typed}");
        }
        let instant: Timestamp = "2026-03-02T05:30:00Z".parse().expect("a moment");
        for typed in ["2026-03-02T06:30:00+01:00", "2026-03-02 06:30 +01:00"] {
            let clock = datetime(2026, 3, 2, 6, 30, 0, 0);
            assert_eq!(read(typed, None), Ok(WrittenMoment::Instant(instant, clock)), "{typed}");
        }
    }

    #[test]
    fn which_comes_first_is_asked_once() {
        let asked = read("3/2/2026 6:30", None).expect_err("it may be two");
        assert!(asked.contains("date_order"), "{asked}");
        let day = |order| read("3/2/2026", Some(order));
        assert_eq!(day(DateOrder::DayFirst), Ok(WrittenMoment::Day(date(2026, 2, 3))));
        assert_eq!(day(DateOrder::MonthFirst), Ok(WrittenMoment::Day(date(2026, 3, 2))));
    }

    #[test]
    fn a_cell_has_a_day_with_midnight_behind_it_or_nothing() {
        for typed in ["2026-03-02", " 02.03.2026", "02.03.2026 00:00", "2026-03-02T00:00:00"] {
            assert_eq!(day_in_cell(typed), Ok(Some("2026-03-02".to_owned())), "{typed}");
        }
        for typed in ["2026-03-02 06:30", "yesterday", "2026-02-30", ""] {
            assert_eq!(day_in_cell(typed), Ok(None), "{typed}");
        }
        let refused = day_in_cell("3/2/2026").expect_err("it may be two");
        assert!(refused.show(UnitSystem::Metric).contains("year first"));
    }

    #[test]
    fn what_is_no_moment_is_refused_in_words() {
        for typed in ["", "yesterday", "46083", "2026-03", "2026-02-30", "2026-03-02 noon"] {
            let refused = read(typed, None).expect_err("no moment");
            assert!(refused.contains("is no moment"), "{refused}");
        }
    }
}
