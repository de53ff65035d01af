//! Strengths and concentrate against an exact solver.
//!
//! Expected values: scipy.optimize.milp (HiGHS) by rounds.py, which works out from the rules
//! of a round what each sump needs.

use super::{answer, question, walk};
use serde_json::Value;
use sumpwright_engine::calculations::shop::top_up_round::RoundOutcome;
use sumpwright_engine::quantity::Quantity;

fn rounds() -> Vec<Value> {
    serde_json::from_str(include_str!("rounds.json")).expect("a list of rounds")
}

/// Without moving all three are exact. With moving the search is bounded, and says of what it finds
/// whether it is proven: that is held to the solver.
#[test]
fn rounds_take_the_strengths_and_the_concentrate_that_the_exact_solver_finds() {
    let (mut compared, mut with_moving) = (0, 0);
    for round in rounds() {
        let name = round["question"]["reference"].as_str().unwrap_or_default().to_owned();
        let number = |member: &str| round[member].as_f64().expect("a number");
        let found = answer(round["question"].clone()).expect(&name).answer;
        walk::holds(&question(round["question"].clone()), &found);
        let in_band = found.served.get() + found.in_order.get();
        let strengths = found.strengths.get();
        let as_many = in_band == number("served");
        if round["question"].get("moving").is_some() {
            with_moving += 1;
            assert!(!found.proven || in_band >= number("served"), "{name}");
        } else {
            assert!(found.proven && as_many, "{name}");
        }
        assert!(!as_many || found.strengths_at_least.get() <= number("strengths"), "{name}");
        if !found.proven || !as_many {
            continue;
        }
        compared += 1;
        assert_eq!(strengths, number("strengths"), "{name}");
        // What thins a sump that stays too strong is no part of the plan.
        let thinned = found.sumps.iter().filter(|sump| sump.outcome != RoundOutcome::Served);
        let thinning: f64 = thinned
            .filter_map(|sump| {
                let premix = &found.premixes[sump.premix?.whole() - 1];
                Some(premix.concentration.get() * sump.add.get() / 100.0)
            })
            .sum();
        let (own, least) = (found.concentrate.get() - thinning, number("concentrate"));
        assert!((own - least).abs() <= 2e-5 * (1.0 + least), "{name}: {own} for {least}");
        assert!(
            found.concentrate_at_least.get() - thinning <= least + 2e-5 * (1.0 + least),
            "{name}"
        );
    }
    assert!(compared >= 25 && with_moving >= 15, "{compared} compared, {with_moving} with moving");
}

/// By hand: 140 L at 7 % to 200 L at 7.5 % takes 520 L·% in 60 L, which is premix of 8.667 %;
/// of tenths 8.7 % is the weakest that does.
#[test]
fn one_sump_by_hand() {
    let mut round = super::round(vec![super::sump("lathe", 140.0, 7.0)]);
    round["sumps"][0]["band"] = serde_json::json!({ "low": 7.5, "target": 8, "high": 8.5 });
    let found = answer(round).expect("an answer").answer;
    assert_eq!(found.premixes[0].concentration.get(), 8.7);
    assert!((found.sumps[0].add.get() - 60.0).abs() < 1e-9);
    assert!((found.concentrate.get() - 5.22).abs() < 1e-9 && found.proven);
}

/// By hand: 200 L at 8 % gives 50 L to 150 L at 5 %, which comes to 200 L at 5.75 %; 150 L at
/// 8 % are then filled up with 50 L at 2 %, or a little stronger, to 6.5 %. Without moving the
/// strong one has no room, and the weak one takes 7 % in 50 L.
#[test]
fn a_move_by_hand() {
    let sumps = vec![super::sump("rich", 200.0, 8.0), super::sump("lean", 150.0, 5.0)];
    let without = answer(super::round(sumps.clone())).expect("an answer").answer;
    assert_eq!(without.out_of_reach.get(), 1.0);
    assert!((without.concentrate.get() - 3.5).abs() < 1e-9);
    let mut round = super::round(sumps);
    round["moving"] = serde_json::json!({ "at_least": 10 });
    let found = answer(round.clone()).expect("an answer").answer;
    walk::holds(&question(round), &found);
    assert_eq!((found.served.get(), found.moves.len()), (2.0, 1));
    assert_eq!((&*found.moves[0].from, &*found.moves[0].to), ("rich", "lean"));
    // Water does it: all that both need is there already, 16 L + 7.5 L for 400 L at 5.875 %.
    assert!(found.concentrate.get() < 1e-9 && found.strengths.get() == 1.0, "{found:?}");
}
