//! Small rounds against going through all that could be done, in code of their own.

use super::{answer, round, walk};
use crate::draws::held;
use crate::number;
use proptest::prelude::*;
use serde_json::{Value, json};
use sumpwright_engine::quantity::Quantity;

/// A sump in plain numbers: volume, strength, what it holds, its band, its level.
#[derive(Debug, Clone)]
struct Plain {
    v: f64,
    c: f64,
    cap: f64,
    low: f64,
    high: f64,
    floor: f64,
}

impl Plain {
    fn is_met(&self) -> bool {
        self.c >= self.low && self.c <= self.high && self.v >= self.floor
    }

    /// The least litres of a strength that serve it, by what each volume comes to.
    fn least(&self, s: f64) -> Option<f64> {
        let most = self.cap - self.v;
        let from = (self.floor - self.v).max(0.0);
        let serves = |a: f64| {
            let c = (self.v * self.c + s * a) / (self.v + a);
            c >= self.low - 1e-9 && c <= self.high + 1e-9
        };
        // What it comes to only rises or only falls with the volume: the first that serves is
        // the level, or where an end of the band is reached.
        let ends = [self.low, self.high].map(|end| (end - self.c) * self.v / (s - end));
        let mut tried: Vec<f64> = ends.into_iter().chain([from]).collect();
        tried.retain(|a| a.is_finite() && *a >= from - 1e-9 && *a <= most + 1e-9 && serves(*a));
        tried.into_iter().reduce(f64::min)
    }
}

fn drawn() -> impl Strategy<Value = Value> {
    let one =
        (60.0..400.0_f64, 0.5..1.0_f64, 3.0..9.5_f64, 4.5..6.5_f64, 0.4..2.0_f64, any::<bool>());
    let one = one.prop_map(|(cap, filled, c, low, wide, free)| {
        let v = cap * filled;
        Plain { v, c, cap, low, high: low + wide, floor: if free { v } else { cap } }
    });
    proptest::collection::vec(one, 1..7).prop_map(|sumps| asked(&sumps))
}

/// The sumps of a question.
fn plain(round: &Value) -> Vec<Plain> {
    let sumps = round["sumps"].as_array().expect("sumps").iter();
    let own = sumps.map(|own| {
        let at = |pointer: &str| number(own, pointer);
        Plain {
            v: at("/sump/volume"),
            c: at("/sump/concentration"),
            cap: at("/sump/capacity"),
            low: at("/band/low"),
            high: at("/band/high"),
            floor: at("/fill_to"),
        }
    });
    own.collect()
}

fn asked(sumps: &[Plain]) -> Value {
    let sumps = sumps.iter().enumerate().map(|(i, own)| {
        json!({
            "name": format!("machine {i}"), "product": "product A", "fill_to": own.floor,
            "sump": { "capacity": own.cap, "volume": own.v, "concentration": own.c },
            "band": { "low": own.low, "target": own.low, "high": own.high },
        })
    });
    round(sumps.collect())
}

/// The least concentrate with these strengths; none where a sump is not served.
fn paid(sumps: &[Plain], set: &[f64]) -> Option<f64> {
    let one = |own: &Plain| {
        let costs = set.iter().filter_map(|s| Some(s * own.least(*s)? / 100.0));
        costs.reduce(f64::min)
    };
    sumps.iter().map(one).sum()
}

#[test]
fn no_fewer_strengths_and_no_cheaper_ones_are_found_by_trying() {
    let tenths: Vec<f64> = (0..=200).map(|t| f64::from(t) / 10.0).collect();
    let seen = std::cell::RefCell::new([0; 3]);
    let result = held(200, drawn(), |round| {
        let sumps = plain(&round);
        let found = answer(round.clone()).expect("an answer").answer;
        walk::holds(&super::question(round), &found);
        prop_assert!(found.proven);
        let wanting: Vec<Plain> = sumps
            .iter()
            .zip(&found.sumps)
            .filter(|(own, _)| !own.is_met())
            .filter(|(own, _)| {
                let finer = (0..=20_000).map(|t| f64::from(t) / 1000.0);
                finer.into_iter().any(|s| own.least(s).is_some())
            })
            .map(|(own, _)| own.clone())
            .collect();
        let served = found.served.whole();
        prop_assert!(served >= wanting.len(), "{served} of {}", wanting.len());
        let strengths = found.strengths.whole();
        let thinning: f64 = found
            .sumps
            .iter()
            .zip(&sumps)
            .filter(|(sump, own)| sump.after.concentration.get() > own.high + 1e-7)
            .filter_map(|(sump, _)| {
                let premix = &found.premixes[sump.premix?.whole() - 1];
                Some(premix.concentration.get() * sump.add.get() / 100.0)
            })
            .sum();
        let own = found.concentrate.get() - thinning;
        // Fewer strengths than were found serve not all, and as many not for less.
        let thinned_only = served == 0;
        if strengths >= 2 {
            for s in &tenths {
                prop_assert!(paid(&wanting, &[*s]).is_none(), "{s} alone serves {wanting:?}");
            }
        }
        if strengths == 1 && !thinned_only {
            let best = tenths.iter().filter_map(|s| paid(&wanting, &[*s])).reduce(f64::min);
            prop_assert!(best.is_none_or(|best| own <= best + 1e-7), "{own} {best:?}");
        }
        if strengths == 2 && wanting.len() >= 2 {
            let pairs = tenths
                .iter()
                .enumerate()
                .flat_map(|(i, s)| tenths[i + 1..].iter().map(move |t| [*s, *t]));
            let best = pairs.filter_map(|set| paid(&wanting, &set)).reduce(f64::min);
            prop_assert!(best.is_none_or(|best| own <= best + 1e-7), "{own} {best:?}");
        }
        seen.borrow_mut()[strengths.min(2)] += 1;
        Ok(())
    });
    result.unwrap_or_else(|error| panic!("{error}"));
    let seen = seen.into_inner();
    assert!(seen[1] > 30 && seen[2] > 30, "{seen:?}");
}
