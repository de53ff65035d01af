//! The old fluid left after rinsing, against the law of ideal mixing.

use super::answer;
use serde_json::{Value, json};
use sumpwright_engine::quantity::Quantity;

fn vessels() -> Value {
    json!([
        { "name": "clean tank", "holds": "clean", "capacity": 400 },
        { "name": "dirty tank", "holds": "dirty", "capacity": 600, "usable_share": 80 }
    ])
}

/// The share of the old fluid left in a residue of 20 L after a number of rinses of a
/// given volume.
fn left_in_residue(litres: f64, times: u32) -> f64 {
    let round = json!({
        "sumps": [{
            "name": "mill", "product": "product A", "volume": 200, "target": 6, "residue": 20,
            "residue_concentration": 9, "chips": 10,
            "rinse": { "volume": litres, "times": times, "stock": "water" }
        }],
        "stocks": [
            { "name": "concentrate", "concentration": 100 },
            { "name": "water", "concentration": 0 }
        ],
        "vessels": vessels()
    });
    let done = answer(round).expect("an answer").answer.sumps.remove(0);
    // The residue is a tenth of the sump's volume.
    done.old_fluid_left.get() / 100.0 * 10.0
}

#[test]
fn each_rinse_leaves_h_in_h_plus_f() {
    // Ideal mixing in one step; 20 in 20 + 20, 20 in 20 + 60, and three of a half.
    for (litres, times, left) in [(20.0, 1, 0.5), (60.0, 1, 0.25), (20.0, 3, 0.125)] {
        assert!((left_in_residue(litres, times) - left).abs() < 1e-12);
    }
}

#[test]
fn many_small_rinses_tend_to_the_law_of_the_stirred_tank() {
    // A stirred tank that n of its volumes go through keeps e^-n: after 1, 2
    // and 3 turnovers 63, 86 and 95 % are renewed (Gage and Bidwell, as given in
    // J. Water Health 16:449). In 100 steps of n/100 the share is above e^-n by
    // a factor of n²/200 at most (first term of the series of ln(1 + n/100)).
    for (turnovers, renewed) in [(1.0, 63.0), (2.0, 86.0), (3.0, 95.0_f64)] {
        let few = left_in_residue(20.0 * turnovers / 10.0, 10);
        let many = left_in_residue(20.0 * turnovers / 100.0, 100);
        let law = f64::exp(-turnovers);
        assert!(law < many && many < few, "{law} {many} {few}");
        assert!((many / law).ln() <= turnovers * turnovers / 200.0);
        assert_eq!(((1.0 - many) * 100.0).round(), renewed);
    }
}

#[test]
fn the_refill_makes_up_for_what_the_residue_brings() {
    // By hand: 20 L at 9 % rinsed with 20 L of water are 20 L at 4.5 %; with
    // 180 L of refill to make 200 L at 6 %, (200·6 − 20·4.5)/180 = 6.1666… %.
    let litres_of_concentrate: f64 = 180.0 * (37.0 / 6.0) / 100.0;
    assert!((litres_of_concentrate + 0.9 - 12.0).abs() < 1e-12);
    let round = |rinse| {
        json!({
            "sumps": [{
                "name": "mill", "product": "product A", "volume": 200, "target": 6, "residue": 20,
                "residue_concentration": 9, "chips": 10, "rinse": rinse
            }],
            "stocks": [
                { "name": "concentrate", "concentration": 100 },
                { "name": "water", "concentration": 0 }
            ],
            "vessels": vessels()
        })
    };
    let rinse = json!({ "volume": 20, "times": 1, "stock": "water" });
    let found = answer(round(rinse)).expect("an answer").answer;
    assert!((found.batches[0].concentration.get() - 37.0 / 6.0).abs() < 1e-9);
    assert_eq!(found.sumps[0].after.concentration.get(), 6.0);
    assert!((found.batches[0].take[0].volume.get() - litres_of_concentrate).abs() < 1e-9);
}
