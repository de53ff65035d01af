//! What to look at before a forecast is followed.

use super::{FeedStock, Feeding, Forecast, ForecastAnswer};
use crate::fluid::band::Band;
use crate::fluid::practice;
use crate::fluid::properties::TRAMP_OIL;
use crate::quantity::Quantity;
use crate::text::{Finding, Refusal};

impl Forecast {
    pub(super) fn findings(&self, answer: &ForecastAnswer) -> Result<Vec<Finding>, Refusal> {
        let mut findings = Vec::new();
        let sump = &self.sump;
        let member = if sump.reading.is_some() { "/sump/reading" } else { "/sump/concentration" };
        let strength = sump.strength()?;
        findings.extend(strength.and_then(|c| practice::unusual_strength(c, member)));
        findings.extend(self.band.as_ref().and_then(Band::unusual));
        if let Some(reading) = &sump.reading {
            let oil = sump.properties.tramp_oil;
            findings.extend(practice::tramp_oil_in_reading(reading, oil, "/sump/reading"));
        }
        findings.extend(self.of_the_days(answer));
        findings.extend(self.of_the_water());
        let known = self.known();
        let used = |name: &str| match name {
            "nitrite" => known.iter().any(|name| practice::is_nitrite(name)),
            name => name == TRAMP_OIL && known.contains(name),
        };
        findings.extend(self.sheet.iter().flat_map(|sheet| sheet.laxer("/sheet", used)));
        Ok(findings)
    }

    /// What the sump comes to on its worst day.
    fn of_the_days(&self, answer: &ForecastAnswer) -> Vec<Finding> {
        let (mut findings, kept) = (Vec::new(), self.kept());
        for name in answer.after.properties.matter.keys() {
            if !practice::is_nitrite(name) && !practice::is_hardness(name) {
                continue;
            }
            let days = || answer.series.iter().filter_map(|day| day.properties.matter.get(name));
            let (Some(least), Some(most)) = (
                days().min_by(|a, b| a.get().total_cmp(&b.get())),
                days().max_by(|a, b| a.get().total_cmp(&b.get())),
            ) else {
                continue;
            };
            let pointer = format!("/sump/properties/{name}");
            findings.extend(practice::nitrite(name, *most, &pointer));
            let limit = kept.of(name);
            findings.extend(practice::soft_water(name, *least, limit, &pointer));
        }
        findings
    }

    /// Nitrate of the water that it is fed with.
    fn of_the_water(&self) -> Vec<Finding> {
        match self.feeding.as_ref().map(Feeding::with) {
            Some(FeedStock::Premix(premix)) if premix.concentration.get() == 0.0 => {
                practice::nitrate_in_water(&premix.properties, "/feeding/with/properties").collect()
            }
            Some(FeedStock::WaterAndConcentrate(mixed)) => {
                let water = mixed.water.as_ref();
                let found = water.map(|water| {
                    let pointer = "/feeding/with/water/properties";
                    practice::nitrate_in_water(&water.properties, pointer).collect()
                });
                found.unwrap_or_default()
            }
            _ => Vec::new(),
        }
    }
}
