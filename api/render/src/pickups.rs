//! Draws months as cards, with the days on which something is taken away.

use crate::Place;
use crate::canvas::Area;
use crate::letters::{Letters, wrapped};
use crate::looks::{FLUID, FLUID_PALE, OUTLINE, RULE, TINT};
use sumpwright_engine::picture::{MonthDrawn, PickupYear};

/// Least width of a card.
const CARD: f64 = 128.0;
/// Most cards beside each other.
const COLUMNS_MOST: f64 = 6.0;
/// Between two cards.
const GAP: f64 = 10.0;
/// Days of a month that have a place.
const DAYS: usize = 31;
/// Days in a row of a card: no week, because a projection has no weekdays.
const IN_A_ROW: usize = 8;
/// Rows of days.
const ROWS: f64 = 4.0;
/// Most width of a day.
const DAY_MOST: f64 = 13.0;
/// Between two days.
const BETWEEN: f64 = 2.0;
/// Height of a line of text.
const LINE: f64 = 16.0;
/// From the edge of a card to what is in it.
const INSET: f64 = 7.0;
/// More months than these are in the answer alone.
const MONTHS_MOST: usize = 36;
/// More pickups of a month than these are counted only.
const PICKUPS_MOST: usize = 3;

pub(crate) fn draw(year: &PickupYear, place: &mut Place<'_>) {
    let mut columns = 1.0;
    while (columns + 1.0) * (CARD + GAP) - GAP <= place.width() && columns < COLUMNS_MOST {
        columns += 1.0;
    }
    // A row that is not full is avoided where a little fewer beside each other do it.
    let months = year.months.iter().take(MONTHS_MOST).fold(0.0, |sum, _| sum + 1.0);
    let fewer = [columns, columns - 1.0, columns - 2.0];
    let even = fewer.into_iter().find(|own| *own > 1.0 && months % own == 0.0);
    let columns = even.unwrap_or(columns);
    let card = (place.width() - (columns - 1.0) * GAP) / columns;
    let day = ((card - 2.0 * INSET + BETWEEN) / 8.0 - BETWEEN).min(DAY_MOST);
    let months = year.months.iter().take(MONTHS_MOST);
    let said: Vec<_> =
        months.map(|month| (month, said(year, month, place, card - 2.0 * INSET))).collect();
    let lines = said.iter().map(|(_, lines)| lines.iter().fold(0.0, |high, _| high + LINE));
    let high = 28.0 + ROWS * (day + BETWEEN) + lines.fold(0.0, f64::max) + 7.0;
    let (mut x, mut column) = (place.left, 0.0);
    for (month, lines) in &said {
        if column >= columns {
            (x, column) = (place.left, 0.0);
            place.top += high + GAP;
        }
        one(month, lines, place, Area { x, y: place.top, w: card, h: high }, day);
        x += card + GAP;
        column += 1.0;
    }
    place.top += high;
    let more = year.months.len().saturating_sub(MONTHS_MOST);
    if more > 0 {
        place.top += 20.0;
        let text = format!("and {more} more months");
        place.canvas.text(place.left, place.top - 3.0, &text, Letters::SOFT);
    }
}

/// What is said of a month, in lines that fit its card: each pickup, and what is left.
fn said(
    year: &PickupYear,
    month: &MonthDrawn,
    place: &Place<'_>,
    room: f64,
) -> Vec<(String, Letters)> {
    let figures = place.figures;
    let mut lines = Vec::new();
    let mut say = |text: String, letters: Letters| {
        lines.extend(wrapped(&text, room, letters).into_iter().map(|line| (line, letters)));
    };
    for pickup in month.pickups.iter().take(PICKUPS_MOST) {
        let amount = figures.amount(year.row, pickup.amount);
        say(format!("day\u{a0}{}: {amount}", pickup.day_of_month), Letters::BOLD);
    }
    let more = month.pickups.len().saturating_sub(PICKUPS_MOST);
    if more > 0 {
        say(format!("{more} more"), Letters::BOLD);
    }
    if let Some(on_site) = month.left {
        say(format!("{}: {}", year.label, figures.amount(year.row, on_site)), Letters::SOFT);
    }
    lines
}

fn one(
    month: &MonthDrawn,
    lines: &[(String, Letters)],
    place: &mut Place<'_>,
    card: Area,
    day: f64,
) {
    place.canvas.rect(TINT, card);
    place.canvas.rect(RULE, card);
    let left = card.x + INSET;
    let name = format!("month {}", month.number);
    place.canvas.text(left, card.y + 18.0, &name, Letters::BOLD);
    let (mut x, mut y) = (left, card.y + 27.0);
    for number in 1..=DAYS {
        let area = Area { x, y, w: day, h: day };
        let taken = month.pickups.iter().any(|pickup| pickup.day_of_month == number);
        place.canvas.rect(if taken { FLUID } else { FLUID_PALE }, area);
        if taken {
            place.canvas.rect(OUTLINE, area);
        }
        x += day + BETWEEN;
        if number.is_multiple_of(IN_A_ROW) {
            (x, y) = (left, y + day + BETWEEN);
        }
    }
    let mut base = card.y + 27.0 + ROWS * (day + BETWEEN) + 13.0;
    for (line, letters) in lines {
        place.canvas.text(left, base, line, *letters);
        base += LINE;
    }
}
