//! A day of the calendar.

use crate::text::Part;
use jiff::civil::{Date, Weekday};
use serde::de::{Deserialize, Deserializer, Error as _};
use serde::{Serialize, Serializer};
use std::borrow::Cow;
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

impl<'de> Deserialize<'de> for CalendarDate {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = Cow::<'de, str>::deserialize(deserializer)?;
        // What has a time of day is a moment and no day.
        let date = (text.len() == "2026-11-30".len()).then(|| text.parse().ok()).flatten();
        date.map(Self).ok_or_else(|| {
            D::Error::custom(format_args!(
                "\"{text}\" is no day as ISO 8601 writes it, such as 2026-11-30"
            ))
        })
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
    }

    #[test]
    fn what_is_no_day_is_refused_in_words() {
        for text in ["30.11.2026", "2026-11-30T06:00", "2026-02-30", "today", ""] {
            let refused = serde_json::from_value::<CalendarDate>(json!(text)).expect_err("no day");
            assert!(refused.to_string().contains("such as 2026-11-30"), "{refused}");
        }
    }
}
