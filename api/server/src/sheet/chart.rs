//! The chart of the answer on its job sheet, where there is room for it.

use super::Spacing;
use crate::chart;
use maud::{Markup, PreEscaped, html};
use sumpwright_openapi::service::ChartToDraw;
use sumpwright_openapi::sheet::SheetToDraw;

/// There is room for so many panels above each other.
const PANELS: usize = 2;

/// The chart, unless the steps need the whole sheet.
pub(super) fn picture(to_draw: &SheetToDraw, spacing: Spacing) -> Markup {
    let is_full = matches!(spacing, Spacing::Close | Spacing::Dense);
    let chart = to_draw.chart.as_ref().filter(|chart| !is_full && chart.panels.len() <= PANELS);
    html! {
        @if let Some(chart) = chart {
            figure {
                (PreEscaped(chart::svg(&ChartToDraw {
                    chart: chart.clone(),
                    statement: String::new(),
                    units: to_draw.units,
                    reference: None,
                })))
            }
        }
    }
}
