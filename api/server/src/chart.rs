//! Draws a chart as SVG, for a notice board.
//!
//! One drawing serves every calculation that has a chart. Nothing depends on colour:
//! lines differ by their dashes, bars by their shade, and each is labelled in place,
//! at its right-hand end, so it prints well in black and white. Fonts are the
//! reader's own.
//!
//! **A chart is data.** A calculation that has one (`HAS_CHART`) gives the layers and their quantities
//! (`engine/src/chart.rs`); this file draws them all in the caller's units.

mod extent;
mod names;
mod panel;

use extent::Across;
use names::escape;
use panel::draw;
use plotters::prelude::{IntoDrawingArea, SVGBackend};
use std::fmt::Write;
use sumpwright_openapi::service::ChartToDraw;

/// Width of the drawing, in pixels.
const WIDTH: u32 = 1060;
/// Height of a line of the statement.
const LARGE_LINE: u32 = 26;
/// Height of a line below the statement.
const SMALL_LINE: u32 = 20;
/// Maximum number of characters of the statement in a line.
const STATEMENT_WIDTH: usize = 90;
/// Height of a panel; a single one is a little taller.
const PANEL: u32 = 270;
/// See [`PANEL`].
const LONE_PANEL: u32 = 420;
/// Space below the last panel for the label of the horizontal axis.
const FOOT: u32 = 40;

/// The chart as an SVG document.
#[must_use]
pub fn svg(to_draw: &ChartToDraw) -> String {
    let chart = &to_draw.chart;
    let across = Across::of(chart);
    let height = if chart.panels.len() == 1 { LONE_PANEL } else { PANEL };
    let (heading, mut top) = heading(to_draw);
    let mut panels = String::new();
    for (i, panel) in chart.panels.iter().enumerate() {
        let last = i + 1 == chart.panels.len();
        let tall = height + if last { FOOT } else { 0 };
        let mut drawn = String::new();
        {
            let area = SVGBackend::with_string(&mut drawn, (WIDTH, tall)).into_drawing_area();
            // Writing into a string does not fail.
            let _ = draw(&area, panel, &across, to_draw.units, last.then_some(&*chart.across));
        }
        let body = drawn.split_once('>').map_or("", |(_, rest)| rest);
        let body = body.trim_end().trim_end_matches("</svg>");
        let _ = writeln!(panels, "<g transform=\"translate(0,{top})\">{body}</g>");
        top += tall;
    }
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {WIDTH} {top}\" width=\"{WIDTH}\" \
         height=\"{top}\" role=\"img\" font-family=\"sans-serif\">\n{heading}{panels}</svg>\n"
    )
}

/// The heading above the panels, and its height: the statement, below it the chart's
/// title and the caller's reference.
fn heading(to_draw: &ChartToDraw) -> (String, u32) {
    let mut lines = wrapped(&to_draw.statement, STATEMENT_WIDTH);
    let mut title = Some(to_draw.chart.title.as_ref());
    if lines.is_empty() {
        lines.extend(title.take().map(str::to_owned));
    }
    let mut text = format!(
        "<title>{}</title>\n<rect width=\"100%\" height=\"100%\" fill=\"white\"/>\n",
        escape(&lines.join(" "))
    );
    let mut write = |line: &str, y: u32, style: &str| {
        let _ = writeln!(text, "<text x=\"24\" y=\"{y}\" {style}>{}</text>", escape(line));
    };
    let mut y = 30;
    for line in &lines {
        write(line, y, "font-size=\"20\" font-weight=\"bold\"");
        y += LARGE_LINE;
    }
    for line in title.into_iter().chain(to_draw.reference.as_deref()) {
        write(line, y - 4, "font-size=\"14\"");
        y += SMALL_LINE;
    }
    (text, y + 8)
}

