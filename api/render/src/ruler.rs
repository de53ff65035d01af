//! Draws a ruler in its true size: strips to cut out and glue onto each other.
//!
//! A pixel of CSS is 1/96 inch by definition, so lengths on paper are lengths in pixels here, and
//! the drawing says its size in millimetres.

use crate::Place;
use crate::canvas::Area;
use crate::letters::{Letters, wrapped};
use crate::looks::{FLUID, FLUID_PALE, INK, LINE, OUTLINE, RULE};
use crate::ticks::Axis;
use sumpwright_engine::numerics::digits::round_to;
use sumpwright_engine::picture::DipRuler;
use sumpwright_engine::quantity::{Length, Quantity, UnitSystem, Volume};

/// Pixels of CSS in a millimetre.
const MILLIMETRE: f64 = 96.0 / 25.4;
/// Most length of a strip but for a line, mm: with what stands above it, it fits A4 and US Letter.
const STRIP: f64 = 200.0;
/// Width of a strip.
const WIDE: f64 = 128.0;
/// Where the numbers of the levels begin, from the left side of a strip.
const NUMBERS: f64 = 24.0;
/// Between two strips.
const GAP: f64 = 14.0;
/// So many strips are drawn at most; a deeper sump has a table.
const STRIPS_MOST: usize = 10;

/// How a ruler is marked: the length of the bar to check it by, and the steps of its marks.
struct Marks {
    check: f64,
    check_narrow: f64,
    /// From one line to the next, mm.
    fine: f64,
    /// So many lines from one number to the next.
    each: usize,
}

pub(crate) fn draw(ruler: &DipRuler, place: &mut Place<'_>) {
    let marks = match place.figures.units {
        UnitSystem::Metric => Marks { check: 100.0, check_narrow: 50.0, fine: 5.0, each: 2 },
        UnitSystem::Us => Marks { check: 101.6, check_narrow: 50.8, fine: 6.35, each: 2 },
    };
    let check =
        if marks.check * MILLIMETRE <= place.width() { marks.check } else { marks.check_narrow };
    let long = place.figures.amount_to(Length::ROW, check, 6);
    let said = [
        format!("Print at 100 %, not fitted to the page: this bar must be {long} long."),
        "Cut the strips out and glue each onto the one before. The lower end of strip 1 stands on the lowest \
         point of the sump; the arrow is its working level. Pumps off, and the machine locked out, before you reach in."
            .to_owned(),
    ];
    for (i, text) in said.iter().enumerate() {
        for line in wrapped(text, place.width(), Letters::PLAIN) {
            place.top += 17.0;
            place.canvas.text(place.left, place.top - 4.0, &line, Letters::PLAIN);
        }
        if i == 0 {
            let y = place.top + 8.0;
            let (from, to) = (place.left, place.left + check * MILLIMETRE);
            place.canvas.line(LINE, (from, y), (to, y));
            for x in [from, to] {
                place.canvas.line(LINE, (x, y - 6.0), (x, y + 6.0));
            }
            place.top += 20.0;
        }
    }
    place.top += 14.0;
    strips(ruler, place, &marks);
}

fn strips(ruler: &DipRuler, place: &mut Place<'_>, marks: &Marks) {
    let brim = ruler.brim();
    // Strips are about equally long, and each ends where a line is.
    let strips = (brim / STRIP).ceil().max(1.0);
    let long = (brim / strips / marks.fine).ceil() * marks.fine;
    let (mut from, mut x) = (0.0, place.left);
    let mut deepest = place.top;
    for number in 1..=STRIPS_MOST {
        if from >= brim {
            break;
        }
        let to = (from + long).min(brim);
        if x + WIDE > place.right + 0.5 {
            x = place.left;
            place.top = deepest + GAP + 10.0;
        }
        let name = format!("strip {number}");
        let units = [Length::ROW, Volume::ROW].map(|row| place.figures.unit(row));
        place.canvas.text(x, place.top + 12.0, &name, Letters::BOLD);
        place.canvas.text(x + NUMBERS, place.top + 30.0, units[0], Letters::SOFT);
        place.canvas.text(x + WIDE - 5.0, place.top + 30.0, units[1], Letters::SOFT.end());
        let high = (to - from) * MILLIMETRE;
        let area = Area { x, y: place.top + 38.0, w: WIDE, h: high };
        strip(ruler, place, marks, area, (from, to));
        deepest = deepest.max(area.y + high);
        x += WIDE + GAP;
        from = to;
    }
    place.top = deepest;
    if from < brim {
        place.top += 22.0;
        let text = "The sump is deeper than the strips reach: see the dip table.";
        for line in wrapped(text, place.width(), Letters::SOFT) {
            place.canvas.text(place.left, place.top, &line, Letters::SOFT);
            place.top += 17.0;
        }
    }
}

fn strip(
    ruler: &DipRuler,
    place: &mut Place<'_>,
    marks: &Marks,
    area: Area,
    (from, to): (f64, f64),
) {
    const SHORT: f64 = 10.0;
    const LONG: f64 = 20.0;
    let figures = place.figures;
    let up = Axis::of(from, to, area.y + area.h, area.y);
    let working = ruler.working_level;
    let wet = working.clamp(from, to);
    if wet > from {
        let fill = Area::between((area.x, up.place(from)), (area.x + 6.0, up.place(wet)));
        place.canvas.rect(FLUID_PALE, fill);
    }
    place.canvas.rect(OUTLINE, area);
    let mut line: usize = 0;
    let mut level = 0.0;
    // Room that a number takes up and down from its line.
    let clear = 8.0;
    while level <= to + 1e-6 {
        let numbered = line.is_multiple_of(marks.each);
        if level >= from - 1e-6 {
            let y = up.place(level);
            let length = if numbered { LONG } else { SHORT };
            place.canvas.line(OUTLINE, (area.x, y), (area.x + length, y));
            // At the ends a number would lie across the cut.
            let inside = y - clear >= area.y && y + clear <= area.y + area.h;
            let at_mark = (working - level).abs() * MILLIMETRE < 16.0;
            if numbered && inside && !at_mark {
                let shown = figures.number(round(figures.shown(Length::ROW, level)));
                place.canvas.text(area.x + NUMBERS, y + 4.5, &shown, Letters::SOFT);
                let litres = volume(ruler, place, level);
                place.canvas.text(area.x + WIDE - 5.0, y + 4.5, &litres, Letters::BOLD.end());
            }
        }
        line += 1;
        level += marks.fine;
    }
    let is_here = working > from && working <= to;
    let y = up.place(working.clamp(from, to));
    if is_here && y - clear >= area.y && y + clear <= area.y + area.h {
        place.canvas.rect(FLUID, Area { x: area.x, y: y - 1.5, w: LONG + 6.0, h: 3.0 });
        let litres = volume(ruler, place, working);
        place.canvas.polygon(
            INK,
            &[(area.x + 32.0, y), (area.x + 39.0, y - 5.0), (area.x + 39.0, y + 5.0)],
        );
        place.canvas.text(area.x + WIDE - 5.0, y + 4.5, &litres, Letters::BOLD.end());
    }
    place.canvas.line(RULE, (area.x, area.y), (area.x + area.w, area.y));
}

/// What the sump holds at a level, to three digits and without its unit.
fn volume(ruler: &DipRuler, place: &Place<'_>, level: f64) -> String {
    let shown = place.figures.shown(Volume::ROW, ruler.litres_at(level));
    place.figures.number(round_to(shown, 3))
}

/// A length without binary noise.
fn round(length: f64) -> f64 {
    round_to(length, 6)
}
