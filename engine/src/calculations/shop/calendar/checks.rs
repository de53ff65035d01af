//! The checks of a calendar: days that cannot be, names that are not known, bounds that cross.

use super::diary::{Diary, WEEKS_MOST};
use super::question::{Calendar, DaySpan};
use crate::quantity::{Measure, Money, Quantity};
use crate::sentence;
use crate::text::names::check_unique;
use crate::text::{CalendarDate, DayText, Faults, Kind, Refusal, Sentence, with_nearest};

/// The most days of all sumps and crews that are looked at.
const DAYS_MOST: usize = 1_000_000;

impl Calendar {
    /// The days of the plan.
    pub(super) fn check(&self) -> Result<Diary, Refusal> {
        let mut faults = Faults::default();
        for (pointer, text) in self.dates() {
            text.check(pointer, &mut faults);
        }
        faults.or_refuse(Kind::OutOfRange)?;
        let Some(from) = self.from.day() else {
            return Err(Refusal::new(Kind::OutOfRange, "/from", sentence!("It is no day.")));
        };
        let mut faults = Faults::default();
        self.check_size(&mut faults);
        self.check_spans(&mut faults);
        self.check_names(&mut faults);
        self.check_sumps(from, &mut faults);
        self.check_prices(&mut faults);
        self.check_stores(&mut faults);
        faults.or_refuse(Kind::Inconsistent)?;
        let diary = self.diary(from);
        self.check_fixed(&diary)?;
        Ok(diary)
    }

    /// Every day of the question, by its pointer.
    fn dates(&self) -> Vec<(String, &DayText)> {
        let mut dates = vec![("/from".to_owned(), &self.from)];
        for (i, sump) in self.sumps.iter().enumerate() {
            dates.push((format!("/sumps/{i}/cleaned_on"), &sump.cleaned_on));
            dates.extend(sump.due_by.as_ref().map(|day| (format!("/sumps/{i}/due_by"), day)));
        }
        for (i, agreed) in self.agreed.iter().flatten().enumerate() {
            dates.push((format!("/agreed/{i}/day"), &agreed.day));
        }
        for (pointer, span) in self.spans() {
            dates.push((format!("{pointer}/from"), &span.from));
            dates.extend(span.to.as_ref().map(|day| (format!("{pointer}/to"), day)));
        }
        dates
    }

    /// Every span of days of the question, by its pointer.
    fn spans(&self) -> Vec<(String, &DaySpan)> {
        let lists =
            [("/closed".to_owned(), &self.closed), ("/standing".to_owned(), &self.standing)];
        let of_crews = self.crews.iter().enumerate();
        let of_crews = of_crews.map(|(i, crew)| (format!("/crews/{i}/away"), &crew.away));
        let of_sumps = self.sumps.iter().enumerate();
        let of_sumps = of_sumps.map(|(i, sump)| (format!("/sumps/{i}/stands"), &sump.stands));
        let lists = lists.into_iter().chain(of_crews).chain(of_sumps);
        let each = lists.flat_map(|(pointer, own)| {
            let own = own.iter().flatten().enumerate();
            own.map(move |(k, span)| (format!("{pointer}/{k}"), span))
        });
        each.collect()
    }

    fn check_size(&self, faults: &mut Faults) {
        let weeks = self.weeks_ahead();
        if !(1.0..=WEEKS_MOST).contains(&weeks) {
            let text = sentence!(
                "{} weeks cannot be planned at once. Give 1 to {}.",
                Measure::bare(weeks),
                Measure::bare(WEEKS_MOST)
            );
            faults.add("/weeks", text);
            return;
        }
        let all = self.sumps.len() * self.crews.len();
        if super::count(all) * weeks * 7.0 > super::count(DAYS_MOST) {
            let text = sentence!(
                "{} sumps and {} crews over {} weeks are too many for one plan. Plan fewer weeks, or \
                 each hall by itself.",
                self.sumps.len(),
                self.crews.len(),
                Measure::bare(weeks)
            );
            faults.add("/sumps", text);
        }
    }

    fn check_spans(&self, faults: &mut Faults) {
        for (pointer, span) in self.spans() {
            let (from, to) = (span.from.day(), span.to.as_ref().and_then(DayText::day));
            if let (Some(from), Some(to)) = (from, to)
                && to < from
            {
                let text = sentence!("The last day, {}, is before the first, {}.", to, from);
                faults.add(format!("{pointer}/to"), text);
            }
        }
    }

    fn check_names(&self, faults: &mut Faults) {
        let sumps = || self.sumps.iter().map(|sump| sump.name.as_str());
        check_unique(sumps(), "sumps", "/sumps", faults);
        check_unique(self.crews.iter().map(|crew| crew.name.as_str()), "crews", "/crews", faults);
        let products = || self.products.iter().flatten().map(|own| own.name.as_str());
        check_unique(products(), "products", "/products", faults);
        for (i, sump) in self.sumps.iter().enumerate() {
            let Some(product) = &sump.product else { continue };
            if self.products.is_some() && !products().any(|own| *product == own) {
                let text = sentence!("No product is called \"{}\".", product);
                let text = with_nearest(text, product, products());
                faults.add(format!("/sumps/{i}/product"), text);
            }
        }
        for (i, agreed) in self.agreed.iter().flatten().enumerate() {
            if !sumps().any(|own| agreed.sump == own) {
                let text = sentence!("No sump is called \"{}\".", &agreed.sump);
                let text = with_nearest(text, &agreed.sump, sumps());
                faults.add(format!("/agreed/{i}/sump"), text);
            }
        }
    }

