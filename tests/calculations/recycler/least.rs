//! The smallest sufficient tanks, throughput and number of passes of a plan.

use super::batch;
use super::plans::any_plan;
use crate::{number, solve};
use proptest::collection::vec;
use proptest::prelude::*;
use serde_json::Value;

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..Default::default() })]

    /// The smallest dirty tank is just large enough, and one smaller by a thousandth is
    /// not; the same for the clean tank and for the throughput.
    #[test]
    fn the_smallest_holds_and_a_smaller_one_does_not(plan in any_plan()) {
        let record = solve("recycler", &plan).expect("it is answered");
        let ask = |pointer: &str, value: f64| {
            let mut changed = plan.clone();
            *changed.pointer_mut(pointer).expect("it is there") = value.into();
            changed
        };
        let fails = |question: &Value, what: &str| {
            let record = solve("recycler", question).expect("it is answered");
            record["answer"][what].is_object()
        };
        let smallest = |what: &str| record["answer"]["smallest"][what].as_f64();
        let level = number(&plan, "/tanks/dirty/level");
        let dirty = smallest("dirty").expect("there always is one");
        let tank = "/tanks/dirty/capacity";
        prop_assert!(!fails(&ask(tank, dirty * (1.0 + 1e-9)), "first_overflow"));
        if dirty * 0.999 > level {
            prop_assert!(fails(&ask(tank, dirty * 0.999), "first_overflow"));
        }
        let roomy = |mut question: Value| {
            question["tanks"]["dirty"]["capacity"] = 1e6.into();
            question
        };
        let tank = "/tanks/clean/capacity";
        if let Some(clean) = smallest("clean") {
            prop_assert!(!fails(&roomy(ask(tank, clean * (1.0 + 1e-9))), "first_shortage"));
            if clean * 0.999 > number(&plan, "/tanks/clean/level") {
                prop_assert!(fails(&roomy(ask(tank, clean * 0.999)), "first_shortage"));
            }
        } else {
            prop_assert!(fails(&roomy(ask(tank, 1e6)), "first_shortage"));
        }
        if let Some(throughput) = smallest("throughput").filter(|q| *q > 0.0) {
            let stage = "/stages/0/throughput";
            let enough = ask(stage, throughput * (1.0 + 1e-9));
            let less = ask(stage, throughput * 0.999);
            let either = |q: &Value| fails(q, "first_overflow") || fails(q, "first_shortage");
            prop_assert!(!either(&enough) && either(&less), "{throughput}");
        }
    }

    /// A tighter limit needs more passes, and no property increases with the number of
    /// passes.
    #[test]
    fn passes_never_make_it_dirtier(
        oil in 0.0..95.0_f64, solids in 5.0..95.0_f64, lost in 0.0..5.0_f64,
        emulsified in 0.0..100.0_f64, recirculate in any::<bool>(), limits in vec(1.0..600.0_f64, 2),
    ) {
        let ask = |most: f64| batch(|question| {
            question["feed"]["emulsified_share"] = emulsified.into();
            question["stages"][0]["removes"]["tramp_oil"] = oil.into();
            question["stages"][1]["removes"]["solids"] = solids.into();
            question["stages"][1]["good_fluid_lost"] = lost.into();
            question["target"]["limits"]["solids"]["max"] = most.into();
            if recirculate {
                question["mode"] = "recirculate".into();
            }
        });
        let (loose, tight) = (limits[0].max(limits[1]), limits[0].min(limits[1]));
        let solved = [ask(loose), ask(tight)].map(|q| solve("recycler", &q).expect("answered"));
        let amounts = |record: &Value| {
            let volume = number(record, "/answer/recovered/volume");
            let carried = |name: &str| {
                volume * number(record, &format!("/answer/recovered/properties/{name}"))
            };
            let concentrate = volume * number(record, "/answer/recovered/concentration");
            [volume, concentrate, carried("tramp_oil"), carried("solids"), carried("chloride")]
        };
        let [few, many] = &solved;
        prop_assert!(number(few, "/answer/passes") <= number(many, "/answer/passes"));
        let fed = [900.0, 5400.0, 2700.0, 540_000.0, 90_000.0];
        for ((many, few), fed) in amounts(many).into_iter().zip(amounts(few)).zip(fed) {
            prop_assert!(many <= few * (1.0 + 1e-12) && few <= fed * (1.0 + 1e-12));
        }
        let left = number(many, "/answer/recovered/properties/solids");
        prop_assert!(left <= tight * (1.0 + 1e-9), "{left} and {tight}");
    }
}
