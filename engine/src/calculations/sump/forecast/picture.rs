//! A forecast as a picture to pin to a board.

use super::plan::Planned;
use super::{BandCrossing, Forecast, ForecastAnswer};
use crate::dynamics::{Amounts, Course};
use crate::fluid::properties::{TRAMP_OIL, spoken};
use crate::picture::{Across, Layer, Panel, Panels, Picture, Shows};
use crate::quantity::{Concentration, Content, Quantity, Volume};
use crate::text::Refusal;

pub(super) fn pictures(question: &Forecast, answer: &ForecastAnswer) -> Vec<Picture> {
    question.drawn(answer).into_iter().collect()
}

impl Forecast {
    /// The strength in its band, the volume between its levels with each feeding
    /// marked, and a panel for each thing that has a limit.
    pub(super) fn drawn(&self, answer: &ForecastAnswer) -> Result<Picture, Refusal> {
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
        let mut followed = vec![
            ("concentration", self.strength(&points)),
            ("volume", self.volume(&points, &course)),
        ];
        followed.extend(self.oil(&points).map(|panel| (TRAMP_OIL, panel)));
        followed.extend(self.matter(&planned, &points));
        let end = answer.after.day.get();
        let panels = followed.into_iter().map(|(what, mut panel)| {
            let out = answer.crossings.iter().filter(|crossing| crossing.what == what);
            let out = out.map(|crossing| outside(crossing, end));
            panel.layers = out.chain(panel.layers).collect();
            panel
        });
        let panels = panels.collect();
        let across = Across { from: Some(0.0), ..Across::days() };
        let panels = Panels { across, panels };
        Ok(Picture::new("What the sump comes to", Shows::Panels(panels)))
    }

    fn strength(&self, points: &[(f64, Amounts)]) -> Panel {
        let band = self.band.as_ref().map(|band| Layer::Band {
            label: "band".into(),
            low: band.low.get(),
            high: band.high.get(),
        });
        let line = line("concentration", points, Amounts::concentration);
        Panel::new("concentration", Concentration::ROW, band.into_iter().chain([line]).collect())
    }

    fn volume(&self, points: &[(f64, Amounts)], course: &Course) -> Panel {
        let (least, most) = self.levels();
        let mut layers: Vec<Layer> =
            course.fed.iter().map(|fed| Layer::event("fed", fed.day)).collect();
        let changes = self.changes.iter().flatten();
        layers.extend(changes.map(|c| Layer::event("planned change", c.day.get())));
        layers.extend(course.dry.map(|at| Layer::event("runs dry", at)));
        layers.extend(least.map(|at| Layer::limit("lowest level", at)));
        let is_full = most >= self.sump.capacity.get();
        layers.push(Layer::limit(if is_full { "full" } else { "highest level" }, most));
        layers.push(line("volume", points, Amounts::volume));
        Panel::new("volume", Volume::ROW, layers).from_zero()
    }

    fn oil(&self, points: &[(f64, Amounts)]) -> Option<Panel> {
        let limit = self.kept().limits.tramp_oil?;
        let mut layers = limits(limit.min, limit.max);
        layers.push(line("tramp oil", points, Amounts::oil_share));
        Some(Panel::new(spoken(TRAMP_OIL), Concentration::ROW, layers).from_zero())
    }

    fn matter<'a>(&self, planned: &'a Planned, points: &[(f64, Amounts)]) -> Vec<(&'a str, Panel)> {
        let kept = self.kept();
        let limited = planned.names.iter().enumerate().filter_map(|(i, name)| {
            let limit = kept.of(name)?;
            let content = |sump: &Amounts| sump.per_volume(sump.matter[i]);
            let mut layers = limits(limit.min, limit.max);
            layers.push(line(&spoken(name), points, content));
            Some((name.as_str(), Panel::new(spoken(name), Content::ROW, layers).from_zero()))
        });
        limited.collect()
    }
}

/// The days on which something is outside what it is kept in.
fn outside(crossing: &BandCrossing, end: f64) -> Layer {
    Layer::Stretch {
        label: "out of bounds".into(),
        from: crossing.day.get(),
        to: crossing.back_day.map_or(end, Quantity::get),
    }
}

fn line(label: &str, points: &[(f64, Amounts)], height: impl Fn(&Amounts) -> f64) -> Layer {
    let points = points.iter().map(|(day, sump)| (*day, height(sump))).collect();
    Layer::line(label.to_owned(), points)
}

fn limits<Q: Quantity>(min: Option<Q>, max: Option<Q>) -> Vec<Layer> {
    let least = min.map(|at| Layer::limit("at least", at.get()));
    let most = max.map(|at| Layer::limit("at most", at.get()));
    least.into_iter().chain(most).collect()
}
