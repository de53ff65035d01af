//! What is left of a dose: it is carried off, thinned by the make-up for that, and used up.

use super::Dose;
use crate::quantity::Quantity;

impl Dose {
    /// The share of it that goes in a day, k of equation 3.
    fn pace(&self) -> f64 {
        let carried = self.losses.map_or(0.0, |losses| losses.carried_off());
        let half_life = self.product.half_life_days.map(Quantity::get);
        carried / self.sump.volume.get()
            + half_life.map_or(0.0, |days| std::f64::consts::LN_2 / days)
    }

    /// What is left of a content after so many days, equation 3.
    pub(super) fn left(&self, content: f64, days: f64) -> f64 {
        content * (-self.pace() * days).exp()
    }

    /// The content before the dose, mg/L.
    pub(super) fn content_now(&self) -> f64 {
        let left = self.last_dose.map(|last| self.left(last.content.get(), last.days_ago.get()));
        self.now.map(Quantity::get).or(left).unwrap_or(0.0)
    }

    /// The days until a content has fallen to what it works down to, equation 5; none where that
    /// was not asked, and where nothing thins it.
    pub(super) fn lasts(&self, content: f64) -> Option<f64> {
        let least = self.lasts_to.map(Quantity::get).filter(|least| *least > 0.0)?;
        if content <= least {
            return Some(0.0);
        }
        let pace = self.pace();
        (pace > 0.0).then(|| (content / least).ln() / pace)
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::question;
    use serde_json::json;

    /// By hand: half of it is gone after a half-life, and a tenth of a sump carried off each day
    /// for ten days leaves 1/e.
    #[test]
    fn half_is_left_after_a_half_life() {
        let decays = question(|q| {
            q.remove("losses");
            q["product"]["half_life_days"] = json!(6);
        });
        assert!((decays.left(1000.0, 6.0) - 500.0).abs() < 1e-9);
        let thinned = question(|q| {
            q["product"].as_object_mut().unwrap().remove("half_life_days");
            q["losses"] = json!({ "evaporation": 5, "carry_off": 16 });
            q["sump"]["volume"] = json!(160);
        });
        assert!((thinned.left(1000.0, 10.0) - 367.879_441_171).abs() < 1e-8);
    }
}
