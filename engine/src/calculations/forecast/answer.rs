//! What a forecast answers with.

use super::plan::Planned;
use crate::course::{Amounts, Course, Crossing, Leg, Portion, Side, What};
use crate::properties::{ByProperty, Properties, TRAMP_OIL};
use crate::quantity::{Concentration, Content, Count, Days, Quantity, Volume};
use crate::refusal::Refusal;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A sump over the coming days.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ForecastAnswer {
    /// The sump day by day, as it is found: before what is done on that day.
    pub series: Vec<SumpOnDay>,
    /// What leaves its band, in the order in which it does.
    pub crossings: Vec<BandCrossing>,
    /// Each feeding at a set time; what is fed all the time is in the totals.
    pub feedings: Vec<SumpFeeding>,
    /// What to prepare for the coming week.
    pub week: FeedToPrepare,
    /// What all the days looked ahead take.
    pub total: FeedToPrepare,
    /// The next day on which somebody must go there; absent when nobody must
    /// within the days looked ahead.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub next_visit: Option<NextVisit>,
    /// When the sump runs dry or its water is gone, which ends the forecast;
    /// absent when it does not.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub runs_dry_day: Option<Days>,
    /// The sump at the end, after what is done on the last day.
    pub after: SumpOnDay,
}

/// A sump on a day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpOnDay {
    /// The day, counted from now.
    pub day: Days,
    /// What is in the sump.
    pub volume: Volume,
    /// How strong it is.
    pub concentration: Concentration,
    /// What else it carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// Something leaves its band.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BandCrossing {
    /// What: `concentration`, `volume`, `tramp_oil`, or the name of another
    /// property.
    #[schema(example = "concentration")]
    pub what: String,
    /// On which side.
    pub side: Side,
    /// When; 0 for what is out from the beginning.
    pub day: Days,
    /// When it is back; absent when it stays out.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub back_day: Option<Days>,
}

/// A feeding.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpFeeding {
    /// When.
    pub day: Days,
    /// How much is fed.
    pub volume: Volume,
    /// Concentrate in it.
    pub concentrate: Volume,
    /// Water in it.
    pub water: Volume,
}

/// What to have ready.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FeedToPrepare {
    /// For how many days from now.
    pub days: Days,
    /// How many feedings at set times that are.
    pub feedings: Count,
    /// How much is fed in all.
    pub volume: Volume,
    /// Concentrate in it.
    pub concentrate: Volume,
    /// Water in it.
    pub water: Volume,
}

/// A day on which somebody must go there.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct NextVisit {
    /// The day, counted from now.
    pub day: Days,
    /// Why somebody must go there.
    pub reason: VisitReason,
    /// What leaves its band, where that is the reason.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    #[schema(example = "concentration")]
    pub what: Option<String>,
}

/// Why somebody must go to a sump.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum VisitReason {
    /// It is to be fed.
    Feeding,
    /// Something else is to be done to it.
    Change,
    /// Something leaves its band.
    LeavesBand,
    /// It runs dry.
    RunsDry,
}

/// When and how a sump first leaves what it is to be kept within.
#[derive(Debug, Clone, PartialEq)]
pub struct Leaving {
    /// When; 0 where it is out from the beginning.
    pub day: Days,
    /// What: `concentration`, `volume`, `tramp_oil`, or another property's name.
    pub what: String,
    /// On which side; a sump that runs dry leaves its volume below.
    pub side: Side,
}

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

    fn name_of(&self, what: What) -> String {
        match what {
            What::Concentration => "concentration".to_owned(),
            What::Volume => "volume".to_owned(),
            What::TrampOil => TRAMP_OIL.to_owned(),
            What::Matter(i) => self.names[i].clone(),
        }
    }

    fn crossing(&self, crossing: &Crossing) -> Result<BandCrossing, Refusal> {
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
        let mut all = Portion { weak: self.steady.weak * days, strong: self.steady.strong * days };
        for fed in fed() {
            all.weak += fed.portion.weak;
            all.strong += fed.portion.strong;
        }
        let (volume, concentrate, water) = self.parts(all)?;
        #[expect(clippy::cast_precision_loss, reason = "a small whole number")]
        let feedings = Count::of(fed().count() as f64)?;
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
fn in_order(crossings: &[Crossing]) -> Vec<Crossing> {
    let mut crossings = crossings.to_vec();
    crossings.sort_by(|a, b| a.day.total_cmp(&b.day));
    crossings
}

fn next_visit(
    planned: &Planned,
    course: &Course,
    crossing: Option<&Crossing>,
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
    let dry =
        course.dry.map(|day| Crossing { what: What::Volume, side: Side::Below, day, back: None });
    let Some(crossing) = first.or(dry) else {
        return Ok(None);
    };
    let what = planned.name_of(crossing.what);
    Ok(Some(Leaving { day: Days::of(crossing.day)?, what, side: crossing.side }))
}
