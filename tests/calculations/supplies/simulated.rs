//! The promised service level, by a simulation of a shop that orders at the point it is told.

use super::{answer, plan};
use serde_json::{Value, json};
use sumpwright_engine::quantity::Quantity;

/// A uniform number between 0 and 1 from a generator of its own.
struct Draws(u64);

impl Draws {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        #[expect(clippy::cast_precision_loss, reason = "53 bits of it")]
        let bits = (self.0 >> 11) as f64;
        (bits + 0.5) / 9_007_199_254_740_992.0
    }

    /// By Box and Muller.
    fn normal(&mut self, mean: f64, deviation: f64) -> f64 {
        let radius = (-2.0 * self.uniform().ln()).sqrt();
        mean + deviation * radius * (std::f64::consts::TAU * self.uniform()).cos()
    }
}

/// The share of deliveries before which nothing ran out, ordering at `point`, looking every
/// `look` days.
fn served(point: f64, (mean, deviation): (f64, f64), (lead, spread): (f64, f64), look: u32) -> f64 {
    let mut draws = Draws(20261201);
    let (cycles, order) = (20_000_u32, 200.0_f64.max(2.5 * point));
    let mut stock = order + point;
    let (mut coming, mut held, mut ran_out, mut day) = (None, 0_u32, false, 0_u32);
    let mut done = 0_u32;
    while done < cycles {
        if coming.is_some_and(|on: f64| on <= f64::from(day)) {
            stock += order;
            coming = None;
            held += u32::from(!ran_out);
            ran_out = false;
            done += 1;
        }
        if day % look == 0 && coming.is_none() && stock <= point {
            coming = Some(f64::from(day) + draws.normal(lead, spread).max(0.0).round());
        }
        let wanted = draws.normal(mean, deviation).max(0.0);
        if wanted > stock {
            ran_out = true;
        }
        stock = (stock - wanted).max(0.0);
        day += 1;
    }
    f64::from(held) / f64::from(cycles)
}

#[test]
fn what_is_promised_is_held() {
    let cases = [
        ((6.0, 1.5), (10.0, 0.0), 1, 95.0),
        ((6.0, 1.5), (10.0, 2.0), 1, 95.0),
        ((6.0, 2.0), (5.0, 1.0), 1, 99.0),
        ((20.0, 5.0), (14.0, 3.0), 7, 90.0),
    ];
    for (usage, lead, look, level) in cases {
        let mut question = plan(&[
            ("use_per_day", json!(usage.0)),
            ("use_spread_per_day", json!(usage.1)),
            ("lead_days", json!(lead.0)),
            ("lead_spread_days", json!(lead.1)),
        ]);
        question["look_days"] = Value::from(look);
        question["service_level"] = json!(level);
        let found = answer(question).expect("an answer").answer;
        let own = &found.supplies[0];
        let share = served(own.order_at.get(), usage, lead, look);
        // Of 20,000 deliveries: three standard errors.
        let error = 3.0_f64 * f64::sqrt(level / 100.0 * (1.0 - level / 100.0) / 20_000.0);
        assert!(share >= level / 100.0 - error, "{usage:?} {lead:?}: {share}");
        // Without its safety stock the same shop runs out far more often.
        let bare = usage.0 * (lead.0 + f64::from(look));
        let without = served(bare, usage, lead, look);
        assert!(without < share - 0.02, "{usage:?} {lead:?}: {without} {share}");
    }
}
