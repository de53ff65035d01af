//! A forecast as a chart to pin to a board.

use super::Forecast;
use super::plan::Planned;
use crate::chart::{Chart, Label, Layer, Panel};
use crate::dynamics::{Amounts, Course};
use crate::fluid::properties::{TRAMP_OIL, spoken};
use crate::quantity::{Concentration, Content, Quantity, Row, Volume};
use crate::text::Refusal;

impl Forecast {
    /// The strength in its band, the volume between its levels with each feeding
    /// marked, and a panel for each thing that has a limit.
    pub(super) fn drawn(&self) -> Result<Chart, Refusal> {
        let planned = self.plan()?;
        let mut course = Course::new(&planned.plan);
        let mut points = vec![(0.0, course.sump.clone())];
        while let Some(leg) = course.step().map_err(|stop| self.refused(stop))? {
            // Straight up to what the leg begins with, then its days.
            points.push((leg.from, leg.segment.after(0.0)));
            let mut day = leg.from.floor() + 1.0;
            while day < leg.to {
                points.push((day, leg.segment.after(day - leg.from)));
                day += 1.0;
            }
            points.push((leg.to, course.sump.clone()));
        }
        points.push((course.day, course.sump.clone()));

        let mut panels = vec![self.strength(&points), self.volume(&points, &course)];
        panels.extend(self.oil(&points));
        panels.extend(self.matter(&planned, &points));
        let title = Label::Borrowed("What the sump comes to");
        Ok(Chart { title, across: Label::Borrowed("day"), panels })
    }

    fn strength(&self, points: &[(f64, Amounts)]) -> Panel {
        let band = self.band.as_ref().map(|band| Layer::Band {
            label: "band".into(),
            low: band.low.get(),
            high: band.high.get(),
        });
        let line = line("concentration", points, Amounts::concentration);
        panel("concentration", Concentration::ROW, band.into_iter().chain([line]))
    }

    fn volume(&self, points: &[(f64, Amounts)], course: &Course) -> Panel {
        let (least, most) = self.levels();
        let mut layers: Vec<Layer> = course
            .fed
            .iter()
            .map(|fed| Layer::Event { label: "fed".into(), at: fed.day })
            .collect();
        let changes = self.changes.iter().flatten();
        layers.extend(changes.map(|c| Layer::Event { label: "changed".into(), at: c.day.get() }));
        layers.extend(course.dry.map(|at| Layer::Event { label: "runs dry".into(), at }));
        layers.extend(least.map(|at| Layer::Limit { label: "least level".into(), at }));
        layers.push(Layer::Limit { label: "most".into(), at: most });
        layers.push(line("volume", points, Amounts::volume));
        Panel { from_zero: true, ..panel("volume", Volume::ROW, layers) }
    }

    fn oil(&self, points: &[(f64, Amounts)]) -> Option<Panel> {
        let limit = self.limits.tramp_oil?;
        let limits = limits(limit.min, limit.max);
        let line = line("tramp oil", points, Amounts::oil_share);
        Some(panel(TRAMP_OIL, Concentration::ROW, limits.chain([line])))
    }

    fn matter(&self, planned: &Planned, points: &[(f64, Amounts)]) -> Vec<Panel> {
        let limited = planned.names.iter().enumerate().filter_map(|(i, name)| {
            let limit = self.limits.matter.get(name)?;
            let content = |sump: &Amounts| sump.per_volume(sump.matter[i]);
            let line = line(&spoken(name), points, content);
            Some(panel(name, Content::ROW, limits(limit.min, limit.max).chain([line])))
        });
        limited.collect()
    }
}

fn panel(name: &str, row: &'static Row, layers: impl IntoIterator<Item = Layer>) -> Panel {
    let layers = layers.into_iter().collect();
    Panel { label: spoken(name).into(), row, from_zero: false, layers }
}

fn line(label: &str, points: &[(f64, Amounts)], height: impl Fn(&Amounts) -> f64) -> Layer {
    let points = points.iter().map(|(day, sump)| (*day, height(sump))).collect();
    Layer::Line { label: label.to_owned().into(), points }
}

fn limits<Q: Quantity>(min: Option<Q>, max: Option<Q>) -> impl Iterator<Item = Layer> {
    let least = min.map(|at| Layer::Limit { label: "least".into(), at: at.get() });
    let most = max.map(|at| Layer::Limit { label: "most".into(), at: at.get() });
    least.into_iter().chain(most)
}
