//! Walks an answer through with plain arithmetic: what every sump has in the end, what every
//! trip carries, and what every premix is made of.

use crate::assert_near;
use std::collections::BTreeMap;
use sumpwright_engine::calculations::shop::top_up_round::{
    RoundOutcome, TopUpRound, TopUpRoundAnswer,
};
use sumpwright_engine::fluid::band::Standing;
use sumpwright_engine::quantity::Quantity;

const CLOSE: f64 = 1e-6;

/// Panics where an answer is not what its question allows.
pub(super) fn holds(question: &TopUpRound, answer: &TopUpRoundAnswer) {
    let places: BTreeMap<&str, usize> =
        question.sumps.iter().enumerate().map(|(i, own)| (own.name.as_str(), i)).collect();
    let start = |i: usize| {
        let sump = &question.sumps[i].sump;
        let c = sump.strength().expect("a strength").map_or(0.0, Quantity::get);
        (sump.volume.get(), c)
    };
    let mut volume: Vec<f64> = (0..question.sumps.len()).map(|i| start(i).0).collect();
    let mut concentrate: Vec<f64> =
        (0..question.sumps.len()).map(|i| start(i).0 * start(i).1 / 100.0).collect();
    let mut touched = vec![0; question.sumps.len()];
    for own in &answer.moves {
        let (from, to) = (places[own.from.as_str()], places[own.to.as_str()]);
        let (g, c) = (own.volume.get(), start(from).1);
        assert_near(own.concentration.get(), c, CLOSE);
        assert!(g >= question.moving.expect("it may move").at_least.get() - CLOSE);
        let band = |i: usize| &question.sumps[i].band;
        assert!(c > band(from).high.get(), "only what is too strong gives");
        assert!(start(to).0 == 0.0 || start(to).1 < band(to).low.get(), "only the weak take");
        assert!(question.sumps[from].product == question.sumps[to].product);
        for i in [from, to] {
            assert!(question.sumps[i].against.is_none(), "nothing is moved of bad fluid");
            touched[i] += 1;
        }
        volume[from] -= g;
        concentrate[from] -= g * c / 100.0;
        volume[to] += g;
        concentrate[to] += g * c / 100.0;
    }
    assert!(touched.iter().all(|moves| *moves <= 1), "one move a sump");
    let mut poured = vec![0.0; answer.premixes.len()];
    for (i, sump) in answer.sumps.iter().enumerate() {
        if let Some(number) = sump.premix {
            let place = number.whole() - 1;
            let premix = &answer.premixes[place];
            assert!(sump.add.get() > 0.0 && premix.sumps.contains(&sump.name.to_string()));
            assert!(premix.product == question.sumps[i].product);
            poured[place] += sump.add.get();
            volume[i] += sump.add.get();
            concentrate[i] += sump.add.get() * premix.concentration.get() / 100.0;
        } else {
            assert_eq!(sump.add.get(), 0.0);
        }
    }
    for (place, premix) in answer.premixes.iter().enumerate() {
        assert_near(premix.volume.get(), poured[place], CLOSE);
        let most = question.premix_at_most.map_or(20.0, Quantity::get);
        let least = question.premix_at_least.map_or(0.0, Quantity::get);
        assert!((least..=most).contains(&premix.concentration.get()), "{premix:?}");
        let strength = |name: &str| {
            let stock = question.stocks.iter().find(|own| own.name == name).expect("a stock");
            stock.concentration.get()
        };
        let all: f64 = premix.take.iter().map(|own| own.volume.get()).sum();
        let brought: f64 =
            premix.take.iter().map(|own| own.volume.get() * strength(&own.name)).sum();
        assert_near(all, premix.volume.get(), CLOSE * all);
        assert_near(brought / all, premix.concentration.get(), 1e-6);
    }
    for (i, sump) in answer.sumps.iter().enumerate() {
        let (found, (v_0, c_0)) = (&question.sumps[i], start(i));
        let (v, c) = (volume[i], concentrate[i] / volume[i] * 100.0);
        assert_near(sump.after.volume.get(), v, CLOSE * (1.0 + v));
        if v > 0.0 {
            assert_near(sump.after.concentration.get(), c, 1e-6);
        }
        assert!(v <= found.sump.capacity.get() * (1.0 + 1e-9), "{}: fuller than full", sump.name);
        let (low, high) = (found.band.low.get(), found.band.high.get());
        match sump.outcome {
            RoundOutcome::InOrder => {
                assert_eq!((v, sump.standing), (v_0, Some(Standing::InBand)), "{}", sump.name);
            }
            RoundOutcome::Served => {
                assert!(c >= low - 1e-6 && c <= high + 1e-6, "{}: {c} at {v}", sump.name);
                if let Some(level) = found.fill_to {
                    assert!(v >= level.get() - CLOSE, "{}: {v}", sump.name);
                }
            }
            // What stays out of its band comes no further out of it.
            _ => assert!(v == v_0 || c_0 > high && c <= c_0 && c >= low, "{}: {c}", sump.name),
        }
        if sump.standing == Some(Standing::InBand) {
            assert!(c >= low - 1e-6 && c <= high + 1e-6, "{} leaves its band", sump.name);
        }
    }
    trips(question, answer);
}

fn trips(question: &TopUpRound, answer: &TopUpRoundAnswer) {
    let Some(trips) = &answer.trips else { return };
    let mut brought: BTreeMap<&str, f64> = BTreeMap::new();
    for trip in trips {
        let vessels = question.vessels.as_ref().expect("vessels");
        let vessel = vessels.iter().find(|own| own.name == *trip.vessel).expect("a vessel");
        let product = &answer.premixes[trip.premix.whole() - 1].product;
        assert!(vessel.product.as_ref().is_none_or(|own| own == product));
        let load: f64 = trip.stops.iter().map(|stop| stop.volume.get()).sum();
        assert_near(load, trip.volume.get(), CLOSE);
        assert!(load <= vessel.capacity.get() * (1.0 + 1e-9));
        let place = |name: &str| question.sumps.iter().position(|own| own.name == name);
        let walked: Vec<_> = trip.stops.iter().map(|stop| place(&stop.sump)).collect();
        assert!(walked.is_sorted(), "in the order of the walk: {trip:?}");
        for stop in &trip.stops {
            *brought.entry(&stop.sump).or_default() += stop.volume.get();
        }
    }
    for sump in &answer.sumps {
        let own = brought.get(sump.name.as_str()).copied().unwrap_or(0.0);
        assert_near(own, sump.add.get(), CLOSE * (1.0 + own));
    }
    assert!(answer.trips_at_least.expect("a bound").whole() <= trips.len());
}
