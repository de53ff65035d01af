//! A day of the calendar.

use crate::sentence;
use crate::text::{Faults, Part};
use jiff::civil::{Date, Weekday};
use serde::de::{Deserialize, Deserializer, Error as _};
use serde::{Serialize, Serializer};
use smol_str::SmolStr;
use std::fmt;
use utoipa::openapi::schema::{KnownFormat, ObjectBuilder, SchemaFormat, Type};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

/// A day of the calendar, written as ISO 8601 writes it: 2026-11-30.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct CalendarDate(Date);

impl CalendarDate {
    /// The day so many days later; none beyond the calendar.
    #[must_use]
    pub fn later(self, days: i64) -> Option<Self> {
        let span = jiff::Span::new().try_days(days).ok()?;
        self.0.checked_add(span).ok().map(Self)
    }

    /// How many days it is from `earlier` to this day; negative where it is before it.
    #[must_use]
    pub fn days_since(self, earlier: Self) -> i64 {
        i64::from((self.0 - earlier.0).get_days())
    }

    /// The day of the week, counted from 0 on Monday.
    #[must_use]
    pub fn weekday(self) -> usize {
        usize::from(self.0.weekday().to_monday_zero_offset().unsigned_abs())
    }

    /// The year and the month that it lies in.
    #[must_use]
    pub fn month(self) -> (i16, i8) {
        (self.0.year(), self.0.month())
    }

    /// The day as the calendar's own arithmetic has it.
    pub(crate) const fn civil(self) -> Date {
        self.0
    }

    /// The day with its weekday, as people say it: "Monday 2026-11-30".
    #[must_use]
    pub fn said(self) -> String {
        let weekday = match self.0.weekday() {
            Weekday::Monday => "Monday",
            Weekday::Tuesday => "Tuesday",
            Weekday::Wednesday => "Wednesday",
            Weekday::Thursday => "Thursday",
            Weekday::Friday => "Friday",
            Weekday::Saturday => "Saturday",
            Weekday::Sunday => "Sunday",
        };
        format!("{weekday} {self}")
    }
}

impl fmt::Display for CalendarDate {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(&self.0, formatter)
    }
}

impl From<CalendarDate> for Part {
    fn from(date: CalendarDate) -> Self {
        Self::from(date.to_string())
    }
}

impl Serialize for CalendarDate {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

/// A day as a document writes it. Any text is read; a check refuses what is no day, as
/// a number out of its range is.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(transparent)]
pub struct DayText(SmolStr);

impl DayText {
    /// The day; none where the text is of no day.
    #[must_use]
    pub fn day(&self) -> Option<CalendarDate> {
        parsed(&self.0)
    }

    /// Notes it where the text at `pointer` is of no day.
    pub(crate) fn check(&self, pointer: impl Into<String>, faults: &mut Faults) {
        if self.day().is_none() {
            let text = sentence!(
                "\"{}\" is no day of the calendar. Write year, month and day, such as 2026-11-30.",
                self.0.as_str()
            );
            faults.add(pointer, text);
        }
    }
}

impl PartialSchema for DayText {
    fn schema() -> RefOr<Schema> {
        CalendarDate::schema()
    }
}

impl ToSchema for DayText {}

/// What has a time of day is a moment and no day.
fn parsed(text: &str) -> Option<CalendarDate> {
    let is_long = text.len() == "2026-11-30".len();
    is_long.then(|| text.parse().ok()).flatten().map(CalendarDate)
}

impl<'de> Deserialize<'de> for CalendarDate {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = SmolStr::deserialize(deserializer)?;
        parsed(&text).ok_or_else(|| D::Error::custom("not a day as ISO 8601 writes it"))
    }
}

impl PartialSchema for CalendarDate {
    fn schema() -> RefOr<Schema> {
        let text = ObjectBuilder::new().schema_type(Type::String);
        text.format(Some(SchemaFormat::KnownFormat(KnownFormat::Date))).into()
    }
}

impl ToSchema for CalendarDate {}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::UnitSystem;
    use crate::text::Kind;
    use serde_json::json;

    fn date(text: &str) -> CalendarDate {
        serde_json::from_value(json!(text)).expect("a day")
    }

    /// 2000 was a leap year, and 2026-11-30 a Monday.
    #[test]
    fn days_are_counted_by_the_calendar() {
        assert_eq!(date("2000-03-01").days_since(date("2000-02-28")), 2);
        assert_eq!(date("2026-11-30").days_since(date("2026-12-02")), -2);
        assert_eq!(date("2026-12-30").later(3), Some(date("2027-01-02")));
        assert_eq!(date("2026-11-30").said(), "Monday 2026-11-30");
        assert_eq!(date("2026-11-30").weekday(), 0);
        assert_eq!(date("2027-01-03").weekday(), 6);
        assert_eq!(date("2027-01-03").month(), (2027, 1));
    }

    #[test]
    fn what_is_no_day_is_refused_in_words() {
        for text in ["30.11.2026", "2026-11-30T06:00", "2026-02-30", "today", ""] {
            let read: DayText = serde_json::from_value(json!(text)).expect("any text");
            let mut faults = Faults::default();
            read.check("/today", &mut faults);
            let refused = faults.or_refuse(Kind::OutOfRange).expect_err("no day");
            let said = refused.faults[0].detail.show(UnitSystem::Metric);
            assert!(said.contains("such as 2026-11-30"), "{said}");
        }
    }
}
