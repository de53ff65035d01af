//! Draws the layers of a panel, and says what each of them is called.

use super::across::AcrossAxis;
use super::extent::Tops;
use super::{LANE, LANES_MOST};
use crate::Place;
use crate::canvas::Area;
use crate::legend::{self, Named, Sample};
use crate::letters::Letters;
use crate::looks::{
    BAND_SHADE, DASHES, FLUID_LINE, FLUID_PALE, HOLLOW, INK, LIMIT_DASHES, LINE, OUT_SHADE,
    OUTLINE, PALE_SHADE, RULE, SHADES, Shade,
};
use crate::ticks::Axis;
use sumpwright_engine::picture::{Layer, Panel};

/// What the layers of a panel are called, in their order, each name once.
pub(super) fn named(panel: &Panel, kinds: &[&str]) -> Vec<Named> {
    let (mut lines, mut stacks, mut limits) = (0, 0, 0);
    let mut named: Vec<Named> = Vec::new();
    for layer in &panel.layers {
        let (sample, label) = match layer {
            Layer::Band { label, .. } => (Sample::Area(band_shade(panel)), label),
            Layer::Range { label, .. } => (Sample::Area(PALE_SHADE), label),
            Layer::Stretch { label, .. } => (Sample::Area(OUT_SHADE), label),
            Layer::Whiskers { label, .. } => (Sample::Whisker, label),
            Layer::Limit { label, .. } => {
                limits += 1;
                (Sample::Limit(limit_dashes(limits)), label)
            }
            Layer::Points { label, .. } => (Sample::Point, label),
            Layer::ReadOff { label, .. } => (Sample::ReadOff, label),
            Layer::Line { label, .. } => {
                lines += 1;
                (line_sample(lines), label)
            }
            Layer::Bars { label, .. } => {
                stacks += 1;
                (Sample::Area(SHADES[(stacks - 1) % SHADES.len()]), label)
            }
            Layer::Event { label, .. } => {
                let Some(kind) = kinds.iter().position(|kind| **kind == **label) else { continue };
                (Sample::Moment(kind), label)
            }
        };
        let is_empty = match layer {
            Layer::Bars { bars, .. } => bars.iter().all(|bar| bar.height <= 0.0),
            Layer::Points { points, .. } | Layer::Line { points, .. } => points.is_empty(),
            Layer::Range { points, .. } | Layer::Whiskers { points, .. } => points.is_empty(),
            _ => false,
        };
        let is_known = named.iter().any(|own| own.sample == sample && own.name == **label);
        if !is_empty && !is_known {
            named.push(Named { sample, name: label.to_string(), at: 0.0 });
        }
    }
    named
}

/// What a band is filled with: more quietly where an interval lies on it.
fn band_shade(panel: &Panel) -> Shade {
    let has_interval = panel.layers.iter().any(|layer| matches!(layer, Layer::Range { .. }));
    if has_interval { BAND_SHADE } else { PALE_SHADE }
}

/// The look of a line by its number, counted from 1: the first has the colour of fluid and no
/// dashes, and every other has dashes of its own.
fn line_sample(number: usize) -> Sample {
    match number.checked_sub(2) {
        None => Sample::MainLine,
        Some(other) => Sample::Line(DASHES[1 + other % (DASHES.len() - 1)]),
    }
}

/// The dashes of a limit by its number, counted from 1.
fn limit_dashes(number: usize) -> &'static str {
    LIMIT_DASHES[(number - 1) % LIMIT_DASHES.len()]
}

/// Draws a panel.
pub(super) struct Pen<'a, 'b> {
    pub(super) place: &'a mut Place<'b>,
    pub(super) panel: &'a Panel,
    pub(super) across: &'a AcrossAxis,
    /// The axis upwards, in the reader's units.
    pub(super) up: Axis,
    /// The kinds of moments that have a row, in their order.
    pub(super) kinds: &'a [&'a str],
    /// Where text stands already.
    pub(super) taken: Vec<Area>,
}

impl Pen<'_, '_> {
    fn y(&self, metric: f64) -> f64 {
        self.up.place_within(self.place.figures.shown(self.panel.row, metric))
    }

    fn at(&self, (x, metric): (f64, f64)) -> (f64, f64) {
        (self.across.place(x), self.y(metric))
    }

    /// Areas that lie behind the grid.
    pub(super) fn behind(&mut self) {
        let (left, right) = self.across.sides();
        for layer in &self.panel.layers {
            match layer {
                Layer::Band { low, high, .. } => {
                    let area = Area::between((left, self.y(*low)), (right, self.y(*high)));
                    self.place.canvas.shaded_open(band_shade(self.panel), area);
                    for y in [self.y(*low), self.y(*high)] {
                        self.place.canvas.line(RULE, (left, y), (right, y));
                    }
                }
                Layer::Range { points, .. } => {
                    let low = points.iter().map(|(x, low, _)| self.at((*x, *low)));
                    let high = points.iter().rev().map(|(x, _, high)| self.at((*x, *high)));
                    let outline: Vec<(f64, f64)> = low.chain(high).collect();
                    if !outline.is_empty() {
                        self.place.canvas.polygon(FLUID_PALE, &outline);
                    }
                }
                _ => {}
            }
        }
        // Over the bands, which show through.
        for layer in &self.panel.layers {
            let Layer::Stretch { from, to, .. } = layer else { continue };
            let (from, to) = (self.across.place(*from), self.across.place(*to));
            let area = Area::between((from, self.up.begin), (to, self.up.end));
            self.place.canvas.shaded_open(OUT_SHADE, area);
        }
    }