/// A text broken into lines of a maximum length, unless a word is longer.
fn wrapped(text: &str, most: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= most => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use sumpwright_engine::chart::{Chart, Layer, Panel};
    use sumpwright_engine::quantity::{Concentration, Quantity, UnitSystem, Volume};

    /// A chart with one of each layer.
    fn chart() -> Chart {
        let days = || (0..=30).map(f64::from);
        let strength = Panel {
            label: "concentration".into(),
            row: Concentration::ROW,
            from_zero: false,
            layers: vec![
                Layer::Band { label: "band".into(), low: 6.0, high: 8.0 },
                Layer::Line {
                    label: "concentration".into(),
                    points: days().map(|d| (d, 7.0 + (d * 0.6).sin())).collect(),
                },
                Layer::Event { label: "fed".into(), at: 7.0 },
                Layer::Event { label: "fed".into(), at: 14.0 },
            ],
        };
        let volume = Panel {
            label: "volume".into(),
            row: Volume::ROW,
            from_zero: true,
            layers: vec![
                Layer::Range {
                    label: "9 in 10".into(),
                    points: days().map(|d| (d, 40.0, 60.0 + d)).collect(),
                },
                Layer::Limit { label: "tank <full>".into(), at: 120.0 },
                Layer::Bars {
                    label: "spent fluid".into(),
                    points: days().map(|d| (d, 30.0 + d)).collect(),
                },
                Layer::Bars {
                    label: "oil & sludge".into(),
                    points: days().map(|d| (d, 10.0)).collect(),
                },
                Layer::Line {
                    label: "in store".into(),
                    points: days().map(|d| (d, 100.0 - d)).collect(),
                },
            ],
        };
        let panels = vec![strength, volume];
        Chart { title: "A sump over a month".into(), across: "day".into(), panels }
    }

    fn drawn(units: UnitSystem) -> String {
        svg(&ChartToDraw {
            chart: chart(),
            statement: format!("Feed it on days 7 & 14: {}.", "a long reason ".repeat(9).trim()),
            units,
            reference: Some("invented example: \u{1} <7>".into()),
        })
    }

    #[test]
    fn everything_drawn_is_named_in_the_callers_units() {
        let (metric, us) = (drawn(UnitSystem::Metric), drawn(UnitSystem::Us));
        for name in ["band", "fed", "9 in 10", "tank &lt;full&gt;", "oil &amp; sludge", "day"] {
            assert!(metric.contains(name), "{name} is missing");
        }
        assert_eq!(metric.matches("fed\n").count(), 1, "a moment is named once");
        assert!(metric.contains("volume, L\n") && us.contains("volume, US gal\n"));
        assert!(metric.contains("invented example: \u{FFFD} &lt;7&gt;"));
        assert_ne!(metric, us);
    }

    #[test]
    fn the_statement_heads_the_chart_and_its_title_stands_below() {
        let metric = drawn(UnitSystem::Metric);
        let place = |text: &str| metric.find(text).unwrap_or_else(|| panic!("no {text:?}"));
        let statement =
            place("y=\"30\" font-size=\"20\" font-weight=\"bold\">Feed it on days 7 &amp; 14");
        assert!(statement < place("y=\"56\" font-size=\"20\""), "it takes two lines");
        assert!(place("y=\"56\"") < place(">A sump over a month<"));
        let none = ChartToDraw {
            chart: chart(),
            statement: String::new(),
            units: UnitSystem::Metric,
            reference: None,
        };
        let plain = svg(&none);
        assert!(plain.contains("font-weight=\"bold\">A sump over a month<"));
    }

    #[test]
    fn nothing_is_fetched_and_nothing_is_out_of_place() {
        let metric = drawn(UnitSystem::Metric);
        assert_eq!(metric.matches("http").count(), 1, "the name space and nothing else");
        assert_eq!(metric.matches("<svg").count(), metric.matches("</svg>").count());
        assert!(!metric.contains("NaN") && !metric.contains("inf"));
    }
}
