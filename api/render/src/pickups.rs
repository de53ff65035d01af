//! Draws months as cards, with the days on which something is taken away.

use crate::Place;
use crate::canvas::Area;
use crate::letters::{Letters, fitted};
use crate::looks::{FLUID, FLUID_PALE, OUTLINE, RULE, TINT};
use sumpwright_engine::picture::{MonthDrawn, PickupYear};

/// Least width of a card.
const CARD: f64 = 104.0;
/// Between two cards.
const GAP: f64 = 10.0;
/// Days of a month that have a place.
const DAYS: usize = 31;
/// Days in a row of a card.
const IN_A_ROW: usize = 7;
/// Between two days.
const BETWEEN: f64 = 2.0;
/// More months than these are in the answer alone.
const MONTHS_MOST: usize = 36;

pub(crate) fn draw(year: &PickupYear, place: &mut Place<'_>) {
    let mut columns = 1.0;
    while (columns + 1.0) * (CARD + GAP) - GAP <= place.width() && columns < 6.0 {
        columns += 1.0;
    }
    let card = (place.width() - (columns - 1.0) * GAP) / columns;
    let day = (card - 12.0) / 7.0 - BETWEEN;
    let most = year.months.iter().map(|month| month.pickups.len()).max().unwrap_or(0);
    let lines = 1 + most.clamp(1, 3);
    let mut high = 28.0 + 5.0 * (day + BETWEEN) + 6.0;
    (0..lines).for_each(|_| high += 16.0);
    let (mut x, mut column) = (place.left, 0.0);
    for month in year.months.iter().take(MONTHS_MOST) {
        if column >= columns {
            (x, column) = (place.left, 0.0);
            place.top += high + GAP;
        }
        one(year, month, place, Area { x, y: place.top, w: card, h: high }, day);
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

fn one(year: &PickupYear, month: &MonthDrawn, place: &mut Place<'_>, card: Area, day: f64) {
    let figures = place.figures;
    place.canvas.rect(TINT, card);
    place.canvas.rect(RULE, card);
    let left = card.x + 7.0;
    let room = card.w - 14.0;
    let name = format!("month {}", month.number);
    place.canvas.text(left, card.y + 18.0, &fitted(&name, room, Letters::BOLD), Letters::BOLD);
    let (mut x, mut y) = (left, card.y + 27.0);
    for number in 1..=DAYS {
        let area = Area { x, y, w: day, h: day };
        let taken = month.pickups.iter().any(|pickup| pickup.day_of_month == number);
        if taken {
            place.canvas.rect(FLUID, area);
            place.canvas.rect(OUTLINE, area);
        } else {
            place.canvas.rect(FLUID_PALE, area);
        }
        x += day + BETWEEN;
        if number % IN_A_ROW == 0 {
            (x, y) = (left, y + day + BETWEEN);
        }
    }
    let mut base = y + day + BETWEEN + 14.0;
    let mut write = |text: &str, letters: Letters| {
        place.canvas.text(left, base, &fitted(text, room, letters), letters);
        base += 16.0;
    };
    for (i, pickup) in month.pickups.iter().enumerate().take(3) {
        let amount = figures.amount(year.row, pickup.amount);
        if i == 2 && month.pickups.len() > 3 {
            write(&format!("{} more", month.pickups.len() - 2), Letters::BOLD);
        } else {
            write(&format!("day {}: {amount}", pickup.day_of_month), Letters::BOLD);
        }
    }
    if let Some(on_site) = month.left {
        write(&format!("left {}", figures.amount(year.row, on_site)), Letters::SOFT);
    }
}