    /// Everything else, and where each thing ends that has a name.
    pub(super) fn in_front(&mut self, named: &mut [Named]) {
        let mut tops = Tops::default();
        let (mut lines, mut stacks, mut limits) = (0, 0, 0);
        for layer in &self.panel.layers {
            let (label, end) = match layer {
                Layer::Band { label, low, high } => (label, self.y(f64::midpoint(*low, *high))),
                Layer::Range { label, points } => {
                    let last = points.last();
                    (label, last.map_or(0.0, |(_, low, high)| self.y(f64::midpoint(*low, *high))))
                }
                Layer::Stretch { label, .. } => (label, self.up.end + 8.0),
                Layer::Whiskers { label, points } => (label, self.whiskers(points)),
                Layer::Limit { label, at } => {
                    limits += 1;
                    (label, self.limit(*at, limit_dashes(limits)))
                }
                Layer::Line { label, points } => {
                    lines += 1;
                    (label, self.line(points, line_sample(lines)))
                }
                Layer::Points { label, points } => (label, self.points(points)),
                Layer::ReadOff { label, at, height } => (label, self.read_off(*at, *height)),
                Layer::Bars { label, bars } => {
                    stacks += 1;
                    let shade = SHADES[(stacks - 1) % SHADES.len()];
                    let mut end = self.up.begin;
                    for bar in bars {
                        let (begins, ends) = tops.raise(bar.from, bar.height);
                        let gap = ((self.across.place(bar.to) - self.across.place(bar.from)) * 0.1)
                            .min(4.0);
                        let from = (self.across.place(bar.from) + gap, self.y(begins));
                        let to = (self.across.place(bar.to) - gap, self.y(ends));
                        if ends > begins && to.0 > from.0 {
                            self.place.canvas.shaded(shade, Area::between(from, to));
                            end = f64::midpoint(from.1, to.1);
                        }
                    }
                    (label, end)
                }
                Layer::Event { label, at } => {
                    let Some(kind) = self.kinds.iter().position(|kind| **kind == **label) else {
                        continue;
                    };
                    (label, self.moment(kind, *at))
                }
            };
            for own in named.iter_mut().filter(|own| own.name == **label) {
                own.at = end;
            }
        }
    }

    fn whiskers(&mut self, points: &[(f64, f64, f64)]) -> f64 {
        let mut end = self.up.begin;
        for (x, low, high) in points {
            let (x, low, high) = (self.across.place(*x), self.y(*low), self.y(*high));
            legend::whisker(&mut self.place.canvas, x, high, low);
            end = high;
        }
        end
    }

    fn limit(&mut self, at: f64, dashes: &str) -> f64 {
        let (left, right) = self.across.sides();
        let y = self.y(at);
        self.place.canvas.polyline(OUTLINE, dashes, &[(left, y), (right, y)]);
        y
    }

    fn line(&mut self, points: &[(f64, f64)], sample: Sample) -> f64 {
        let points: Vec<(f64, f64)> = points.iter().map(|point| self.at(*point)).collect();
        match sample {
            _ if points.is_empty() => {}
            Sample::Line(dashes) => self.place.canvas.polyline(LINE, dashes, &points),
            _ => self.place.canvas.polyline(FLUID_LINE, "", &points),
        }
        points.last().map_or(self.up.begin, |(_, y)| *y)
    }

    fn points(&mut self, points: &[(f64, f64)]) -> f64 {
        let mut end = self.up.begin;
        for point in points {
            let at = self.at(*point);
            self.place.canvas.circle(HOLLOW, at, 4.0);
            end = at.1;
        }
        end
    }

    /// From across up to the point and over to the axis, with both numbers beside the point where
    /// there is room.
    fn read_off(&mut self, at: f64, height: f64) -> f64 {
        let (x, y) = self.at((at, height));
        let (left, right) = self.across.sides();
        let corner = [(x, self.up.begin), (x, y), (left, y)];
        self.place.canvas.polyline(OUTLINE, "1 3", &corner);
        self.place.canvas.circle(INK, (x, y), 4.5);
        let figures = self.place.figures;
        let text = format!(
            "{}: {}",
            self.across.said(at, figures),
            figures.short_amount(self.panel.row, height)
        );
        let width = Letters::BOLD.width_of(&text);
        let places = [(x + 9.0, y + 18.0), (x - width - 9.0, y - 9.0), (x + 9.0, y - 9.0)];
        let fits = places.into_iter().find(|(begin, base)| {
            let own = Area { x: *begin, y: base - 12.0, w: width, h: 16.0 };
            *begin >= left + 4.0
                && begin + width <= right
                && own.y >= self.up.end
                && own.y + own.h <= self.up.begin
                && self.taken.iter().all(|other| !overlap(&own, other))
        });
        if let Some((begin, base)) = fits {
            self.taken.push(Area { x: begin, y: base - 12.0, w: width, h: 16.0 });
            self.place.canvas.text(begin, base, &text, Letters::BOLD);
        }
        y
    }

    fn moment(&mut self, kind: usize, at: f64) -> f64 {
        debug_assert!(kind < LANES_MOST, "a kind without a row has no mark");
        let mut y = self.up.begin + LANE / 2.0 + 2.0;
        (0..kind).for_each(|_| y += LANE);
        let x = self.across.place(at);
        legend::moment(&mut self.place.canvas, kind, (x, y));
        y
    }
}

fn overlap(a: &Area, b: &Area) -> bool {
    a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h
}
