//! One panel of a chart: its axes and its layers.

use super::extent::{Across, Tops, heights};
use super::names::{Look, PlacedName, spread};
use plotters::coord::Shift;
use plotters::coord::cartesian::Cartesian2d;
use plotters::coord::types::RangedCoordf64;
use plotters::element::DashedPathElement;
use plotters::prelude::*;
use sumpwright_engine::chart::{Layer, Panel};
use sumpwright_engine::numerics::digits::round_to;
use sumpwright_engine::quantity::UnitSystem;

/// Space for the labels at the right, in pixels.
const FOR_NAMES: i32 = 236;
/// Space for the numbers at the left, in pixels.
const FOR_NUMBERS: u32 = 92;
/// Width of the sample before a label, in pixels.
const LOOK: i32 = 26;
/// Font size, in pixels.
const WRITING: i32 = 16;

const INK: RGBColor = grey(28);
const GRID: RGBColor = grey(228);
/// The grey of a band.
const PALE: u8 = 224;
/// Greys of bars, in an order in which neighbours differ most.
const SHADES: [u8; 8] = [70, 208, 130, 242, 100, 170, 45, 190];
/// Dashes of lines, length and gap in pixels; the first is solid.
const DASHES: [(i32, i32); 5] = [(0, 0), (9, 5), (2, 4), (14, 3), (5, 9)];
/// Dashes of a limit.
const LIMIT: (i32, i32) = (11, 4);
/// Maximum number of kinds of event with a label; more would leave no space for the rest.
const MOMENTS: usize = 6;

type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;
type Plot<'a> = DrawingArea<SVGBackend<'a>, Cartesian2d<RangedCoordf64, RangedCoordf64>>;
type DrawResult = Result<(), Box<dyn std::error::Error>>;

const fn grey(level: u8) -> RGBColor {
    RGBColor(level, level, level)
}

/// Draws a panel; `foot` is the label of the horizontal axis, under the last panel.
pub(super) fn draw(
    area: &Area<'_>,
    panel: &Panel,
    across: &Across,
    units: UnitSystem,
    foot: Option<&str>,
) -> DrawResult {
    let height = |metric: f64| panel.row.units.from_metric(metric, units);
    let (low, high) = heights(panel, height);
    let unit = panel.row.units.in_system(units).symbol;
    let kind =
        if unit.is_empty() { panel.label.to_string() } else { format!("{}, {unit}", panel.label) };
    let number = |shown: &f64| round_to(*shown, 6).to_string();
    let mut chart = ChartBuilder::on(area)
        .margin_top(14)
        .margin_right(FOR_NAMES)
        .margin_left(8)
        .set_label_area_size(LabelAreaPosition::Left, FOR_NUMBERS)
        .set_label_area_size(LabelAreaPosition::Bottom, if foot.is_some() { 56 } else { 26 })
        .build_cartesian_2d(across.from..across.to, low..high)?;
    let mut pen = Pen {
        plot: chart.plotting_area().clone(),
        across,
        floor: low,
        names: Vec::new(),
        lines: 0,
        tops: Tops::default(),
        stacks: 0,
    };
    let behind = |layer: &&Layer| matches!(layer, Layer::Band { .. } | Layer::Range { .. });
    for layer in panel.layers.iter().filter(behind) {
        pen.layer(layer, height)?;
    }
    chart
        .configure_mesh()
        .light_line_style(TRANSPARENT)
        .bold_line_style(GRID)
        .axis_style(INK)
        .x_labels(13)
        .y_labels(6)
        .x_label_formatter(&number)
        .y_label_formatter(&number)
        .x_desc(foot.unwrap_or_default())
        .y_desc(kind)
        .label_style(("sans-serif", WRITING).into_font().color(&INK))
        .axis_desc_style(("sans-serif", WRITING + 1).into_font().color(&INK))
        .draw()?;
    for layer in panel.layers.iter().filter(|layer| !behind(layer)) {
        pen.layer(layer, height)?;
    }
    pen.write_names(area)
}

struct Pen<'a, 'b> {
    plot: Plot<'a>,
    across: &'b Across,
    floor: f64,
    names: Vec<PlacedName>,
    lines: usize,
    tops: Tops,
    stacks: usize,
}