    fn check_sumps(&self, from: CalendarDate, faults: &mut Faults) {
        for (i, sump) in self.sumps.iter().enumerate() {
            let cleaned = sump.cleaned_on.day();
            if let Some(cleaned) = cleaned.filter(|cleaned| *cleaned > from) {
                let text = sentence!(
                    "{} is after the plan begins, {}. Give the last clean-out that has been done; one \
                     that is to come belongs in agreed.",
                    cleaned,
                    from
                );
                faults.add(format!("/sumps/{i}/cleaned_on"), text);
            }
            let due = sump.due_by.as_ref().and_then(DayText::day);
            if let (Some(cleaned), Some(due)) = (cleaned, due)
                && due < cleaned
            {
                let text = sentence!("{} is before its last clean-out, {}.", due, cleaned);
                faults.add(format!("/sumps/{i}/due_by"), text);
            }
            let longest = sump.longest();
            if longest < 1.0 {
                let text = sentence!("The longest interval is less than a day. Give 1 or more.");
                faults.add(format!("/sumps/{i}/longest_days"), text);
            }
            let shortest = sump.shortest_days.map_or(0.0, Quantity::get);
            if shortest > longest {
                let text = sentence!(
                    "The shortest interval, {}, is longer than the longest, {}.",
                    Measure::bare(shortest),
                    Measure::bare(longest)
                );
                faults.add(format!("/sumps/{i}/shortest_days"), text);
            }
            if sump.habit_days.is_some_and(|days| days.get() < 1.0) {
                let text = sentence!("The interval of today is less than a day. Give 1 or more.");
                faults.add(format!("/sumps/{i}/habit_days"), text);
            }
        }
        if self.overdue_within() < 1.0 {
            faults.add("/overdue_within_days", sentence!("Give 1 day or more."));
        }
    }

    /// What is lost is not won: these prices are never less than nothing.
    fn check_prices(&self, faults: &mut Faults) {
        let sumps = self.sumps.iter().enumerate();
        let mut prices: Vec<(String, Option<Money>)> = sumps
            .map(|(i, sump)| (format!("/sumps/{i}/downtime_price"), sump.downtime_price))
            .collect();
        prices.push(("/moving_price".to_owned(), self.moving_price));
        if let Some(waste) = &self.waste {
            prices.push(("/waste/pickup_price".to_owned(), waste.pickup_price));
            if let Some(own) = &waste.categories {
                prices.push(("/waste/categories/small".to_owned(), Some(own.small)));
                prices.push(("/waste/categories/large".to_owned(), Some(own.large)));
                if own.large < own.small {
                    let text = sentence!("A large generator costs no less than a small one.");
                    faults.add("/waste/categories/large", text);
                }
            }
        }
        for (pointer, price) in prices {
            if price.is_some_and(|price| price.get() < 0.0) {
                faults.add(pointer, sentence!("This price is less than 0. Give 0 or more."));
            }
        }
    }

    fn check_stores(&self, faults: &mut Faults) {
        if let Some(own) = &self.recycler
            && let Some(level) = own.level.filter(|level| level.get() > own.tank.get())
        {
            let text = sentence!("{} are in a tank that holds {}.", level, own.tank);
            faults.add("/recycler/level", text);
        }
        let Some(waste) = &self.waste else { return };
        if let (Some(now), Some(most)) = (waste.on_site, waste.most_on_site)
            && now > most
        {
            let text = sentence!(
                "{} are on site where {} may be. Have it fetched first, or correct one of them.",
                now,
                most
            );
            faults.add("/waste/on_site", text);
        }
        let other = waste.other_per_month;
        if let (Some(other), Some(most)) = (other, waste.most_per_month)
            && other.get() * 31.0 / super::model::DAYS_A_MONTH >= most.get()
        {
            let text = sentence!(
                "Other waste alone, {}, fills what may arise in a month, {}.",
                other,
                most
            );
            faults.add("/waste/other_per_month", text);
        }
        if waste.stay_days.is_some_and(|days| days.get() < 1.0) {
            let text = sentence!("Waste stays for 1 day at least: the day on which it arises.");
            faults.add("/waste/stay_days", text);
        }
    }

    /// A fixed clean-out has a crew on its day.
    fn check_fixed(&self, diary: &Diary) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        for (i, agreed) in self.agreed.iter().flatten().enumerate() {
            let day = diary.planned_day(&agreed.day);
            let Some(day) = day.filter(|_| agreed.fixed == Some(true)) else { continue };
            if self.hours_on(diary, day) <= 0.0 {
                let text: Sentence = sentence!(
                    "{} is fixed for {}, when no crew works. Move it, or give a crew that day.",
                    &agreed.sump,
                    diary.date(day).said()
                );
                faults.add(format!("/agreed/{i}/day"), text);
            }
        }
        faults.or_refuse(Kind::Inconsistent)
    }
}
