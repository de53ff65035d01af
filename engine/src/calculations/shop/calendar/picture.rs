//! A calendar as pictures: the weeks with what is done on each day, and what they load.

use super::answer::CalendarAnswer;
use super::question::Calendar;
use crate::calculations::shop::disposal::{GeneratorCategory, LARGE_LEAST, VERY_SMALL_MOST};
use crate::picture::{
    Across, Bar, CalendarYear, DayDrawn, Label, Layer, Panel, Panels, Picture, Shows, WeekDrawn,
};
use crate::quantity::{Count, Hours, Mass, Quantity, Volume};
use crate::text::CalendarDate;

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];
/// A boundary further above all that is drawn than this is left out.
const HEADROOM: f64 = 1.5;

pub(super) fn pictures(question: &Calendar, answer: &CalendarAnswer) -> Vec<Picture> {
    let year = Shows::Year(CalendarYear { weeks: weeks(question, answer) });
    let mut panels = vec![hours(answer)];
    panels.extend(tank(question, answer));
    let across = Across { counts: true, ..Across::plain("week") };
    let load = Shows::Panels(Panels { across, panels });
    let mut pictures =
        vec![Picture::new("Clean-outs by day", year), Picture::new("What each week loads", load)];
    pictures.extend(waste(answer).map(|shows| Picture::new("Waste by month", shows)));
    pictures
}

/// Each week, Monday to Sunday, with what is done in it.
fn weeks(question: &Calendar, answer: &CalendarAnswer) -> Vec<WeekDrawn> {
    let Some(diary) = question.from.day().map(|from| question.diary(from)) else {
        return Vec::new();
    };
    let mut weeks: Vec<WeekDrawn> = Vec::new();
    let mut month = None;
    for day in 0..diary.days {
        let date = diary.date(day);
        if day == 0 || date.weekday() == 0 {
            let begins = month != Some(date.month());
            weeks.push(WeekDrawn {
                from: Label::Owned(date.to_string()),
                month: begins.then(|| month_said(date)),
                days: vec![DayDrawn::default(); 7],
                names: Vec::new(),
            });
            month = Some(date.month());
        }
        let Some(week) = weeks.last_mut() else { continue };
        let own = answer.clean_outs.iter().filter(|own| own.day == date);
        let taken: f64 = own.clone().map(|own| own.hours.get()).sum();
        let there = question.hours_on(&diary, day);
        week.names.extend(own.map(|own| (date.weekday(), Label::Owned(own.sump.to_string()))));
        week.days[date.weekday()] =
            DayDrawn { in_plan: true, load: (there > 0.0).then(|| (taken / there).min(1.0)) };
    }
    weeks
}

/// "January 2027".
fn month_said(date: CalendarDate) -> Label {
    let (year, month) = date.month();
    let name = MONTHS[usize::from(month.unsigned_abs()).clamp(1, 12) - 1];
    Label::Owned(format!("{name} {year}"))
}

fn bar(week: Count, height: f64) -> Bar {
    Bar { from: week.get(), to: week.get() + 1.0, height }
}

fn hours(answer: &CalendarAnswer) -> Panel {
    let taken = answer.weeks.iter().map(|week| bar(week.week, week.hours.get()));
    let there = answer.weeks.iter().flat_map(|week| {
        let (from, there) = (week.week.get(), week.hours_there.get());
        [(from, there), (from + 1.0, there)]
    });
    let layers = vec![
        Layer::Bars { label: "clean-outs".into(), bars: taken.collect() },
        Layer::line("hours there are", there.collect()),
    ];
    Panel::new("work", Hours::ROW, layers).from_zero()
}

fn tank(question: &Calendar, answer: &CalendarAnswer) -> Option<Panel> {
    let recycler = question.recycler.as_ref()?;
    let fullest = answer.weeks.iter().filter_map(|week| Some(bar(week.week, week.tank?.get())));
    let layers = vec![
        Layer::Bars { label: "at its fullest".into(), bars: fullest.collect() },
        Layer::limit("dirty tank holds", recycler.tank.get()),
    ];
    Some(Panel::new("dirty tank", Volume::ROW, layers).from_zero())
}

fn waste(answer: &CalendarAnswer) -> Option<Shows> {
    let months = answer.months.as_ref().filter(|months| !months.is_empty())?;
    let mut number = 0.0;
    let bars = months.iter().map(|month| {
        number += 1.0;
        Bar { from: number, to: number + 1.0, height: month.mass.get() }
    });
    let mut layers = vec![Layer::Bars { label: "waste".into(), bars: bars.collect() }];
    let highest = months.iter().map(|month| month.mass.get()).fold(0.0, f64::max);
    let asked = months.iter().any(|month| month.category.is_some());
    for (label, at) in [
        (GeneratorCategory::Small.words(), VERY_SMALL_MOST),
        (GeneratorCategory::Large.words(), LARGE_LEAST),
    ] {
        if asked && at <= highest * HEADROOM {
            layers.push(Layer::limit(format!("{label} above"), at));
        }
    }
    let across = Across { counts: true, ..Across::plain("month") };
    let panels = vec![Panel::new("mass a month", Mass::ROW, layers).from_zero()];
    Some(Shows::Panels(Panels { across, panels }))
}
