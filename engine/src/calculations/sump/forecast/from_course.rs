//! From the course of a sump to the answer of a forecast.

use super::answer::{
    BandCrossing, FeedToPrepare, ForecastAnswer, Leaving, NextVisit, SumpFeeding, SumpOnDay,
    VisitReason,
};
use super::plan::Planned;
use crate::dynamics::{Amounts, BandSide, Course, EdgeCrossing, Leg, Portion, Watched};
use crate::fluid::properties::{ByProperty, TRAMP_OIL};
use crate::numerics::order;
use crate::quantity::{Concentration, Content, Count, Days, Quantity, Volume};
use crate::text::Refusal;

/// The sump day by day, as its legs go by.
pub(super) struct Series<'a> {
    planned: &'a Planned,
    next: u32,
    pub(super) days: Vec<SumpOnDay>,
}

impl<'a> Series<'a> {
    pub(super) fn new(planned: &'a Planned) -> Self {
        Self { planned, next: 0, days: Vec::new() }
    }

    pub(super) fn note(&mut self, day: f64, sump: &Amounts) -> Result<(), Refusal> {
        self.next += u32::from(day >= f64::from(self.next));
        self.days.push(self.planned.on_day(day, sump)?);
        Ok(())
    }

    /// Notes the days of a leg, at whose end the sump is `sump`.
    pub(super) fn follow(&mut self, leg: &Leg, sump: &Amounts) -> Result<(), Refusal> {
        while f64::from(self.next) < leg.to {
            let day = f64::from(self.next);
            self.note(day, &leg.segment.after(day - leg.from))?;
        }
        if f64::from(self.next) == leg.to || leg.last {
            self.note(leg.to, sump)?;
        }
        Ok(())
    }
}

impl Planned {
    fn on_day(&self, day: f64, sump: &Amounts) -> Result<SumpOnDay, Refusal> {
        let named = self.names.iter().zip(&sump.matter);
        let matter = named.map(|(name, milligrams)| {
            Ok((name.clone(), Content::of(sump.per_volume(*milligrams))?))
        });
        let oil = self.oil_followed.then(|| Concentration::of(sump.oil_share()));
        Ok(SumpOnDay {
            day: Days::of(day)?,
            volume: Volume::of(sump.volume())?,
            concentration: Concentration::of(sump.concentration())?,
            properties: ByProperty {
                tramp_oil: oil.transpose()?,
                matter: matter.collect::<Result<_, Refusal>>()?,
            },
        })
    }

    fn name_of(&self, what: Watched) -> String {
        match what {
            Watched::Concentration => "concentration".to_owned(),
            Watched::Volume => "volume".to_owned(),
            Watched::TrampOil => TRAMP_OIL.to_owned(),
            Watched::Matter(i) => self.names[i].to_string(),
        }
    }

    fn crossing(&self, crossing: &EdgeCrossing) -> Result<BandCrossing, Refusal> {
        Ok(BandCrossing {
            what: self.name_of(crossing.what),
            side: crossing.side,
            day: Days::of(crossing.day)?,
            back_day: crossing.back.map(Days::of).transpose()?,
        })
    }

    /// Volume, concentrate and water of what is fed.
    fn parts(&self, portion: Portion) -> Result<(Volume, Volume, Volume), Refusal> {
        let fed = self.feed.as_ref().map(|feed| feed.amounts(portion)).unwrap_or_default();
        let water = (fed.mix - fed.concentrate).max(0.0);
        Ok((Volume::of(fed.volume())?, Volume::of(fed.concentrate)?, Volume::of(water)?))
    }

    fn to_prepare(&self, course: &Course, days: f64) -> Result<FeedToPrepare, Refusal> {
        let fed = || course.fed.iter().take_while(|fed| fed.day <= days);
        let mut all = self.steadily(days);
        for fed in fed() {
            all.weak += fed.portion.weak;
            all.strong += fed.portion.strong;
        }
        let (volume, concentrate, water) = self.parts(all)?;
        let feedings = Count::from_usize(fed().count())?;
        Ok(FeedToPrepare { days: Days::of(days)?, feedings, volume, concentrate, water })
    }
}

pub(super) fn answer(
    planned: &Planned,
    course: &Course,
    series: Vec<SumpOnDay>,
) -> Result<ForecastAnswer, Refusal> {
    let crossings = in_order(&course.crossings);
    let feedings = course.fed.iter().map(|fed| {
        let (volume, concentrate, water) = planned.parts(fed.portion)?;
        Ok(SumpFeeding { day: Days::of(fed.day)?, volume, concentrate, water })
    });
    Ok(ForecastAnswer {
        series,
        next_visit: next_visit(planned, course, crossings.first())?,
        crossings: crossings.iter().map(|c| planned.crossing(c)).collect::<Result<_, _>>()?,
        feedings: feedings.collect::<Result<_, Refusal>>()?,
        week: planned.to_prepare(course, course.day.min(7.0))?,
        total: planned.to_prepare(course, course.day)?,
        runs_dry_day: course.dry.map(Days::of).transpose()?,
        after: planned.on_day(course.day, &course.sump)?,
    })
}

/// Within a leg one edge is followed after the other.
fn in_order(crossings: &[EdgeCrossing]) -> Vec<EdgeCrossing> {
    let mut crossings = crossings.to_vec();
    order::least_first(&mut crossings, |crossing| crossing.day);
    crossings
}

pub(super) fn next_visit(
    planned: &Planned,
    course: &Course,
    crossing: Option<&EdgeCrossing>,
) -> Result<Option<NextVisit>, Refusal> {
    let change = planned.plan.additions.first().map(|change| change.day);
    let reasons = [
        (course.fed.first().map(|fed| fed.day), VisitReason::Feeding),
        (change.filter(|day| *day <= course.day), VisitReason::Change),
        (crossing.map(|crossing| crossing.day), VisitReason::LeavesBand),
        (course.dry, VisitReason::RunsDry),
    ];
    let days = reasons.into_iter().filter_map(|(day, reason)| Some((day?, reason)));
    let Some((day, reason)) = days.min_by(|a, b| a.0.total_cmp(&b.0)) else {
        return Ok(None);
    };
    let crossing = crossing.filter(|_| reason == VisitReason::LeavesBand);
    let what = crossing.map(|crossing| planned.name_of(crossing.what));
    Ok(Some(NextVisit { day: Days::of(day)?, reason, what }))
}

pub(super) fn leaving(planned: &Planned, course: &Course) -> Result<Option<Leaving>, Refusal> {
    let first = in_order(&course.crossings).first().copied();
    let dry = course.dry.map(|day| EdgeCrossing {
        what: Watched::Volume,
        side: BandSide::Below,
        day,
        back: None,
    });
    let Some(crossing) = first.or(dry) else {
        return Ok(None);
    };
    let what = planned.name_of(crossing.what);
    Ok(Some(Leaving { day: Days::of(crossing.day)?, what, side: crossing.side }))
}
