//! Draws weeks below each other, where there is room in columns of whole months: a square for each
//! day, as dark as its hours are taken, and beside them what is done.

use crate::Place;
use crate::canvas::Area;
use crate::letters::{Letters, fitted, wrapped};
use crate::looks::{FLUID, FLUID_MIDDLE, FLUID_PALE, Hatching, Look, RULE, Shade, TINT};
use sumpwright_engine::picture::{CalendarYear, DayDrawn, WeekDrawn};

/// The sides of a day.
const DAY: f64 = 15.0;
/// Between two days.
const BETWEEN: f64 = 2.0;
/// Height of a line of text.
const LINE: f64 = 17.0;
/// Room for the date of a week.
const DATE: f64 = 84.0;
/// Width of a column of months.
const COLUMN: f64 = 340.0;
/// More columns than these are hard to follow.
const COLUMNS_MOST: f64 = 3.0;
/// Weeks by which a column may end early, so that it ends with the nearest month.
const HALF_A_MONTH: f64 = 2.0;
/// From the days to the names.
const GAP: f64 = 10.0;
/// More weeks than these are in the answer alone.
const WEEKS_MOST: usize = 60;
/// The share of a line that a name may take.
const NAME: f64 = 0.6;
/// Names of the days, counted from 0 on Monday.
const DAYS: [&str; 7] = ["Mo", "Tu", "We", "Th", "Fr", "Sa", "Su"];

/// What a square says.
const NOBODY: Shade = Shade { fill: TINT, hatching: Hatching::Up };
const FREE: Shade = plain(TINT);
const HALF: Shade = plain(FLUID_PALE);
const MOST: Shade = plain(FLUID_MIDDLE);
const FULL: Shade = plain(FLUID);

const fn plain(fill: Look) -> Shade {
    Shade { fill, hatching: Hatching::None }
}

/// The shade of a day whose hours are taken to this share.
fn shade(load: Option<f64>) -> Shade {
    match load {
        None => NOBODY,
        Some(load) if load <= 0.0 => FREE,
        Some(load) if load <= 0.5 => HALF,
        Some(load) if load < 0.9 => MOST,
        Some(_) => FULL,
    }
}

pub(crate) fn draw(year: &CalendarYear, place: &mut Place<'_>) {
    legend(place);
    let weeks = &year.weeks[..year.weeks.len().min(WEEKS_MOST)];
    let (left, right, top) = (place.left, place.right, place.top);
    let columns = ((right - left) / COLUMN).floor().clamp(1.0, COLUMNS_MOST);
    let (wide, beside) = ((right - left) / columns, place.is_wide());
    let mut bottom = top;
    for (weeks, number) in in_columns(weeks, columns).into_iter().zip(0_u8..) {
        place.left = left + f64::from(number) * wide;
        place.right = place.left + wide - if columns > 1.0 { GAP } else { 0.0 };
        place.top = top;
        names_of_days(place);
        for week in weeks {
            one(week, beside, place);
        }
        bottom = bottom.max(place.top);
    }
    (place.left, place.right, place.top) = (left, right, bottom);
    let more = year.weeks.len().saturating_sub(WEEKS_MOST);
    if more > 0 {
        place.top += LINE;
        let text = format!("and {more} more weeks");
        place.canvas.text(place.left, place.top - 4.0, &text, Letters::SOFT);
    }
}

/// The weeks in columns of about one length, each beginning with a month.
fn in_columns(weeks: &[WeekDrawn], columns: f64) -> Vec<&[WeekDrawn]> {
    #[expect(clippy::cast_precision_loss, reason = "a year has few weeks")]
    let (all, at_most) = (weeks.len() as f64, |count: usize| count as f64);
    let mut found: Vec<&[WeekDrawn]> = Vec::new();
    let mut begun = 0;
    for (at, week) in weeks.iter().enumerate().skip(1) {
        let full = at_most(at) + HALF_A_MONTH >= all * (at_most(found.len()) + 1.0) / columns;
        if full && week.month.is_some() {
            found.push(&weeks[begun..at]);
            begun = at;
        }
    }
    found.push(&weeks[begun..]);
    found
}

/// A week: its first day, its days, and what is done on each. Where it is narrow the names stand
/// below the days.
fn one(week: &WeekDrawn, beside: bool, place: &mut Place<'_>) {
    if let Some(month) = &week.month {
        place.top += 12.0;
        place.canvas.text(place.left, place.top + 11.0, month, Letters::BOLD);
        place.top += 18.0;
        place.canvas.line(RULE, (place.left, place.top), (place.right, place.top));
        place.top += 6.0;
    }
    let top = place.top;
    place.canvas.text(place.left, top + 12.0, &week.from, Letters::SOFT);
    let mut x = place.left + DATE;
    for day in &week.days {
        square(day, Area { x, y: top, w: DAY, h: DAY }, place);
        x += DAY + BETWEEN;
    }
    let left = if beside { x + GAP } else { place.left + DATE };
    let mut base = if beside { top + 12.0 } else { top + DAY + 13.0 };
    let text = named(week, place.right - left);
    let mut bottom = top + DAY;
    for line in wrapped(&text, place.right - left, Letters::PLAIN) {
        place.canvas.text(left, base, &line, Letters::PLAIN);
        bottom = bottom.max(base + 4.0);
        base += LINE;
    }
    place.top = bottom + 4.0;
}

/// "Fr lathe 1, mill 2; Sa saw".
fn named(week: &WeekDrawn, room: f64) -> String {
    let days = DAYS.iter().enumerate().filter_map(|(day, called)| {
        let names = week.names.iter().filter(|(own, _)| *own == day);
        let names: Vec<String> =
            names.map(|(_, name)| fitted(name, NAME * room, Letters::PLAIN)).collect();
        (!names.is_empty()).then(|| format!("{called}\u{a0}{}", names.join(", ")))
    });
    days.collect::<Vec<_>>().join("; ")
}

fn square(day: &DayDrawn, area: Area, place: &mut Place<'_>) {
    if !day.in_plan {
        return;
    }
    place.canvas.shaded(shade(day.load), area);
}

/// What the shades say.
fn legend(place: &mut Place<'_>) {
    let each = [
        (FREE, "free"),
        (HALF, "to half of the hours"),
        (MOST, "more"),
        (FULL, "full"),
        (NOBODY, "nobody works"),
    ];
    let mut x = place.left;
    for (shade, said) in each {
        let wide = DAY + 6.0 + Letters::PLAIN.width_of(said) + 16.0;
        if x > place.left && x + wide > place.right {
            x = place.left;
            place.top += LINE + 3.0;
        }
        place.canvas.shaded(shade, Area { x, y: place.top, w: DAY, h: DAY });
        place.canvas.text(x + DAY + 6.0, place.top + 12.0, said, Letters::PLAIN);
        x += wide;
    }
    place.top += LINE + 8.0;
}

/// The names of the days above their squares.
fn names_of_days(place: &mut Place<'_>) {
    let mut x = place.left + DATE + DAY / 2.0;
    for day in DAYS {
        let letter = day.get(..1).unwrap_or(day);
        place.canvas.text(x, place.top + 10.0, letter, Letters::SMALL.middle());
        x += DAY + BETWEEN;
    }
    place.top += 6.0;
}