impl Pen<'_, '_> {
    fn layer(&mut self, layer: &Layer, height: impl Fn(f64) -> f64) -> DrawResult {
        let (from, to) = (self.across.from, self.across.to);
        match layer {
            Layer::Band { label, low, high } => {
                let (low, high) = (height(*low), height(*high));
                let band = Rectangle::new([(from, low), (to, high)], grey(PALE).filled());
                self.plot.draw(&band)?;
                self.name(label, Look::Area(PALE), f64::midpoint(low, high));
            }
            Layer::Range { label, points } => {
                let low = points.iter().map(|(x, low, _)| (*x, height(*low)));
                let high = points.iter().rev().map(|(x, _, high)| (*x, height(*high)));
                let outline: Vec<(f64, f64)> = low.chain(high).collect();
                self.plot.draw(&Polygon::new(outline, grey(PALE).filled()))?;
                if let Some((_, low, high)) = points.last() {
                    let middle = f64::midpoint(height(*low), height(*high));
                    self.name(label, Look::Area(PALE), middle);
                }
            }
            Layer::Limit { label, at } => {
                let at = height(*at);
                self.line(vec![(from, at), (to, at)], LIMIT, 1)?;
                self.name(label, Look::Line(LIMIT.0, LIMIT.1), at);
            }
            Layer::Line { label, points } => {
                let points: Vec<(f64, f64)> =
                    points.iter().map(|(x, y)| (*x, height(*y))).collect();
                let dashes = DASHES[self.lines % DASHES.len()];
                self.lines += 1;
                let end = points.last().map(|(_, end)| *end);
                self.line(points, dashes, 2)?;
                if let Some(end) = end {
                    self.name(label, Look::Line(dashes.0, dashes.1), end);
                }
            }
            Layer::Bars { label, points } => self.bars(label, points, height)?,
            Layer::Event { label, at } => self.moment(label, *at)?,
        }
        Ok(())
    }

    fn line(&self, points: Vec<(f64, f64)>, (dash, gap): (i32, i32), width: u32) -> DrawResult {
        let style = INK.stroke_width(width);
        if dash == 0 {
            self.plot.draw(&PathElement::new(points, style))?;
        } else {
            self.plot.draw(&DashedPathElement::new(points, dash, gap, style))?;
        }
        Ok(())
    }

    fn bars(
        &mut self,
        label: &str,
        points: &[(f64, f64)],
        height: impl Fn(f64) -> f64,
    ) -> DrawResult {
        let shade = SHADES[self.stacks % SHADES.len()];
        self.stacks += 1;
        let half = self.across.half_bar;
        let mut end = 0.0;
        for (place, tall) in points {
            let (begins, ends) = self.tops.raise(*place, *tall);
            let corners = [(place - half, height(begins)), (place + half, height(ends))];
            if ends > begins {
                self.plot.draw(&Rectangle::new(corners, grey(shade).filled()))?;
                self.plot.draw(&Rectangle::new(corners, INK.stroke_width(1)))?;
            }
            end = f64::midpoint(height(begins), height(ends));
        }
        if points.iter().any(|(_, tall)| *tall > 0.0) {
            self.name(label, Look::Area(shade), end);
        }
        Ok(())
    }

    fn moment(&mut self, label: &str, at: f64) -> DrawResult {
        let mark = TriangleMarker::new((at, self.floor), 6, INK.filled());
        self.plot.draw(&mark)?;
        let moments = self.names.iter().filter(|name| name.look == Look::Mark);
        let new = PlacedName::new(label, Look::Mark, 0).text;
        if moments.clone().count() < MOMENTS && moments.clone().all(|name| name.text != new) {
            self.name(label, Look::Mark, self.floor);
        }
        Ok(())
    }

    fn name(&mut self, text: &str, look: Look, height: f64) {
        let (_, y) = self.plot.map_coordinate(&(self.across.to, height));
        self.names.push(PlacedName::new(text, look, y));
    }

    /// Writes the labels at the right, each beside the thing it names.
    fn write_names(mut self, area: &Area<'_>) -> DrawResult {
        let (across, down) = self.plot.get_pixel_range();
        spread(&mut self.names, down.start + WRITING / 2, down.end - 2);
        let left = across.end + 12;
        let style = ("sans-serif", WRITING).into_font().color(&INK);
        for name in &self.names {
            let hint = PathElement::new(
                [(across.end, name.wanted), (left - 2, name.at)],
                grey(150).stroke_width(1),
            );
            area.draw(&hint)?;
            let (from, to) = ((left, name.at), (left + LOOK, name.at));
            match name.look {
                Look::Line(0, _) => {
                    area.draw(&PathElement::new([from, to], INK.stroke_width(2)))?;
                }
                Look::Line(dash, gap) => {
                    let ends = [from, to].into_iter();
                    area.draw(&DashedPathElement::new(ends, dash, gap, INK.stroke_width(2)))?;
                }
                Look::Area(shade) => {
                    let corners = [(from.0, from.1 - 5), (to.0, to.1 + 5)];
                    area.draw(&Rectangle::new(corners, grey(shade).filled()))?;
                    area.draw(&Rectangle::new(corners, INK.stroke_width(1)))?;
                }
                Look::Mark => {
                    let middle = (left + LOOK / 2, name.at);
                    area.draw(&TriangleMarker::new(middle, 6, INK.filled()))?;
                }
            }
            let place = (left + LOOK + 6, name.at - WRITING / 2 + 1);
            area.draw(&Text::new(name.text.clone(), place, style.clone()))?;
        }
        Ok(())
    }
}
